//! What a job takes: hours planned and taken, by piece.

use super::money::{PAST, day, today_and};
use super::{bar_row, job_screen, with_token};
use crate::serve::ledger::{Taken, Worked};
use crate::serve::{Answer, App, Trouble, Visit, now, page};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use jiff::civil::DateTime;
use maud::{Markup, html};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Deserialize;
use std::sync::Arc;
use trade::operations::Operation;
use trade::plan::Plan;

/// A piece with what is planned for it, what was noted, and whether that is all.
struct Line {
    piece: String,
    planned: f64,
    noted: i64,
    ticked: i64,
    is_done: bool,
}

/// Minutes as `3 h 20`.
pub fn shown(minutes: f64) -> String {
    let whole = minutes.round() as i64;
    let (sign, whole) = if whole < 0 { ("-", -whole) } else { ("", whole) };
    if whole < 60 {
        format!("{sign}{whole} min")
    } else {
        format!("{sign}{} h {:02}", whole / 60, whole % 60)
    }
}

/// Most minutes noted at once: a day and a night. Who writes 90 means minutes.
const MOST: i64 = 24 * 60;

/// Time as it is typed: `1:30`, `1.5` and `90 min` are an hour and a half.
pub fn typed(text: &str) -> Result<i64, Trouble> {
    let plain = text.trim().trim_start_matches('-').trim();
    let wrong = || Trouble::Input(format!("`{text}` is no time; write 1:30, 1.5 or 90 min"));
    let minutes = if let Some((hours, minutes)) = plain.split_once(':') {
        let (hours, minutes): (i64, i64) = (
            hours.trim().parse().map_err(|_| wrong())?,
            minutes.trim().parse().map_err(|_| wrong())?,
        );
        if !(0..60).contains(&minutes) {
            return Err(wrong());
        }
        hours.checked_mul(60).and_then(|h| h.checked_add(minutes)).ok_or_else(wrong)?
    } else if let Some(minutes) = plain.strip_suffix("min") {
        minutes.trim().parse().map_err(|_| wrong())?
    } else {
        let hours: Decimal =
            plain.trim_end_matches('h').trim().replace(',', ".").parse().map_err(|_| wrong())?;
        (hours * Decimal::from(60)).round().to_i64().ok_or_else(wrong)?
    };
    if !(1..=MOST).contains(&minutes) {
        return Err(wrong());
    }
    Ok(if text.trim().starts_with('-') { -minutes } else { minutes })
}

/// Minutes planned for a piece, and so much of each operation.
fn planned(plan: &Plan, piece: &str) -> (f64, Vec<(Operation, f64)>) {
    let mut minutes = 0.0;
    let mut amounts: Vec<(Operation, f64)> = Vec::new();
    for task in &plan.labour {
        let of = task.developed.map(|i| &plan.job.pieces[plan.developed[i].piece].name);
        if of.map(String::as_str) != Some(piece) {
            continue;
        }
        minutes += task.minutes.to_f64().unwrap_or(0.0);
        let (Some(operation), Some(amount)) = (task.operation, task.amount.to_f64()) else {
            continue;
        };
        match amounts.iter_mut().find(|a| a.0 == operation) {
            Some(found) => found.1 += amount,
            None => amounts.push((operation, amount)),
        }
    }
    (minutes, amounts)
}

/// Minutes between the ticks of a piece at the bench; nights and days between are left out.
fn ticked(ticks: &[(String, i64, String)], piece: &str) -> i64 {
    let read = |t: &str| t.replace(' ', "T").parse::<DateTime>().ok();
    let mut times: Vec<DateTime> =
        ticks.iter().filter(|t| t.0 == piece).filter_map(|t| read(&t.2)).collect();
    times.sort();
    let between = times.windows(2).filter_map(|two| {
        let span = two[0].until(two[1]).ok()?;
        let total =
            span.total((jiff::Unit::Minute, jiff::SpanRelativeTo::days_are_24_hours())).ok()?;
        (0.0..240.0).contains(&total).then_some(total)
    });
    between.sum::<f64>().round() as i64
}

fn lines(app: &App, id: i64, plan: &Plan) -> Result<Vec<Line>, Trouble> {
    let (worked, taken, ticks) =
        (app.store.worked(id)?, app.store.taken(Some(id))?, app.store.ticks(id)?);
    Ok(plan
        .job
        .pieces
        .iter()
        .map(|piece| Line {
            piece: piece.name.clone(),
            planned: planned(plan, &piece.name).0,
            noted: worked.iter().filter(|w| w.piece == piece.name).map(|w| w.minutes).sum(),
            ticked: ticked(&ticks, &piece.name),
            is_done: taken.iter().any(|taken| taken.piece == piece.name),
        })
        .collect())
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan();
    let all = match &plan {
        Some(plan) => lines(&app, id, plan)?,
        None => Vec::new(),
    };
    let worked = app.store.worked(id)?;
    let body = html! {
        div.narrow.stack.books {
            @match &plan {
                None => { section.sheet.pad { p { "Hours are planned once the pieces are measured." } } }
                Some(plan) => { (against(&visit, id, &all)) (note(&visit, id, plan)) }
            }
            @if !worked.is_empty() {
                section.sheet.pad.stack { h2 { "Noted" }
                    ul.lines { @for line in &worked { li { span.grow { (line.day) ": " (line.piece) @if let Some(operation) = Operation::of(&line.operation) { ", " (words_of(plan.as_deref(), operation)) } @if !line.who.is_empty() { ", " (line.who) } } span.num { (shown(line.minutes as f64)) } } } }
                    p.quiet.small { "What was noted wrongly is set right by the same time with a minus." }
                }
            }
        }
    };
    Ok(page(job_screen(&visit, Some(&entry), "hours", "hours-screen", &body)))
}

fn words_of(plan: Option<&Plan>, operation: Operation) -> String {
    plan.map_or_else(String::new, |plan| {
        words::of(&plan.job).say(&trade::message::message(operation.task()))
    })
}

/// Planned against taken, a pair of bars for each piece.
fn against(visit: &Visit, id: i64, all: &[Line]) -> Markup {
    let most = all.iter().map(|l| l.planned.max(l.noted as f64)).fold(1.0, f64::max);
    let (planned, noted): (f64, i64) =
        (all.iter().map(|l| l.planned).sum(), all.iter().map(|l| l.noted).sum());
    let bar = |minutes: f64| Decimal::from_f64_retain(minutes).unwrap_or_default();
    html! {
        section.sheet.pad.stack {
            h2 tabindex="-1" { "Hours" }
            div.figures { div { p.quiet.small { "Planned" } p.figure-price { (shown(planned)) } } div { p.quiet.small { "Noted so far" } p.figure-price { (shown(noted as f64)) } } }
            @for line in all {
                div.stack.note {
                    p { b { (line.piece) } }
                    (bar_row("Planned", bar(line.planned), bar(most), &shown(line.planned), "quiet"))
                    (bar_row("Noted", bar(line.noted as f64), bar(most), &shown(line.noted as f64), ""))
                    @if line.noted == 0 && line.ticked > 0 {
                        form.row.wrap.gap2 method="post" action=(with_token(visit, &format!("/job/{id}/hours"))) {
                            input type="hidden" name="piece" value=(line.piece); input type="hidden" name="time" value=(format!("{} min", line.ticked)); input type="hidden" name="day" value=(today_and(0).0);
                            span.quiet.small { "Ticks at the bench say " (shown(line.ticked as f64)) "." } button.b.small { "Note that" }
                        }
                    }
                    @if line.noted > 0 {
                        form.row.wrap.gap2 method="post" action=(with_token(visit, &format!("/job/{id}/hours/done"))) {
                            input type="hidden" name="piece" value=(line.piece);
                            @if line.is_done { span.st.ok { "All its hours are noted; the rate book learns from it." } }
                            button.b.small { @if line.is_done { "Say it anew" } @else { "That was all of it" } }
                        }
                    }
                }
            }
        }
    }
}

fn note(visit: &Visit, id: i64, plan: &Plan) -> Markup {
    html! {
        section.sheet.pad.stack { h2 { "Note hours" }
            form.stack method="post" action=(with_token(visit, &format!("/job/{id}/hours"))) {
                div.fields {
                    label.f { span.lab { "Piece" } span.in { select name="piece" { @for piece in &plan.job.pieces { option { (piece.name) } } } } }
                    label.f { span.lab { "Time" } span.in { input name="time" required placeholder="1:30" autocomplete="off"; } }
                    label.f { span.lab { "Of it" } span.in { select name="operation" { option value="" { "All the work on it" } @for operation in Operation::all() { option value=(operation.key()) { (super::capital(&words_of(Some(plan), operation))) } } } } }
                    label.f { span.lab { "On" } span.in { input type="date" name="day" value=(today_and(0).0) required; } }
                    label.f { span.lab { "By" } span.in { input name="who" maxlength="60" autocomplete="off"; } }
                }
                button.b.strong { "Note it" }
            }
        }
    }
}

#[derive(Deserialize)]
pub struct Noted {
    piece: String,
    time: String,
    #[serde(default)]
    operation: String,
    day: String,
    #[serde(default)]
    who: String,
}

pub async fn add(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    Form(form): Form<Noted>,
) -> Answer {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    let operation = match form.operation.as_str() {
        "" => "",
        key => Operation::of(key).ok_or(Trouble::Missing)?.key(),
    };
    let minutes = typed(&form.time)?;
    let noted: i64 = app
        .store
        .worked(id)?
        .iter()
        .filter(|worked| worked.piece == form.piece)
        .map(|worked| worked.minutes)
        .sum();
    if noted + minutes < 0 {
        return Err(Trouble::Input(format!(
            "only {} are noted of {}",
            shown(noted as f64),
            form.piece
        )));
    }
    let worked = Worked {
        piece: form.piece.chars().take(200).collect(),
        operation: operation.into(),
        minutes,
        day: day(&form.day, PAST)?,
        who: form.who.trim().chars().take(60).collect(),
    };
    app.store.work(id, &worked, &now())?;
    Ok(Redirect::to(&format!("/job/{id}/hours")).into_response())
}

#[derive(Deserialize)]
pub struct Piece {
    piece: String,
}

pub async fn done(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    Form(Piece { piece }): Form<Piece>,
) -> Answer {
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let minutes: i64 =
        app.store.worked(id)?.iter().filter(|w| w.piece == piece).map(|w| w.minutes).sum();
    if minutes <= 0 {
        return Err(Trouble::Input(format!("no hours are noted of {piece}")));
    }
    let (planned, amounts) = planned(&plan, &piece);
    app.store.take(&Taken { job: id, piece, minutes, planned, amounts }, &now())?;
    Ok(Redirect::to(&format!("/job/{id}/hours")).into_response())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_is_read_as_people_write_it() {
        let minutes = |text: &str| typed(text).ok();
        assert_eq!(
            ["1:30", "1.5", "1,5 h", "90 min", "-0:20"].map(minutes),
            [Some(90), Some(90), Some(90), Some(90), Some(-20)]
        );
        assert_eq!(["", "0", "1:75", "soon", "99999999999999999999", "90"].map(minutes), [None; 6]);
    }

    #[test]
    fn nights_between_ticks_are_no_work() {
        let tick = |at: &str| ("Seat".to_string(), 0, at.to_string());
        let all = [
            tick("2026-11-26 16:00:00"),
            tick("2026-11-26 16:40:00"),
            tick("2026-11-27 08:00:00"),
            tick("2026-11-27 08:25:00"),
        ];
        assert_eq!(ticked(&all, "Seat"), 65);
    }
}
