//! A comparison as data for its template.

use crate::cloth_view::{repeat, way};
use geometry::Length;
use serde_json::{Value, json};
use trade::compare::{Row, Table};
use trade::job::Job;
use trade::money;

pub fn view(job: &Job, tables: &[Table]) -> Value {
    json!({
        "words": words::of(job).papers(),
        "job": { "name": job.name, "number": job.number, "currency": job.currency,
            "paper": if job.letter_paper { "us-letter" } else { "a4" } },
        "tables": tables.iter().map(|t| table(job, t)).collect::<Vec<_>>(),
    })
}

fn table(job: &Job, table: &Table) -> Value {
    let purchases =
        || table.rows.iter().filter_map(|row| row.outcome.as_ref().ok()).map(|o| o.purchase);
    let most = purchases().max().unwrap_or(Length::from_nm(1));
    let least = purchases().min().unwrap_or_default();
    let rows: Vec<Value> =
        table.rows.iter().map(|row| line(job, table, row, most, least)).collect();
    json!({ "cloth": table.cloth, "rows": rows })
}

fn line(job: &Job, table: &Table, row: &Row, most: Length, least: Length) -> Value {
    let style = &job.style;
    let head = json!({
        "cloth": row.cloth, "width": style.show(row.width), "way": way(row.way), "now": row.now,
        "pattern": row.pattern.as_ref().map_or("plain".to_string(), |p| repeat(p, style)),
    });
    let rest = match &row.outcome {
        Err(why) => json!({ "why_not": words::of(job).say(why) }),
        Ok(o) => json!({
            "used": style.chalk(o.used), "buy": o.purchase.show(table.unit),
            "cost": money::show(o.cost), "net": money::show(o.net),
            "spare": style.show(o.forgives.round_down(style.mark)), "proven": o.proven,
            "least": o.purchase == least,
            "share": o.purchase.mm() / most.mm().max(1.0),
        }),
    };
    json!({ "head": head, "rest": rest })
}
