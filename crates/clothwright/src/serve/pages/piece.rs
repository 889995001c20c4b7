//! Pieces on the job's sheet: drawn as they are typed, added by the picture of their kind.

use super::job::{choice, fault, field, flag, in_full, tools};
use crate::KINDS;
use crate::job_file;
use crate::serve::engine::Sheet;
use crate::serve::fields::{Field, Input, common, is_in_full, is_of_foam, of_kind, words};
use crate::serve::text::Parsed;
use maud::{Markup, PreEscaped, html};
use std::sync::OnceLock;

/// All pieces.
pub fn cards(id: i64, text: &Parsed, sheet: &Sheet) -> Markup {
    html! { @for i in 0..text.count("piece") { (card(id, text, sheet, i)) } }
}

/// The finished piece drawn, or a note while its measures leave nothing to draw.
pub fn figure(sheet: &Sheet, index: usize, oob: bool) -> Markup {
    let drawn = sheet.position(index).map(|i| {
        let job = &sheet.read.job;
        documents::screen::piece(job, &job.pieces[i])
    });
    html! {
        div.figure id=(format!("figure-{index}")) hx-swap-oob=[oob.then_some("true")] {
            @match drawn {
                Some(svg) if !svg.is_empty() => { (PreEscaped(svg)) }
                _ => { p.hint { "drawn as soon as its measures can be read" } }
            }
        }
    }
}

/// What is wrong with a piece.
pub fn faults(sheet: &Sheet, list: &str, index: usize, oob: bool) -> Markup {
    let found = sheet.faults_at(&format!("{list}.{index}"));
    html! {
        ul.faults id=(format!("faults-{list}-{index}")) hx-swap-oob=[oob.then_some("true")] aria-live="polite" {
            @for f in found { (fault(&sheet.read.job, f)) }
        }
    }
}

fn card(id: i64, text: &Parsed, sheet: &Sheet, i: usize) -> Markup {
    let at = |key: &str| format!("piece.{i}.{key}");
    let kind = text.get(&at("kind"));
    let said = |key: &str| text.get(&at(key));
    let mirrors = text.get(&at("mirror_of"));
    let is_measured = mirrors.is_empty();
    let names = |list: &str| -> Vec<String> {
        (0..).map(|k| text.get(&format!("{list}.{k}.name"))).take_while(|n| !n.is_empty()).collect()
    };
    let pick = |key: &str, label: &str, list: &str| {
        let names = names(list);
        let mut options: Vec<(&str, &str)> = vec![("", "—")];
        options.extend(names.iter().map(|n| (n.as_str(), n.as_str())));
        choice(id, text, &at(key), label, &options)
    };
    html! {
        article.piece id=(format!("piece-{i}")) {
            header {
                h3 { span.number { (i + 1) } " " (text.get(&at("name"))) }
                @if !is_measured { p.kind { "mirror image of " (mirrors) } } @else {
                p.kind { (kind) }
                a.phone href=(format!("/job/{id}/measure/{i}/0")) { "Measure one by one" } }
            }
            (figure(sheet, i, false))
            div.fields.measures {
                @let in_run = !text.get(&at("run.length")).is_empty();
                @for of in of_kind(&kind, said).into_iter().filter(|f| !(in_run && f.is_from_run)) {
                    (one(id, text, &at(of.key), &label(&of), of.input))
                }
            }
            @if !text.get(&at("run.length")).is_empty() { p.hint { "Its width comes from its run along the wall, in full below." } }
            @if is_of_foam(&kind) { p.hint { "It is as thick as its foam." } }
            @if is_in_full(&kind, said) { p.hint { "The rest of its measures are written in full below." } }
            (faults(sheet, "piece", i, false))
            div.fields {
                (field(id, text, &at("name"), "Name", "text", ""))
                (field(id, text, &at("count"), "How many", "number", "1"))
                (pick("cloth", "Cloth", "cloth"))
                @if is_measured { (pick("foam", "Foam", "foam")) (pick("board", "Board", "board")) }
            }
            details {
                summary { @if is_measured { "Left or right, pattern, direction, a seam allowed, what is kept, notes" } @else { "Room, notes" } }
                div.fields {
                    @if is_measured {
                        @for (key, input) in common(trade::kinds::named(&kind)) { (one(id, text, &at(key), &words(key), input)) }
                        (pick("under_cloth", "Cloth underneath", "cloth"))
                        (field(id, text, &at("match"), "In step with group", "text", ""))
                    }
                    (field(id, text, &at("place"), "Room", "text", ""))
                    (field(id, text, &at("found"), "Found", "text", ""))
                    (field(id, text, &at("note"), "Note for the bench", "text", ""))
                }
            }
            @if kind == "panel" { (cut_outs(id, text, i)) }
            (in_full(id, text, "piece", i))
            (tools(id, "piece", i, is_measured))
        }
    }
}

/// The cut-outs of a panel, and one more.
fn cut_outs(id: i64, text: &Parsed, piece: usize) -> Markup {
    let at = |k: usize, key: &str| format!("piece.{piece}.cut_out.{k}.{key}");
    let count = (0..50).take_while(|k| !text.get(&at(*k, "x")).is_empty()).count();
    let keys = [
        ("what", "What"),
        ("x", "Its middle, from the left"),
        ("y", "Its middle, from the bottom"),
        ("width", "Width"),
        ("height", "Height"),
    ];
    html! {
        details open[count > 0] { summary { "Cut-outs: vent, socket" @if count > 0 { " (" (count) ")" } }
            @for k in 0..count {
                div.fields { @for (key, words) in keys { (field(id, text, &at(k, key), words, "text", "")) } }
            }
            @if count > 0 { h4 { "Another" } }
            form.row hx-post=(format!("/job/{id}/cut-out")) hx-include="#base" hx-swap="none" {
                input type="hidden" name="piece" value=(piece);
                @for (key, words) in keys {
                    label { (words) input name=(key) required value=[(key == "what").then_some("the vent")]; }
                }
                button { "Add the cut-out" }
            }
        }
    }
}

/// A measure's label: its letter in the drawing, its name, how it is taken.
fn label(of: &Field) -> String {
    match of.letter {
        Some(letter) => format!("{letter} {} — {}", words(of.key), of.how),
        None => words(of.key),
    }
}

fn one(id: i64, text: &Parsed, path: &str, label: &str, input: Input) -> Markup {
    match input {
        Input::Choice { words, is_said } => {
            let unsaid: &[&str] = if is_said { &[""] } else { &[] };
            let options: Vec<(&str, &str)> = unsaid
                .iter()
                .chain(words)
                .enumerate()
                .map(|(i, o)| {
                    let unsaid = match path.rsplit('.').next() {
                        Some("pattern") => "not said",
                        Some("foam_edge") => "usual for its kind",
                        Some("centre" | "pleats") => "not said",
                        _ => "as the cloth",
                    };
                    (if i == 0 { "" } else { *o }, if o.is_empty() { unsaid } else { *o })
                })
                .collect();
            choice(id, text, path, label, &options)
        }
        Input::Flag(otherwise) => flag(id, text, path, label, otherwise),
        _ => field(id, text, path, label, input.name(), ""),
    }
}

/// A kind: its name, its picture.
type Picture = (String, String);

fn pictures() -> &'static [Picture] {
    static ALL: OnceLock<Vec<Picture>> = OnceLock::new();
    ALL.get_or_init(|| {
        let read = job_file::read(KINDS);
        let mut all: Vec<Picture> = Vec::new();
        for piece in &read.job.pieces {
            let name = piece.kind.name();
            if !all.iter().any(|k| k.0 == name) {
                all.push((name.into(), documents::screen::piece(&read.job, piece)));
            }
        }
        all
    })
}

/// Every kind by its picture, to add one.
pub fn kinds(id: i64) -> Markup {
    html! {
        h3 #add { "Add a piece" }
        div.kinds {
            @for (name, svg) in pictures() {
                button hx-post=(format!("/job/{id}/add")) hx-include="#base" hx-swap="none"
                    hx-vals=(format!("{{\"list\":\"piece\",\"kind\":\"{name}\"}}")) {
                    (PreEscaped(svg))
                    span { (name) }
                }
            }
        }
    }
}
