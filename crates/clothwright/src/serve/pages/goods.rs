//! Cloth of a job in and out: from the shelf, as delivered, what is left over.

use super::stock::{measure, size};
use super::{job_screen, with_token};
use crate::serve::pages::job::titled;
use crate::serve::shelf::{Arrival, Shelf};
use crate::serve::text::{self, Parsed, Sort};
use crate::serve::{Answer, App, Trouble, Visit, now, page, values};
use axum::extract::{Extension, Form, Path, State};
use axum::response::{IntoResponse, Redirect};
use geometry::{Length, Unit};
use maud::{Markup, html};
use serde::Deserialize;
use serde_json::{Value, json};
use std::sync::Arc;
use trade::lays::ClothLay;
use trade::plan::Plan;
use trade::remnants;

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan();
    let shelf = app.store.shelf()?;
    let is_cut = ["cut", "covered", "fitted", "paid"].contains(&entry.stage.as_str());
    let body = html! {
        div.narrow.stack.books {
            @match &plan {
                None => { section.sheet.pad { p { "Cloth is planned once the pieces are measured." } } }
                Some(plan) => { @for lay in &plan.lays.cloths { (one(&visit, (id, is_cut), plan, lay, &shelf)) } }
            }
        }
    };
    Ok(page(job_screen(&visit, Some(&entry), "goods", "goods-screen", &body)))
}

fn one(
    visit: &Visit,
    (id, is_cut): (i64, bool),
    plan: &Plan,
    lay: &ClothLay,
    shelf: &[Shelf],
) -> Markup {
    let cloth = &plan.job.cloths[lay.cloth];
    let unit = plan.job.style.unit;
    let to = |what: &str| with_token(visit, &format!("/job/{id}/goods/{}/{what}", lay.cloth));
    let here = shelf.iter().filter(|item| is_same(&item.name, &cloth.name));
    let (mine, others): (Vec<&Shelf>, Vec<&Shelf>) = here.partition(|i| i.promised == Some(id));
    let free: Vec<&Shelf> = others.into_iter().filter(|item| item.promised.is_none()).collect();
    let used =
        |item: &Shelf| {
            lay.asked.on_hand.iter().position(|h| h.name == item.label).is_some_and(|i| {
                lay.answer.lay.strips.iter().any(|s| s.stock == lay::Stock::OnHand(i))
            })
        };
    html! {
        section.sheet.pad.stack {
            h2 { (cloth.name) }
            p { "To buy: " b { (lay.purchase.show(cloth.unit)) } @if lay.purchase == Length::ZERO { ", all of it comes from what is here" } "." }
            @if !mine.is_empty() { h3 { "From the shelf, promised to this job" }
                ul.lines { @for item in &mine { li.wrap {
                    span.tk.plain { (item.label) } span.grow { (size(item, unit)) @if used(item) { ", is used" } @else { ", not needed by the plan" } }
                    form.inline method="post" action=(to(&format!("free/{}", item.id))) { button.b.small { "Give it free" } }
                    @if used(item) { form.inline method="post" action=(to(&format!("cut/{}", item.id))) { button.b.small { "It is cut" } } }
                } } } }
            @if !free.is_empty() { h3 { "On the shelf" }
                ul.lines { @for item in &free { li.wrap {
                    span.tk.plain { (item.label) } span.grow { (size(item, unit)) @if !item.lot.is_empty() { ", lot " (item.lot) } @if !item.note.is_empty() { ", " (item.note) } }
                    form.inline method="post" action=(to(&format!("take/{}", item.id))) { button.b.small { "Offer it to this job" } }
                } } }
                p.quiet.small { "The plan uses what is offered where that lowers the purchase. A length is promised to one job only." } }
            (delivered(lay, cloth, unit, &to))
            (left_over(lay, plan, is_cut, &to))
        }
    }
}

fn delivered(
    lay: &ClothLay,
    cloth: &trade::material::Cloth,
    unit: Unit,
    to: &impl Fn(&str) -> String,
) -> Markup {
    html! {
        @if lay.purchase > Length::ZERO {
            details.fold { summary { "The cloth has come: measure it" }
                form.stack method="post" action=(to("came")) {
                    div.fields {
                        label.f { span.lab { "Width, selvedge to selvedge" } span.in { input name="width" required autocomplete="off" placeholder=(cloth.width.show(unit)); } }
                        label.f { span.lab { "Length" } span.in { input name="length" required autocomplete="off" placeholder=(lay.purchase.show(unit)); } }
                        label.f { span.lab { "Lot" } span.in { input name="lot" maxlength="60" autocomplete="off"; } }
                        label.f { span.lab { "Note: flaws, shade" } span.in { input name="note" maxlength="300" autocomplete="off"; } }
                        @if cloth.pattern.is_some() {
                            label.f { span.lab { "First motif, from the left selvedge" } span.in { input name="across" autocomplete="off"; } }
                            label.f { span.lab { "First motif, from the cut end" } span.in { input name="along" autocomplete="off"; } }
                        }
                    }
                    button.b.strong { "Lay the job on it" }
                }
                p.quiet.small { "The job is laid again on the cloth that is here. Flaws are put on the plan by hand there (By hand)." }
            }
        }
    }
}

/// Rectangles worth keeping, each onto the shelf at a press.
fn left_over(lay: &ClothLay, plan: &Plan, is_cut: bool, to: &impl Fn(&str) -> String) -> Markup {
    let kept = remnants::kept(lay);
    let style = &plan.job.style;
    let unit = style.unit;
    html! {
        @if !kept.is_empty() {
            h3 { "Left over, worth keeping" }
            @if !is_cut { p.quiet.small { "Once the job is marked as cut (“How far the job is”, under Details) these can be put on the shelf." } }
            ul.lines { @for one in &kept { li.wrap {
                @let (wide, long) = (one.place.width().round_down(style.mark), one.place.height().round_down(style.mark));
                span.tk.plain { (one.id) } span.grow { (wide.show(unit)) " × " (long.show(unit)) }
                @if is_cut { form.inline method="post" action=(to("keep")) { input type="hidden" name="mark" value=(one.id); input type="hidden" name="width" value=(wide.show(unit)); input type="hidden" name="length" value=(long.show(unit)); button.b.small { "Put it on the shelf" } } }
            } } }
        }
    }
}

fn back(id: i64) -> axum::response::Response {
    Redirect::to(&format!("/job/{id}/goods")).into_response()
}

/// Keeps a changed text of a job, made on its newest.
pub fn change(
    app: &App,
    id: i64,
    note: &str,
    who: &str,
    with: impl Fn(&str) -> Result<String, Trouble>,
) -> Result<(), Trouble> {
    // Somebody else may save meanwhile: then once more on theirs.
    for _ in 0..3 {
        let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
        let text = with(&newest.text)?;
        let told = (who, note, now());
        let saved = app.store.save(id, newest.number, &titled(&text), (told.0, told.1, &told.2))?;
        if matches!(saved, crate::serve::store::Saved::Newest(_)) {
            return Ok(());
        }
    }
    Err(Trouble::Input("others are changing this job just now; try again".into()))
}

fn put(text: &str, path: &str, sort: Sort, value: &str) -> Result<String, Trouble> {
    text::set(text, path, sort, value).map_err(|e| Trouble::Input(e.0))
}

/// The cloth of an index among those that could be read, as its place in the text.
fn place_of(text: &str, name: &str) -> Result<usize, Trouble> {
    let all = Parsed::of(text);
    (0..all.count("cloth"))
        .find(|i| all.get(&format!("cloth.{i}.name")) == name)
        .ok_or(Trouble::Missing)
}

/// Cloths are the same whatever their capitals.
fn is_same(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

/// What is there of a length is what the job that it is promised to is laid on.
pub fn resize(app: &App, id: i64, who: &str, item: &Shelf) -> Result<(), Trouble> {
    let Some(newest) = app.store.newest(id)? else { return Ok(()) };
    let all = Parsed::of(&newest.text);
    let names = (0..all.count("cloth")).map(|i| all.get(&format!("cloth.{i}.name")));
    let Some(name) = names.into_iter().find(|name| is_same(name, &item.name)) else {
        return Ok(());
    };
    let unit = match all.get("job.unit").as_str() {
        "mm" => Unit::Millimetre,
        "cm" => Unit::Centimetre,
        _ => Unit::Inch,
    };
    let length = item.length;
    change(app, id, &format!("{} measured again", item.label), who, |text| {
        on_hand(text, &name, |all| {
            all.retain(|one| one["id"] != item.label || length > Length::ZERO);
            for one in all.iter_mut().filter(|one| one["id"] == item.label) {
                one["length"] = json!(length.show(unit));
            }
        })
    })
}

/// The lengths on hand of a cloth, changed.
fn on_hand(text: &str, name: &str, with: impl Fn(&mut Vec<Value>)) -> Result<String, Trouble> {
    let at = place_of(text, name)?;
    let now = values::json(text);
    let mut all = now["cloth"][at]["on_hand"].as_array().cloned().unwrap_or_default();
    with(&mut all);
    let to = if all.is_empty() { Value::Null } else { Value::Array(all) };
    values::put(text, &format!("cloth.{at}.on_hand"), &to).map_err(|e| Trouble::Input(e.0))
}

async fn cloth_name(app: &Arc<App>, id: i64, cloth: usize) -> Result<(String, Unit), Trouble> {
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let found = plan.job.cloths.get(cloth).ok_or(Trouble::Missing)?;
    Ok((found.name.clone(), plan.job.style.unit))
}

/// A length on the shelf is offered to the job.
pub async fn take(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, cloth, item)): Path<(i64, usize, i64)>,
) -> Answer {
    let (name, unit) = cloth_name(&app, id, cloth).await?;
    let shelf = app.store.shelf()?;
    let item =
        shelf.iter().find(|s| s.id == item && is_same(&s.name, &name)).ok_or(Trouble::Missing)?;
    if !app.store.promise(item.id, id, &now())? {
        return Err(Trouble::Input(format!("{} is promised to another job", item.label)));
    }
    let fresh = json!({
        "id": item.label, "length": item.length.show(unit), "width": item.width.show(unit),
    });
    let note = format!("{} from the shelf offered", item.label);
    let done = change(&app, id, &note, &visit.from.to_string(), |text| {
        on_hand(text, &name, |all| all.push(fresh.clone()))
    });
    if done.is_err() {
        app.store.free(item.id)?;
    }
    done.map(|()| back(id))
}

fn drop_from_job(
    app: &App,
    id: i64,
    who: &str,
    name: &str,
    label: &str,
    note: &str,
) -> Result<(), Trouble> {
    change(app, id, note, who, |text| {
        on_hand(text, name, |all| all.retain(|one| one["id"] != label))
    })
}

/// It is given free again.
pub async fn free(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, cloth, item)): Path<(i64, usize, i64)>,
) -> Answer {
    let (name, _) = cloth_name(&app, id, cloth).await?;
    let shelf = app.store.shelf()?;
    let item =
        shelf.iter().find(|s| s.id == item && s.promised == Some(id)).ok_or(Trouble::Missing)?;
    let note = format!("{} given free", item.label);
    drop_from_job(&app, id, &visit.from.to_string(), &name, &item.label, &note)?;
    app.store.free(item.id)?;
    Ok(back(id))
}

/// It is cut: all of it is off the shelf; what is left of it comes back by its own line.
pub async fn cut(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, _, item)): Path<(i64, usize, i64)>,
) -> Answer {
    let shelf = app.store.shelf()?;
    let item =
        shelf.iter().find(|s| s.id == item && s.promised == Some(id)).ok_or(Trouble::Missing)?;
    let told = (visit.from.to_string(), now());
    app.store.move_length(item.id, -item.length, "cut", (&told.0, &told.1), Some(id))?;
    Ok(back(id))
}

#[derive(Deserialize)]
pub struct Kept {
    mark: String,
    width: String,
    length: String,
}

/// A leftover becomes stock.
pub async fn keep(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, cloth)): Path<(i64, usize)>,
    Form(kept): Form<Kept>,
) -> Answer {
    let (name, unit) = cloth_name(&app, id, cloth).await?;
    let why = format!("left over, {} of {name}", kept.mark);
    if app.store.has_moved(id, &why)? {
        return Err(Trouble::Input("that leftover is on the shelf already".into()));
    }
    let arrival = Arrival {
        name: &name,
        supplier: "",
        lot: "",
        width: measure(&kept.width, unit, "Width")?,
        length: measure(&kept.length, unit, "Length")?,
        note: "",
        why: &why,
        job: Some(id),
    };
    app.store.arrive(&arrival, (&visit.from.to_string(), &now()))?;
    Ok(back(id))
}

#[derive(Deserialize)]
pub struct Came {
    width: String,
    length: String,
    #[serde(default)]
    lot: String,
    #[serde(default)]
    note: String,
    #[serde(default)]
    across: String,
    #[serde(default)]
    along: String,
}

/// The delivered cloth: it becomes stock promised to this job, so that the job is laid on it and on nothing
/// that is not here; what it is short of is what is still to buy.
pub async fn came(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, cloth)): Path<(i64, usize)>,
    Form(came): Form<Came>,
) -> Answer {
    let (name, unit) = cloth_name(&app, id, cloth).await?;
    let (width, length) =
        (measure(&came.width, unit, "Width")?, measure(&came.length, unit, "Length")?);
    let arrival = Arrival {
        name: &name,
        supplier: "",
        lot: came.lot.trim(),
        width,
        length,
        note: came.note.trim(),
        why: "delivered",
        job: Some(id),
    };
    let who = visit.from.to_string();
    let label = app.store.arrive(&arrival, (&who, &now()))?;
    let item = app.store.shelf()?.into_iter().find(|s| s.label == label).ok_or(Trouble::Missing)?;
    app.store.promise(item.id, id, &now())?;
    let mut fresh = json!({ "id": label, "length": length.show(unit), "width": width.show(unit) });
    if !came.across.trim().is_empty() && !came.along.trim().is_empty() {
        let (across, along) = (first(&came.across, unit)?, first(&came.along, unit)?);
        fresh["first"] = json!([across.show(unit), along.show(unit)]);
    }
    change(&app, id, &format!("{name} delivered, {label}"), &who, |text| {
        let at = place_of(text, &name)?;
        // A narrower cloth is what further lengths of it will be as well.
        let text = put(text, &format!("cloth.{at}.width"), Sort::Text, &width.show(unit))?;
        on_hand(&text, &name, |all| all.push(fresh.clone()))
    })?;
    Ok(back(id))
}

/// Where the first motif lies; nought is a place.
fn first(text: &str, unit: Unit) -> Result<Length, Trouble> {
    if text.trim() == "0" { Ok(Length::ZERO) } else { measure(text, unit, "First motif") }
}
