//! Cloth, sheets and price: lays drawn, the search live.

use super::{frame, head, job_screen, with_token};
use crate::serve::engine::{Sheet, Standing};
use crate::serve::{Answer, App, Trouble, Visit, page};
use axum::extract::{Extension, Path, State};
use axum::http::header;
use axum::response::IntoResponse;
use axum::response::sse::{Event, KeepAlive, Sse};
use lay::Limits;
use maud::{Markup, html};
use std::convert::Infallible;
use std::sync::Arc;
use tokio_stream::{Stream, StreamExt};
use trade::compare::Table;
use trade::fault::Fault;
use trade::job::Job;
use trade::lays::told;
use trade::plan::Plan;
use trade::price::NO_RATE;

/// Work for a comparison: some seconds.
const COMPARING: u64 = 1_200_000_000;

/// The section on the job's sheet.
pub fn section(visit: &Visit, id: i64, sheet: &Sheet) -> Markup {
    let standing = sheet.standing.borrow().clone();
    html! {
        section #plan data-revision=(sheet.revision) data-over=(standing.over) {
            h2.vh { "Plan and price" }
            (search(&standing))
            (left_out(id, sheet))
            @match sheet.plan() {
                None if sheet.faults.is_empty() => { p.hint { "Add a piece and measure it: the plan and the price follow." } p { a.b href=(format!("/job/{id}/add")) { "Add a piece" } } }
                None => { p.hint { "Measure the pieces, and fill in what is still needed of the materials: the plan and the price follow." } (others(sheet)) }
                Some(plan) => { div.columns { div { (lays(id, sheet.revision, &plan)) } aside.stack { (price(&plan)) (options(visit, id, sheet.revision, &plan)) } } (others(sheet)) }
            }
        }
    }
}

fn search(standing: &Standing) -> Markup {
    html! {
        p #search.hint aria-live="off" {
            progress max="1" value=(standing.done) {}
            " " span.words { (search_words(standing)) }
        }
    }
}

/// Faults that belong to no piece.
fn others(sheet: &Sheet) -> Markup {
    html! {
        ul.faults #others { @for (at, fault) in &sheet.faults { @if !at.starts_with("piece.") { li { (fault_words(&sheet.read.job, fault)) } } } }
    }
}

/// Pieces that plan and price are without, each with the way to it.
fn left_out(id: i64, sheet: &Sheet) -> Markup {
    let mut out: Vec<(usize, String)> = Vec::new();
    for (at, fault) in &sheet.faults {
        let index = at.strip_prefix("piece.").and_then(|rest| rest.split('.').next()?.parse().ok());
        let why = match fault.code {
            "missing" => "not measured yet".to_string(),
            _ => fault_words(&sheet.read.job, fault),
        };
        match index {
            Some(index) if !out.iter().any(|known| known.0 == index) => out.push((index, why)),
            _ => {}
        }
    }
    html! {
        @if !out.is_empty() {
            ul.faults.mind { @for (index, why) in out {
                @let is_in = sheet.plan().is_some_and(|plan| plan.job.pieces.iter().any(|piece| piece.number == index + 1));
                li { @if is_in { "To check: " } @else { "Plan and price are without " } a href=(format!("/job/{id}/pieces/{}", sheet.marks.get(index).map_or("", String::as_str))) { "piece " (index + 1) } ": " (why) "." }
            } }
        }
    }
}

/// A fault in words a person can act on.
fn fault_words(job: &Job, fault: &Fault) -> String {
    let voice = words::of(job);
    if fault.code == "missing" {
        let key = fault.at.rsplit('.').next().unwrap_or_default();
        return format!("{} is still needed", crate::serve::fields::caption("", key));
    }
    let (what, remedy) = (voice.say(&fault.what), voice.say(&fault.remedy));
    format!("{}; {}", super::job::plain(&what), super::job::plain(&remedy))
}

/// With a capital and a full stop.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().map(char::to_uppercase).into_iter().flatten().collect();
    format!("{first}{}.", letters.as_str().trim_end_matches('.'))
}

fn lays(id: i64, revision: i64, plan: &Plan) -> Markup {
    let voice = words::of(&plan.job);
    html! {
        @for (c, lay) in plan.lays.cloths.iter().enumerate() {
            @let cloth = &plan.job.cloths[lay.cloth];
            article.lay {
                @match told::own_cloth_says(&plan.job, lay) {
                    Some(own) => { h2 { (cloth.name) } p { (sentence(&voice.say(&own))) } }
                    None => { h2 { "Buy " (lay.purchase.show(cloth.unit)) " of " (cloth.name) "." } }
                }
                p {
                    @if lay.own.is_none() { @if lay.answer.proven { b { (sentence(&voice.say(&told::claim(&plan.job, lay)))) } } @else { (sentence(&voice.say(&told::claim(&plan.job, lay)))) } " " }
                    @if lay.forgives >= plan.job.style.mark {
                        "You have " (plan.job.style.show(lay.forgives.round_down(plan.job.style.mark))) " to spare on every part."
                    }
                }
                @for (s, strip) in documents::screen::strips(plan, lay).into_iter().enumerate() {
                    @if strip["name"] != "" { h3 { (strip["name"].as_str().unwrap_or_default()) ", in stock" } }
                    div.roll-view tabindex="0" role="group" aria-label=(format!("plan of {}", cloth.name)) data-tint=(c % 5) data-strip=(strip.to_string()) {
                        img src=(format!("/job/{id}/lay/{c}/{s}?r={revision}-{}", lay.answer.lay.new_length().nm())) alt=(format!("parts laid on {}", cloth.name));
                    }
                    details { summary { "Cut in this order" }
                        ol.cuts { @for part in strip["parts"].as_array().into_iter().flatten() { li {
                            (part["order"]) ". " b { (part["tag"].as_str().unwrap_or_default()) } " " (part["name"].as_str().unwrap_or_default()) ", " (part["size"].as_str().unwrap_or_default())
                            @if part["pinned"] == true { ", pinned" }
                        } } }
                    }
                }
                p.row { a.b.small href=(format!("/job/{id}/by-hand/{c}")) { "Move and pin parts, mark flaws" } }
                @if lay.compared.len() > 1 {
                    table { tr { th { "laid" } th { "used" } th { "to buy" } }
                        @for way in &lay.compared { tr {
                            td { (documents::way(way.direction)) }
                            td { (way.length.map(|l| plan.job.style.chalk(l)).unwrap_or_else(|| "does not fit".into())) }
                            td { @if way.length.is_some() { (way.purchase.show(cloth.unit)) } @else { "—" } }
                        } }
                    }
                }
            }
        }
        @for (c, lay) in plan.lays.sheets.iter().enumerate() {
            @let goods = if lay.stuff == trade::part::Stuff::Foam { &plan.job.foams[lay.material] } else { &plan.job.boards[lay.material] };
            article.lay {
                h2 { (goods.name) ": " (lay.cutting.sheets.len()) " sheet" @if lay.cutting.sheets.len() != 1 { "s" } "." }
                div.sheets { @for (s, _) in lay.cutting.sheets.iter().enumerate() {
                    img src=(format!("/job/{id}/lay/s{c}/{s}?r={revision}")) alt=(format!("parts cut from {}", goods.name)) loading="lazy";
                } }
            }
        }
        p.row {
            a.b.small href=(format!("/job/{id}/misses")) { "Small changes that save cloth" }
            a.b.small href=(format!("/job/{id}/compare")) { "Compare cloths and widths" }
        }
        @for warning in plan.warnings() { p.watch { b { "Check: " } (warning.about) ": " (super::job::plain(&voice.say(&warning.what))) "; " (super::job::plain(&voice.say(&warning.remedy))) } }
    }
}

fn price(plan: &Plan) -> Markup {
    let price = &plan.price;
    let voice = words::of(&plan.job);
    let money = |d| trade::money::sum("", d);
    html! {
        div.sheet.pad.stack {
            h2 { "Price" }
            p.figure-price { (price.whole().map_or_else(|| voice.word(NO_RATE), |total| trade::money::sum(&plan.job.currency, total))) }
            table.money { caption { "The quote" }
                @for (group, amount) in price.groups() { tr { th scope="row" { (voice.say(&group.name())) } td { (money(amount)) } } }
                tr { th scope="row" { "before tax" } td { (money(price.net)) } }
                @for (rate, _, tax) in &price.taxes { tr { th scope="row" { (plan.job.rates.tax.name) " " (rate.normalize()) " %" } td { (money(*tax)) } } }
                tr.sum { th scope="row" { "total " (plan.job.currency) } td { (price.whole().map_or_else(|| voice.word(NO_RATE), money)) } }
                @if let Some(deposit) = price.first().filter(|d| !d.is_zero()) { tr { th scope="row" { "deposit" } td { (money(deposit)) } } }
            }
            details { summary { "Costs and margin" }
                table.money { @for line in &price.lines { tr {
                    th scope="row" { (voice.say(&line.what)) br; span.hint { (voice.say(&line.why)) } }
                    td { @if let Some(cost) = line.cost { (money(cost)) } }
                    td { (money(line.amount)) }
                } } }
                p { (price.hours.round_dp(1)) " hours; labour and margin " (money(price.contribution)) }
            }
        }
    }
}

/// The same in another cloth, side by side; and one more.
fn options(visit: &Visit, id: i64, base: i64, plan: &Plan) -> Markup {
    let money = |d| trade::money::sum("", d);
    let used: Vec<&str> =
        plan.lays.cloths.iter().map(|lay| plan.job.cloths[lay.cloth].name.as_str()).collect();
    let names = || plan.job.cloths.iter().map(|cloth| cloth.name.as_str());
    let first_other = names().find(|name| used.first() != Some(name));
    html! {
        @if !plan.choices.is_empty() {
            table.money #options { caption { "Options for the customer" }
                tr { th scope="row" { "as planned" } td { (plan.price.whole().map_or_else(|| words::of(&plan.job).word(NO_RATE), money)) } td {} td {} }
                @for (i, (choice, other)) in plan.choices.iter().enumerate() { tr {
                    th scope="row" { (choice.name) } td { (other.price.whole().map_or_else(|| words::of(&plan.job).word(NO_RATE), money)) }
                    td { (money(other.price.total - plan.price.total)) }
                    td { form.inline method="post" action=(with_token(visit, &format!("/job/{id}/option/remove"))) {
                        input type="hidden" name="base" value=(base); input type="hidden" name="index" value=(i); button.b.small { "Remove" } } }
                } }
            }
        }
        @if plan.job.cloths.len() > 1 {
            details { summary { "An option for the customer: the same in another cloth" }
                form.row.wrap method="post" action=(with_token(visit, &format!("/job/{id}/option"))) {
                    input type="hidden" name="base" value=(base);
                    label { "Called" input name="name" required; }
                    label { "Instead of" select name="from" { @for name in &used { option value=(name) { (name) } } } }
                    label { "this" select name="to" {
                        @for name in names() { option value=(name) selected[first_other == Some(name)] { (name) } }
                    } }
                    button.b.small { "Add the option" }
                }
            }
        }
    }
}

/// The section alone, once the search has found something.
pub async fn part(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let (_, sheet) = app.sheet(id).await?;
    Ok(page(section(&visit, id, &sheet)))
}

/// Plan and price as a screen of the job.
pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    let (_, sheet) = app.sheet(id).await?;
    let body = section(&visit, id, &sheet);
    Ok(page(job_screen(&visit, Some(&entry), "plan", "planned", &body)))
}

/// Where a search stands, in words. Whether less could do is said at each cloth, by what it was shown for.
pub fn search_words(standing: &Standing) -> &'static str {
    if standing.over { "No shorter plan was found" } else { "Looking for a shorter plan" }
}

/// Tells of every newer text of a job and of its search, until nobody listens.
async fn follow(app: Arc<App>, id: i64, to: tokio::sync::mpsc::Sender<(i64, Standing)>) {
    let mut bell = app.engine.bell();
    while let Ok((_, sheet)) = app.sheet(id).await {
        let mut standing = sheet.standing.subscribe();
        loop {
            let now = standing.borrow_and_update().clone();
            if to.send((sheet.revision, now)).await.is_err() {
                return;
            }
            tokio::select! {
                () = to.closed() => return,
                changed = standing.changed() => if changed.is_err() { break },
                newer = newer(&mut bell, id, sheet.revision) => if newer { break } else { return },
            }
        }
    }
}

/// Waits for a newer text of a job; false if there will be none.
async fn newer(
    bell: &mut tokio::sync::broadcast::Receiver<(i64, i64)>,
    id: i64,
    than: i64,
) -> bool {
    use tokio::sync::broadcast::error::RecvError;
    loop {
        match bell.recv().await {
            Ok((job, revision)) if job == id && revision > than => return true,
            Ok(_) => {}
            // Some were missed: this may have been one of them.
            Err(RecvError::Lagged(_)) => return true,
            Err(RecvError::Closed) => return false,
        }
    }
}

/// How the search stands, as it goes on, of the newest text and of those that follow.
pub async fn live(
    State(app): State<Arc<App>>,
    Path(id): Path<i64>,
) -> Result<Sse<impl Stream<Item = Result<Event, Infallible>>>, Trouble> {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    let (to, told) = tokio::sync::mpsc::channel(4);
    tokio::spawn(follow(app, id, to));
    let stream = tokio_stream::wrappers::ReceiverStream::new(told).map(|(revision, s)| {
        let s: Standing = s;
        let data = serde_json::json!({
            "revision": revision, "done": s.done, "over": s.over,
        });
        Ok(Event::default().event("standing").data(data.to_string()))
    });
    Ok(Sse::new(stream).keep_alive(KeepAlive::default()))
}

/// A drawing of one strip of a cloth (`0`), or of one sheet of foam or board (`s0`).
pub async fn lay(
    State(app): State<Arc<App>>,
    Path((id, which, strip)): Path<(i64, String, usize)>,
) -> Answer {
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let drawn = match which.strip_prefix('s') {
        Some(number) => {
            let lay = number.parse::<usize>().ok().and_then(|i| plan.lays.sheets.get(i));
            documents::screen::sheets(&plan, lay.ok_or(Trouble::Missing)?)
        }
        None => {
            let lay = which.parse::<usize>().ok().and_then(|i| plan.lays.cloths.get(i));
            documents::screen::lay(&plan, lay.ok_or(Trouble::Missing)?)
        }
    };
    let svg = drawn.into_iter().nth(strip).ok_or(Trouble::Missing)?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], svg).into_response())
}

/// A job's cloths compared, from the lays as they stand; some seconds.
pub fn compared(job: &Job, standing: Option<Arc<Plan>>) -> Result<Vec<Table>, Vec<Fault>> {
    let widths = crate::cli::usual_widths(job);
    trade::compare::compare(job, &widths, &Limits::work(1, COMPARING), standing.as_deref())
}

/// How much is bought beside the most of the table, as a bar.
fn bar(share: f64) -> Markup {
    html! {
        svg.bar viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true" {
            rect width=(format!("{:.1}", 100.0 * share)) height="6" {}
        }
    }
}

/// Cloths compared: widths, directions, the others of the job. The rows come when they are planned.
pub async fn compare(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    let body = html! {
        (head("Compared", Some((&format!("/job/{id}/plan"), "the plan")), &html! { a href=(format!("/job/{id}/papers/comparison.pdf")) { "as a paper, with plots" } }))
        main #main { (later(&format!("/job/{id}/compare/rows"), "Each row is planned again: some seconds.")) }
    };
    Ok(page(frame(&visit, "Compared — Clothwright", "compare", &body)))
}

/// What takes some seconds: said at once, and replaced by what is found.
pub fn later(from: &str, words: &str) -> Markup {
    html! {
        div hx-get=(from) hx-trigger="load" hx-swap="outerHTML" aria-live="polite" {
            p.hint { progress {} " " (words) }
        }
    }
}

/// The rows of the comparison.
pub async fn compared_rows(State(app): State<Arc<App>>, Path(id): Path<i64>) -> Answer {
    let (_, sheet) = app.sheet(id).await?;
    let asked = sheet.clone();
    let standing = sheet.searched().await;
    let tables = tokio::task::spawn_blocking(move || compared(&asked.read.job, standing))
        .await
        .map_err(|e| Trouble::Inside(e.to_string()))?;
    let job = &sheet.read.job;
    let body = html! {
        div {
            @match &tables {
                Err(_) => { p.hint { "There is nothing to compare until what is to put right is put right." } }
                Ok(tables) => { @for table in tables {
                    @let most = table.rows.iter().filter_map(|row| row.outcome.as_ref().ok()).map(|o| o.purchase.mm()).fold(1.0, f64::max);
                    h2 { (table.cloth) }
                    table { tr { th { "cloth" } th { "width" } th { "laid" } th { "used" } th { "to buy" } th { "price before tax" } }
                        @for row in &table.rows { tr class=(if row.now { "now" } else { "" }) {
                            td { (row.cloth) } td { (job.style.show(row.width)) } td { (documents::way(row.way)) }
                            @match &row.outcome {
                                Ok(found) => {
                                    td.used { (job.style.chalk(found.used)) } td.buy { (found.purchase.show(table.unit)) (bar(found.purchase.mm() / most)) }
                                    td.net { (trade::money::show(found.net)) }
                                }
                                Err(why) => { td colspan="3" { (words::of(job).say(why)) } }
                            }
                        } }
                    }
                } }
            }
        }
    };
    Ok(page(body))
}
