//! An invoice, and a change put to the customer, to print.

use crate::pdf::{self, Matter, TemplateError};
use crate::view;
use books::account::{Invoice, taxes};
use rust_decimal::Decimal;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// An issued invoice or credit note as a PDF, on Letter or A4.
///
/// # Errors
/// What the templates did wrong; never for built-in ones.
pub fn invoice(invoice: &Invoice, is_letter: bool) -> Result<Vec<u8>, TemplateError> {
    let style = trade::working::Style::usual(geometry::Unit::Millimetre);
    let voice = words::english().voice(style);
    let amount = |amount: Decimal| view::grouped(&format!("{amount:.2}"));
    let tax = |(percent, _, tax): (Decimal, Decimal, Decimal)| {
        json!([format!("{} {} %", invoice.tax_name, percent.normalize()), amount(tax)])
    };
    let party = |party: &books::account::Party| {
        json!({
            "name": party.name, "address": party.address, "contact": party.contact,
            "tax_number": party.tax_number,
        })
    };
    let lines: Vec<Value> = invoice
        .lines
        .iter()
        .map(|line| {
            json!({
                "what": line.what, "net": amount(line.net),
                "percent": format!("{} %", line.percent.normalize()),
            })
        })
        .collect();
    let rounding = invoice.rounding;
    let is_credit = invoice.kind == books::account::Kind::Credit;
    let data = json!({
        "version": 2, "words": voice.papers(), "lang": voice.tag(),
        "job": {
            "name": invoice.job, "number": "",
            "paper": if is_letter { "us-letter" } else { "a4" },
        },
        "invoice": {
            "number": invoice.number.to_string(), "kind": invoice.kind.name(),
            "takes_back": invoice.takes_back.map_or(String::new(), |n| n.to_string()),
            "date": view::date(&voice, &invoice.date), "due": if is_credit { String::new() } else { view::date(&voice, &invoice.due) },
            "job": invoice.job, "seller": party(&invoice.seller), "buyer": party(&invoice.buyer),
            "currency": invoice.currency, "tax_name": invoice.tax_name, "lines": lines,
            "net": amount(invoice.net()),
            "taxes": taxes(&invoice.lines).into_iter().map(tax).collect::<Vec<_>>(),
            "rounding": if rounding.is_zero() { String::new() } else { amount(rounding) },
            "total": amount(invoice.total()), "terms": if is_credit { "" } else { &invoice.terms },
        },
    });
    let matter = Matter { data, ..Matter::default() };
    pdf::set("invoice.typ", &matter, &BTreeMap::new())?.pdf()
}

/// A change that is put to the customer.
#[derive(Clone, Debug)]
pub struct Change<'a> {
    /// The plan of the job, for its head.
    pub plan: &'a trade::plan::Plan,
    /// On which day, as 2026-11-27.
    pub date: &'a str,
    /// What it is.
    pub words: &'a str,
    /// What was agreed before, with tax.
    pub before: Decimal,
    /// What it comes to with the change, with tax.
    pub after: Decimal,
}

/// The change as a PDF.
///
/// # Errors
/// What the templates did wrong; never for built-in ones.
pub fn change_note(change: &Change) -> Result<Vec<u8>, TemplateError> {
    let job = &change.plan.job;
    let voice = words::of(job);
    let amount = |amount: Decimal| view::grouped(&format!("{amount:.2}"));
    let data = json!({
        "version": 2, "words": voice.papers(), "lang": voice.tag(),
        "job": {
            "name": job.name, "number": job.number,
            "paper": if job.letter_paper { "us-letter" } else { "a4" },
        },
        "shop": { "name": job.shop.name, "phone": job.shop.phone },
        "note": {
            "date": view::date(&voice, change.date), "customer": job.customer.name,
            "words": change.words, "currency": job.currency, "before": amount(change.before),
            "after": amount(change.after), "difference": amount(change.after - change.before),
        },
    });
    let matter = Matter { data, ..Matter::default() };
    pdf::set("note.typ", &matter, &BTreeMap::new())?.pdf()
}
