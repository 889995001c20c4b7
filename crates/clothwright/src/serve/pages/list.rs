//! All jobs, by what is next to do; customers.

use super::job::titled;
use super::{shop_screen, with_token};
use crate::serve::store::Entry;
use crate::serve::{Answer, App, Trouble, Visit, now, page, text, values};
use axum::Json;
use axum::extract::{Extension, Form, Multipart, Path, Query, State};
use axum::response::{IntoResponse, Redirect};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::sync::Arc;

/// What a job has been through, in the shop's own verbs; what is next; how a ticket says it.
pub const STAGES: [(&str, &str, &str); 7] = [
    ("measured", "Quote to send", "Send quote"),
    ("quoted", "Order materials", "Order cloth"),
    ("ordered", "Cut", "Cut"),
    ("cut", "Cover", "Cover"),
    ("covered", "Fit", "Fit"),
    ("fitted", "Awaiting payment", "Balance due"),
    ("paid", "Paid", "Paid"),
];

/// Most jobs on one screen.
const MOST: usize = 200;

#[derive(Deserialize, Default)]
pub struct Wanted {
    #[serde(default)]
    words: String,
    #[serde(default)]
    archive: bool,
}

/// "Fri 4 Dec", the year only when it is another; and how many days are left.
fn due(text: &str) -> Option<(String, i64)> {
    let date: jiff::civil::Date = text.parse().ok()?;
    let today: jiff::civil::Date = now().get(..10)?.parse().ok()?;
    let form = if date.year() == today.year() { "%a %-d %b" } else { "%a %-d %b %Y" };
    let days = today.until(date).ok()?.get_days();
    Some((date.strftime(form).to_string(), i64::from(days)))
}

/// "due Fri 4 Dec"; empty if it is not said.
pub fn due_in_words(entry: &Entry) -> String {
    due(&entry.due).map_or_else(String::new, |(date, _)| format!("due {date}"))
}

fn due_words(entry: &Entry) -> Markup {
    let is_open = entry.stage != "paid" && entry.stage != "fitted";
    html! {
        @match due(&entry.due) {
            Some((_, days)) if days < 0 && is_open => { span.due.late { (-days) @if days == -1 { " day late" } @else { " days late" } } }
            Some((date, _)) => { span.due { "Due " (date) } }
            None => {}
        }
    }
}

fn row(entry: &Entry, at: usize) -> Markup {
    let ticket = STAGES[at].2;
    html! {
        li { a.job href=(format!("/job/{}", entry.id)) {
            span.pic { @if entry.picture.is_empty() { (PreEscaped(r#"<svg class="figure" viewBox="0 0 64 64" aria-hidden="true"><path class="thin" d="M14 24H50V44H14ZM14 24 22 16H58V36L50 44"/></svg>"#)) } @else { (PreEscaped(&entry.picture)) } }
            span.nm { (entry.name) }
            span.pr.num { (entry.price) }
            span.who { (entry.customer) }
            span.nx { span.tk { @if entry.archived { "Archive" } @else { (ticket) } } (due_words(entry))
                svg.how-far viewBox="0 0 70 8" aria-hidden="true" { rect.of width="70" height="8" {} rect.done width=(10 * (at + 1)) height="8" {} } }
        } }
    }
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Query(wanted): Query<Wanted>,
) -> Answer {
    let mut jobs = app.store.jobs(&wanted.words, wanted.archive, MOST)?;
    if !wanted.words.trim().is_empty() {
        // Who looks for words looks everywhere.
        jobs.extend(app.store.jobs(&wanted.words, !wanted.archive, MOST)?);
    }
    let all = app.store.count()?;
    let is_first = all == 0;
    let body = html! {
        div.columns.jobs-screen {
            div.ways.stack {
                form.stack method="post" action=(with_token(&visit, "/jobs")) {
                    label.f { span.lab { "New job" } span.in { input name="name" required maxlength="200" placeholder="e.g. Lakeside café – bench seats" autocomplete="off"; } }
                    button.b.strong.wide { "Start job" }
                }
                details.fold { summary { "Import a job" }
                    form.stack method="post" enctype="multipart/form-data" action=(with_token(&visit, "/jobs/import")) {
                        label.f { span.lab { "Job file" } input type="file" name="file" accept=".toml,text/plain"; }
                        label.f { span.lab { "or its text" } textarea name="text" rows="4" spellcheck="false" {} }
                        button.b.small { "Import" }
                    }
                }
                p { @if wanted.archive { a href="/" { "Jobs at work" } } @else { a href="/?archive=true" { "Archive" } } }
            }
            div.stack {
                form method="get" action="/" role="search" {
                    label.find { (super::icon("M10 4a6.5 6.5 0 1 0 .01 0M15 15 21 21")) span.vh { "Find a job" } input name="words" value=(wanted.words) type="search" placeholder="Name, place, phone, any words"; }
                }
                @if is_first {
                    div.sheet.pad.stack { h2 { "From the tape to the price, before the first cut." }
                        p { "Start a job, tap what each piece is, type what the tape says. Cloth, foam and board to buy, the cutting plan and the price follow." }
                        form method="post" action=(with_token(&visit, "/jobs/example")) { button.b { "Look at an example first" } }
                        p { a href="/shop" { "Set your rates, tax and name" } }
                    }
                } @else if jobs.is_empty() && !wanted.words.is_empty() {
                    p.sheet.pad { "No job matches “" (wanted.words) "”. " (all) @if all == 1 { " job is" } @else { " jobs are" } " still here. " a href="/" { "Show all jobs" } }
                }
                @for (at, (stage, next, _)) in STAGES.iter().enumerate() {
                    @let here: Vec<_> = jobs.iter().filter(|j| j.stage == *stage).collect();
                    @if !here.is_empty() {
                        section.stage aria-label=(next) {
                            h2.grp { (next) " " span.quiet { (here.len()) } }
                            ul.jobs { @for job in here { (row(job, at)) } }
                        }
                    }
                }
                @if jobs.len() == MOST { p.quiet { "The last " (MOST) " changed are shown; find others by their words." } }
            }
        }
    };
    Ok(page(shop_screen(
        &visit,
        if wanted.archive { "Archive" } else { "Jobs" },
        "/",
        "jobs-page",
        &body,
    )))
}

/// Who jobs have been done for: their jobs, and a new one for them.
pub async fn customers(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Query(wanted): Query<Wanted>,
) -> Answer {
    let known = known(&app, &wanted.words)?;
    let body = html! {
        form method="get" action="/customers" role="search" {
            label.find { (super::icon("M10 4a6.5 6.5 0 1 0 .01 0M15 15 21 21")) span.vh { "Find a customer" } input name="words" value=(wanted.words) type="search" placeholder="Name"; }
        }
        @if known.is_empty() { p.quiet { "A customer stands here as soon as a job names one." } }
        @for (customer, jobs, newest, contact, address) in &known {
            article.sheet.pad.stack aria-label=(customer) {
                h2 { (customer) }
                p.row.wrap {
                    @if !contact.is_empty() { a href=(if contact.contains('@') { format!("mailto:{contact}") } else { format!("tel:{}", contact.replace(' ', "")) }) { (contact) } }
                    @if !address.is_empty() { span { (address) } }
                }
                p { a href=(format!("/?words={}", encoded(customer))) { (jobs) @if *jobs == 1 { " job" } @else { " jobs" } } }
                form.row.wrap method="post" action=(with_token(&visit, "/jobs")) {
                    input type="hidden" name="like" value=(newest);
                    label.f.grow { span.lab { "New job for them" } span.in { input name="name" required maxlength="200"; } }
                    button.b { "Start" }
                }
            }
        }
        @if known.len() == MOST { p.quiet { "The first " (MOST) " are shown; find others by name." } }
    };
    Ok(page(shop_screen(&visit, "Customers", "/customers", "customers", &body)))
}

fn encoded(words: &str) -> String {
    words
        .bytes()
        .map(|b| {
            if b.is_ascii_alphanumeric() { char::from(b).to_string() } else { format!("%{b:02X}") }
        })
        .collect()
}

/// Customers with jobs: name, how many, the job changed last, contact, address.
type Known = (String, i64, i64, String, String);

fn known(app: &App, words: &str) -> Result<Vec<Known>, Trouble> {
    app.store
        .customers(words, MOST)?
        .into_iter()
        .map(|customer| {
            let text = app.store.newest(customer.newest)?.ok_or(Trouble::Missing)?.text;
            let text = text::Parsed::of(&text);
            let (contact, address) = (text.get("customer.contact"), text.get("customer.address"));
            Ok((customer.name, customer.jobs, customer.newest, contact, address))
        })
        .collect()
}

/// The same as data, to fill in who is known.
pub async fn known_customers(State(app): State<Arc<App>>) -> Answer {
    let all: Vec<_> = known(&app, "")?
        .into_iter()
        .map(|(name, _, _, contact, address)| {
            serde_json::json!({ "name": name, "contact": contact, "address": address })
        })
        .collect();
    Ok(Json(all).into_response())
}

#[derive(Deserialize)]
pub struct Fresh {
    name: String,
    /// A job of the same customer.
    like: Option<i64>,
}

/// A new job: its text starts from the shop's, with the job's name and the customer if known.
pub async fn add(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Form(begun): Form<Fresh>,
) -> Answer {
    let name = begun.name.trim();
    if name.is_empty() {
        return Err(Trouble::Input("a job needs a name".into()));
    }
    let mut text = super::data::fresh(&app, name)?;
    if let Some(like) = begun.like {
        let known = app.store.newest(like)?.ok_or(Trouble::Missing)?;
        let known = text::Parsed::of(&known.text);
        for path in ["customer.name", "customer.contact", "customer.address"] {
            text = text::set(&text, path, text::Sort::Text, &known.get(path))
                .map_err(|e| Trouble::Input(e.0))?;
        }
    }
    let id = app.store.add(&titled(&text), STAGES[0].0, &visit.from.to_string(), &now())?;
    Ok(Redirect::to(&format!("/job/{id}/details")).into_response())
}

fn kept(app: &App, visit: &Visit, text: &str) -> Answer {
    let text = text.replace("\r\n", "\n");
    if text.len() > crate::job_file::MOST_BYTES {
        return Err(Trouble::Input("that is longer than any job file".into()));
    }
    // Faults are shown on the job's own screens; what is no TOML at all is refused here.
    if let Err(error) = text.parse::<toml_edit::DocumentMut>() {
        return Err(Trouble::Input(format!(
            "This is not a Clothwright job file: {}",
            error.message()
        )));
    }
    let text = values::marked(&text);
    let id = app.store.add(&titled(&text), STAGES[0].0, &visit.from.to_string(), &now())?;
    Ok(Redirect::to(&format!("/job/{id}")).into_response())
}

#[derive(Deserialize)]
pub struct Given {
    text: String,
}

/// A job from the text of its file.
pub async fn read(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Form(given): Form<Given>,
) -> Answer {
    kept(&app, &visit, &given.text)
}

/// A job from a file that was chosen, or from its text.
pub async fn import(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    mut form: Multipart,
) -> Answer {
    let wrong = |e: axum::extract::multipart::MultipartError| Trouble::Input(e.body_text());
    let mut text = String::new();
    while let Some(part) = form.next_field().await.map_err(wrong)? {
        let said = part.text().await.map_err(wrong)?;
        if !said.trim().is_empty() {
            text = said;
        }
    }
    if text.trim().is_empty() {
        return Err(Trouble::Input("choose a job file, or paste its text".into()));
    }
    kept(&app, &visit, &text)
}

/// The example that comes with the program.
pub async fn example(State(app): State<Arc<App>>, Extension(visit): Extension<Visit>) -> Answer {
    kept(&app, &visit, crate::DEMO)
}

/// The same job once more, to change for another customer.
pub async fn duplicate(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let known = app.store.newest(id)?.ok_or(Trouble::Missing)?;
    let name = format!("{} (copy)", text::get(&known.text, "job.name"));
    let copy = text::set(&known.text, "job.name", text::Sort::Text, &name)
        .map_err(|e| Trouble::Input(e.0))?;
    kept(&app, &visit, &copy)
}

#[derive(Deserialize)]
pub struct Away {
    #[serde(default)]
    back: bool,
}

/// A job put away, or taken back.
pub async fn archive(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    Query(away): Query<Away>,
) -> Answer {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    app.store.archive(id, !away.back)?;
    Ok(Redirect::to(if away.back { "/?archive=true" } else { "/" }).into_response())
}

#[derive(Deserialize)]
pub struct Named {
    name: String,
}

/// A job deleted for good; its name is typed, so that it is never the wrong one.
pub async fn delete(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    Form(named): Form<Named>,
) -> Answer {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    if named.name.trim() != entry.name.trim() {
        return Err(Trouble::Input(format!(
            "type the name of the job, {}, to delete it for good",
            entry.name
        )));
    }
    // What was invoiced and paid has to be there for the tax office, and for who still owes.
    if !app.store.invoices(Some(id))?.is_empty() || !app.store.payments(Some(id))?.is_empty() {
        return Err(Trouble::Input(
            "this job has invoices or payments and stays; put it into the archive instead".into(),
        ));
    }
    app.store.delete(id)?;
    Ok(Redirect::to("/").into_response())
}
