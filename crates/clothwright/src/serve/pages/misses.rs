//! Near misses: small things given up that let less cloth be bought, each planned again; taken with one
//! press.

use super::plan::later;
use super::{frame, head, with_token};
use crate::serve::text::Sort;
use crate::serve::{Answer, App, Trouble, Visit, page};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use geometry::Length;
use maud::html;
use serde::Deserialize;
use std::sync::Arc;
use trade::hints::Hint;
use trade::job::{Job, Relaxation};

/// What is tried where the job says nothing of its own. Common practice, no source.
fn usual(job: &Job) -> Vec<Relaxation> {
    let (half, eighth) = if job.style.unit.is_binary() {
        (Length::from_inch_64ths(32), Length::from_inch_64ths(8))
    } else {
        (Length::from_mm(12.0), Length::from_mm(3.0))
    };
    vec![
        Relaxation::TurnUnder(half),
        Relaxation::Seam(eighth),
        Relaxation::Railroad,
        Relaxation::HiddenSeam,
    ]
}

/// Which values of the text take a near miss up; none if it is done another way.
fn values(job: &Job, hint: &Hint) -> Vec<(String, String)> {
    let first = job.pieces.first();
    match hint.step {
        Relaxation::TurnUnder(less) => first
            .map(|p| {
                (
                    "allowances.turn_under".into(),
                    (p.allowances.turn_under - less).show(job.style.unit),
                )
            })
            .into_iter()
            .collect(),
        Relaxation::Seam(less) => first
            .map(|p| ("allowances.seam".into(), (p.allowances.seam - less).show(job.style.unit)))
            .into_iter()
            .collect(),
        Relaxation::Railroad => job
            .cloths
            .iter()
            .enumerate()
            .filter(|(_, cloth)| hint.cloths.iter().any(|h| h.0 == cloth.name))
            .map(|(i, _)| (format!("cloth.{i}.direction"), "either".into()))
            .collect(),
        _ => Vec::new(),
    }
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    let body = html! {
        (head("Near misses", Some((&format!("/job/{id}#plan"), "the job")), &html! {}))
        main #main { (later(&format!("/job/{id}/misses/found"), "Each is planned again: some seconds.")) }
    };
    Ok(page(frame(&visit, "Near misses — Clothwright", "misses", &body)))
}

/// What was found.
pub async fn found(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    let found = match sheet.searched().await {
        None => Vec::new(),
        Some(plan) => {
            let mut base = (*plan).clone();
            if base.job.relaxations.is_empty() {
                base.job.relaxations = usual(&base.job);
            }
            tokio::task::spawn_blocking(move || {
                trade::hints::hints(&base, &lay::Limits::work(1, 120_000_000))
            })
            .await
            .map_err(|e| Trouble::Inside(e.to_string()))?
        }
    };
    let job = &sheet.read.job;
    let body = html! {
        div {
            @if found.is_empty() { p.hint { "Nothing small that was tried lets less cloth be bought." } }
            @for hint in &found {
                @let values = values(job, hint);
                article.lay {
                    h3 { (hint.what) }
                    ul { @for (name, before, after) in &hint.cloths {
                        @let unit = job.cloth(name).map_or(job.style.unit, |c| c.unit);
                        li { (name) ": " b { (after.show(unit)) } " instead of " (before.show(unit)) }
                    } }
                    p { "Saves " b { (job.currency) " " (trade::money::show(hint.saves)) } " before tax; " (hint.gives_up) "." }
                    @if values.is_empty() { p.hint { "Change it on the sheet, at the pieces it is about." } }
                    @else { form method="post" action=(with_token(&visit, &format!("/job/{id}/misses"))) {
                        input type="hidden" name="base" value=(newest.number);
                        input type="hidden" name="values" value=(values.iter().map(|(k, v)| format!("{k}={v}")).collect::<Vec<_>>().join(";"));
                        button.main { "Do it so" }
                    } }
                }
            }
        }
    };
    Ok(page(body))
}

#[derive(Deserialize)]
pub struct Taken {
    base: i64,
    values: String,
}

pub async fn take(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(taken): Form<Taken>,
) -> Answer {
    let mut base = taken.base;
    for pair in taken.values.split(';') {
        let (path, value) =
            pair.split_once('=').ok_or_else(|| Trouble::Input("that is no near miss".into()))?;
        let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
        // Values taken together stand on one another.
        let on = if base == taken.base { base } else { newest.number };
        super::change::keep_value(
            &app,
            id,
            on,
            &visit.from.to_string(),
            (path, Sort::Text, value),
        )?;
        base = app.store.newest(id)?.ok_or(Trouble::Missing)?.number;
    }
    Ok(Redirect::to(&format!("/job/{id}#plan")).into_response())
}
