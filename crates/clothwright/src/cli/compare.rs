//! The comparison on the command line.

use super::say::{put, say};
use super::{Failure, Search, bar, other, read_job, sound, tell, with_limits};
use crate::{job_file, pack};
use geometry::{Length, Unit, read_length};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;
use trade::compare::{Row, Table};
use trade::job::Job;
use trade::money;

/// Widths cloth is commonly woven in. Common practice, no source.
pub(crate) fn usual_widths(job: &Job) -> Vec<Length> {
    if matches!(job.style.unit, Unit::Inch | Unit::Foot | Unit::Yard) {
        [48.0, 54.0, 60.0].map(Length::from_inches).to_vec()
    } else {
        [1300.0, 1400.0, 1500.0].map(Length::from_mm).to_vec()
    }
}

fn asked_widths(text: &str, unit: Unit) -> Result<Vec<Length>, Failure> {
    let read = |part: &str| match read_length(part.trim(), unit) {
        Ok(width) if width > Length::ZERO && width < Length::from_mm(10_000.0) => Ok(width),
        Ok(_) => Err(format!("--widths: `{}` is no width of cloth", part.trim())),
        Err(error) => Err(format!("--widths: `{}`: {error}", part.trim())),
    };
    text.split(',')
        .map(|part| {
            read(part).map_err(|what| {
                eprintln!(
                    "error: {what}\n  = do: give widths with commas between, such as 48 in, 60 in"
                );
                Failure::Input
            })
        })
        .collect()
}

pub(super) fn compare(
    path: &Path,
    out: Option<&Path>,
    widths: Option<&str>,
    search: Search,
    json: bool,
) -> Result<(), Failure> {
    let text = read_job(path)?;
    let name = path.display().to_string();
    let read = job_file::read(&text);
    sound(&name, &text, &read)?;
    let job = &read.job;
    let widths = match widths {
        Some(asked) => asked_widths(asked, job.style.unit)?,
        None => usual_widths(job),
    };
    let bar = bar(search.seconds);
    let tables =
        with_limits(search, &bar, |limits| trade::compare::compare(job, &widths, limits, None));
    bar.finish_and_clear();
    let tables =
        tables.map_err(|faults| tell(&name, &text, &job_file::place(&text, faults, &read)))?;
    if let Some(out) = out {
        pack::writable(out).map_err(|e| other(out, &e))?;
        let bytes = documents::comparison(job, &tables, &BTreeMap::new())
            .map_err(|e| Failure::Other(e.to_string()))?;
        let file = out.join("comparison.pdf");
        std::fs::write(&file, bytes).map_err(|e| other(&file, &e))?;
    }
    if json {
        say(&format!("{}", values(job, &tables)));
    } else {
        tables.iter().for_each(|table| print(job, table));
        if let Some(out) = out {
            say(&format!("comparison: {}", out.join("comparison.pdf").display()));
        }
    }
    Ok(())
}

fn print(job: &Job, table: &Table) {
    say(&format!("in place of {} ({}, job before tax)", table.cloth, job.currency));
    say(&format!(
        "  {:<24} {:>10}  {:<26} {:>12} {:>9} {:>11} {:>11}",
        "cloth", "width", "laid", "used", "to buy", "all cloth", "job"
    ));
    for row in &table.rows {
        let mark = if row.now { "*" } else { " " };
        put(&format!(
            "{mark} {:<24} {:>10}  {:<26} ",
            row.cloth,
            job.style.show(row.width),
            documents::way(row.way)
        ));
        match &row.outcome {
            Ok(o) => say(&format!(
                "{:>12} {:>9} {:>11} {:>11}{}",
                job.style.chalk(o.used),
                o.purchase.show(table.unit),
                money::show(o.cost),
                money::show(o.net),
                if o.proven { "  no lay can buy less" } else { "" }
            )),
            Err(why) => say(&format!("cannot be: {}", words::of(job).say(why))),
        }
    }
    say("  (*: as the job stands)");
}

fn values(job: &Job, tables: &[Table]) -> Value {
    let row = |table: &Table, row: &Row| {
        let outcome = match &row.outcome {
            Err(why) => json!({ "cannot_be": words::of(job).say(why) }),
            Ok(o) => json!({
                "length_mm": o.used.mm(),
                "buy": { "quantity": o.purchase.in_unit(table.unit), "unit": table.unit.sign() },
                "proven": o.proven,
                "forgives_mm": o.forgives.mm(),
                "cloths_cost": money::show(o.cost),
                "net": money::show(o.net),
            }),
        };
        json!({
            "cloth": row.cloth, "width_mm": row.width.mm(), "laid": documents::way(row.way),
            "repeat_mm": row.pattern.as_ref().map(|p| [p.length.map(Length::mm), p.width.map(Length::mm)]),
            "now": row.now, "outcome": outcome,
        })
    };
    tables
        .iter()
        .map(|table| {
            json!({ "in_place_of": table.cloth, "rows": table.rows.iter().map(|r| row(table, r)).collect::<Vec<_>>() })
        })
        .collect()
}
