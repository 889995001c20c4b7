//! All jobs, by what is next to do.

use super::job::titled;
use super::{frame, head, with_token};
use crate::serve::{Answer, App, Trouble, Visit, now, page, text};
use axum::extract::{Extension, Form, Query, State};
use axum::response::{IntoResponse, Redirect};
use maud::html;
use serde::Deserialize;
use std::sync::Arc;

/// What a job has been through, in the shop's own verbs; and what is next.
pub const STAGES: [(&str, &str); 7] = [
    ("measured", "to quote"),
    ("quoted", "to order"),
    ("ordered", "to cut"),
    ("cut", "to cover"),
    ("covered", "to fit"),
    ("fitted", "to be paid"),
    ("paid", "done"),
];

/// Most jobs on one screen.
const MOST: usize = 200;

#[derive(Deserialize, Default)]
pub struct Wanted {
    #[serde(default)]
    words: String,
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Query(wanted): Query<Wanted>,
) -> Answer {
    let jobs = app.store.jobs(&wanted.words, MOST)?;
    let body = html! {
        (head("Jobs", None, &html! { a.quiet href="/customers" { "Customers" } a.quiet href="/shop" { "The shop" } }))
        main #main {
            form.row method="post" action=(with_token(&visit, "/jobs")) {
                label.grow { "New job" input name="name" required maxlength="200" placeholder="who and what: Lakeside, bench seats"; }
                button.main { "Begin" }
            }
            form.row method="get" action="/" role="search" {
                label.grow { "Find" input name="words" value=(wanted.words) type="search"; }
                button { "Find" }
            }
            @if jobs.is_empty() { p.hint { "No job yet. Begin one above, or read a job file below." } }
            @for (stage, next) in STAGES {
                @let here: Vec<_> = jobs.iter().filter(|j| j.stage == stage).collect();
                @if !here.is_empty() {
                    section.stage aria-label=(next) {
                        h2 { (next) " " span.count { (here.len()) } }
                        ul.jobs {
                            @for job in here {
                                li { a href=(format!("/job/{}", job.id)) {
                                    span.name { (job.name) }
                                    span.when { (job.changed.get(..16).unwrap_or(&job.changed)) }
                                } }
                            }
                        }
                    }
                }
            }
            @if jobs.len() == MOST { p.hint { "The last " (MOST) " changed are shown; find others by name or customer." } }
            details {
                summary { "Read a job file" }
                form method="post" action=(with_token(&visit, "/jobs/read")) {
                    label { "Its text" textarea name="text" rows="10" spellcheck="false" required {} }
                    button { "Read it in" }
                }
            }
        }
    };
    Ok(page(frame(&visit, "Jobs — Clothwright", "list", &body)))
}

/// Who jobs have been done for: their jobs, and a new one for them.
pub async fn customers(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Query(wanted): Query<Wanted>,
) -> Answer {
    let known = app.store.customers(&wanted.words, MOST)?;
    let mut cards = Vec::new();
    for customer in &known {
        let text = app.store.newest(customer.newest)?.ok_or(Trouble::Missing)?.text;
        let text = text::Parsed::of(&text);
        cards.push((customer, text.get("customer.contact"), text.get("customer.address")));
    }
    let body = html! {
        (head("Customers", Some(("/", "jobs")), &html! {}))
        main #main {
            form.row method="get" action="/customers" role="search" {
                label.grow { "Find" input name="words" value=(wanted.words) type="search"; }
                button { "Find" }
            }
            @if cards.is_empty() { p.hint { "A customer stands here as soon as a job names one." } }
            @for (customer, contact, address) in &cards {
                article.lay aria-label=(customer.name) {
                    header { h2 { (customer.name) } p.kind { (contact) @if !contact.is_empty() && !address.is_empty() { " — " } (address) } }
                    form method="get" action="/" {
                        input type="hidden" name="words" value=(customer.name);
                        button.quiet { (customer.jobs) @if customer.jobs == 1 { " job" } @else { " jobs" } }
                    }
                    form.row method="post" action=(with_token(&visit, "/jobs")) {
                        input type="hidden" name="like" value=(customer.newest);
                        label.grow { "New job for them" input name="name" required maxlength="200"; }
                        button { "Begin" }
                    }
                }
            }
            @if cards.len() == MOST { p.hint { "The first " (MOST) " are shown; find others by name." } }
        }
    };
    Ok(page(frame(&visit, "Customers — Clothwright", "list", &body)))
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
    Form(fresh): Form<Fresh>,
) -> Answer {
    let name = fresh.name.trim();
    if name.is_empty() {
        return Err(Trouble::Input("a job needs a name".into()));
    }
    let shop = app.store.setting("shop")?.unwrap_or_else(|| super::shop::USUAL.into());
    let set = |text: &str, path: &str, to: &str| {
        text::set(text, path, text::Sort::Text, to).map_err(|e| Trouble::Input(e.0))
    };
    let mut text = set(&shop, "job.name", name)?;
    if let Some(like) = fresh.like {
        let known = app.store.newest(like)?.ok_or(Trouble::Missing)?;
        let known = text::Parsed::of(&known.text);
        for path in ["customer.name", "customer.contact", "customer.address"] {
            text = set(&text, path, &known.get(path))?;
        }
    }
    let id = app.store.add(&titled(&text), STAGES[0].0, &visit.from.to_string(), &now())?;
    Ok(Redirect::to(&format!("/job/{id}")).into_response())
}

#[derive(Deserialize)]
pub struct Given {
    text: String,
}

pub async fn read(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Form(given): Form<Given>,
) -> Answer {
    let text = given.text.replace("\r\n", "\n");
    if text.len() > crate::job_file::MOST_BYTES {
        return Err(Trouble::Input("that is longer than any job file".into()));
    }
    // Faults are shown on the job's own sheet; what is no TOML at all is refused here.
    if let Err(error) = text.parse::<toml_edit::DocumentMut>() {
        return Err(Trouble::Input(format!("this is no job file: {}", error.message())));
    }
    let id = app.store.add(&titled(&text), STAGES[0].0, &visit.from.to_string(), &now())?;
    Ok(Redirect::to(&format!("/job/{id}")).into_response())
}
