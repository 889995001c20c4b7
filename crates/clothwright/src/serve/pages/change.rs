//! Changes to a job: each is kept as a revision; two people at once lose nothing.

use super::job;
use crate::serve::store::Saved;
use crate::serve::text::{self, Move, Refused};
use crate::serve::{Answer, App, Trouble, Visit, now};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use serde::Deserialize;
use std::sync::Arc;

/// What came of a change.
pub(super) enum Done {
    /// Kept as the newest.
    Kept,
    /// Someone else changed the same thing: kept aside.
    Aside(i64),
    /// Nothing was different.
    Same,
}

/// Makes a change on the newest text. One made on an older text goes on top of the newer one unless
/// both touch the same place; then it is kept aside.
pub(super) fn keep(
    app: &App,
    id: i64,
    base: i64,
    (who, note): (&str, &str),
    place: &str,
    change: impl Fn(&str) -> Result<String, Refused>,
) -> Result<Done, Trouble> {
    let refuse = |e: Refused| Trouble::Input(e.0);
    // Another save may come between reading and keeping; then it is read again.
    for _ in 0..5 {
        let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
        let mut on = newest.number;
        let mut text = change(&newest.text).map_err(refuse)?;
        if newest.number != base {
            let seen = app.store.revision(id, base)?.ok_or(Trouble::Missing)?;
            let touched = if let Some(list) = place.strip_prefix("list ") {
                // The same places in the list mean the same things.
                let names = |text: &str| {
                    let all = text::Parsed::of(text);
                    (0..all.count(list))
                        .map(|i| all.get(&format!("{list}.{i}.name")))
                        .collect::<Vec<_>>()
                };
                names(&seen.text) != names(&newest.text)
            } else if place.is_empty() {
                seen.text != newest.text
            } else {
                text::get(&seen.text, place) != text::get(&newest.text, place)
            };
            if touched && text != newest.text {
                on = base;
                text = change(&seen.text).map_err(refuse)?;
            }
        }
        if text == newest.text {
            return Ok(Done::Same);
        }
        match app.store.save(id, on, &job::titled(&text), (who, note, &now()))? {
            Saved::Newest(_) => return Ok(Done::Kept),
            Saved::Aside(number) if on == base && base != newest.number => {
                return Ok(Done::Aside(number));
            }
            Saved::Aside(_) => {}
        }
    }
    Err(Trouble::Inside("too many changes at once; try again".into()))
}

/// Where a piece has been renamed its steps at the bench stay done: its own and those of what is made of
/// it under its name and more words, such as the sections of a run.
pub fn ticks_follow(app: &App, id: i64, before: &str, path: &str) -> Result<(), Trouble> {
    let name = match path.strip_suffix(".name") {
        Some(piece) if piece.starts_with("piece.") => text::get(before, path),
        _ => return Ok(()),
    };
    let now = app.store.newest(id)?.ok_or(Trouble::Missing)?.text;
    let fresh = text::get(&now, path);
    if name.is_empty() || fresh.is_empty() || fresh == name {
        return Ok(());
    }
    let all = text::Parsed::of(&now);
    let others: Vec<String> =
        (0..all.count("piece")).map(|i| all.get(&format!("piece.{i}.name"))).collect();
    let is_of = |label: &str, name: &str| {
        label.strip_prefix(name).is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
    };
    let mut labels: Vec<String> = app.store.ticks(id)?.into_iter().map(|tick| tick.0).collect();
    labels.dedup();
    for label in labels {
        let anothers = others.iter().any(|o| o.len() > name.len() && is_of(&label, o));
        if is_of(&label, &name) && !anothers {
            app.store.rename_ticks(id, &label, &format!("{fresh}{}", &label[name.len()..]))?;
        }
    }
    Ok(())
}

/// Back to the plan, or word that the change was kept aside.
fn planned_anew(id: i64, done: &Done) -> Answer {
    match done {
        Done::Aside(number) => Err(Trouble::Input(format!(
            "the job was changed meanwhile; yours is kept in History as version {number}"
        ))),
        Done::Kept | Done::Same => Ok(Redirect::to(&format!("/job/{id}/plan")).into_response()),
    }
}

#[derive(Deserialize)]
pub struct Offered {
    base: i64,
    name: String,
    from: String,
    to: String,
}

/// An option for the customer: the same in another cloth.
pub async fn option(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Offered>,
) -> Answer {
    if form.from == form.to {
        let what = format!("choose a cloth other than {} to put beside it", form.from);
        return Err(Trouble::Input(what));
    }
    let lines = text::option(&form.name, &form.from, &form.to);
    let note = format!("option {}", form.name);
    let done =
        keep(&app, id, form.base, (&visit.from.to_string(), &note), "list option", |text| {
            text::add(text, "option", &lines)
        })?;
    planned_anew(id, &done)
}

#[derive(Deserialize)]
pub struct Out {
    base: i64,
    index: usize,
}

/// An option taken out.
pub async fn option_out(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Out>,
) -> Answer {
    let who = visit.from.to_string();
    let done = keep(&app, id, form.base, (&who, "option removed"), "list option", |text| {
        text::change(text, "option", form.index, Move::Remove)
    })?;
    planned_anew(id, &done)
}
