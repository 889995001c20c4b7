//! The books from the command line, beside a page that may be running: the same store, the same sums.

use super::ledger::{Payment, Worked};
use super::now;
use super::pages::{hours, invoices, money, stock};
use super::shelf::Arrival;
use super::store::Store;
use super::{Trouble, opened};
use books::account::Kind;
use rust_decimal::Decimal;
use serde_json::{Value, json};
use std::path::Path;

/// What is asked of the books, or noted in them.
#[derive(Clone, Debug)]
pub enum Ask<'a> {
    /// Jobs with their numbers.
    Jobs,
    /// Invoices and credit notes.
    Invoices,
    /// The same as a table for the bookkeeper.
    Table,
    /// What is open.
    Owed,
    /// Orders that are still to come.
    Orders,
    /// Lengths on the shelf.
    Stock,
    /// A length comes onto the shelf.
    Shelve {
        /// The cloth.
        name: &'a str,
        /// Measured, with its unit.
        width: &'a str,
        /// Measured, with its unit.
        length: &'a str,
        /// Of which lot.
        lot: &'a str,
    },
    /// Money came in for a job.
    Paid {
        /// The job's number.
        job: i64,
        /// How much; below nought went back.
        amount: &'a str,
        /// On which day; today unless said.
        day: &'a str,
        /// Cash, transfer and so on.
        how: &'a str,
    },
    /// Hours on a piece of a job.
    Hours {
        /// The job's number.
        job: i64,
        /// Which piece.
        piece: &'a str,
        /// `1:30`, `1.5` or `90 min`.
        time: &'a str,
        /// By whom.
        who: &'a str,
    },
}

fn words(trouble: Trouble) -> String {
    match trouble {
        Trouble::Missing => "there is no such thing".into(),
        Trouble::Input(what) | Trouble::Inside(what) => what,
    }
}

/// Answers: rows as data, and how a person reads each.
///
/// # Errors
/// In words.
pub fn ask(data: &Path, ask: &Ask) -> Result<Vec<(Value, String)>, String> {
    if !data.join(opened::FILE).exists() {
        return Err(format!(
            "{} holds no store; name the page's folder with --data",
            data.display()
        ));
    }
    let store = Store::open_beside(data)?;
    match ask {
        Ask::Jobs => jobs(&store),
        Ask::Invoices => invoices(&store),
        Ask::Table => {
            let all = store.invoices(None).map_err(|e| e.to_string())?;
            let table = invoices::csv_lines(&all).map_err(words)?;
            Ok(table.lines().map(|line| (json!(line), line.to_string())).collect())
        }
        Ask::Owed => owed(&store),
        Ask::Orders => orders(&store),
        Ask::Stock => shelf(&store),
        Ask::Shelve { name, width, length, lot } => {
            let unit = stock::unit_of(&store).map_err(words)?;
            let measure = |text, what| stock::measure(text, unit, what).map_err(words);
            if name.trim().is_empty() {
                return Err("say which cloth it is".into());
            }
            let arrival = Arrival {
                name: name.trim(),
                supplier: "",
                lot,
                width: measure(width, "width")?,
                length: measure(length, "length")?,
                note: "",
                why: "came in",
                job: None,
            };
            let label = store.arrive(&arrival, (HERE, &now())).map_err(|e| e.to_string())?;
            Ok(vec![(json!({ "label": label }), format!("{label}: on the shelf"))])
        }
        Ask::Paid { job, amount, day, how } => paid(&store, *job, (amount, day, how)),
        Ask::Hours { job, piece, time, who } => {
            known(&store, *job)?;
            let minutes = hours::typed(time).map_err(words)?;
            let worked = Worked {
                piece: (*piece).into(),
                operation: String::new(),
                minutes,
                day: money::today_and(0).0,
                who: (*who).into(),
            };
            store.work(*job, &worked, &now()).map_err(|e| e.to_string())?;
            let said = format!("{piece}: {} noted", hours::shown(minutes as f64));
            Ok(vec![(json!({ "minutes": minutes }), said)])
        }
    }
}

/// Who did it, where it was the command line.
const HERE: &str = "127.0.0.1";

fn known(store: &Store, job: i64) -> Result<(), String> {
    match store.job(job).map_err(|e| e.to_string())? {
        Some(_) => Ok(()),
        None => Err(format!("there is no job {job}; `clothwright books jobs` lists them")),
    }
}

fn paid(
    store: &Store,
    job: i64,
    (amount, day, how): (&str, &str, &str),
) -> Result<Vec<(Value, String)>, String> {
    known(store, job)?;
    let amount = money::amount(amount).map_err(words)?;
    if amount.is_zero() {
        return Err("a payment of nought is none".into());
    }
    let day = match day {
        "" => money::today_and(0).0,
        day => money::day(day, money::PAST).map_err(words)?,
    };
    let payment = Payment { job, day, amount, how: how.into() };
    store.pay(&payment, (HERE, &now())).map_err(|e| e.to_string())?;
    Ok(vec![(json!({ "job": job, "amount": amount.to_string() }), format!("{amount:.2} noted"))])
}

fn jobs(store: &Store) -> Result<Vec<(Value, String)>, String> {
    let all = store.jobs("", false, 10_000).map_err(|e| e.to_string())?;
    let row = |job: &super::store::Entry| {
        let told = json!({
            "job": job.id, "name": job.name, "customer": job.customer, "stage": job.stage,
            "due": job.due, "price": job.price,
        });
        let line = format!("{:>5}  {:<10} {} {}", job.id, job.stage, job.name, job.price);
        (told, line.trim_end().to_string())
    };
    Ok(all.iter().map(row).collect())
}

fn invoices(store: &Store) -> Result<Vec<(Value, String)>, String> {
    let all = store.invoices(None).map_err(|e| e.to_string())?;
    let row = |(job, invoice): &(i64, books::account::Invoice)| {
        let told = json!({
            "number": invoice.number, "job": job, "kind": invoice.kind.name(), "date": invoice.date,
            "due": invoice.due, "customer": invoice.buyer.name, "currency": invoice.currency,
            "total": format!("{:.2}", invoice.owed()),
        });
        let what = if invoice.kind == Kind::Credit { "credit note" } else { invoice.kind.name() };
        let line = format!(
            "{:>5}  {}  {what:<11} {:>12.2} {}  {}",
            invoice.number,
            invoice.date,
            invoice.owed(),
            invoice.currency,
            invoice.buyer.name
        );
        (told, line)
    };
    Ok(all.iter().map(row).collect())
}

fn owed(store: &Store) -> Result<Vec<(Value, String)>, String> {
    let all = store.owing().map_err(|e| e.to_string())?;
    let row = |owing: &super::ledger::Owing| {
        let (open, currency, name) = (&owing.open, &owing.currency, &owing.customer);
        let told = json!({
            "job": owing.job, "number": open.number, "due": open.due, "customer": name,
            "currency": currency, "owed": format!("{:.2}", open.owed),
        });
        let line =
            format!("{:>5}  due {}  {:>12.2} {currency}  {name}", open.number, open.due, open.owed);
        (told, line)
    };
    Ok(all.iter().map(row).collect())
}

fn orders(store: &Store) -> Result<Vec<(Value, String)>, String> {
    let all = store.orders().map_err(|e| e.to_string())?;
    let mut rows = Vec::new();
    for order in all {
        for (wanted, come) in &order.lines {
            let left = wanted.quantity - come;
            if left <= Decimal::ZERO {
                continue;
            }
            let told = json!({
                "number": order.number, "supplier": order.supplier, "due": order.due, "job": wanted.job,
                "item": wanted.item, "open": left.normalize().to_string(), "unit": wanted.unit,
            });
            let line = format!(
                "{:>5}  due {}  {} {} {}  ({})",
                order.number,
                order.due,
                left.normalize(),
                wanted.unit,
                wanted.item,
                order.supplier
            );
            rows.push((told, line));
        }
    }
    Ok(rows)
}

fn shelf(store: &Store) -> Result<Vec<(Value, String)>, String> {
    let unit = stock::unit_of(store).map_err(words)?;
    let all = store.shelf().map_err(|e| e.to_string())?;
    let row = |item: &super::shelf::Shelf| {
        let told = json!({
            "label": item.label, "cloth": item.name, "width_mm": item.width.mm(),
            "length_mm": item.length.mm(), "lot": item.lot, "promised_to": item.promised,
        });
        let promised =
            item.promised.map_or(String::new(), |job| format!(", promised to job {job}"));
        (told, format!("{:>5}  {}  {}{promised}", item.label, stock::size(item, unit), item.name))
    };
    Ok(all.iter().map(row).collect())
}
