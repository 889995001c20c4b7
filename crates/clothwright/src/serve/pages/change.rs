//! Changes to a job: each is kept as a revision; two people at once lose nothing.

use super::{job, piece, plan};
use crate::serve::store::Saved;
use crate::serve::text::{self, Move, Refused, Sort};
use crate::serve::{Answer, App, Trouble, Visit, now, page};
use axum::extract::{Extension, Form, Path, State};
use axum::http::{HeaderMap, HeaderValue, StatusCode};
use axum::response::IntoResponse;
use maud::{Markup, html};
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

/// One value kept, from a screen that shows the next one afterwards.
pub fn keep_value(
    app: &App,
    id: i64,
    base: i64,
    who: &str,
    (path, sort, value): (&str, Sort, &str),
) -> Result<(), Trouble> {
    let note = format!("{path} = {value}");
    match keep(app, id, base, (who, &note), path, |text| text::set(text, path, sort, value))? {
        Done::Aside(number) => Err(Trouble::Input(format!(
            "someone else changed the same measure meanwhile; yours is kept aside as version {number}"
        ))),
        Done::Kept | Done::Same => Ok(()),
    }
}

fn told_aside(id: i64, number: i64) -> impl IntoResponse {
    let notice = html! {
        p #notice.warn role="alert" hx-swap-oob="true" {
            "Someone else changed the same thing meanwhile. Your change is kept aside: "
            a href=(format!("/job/{id}/versions")) { "version " (number) }
            ". " a href=(format!("/job/{id}")) { "Load the job again" } " to see theirs."
        }
    };
    (StatusCode::CONFLICT, page(notice))
}

#[derive(Deserialize)]
pub struct Set {
    base: i64,
    path: String,
    sort: String,
    value: String,
}

/// One value: the drawing, the faults and the totals come back at once.
pub async fn set(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Set>,
) -> Answer {
    if form.path.len() > 200 || form.value.len() > 10_000 {
        return Err(Trouble::Input("that is longer than any measure".into()));
    }
    let sort = Sort::named(&form.sort);
    let note = format!("{} = {}", form.path, form.value.chars().take(60).collect::<String>());
    let before = app.store.newest(id)?.ok_or(Trouble::Missing)?.text;
    let done = keep(&app, id, form.base, (&visit.from.to_string(), &note), &form.path, |text| {
        text::renamed(&text::set(text, &form.path, sort, &form.value)?, text, &form.path)
    })?;
    match done {
        Done::Aside(number) => return Ok(told_aside(id, number).into_response()),
        // A field left as it was says its value once more: nothing is to be drawn anew.
        Done::Same => return Ok(page(html! {})),
        Done::Kept => {}
    }
    ticks_follow(&app, id, &before, &form.path)?;
    let (newest, sheet) = app.sheet(id).await?;
    // Someone else has changed something besides: show it.
    if newest.number > form.base + 1 {
        return Ok(reload());
    }
    let index = form.path.strip_prefix("piece.").and_then(|p| p.split('.').next()?.parse().ok());
    // Another outline has other measures: the whole card is drawn anew.
    let other_fields =
        ["shape", "pleats", "kind"].iter().any(|k| form.path.ends_with(&format!(".{k}")));
    if other_fields {
        return Ok(reload());
    }
    let all = matches!(form.path.as_str(), "job.unit");
    let text = text::Parsed::of(&newest.text);
    let pieces: Vec<usize> = match index {
        Some(index) if !all => vec![index],
        _ => (0..text.count("piece")).collect(),
    };
    let mut place = form.path.split('.');
    let material = (place.next().unwrap_or_default(), place.next().and_then(|i| i.parse().ok()));
    let fragments: Markup = html! {
        @if let (list @ ("cloth" | "foam" | "board"), Some(i)) = material {
            (job::heading(&text, list, i, true))
            @if list == "cloth" { (job::one_way(id, &text, i, true)) }
        }
        (job::base(newest.number))
        (job::totals(&sheet, true))
        @for i in pieces { (piece::figure(&sheet, i, true)) }
        @for list in ["piece", "cloth", "foam", "board"] {
            @for i in 0..text.count(list) { (piece::faults(&sheet, list, i, true)) }
        }
        (plan::stale(&sheet))
    };
    Ok(page(fragments))
}

/// Where a piece has been renamed its steps at the bench stay done: its own and those of what is made of
/// it under its name and more words, such as the sections of a run.
fn ticks_follow(app: &App, id: i64, before: &str, path: &str) -> Result<(), Trouble> {
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

/// The sheet loaded again, or word that the change was kept aside.
fn shown_anew(id: i64, done: &Done) -> axum::response::Response {
    match done {
        Done::Aside(number) => told_aside(id, *number).into_response(),
        Done::Kept | Done::Same => reload(),
    }
}

fn reload() -> axum::response::Response {
    let mut headers = HeaderMap::new();
    headers.insert("HX-Refresh", HeaderValue::from_static("true"));
    (headers, page(html! {})).into_response()
}

#[derive(Deserialize)]
pub struct Add {
    base: i64,
    list: String,
    #[serde(default)]
    kind: String,
}

/// One more piece, cloth, foam or board.
pub async fn add(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Add>,
) -> Answer {
    if !["piece", "cloth", "foam", "board"].contains(&form.list.as_str()) {
        return Err(Trouble::Input(format!("there is no list `{}`", form.list)));
    }
    let fresh = |text: &str| {
        let taken = |name: &str| {
            (0..)
                .map(|k| text::get(text, &format!("{}.{k}.name", form.list)))
                .take_while(|n| !n.is_empty())
                .any(|n| n == name)
        };
        let stem = if form.list == "piece" { form.kind.clone() } else { form.list.clone() };
        let mut chars = stem.chars();
        let stem: String = chars
            .next()
            .map(|c| c.to_uppercase().collect::<String>() + chars.as_str())
            .unwrap_or_default();
        let name = (1..)
            .map(|i| if i == 1 { stem.clone() } else { format!("{stem} {i}") })
            .find(|n| !taken(n))
            .unwrap_or(stem);
        let mut lines = format!("name = {}\n", toml_edit::Value::from(name));
        let first = |list: &str| text::get(text, &format!("{list}.0.name"));
        if form.list == "piece" {
            lines.push_str(&format!("kind = {}\n", toml_edit::Value::from(form.kind.as_str())));
            let nature = trade::kinds::named(&form.kind).map(|of| of.nature);
            for list in ["cloth", "foam", "board"] {
                let name = first(list);
                let wanted = match list {
                    "foam" => nature.is_some_and(|nature| nature.takes_foam),
                    "board" => nature.is_some_and(|nature| nature.takes_board),
                    _ => true,
                };
                if wanted && !name.is_empty() {
                    lines.push_str(&format!("{list} = {}\n", toml_edit::Value::from(name)));
                }
            }
        } else if form.list != "cloth" {
            // Sheets usually come in one size: that of the goods beside it.
            let side = |key: &str| {
                toml_edit::Value::from(text::get(text, &format!("{}.0.sheet.0.{key}", form.list)))
            };
            let (length, width) = (side("length"), side("width"));
            lines.push_str(&format!(
                "sheet = [{{ length = {length}, width = {width}, price = 0 }}]\n"
            ));
        }
        text::add(text, &form.list, &lines)
    };
    let note = format!("added {} {}", form.list, form.kind);
    let place = format!("list {}", form.list);
    match keep(&app, id, form.base, (&visit.from.to_string(), &note), &place, fresh)? {
        Done::Aside(number) => Ok(told_aside(id, number).into_response()),
        _ => {
            // On to what was added.
            let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
            let last = text::Parsed::of(&newest.text).count(&form.list).saturating_sub(1);
            let to = format!("/job/{id}?v={}#{}-{last}", newest.number, form.list);
            let mut headers = HeaderMap::new();
            if let Ok(to) = HeaderValue::from_str(&to) {
                headers.insert("HX-Redirect", to);
            }
            Ok((headers, page(html! {})).into_response())
        }
    }
}

#[derive(Deserialize)]
pub struct List {
    base: i64,
    list: String,
    index: usize,
    what: String,
}

/// One of a list copied, moved or taken out.
pub async fn list(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<List>,
) -> Answer {
    let what = match form.what.as_str() {
        "copy" => Move::Copy,
        "mirror" if form.list == "piece" => Move::Mirror,
        "up" => Move::Up,
        "down" => Move::Down,
        "remove" => Move::Remove,
        other => return Err(Trouble::Input(format!("`{other}` cannot be done"))),
    };
    let note = format!("{} {} {}", form.what, form.list, form.index + 1);
    let place = format!("list {}", form.list);
    let done = keep(&app, id, form.base, (&visit.from.to_string(), &note), &place, |text| {
        text::change(text, &form.list, form.index, what)
    })?;
    Ok(shown_anew(id, &done))
}

#[derive(Deserialize)]
pub struct Hand {
    base: i64,
    cloth: usize,
    /// Which length on hand a flaw is on; a new length if it is not said.
    #[serde(default)]
    on: Option<usize>,
    #[serde(default)]
    id: String,
    #[serde(default)]
    length: String,
    #[serde(default)]
    width: String,
    #[serde(default)]
    x: String,
    #[serde(default)]
    y: String,
}

/// A length of cloth on hand, or a flaw on one.
pub async fn hand(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Hand>,
) -> Answer {
    let done = keep(&app, id, form.base, (&visit.from.to_string(), "cloth on hand"), "", |text| {
        let list = format!("cloth.{}.on_hand", form.cloth);
        match form.on {
            None => text::push(
                text,
                &list,
                &[("id", &form.id), ("length", &form.length), ("width", &form.width)],
            ),
            Some(on) => text::push(
                text,
                &format!("{list}.{on}.flaw"),
                &[("x", &form.x), ("y", &form.y), ("width", &form.width), ("length", &form.length)],
            ),
        }
    })?;
    Ok(shown_anew(id, &done))
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
    Ok(shown_anew(id, &done))
}

#[derive(Deserialize)]
pub struct CutOut {
    base: i64,
    piece: usize,
    what: String,
    x: String,
    y: String,
    width: String,
    height: String,
}

/// A cut-out in a panel: a vent, a socket.
pub async fn cut_out(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<CutOut>,
) -> Answer {
    let pairs = [
        ("what", form.what.as_str()),
        ("x", &form.x),
        ("y", &form.y),
        ("width", &form.width),
        ("height", &form.height),
    ];
    let list = format!("piece.{}.cut_out", form.piece);
    let note = format!("cut-out in piece {}", form.piece + 1);
    let done = keep(&app, id, form.base, (&visit.from.to_string(), &note), "", |text| {
        text::push(text, &list, &pairs)
    })?;
    Ok(shown_anew(id, &done))
}

#[derive(Deserialize)]
pub struct Full {
    base: i64,
    list: String,
    index: usize,
    lines: String,
}

/// One of a list replaced by its lines as written.
pub async fn full(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Full>,
) -> Answer {
    let lines = form.lines.replace("\r\n", "\n");
    let note = format!("{} {} written in full", form.list, form.index + 1);
    let done = keep(&app, id, form.base, (&visit.from.to_string(), &note), "", |text| {
        text::replace(text, &form.list, form.index, &lines)
    })?;
    Ok(shown_anew(id, &done))
}
