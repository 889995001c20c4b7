//! Invoices as files: to print, as electronic ones, as a table for the bookkeeper.

use crate::serve::{Answer, App, Trouble};
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::IntoResponse;
use books::account::{Invoice, Kind};
use books::electronic::{self, Lacking};
use rust_decimal::Decimal;
use std::sync::Arc;

/// An issued invoice: `12.pdf` to print, `12.xml` as an electronic one.
pub async fn file(State(app): State<Arc<App>>, Path(file): Path<String>) -> Answer {
    let (number, ending) = file.split_once('.').ok_or(Trouble::Missing)?;
    let number: i64 = number.parse().map_err(|_| Trouble::Missing)?;
    let found = app.store.invoices(None)?.into_iter().find(|(_, i)| i.number == number);
    let (job, invoice) = found.ok_or(Trouble::Missing)?;
    match ending {
        "pdf" => {
            let letter = app.sheet(job).await.is_ok_and(|(_, s)| s.read.job.letter_paper);
            let set = move || documents::invoice(&invoice, letter).map_err(|e| e.to_string());
            let set = tokio::task::spawn_blocking(set).await;
            let bytes =
                set.map_err(|e| Trouble::Inside(e.to_string()))?.map_err(Trouble::Inside)?;
            Ok(([(header::CONTENT_TYPE, "application/pdf")], bytes).into_response())
        }
        "xml" => {
            let text =
                electronic::ubl(&invoice).map_err(|lacking| Trouble::Input(told(&lacking)))?;
            let name = format!("attachment; filename=\"invoice-{number}.xml\"");
            let headers = [
                (header::CONTENT_TYPE, "application/xml".to_string()),
                (header::CONTENT_DISPOSITION, name),
            ];
            Ok((headers, text).into_response())
        }
        _ => Err(Trouble::Missing),
    }
}

/// What an electronic invoice needs that this one does not say.
fn told(lacking: &[Lacking]) -> String {
    let words = lacking.iter().map(|lacking| match lacking {
        Lacking::Seller => "your workroom's name (Settings) and the job's country (Details)",
        Lacking::Buyer => "the customer's name and the job's country (Details)",
        Lacking::Currency => "the currency as three letters (Settings)",
        Lacking::TaxNumber => "your tax number (Settings)",
    });
    let all: Vec<&str> = words.collect();
    format!(
        "an electronic invoice needs {}; this one was issued without: take it back and issue it anew once that is filled in",
        all.join(", ")
    )
}

/// Lines of all invoices, for the bookkeeper.
pub fn csv_lines(invoices: &[(i64, Invoice)]) -> Result<String, Trouble> {
    let mut out = csv::Writer::from_writer(Vec::new());
    let inside = |e: csv::Error| Trouble::Inside(e.to_string());
    out.write_record([
        "number",
        "kind",
        "takes_back",
        "date",
        "due",
        "customer",
        "job",
        "currency",
        "net",
        "tax",
        "rounding",
        "total",
    ])
    .map_err(inside)?;
    for (_, i) in invoices {
        let sign = if i.kind == Kind::Credit { -Decimal::ONE } else { Decimal::ONE };
        let back = i.takes_back.map_or(String::new(), |n| n.to_string());
        let sums = [i.net(), i.tax(), i.rounding, i.total()].map(|s| format!("{:.2}", s * sign));
        let head = [
            i.number.to_string(),
            i.kind.name().into(),
            back,
            i.date.clone(),
            i.due.clone(),
            plain_cell(&i.buyer.name),
            plain_cell(&i.job),
            plain_cell(&i.currency),
        ];
        out.write_record(head.iter().chain(&sums)).map_err(inside)?;
    }
    let bytes = out.into_inner().map_err(|e| Trouble::Inside(e.to_string()))?;
    String::from_utf8(bytes).map_err(|e| Trouble::Inside(e.to_string()))
}

/// A name that a table would take for a sum stays a name.
fn plain_cell(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t']) { format!("'{text}") } else { text.into() }
}
