//! Settings: what new jobs start from, how to share the page, who is in.

use super::{shop_screen, with_token};
use crate::serve::text::{self, Parsed, Sort};
use crate::serve::{Answer, App, Trouble, Visit, access, page};
use axum::extract::{Extension, Form, Path, Query, State};
use axum::response::{IntoResponse, Redirect};
use geometry::{Length, Unit};
use maud::{Markup, PreEscaped, html};
use qrcode::QrCode;
use qrcode::render::svg;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;
use trade::rates::Allowances;

/// What a new job starts from until the shop says otherwise.
pub const USUAL: &str = include_str!("../../../assets/shop.toml");

/// The same for a shop that measures in millimetres.
const METRIC: &str = include_str!("../../../assets/shop_metric.toml");

/// Place in the text, words, sort.
type Field = (&'static str, &'static str, Sort);

const GROUPS: [(&str, &[Field]); 4] = [
    (
        "Letterhead",
        &[
            ("shop.name", "Name on your quotes", Sort::Text),
            ("shop.address", "Address", Sort::Text),
            ("shop.phone", "Phone", Sort::Text),
            ("shop.mail", "Email", Sort::Text),
            ("shop.tax_number", "Tax number", Sort::Text),
        ],
    ),
    (
        "Rates",
        &[
            ("rates.hour", "Labour, an hour", Sort::Number),
            ("rates.cloth_markup", "Markup on cloth, %", Sort::Number),
            ("rates.foam_markup", "Markup on foam, %", Sort::Number),
            ("rates.board_markup", "Markup on board, %", Sort::Number),
            ("rates.sundries_percent", "Consumables, % of materials", Sort::Number),
            ("rates.overhead_percent", "Overhead, % of labour", Sort::Number),
            ("rates.minimum", "Minimum charge", Sort::Number),
        ],
    ),
    (
        "Money and tax",
        &[
            ("job.currency", "Currency", Sort::Text),
            ("tax.name", "Name of the tax", Sort::Text),
            ("tax.rate", "Tax, %", Sort::Number),
            ("deposit.percent", "Deposit, %", Sort::Number),
            ("job.valid_days", "A quote holds, days", Sort::Number),
        ],
    ),
    (
        "Words and allowances",
        &[
            ("shop.terms", "Terms at the foot of the quote", Sort::Text),
            ("shop.conditions", "Terms in full, on a page of their own", Sort::Text),
            ("allowances.turn_under", "Turn-under of stapled covers", Sort::Text),
            ("allowances.seam", "Seam allowance", Sort::Text),
            ("allowances.foam_oversize", "Foam over a cushion's size, each side", Sort::Text),
            ("allowances.cord", "Piping cord, across", Sort::Text),
        ],
    ),
];

#[derive(Deserialize, Default)]
pub struct Kept {
    #[serde(default)]
    kept: String,
}

fn kept_text(app: &App) -> Result<String, Trouble> {
    Ok(app.store.setting("shop")?.unwrap_or_else(|| USUAL.into()))
}

/// What holds where a setting is left blank.
fn usual(path: &str, unit: &str) -> String {
    let unit = if unit == "in" { Unit::Inch } else { Unit::Millimetre };
    let allowances = Allowances::usual(unit);
    let show = |length: Length| length.show(unit);
    match path {
        "job.currency" => "USD".into(),
        "tax.name" => "e.g. VAT".into(),
        "tax.rate" => "none".into(),
        "allowances.turn_under" => show(allowances.turn_under),
        "allowances.seam" => show(allowances.seam),
        "allowances.foam_oversize" => show(allowances.foam_oversize),
        "allowances.cord" => show(allowances.cord),
        _ => String::new(),
    }
}

fn form(visit: &Visit, all: &Parsed) -> Markup {
    let unit = all.get("job.unit");
    html! {
        form.stack method="post" action=(with_token(visit, "/shop")) {
            section.sheet.pad.stack { h2 { "Measuring" }
                fieldset.radios { legend.lab { "You measure in" }
                    @for (value, words) in [("in", "inches"), ("mm", "mm"), ("cm", "cm")] {
                        label { input type="radio" name="job.unit" value=(value) checked[unit == value]; (words) }
                    }
                }
                p.quiet.small { "The materials below new jobs start from change with the unit, as long as they are still the usual ones." }
            }
            @for (title, fields) in GROUPS {
                section.sheet.pad.stack { h2 { (title) }
                    div.fields { @for (path, words, sort) in fields {
                        label.f { span.lab { (words) } span.in { input name=(path) value=(all.get(path)) placeholder=(usual(path, &unit)) list=[(*path == "job.currency").then_some("signs")] inputmode=[(*sort == Sort::Number).then_some("decimal")] autocomplete="off"; } }
                    } }
                }
            }
            datalist #signs { @for sign in ["£", "€", "$", "USD", "CAD", "AUD", "NZD", "CHF", "kr"] { option value=(sign) {} } }
            div.nextrow { button.b.strong { "Save settings" } }
        }
    }
}

fn screens(app: &App, visit: &Visit) -> Result<Markup, Trouble> {
    let sessions = app.store.sessions()?;
    let first = app.addresses.first().cloned().unwrap_or_default();
    // The way to trust is the one screen that is there in clear text.
    let trust = format!("{}/trust", first.replacen("https:", "http:", 1));
    let code = QrCode::new(&trust)
        .ok()
        .map(|code| code.render::<svg::Color>().min_dimensions(180, 180).quiet_zone(true).build());
    Ok(html! {
        section.sheet.pad.stack { h2 { "Use on your phone" }
            @if let Some(authority) = &app.authority {
                p { "On the phone, in the same network, scan this once: it leads through trusting the workroom. After that the phone opens " b { (first) } ", and measures with no network too." }
                @if let Some(code) = code { div.qr { (PreEscaped(code)) } }
                p.small { "or type " b { (trust) } }
                @if app.addresses.len() > 1 { p.small { "Also found at " (app.addresses[1..].join(", ")) } }
                p.small { "Print of the workroom's certificate (SHA-256):" br; code { (authority.print) } }
                h3 { "Who is in" }
                ul.stack { @for (mark, since, from) in &sessions { li.row.wrap {
                    span { (from) " since " (since) @if *mark == access::session_mark(&visit.cookie) { " (this screen)" } }
                    form.inline method="post" action=(with_token(visit, &format!("/shop/end/{mark}"))) { button.b.small { "End it" } }
                } } }
            } @else {
                p { "The page is open on this computer only. Start it with " code { "clothwright serve --share" } " to use it on phones and tablets of the workroom; it asks for a pass phrase, and what goes over the network is encrypted." }
            }
        }
    })
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Query(kept): Query<Kept>,
) -> Answer {
    let text = kept_text(&app)?;
    let body = html! {
        div.narrow.stack {
            @if kept.kept == "1" { p.sheet.pad role="status" { "Saved. New jobs start from it; jobs already begun stay as they are." } }
            (form(&visit, &Parsed::of(&text)))
            (screens(&app, &visit)?)
            details.fold { summary { "Advanced: materials, minutes and all else, as text" }
                form.stack method="post" action=(with_token(&visit, "/shop/text")) {
                    label { span.lab { "What new jobs start from, as in a job file" } textarea name="text" rows="20" spellcheck="false" { (text) } }
                    button.b.small { "Save the text" }
                }
            }
        }
    };
    Ok(page(shop_screen(&visit, "Settings", "/shop", "shop", &body)))
}

/// The settings of the form; what is not in it stays.
pub async fn save(
    State(app): State<Arc<App>>,
    Form(said): Form<BTreeMap<String, String>>,
) -> Answer {
    let mut text = kept_text(&app)?;
    let unit = said.get("job.unit").map(String::as_str).unwrap_or_default();
    // Usual materials are written in the shop's unit.
    if [USUAL, METRIC].iter().any(|usual| materials(usual) == materials(&text)) {
        let from = if unit == "in" { USUAL } else { METRIC };
        text = with_materials(&text, from);
    }
    let all = GROUPS.iter().flat_map(|group| group.1);
    let fields = all.map(|(path, words, sort)| (*path, *words, *sort));
    for (path, words, sort) in fields.chain([("job.unit", "You measure in", Sort::Text)]) {
        let Some(value) = said.get(path) else { continue };
        if sort == Sort::Number && !value.trim().is_empty() && value.trim().parse::<f64>().is_err()
        {
            return Err(Trouble::Input(format!("{words}: `{value}` is not a number; write 12.5")));
        }
        text = text::set(&text, path, sort, value).map_err(|e| Trouble::Input(e.0))?;
    }
    app.store.set_setting("shop", &text)?;
    Ok(Redirect::to("/shop?kept=1").into_response())
}

/// The materials of a text, without its marks.
fn materials(text: &str) -> Vec<String> {
    let all = Parsed::of(text);
    ["cloth", "foam", "board"]
        .iter()
        .flat_map(|list| (0..all.count(list)).filter_map(|i| all.lines(list, i)))
        .collect()
}

/// A text with the materials of another.
fn with_materials(text: &str, from: &str) -> String {
    let head = |text: &str| text.find("[[cloth]]").unwrap_or(text.len());
    let rest = |text: &str| text.get(head(text)..).unwrap_or_default().to_string();
    format!("{}{}", &text[..head(text)], rest(from))
}

#[derive(Deserialize)]
pub struct Text {
    text: String,
}

pub async fn save_text(State(app): State<Arc<App>>, Form(Text { text }): Form<Text>) -> Answer {
    let text = text.replace("\r\n", "\n");
    if let Err(error) = text.parse::<toml_edit::DocumentMut>() {
        return Err(Trouble::Input(format!("not kept: {}", error.message())));
    }
    app.store.set_setting("shop", &text)?;
    Ok(Redirect::to("/shop?kept=1").into_response())
}

pub async fn end(State(app): State<Arc<App>>, Path(mark): Path<String>) -> Answer {
    app.store.end_session(&mark)?;
    Ok(Redirect::to("/shop").into_response())
}
