//! Lengths of cloth on the shelf: what came in, what was cut, what was put back.

use super::{shop_screen, with_token};
use crate::serve::shelf::{Arrival, Shelf};
use crate::serve::store::Store;
use crate::serve::{Answer, App, Trouble, Visit, now, page};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use geometry::{Length, Unit};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use qrcode::QrCode;
use qrcode::render::svg;
use serde::Deserialize;
use std::sync::Arc;

/// The unit the shop measures in.
pub fn unit(app: &App) -> Result<Unit, Trouble> {
    unit_of(&app.store)
}

/// The same of a store.
pub fn unit_of(store: &Store) -> Result<Unit, Trouble> {
    let text = store.setting("shop")?.unwrap_or_else(|| super::shop::USUAL.into());
    Ok(match crate::serve::text::get(&text, "job.unit").as_str() {
        "mm" => Unit::Millimetre,
        "cm" => Unit::Centimetre,
        _ => Unit::Inch,
    })
}

/// A measure as typed.
pub fn measure(text: &str, unit: Unit, what: &str) -> Result<Length, Trouble> {
    let read = geometry::read_length(text.trim(), unit);
    let wrong =
        || Trouble::Input(format!("{what}: `{text}` is no length; write it as on the tape"));
    read.ok().filter(|length| *length > Length::ZERO).ok_or_else(wrong)
}

/// Width and length in a line.
pub fn size(item: &Shelf, unit: Unit) -> String {
    format!("{} × {}", item.width.show(unit), item.length.show(unit))
}

pub async fn show(State(app): State<Arc<App>>, Extension(visit): Extension<Visit>) -> Answer {
    let all = app.store.shelf()?;
    let unit = unit(&app)?;
    let mut names: Vec<&str> = all.iter().map(|item| item.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let body = html! {
        div.narrow.stack.books {
            p { a.b href="/orders" { "Orders: what to buy, what is still to come" } }
            section.sheet.pad.stack { h2 tabindex="-1" { "On the shelf" }
                @if all.is_empty() { p { "Nothing yet. Put leftovers here from a job (Cloth), or lengths you have." } }
                @for name in &names {
                    h3 { (name) }
                    ul.lines { @for item in all.iter().filter(|item| item.name == **name) { (line(&app, item, unit)?) } }
                }
            }
            section.sheet.pad.stack { h2 { "Put a length on the shelf" }
                form.stack method="post" action=(with_token(&visit, "/stock")) {
                    div.fields {
                        label.f { span.lab { "Cloth" } span.in { input name="name" required maxlength="200" list="cloths" autocomplete="off"; } }
                        label.f { span.lab { "Width, measured, " (unit.sign()) } span.in { input name="width" required autocomplete="off"; } }
                        label.f { span.lab { "Length, measured, " (unit.sign()) } span.in { input name="length" required autocomplete="off"; } }
                        label.f { span.lab { "Lot" } span.in { input name="lot" maxlength="60" autocomplete="off"; } }
                        label.f { span.lab { "Supplier" } span.in { input name="supplier" maxlength="100" autocomplete="off"; } }
                        label.f { span.lab { "Note: flaws, face, first motif" } span.in { input name="note" maxlength="300" autocomplete="off"; } }
                    }
                    datalist #cloths { @for name in &names { option value=(name) {} } }
                    button.b.strong { "Put it there" }
                }
            }
        }
    };
    Ok(page(shop_screen(&visit, "Stock", "/stock", "stock-screen", &body)))
}

fn line(app: &App, item: &Shelf, unit: Unit) -> Result<Markup, Trouble> {
    let job = match item.promised {
        Some(job) => app.store.job(job)?,
        None => None,
    };
    Ok(html! {
        li.wrap {
            span.tk.plain { (item.label) }
            span.grow { a href=(format!("/stock/{}", item.id)) { (size(item, unit)) } @if !item.lot.is_empty() { ", lot " (item.lot) }
                @if !item.note.is_empty() { br; span.quiet.small { (item.note) } } }
            @if let Some(job) = job { span.quiet.small { "promised to " a href=(format!("/job/{}/goods", job.id)) { (job.name) } } }
        }
    })
}

#[derive(Deserialize)]
pub struct Came {
    name: String,
    width: String,
    length: String,
    #[serde(default)]
    lot: String,
    #[serde(default)]
    supplier: String,
    #[serde(default)]
    note: String,
}

pub async fn add(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Form(came): Form<Came>,
) -> Answer {
    let unit = unit(&app)?;
    if came.name.trim().is_empty() {
        return Err(Trouble::Input("say which cloth it is".into()));
    }
    let arrival = Arrival {
        name: came.name.trim(),
        supplier: came.supplier.trim(),
        lot: came.lot.trim(),
        width: measure(&came.width, unit, "Width")?,
        length: measure(&came.length, unit, "Length")?,
        note: came.note.trim(),
        why: "came in",
        job: None,
    };
    app.store.arrive(&arrival, (&visit.from.to_string(), &now()))?;
    Ok(Redirect::to("/stock").into_response())
}

fn found(app: &App, id: i64) -> Result<Shelf, Trouble> {
    app.store.all_lengths()?.into_iter().find(|item| item.id == id).ok_or(Trouble::Missing)
}

pub async fn one(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let (item, unit) = (found(&app, id)?, unit(&app)?);
    let body = html! {
        div.narrow.stack.books {
            section.sheet.pad.stack { h2 tabindex="-1" { (item.label) ": " (item.name) }
                p.figure-price { @if item.length > Length::ZERO { (size(&item, unit)) } @else { "nothing is left" } }
                p { @if !item.lot.is_empty() { "Lot " (item.lot) ". " } @if !item.supplier.is_empty() { "From " (item.supplier) ". " } (item.note) }
                p.row.gap2.wrap { a.b href=(format!("/stock/{id}/label")) { "Print its label" } a.b href="/stock" { "All stock" } }
            }
            section.sheet.pad.stack { h2 { "What happened to it" }
                ul.lines { @for m in app.store.movements(id)? { li { span.grow { (m.at.get(..10).unwrap_or_default()) ": " (m.why) @if let Some(job) = m.job { ", " a href=(format!("/job/{job}")) { "job " (job) } } } span.num { @if m.length > Length::ZERO { "+" } (m.length.show(unit)) } } } }
                form.stack method="post" action=(with_token(&visit, &format!("/stock/{id}/move"))) {
                    div.fields {
                        label.f { span.lab { "What is there now, measured, " (unit.sign()) } span.in { input name="length" required autocomplete="off"; } }
                        label.f { span.lab { "Why" } span.in { input name="why" required maxlength="200" placeholder="measured again, thrown away, …" autocomplete="off"; } }
                    }
                    button.b { "Set it right" }
                }
                p.quiet.small { "Lines are never changed; what is there is their sum. Nought takes it off the shelf." }
            }
        }
    };
    Ok(page(shop_screen(&visit, "Stock", "/stock", "stock-screen", &body)))
}

#[derive(Deserialize)]
pub struct Moved {
    length: String,
    why: String,
}

pub async fn correct(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Moved>,
) -> Answer {
    let (item, unit) = (found(&app, id)?, unit(&app)?);
    let why = form.why.trim();
    if why.is_empty() {
        return Err(Trouble::Input("say why".into()));
    }
    let there = match form.length.trim() {
        "0" => Length::ZERO,
        text => measure(text, unit, "What is there")?,
    };
    let by = there - item.length;
    let who = visit.from.to_string();
    if by != Length::ZERO {
        app.store.move_length(id, by, why, (&who, &now()), None)?;
        // The job that it is promised to is laid on what is there.
        if let Some(job) = item.promised {
            super::goods::resize(&app, job, &who, &Shelf { length: there, ..item })?;
        }
    }
    Ok(Redirect::to(&format!("/stock/{id}")).into_response())
}

/// A label to print, cut out and pin on.
pub async fn label(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Answer {
    let (item, unit) = (found(&app, id)?, unit(&app)?);
    let first = app.addresses.first().cloned().unwrap_or_default();
    let code = QrCode::new(format!("{first}/stock/{id}"))
        .map(|code| code.render::<svg::Color>().min_dimensions(120, 120).quiet_zone(false).build())
        .unwrap_or_default();
    let body = html! {
        (DOCTYPE)
        html lang="en" {
            head { meta charset="utf-8"; meta name="viewport" content="width=device-width, initial-scale=1"; title { (item.label) } link rel="stylesheet" href="/assets/page.css"; }
            body.label-sheet { main #main { div.shelf-label {
                div { p.big { (item.label) } p.name { (item.name) } p { (size(&item, unit)) } p { @if !item.lot.is_empty() { "Lot " (item.lot) } } p.small { (item.note) } }
                div.qr { (PreEscaped(code)) }
            } p.noprint { a.b href=(format!("/stock/{id}")) { "Back" } } } }
        }
    };
    Ok(page(body))
}
