//! A cloth laid by hand: parts moved and pinned where they are to stay, flaws marked where they are.

use super::change::{self, Done};
use super::{frame, head, with_token};
use crate::serve::text::{self, Parsed};
use crate::serve::{Answer, App, Trouble, Visit, page};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use documents::screen::Handles;
use geometry::{Length, Spot};
use lay::{Placement, Stock, Strip};
use maud::{Markup, PreEscaped, html};
use serde::Deserialize;
use std::sync::Arc;
use trade::lays::{ClothLay, pins};
use trade::plan::Plan;

/// No cloth is so long, in millimetres.
const FARTHEST: f64 = 1e6;

/// A flaw that is tapped and not measured: so much across and along.
const FLAW: Length = Length::from_nm(50_000_000);

/// The screen of one cloth.
pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, which)): Path<(i64, usize)>,
) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let lay = plan.lays.cloths.get(which).ok_or(Trouble::Missing)?;
    let cloth = &plan.job.cloths[lay.cloth];
    let over = sheet.standing.borrow().over;
    let hidden = html! {
        input type="hidden" name="base" value=(newest.number);
        input type="hidden" name="cloth" value=(which);
    };
    let body = html! {
        (head(&format!("Move and pin parts: {}", cloth.name), Some((&format!("/job/{id}/plan"), "the plan")), &html! {}))
        main #main data-by-hand=(id) data-over=(over) {
            p { b { "Buy " (lay.purchase.show(cloth.unit)) ". " }
                @if lay.answer.proven && lay.starts.is_none() { "Cannot be bought shorter. " }
                span #search.hint { (super::plan::search_words(&sheet.standing.borrow())) }
            }
            p.hint { "Drag a part to where it is to stay; the others are laid round it. A tap pins it where it is. Without a mouse: choose it with Tab, move it with the arrow keys, pin it with Enter." }
            form #put method="post" action=(with_token(&visit, &format!("/job/{id}/pin"))) hidden {
                (hidden)
                @for name in ["part", "turn", "x", "y", "to_x", "to_y"] { input type="hidden" name=(name); }
            }
            form #flaw method="post" action=(with_token(&visit, &format!("/job/{id}/flaw"))) hidden {
                (hidden)
                @for name in ["strip", "at_x", "at_y"] { input type="hidden" name=(name); }
            }
            p.row { button.b.small #move type="button" aria-pressed="false" { "Move parts" } button.b.small #mark-flaw type="button" aria-pressed="false" { "Mark a flaw: then tap the cloth" } }
            @for (s, (svg, size, handles)) in documents::screen::lay_to_hold(&plan, lay).into_iter().enumerate() {
                (picture(&plan, lay, s, &svg, size, &handles))
            }
            (pinned(id, &visit, &hidden, &plan, lay))
            (flaws(id, &visit, &hidden, &plan, lay))
            @for fault in &plan.lays.warnings { @if fault.code == "pin-not-kept" { @let voice = words::of(&plan.job); p.watch { (voice.say(&fault.what)) "; " (voice.say(&fault.remedy)) } } }
        }
    };
    Ok(page(frame(&visit, "By hand — Clothwright", "by-hand", &body)))
}

/// A place in words: from the left selvedge and from the cut end.
fn place(plan: &Plan, at: Spot) -> String {
    let show = |nm: i64| plan.job.style.chalk(Length::from_nm(nm));
    format!("{} from the left selvedge, {} from the cut end", show(at.x), show(at.y))
}

fn corner(lay: &ClothLay, p: &Placement) -> Spot {
    lay.instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at).low
}

/// A strip's drawing, and over it what can be taken hold of.
fn picture(
    plan: &Plan,
    lay: &ClothLay,
    number: usize,
    svg: &str,
    (width, height): (f64, f64),
    handles: &Handles,
) -> Markup {
    let strip: &Strip = &lay.answer.lay.strips[number];
    let first = strip.stock == Stock::New(0);
    let mm = |nm: i64| nm as f64 / 1e6;
    html! {
        @if let Stock::OnHand(i) = strip.stock { h2 { (lay.instance.on_hand[i].name) ", on hand" } }
        div.wide {
            div.held {
                (PreEscaped(svg))
                svg.handles viewBox=(format!("0 0 {width} {height}")) data-strip=(number) data-scale=(handles.scale)
                    data-x=(handles.origin.x) data-y=(handles.origin.y) data-down=(handles.face_down) role="group" aria-label="parts to move" {
                    @if first { @for (p, (low, high)) in strip.placements.iter().zip(&handles.boxes) {
                        @let at = corner(lay, p);
                        @let tag = &lay.parts[p.item].part.id;
                        @let kept = lay.instance.pinned(strip.stock, p);
                        rect.kept[kept] x=(low.x) y=(low.y) width=(high.x - low.x) height=(high.y - low.y)
                            data-part=(tag) data-turn=(p.turn) data-mm-x=(mm(at.x)) data-mm-y=(mm(at.y)) tabindex="0" role="button"
                            aria-label=(format!("{tag} {}, {}{}", words::of(&plan.job).say(&lay.parts[p.item].part.name), place(plan, at), if kept { ", pinned" } else { "" })) {}
                        @if kept { circle.pin cx=(low.x + 2.2) cy=(low.y + 2.2) r="1.3" {} }
                    } }
                }
            }
        }
    }
}

fn pinned(id: i64, visit: &Visit, hidden: &Markup, plan: &Plan, lay: &ClothLay) -> Markup {
    let cloth = &plan.job.cloths[lay.cloth];
    let held = pins::held(cloth, lay);
    html! {
        h2 { "Pinned" }
        @if cloth.pins.is_empty() { p.hint { "Nothing yet." } }
        ul { @for (i, pin) in cloth.pins.iter().enumerate() { li.row {
            @let now = held.iter().position(|h| *h == i).and_then(|k| lay.instance.pins.get(k));
            span { b { (pin.part) } " " @match now {
                Some(p) => { (place(plan, corner(lay, p))) }
                None => { "does not hold at " (place(plan, pin.corner)) }
            } }
            form.inline method="post" action=(with_token(visit, &format!("/job/{id}/let-go"))) {
                (hidden) input type="hidden" name="pin" value=(i);
                button.b.small { "Unpin" }
            }
        } } }
        form.row method="post" action=(with_token(visit, &format!("/job/{id}/pin"))) {
            (hidden)
            label { "Pin" select name="part" { @for laid in &lay.parts { option value=(laid.part.id) { (laid.part.id) " " (words::of(&plan.job).say(&laid.part.name)) } } } }
            label { "from the left selvedge" input name="to_x" required; }
            label { "from the cut end" input name="to_y" required; }
            button.b.small { "Pin it there" }
        }
    }
}

fn flaws(id: i64, visit: &Visit, hidden: &Markup, plan: &Plan, lay: &ClothLay) -> Markup {
    let cloth = &plan.job.cloths[lay.cloth];
    let lists = std::iter::once((String::new(), None, &cloth.flaws)).chain(
        cloth
            .on_hand
            .iter()
            .enumerate()
            .map(|(i, hand)| (format!("{}: ", hand.id), Some(i), &hand.flaws)),
    );
    let show = |l: Length| plan.job.style.show(l);
    html! {
        h2 { "Flaws" }
        @if lists.clone().all(|l| l.2.is_empty()) { p.hint { "None marked. On the length to be bought, mark them once it is here: before cutting, look it over against the light." } }
        ul { @for (name, on, list) in lists { @for (i, flaw) in list.iter().enumerate() { li.row {
            span { (name) (place(plan, flaw.low)) ", " (show(flaw.width())) " across, " (show(flaw.height())) " along" }
            form.inline method="post" action=(with_token(visit, &format!("/job/{id}/flaw"))) {
                (hidden) input type="hidden" name="out" value=(i);
                @if let Some(on) = on { input type="hidden" name="on" value=(on); }
                button.b.small { "Remove" }
            }
        } } } }
        form.row method="post" action=(with_token(visit, &format!("/job/{id}/flaw"))) {
            (hidden)
            label { "Flaw on the new length: from the left selvedge" input name="x" required; }
            label { "from the cut end" input name="y" required; }
            label { "across" input name="width" required; } label { "along" input name="length" required; }
            button.b.small { "Mark the flaw" }
        }
    }
}

/// Which cloth of the file a lay is of.
fn in_file(text: &str, plan: &Plan, lay: &ClothLay) -> Result<usize, Trouble> {
    let all = Parsed::of(text);
    let name = &plan.job.cloths[lay.cloth].name;
    (0..all.count("cloth"))
        .find(|i| all.get(&format!("cloth.{i}.name")).trim() == name)
        .ok_or(Trouble::Missing)
}

/// A length that a job file can hold to the nanometre.
fn exact(nm: i64) -> String {
    let text = format!("{}.{:06}", nm / 1_000_000, nm % 1_000_000);
    format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
}

#[derive(Deserialize)]
pub struct Put {
    base: i64,
    cloth: usize,
    part: String,
    /// Degrees, of a part that lies somewhere.
    #[serde(default)]
    turn: String,
    /// Where it lies, millimetres.
    #[serde(default)]
    x: String,
    #[serde(default)]
    y: String,
    /// Where it is to lie: millimetres if it was moved in the picture, a length if it was typed, as it
    /// lies if empty.
    #[serde(default)]
    to_x: String,
    #[serde(default)]
    to_y: String,
}

/// A part pinned where it was put.
pub async fn put(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Put>,
) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let lay = plan.lays.cloths.get(form.cloth).ok_or(Trouble::Missing)?;
    let item = lay.parts.iter().position(|laid| laid.part.id == form.part);
    let item = item.ok_or_else(|| Trouble::Input(format!("there is no part {}", form.part)))?;
    let near = |text: &str| {
        let mm = text.parse::<f64>().ok().filter(|mm| mm.abs() < FARTHEST)?;
        Some((mm * 1e6).round() as i64)
    };
    let was = near(&form.x).zip(near(&form.y)).map(|(x, y)| Spot::new(x, y));
    let turn = form.turn.parse::<f64>().unwrap_or(lay.instance.items[item].turns[0]);
    // The pin that is moved, if it is one.
    let cloth = &plan.job.cloths[lay.cloth];
    let held = pins::held(cloth, lay);
    let anew = was.and_then(|was| {
        let close = |a: i64, b: i64| (a - b).abs() < 100_000;
        lay.instance.pins.iter().position(|p| {
            let at = corner(lay, p);
            p.item == item && close(at.x, was.x) && close(at.y, was.y)
        })
    });
    let unit = plan.job.style.unit;
    let typed = |text: &str| match near(text).filter(|_| was.is_some()) {
        Some(nm) => Ok(nm),
        None => geometry::read_length(text, unit)
            .map(Length::nm)
            .map_err(|e| Trouble::Input(format!("`{text}`: {e}"))),
    };
    let to = match was {
        Some(was) if form.to_x.is_empty() => was,
        _ => Spot::new(typed(&form.to_x)?, typed(&form.to_y)?),
    };
    let at = pins::put(lay, (item, turn), to, anew)
        .map_err(|why| Trouble::Input(words::of(&plan.job).say(&why)))?;
    let file = in_file(&newest.text, &plan, lay)?;
    let list = format!("cloth.{file}.pin");
    let (x, y) = (exact(at.x), exact(at.y));
    let turn = turn.to_string();
    let pairs = [("part", form.part.as_str()), ("x", &x), ("y", &y), ("turn", &turn)];
    let note = format!("{} pinned on {}", form.part, cloth.name);
    kept(&app, &visit, id, form.base, &note, form.cloth, |text| {
        let less = match anew.and_then(|k| held.get(k)) {
            Some(pin) => text::pull(text, &list, *pin)?,
            None => text.to_string(),
        };
        text::push(&less, &list, &pairs)
    })
}

#[derive(Deserialize)]
pub struct LetGo {
    base: i64,
    cloth: usize,
    pin: usize,
}

/// A pin taken out.
pub async fn let_go(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<LetGo>,
) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let lay = plan.lays.cloths.get(form.cloth).ok_or(Trouble::Missing)?;
    let list = format!("cloth.{}.pin", in_file(&newest.text, &plan, lay)?);
    kept(&app, &visit, id, form.base, "a pin taken out", form.cloth, |text| {
        text::pull(text, &list, form.pin)
    })
}

#[derive(Deserialize)]
pub struct Flaw {
    base: i64,
    cloth: usize,
    /// The strip that was tapped, and where, in millimetres.
    #[serde(default)]
    strip: String,
    #[serde(default)]
    at_x: String,
    #[serde(default)]
    at_y: String,
    /// Or its measures.
    #[serde(default)]
    x: String,
    #[serde(default)]
    y: String,
    #[serde(default)]
    width: String,
    #[serde(default)]
    length: String,
    /// Or which is to be taken out, and of which length on hand.
    #[serde(default)]
    out: Option<usize>,
    #[serde(default)]
    on: Option<usize>,
}

/// A flaw marked, or taken out.
pub async fn flaw(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Flaw>,
) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let lay = plan.lays.cloths.get(form.cloth).ok_or(Trouble::Missing)?;
    let file = in_file(&newest.text, &plan, lay)?;
    let list = |on: Option<usize>| match on {
        Some(on) => format!("cloth.{file}.on_hand.{on}.flaw"),
        None => format!("cloth.{file}.flaw"),
    };
    if let Some(out) = form.out {
        return kept(&app, &visit, id, form.base, "a flaw taken out", form.cloth, |text| {
            text::pull(text, &list(form.on), out)
        });
    }
    let strip = form.strip.parse::<usize>().ok().and_then(|s| lay.answer.lay.strips.get(s));
    let (on, pairs) = match strip {
        None => (form.on, [form.x, form.y, form.width, form.length]),
        Some(strip) => {
            let on = match strip.stock {
                Stock::OnHand(i) => Some(i),
                Stock::New(0) => None,
                Stock::New(_) => {
                    let what =
                        "flaws can be marked on the first length bought and on lengths on hand";
                    return Err(Trouble::Input(what.into()));
                }
            };
            let style = &plan.job.style;
            let place = |mm: &str| {
                let mm = mm.parse::<f64>().ok().filter(|mm| mm.abs() < FARTHEST);
                let mm =
                    mm.ok_or_else(|| Trouble::Input("that is no place on the cloth".into()))?;
                let low = (Length::from_mm(mm) - FLAW.share(2)).max(Length::ZERO);
                Ok::<_, Trouble>(style.number(low.round_down(style.mark)))
            };
            let size = style.number(FLAW.round_down(style.mark) + style.mark);
            (on, [place(&form.at_x)?, place(&form.at_y)?, size.clone(), size])
        }
    };
    let [x, y, width, length] = &pairs;
    let pairs = [("x", x.as_str()), ("y", y), ("width", width), ("length", length)];
    kept(&app, &visit, id, form.base, "a flaw marked", form.cloth, |text| {
        text::push(text, &list(on), &pairs)
    })
}

/// Keeps a change and goes back to the cloth.
fn kept(
    app: &App,
    visit: &Visit,
    id: i64,
    base: i64,
    note: &str,
    cloth: usize,
    change: impl Fn(&str) -> Result<String, text::Refused>,
) -> Answer {
    let who = visit.from.to_string();
    match change::keep(app, id, base, (&who, note), "list cloth", change)? {
        Done::Kept | Done::Same => {
            Ok(Redirect::to(&format!("/job/{id}/by-hand/{cloth}")).into_response())
        }
        Done::Aside(number) => Err(Trouble::Input(format!(
            "someone else changed the cloths meanwhile; yours is kept aside as version {number}"
        ))),
    }
}
