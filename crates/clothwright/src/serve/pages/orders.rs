//! What all jobs need, by supplier; orders sent; what has come and what is late.

use super::money::{day, today_and};
use super::{shop_screen, with_token};
use crate::serve::buying::{Order, Wanted};
use crate::serve::store::Entry;
use crate::serve::{Answer, App, Trouble, Visit, now, page};
use axum::extract::{Extension, Form, Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect};
use maud::{Markup, html};
use rust_decimal::Decimal;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;
use trade::plan::Plan;

/// Most jobs that are looked through.
const MOST: usize = 200;

/// Days until what was ordered is looked for. Common practice, no source.
const DAYS: i64 = 7;

/// Nobody has said where it is bought.
const NOBODY: &str = "no supplier said";

/// What a job buys, with its supplier.
fn bought(job: i64, plan: &Plan) -> Vec<(String, Wanted)> {
    let voice = words::of(&plan.job);
    let lines = plan.take_off.lines.iter().filter(|line| {
        let has = ["supplier-customer", "supplier-on-hand"];
        !has.iter().any(|id| line.supplier.is(id)) && line.quantity > Decimal::ZERO
    });
    lines
        .map(|line| {
            let supplier = voice.say(&line.supplier);
            let supplier = if supplier.is_empty() { NOBODY.into() } else { supplier };
            let (item, unit) = (voice.say(&line.item), voice.say(&line.unit));
            (supplier, Wanted { job, item, quantity: line.quantity, unit })
        })
        .collect()
}

/// What is still to order of some lines, by the orders that were sent.
fn open(lines: &[Wanted], orders: &[Order]) -> Vec<Wanted> {
    let ordered = |wanted: &Wanted| -> Decimal {
        let same =
            |line: &&(Wanted, Decimal)| line.0.job == wanted.job && line.0.item == wanted.item;
        orders.iter().flat_map(|order| &order.lines).filter(same).map(|line| line.0.quantity).sum()
    };
    lines
        .iter()
        .map(|wanted| Wanted { quantity: wanted.quantity - ordered(wanted), ..wanted.clone() })
        .filter(|wanted| wanted.quantity > Decimal::ZERO)
        .collect()
}

/// What jobs that were quoted need, by supplier.
async fn needed(app: &Arc<App>) -> Result<BTreeMap<String, Vec<Wanted>>, Trouble> {
    let mut all: BTreeMap<String, Vec<Wanted>> = BTreeMap::new();
    for job in app.store.jobs("", false, MOST)? {
        if !["quoted", "ordered"].contains(&job.stage.as_str()) {
            continue;
        }
        let (_, sheet) = app.sheet(job.id).await?;
        let Some(plan) = sheet.plan().filter(|_| sheet.faults.is_empty()) else { continue };
        for (supplier, wanted) in bought(job.id, &plan) {
            all.entry(supplier).or_default().push(wanted);
        }
    }
    Ok(all)
}

fn name(app: &App, job: i64) -> Result<String, Trouble> {
    Ok(app.store.job(job)?.map_or_else(|| format!("job {job}"), |job: Entry| job.name))
}

pub async fn show(State(app): State<Arc<App>>, Extension(visit): Extension<Visit>) -> Answer {
    let orders = app.store.orders()?;
    let needed = needed(&app).await?;
    let today = today_and(0).0;
    let mut sections = Vec::new();
    for (supplier, lines) in &needed {
        let lines = open(lines, &orders);
        if !lines.is_empty() {
            sections.push(to_order(&app, &visit, supplier, &lines)?);
        }
    }
    let waiting: Vec<&Order> = orders.iter().filter(|order| !order.is_complete()).collect();
    let body = html! {
        div.narrow.stack.books {
            @if sections.is_empty() { section.sheet.pad { h2 tabindex="-1" { "To order" } p { "Nothing: jobs that are quoted have all they need ordered." } } }
            @for section in &sections { (section) }
            @if !waiting.is_empty() {
                section.sheet.pad.stack { h2 { "Still to come" }
                    @for order in waiting { (one(&app, &visit, order, &today)?) }
                }
            }
            @if orders.iter().any(Order::is_complete) {
                section.sheet.pad { h2 { "Here" } ul.lines { @for order in orders.iter().filter(|o| o.is_complete()).rev() { li { span.grow { "No. " (order.number) ", " (order.supplier) ", " (order.at.get(..10).unwrap_or_default()) } a.b.small href=(format!("/orders/{}.txt", order.number)) { "Text" } } } } }
            }
        }
    };
    Ok(page(shop_screen(&visit, "Orders", "/stock", "orders-screen", &body)))
}

fn to_order(app: &App, visit: &Visit, supplier: &str, lines: &[Wanted]) -> Result<Markup, Trouble> {
    let (_, due) = today_and(DAYS);
    let mut names = BTreeMap::new();
    for line in lines {
        names.insert(line.job, name(app, line.job)?);
    }
    Ok(html! {
        section.sheet.pad.stack { h2 tabindex="-1" { "To order: " (supplier) }
            form.stack method="post" action=(with_token(visit, "/orders")) {
                ul.lines { @for line in lines { li { label.row.gap2.grow { input type="checkbox" name=(key(line)) checked; span { (line.item) br; span.quiet.small { (names[&line.job]) } } } span.num { (line.quantity.normalize()) " " (line.unit) } } } }
                input type="hidden" name="supplier" value=(supplier);
                label.f { span.lab { "Here by" } span.in { input type="date" name="due" value=(due) required; } }
                button.b.strong { "Order it" }
            }
        }
    })
}

fn one(app: &App, visit: &Visit, order: &Order, today: &str) -> Result<Markup, Trouble> {
    let is_late = order.due.as_str() < today;
    let mut lines = Vec::new();
    for (i, (wanted, come)) in order.lines.iter().enumerate() {
        lines.push((i, wanted, wanted.quantity - come, name(app, wanted.job)?));
    }
    Ok(html! {
        div.stack.note {
            p { b { "No. " (order.number) ", " (order.supplier) } ", sent " (order.at.get(..10).unwrap_or_default()) ", "
                @if is_late { span.late { "was due " (order.due) } } @else { "due " (order.due) } " " a.b.small href=(format!("/orders/{}.txt", order.number)) { "Text" } }
            ul.lines { @for (i, wanted, left, job) in &lines { li.wrap {
                span.grow { (wanted.item) br; span.quiet.small { (job) @if is_late && *left > Decimal::ZERO { ": waits for it" } } }
                @if *left > Decimal::ZERO {
                    form.row.gap2 method="post" action=(with_token(visit, &format!("/orders/{}/{i}", order.number))) {
                        label.f.short { span.vh { "how much has come" } span.in { input name="quantity" value=(left.normalize()) inputmode="decimal" autocomplete="off"; } }
                        span { (wanted.unit) } button.b.small { "Has come" }
                    }
                } @else { span.st.ok { "here" } }
            } } }
        }
    })
}

/// What a line is called in a form.
fn key(wanted: &Wanted) -> String {
    format!("line {} {}", wanted.job, wanted.item)
}

pub async fn send(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Form(form): Form<BTreeMap<String, String>>,
) -> Answer {
    let said = |key: &str| form.get(key).cloned().unwrap_or_default();
    let (supplier, due) = (said("supplier"), day(&said("due"), (0, 730))?);
    let mut needed = needed(&app).await?;
    let mut lines = needed.remove(&supplier).unwrap_or_default();
    lines.retain(|line| form.contains_key(&key(line)));
    let told = (visit.from.to_string(), now());
    let number =
        app.store.order((&supplier, &due), |orders| open(&lines, orders), (&told.0, &told.1))?;
    if number.is_none() {
        return Err(Trouble::Input("nothing is left to order there".into()));
    }
    has_ordered(&app, &lines).await?;
    Ok(Redirect::to("/orders").into_response())
}

/// Jobs of which nothing is left to order have been ordered.
async fn has_ordered(app: &Arc<App>, lines: &[Wanted]) -> Result<(), Trouble> {
    let orders = app.store.orders()?;
    let left: Vec<i64> = needed(app)
        .await?
        .values()
        .flat_map(|lines| open(lines, &orders))
        .map(|wanted| wanted.job)
        .collect();
    for line in lines {
        let job = app.store.job(line.job)?.filter(|job| job.stage == "quoted");
        if job.is_some() && !left.contains(&line.job) {
            app.store.set_stage(line.job, "ordered", &now())?;
        }
    }
    Ok(())
}

#[derive(Deserialize)]
pub struct Came {
    quantity: String,
}

pub async fn came(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((number, line)): Path<(i64, usize)>,
    Form(form): Form<Came>,
) -> Answer {
    let orders = app.store.orders()?;
    let order = orders.iter().find(|order| order.number == number).ok_or(Trouble::Missing)?;
    let (wanted, _) = order.lines.get(line).ok_or(Trouble::Missing)?;
    let wrong = || {
        Trouble::Input(format!("`{}` is no amount of {}; write 2.5", form.quantity, wanted.unit))
    };
    // More may come than was ordered, but not ten times as much.
    let quantity: Decimal = form.quantity.trim().replace(',', ".").parse().map_err(|_| wrong())?;
    if quantity <= Decimal::ZERO || quantity > wanted.quantity * Decimal::TEN {
        return Err(wrong());
    }
    app.store.come(number, line, quantity, (&visit.from.to_string(), &now()))?;
    Ok(Redirect::to("/orders").into_response())
}

/// An order as text, to be sent by mail.
pub async fn text(State(app): State<Arc<App>>, Path(file): Path<String>) -> Answer {
    let number = file.strip_suffix(".txt").and_then(|n| n.parse::<i64>().ok());
    let number = number.ok_or(Trouble::Missing)?;
    let orders = app.store.orders()?;
    let order = orders.iter().find(|order| order.number == number).ok_or(Trouble::Missing)?;
    let mut text = format!(
        "Order {number}\nTo: {}\nDate: {}\nHere by: {}\n\n",
        order.supplier,
        order.at.get(..10).unwrap_or_default(),
        order.due
    );
    for (wanted, _) in &order.lines {
        text += &format!("{} {}  {}\n", wanted.quantity.normalize(), wanted.unit, wanted.item);
    }
    text += "\nEach cloth from one lot, please; tell us the lot, the true width and any flaws.\n";
    Ok(([(header::CONTENT_TYPE, "text/plain; charset=utf-8")], text).into_response())
}
