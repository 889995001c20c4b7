//! A job as one continuous sheet: what and where, pieces, cloth and sheets, price, papers.

use super::list::STAGES;
use super::{frame, head, piece, plan, with_token};
use crate::serve::engine::Sheet;
use crate::serve::store::Titled;
use crate::serve::text::Parsed;
use crate::serve::{Answer, App, Trouble, Visit, now, page};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use documents::Paper;
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;

/// Papers that the page offers, each by its own link: what it is called, and what is in it.
const PAPERS: [(Paper, (&str, &str)); 9] = [
    (Paper::Quote, ("Quote", "for the customer")),
    (Paper::Workshop, ("Workshop", "front sheet, cutting plans, bench sheets, fitting, tags")),
    (Paper::Order, ("Orders", "a sheet for each supplier")),
    (Paper::Office, ("Office", "costs, hours, margin")),
    (Paper::Workings, ("Workings", "how every size came about")),
    (Paper::Care, ("Care", "goes with the finished work")),
    (Paper::ChangeNote, ("Change note", "what is found later, to be agreed")),
    (Paper::Delivery, ("Delivery note", "what is handed over")),
    (Paper::Receipt, ("Receipt", "what was collected")),
];

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    let (newest, sheet) = app.sheet(id).await?;
    let photos = app.store.photos(id)?;
    let text = &Parsed::of(&newest.text);
    let body = html! {
        (head(&entry.name, Some(("/", "jobs")), &html! {
            form.row method="post" action=(with_token(&visit, &format!("/job/{id}/stage"))) {
                label.inline { "done last"
                    select name="stage" { @for (stage, _) in STAGES {
                        option value=(stage) selected[stage == entry.stage] { (stage) }
                    } }
                }
                button { "Note it" }
            }
        }))
        nav.ways aria-label="parts of the sheet" {
            a href="#what" { "What and where" } a href="#materials" { "Cloth, foam, board" } a href="#pieces" { "Pieces" } a href="#plan" { "Lay and price" }
            a href="#papers" { "Papers" } a href=(format!("/job/{id}/bench")) { "At the bench" }
            a href=(format!("/job/{id}/versions")) { "Versions" }
        }
        main #main data-job=(id) {
            (base(newest.number))
            section #what {
                h2 { "What and where" }
                (what(id, text))
                (photo_strip(&visit, id, &photos))
            }
            section #materials {
                h2 { "Cloth, foam, board" }
                (materials(id, text, &sheet))
            }
            section #rates {
                h2 { "Rates, tax, the shop" }
                (rates(id, text))
            }
            section #pieces {
                h2 { "Pieces" }
                (piece::cards(id, text, &sheet))
                (piece::kinds(id))
            }
            (plan::section(id, &sheet))
            section #papers {
                h2 { "Papers" }
                ul.papers {
                    @for (paper, what) in PAPERS {
                        li { a href=(format!("/job/{id}/papers/{}.pdf", paper.name())) { (what.0) } " — " (what.1) }
                    }
                    li { a href=(format!("/job/{id}/papers/templates.pdf")) { "Full-size templates" } }
                    li { a href=(format!("/job/{id}/papers/comparison.pdf")) { "Widths and cloths compared" } }
                    li { a href=(format!("/job/{id}/papers/job.toml")) { "The job file" } " — to keep, to send, to plan on the command line" }
                }
            }
        }
        (totals(&sheet, false))
    };
    Ok(page(frame(&visit, &format!("{} — Clothwright", entry.name), "job", &body)))
}

/// The revision a change is made on.
pub fn base(number: i64) -> Markup {
    html! { input #base type="hidden" name="base" value=(number) hx-swap-oob="true"; }
}

/// One field of the job's text.
pub fn field(id: i64, text: &Parsed, path: &str, words: &str, sort: &str, hint: &str) -> Markup {
    let vals = format!("{{\"path\":\"{path}\",\"sort\":\"{sort}\"}}");
    html! {
        label { (words)
            input name="value" value=(text.get(path)) data-path=(path) placeholder=(hint) autocomplete="off"
                type=(if path.ends_with(".date") || path.ends_with(".due") { "date" } else { "text" })
                inputmode=[(sort == "number").then_some("decimal")]
                hx-post=(format!("/job/{id}/set")) hx-vals=(vals) hx-include="#base" hx-swap="none"
                hx-trigger="input changed delay:200ms, change" hx-sync="this:replace";
        }
    }
}

/// A field with some words to choose from.
pub fn choice(id: i64, text: &Parsed, path: &str, words: &str, options: &[(&str, &str)]) -> Markup {
    let vals = format!("{{\"path\":\"{path}\",\"sort\":\"text\"}}");
    let now = text.get(path);
    html! {
        label { (words)
            select name="value" data-path=(path) hx-post=(format!("/job/{id}/set")) hx-vals=(vals) hx-include="#base"
                hx-swap="none" hx-trigger="change" {
                @for (value, shown) in options { option value=(value) selected[*value == now] { (shown) } }
                @if !options.iter().any(|o| o.0 == now) && !now.is_empty() { option value=(now) selected { (now) } }
            }
        }
    }
}

fn what(id: i64, text: &Parsed) -> Markup {
    html! {
        div.fields {
            (field(id, text, "job.name", "Name of the job", "text", ""))
            (field(id, text, "job.number", "Number", "text", ""))
            (field(id, text, "customer.name", "Customer", "text", ""))
            (field(id, text, "customer.contact", "Telephone or letter", "text", ""))
            (field(id, text, "customer.address", "Address", "text", ""))
            (choice(id, text, "job.place", "Kind of place", &[("", "—"), ("home", "home"), ("restaurant", "restaurant"),
                ("hotel", "hotel"), ("office", "office"), ("boat", "boat"), ("vehicle", "vehicle"), ("school", "school")]))
            (field(id, text, "job.date", "Date", "text", "2026-11-25"))
            (field(id, text, "job.due", "Wanted by", "text", "2026-12-20"))
            (choice(id, text, "job.unit", "Unit of bare numbers", &[("in", "inches"), ("mm", "millimetres"), ("cm", "centimetres")]))
        }
    }
}

/// The rate of tax, and the classes of goods and work that have their own.
fn tax_in_short(text: &Parsed) -> String {
    let own = ["goods", "fabrication", "application", "repair", "fitting", "travel"]
        .iter()
        .map(|class| (class, text.get(&format!("tax.{class}"))))
        .filter(|(_, rate)| !rate.is_empty())
        .map(|(class, rate)| format!("{class} {rate} %"));
    let rate = text.get("tax.rate");
    let general = if rate.is_empty() { "none".into() } else { format!("{rate} %") };
    std::iter::once(general).chain(own).collect::<Vec<_>>().join(", ")
}

/// What the price is made of besides materials.
fn rates(id: i64, text: &Parsed) -> Markup {
    html! {
        details {
            summary { "An hour " b { (text.get("rates.hour")) } ", tax " b { (tax_in_short(text)) } ", deposit, markups, the shop's name" }
            div.fields {
                (field(id, text, "rates.hour", "An hour at the bench", "number", "60"))
                (field(id, text, "rates.cloth_markup", "Markup on cloth, % of its cost", "number", "40"))
                (field(id, text, "rates.foam_markup", "Markup on foam, %", "number", "40"))
                (field(id, text, "rates.board_markup", "Markup on board, %", "number", "40"))
                (field(id, text, "rates.sundries_percent", "Sundries, % of materials", "number", "5"))
                (field(id, text, "rates.overhead_percent", "Overhead, % of labour", "number", ""))
                (field(id, text, "rates.minimum", "No job for less", "number", ""))
                (field(id, text, "tax.name", "Name of the tax", "text", "VAT"))
                (field(id, text, "tax.rate", "Tax, %", "number", ""))
                (field(id, text, "deposit.percent", "Deposit, %", "number", "50"))
                (field(id, text, "job.currency", "Currency", "text", "USD"))
                (field(id, text, "shop.name", "Name of the shop", "text", ""))
                (field(id, text, "shop.address", "Address of the shop", "text", ""))
                (field(id, text, "shop.terms", "Terms at the foot of the quote", "text", ""))
            }
        }
    }
}

/// Whether a cloth has a right way up. A print has, until it is said not to.
pub fn one_way(id: i64, text: &Parsed, cloth: usize, oob: bool) -> Markup {
    let has = |key: &str| !text.get(&format!("cloth.{cloth}.repeat.{key}")).is_empty();
    let path = format!("cloth.{cloth}.one_way");
    html! {
        div id=(format!("one-way-{cloth}")) hx-swap-oob=[oob.then_some("true")] {
            (flag(id, text, &path, "One way: pile or print", has("length") || has("width")))
        }
    }
}

/// What a folded material says of itself.
pub fn heading(text: &Parsed, list: &str, i: usize, oob: bool) -> Markup {
    let get = |key: &str| text.get(&format!("{list}.{i}.{key}"));
    html! {
        span id=(format!("heading-{list}-{i}")) hx-swap-oob=[oob.then_some("true")] {
            b { (get("name")) } " — " (list) ", "
            @if list == "cloth" { (get("width")) " wide, " (get("price")) }
            @else { (get("thickness")) " thick, " (get("sheet.0.price")) " a sheet" }
        }
    }
}

fn materials(id: i64, text: &Parsed, found: &Sheet) -> Markup {
    let count = |list: &str| text.count(list);
    let entry = |list: &str, i: usize, fields: &[(&str, &str, &str, &str)]| {
        html! {
            details.material id=(format!("{list}-{i}")) open[!found.faults_at(&format!("{list}.{i}")).is_empty()] {
                summary { (heading(text, list, i, false)) }
                div.fields {
                    @for (key, words, sort, hint) in fields {
                        (field(id, text, &format!("{list}.{i}.{key}"), words, sort, hint))
                    }
                    @if list == "cloth" {
                        (choice(id, text, &format!("{list}.{i}.direction"), "Laid",
                            &[("", "up the roll"), ("railroaded", "railroaded"), ("either", "either, compare")]))
                        (choice(id, text, &format!("{list}.{i}.per"), "Price is for one", &[("", "yard, or metre in metric jobs"), ("yd", "yard"), ("m", "metre")]))
                        (choice(id, text, &format!("{list}.{i}.repeat.drop"), "Motifs of the next column", &[("", "beside: straight"), ("half", "half a repeat higher: half-drop")]))
                        (one_way(id, text, i, false))
                    }
                }
                (piece::faults(found, list, i, false))
                @if list == "cloth" { (on_hand(id, text, i)) }
                (tools(id, list, i, false))
                (in_full(id, text, list, i))
            }
        }
    };
    let cloth = [
        ("name", "Name", "text", ""),
        ("supplier", "Supplier", "text", ""),
        ("width", "Width, selvedge to selvedge", "text", "54"),
        ("selvedge", "Lost at each edge", "text", "1/2"),
        ("price", "Price", "number", ""),
        ("repeat.length", "Repeat along the roll", "text", ""),
        ("repeat.width", "Repeat across", "text", ""),
        (
            "repeat.first",
            "First motif: from the left selvedge, from the cut end",
            "list",
            "6 3/4, 4",
        ),
        ("repeat.first_across", "Only known across: from the left selvedge", "text", ""),
        ("repeat.first_along", "Only known along: from the cut end", "text", ""),
    ];
    let sheet = [
        ("name", "Name", "text", ""),
        ("supplier", "Supplier", "text", ""),
        ("thickness", "Thickness, measured", "text", ""),
        ("sheet.0.length", "Sheet, long side", "text", ""),
        ("sheet.0.width", "Sheet, short side", "text", ""),
        ("sheet.0.price", "Price of a sheet", "number", ""),
    ];
    html! {
        @for i in 0..count("cloth") { (entry("cloth", i, &cloth)) }
        @for i in 0..count("foam") { (entry("foam", i, &sheet)) }
        @for i in 0..count("board") { (entry("board", i, &sheet)) }
        p.row {
            @for list in ["cloth", "foam", "board"] {
                button hx-post=(format!("/job/{id}/add")) hx-vals=(format!("{{\"list\":\"{list}\"}}")) hx-include="#base" hx-swap="none" { "Add " (list) }
            }
        }
    }
}

/// Lengths in the rack, and what must not be used of them.
fn on_hand(id: i64, text: &Parsed, cloth: usize) -> Markup {
    let at = |on: usize, key: &str| text.get(&format!("cloth.{cloth}.on_hand.{on}.{key}"));
    let lengths = (0..50).take_while(|on| !at(*on, "length").is_empty()).count();
    let form = |more: &Markup, words: &str| {
        html! {
            form.row hx-post=(format!("/job/{id}/hand")) hx-include="#base" hx-swap="none" {
                input type="hidden" name="cloth" value=(cloth);
                (more)
                button { (words) }
            }
        }
    };
    html! {
        details { summary { "On hand: lengths in the rack and their flaws" @if lengths > 0 { " (" (lengths) ")" } }
            @for on in 0..lengths {
                p { b { (at(on, "id")) } " " (at(on, "length")) " long"
                    @for f in (0..50).take_while(|f| !at(on, &format!("flaw.{f}.x")).is_empty()) {
                        ", flaw " (at(on, &format!("flaw.{f}.x"))) " from the left selvedge, " (at(on, &format!("flaw.{f}.y"))) " from the cut end"
                    }
                }
                (form(&html! {
                    input type="hidden" name="on" value=(on);
                    label { "Flaw: from left selvedge" input name="x" required; } label { "from cut end" input name="y" required; }
                    label { "across" input name="width" required; } label { "along" input name="length" required; }
                }, "Mark the flaw"))
            }
            (form(&html! {
                label { "Mark on it" input name="id" required; } label { "Length" input name="length" required; }
                label { "Width, if another" input name="width"; }
            }, "Put a length on hand"))
        }
    }
}

/// Yes or no.
pub fn flag(id: i64, text: &Parsed, path: &str, words: &str, otherwise: bool) -> Markup {
    let now = text.get(path);
    let on = if now.is_empty() { otherwise } else { now == "true" };
    // What is usual need not stand in the text.
    let options =
        if otherwise { [("", "yes"), ("false", "no")] } else { [("", "no"), ("true", "yes")] };
    let vals = format!("{{\"path\":\"{path}\",\"sort\":\"flag\"}}");
    html! {
        label { (words)
            select name="value" data-path=(path) hx-post=(format!("/job/{id}/set")) hx-vals=(vals) hx-include="#base"
                hx-swap="none" hx-trigger="change" {
                @for (value, shown) in options { option value=(value) selected[(shown == "yes") == on] { (shown) } }
            }
        }
    }
}

/// Copy, mirror image, earlier, later, out.
pub fn tools(id: i64, list: &str, index: usize, can_mirror: bool) -> Markup {
    html! {
        div.tools {
            @for (what, words) in [("copy", "Copy"), ("mirror", "Its mirror image"), ("up", "Earlier"), ("down", "Later"), ("remove", "Take out")].into_iter().filter(|(what, _)| *what != "mirror" || can_mirror) {
                button.quiet hx-post=(format!("/job/{id}/list")) hx-include="#base" hx-swap="none"
                    hx-confirm=[(what == "remove").then_some("Take it out? It stays in the older versions.")]
                    hx-vals=(format!("{{\"list\":\"{list}\",\"index\":\"{index}\",\"what\":\"{what}\"}}")) { (words) }
            }
        }
    }
}

/// Everything about one of a list, as it stands in the job file.
pub fn in_full(id: i64, text: &Parsed, list: &str, index: usize) -> Markup {
    let lines = text.lines(list, index).unwrap_or_default();
    html! {
        details.full {
            summary { "In full, as in the job file" }
            form hx-post=(format!("/job/{id}/full")) hx-include="#base" hx-swap="none" {
                input type="hidden" name="list" value=(list);
                input type="hidden" name="index" value=(index);
                label { "Its lines" textarea name="lines" rows=(lines.lines().count().clamp(4, 24)) spellcheck="false" { (lines) } }
                button { "Keep these lines" }
            }
        }
    }
}

/// What is always in sight: cloth to buy, hours, price, faults.
pub fn totals(sheet: &Sheet, oob: bool) -> Markup {
    let plan = sheet.plan();
    let faults = sheet.faults.len();
    // What cannot be read is not in the sums: they are no price yet.
    let class = if faults > 0 { "open" } else { "" };
    let first = sheet.faults.first().map_or("plan", |(at, _)| at.as_str());
    let place = match first.strip_prefix("piece.").and_then(|rest| rest.split('.').next()) {
        Some(piece) => format!("#piece-{piece}"),
        None if ["cloth.", "foam.", "board."].iter().any(|l| first.starts_with(l)) => {
            let place: Vec<&str> = first.split('.').take(2).collect();
            format!("#{}", place.join("-"))
        }
        None => "#others".into(),
    };
    html! {
        footer #totals class=(class) hx-swap-oob=[oob.then_some("true")] aria-label="totals" {
            @if faults > 0 { a.faults href=(place) { (faults) " to put right; the sums leave it out" } }
            @match &plan {
                Some(plan) => {
                    span.total.price { span.of { @if plan.price.taxes.is_empty() { "price" } @else { "with tax" } } b { @match plan.price.whole() { Some(total) => { (plan.job.currency) " " (trade::money::show(total)) } None => { (words::of(&plan.job).word(trade::price::NO_RATE)) } } } }
                    @for lay in &plan.lays.cloths {
                        @let cloth = &plan.job.cloths[lay.cloth];
                        span.total { span.of { (cloth.name) } b { (lay.purchase.show(cloth.unit)) } }
                    }
                    span.total { span.of { "hours" } b { (plan.price.hours.round_dp(1)) } }
                }
                None => { span.total { span.of { "no plan yet" } } }
            }
        }
    }
}

fn photo_strip(visit: &Visit, id: i64, photos: &[(i64, String, String)]) -> Markup {
    html! {
        div.photos {
            @for (photo, words, at) in photos {
                figure { a href=(format!("/photo/{photo}")) { img src=(format!("/photo/{photo}")) alt=(if words.is_empty() { "photograph" } else { words }) loading="lazy"; }
                    figcaption { (words) " " span.when { (at.get(..16).unwrap_or(at)) } } }
            }
            form.row method="post" enctype="multipart/form-data" action=(with_token(visit, &format!("/job/{id}/photo"))) {
                label { "Photograph" input type="file" name="photo" accept="image/*" capture="environment" required; }
                label { "What it shows" input name="words" maxlength="200"; }
                button { "Keep it" }
            }
        }
    }
}

#[derive(Deserialize)]
pub struct Stage {
    stage: String,
}

pub async fn stage(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    Form(Stage { stage }): Form<Stage>,
) -> Answer {
    if !STAGES.iter().any(|s| s.0 == stage) {
        return Err(Trouble::Input(format!("`{stage}` is none of the shop's verbs")));
    }
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    app.store.set_stage(id, &stage, &now())?;
    Ok(Redirect::to(&format!("/job/{id}")).into_response())
}

/// A fault in words a person can act on.
pub fn fault(job: &trade::job::Job, fault: &trade::fault::Fault) -> Markup {
    let key = fault.at.rsplit('.').next().unwrap_or_default();
    if fault.code == "missing" {
        return html! { li { (crate::serve::fields::words(key)) " is still to be filled in" } };
    }
    let voice = words::of(job);
    html! { li { (plain(&voice.say(&fault.what))) "; " (plain(&voice.say(&fault.remedy))) } }
}

/// Words of the file as the fields here call them.
pub fn plain(text: &str) -> String {
    [
            ("set seam_allowed = true", "say “seam allowed: yes”"),
            ("railroad it (direction = \"railroaded\")", "say “direction: railroaded”"),
            ("seam_allowed = true", "“seam allowed: yes”"),
            ("direction = \"railroaded\"", "“direction: railroaded”"),
            (
                "say pattern = \"centred\", put pieces in step with match = \"a name\", or say pattern = \"free\"",
                "choose “pattern: centred” or “free” at the pieces, or put them in step with a group",
            ),
            ("[[piece]]", "piece"),
            ("[[cloth]]", "cloth"),
            ("`", ""),
        ]
        .iter()
        .fold(text.to_string(), |text, (from, to)| text.replace(from, to))
}

/// A job's text with what lists show of it.
pub fn titled(text: &str) -> Titled<'_> {
    let all = Parsed::of(text);
    let name = all.get("job.name");
    let name = if name.trim().is_empty() { "unnamed job".into() } else { name };
    Titled { text, name, customer: all.get("customer.name").trim().to_string() }
}
