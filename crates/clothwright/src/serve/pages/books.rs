//! The workroom's books: what is owed and how old, invoices, what the rate book has learned, when work is done.

use super::invoices::csv_lines;
use super::money::today_and;
use super::{bar_row, hours, shop_screen, with_token};
use crate::job_file;
use crate::serve::buying::Wanted;
use crate::serve::ledger::Owing;
use crate::serve::store::Entry;
use crate::serve::text::{self, Sort};
use crate::serve::{Answer, App, Trouble, Visit, page};
use axum::extract::{Extension, Form, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect};
use books::account::{AGES, age};
use books::learn::{Lesson, Took, learn, written};
use books::schedule::{Slot, Week, Work, schedule};
use maud::{Markup, html};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;
use trade::message::message;
use trade::money::sum;
use trade::operations::{Minutes, Operation};
use trade::rates::Rates;

/// Most open jobs that are laid into the calendar.
const MOST: usize = 200;

const DAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];

pub async fn show(State(app): State<Arc<App>>, Extension(visit): Extension<Visit>) -> Answer {
    let today = today_and(0).0;
    let owed = app.store.owing()?;
    let lesson = lesson(&app)?;
    let slots = calendar(&app).await?;
    let invoices = app.store.invoices(None)?;
    let body = html! {
        div.narrow.stack.books {
            (owing(&owed, &today))
            (when(&visit, &app, &slots)?)
            (learned(&visit, lesson.as_ref()))
            section.sheet.pad.stack { h2 { "For the bookkeeper" }
                p { (invoices.len()) " invoices and credit notes, numbered without a gap." }
                p { a.b href="/books/invoices.csv" { "All invoices as a table (CSV)" } }
                p.quiet.small { "Columns: number, kind, takes_back, date, due, customer, job, currency, net, tax, rounding, total; credit notes with a minus; commas between, points in numbers, UTF-8." }
            }
        }
    };
    Ok(page(shop_screen(&visit, "Books", "/books", "books-screen", &body)))
}

fn owing(all: &[Owing], today: &str) -> Markup {
    let mut currencies: Vec<&str> = all.iter().map(|owing| owing.currency.as_str()).collect();
    currencies.sort_unstable();
    currencies.dedup();
    let by_age = |currency: &str| {
        let mut ages = [Decimal::ZERO; AGES];
        for owing in all.iter().filter(|owing| owing.currency == currency) {
            ages[age(&owing.open.due, today)] += owing.open.owed;
        }
        ages
    };
    html! {
        section.sheet.pad.stack { h2 tabindex="-1" { "Owed to the workroom" }
            @if all.is_empty() { p { "Nothing is open." } }
            @for currency in currencies {
                @let ages = by_age(currency);
                @let most = ages.iter().copied().max().unwrap_or_default();
                p.figure-price { (sum(currency, ages.iter().copied().sum())) }
                @for (words, value) in AGE_WORDS.iter().zip(ages).filter(|(_, value)| !value.is_zero()) { (bar_row(words, value, most, &sum(currency, value), if *words == AGE_WORDS[0] { "quiet" } else { "" })) }
            }
            ul.lines { @for Owing { job, customer, currency, open } in all {
                @let is_late = age(&open.due, today) > 0;
                li { span.grow { a href=(format!("/job/{job}/money")) { @if customer.is_empty() { "job " (job) } @else { (customer) } } ", No. " (open.number) ", " @if is_late { span.late { "was due " (open.due) } } @else { "due " (open.due) } } span.num { (sum(currency, open.owed)) } }
            } }
        }
    }
}

/// Ages of what is owed.
const AGE_WORDS: [&str; AGES] =
    ["Not yet due", "1 to 30 days late", "31 to 60", "61 to 90", "Older"];

/// What pieces that are done teach.
fn lesson(app: &App) -> Result<Option<Lesson>, Trouble> {
    let taken = app.store.taken(None)?;
    let took: Vec<Took> = taken
        .into_iter()
        .map(|taken| Took { amounts: taken.amounts, minutes: taken.minutes as f64 })
        .collect();
    // Held towards the usual minutes, not towards what was taken over from the same pieces before.
    let mut lesson = learn(&Minutes::default(), &took);
    let book = rates(app)?.minutes;
    for line in lesson.iter_mut().flat_map(|lesson| &mut lesson.learned) {
        line.book = book.of(line.operation).to_f64().unwrap_or(line.book);
    }
    Ok(lesson)
}

/// The shop's own rates, from its settings.
fn rates(app: &App) -> Result<Rates, Trouble> {
    let text = app.store.setting("shop")?.unwrap_or_else(|| super::shop::USUAL.into());
    Ok(job_file::read(&text).job.rates)
}

fn learned(visit: &Visit, lesson: Option<&Lesson>) -> Markup {
    let name = |operation: Operation| {
        let style = trade::working::Style::usual(geometry::Unit::Millimetre);
        words::english().voice(style).say(&message(operation.task()))
    };
    html! {
        section.sheet.pad.stack { h2 { "What the rate book learns" }
            @match lesson {
                None => { p { "Nothing yet. Note hours at a job's pieces (Hours) and say when that was all of it: from then on each operation's minutes are held against what it really took." } }
                Some(lesson) => {
                    p { "From what pieces really took. The range is made to hold the true minutes four times in five; few pieces leave it wide. So far hours of a whole piece stay within " b { (format!("{:.0} %", lesson.spread)) } " of this book, four times in five." }
                    table.rates { thead { tr { th { "Minutes for one" } th.wide-only { "Book" } th { "Learned" } th { "Range" } th.wide-only { "Pieces" } th {} } }
                        tbody { @for line in &lesson.learned { tr {
                            td { (super::capital(&name(line.operation))) } td.num.wide-only { (written(line.book)) } td.num { b { (written(line.minutes)) } }
                            td.num { (written(line.range.0)) " to " (written(line.range.1)) } td.num.wide-only { (line.pieces) }
                            td { @if written(line.minutes) != written(line.book) { form.inline method="post" action=(with_token(visit, "/books/accept")) { input type="hidden" name="operation" value=(line.operation.key()); button.b.small { "Take it" } } } }
                        } } }
                    }
                    p.quiet.small { "Taken minutes go into the settings that new jobs start from; jobs already begun stay as they are. Pooled towards the book, pieces gone wrong weigh little." }
                }
            }
        }
    }
}

#[derive(Deserialize)]
pub struct Which {
    operation: String,
}

/// A learned number becomes the shop's own.
pub async fn accept(State(app): State<Arc<App>>, Form(form): Form<Which>) -> Answer {
    let operation = Operation::of(&form.operation).ok_or(Trouble::Missing)?;
    let lesson = lesson(&app)?;
    let line = lesson.iter().flat_map(|lesson| &lesson.learned).find(|l| l.operation == operation);
    let line = line.ok_or(Trouble::Missing)?;
    let text = app.store.setting("shop")?.unwrap_or_else(|| super::shop::USUAL.into());
    let path = format!("rates.minutes.{}", operation.key());
    let value = written(line.minutes).to_string();
    let mut text =
        text::set(&text, &path, Sort::Number, &value).map_err(|e| Trouble::Input(e.0))?;
    if let Some(lesson) = &lesson {
        // Only what was learned lets a paper say "within so much".
        let done = app.store.taken(None)?;
        let mut jobs: Vec<i64> = done.iter().map(|taken| taken.job).collect();
        jobs.sort_unstable();
        jobs.dedup();
        let spread = format!("{:.0}", lesson.spread.clamp(1.0, 100.0));
        for (path, value) in
            [("rates.spread_percent", spread), ("rates.spread_jobs", jobs.len().to_string())]
        {
            text = text::set(&text, path, Sort::Number, &value).map_err(|e| Trouble::Input(e.0))?;
        }
    }
    app.store.set_setting("shop", &text)?;
    Ok(Redirect::to("/books").into_response())
}

/// Hours of a week, Monday first, as the shop has set them.
fn week(app: &App) -> Result<Week, Trouble> {
    let said = app.store.setting("week")?.unwrap_or_else(|| "8 8 8 8 8 0 0".into());
    let mut week = [0.0; 7];
    for (to, word) in week.iter_mut().zip(said.split_whitespace()) {
        *to = word.parse().unwrap_or(0.0);
    }
    Ok(week)
}

/// Jobs that are still to be made, with the hours that are left, laid into the weeks.
async fn calendar(app: &Arc<App>) -> Result<Vec<(Entry, f64, Slot)>, Trouble> {
    let jobs = app.store.jobs("", false, MOST)?;
    let mut all: Vec<(Entry, f64)> = Vec::new();
    for job in jobs {
        if !["quoted", "ordered", "cut"].contains(&job.stage.as_str()) {
            continue;
        }
        let (_, sheet) = app.sheet(job.id).await?;
        let Some(plan) = sheet.plan() else { continue };
        let planned = trade::labour::total(&plan.labour).to_f64().unwrap_or(0.0);
        let noted: i64 = app.store.worked(job.id)?.iter().map(|w| w.minutes).sum();
        all.push((job, (planned - noted as f64).max(0.0) / 60.0));
    }
    let orders = app.store.orders()?;
    let tomorrow = today_and(1).1;
    // Nothing is begun before what was ordered for it is here; what is late comes tomorrow at best.
    let comes = |job: i64| {
        let open = |line: &(Wanted, Decimal)| line.0.job == job && line.1 < line.0.quantity;
        let waiting = orders.iter().filter(|order| order.lines.iter().any(open));
        waiting.map(|order| order.due.as_str().max(tomorrow.as_str())).max()?.parse().ok()
    };
    let work: Vec<Work> = all
        .iter()
        .map(|(job, hours)| Work {
            job: job.id,
            due: job.due.parse().ok(),
            from: comes(job.id),
            hours: *hours,
        })
        .collect();
    let slots = schedule(&work, &week(app)?, jiff::ZonedDateTime::now().date());
    let mut laid = Vec::new();
    for slot in slots {
        if let Some((job, hours)) = all.iter().find(|(job, _)| job.id == slot.job) {
            laid.push((job.clone(), *hours, slot));
        }
    }
    Ok(laid)
}

fn when(visit: &Visit, app: &App, slots: &[(Entry, f64, Slot)]) -> Result<Markup, Trouble> {
    let week = week(app)?;
    let day = |date: jiff::civil::Date| date.strftime("%a %-d %b").to_string();
    let late = slots.iter().filter(|(_, _, slot)| slot.late > 0).count();
    Ok(html! {
        section.sheet.pad.stack { h2 { "When it is done" }
            @if slots.is_empty() { p { "No job is quoted, ordered or cut." } }
            @else if late > 0 { p.fault { (late) @if late == 1 { " job does" } @else { " jobs do" } " not get done in time with the hours there are." } }
            @else { p { "By planned hours, and if what is ordered comes when it is due, everything gets done in time." } }
            ul.lines { @for (job, hours, slot) in slots { li.wrap {
                span.grow { a href=(format!("/job/{}", job.id)) { (job.name) } br; span.quiet.small { (hours::shown(hours * 60.0)) " left, " (day(slot.begins)) " to " (day(slot.ends)) } }
                span.num { @if slot.late > 0 { span.late { (slot.late) @if slot.late == 1 { " day late" } @else { " days late" } } } @else if job.due.is_empty() { span.quiet { "no day promised" } } @else { "in time" } }
            } } }
            details.fold { summary { "Hours of the week, all benches together" }
                form.row.wrap.gap2 method="post" action=(with_token(visit, "/books/week")) {
                    @for (i, (name, hours)) in DAYS.iter().zip(week).enumerate() { label.f.short { span.lab { (name) } span.in { input name=(format!("d{i}")) value=(hours) inputmode="decimal"; } } }
                    button.b { "Save" }
                }
            }
            p.quiet.small { "The earliest due date first, one job after the other, none before what was ordered for it is due; hours noted count as done." }
        }
    })
}

pub async fn save_week(
    State(app): State<Arc<App>>,
    Form(said): Form<BTreeMap<String, String>>,
) -> Answer {
    let mut words = Vec::new();
    for (i, name) in DAYS.iter().enumerate() {
        let text = said.get(&format!("d{i}")).map_or("0", |t| t.trim());
        let hours: f64 = text.replace(',', ".").parse().unwrap_or(f64::NAN);
        if !(0.0..=500.0).contains(&hours) {
            return Err(Trouble::Input(format!(
                "{name}: `{text}` are no hours of a day; write 8 or 7.5"
            )));
        }
        words.push(hours.to_string());
    }
    app.store.set_setting("week", &words.join(" "))?;
    Ok(Redirect::to("/books").into_response())
}

pub async fn table(State(app): State<Arc<App>>) -> Answer {
    let text = csv_lines(&app.store.invoices(None)?)?;
    let headers = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"invoices.csv\""),
    ];
    Ok((headers, text).into_response())
}
