//! Jobs as data for the page's own scripts: values, faults, pictures and the price; changes taken.

use super::job::titled;
use super::list::STAGES;
use crate::serve::changes::{self, Change, Named};
use crate::serve::engine::Sheet;
use crate::serve::store::Revision;
use crate::serve::{Answer, App, Trouble, Visit, now, text, values};
use axum::Json;
use axum::extract::{Extension, Path, Query, State};
use axum::response::IntoResponse;
use serde::Deserialize;
use serde_json::{Map, Value, json};
use std::sync::Arc;
use trade::fault::Fault;
use trade::plan::Plan;

/// A job as the scripts show it. Pictures of the pieces in `only`, of all if it is `None`.
fn sheet_of(
    app: &App,
    id: i64,
    newest: &Revision,
    sheet: &Sheet,
    only: Option<&[String]>,
) -> Result<Value, Trouble> {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    let text = values::marked(&newest.text);
    let all = values::json(&text);
    let mut pictures = Map::new();
    let pieces = all["piece"].as_array().map(Vec::as_slice).unwrap_or_default();
    for (i, piece) in pieces.iter().enumerate() {
        let mark = piece["id"].as_str().unwrap_or_default();
        if only.is_some_and(|only| !only.iter().any(|o| o == mark)) {
            continue;
        }
        let drawn = sheet.position(i).map(|at| {
            let (job, piece) = (&sheet.read.job, &sheet.read.job.pieces[at]);
            documents::screen::touched(job, piece, &format!("{} with its measures", piece.name))
        });
        pictures.insert(mark.into(), json!(drawn.unwrap_or_default()));
    }
    let plan = sheet.plan();
    let first = sheet.read.job.pieces.first();
    let picture = first.map(|piece| documents::screen::icon(&sheet.read.job, piece));
    let price = plan.as_ref().and_then(|plan| Some((plan, plan.price.whole()?)));
    let price = price.map(|(p, total)| trade::money::sum(&p.job.currency, total));
    app.store.show(id, &price.unwrap_or_default(), &picture.unwrap_or_default())?;
    let faults: Vec<Value> =
        sheet.faults.iter().map(|(at, fault)| told(sheet, &all, at, fault)).collect();
    Ok(json!({
        "id": id,
        "name": entry.name,
        "stage": entry.stage,
        "revision": newest.number,
        "values": all,
        "faults": faults,
        "pictures": pictures,
        "photos": app.store.photos(id)?,
        "plan": plan.map(|plan| totals(&plan)),
        "over": sheet.standing.borrow().over,
    }))
}

/// A fault with the place of its value by marks.
fn told(sheet: &Sheet, all: &Value, at: &str, fault: &Fault) -> Value {
    let voice = words::of(&sheet.read.job);
    let mut out: Vec<String> = Vec::new();
    for key in at.split('.') {
        let number = key.parse::<usize>().ok();
        let list = out.last().cloned().unwrap_or_default();
        let mark = number.filter(|_| out.len() == 1).and_then(|i| all[&list][i]["id"].as_str());
        out.push(mark.map_or_else(|| key.to_string(), |mark| format!("@{mark}")));
    }
    json!({
        "path": out.join("."),
        "code": fault.code,
        "what": super::job::plain(&voice.say(&fault.what)),
        "remedy": super::job::plain(&voice.say(&fault.remedy)),
    })
}

/// What a plan comes to.
fn totals(plan: &Plan) -> Value {
    let style = &plan.job.style;
    let voice = words::of(&plan.job);
    let buys = plan.lays.cloths.iter().map(|lay| {
        let cloth = &plan.job.cloths[lay.cloth];
        json!({
            "name": cloth.name,
            "amount": lay.purchase.show(cloth.unit),
            "own": lay.own.is_some(),
            "proven": lay.answer.proven,
            "claim": super::plan::sentence(&voice.say(&trade::lays::told::claim(&plan.job, lay))),
            "spare": (lay.forgives >= style.mark).then(|| style.show(lay.forgives.round_down(style.mark))),
        })
    });
    let sheets = plan.lays.sheets.iter().map(|lay| {
        let is_foam = lay.stuff == trade::part::Stuff::Foam;
        let goods =
            if is_foam { &plan.job.foams[lay.material] } else { &plan.job.boards[lay.material] };
        let count = lay.cutting.sheets.len();
        let amount = if count == 1 { "1 sheet".into() } else { format!("{count} sheets") };
        json!({ "name": goods.name, "amount": amount, "own": false })
    });
    json!({
        "pieces": plan.job.pieces.iter().map(|piece| piece.number).collect::<Vec<_>>(),
        "price": plan.price.whole().map(|total| trade::money::sum(&plan.job.currency, total)),
        "tax": (!plan.price.taxes.is_empty()).then_some(&plan.job.rates.tax.name),
        "hours": plan.price.hours.round_dp(1).to_string(),
        "buys": buys.chain(sheets).collect::<Vec<_>>(),
    })
}

/// A whole job.
pub async fn sheet(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Answer {
    let (newest, sheet) = app.sheet(id).await?;
    Ok(Json(sheet_of(&app, id, &newest, &sheet, None)?).into_response())
}

/// Changes sent by a page.
#[derive(Debug, Deserialize)]
pub struct Sent {
    changes: Vec<Change>,
    /// Marks of the pieces whose pictures are wanted.
    #[serde(default)]
    pictures: Vec<String>,
}

/// Makes changes and answers with what the job comes to now.
pub async fn change(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Json(sent): Json<Sent>,
) -> Answer {
    if sent.changes.len() > changes::MOST {
        return Err(Trouble::Input(format!("more than {} changes at once", changes::MOST)));
    }
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    let (kept, who) = (app.clone(), visit.from.to_string());
    let is_quoted = sent.changes.iter().any(Change::is_quoted);
    let answers: Vec<Named> = tokio::task::spawn_blocking(move || {
        changes::make(&kept, id, &visit.from.to_string(), &sent.changes)
    })
    .await
    .map_err(|e| Trouble::Inside(e.to_string()))??;
    if is_quoted {
        super::money::agree(&app, id, &who, "as quoted").await?;
    }
    let (newest, sheet) = app.sheet(id).await?;
    let shown = sheet_of(&app, id, &newest, &sheet, Some(&sent.pictures))?;
    Ok(Json(json!({ "answers": answers, "sheet": shown })).into_response())
}

/// A job begun on a page, here or away.
#[derive(Debug, Deserialize)]
pub struct Begun {
    mark: String,
    name: String,
    #[serde(default)]
    customer: Map<String, Value>,
}

/// The text of a new job: the shop's, with a name of its own.
pub fn fresh(app: &App, name: &str) -> Result<String, Trouble> {
    let shop = app.store.setting("shop")?.unwrap_or_else(|| super::shop::USUAL.into());
    let set = |text: &str, path: &str, to: &str| {
        text::set(text, path, text::Sort::Text, to).map_err(|e| Trouble::Input(e.0))
    };
    let date = now().get(..10).unwrap_or_default().to_string();
    let text = set(&shop, "job.name", name)?;
    Ok(values::marked(&set(&text, "job.date", &date)?))
}

/// Begins a job; sent twice it is begun once.
pub async fn begin(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Json(begun): Json<Begun>,
) -> Answer {
    let name: String = begun.name.trim().chars().take(200).collect();
    if name.is_empty() || !values::is_mark(&begun.mark) {
        return Err(Trouble::Input("a job needs a name".into()));
    }
    let mut text = fresh(&app, &name)?;
    for (key, value) in &begun.customer {
        text = values::put(&text, &format!("customer.{key}"), value)
            .map_err(|e| Trouble::Input(e.0))?;
    }
    let who = visit.from.to_string();
    let titled = titled(&text);
    let id = app.store.begin(&begun.mark, &titled, STAGES[0].0, &who, &now())?;
    Ok(Json(json!({ "id": id })).into_response())
}

/// What a new job starts from, for jobs begun away from the workroom.
pub async fn start(State(app): State<Arc<App>>) -> Answer {
    Ok(Json(values::json(&fresh(&app, "new")?)).into_response())
}

/// What every change must show besides the cookie.
pub async fn token(Extension(visit): Extension<Visit>) -> Answer {
    Ok(Json(json!({ "token": visit.token })).into_response())
}

/// Lines of an entry as in the job file.
#[derive(Debug, Deserialize)]
pub struct Which {
    list: String,
    mark: String,
}

/// One entry as it stands in the job file, for those who want to write it themselves.
pub async fn lines(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
    Query(which): Query<Which>,
) -> Answer {
    let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
    let text = values::marked(&newest.text);
    let at = values::position(&text, &which.list, &which.mark).ok_or(Trouble::Missing)?;
    let lines = text::Parsed::of(&text).lines(&which.list, at).unwrap_or_default();
    let own = |line: &&str| !line.starts_with("id = ");
    Ok(lines.lines().filter(own).collect::<Vec<_>>().join("\n").into_response())
}
