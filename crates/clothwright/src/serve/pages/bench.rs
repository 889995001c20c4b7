//! At the bench: one piece, one step, large, ticked when done; the time taken is noted by the ticks.

use super::{frame, head, with_token};
use crate::serve::store::Photo;
use crate::serve::{Answer, App, Trouble, Visit, now, page, values};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use jiff::civil::DateTime;
use maud::{PreEscaped, html};
use serde::Deserialize;
use std::sync::Arc;
use trade::method::steps;

pub async fn list(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let (_, sheet) = app.sheet(id).await?;
    let ticks = app.store.ticks(id)?;
    let plan = sheet.plan();
    let body = html! {
        (head("At the bench", Some((&format!("/job/{id}"), "the job")), &html! {}))
        main #main.bench {
            @match &plan {
                None => { p.hint { "There is nothing to make until what is to put right is put right." } }
                Some(plan) => { ul.jobs { @for (i, made) in plan.developed.iter().enumerate() {
                    @let all = steps(&plan.job, made).len();
                    @let mut done: Vec<i64> = ticks.iter().filter(|t| t.0 == made.label).map(|t| t.1).collect();
                    @let next = (0..all as i64).find(|s| !{ done.sort_unstable(); done.binary_search(s).is_ok() }).unwrap_or(0);
                    li { a href=(format!("/job/{id}/bench/{i}/{next}")) {
                        span.name { (plan.job.pieces[made.piece].number) ". " (made.label) } span.count { (done.len().min(all)) " of " (all) " steps" }
                    } }
                } } }
            }
        }
    };
    Ok(page(frame(&visit, "At the bench — Clothwright", "bench", &body)))
}

pub async fn step(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, piece, number)): Path<(i64, usize, usize)>,
) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let made = plan.developed.get(piece).ok_or(Trouble::Missing)?;
    let all = steps(&plan.job, made);
    let photos = photos_of(&app, id, &newest.text, &plan.job.pieces[made.piece].name)?;
    let step = all.get(number).ok_or(Trouble::Missing)?;
    let ticks = app.store.ticks(id)?;
    let at =
        |s: usize| ticks.iter().find(|t| t.0 == made.label && t.1 == s as i64).map(|t| t.2.clone());
    let done = at(number);
    let taken = done
        .as_deref()
        .and_then(|end| minutes(number.checked_sub(1).and_then(at).as_deref()?, end));
    let drawings = documents::screen::bench(&plan, piece);
    let to = format!("/job/{id}/bench/{piece}");
    let voice = words::of(&plan.job);
    let body = html! {
        (head(&made.label, Some((&format!("/job/{id}/bench"), "all pieces")), &html! { span.count { (number + 1) " of " (all.len()) } }))
        main #main.bench {
            article.step {
                h2 { (voice.say(&step.title())) }
                p.text { (voice.say(&step.text)) }
                @for caution in &step.cautions { p.caution { "△ " (voice.say(caution)) } }
                @if let Some(at) = &done { p.hint { "done " (at.get(..16).unwrap_or(at)) @if let Some(m) = taken { ", " (m) " min after the step before" } } }
            }
            form.row method="post" action=(with_token(&visit, &format!("{to}/{number}"))) {
                @if number > 0 { a.b href=(format!("{to}/{}", number - 1)) { "‹ Before" } }
                input type="hidden" name="done" value=(if done.is_some() { "no" } else { "yes" });
                button.b.strong.grow { @if done.is_some() { "Undo" } @else { "Done" } }
                @if number + 1 < all.len() { a.b href=(format!("{to}/{}", number + 1)) { "Next ›" } }
            }
            @if !photos.is_empty() { div.photos { @for photo in &photos { figure { a href=(format!("/photo/{}", photo.id)) { img src=(format!("/photo/{}", photo.id)) alt=(if photo.words.is_empty() { "photograph of this piece" } else { &photo.words }) loading="lazy"; } } } } }
            div.pictures { @for (title, svg) in drawings { figure { (PreEscaped(svg)) figcaption { (title) } } } }
        }
    };
    Ok(page(frame(&visit, &format!("{} — Clothwright", made.label), "bench", &body)))
}

/// Photographs of a piece, by its name, and those of the whole job.
fn photos_of(app: &App, id: i64, text: &str, name: &str) -> Result<Vec<Photo>, Trouble> {
    let all = values::json(&values::marked(text));
    let pieces = all["piece"].as_array().map(Vec::as_slice).unwrap_or_default();
    let piece = pieces.iter().find(|piece| piece["name"] == name);
    let mark = piece.and_then(|piece| piece["id"].as_str()).unwrap_or_default();
    let photos = app.store.photos(id)?;
    Ok(photos.into_iter().filter(|photo| photo.piece == mark || photo.piece.is_empty()).collect())
}

/// Minutes between two times as kept.
fn minutes(from: &str, to: &str) -> Option<i64> {
    let read = |t: &str| t.replace(' ', "T").parse::<DateTime>().ok();
    let span = read(from)?.until(read(to)?).ok()?;
    let total = span.total((jiff::Unit::Minute, jiff::SpanRelativeTo::days_are_24_hours())).ok()?;
    (0.0..600.0).contains(&total).then_some(total.round() as i64)
}

#[derive(Deserialize)]
pub struct Tick {
    done: String,
}

pub async fn tick(
    State(app): State<Arc<App>>,
    Path((id, piece, number)): Path<(i64, usize, usize)>,
    Form(form): Form<Tick>,
) -> Answer {
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let made = plan.developed.get(piece).ok_or(Trouble::Missing)?;
    let all = steps(&plan.job, made).len();
    if number >= all {
        return Err(Trouble::Missing);
    }
    let now = now();
    let done = (form.done == "yes").then_some(now.as_str());
    app.store.tick(id, &made.label, number as i64, done)?;
    // After the last step comes the next piece, after the last piece the list.
    let to = match (done.is_some(), number + 1 < all, piece + 1 < plan.developed.len()) {
        (false, _, _) => format!("/job/{id}/bench/{piece}/{number}"),
        (true, true, _) => format!("/job/{id}/bench/{piece}/{}", number + 1),
        (true, false, true) => format!("/job/{id}/bench/{}/0", piece + 1),
        (true, false, false) => format!("/job/{id}/bench"),
    };
    Ok(Redirect::to(&to).into_response())
}
