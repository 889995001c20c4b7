//! A job's money: what was agreed, changes to it, invoices, payments.

use super::{job_screen, with_token};
use crate::serve::ledger::{Note, Payment, Settled};
use crate::serve::{Answer, App, Trouble, Visit, now, page};
use axum::extract::{Extension, Form, Path, State};
use axum::http::header;
use axum::response::{IntoResponse, Redirect};
use books::account::{Agreed, Body, Invoice, Kind, Party, Refused, left, open, part, rest};
use maud::{Markup, html};
use rust_decimal::Decimal;
use serde::Deserialize;
use std::sync::Arc;
use trade::money::{cents, sum};
use trade::plan::Plan;

/// Days to pay unless something else is said. Common practice, no source.
const DAYS: i64 = 30;

/// Today, and the same in so many days.
pub fn today_and(days: i64) -> (String, String) {
    let today = jiff::ZonedDateTime::now().date();
    let later = today.checked_add(jiff::Span::new().days(days)).unwrap_or(today);
    (today.to_string(), later.to_string())
}

/// An amount as typed: `1,530.98`, `1530.98`.
pub fn amount(text: &str) -> Result<Decimal, Trouble> {
    let wrong = || Trouble::Input(format!("`{text}` is no amount; write it as 1530.98"));
    let trimmed = text.trim();
    // A comma stands between thousands or is refused: `1,5` may be one and a half, or fifteen.
    let whole = trimmed.split('.').next().unwrap_or_default();
    let mut groups = whole.trim_start_matches('-').split(',');
    let first = groups.next().unwrap_or_default().len();
    let is_grouped = groups.all(|group| group.len() == 3) && first <= 3;
    if trimmed.contains(',') && !is_grouped {
        return Err(wrong());
    }
    let plain = trimmed.replace([',', ' '], "");
    let amount: Decimal = plain.parse().map_err(|_| wrong())?;
    if amount != cents(amount) || amount.abs() > Decimal::from(100_000_000) {
        return Err(wrong());
    }
    Ok(amount)
}

/// A day as a form gives it, not further from today than is likely: so many days back and ahead.
pub fn day(text: &str, (back, ahead): (i32, i32)) -> Result<String, Trouble> {
    let wrong = || Trouble::Input(format!("`{text}` is no day; write it as 2026-11-27"));
    let day: jiff::civil::Date = text.trim().parse().map_err(|_| wrong())?;
    let from_today = jiff::ZonedDateTime::now().date().until(day).map_or(0, |span| span.get_days());
    if !(-back..=ahead).contains(&from_today) {
        return Err(Trouble::Input(format!("{day} cannot be meant; see to the year")));
    }
    Ok(day.to_string())
}

/// A day that has been: within two years, or tomorrow where clocks differ.
pub const PAST: (i32, i32) = (730, 1);

/// A day to come: within two years.
pub const TO_COME: (i32, i32) = (60, 730);

fn priced(plan: &Plan) -> Option<Agreed> {
    let voice = words::of(&plan.job);
    Agreed::of(plan, |message| voice.say(message))
}

/// Keeps the price as it stands as what was agreed, if it is another than the last.
pub async fn agree(app: &Arc<App>, id: i64, who: &str, why: &str) -> Result<(), Trouble> {
    let (_, sheet) = app.sheet(id).await?;
    if !sheet.faults.is_empty() {
        return Ok(());
    }
    // The quote was printed from the plan once its search was over.
    let plan = sheet.searched().await;
    let Some(price) = plan.and_then(|plan| priced(&plan)) else { return Ok(()) };
    let last = app.store.agreed(id)?.pop();
    if last.is_none_or(|last| last.price != price) {
        app.store.agree(id, &price, why, (who, &now()))?;
    }
    Ok(())
}

/// What a job's money comes to.
struct Account {
    settled: Vec<Settled>,
    notes: Vec<Note>,
    invoices: Vec<Invoice>,
    payments: Vec<Payment>,
}

impl Account {
    fn of(app: &App, id: i64) -> Result<Self, Trouble> {
        Ok(Self {
            settled: app.store.agreed(id)?,
            notes: app.store.notes(id)?,
            invoices: app.store.invoices(Some(id))?.into_iter().map(|(_, i)| i).collect(),
            payments: app.store.payments(Some(id))?,
        })
    }

    fn price(&self) -> Option<&Agreed> {
        self.settled.last().map(|settled| &settled.price)
    }

    fn invoiced(&self) -> Decimal {
        self.invoices.iter().map(Invoice::owed).sum()
    }

    fn paid(&self) -> Decimal {
        self.payments.iter().map(|payment| payment.amount).sum()
    }
}

pub async fn show(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    let entry = app.store.job(id)?.ok_or(Trouble::Missing)?;
    let (_, sheet) = app.sheet(id).await?;
    let account = Account::of(&app, id)?;
    let plan = sheet.plan().filter(|_| sheet.faults.is_empty());
    let now_price = plan.as_deref().and_then(priced);
    let currency = plan.as_ref().map(|plan| plan.job.currency.clone()).unwrap_or_default();
    let shown = |amount: Decimal| sum(&currency, amount);
    let body = html! {
        div.narrow.stack.books {
            (so_far(&account, &shown))
            @if !sheet.standing.borrow().over { p.quiet.small { "The plan is still being made shorter: what the job comes to now may fall yet." } }
            (agreed(&visit, id, &account, now_price.as_ref(), &shown))
            (changes(&visit, id, &account, &shown))
            (invoices(&visit, id, &account, &shown))
            (payments(&visit, id, &account, &shown))
        }
    };
    Ok(page(job_screen(&visit, Some(&entry), "money", "money-screen", &body)))
}

/// Agreed, invoiced, paid, as bars on one scale.
fn so_far(account: &Account, shown: &impl Fn(Decimal) -> String) -> Markup {
    let agreed = account.price().map_or(Decimal::ZERO, |price| price.total);
    let (invoiced, paid) = (account.invoiced(), account.paid());
    let owed = invoiced - paid;
    let most = agreed.max(invoiced).max(paid);
    let rows = [("Agreed", agreed), ("Invoiced", invoiced), ("Paid", paid)];
    html! {
        section.sheet.pad.stack {
            h2 tabindex="-1" { "Money" }
            div.figures { div { p.quiet.small { @if owed < Decimal::ZERO { "Paid ahead" } @else { "Still to pay" } } p.figure-price { (shown(owed.abs())) } }
                @if agreed > invoiced { div { p.quiet.small { "Not invoiced yet" } p.num { (shown(agreed - invoiced)) } } } }
            @for (words, value) in rows { (super::bar_row(words, value, most, &shown(value), "")) }
        }
    }
}

fn agreed(
    visit: &Visit,
    id: i64,
    account: &Account,
    now_price: Option<&Agreed>,
    shown: &impl Fn(Decimal) -> String,
) -> Markup {
    let to = with_token(visit, &format!("/job/{id}/money/agree"));
    html! {
        section.sheet.pad.stack {
            h2 { "What was agreed" }
            @if account.settled.is_empty() {
                @match now_price {
                    Some(price) => {
                        p { "Nothing is agreed yet. Marking the quote as sent keeps its price here; or keep it now:" }
                        form method="post" action=(to) { button.b { "Agree " (shown(price.total)) } }
                    }
                    None => { p { "There is no whole price yet: see " a href=(format!("/job/{id}/plan")) { "what is still to do" } "." } }
                }
            } @else {
                ul.lines { @for settled in &account.settled { li { span.grow { (super::capital(&settled.why)) ", " (settled.at.get(..10).unwrap_or_default()) } span.num { (shown(settled.price.total)) } } } }
                @if let (Some(price), Some(agreed)) = (now_price, account.price()) {
                    @let more = price.total - agreed.total;
                    @if !more.is_zero() {
                        p { "As the job stands now it comes to " b { (shown(price.total)) } ": " (shown(more.abs())) @if more > Decimal::ZERO { " more" } @else { " less" } " than agreed." }
                        form.stack method="post" action=(with_token(visit, &format!("/job/{id}/money/note"))) {
                            label.f { span.lab { "What was found, or is wanted besides" } span.in { input name="words" required maxlength="300" autocomplete="off"; } }
                            button.b { "Write a change note" }
                        }
                    }
                }
            }
        }
    }
}

fn changes(
    visit: &Visit,
    id: i64,
    account: &Account,
    shown: &impl Fn(Decimal) -> String,
) -> Markup {
    html! {
        @if !account.notes.is_empty() {
            section.sheet.pad.stack {
                h2 { "Changes" }
                @for note in &account.notes {
                    div.stack.note {
                        p { b { (note.words) } br; span.quiet { (note.at.get(..10).unwrap_or_default()) ": " (shown(note.before)) " becomes " (shown(note.price.total)) } }
                        p { a.b.small href=(format!("/job/{id}/money/note/{}", note.id)) { "Print it" } }
                        @match &note.answer {
                            Some((accepted, name, at)) => { p.st { @if *accepted { "Accepted" } @else { "Refused" } " by " (name) ", " (at.get(..10).unwrap_or_default()) } }
                            None => {
                                form.row.wrap.gap2 method="post" action=(with_token(visit, &format!("/job/{id}/money/answer/{}", note.id))) {
                                    label.f { span.lab { "Answered by" } span.in { input name="name" required maxlength="100"; } }
                                    button.b.strong name="accepted" value="yes" { "Accepted" } button.b name="accepted" value="no" { "Refused" }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn invoices(
    visit: &Visit,
    id: i64,
    account: &Account,
    shown: &impl Fn(Decimal) -> String,
) -> Markup {
    let to = |what: &str| with_token(visit, &format!("/job/{id}/money/{what}"));
    let (_, due) = today_and(DAYS);
    let taken_back = |number: i64| account.invoices.iter().any(|i| i.takes_back == Some(number));
    html! {
        section.sheet.pad.stack {
            h2 { "Invoices" }
            @if account.invoices.is_empty() { p.quiet { "None yet." } }
            ul.lines { @for invoice in &account.invoices { li.wrap {
                span.grow { b { "No. " (invoice.number) } " " (kind(invoice)) ", " (invoice.date) @if invoice.kind != Kind::Credit { ", to pay by " (invoice.due) }
                    @if let Some(back) = invoice.takes_back { " of No. " (back) }
                    @if taken_back(invoice.number) { " " span.tk.plain { "taken back" } } }
                span.num { (shown(invoice.owed())) }
                span.row.gap2 { a.b.small href=(format!("/invoice/{}.pdf", invoice.number)) { "Print" }
                    a.b.small href=(format!("/invoice/{}.xml", invoice.number)) { "Electronic" }
                    @if invoice.kind != Kind::Credit && !taken_back(invoice.number) { details.fold.inline { summary { "Take it back" } form.inline method="post" action=(to(&format!("credit/{}", invoice.number))) { button.b.small { "Yes, write a credit note" } } } } }
            } } }
            @if let Some(price) = account.price() {
                @let rest = left(price, &account.invoices);
                @if rest > Decimal::ZERO {
                    form.stack method="post" action=(to("invoice")) {
                        label.f { span.lab { "Pay by" } span.in { input type="date" name="due" value=(due) required; } }
                        label.f { span.lab { "A part or deposit of" } span.in { input name="amount" inputmode="decimal" autocomplete="off" value=[(!price.deposit.is_zero() && account.invoices.is_empty()).then(|| price.deposit.to_string())]; } }
                        div.row.gap2.wrap { button.b name="what" value="part" { "Invoice the part" } button.b name="what" value="final" { "Invoice the rest, " (shown(rest)) } }
                    }
                    p.quiet.small { "An issued invoice stays as it is; it is taken back by a credit note with a number of its own." }
                }
            } @else { p.quiet.small { "Once a price is agreed it can be invoiced." } }
        }
    }
}

const fn kind(invoice: &Invoice) -> &'static str {
    match invoice.kind {
        Kind::Part => "part",
        Kind::Final => "final",
        Kind::Credit => "credit note",
    }
}

fn payments(
    visit: &Visit,
    id: i64,
    account: &Account,
    shown: &impl Fn(Decimal) -> String,
) -> Markup {
    let (today, _) = today_and(0);
    let (open, over) = open(&account.invoices, account.paid());
    let owed: Decimal = open.iter().map(|open| open.owed).sum();
    html! {
        section.sheet.pad.stack {
            h2 { "Payments" }
            ul.lines { @for payment in &account.payments { li { span.grow { (payment.day) @if !payment.how.is_empty() { ", " (payment.how) } } span.num { (shown(payment.amount)) } } } }
            @if over > Decimal::ZERO { p { (shown(over)) " more came in than is invoiced." } }
            form.stack method="post" action=(with_token(visit, &format!("/job/{id}/money/pay"))) {
                div.fields {
                    label.f { span.lab { "Amount" } span.in { input name="amount" inputmode="decimal" required autocomplete="off" value=[(!owed.is_zero()).then(|| owed.to_string())]; } }
                    label.f { span.lab { "On" } span.in { input type="date" name="day" value=(today) required; } }
                    label.f { span.lab { "How" } span.in { input name="how" maxlength="60" list="ways" autocomplete="off"; } }
                }
                datalist #ways { @for way in ["transfer", "cash", "card", "cheque"] { option value=(way) {} } }
                button.b { "Note the payment" }
            }
            p.quiet.small { "What was noted wrongly is set right by the same amount with a minus." }
        }
    }
}

pub async fn agree_now(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
) -> Answer {
    agree(&app, id, &visit.from.to_string(), "agreed").await?;
    Ok(back(id))
}

fn back(id: i64) -> axum::response::Response {
    Redirect::to(&format!("/job/{id}/money")).into_response()
}

#[derive(Deserialize)]
pub struct Words {
    words: String,
}

pub async fn note(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(Words { words }): Form<Words>,
) -> Answer {
    let (_, sheet) = app.sheet(id).await?;
    let open = || Trouble::Input("the job has no whole price yet".into());
    let plan = sheet.searched().await.filter(|_| sheet.faults.is_empty()).ok_or_else(open)?;
    let price = priced(&plan).ok_or_else(open)?;
    let before = app.store.agreed(id)?.pop();
    let before = before.ok_or_else(|| Trouble::Input("nothing was agreed yet".into()))?;
    let told = (visit.from.to_string(), now());
    let words = words.trim();
    if words.is_empty() {
        return Err(Trouble::Input("say what the change is".into()));
    }
    app.store.note(id, words, (before.price.total, &price), (&told.0, &told.1))?;
    Ok(back(id))
}

/// A change note to print.
pub async fn note_file(State(app): State<Arc<App>>, Path((id, note)): Path<(i64, i64)>) -> Answer {
    let note = app.store.notes(id)?.into_iter().find(|n| n.id == note).ok_or(Trouble::Missing)?;
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or(Trouble::Missing)?;
    let set = tokio::task::spawn_blocking(move || {
        let date = note.at.get(..10).unwrap_or_default();
        let (before, after) = (note.before, note.price.total);
        let change = documents::Change { plan: &plan, date, words: &note.words, before, after };
        documents::change_note(&change).map_err(|e| e.to_string())
    });
    let bytes = set.await.map_err(|e| Trouble::Inside(e.to_string()))?.map_err(Trouble::Inside)?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], bytes).into_response())
}

#[derive(Deserialize)]
pub struct Answered {
    name: String,
    accepted: String,
}

pub async fn answer(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, note)): Path<(i64, i64)>,
    Form(form): Form<Answered>,
) -> Answer {
    let told = (visit.from.to_string(), now());
    let accepted = form.accepted == "yes";
    if form.name.trim().is_empty() {
        return Err(Trouble::Input("say who answered".into()));
    }
    let fresh = app.store.answer_note(id, note, accepted, form.name.trim(), (&told.0, &told.1))?;
    if !fresh {
        return Err(Trouble::Input("that change was answered already".into()));
    }
    Ok(back(id))
}

#[derive(Deserialize)]
pub struct Wanted {
    what: String,
    due: String,
    #[serde(default)]
    amount: String,
}

/// Seller and buyer as the job names them; the country is the job's.
fn parties(plan: &Plan) -> (Party, Party) {
    let job = &plan.job;
    let contact: Vec<&str> =
        [&job.shop.phone, &job.shop.mail].into_iter().map(String::as_str).collect();
    let seller = Party {
        name: job.shop.name.clone(),
        address: job.shop.address.clone(),
        country: job.country.clone(),
        tax_number: job.shop.tax_number.clone(),
        contact: contact.join(" ").trim().to_string(),
    };
    let buyer = Party {
        name: job.customer.name.clone(),
        address: job.customer.address.clone(),
        country: job.country.clone(),
        tax_number: String::new(),
        contact: job.customer.contact.clone(),
    };
    (seller, buyer)
}

fn refused(why: Refused) -> Trouble {
    Trouble::Input(
        match why {
            Refused::NothingLeft => "nothing is left to invoice",
            Refused::TooMuch => "that is more than is left to invoice",
            Refused::NotAboveZero => "the amount has to be above nought",
        }
        .into(),
    )
}

pub async fn invoice(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Wanted>,
) -> Answer {
    let due = day(&form.due, TO_COME)?;
    let agreed = app.store.agreed(id)?.pop();
    let agreed = agreed.ok_or_else(|| Trouble::Input("nothing was agreed yet".into()))?.price;
    let asked = match form.what.as_str() {
        "part" => Some(amount(&form.amount)?),
        _ => None,
    };
    let (_, sheet) = app.sheet(id).await?;
    let plan = sheet.plan().ok_or_else(|| Trouble::Input("the job cannot be read".into()))?;
    let head = Head::of(&plan, &agreed, due);
    let make = |number: i64, before: &[Invoice]| -> Result<Invoice, Refused> {
        let (kind, body) = match asked {
            Some(amount) => (Kind::Part, part(&agreed, before, amount, "Part payment")?),
            None => (
                Kind::Final,
                rest(&agreed, before, |earlier| {
                    let what =
                        if earlier.kind == Kind::Credit { "taken back" } else { "less invoice" };
                    format!("{what} {}", earlier.number)
                })?,
            ),
        };
        Ok(head.invoice(number, kind, None, body))
    };
    let told = (visit.from.to_string(), now());
    app.store.issue(id, (&told.0, &told.1), make)?.map_err(refused)?;
    Ok(back(id))
}

/// What all invoices of a job say.
struct Head {
    due: String,
    job: String,
    seller: Party,
    buyer: Party,
    currency: String,
    tax_name: String,
    terms: String,
}

impl Head {
    fn of(plan: &Plan, agreed: &Agreed, due: String) -> Self {
        let (seller, buyer) = parties(plan);
        Self {
            due,
            job: plan.job.name.clone(),
            seller,
            buyer,
            currency: agreed.currency.clone(),
            tax_name: agreed.tax_name.clone(),
            terms: plan.job.shop.terms.clone(),
        }
    }

    fn invoice(&self, number: i64, kind: Kind, takes_back: Option<i64>, body: Body) -> Invoice {
        Invoice {
            number,
            kind,
            takes_back,
            date: today_and(0).0,
            due: self.due.clone(),
            job: self.job.clone(),
            seller: self.seller.clone(),
            buyer: self.buyer.clone(),
            currency: self.currency.clone(),
            tax_name: self.tax_name.clone(),
            lines: body.lines,
            rounding: body.rounding,
            terms: self.terms.clone(),
        }
    }
}

/// Takes an invoice back, whole, once.
pub async fn credit(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path((id, number)): Path<(i64, i64)>,
) -> Answer {
    let make = |next: i64, before: &[Invoice]| -> Result<Invoice, Trouble> {
        let earlier = before.iter().find(|i| i.number == number && i.kind != Kind::Credit);
        let earlier = earlier.ok_or(Trouble::Missing)?;
        if before.iter().any(|i| i.takes_back == Some(number)) {
            return Err(Trouble::Input(format!("invoice {number} was taken back already")));
        }
        let today = today_and(0).0;
        let (kind, takes_back) = (Kind::Credit, Some(number));
        Ok(Invoice {
            number: next,
            kind,
            takes_back,
            date: today.clone(),
            due: today,
            ..earlier.clone()
        })
    };
    let told = (visit.from.to_string(), now());
    app.store.issue(id, (&told.0, &told.1), make)??;
    Ok(back(id))
}

#[derive(Deserialize)]
pub struct Paid {
    amount: String,
    day: String,
    #[serde(default)]
    how: String,
}

pub async fn pay(
    State(app): State<Arc<App>>,
    Extension(visit): Extension<Visit>,
    Path(id): Path<i64>,
    Form(form): Form<Paid>,
) -> Answer {
    app.store.job(id)?.ok_or(Trouble::Missing)?;
    let amount = amount(&form.amount)?;
    if amount.is_zero() {
        return Err(Trouble::Input("a payment of nought is none".into()));
    }
    let how: String = form.how.trim().chars().take(60).collect();
    let paid: Decimal = app.store.payments(Some(id))?.iter().map(|p| p.amount).sum();
    if paid + amount < Decimal::ZERO {
        return Err(Trouble::Input("more would go back than ever came in".into()));
    }
    let payment = Payment { job: id, day: day(&form.day, PAST)?, amount, how };
    let told = (visit.from.to_string(), now());
    app.store.pay(&payment, (&told.0, &told.1))?;
    Ok(back(id))
}
