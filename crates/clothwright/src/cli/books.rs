//! The workroom's books from the command line.

use super::Failure;
use super::say::say;
use crate::serve::{Ask, ask};
use clap::Subcommand;
use std::path::Path;

/// What is asked of the books, or noted in them.
#[derive(Subcommand)]
pub(super) enum Books {
    /// Jobs with their numbers.
    Jobs,
    /// Invoices and credit notes; with --csv a table for the bookkeeper.
    Invoices {
        /// A table: number, kind, date, due, customer, sums.
        #[arg(long)]
        csv: bool,
    },
    /// Invoices that are not paid.
    Owed,
    /// Orders that are still to come.
    Orders,
    /// Lengths of cloth on the shelf.
    Stock,
    /// Put a length of cloth on the shelf.
    Shelve {
        /// The cloth.
        name: String,
        /// Measured: `54 in`, `1400 mm`.
        #[arg(long)]
        width: String,
        /// Measured: `2 1/4 yd`, `2300 mm`.
        #[arg(long)]
        length: String,
        /// Of which lot.
        #[arg(long, default_value = "")]
        lot: String,
    },
    /// Note money that came in for a job; with a minus it went back.
    Paid {
        /// The job's number.
        job: i64,
        /// How much.
        #[arg(allow_negative_numbers = true)]
        amount: String,
        /// On which day, as 2026-11-27; today unless said.
        #[arg(long, default_value = "")]
        on: String,
        /// Cash, transfer, card.
        #[arg(long, default_value = "")]
        how: String,
    },
    /// Note hours on a piece of a job.
    Hours {
        /// The job's number.
        job: i64,
        /// Which piece.
        piece: String,
        /// `1:30`, `1.5` or `90 min`.
        #[arg(allow_negative_numbers = true)]
        time: String,
        /// By whom.
        #[arg(long, default_value = "")]
        by: String,
    },
}

/// Asks, and says what is answered; with `json` as one JSON list.
pub(super) fn books(what: &Books, data: &Path, json: bool) -> Result<(), Failure> {
    let asked = match what {
        Books::Jobs => Ask::Jobs,
        Books::Invoices { csv: false } => Ask::Invoices,
        Books::Invoices { csv: true } => Ask::Table,
        Books::Owed => Ask::Owed,
        Books::Orders => Ask::Orders,
        Books::Stock => Ask::Stock,
        Books::Shelve { name, width, length, lot } => Ask::Shelve { name, width, length, lot },
        Books::Paid { job, amount, on, how } => Ask::Paid { job: *job, amount, day: on, how },
        Books::Hours { job, piece, time, by } => Ask::Hours { job: *job, piece, time, who: by },
    };
    let rows = ask(data, &asked).map_err(|what| {
        if json {
            say(&serde_json::json!({ "error": what }).to_string());
        } else {
            eprintln!("error: {what}");
        }
        Failure::Input
    })?;
    if json {
        let all: Vec<serde_json::Value> = rows.into_iter().map(|row| row.0).collect();
        say(&serde_json::Value::Array(all).to_string());
    } else {
        rows.iter().for_each(|row| say(&row.1));
    }
    Ok(())
}
