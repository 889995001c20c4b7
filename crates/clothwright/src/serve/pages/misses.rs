//! Near misses: small things given up that let less cloth be bought, each planned again; taken with one
//! press.

use super::change::{Done, keep};
use super::plan::later;
use super::{frame, head, with_token};
use crate::serve::text::{self, Sort};
use crate::serve::{Answer, App, Trouble, Visit, page};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use geometry::Length;
use lay::{Limits, MOMENT};
use maud::html;
use serde::Deserialize;
use std::sync::Arc;
use std::time::{Duration, Instant};
use trade::hints::{Change, Hint, Place, Value};
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
        Relaxation::Size(half),
    ]
}

/// Longer than this the page looks for nothing.
const LONGEST: Duration = Duration::from_secs(12);

/// A value of the text: its path, which sort it is, and what it becomes.
type Set = (String, String, String);

/// The values of the text that take a near miss up: those it was planned with.
fn values(job: &Job, numbers: &[usize], hint: &Hint) -> Vec<Set> {
    let piece = |i: usize| numbers.get(i).copied().unwrap_or(i);
    let path = |change: &Change| {
        let key = change.key;
        match change.place {
            Place::Allowances => format!("allowances.{key}"),
            Place::PieceAllowances(i) => format!("piece.{}.allowances.{key}", piece(i)),
            Place::Piece(i) => format!("piece.{}.{key}", piece(i)),
            Place::Run(i) => format!("piece.{}.run.{key}", piece(i)),
            Place::Cloth(i) => format!("cloth.{i}.{key}"),
        }
    };
    let set = |change: &Change| {
        let (sort, to) = match &change.to {
            Value::Length(length) => ("text", length.show(job.style.unit)),
            Value::Word(word) => ("text", word.clone()),
            Value::Yes => ("flag", "yes".into()),
        };
        (path(change), sort.to_string(), to)
    };
    hint.changes.iter().map(set).collect()
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    let body = html! {
        (head("Small changes that save cloth", Some((&format!("/job/{id}/plan"), "the plan")), &html! {}))
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
                let started = Instant::now();
                let stop = || started.elapsed() > LONGEST;
                let limits = Limits { stop: &stop, ..Limits::work(1, MOMENT) };
                trade::hints::hints(&base, &limits)
            })
            .await
            .map_err(|e| Trouble::Inside(e.to_string()))?
        }
    };
    let job = &sheet.read.job;
    let voice = words::of(job);
    let body = html! {
        div {
            @if found.is_empty() { p.hint { "Nothing small that was tried lets less cloth be bought." } }
            @for hint in &found {
                @let values = values(job, &sheet.read.numbers, hint);
                article.lay {
                    h3 { (voice.say(&hint.what)) }
                    p { b { (voice.say(&hint.effect(job))) } "." }
                    p { @if !hint.saves.is_zero() { "Saves " b { (job.currency) " " (trade::money::show(hint.saves)) } " before tax. " } @if !hint.gives_up.is_empty() { (super::plan::sentence(&voice.say(&hint.gives_up))) } }
                    form method="post" action=(with_token(&visit, &format!("/job/{id}/misses"))) {
                        input type="hidden" name="base" value=(newest.number);
                        input type="hidden" name="values" value=(serde_json::to_string(&values).unwrap_or_default());
                        button.b.strong { "Apply" }
                    }
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
    let values: Vec<Set> = serde_json::from_str(&taken.values)
        .map_err(|_| Trouble::Input("that is no near miss".into()))?;
    // All of it or nothing, on the text that it was planned for.
    let who = visit.from.to_string();
    let done = keep(&app, id, taken.base, (&who, "near miss taken"), "", |text| {
        values.iter().try_fold(text.to_string(), |text, (path, sort, to)| {
            text::set(&text, path, Sort::named(sort), to)
        })
    })?;
    if let Done::Aside(number) = done {
        return Err(Trouble::Input(format!(
            "the job was changed meanwhile; with the near miss it is kept aside as version {number}"
        )));
    }
    Ok(Redirect::to(&format!("/job/{id}/plan")).into_response())
}
