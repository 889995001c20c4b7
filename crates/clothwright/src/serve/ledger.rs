//! The books in the store: what was agreed, invoices, payments, hours, lengths on the shelf. Lines are only
//! ever added; what was wrong is set right by another line. The file itself refuses anything else.

use super::store::{Result, Store};
use books::account::{Agreed, Invoice, Open, open};
use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;
use trade::operations::Operation;

/// The tables, and what makes wrong books impossible.
pub const TABLES: &str = "
    CREATE TABLE agreed (
        job INTEGER NOT NULL REFERENCES job(id), number INTEGER NOT NULL CHECK (number > 0),
        at TEXT NOT NULL, who TEXT NOT NULL, why TEXT NOT NULL, price TEXT NOT NULL,
        PRIMARY KEY (job, number)
    ) STRICT;
    CREATE TABLE change_note (
        id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job(id), at TEXT NOT NULL,
        who TEXT NOT NULL, words TEXT NOT NULL, before TEXT NOT NULL, price TEXT NOT NULL
    ) STRICT;
    CREATE TABLE change_answer (
        note INTEGER PRIMARY KEY REFERENCES change_note(id), accepted INTEGER NOT NULL
        CHECK (accepted IN (0, 1)), name TEXT NOT NULL, at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE invoice (
        number INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job(id), at TEXT NOT NULL,
        who TEXT NOT NULL, invoice TEXT NOT NULL
    ) STRICT;
    CREATE TABLE payment (
        id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job(id), day TEXT NOT NULL,
        cents INTEGER NOT NULL CHECK (cents <> 0), how TEXT NOT NULL, who TEXT NOT NULL, at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE worked (
        id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job(id), piece TEXT NOT NULL,
        operation TEXT NOT NULL, minutes INTEGER NOT NULL CHECK (minutes <> 0), day TEXT NOT NULL,
        who TEXT NOT NULL, at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE took (
        job INTEGER NOT NULL REFERENCES job(id), piece TEXT NOT NULL, minutes INTEGER NOT NULL,
        planned REAL NOT NULL, amounts TEXT NOT NULL, at TEXT NOT NULL, PRIMARY KEY (job, piece)
    ) STRICT;
    CREATE TABLE stock (
        id INTEGER PRIMARY KEY, label TEXT NOT NULL UNIQUE, name TEXT NOT NULL, supplier TEXT NOT NULL,
        lot TEXT NOT NULL, width INTEGER NOT NULL CHECK (width > 0), note TEXT NOT NULL, at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE movement (
        id INTEGER PRIMARY KEY, item INTEGER NOT NULL REFERENCES stock(id), at TEXT NOT NULL,
        who TEXT NOT NULL, why TEXT NOT NULL, length INTEGER NOT NULL CHECK (length <> 0),
        job INTEGER REFERENCES job(id)
    ) STRICT;
    CREATE TABLE promise (
        item INTEGER PRIMARY KEY REFERENCES stock(id), job INTEGER NOT NULL REFERENCES job(id),
        at TEXT NOT NULL
    ) STRICT;
    CREATE TABLE purchase (
        number INTEGER PRIMARY KEY, supplier TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL,
        due TEXT NOT NULL, lines TEXT NOT NULL
    ) STRICT;
    CREATE TABLE arrival (
        id INTEGER PRIMARY KEY, purchase INTEGER NOT NULL REFERENCES purchase(number),
        line INTEGER NOT NULL, quantity TEXT NOT NULL, at TEXT NOT NULL, who TEXT NOT NULL
    ) STRICT;
    CREATE TRIGGER orders_have_no_gap BEFORE INSERT ON purchase
        WHEN NEW.number <> (SELECT COALESCE(MAX(number), 0) + 1 FROM purchase)
        BEGIN SELECT RAISE(ABORT, 'orders are numbered one after the other'); END;
    CREATE TRIGGER orders_stay BEFORE UPDATE ON purchase BEGIN SELECT RAISE(ABORT, 'an order stays as sent'); END;
    CREATE TRIGGER orders_stay_there BEFORE DELETE ON purchase BEGIN SELECT RAISE(ABORT, 'an order stays as sent'); END;
    CREATE TRIGGER arrivals_stay BEFORE UPDATE ON arrival BEGIN SELECT RAISE(ABORT, 'an arrival stays'); END;
    CREATE TRIGGER arrivals_stay_there BEFORE DELETE ON arrival BEGIN SELECT RAISE(ABORT, 'an arrival stays'); END;
    CREATE INDEX invoices ON invoice(job);
    CREATE INDEX payments ON payment(job);
    CREATE INDEX works ON worked(job);
    CREATE INDEX movements ON movement(item);
    CREATE TRIGGER invoices_have_no_gap BEFORE INSERT ON invoice
        WHEN NEW.number <> (SELECT COALESCE(MAX(number), 0) + 1 FROM invoice)
        BEGIN SELECT RAISE(ABORT, 'invoices are numbered one after the other'); END;
    CREATE TRIGGER nothing_comes_from_nothing BEFORE INSERT ON movement
        WHEN NEW.length + (SELECT COALESCE(SUM(length), 0) FROM movement WHERE item = NEW.item) < 0
        BEGIN SELECT RAISE(ABORT, 'there is not so much of it'); END;
    CREATE TRIGGER agreed_stays BEFORE UPDATE ON agreed BEGIN SELECT RAISE(ABORT, 'what was agreed stays'); END;
    CREATE TRIGGER agreed_stays_there BEFORE DELETE ON agreed BEGIN SELECT RAISE(ABORT, 'what was agreed stays'); END;
    CREATE TRIGGER notes_stay BEFORE UPDATE ON change_note BEGIN SELECT RAISE(ABORT, 'a change note stays'); END;
    CREATE TRIGGER notes_stay_there BEFORE DELETE ON change_note BEGIN SELECT RAISE(ABORT, 'a change note stays'); END;
    CREATE TRIGGER answers_stay BEFORE UPDATE ON change_answer BEGIN SELECT RAISE(ABORT, 'an answer stays'); END;
    CREATE TRIGGER answers_stay_there BEFORE DELETE ON change_answer BEGIN SELECT RAISE(ABORT, 'an answer stays'); END;
    CREATE TRIGGER invoices_stay BEFORE UPDATE ON invoice BEGIN SELECT RAISE(ABORT, 'an invoice stays as issued'); END;
    CREATE TRIGGER invoices_stay_there BEFORE DELETE ON invoice BEGIN SELECT RAISE(ABORT, 'an invoice stays as issued'); END;
    CREATE TRIGGER payments_stay BEFORE UPDATE ON payment BEGIN SELECT RAISE(ABORT, 'a payment stays'); END;
    CREATE TRIGGER payments_stay_there BEFORE DELETE ON payment BEGIN SELECT RAISE(ABORT, 'a payment stays'); END;
    CREATE TRIGGER work_stays BEFORE UPDATE ON worked BEGIN SELECT RAISE(ABORT, 'hours stay'); END;
    CREATE TRIGGER work_stays_there BEFORE DELETE ON worked BEGIN SELECT RAISE(ABORT, 'hours stay'); END;
    CREATE TRIGGER movements_stay BEFORE UPDATE ON movement BEGIN SELECT RAISE(ABORT, 'a movement stays'); END;
    CREATE TRIGGER movements_stay_there BEFORE DELETE ON movement BEGIN SELECT RAISE(ABORT, 'a movement stays'); END;
";

/// Who did it, and when.
pub type Told<'a> = (&'a str, &'a str);

/// A price that was agreed, when and why.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// From 1.
    pub number: i64,
    /// When.
    pub at: String,
    /// `as quoted`, or the change.
    pub why: String,
    /// The price.
    pub price: Agreed,
}

/// More or other work put to the customer.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// Its number in the store.
    pub id: i64,
    /// When.
    pub at: String,
    /// What it is.
    pub words: String,
    /// What was agreed before.
    pub before: Decimal,
    /// What it comes to with the change.
    pub price: Agreed,
    /// Accepted or not, by whom, when; nothing while it is open.
    pub answer: Option<(bool, String, String)>,
}

/// Money that came in, or went back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Payment {
    /// For which job.
    pub job: i64,
    /// On which day.
    pub day: String,
    /// How much.
    pub amount: Decimal,
    /// Cash, transfer and so on.
    pub how: String,
}

/// An invoice that is not paid, or not whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Owing {
    /// For which job.
    pub job: i64,
    /// Who owes it.
    pub customer: String,
    /// Sign or code.
    pub currency: String,
    /// Which invoice, and how much of it.
    pub open: Open,
}

/// Time noted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// On which piece.
    pub piece: String,
    /// Key of the operation; empty for all of it.
    pub operation: String,
    /// Minutes; below nought where a line is set right.
    pub minutes: i64,
    /// On which day.
    pub day: String,
    /// By whom.
    pub who: String,
}

/// What a piece took, all of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Taken {
    /// For which job.
    pub job: i64,
    /// Which piece.
    pub piece: String,
    /// Minutes it took.
    pub minutes: i64,
    /// Minutes that were planned.
    pub planned: f64,
    /// So much of each operation.
    pub amounts: Vec<(Operation, f64)>,
}

/// What the store holds cannot be read.
pub fn wrong(what: impl std::error::Error + Send + Sync + 'static) -> rusqlite::Error {
    rusqlite::Error::FromSqlConversionFailure(0, rusqlite::types::Type::Text, Box::new(what))
}

fn read<T: serde::de::DeserializeOwned>(text: &str) -> Result<T> {
    serde_json::from_str(text).map_err(wrong)
}

fn write<T: serde::Serialize>(what: &T) -> Result<String> {
    serde_json::to_string(what).map_err(wrong)
}

fn money(text: &str) -> Result<Decimal> {
    text.parse().map_err(wrong)
}

impl Store {
    /// All prices that were agreed for a job, the oldest first.
    pub fn agreed(&self, job: i64) -> Result<Vec<Settled>> {
        let connection = self.lock();
        let mut asked = connection.prepare_cached(
            "SELECT number, at, why, price FROM agreed WHERE job = ?1 ORDER BY number",
        )?;
        let row = |r: &rusqlite::Row| Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get::<_, String>(3)?));
        let all = asked.query_map([job], row)?;
        all.map(|row| {
            let (number, at, why, price) = row?;
            Ok(Settled { number, at, why, price: read(&price)? })
        })
        .collect()
    }

    /// A price is agreed.
    pub fn agree(&self, job: i64, price: &Agreed, why: &str, told: Told) -> Result<()> {
        let connection = self.writing()?;
        put_agreed(&connection, job, price, why, told)
    }

    /// Change notes of a job, the oldest first.
    pub fn notes(&self, job: i64) -> Result<Vec<Note>> {
        let connection = self.lock();
        let mut asked = connection.prepare_cached(
            "SELECT n.id, n.at, n.words, n.before, n.price, a.accepted, a.name, a.at FROM change_note n
             LEFT JOIN change_answer a ON a.note = n.id WHERE n.job = ?1 ORDER BY n.id",
        )?;
        let row = |r: &rusqlite::Row| {
            let accepted: Option<bool> = r.get(5)?;
            let answer = match accepted {
                Some(accepted) => Some((accepted, r.get(6)?, r.get(7)?)),
                None => None,
            };
            let texts: (String, String) = (r.get(3)?, r.get(4)?);
            Ok((r.get(0)?, r.get(1)?, r.get(2)?, texts, answer))
        };
        let all = asked.query_map([job], row)?;
        all.map(|row| {
            let (id, at, words, (before, price), answer) = row?;
            Ok(Note { id, at, words, before: money(&before)?, price: read(&price)?, answer })
        })
        .collect()
    }

    /// A change is put to the customer.
    pub fn note(
        &self,
        job: i64,
        words: &str,
        (before, price): (Decimal, &Agreed),
        (who, at): Told,
    ) -> Result<()> {
        self.writing()?.execute(
            "INSERT INTO change_note (job, at, who, words, before, price) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![job, at, who, words, before.to_string(), write(price)?],
        )?;
        Ok(())
    }

    /// The customer has answered: an accepted change is what is agreed from now on. A second answer is
    /// refused.
    pub fn answer_note(
        &self,
        job: i64,
        id: i64,
        accepted: bool,
        name: &str,
        told: Told,
    ) -> Result<bool> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let found: Option<(String, String)> = transaction
            .query_row(
                "SELECT words, price FROM change_note WHERE id = ?1 AND job = ?2",
                [id, job],
                |r| Ok((r.get(0)?, r.get(1)?)),
            )
            .optional()?;
        let Some((words, price)) = found else { return Ok(false) };
        let fresh = transaction.execute(
            "INSERT OR IGNORE INTO change_answer VALUES (?1, ?2, ?3, ?4)",
            params![id, accepted, name, told.1],
        )?;
        if fresh == 1 && accepted {
            put_agreed(&transaction, job, &read(&price)?, &words, told)?;
        }
        transaction.commit()?;
        Ok(fresh == 1)
    }

    /// Invoices of a job, or of all, by number.
    pub fn invoices(&self, job: Option<i64>) -> Result<Vec<(i64, Invoice)>> {
        let connection = self.lock();
        let mut asked = connection.prepare_cached(
            "SELECT job, invoice FROM invoice WHERE ?1 IS NULL OR job = ?1 ORDER BY number",
        )?;
        let all = asked.query_map([job], |r| Ok((r.get(0)?, r.get::<_, String>(1)?)))?;
        all.map(|row| {
            let (job, text) = row?;
            Ok((job, read(&text)?))
        })
        .collect()
    }

    /// Issues an invoice under the next number, made by `make` from those before it within one transaction:
    /// two at once never invoice the same thing.
    pub fn issue<E>(
        &self,
        job: i64,
        (who, at): Told,
        make: impl FnOnce(i64, &[Invoice]) -> std::result::Result<Invoice, E>,
    ) -> Result<std::result::Result<Invoice, E>> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let number: i64 =
            transaction
                .query_row("SELECT COALESCE(MAX(number), 0) + 1 FROM invoice", [], |r| r.get(0))?;
        let before: Vec<String> = {
            let mut asked = transaction
                .prepare_cached("SELECT invoice FROM invoice WHERE job = ?1 ORDER BY number")?;
            asked.query_map([job], |r| r.get(0))?.collect::<Result<_>>()?
        };
        let before = before.iter().map(|text| read(text)).collect::<Result<Vec<Invoice>>>()?;
        let invoice = match make(number, &before) {
            Ok(invoice) => invoice,
            Err(e) => return Ok(Err(e)),
        };
        transaction.execute(
            "INSERT INTO invoice VALUES (?1, ?2, ?3, ?4, ?5)",
            params![number, job, at, who, write(&invoice)?],
        )?;
        transaction.commit()?;
        Ok(Ok(invoice))
    }

    /// Payments of a job, or of all, in the order in which they were noted.
    pub fn payments(&self, job: Option<i64>) -> Result<Vec<Payment>> {
        let connection = self.lock();
        let mut asked = connection.prepare_cached(
            "SELECT job, day, cents, how FROM payment WHERE ?1 IS NULL OR job = ?1 ORDER BY id",
        )?;
        let payment = |r: &rusqlite::Row| {
            let amount = Decimal::new(r.get(2)?, 2);
            Ok(Payment { job: r.get(0)?, day: r.get(1)?, amount, how: r.get(3)? })
        };
        asked.query_map([job], payment)?.collect()
    }

    /// What is open of each invoice, by job.
    pub fn owing(&self) -> Result<Vec<Owing>> {
        let mut by_job: BTreeMap<i64, Vec<Invoice>> = BTreeMap::new();
        for (job, invoice) in self.invoices(None)? {
            by_job.entry(job).or_default().push(invoice);
        }
        let payments = self.payments(None)?;
        let mut all = Vec::new();
        for (job, invoices) in by_job {
            let paid = payments.iter().filter(|p| p.job == job).map(|p| p.amount).sum();
            let Some(first) = invoices.first() else { continue };
            let (customer, currency) = (first.buyer.name.clone(), first.currency.clone());
            let (open, _) = open(&invoices, paid);
            all.extend(open.into_iter().map(|open| Owing {
                job,
                customer: customer.clone(),
                currency: currency.clone(),
                open,
            }));
        }
        Ok(all)
    }

    /// Money came in; less than nought went back.
    pub fn pay(&self, payment: &Payment, (who, at): Told) -> Result<()> {
        let cents = (payment.amount * Decimal::ONE_HUNDRED).round().to_i64().unwrap_or(0);
        self.writing()?.execute(
            "INSERT INTO payment (job, day, cents, how, who, at) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![payment.job, payment.day, cents, payment.how, who, at],
        )?;
        Ok(())
    }

    /// Hours noted of a job, in the order in which they were noted.
    pub fn worked(&self, job: i64) -> Result<Vec<Worked>> {
        let connection = self.lock();
        let mut asked = connection.prepare_cached(
            "SELECT piece, operation, minutes, day, who FROM worked WHERE job = ?1 ORDER BY id",
        )?;
        let worked = |r: &rusqlite::Row| {
            Ok(Worked {
                piece: r.get(0)?,
                operation: r.get(1)?,
                minutes: r.get(2)?,
                day: r.get(3)?,
                who: r.get(4)?,
            })
        };
        asked.query_map([job], worked)?.collect()
    }

    /// Notes hours.
    pub fn work(&self, job: i64, worked: &Worked, at: &str) -> Result<()> {
        self.writing()?.execute(
            "INSERT INTO worked (job, piece, operation, minutes, day, who, at) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            params![job, worked.piece, worked.operation, worked.minutes, worked.day, worked.who, at],
        )?;
        Ok(())
    }

    /// Pieces whose hours are all noted: of one job or of all.
    pub fn taken(&self, job: Option<i64>) -> Result<Vec<Taken>> {
        let connection = self.lock();
        let mut asked = connection.prepare_cached(
            "SELECT job, piece, minutes, planned, amounts FROM took WHERE ?1 IS NULL OR job = ?1
             ORDER BY at, job, piece",
        )?;
        let row = |r: &rusqlite::Row| {
            Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?, r.get::<_, String>(4)?))
        };
        let all = asked.query_map([job], row)?;
        all.map(|row| {
            let (job, piece, minutes, planned, amounts) = row?;
            let amounts: Vec<(String, f64)> = read(&amounts)?;
            let known = amounts.into_iter().filter_map(|(key, n)| Some((Operation::of(&key)?, n)));
            Ok(Taken { job, piece, minutes, planned, amounts: known.collect() })
        })
        .collect()
    }

    /// All hours of a piece are noted: what it took against what was planned. Said again it is said anew.
    pub fn take(&self, taken: &Taken, at: &str) -> Result<()> {
        let amounts: Vec<(&str, f64)> = taken.amounts.iter().map(|(o, n)| (o.key(), *n)).collect();
        self.writing()?.execute(
            "INSERT OR REPLACE INTO took VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![taken.job, taken.piece, taken.minutes, taken.planned, write(&amounts)?, at],
        )?;
        Ok(())
    }
}

fn put_agreed(
    connection: &Connection,
    job: i64,
    price: &Agreed,
    why: &str,
    (who, at): Told,
) -> Result<()> {
    connection.execute(
        "INSERT INTO agreed SELECT ?1, COALESCE(MAX(number), 0) + 1, ?2, ?3, ?4, ?5 FROM agreed WHERE job = ?1",
        params![job, at, who, why, write(price)?],
    )?;
    Ok(())
}

#[cfg(test)]
pub mod tests {
    use super::*;
    use crate::serve::store::Titled;
    use books::account::{Body, Kind, Line, Party, Refused, part, rest};

    pub fn store() -> (tempfile::TempDir, Store, i64) {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let job = Titled {
            text: "[job]\nname = \"J\"\n",
            name: "J".into(),
            customer: String::new(),
            due: String::new(),
            words: String::new(),
        };
        let job = store.add(&job, "measured", "a", "t").unwrap();
        (folder, store, job)
    }

    fn agreed(cents: i64) -> Agreed {
        let net = Decimal::new(cents, 2);
        let line = Line { what: "all".into(), net, percent: Decimal::ZERO };
        Agreed {
            currency: "EUR".into(),
            tax_name: "VAT".into(),
            lines: vec![line],
            total: net,
            deposit: Decimal::ZERO,
        }
    }

    fn invoice(number: i64, kind: Kind, body: Body) -> Invoice {
        Invoice {
            number,
            kind,
            takes_back: None,
            date: "2026-11-27".into(),
            due: "2026-12-27".into(),
            job: "J".into(),
            seller: Party::default(),
            buyer: Party::default(),
            currency: "EUR".into(),
            tax_name: "VAT".into(),
            lines: body.lines,
            rounding: body.rounding,
            terms: String::new(),
        }
    }

    #[test]
    fn the_file_refuses_wrong_books() {
        let (_folder, store, job) = store();
        store.agree(job, &agreed(10_000), "as quoted", ("a", "t")).unwrap();
        let told = ("a", "t");
        let make = |number: i64, before: &[Invoice]| {
            part(&agreed(10_000), before, Decimal::from(40), "part")
                .map(|b| invoice(number, Kind::Part, b))
        };
        assert_eq!(store.issue(job, told, make).unwrap().unwrap().number, 1);
        let make = |number: i64, before: &[Invoice]| {
            rest(&agreed(10_000), before, |_| "less".into())
                .map(|b| invoice(number, Kind::Final, b))
        };
        assert_eq!(store.issue(job, told, make).unwrap().unwrap().total(), Decimal::from(60));
        // Nothing is left: refused, and no number is lost.
        assert_eq!(store.issue(job, told, make).unwrap().unwrap_err(), Refused::NothingLeft);
        assert_eq!(store.invoices(None).unwrap().len(), 2);
        let connection = store.lock();
        for statement in [
            "UPDATE invoice SET invoice = 'x'",
            "DELETE FROM invoice WHERE number = 2",
            "INSERT INTO invoice VALUES (7, 1, 't', 'a', '{}')",
            "INSERT INTO invoice VALUES (3, 99, 't', 'a', '{}')",
            "UPDATE agreed SET price = 'x'",
            "DELETE FROM agreed",
            "INSERT INTO payment (job, day, cents, how, who, at) VALUES (1, 'd', 0, '', '', '')",
        ] {
            assert!(connection.execute(statement, []).is_err(), "{statement}");
        }
    }

    #[test]
    fn an_accepted_change_is_what_is_agreed_and_is_answered_once() {
        let (_folder, store, job) = store();
        let told = ("a", "t");
        store.agree(job, &agreed(10_000), "as quoted", told).unwrap();
        store.note(job, "broken rail", (Decimal::from(100), &agreed(12_500)), told).unwrap();
        let id = store.notes(job).unwrap()[0].id;
        assert!(store.answer_note(job, id, true, "M. Miller", told).unwrap());
        assert!(!store.answer_note(job, id, false, "M. Miller", told).unwrap());
        let all = store.agreed(job).unwrap();
        assert_eq!((all.len(), all[1].price.total), (2, Decimal::from(125)));
        assert!(store.notes(job).unwrap()[0].answer.as_ref().unwrap().0);
    }
}
