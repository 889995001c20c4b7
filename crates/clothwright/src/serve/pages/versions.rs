//! Every version of a job: step back, and compare two in length, hours and money.

use super::{frame, head, job_screen, with_token};
use crate::serve::engine::Sheet;
use crate::serve::store::Revision;
use crate::serve::{Answer, App, Trouble, Visit, now, page};
use axum::extract::{Extension, Path, State};
use axum::response::{IntoResponse, Redirect};
use maud::{Markup, html};
use std::collections::BTreeSet;
use std::sync::Arc;
use trade::plan::Plan;

/// Most versions on one screen.
const MOST: usize = 500;

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    let all = app.store.revisions(id, MOST)?;
    let newest = all.iter().find(|r| !r.aside).map_or(0, |r| r.number);
    let body = html! {
        div.narrow.stack {
            h2 { "History" }
            p.quiet.small { "Nothing is ever overwritten. Going back keeps what came after as well." }
            @for (day, steps) in days(&steps(&all)) {
                section.sheet { h3.pad { (day) }
                    ol.history { @for r in steps { li.row.wrap {
                        span.grow { span.nm { (sentence(r)) } span.meas { (r.at.get(11..16).unwrap_or_default()) ", " (device(&r.who)) @if r.aside { ", kept beside" } } }
                        @if r.number == newest { span.tk.plain { "now" } } @else {
                            a.b.small href=(format!("/job/{id}/versions/{}/{newest}", r.number)) { "Compare" }
                            form.inline method="post" action=(with_token(&visit, &format!("/job/{id}/back/{}", r.number))) {
                                button.b.small { "Go back to this" }
                            }
                        }
                    } } }
                }
            }
        }
    };
    Ok(page(job_screen(&visit, Some(&entry), "versions", "versions", &body)))
}

/// Where a change came from, as people say it.
fn device(who: &str) -> String {
    let is_here = who.parse::<std::net::IpAddr>().is_ok_and(|ip| ip.is_loopback());
    if is_here { "this computer".into() } else { who.into() }
}

/// What was done, with a capital.
fn sentence(r: &Revision) -> String {
    let note = if r.note == "begun" { "job begun" } else { &r.note };
    super::capital(note)
}

/// Versions by the day on which they were made, newest first.
fn days<'a>(all: &[&'a Revision]) -> Vec<(String, Vec<&'a Revision>)> {
    let mut days: Vec<(String, Vec<&Revision>)> = Vec::new();
    for r in all {
        let day = r.at.get(..10).unwrap_or_default();
        let date = day.parse::<jiff::civil::Date>();
        let words = date.map_or_else(|_| day.into(), |d| d.strftime("%a %-d %b %Y").to_string());
        match days.last_mut() {
            Some((last, steps)) if *last == words => steps.push(r),
            _ => days.push((words, vec![r])),
        }
    }
    days
}

/// Versions without those that were only on the way: a value typed on within the same field.
fn steps(all: &[Revision]) -> Vec<&Revision> {
    // "Panel: width 900 to 920" and "Panel: width 920 to 925" are one step.
    let place = |r: &Revision| {
        let words = r.note.split_once(": ")?;
        let what: Vec<&str> =
            words.1.split(' ').take_while(|w| w.parse::<f64>().is_err()).collect();
        Some(format!("{}: {}", words.0, what.join(" ")))
    };
    let mut kept: Vec<&Revision> = Vec::new();
    for r in all {
        let on_the_way = kept.last().is_some_and(|newer| {
            !newer.aside
                && !r.aside
                && place(r).is_some()
                && place(newer) == place(r)
                && newer.who == r.who
        });
        if !on_the_way {
            kept.push(r);
        }
    }
    kept
}

/// What two versions come to.
struct Side {
    number: i64,
    text: String,
    plan: Option<Arc<Plan>>,
}

pub async fn compare(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, a, b)): Path<(i64, i64, i64)>,
) -> Answer {
    let text = |number: i64| -> Result<String, Trouble> {
        Ok(app.store.revision(id, number)?.ok_or(Trouble::Missing)?.text)
    };
    let texts = [(a, text(a)?), (b, text(b)?)];
    let sides = tokio::task::spawn_blocking(move || {
        texts.map(|(number, text)| Side { number, plan: Sheet::of(number, &text).plan(), text })
    });
    let [a, b] = sides.await.map_err(|e| Trouble::Inside(e.to_string()))?;
    let between = (a.number.min(b.number) + 1)..=(a.number.max(b.number));
    let all = app.store.revisions(id, MOST)?;
    let done: Vec<&Revision> =
        steps(&all).into_iter().filter(|r| between.contains(&r.number)).collect();
    let body = html! {
        (head("Compared", Some((&format!("/job/{id}/versions"), "history")), &html! {}))
        main #main {
            (sums(&a, &b))
            h2 { "What was done between them" }
            ol.sheet.history { @for r in done.iter().rev() { li.row { span.grow { (sentence(r)) } span.quiet.small { (r.at.get(..16).unwrap_or_default()) } } } }
            details.fold { summary { "Advanced: as text" } pre.diff { @for (sign, line) in lines(&a.text, &b.text) { span class=(match sign { '+' => "more", '-' => "less", _ => "same" }) { (sign) " " (line) "\n" } } } }
        }
    };
    Ok(page(frame(&visit, "Compared — Clothwright", "versions", &body)))
}

fn sums(a: &Side, b: &Side) -> Markup {
    let (Some(p), Some(q)) = (&a.plan, &b.plan) else {
        return html! { p.hint { "One of the two has faults and no plan." } };
    };
    let mut rows: Vec<(String, String, String, String)> = Vec::new();
    let names: Vec<&str> =
        p.job.cloths.iter().chain(&q.job.cloths).map(|c| c.name.as_str()).collect();
    let mut seen: Vec<&str> = Vec::new();
    for name in names {
        if seen.contains(&name) {
            continue;
        }
        seen.push(name);
        let buys = |plan: &Plan| {
            let lay = plan.lays.cloths.iter().find(|l| plan.job.cloths[l.cloth].name == name)?;
            Some((lay.purchase, plan.job.cloths[lay.cloth].unit))
        };
        let (x, y) = (buys(p), buys(q));
        let show = |v: &Option<(geometry::Length, geometry::Unit)>| {
            v.map(|(l, u)| l.show(u)).unwrap_or_else(|| "—".into())
        };
        let difference = match (x, y) {
            (Some((m, _)), Some((n, unit))) if m != n => {
                format!("{}{}", if n > m { "+" } else { "−" }, (n - m).abs().show(unit))
            }
            _ => String::new(),
        };
        rows.push((format!("{name}, to buy"), show(&x), show(&y), difference));
    }
    let money = |d| trade::money::show(d);
    let signed = |d: rust_decimal::Decimal| {
        if d.is_zero() {
            String::new()
        } else {
            format!("{}{}", if d.is_sign_negative() { "" } else { "+" }, d.round_dp(2))
        }
    };
    rows.push((
        "hours".into(),
        p.price.hours.round_dp(2).to_string(),
        q.price.hours.round_dp(2).to_string(),
        signed(q.price.hours - p.price.hours),
    ));
    rows.push((
        format!("total, {}", q.job.currency),
        money(p.price.total),
        money(q.price.total),
        signed(q.price.total - p.price.total),
    ));
    html! {
        table.money { tr { th { "" } th { "version " (a.number) } th { "version " (b.number) } th { "difference" } }
            @for (what, x, y, d) in rows { tr { th scope="row" { (what) } td { (x) } td { (y) } td { b { (d) } } } } }
        p.hint { "Both by their first lays, without a long search." }
    }
}

/// Lines that are in one of two texts only, each under the heading it stands below. Order does not
/// matter: a value emptied and filled in again has not changed.
fn lines<'a>(a: &'a str, b: &'a str) -> Vec<(char, &'a str)> {
    let headed = |text: &'a str| -> Vec<(&'a str, &'a str)> {
        let mut heading = "";
        let mut all = Vec::new();
        for line in text.lines().filter(|l| !l.trim().is_empty()) {
            if line.starts_with('[') || line.starts_with("name =") {
                heading = line;
            }
            all.push((heading, line));
        }
        all
    };
    let (a, b) = (headed(a), headed(b));
    let (in_a, in_b): (BTreeSet<_>, BTreeSet<_>) = (a.iter().collect(), b.iter().collect());
    let mut all = Vec::new();
    let mut told = "";
    let mut add = |sign: char, (heading, line): (&'a str, &'a str)| {
        if heading != told && heading != line {
            all.push((' ', heading));
        }
        told = heading;
        all.push((sign, line));
    };
    a.iter().filter(|l| !in_b.contains(l)).for_each(|l| add('-', *l));
    b.iter().filter(|l| !in_a.contains(l)).for_each(|l| add('+', *l));
    all
}

/// One step back; pressed again, one more.
pub async fn undo(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
    let from = newest
        .note
        .strip_prefix("back to version ")
        .and_then(|number| number.parse().ok())
        .unwrap_or(newest.number);
    let all = app.store.revisions(id, MOST)?;
    let before = all.iter().find(|r| !r.aside && r.number < from);
    let before = before.ok_or_else(|| Trouble::Input("there is nothing to undo".into()))?;
    restored(&app, &visit, id, before.number)?;
    Ok(Redirect::to(&format!("/job/{id}/pieces")).into_response())
}

pub async fn back(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, number)): Path<(i64, i64)>,
) -> Answer {
    restored(&app, &visit, id, number)?;
    Ok(Redirect::to(&format!("/job/{id}/pieces")).into_response())
}

fn restored(app: &App, visit: &Visit, id: i64, number: i64) -> Result<(), Trouble> {
    let kept = app.store.revision(id, number)?.ok_or(Trouble::Missing)?;
    let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
    let note = format!("back to version {number}");
    let who = visit.from.to_string();
    let titled = super::job::titled(&kept.text);
    app.store.save(id, newest.number, &titled, (&who, &note, &now()))?;
    Ok(())
}
