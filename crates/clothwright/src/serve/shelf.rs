//! Lengths of cloth in the store: what is there is the sum of what came in, was cut and put right.

use super::ledger::Told;
use super::store::{Result, Store};
use geometry::Length;
use rusqlite::{Connection, TransactionBehavior, params};

/// A length of cloth on the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shelf {
    /// Its number in the store.
    pub id: i64,
    /// Written on it.
    pub label: String,
    /// The cloth.
    pub name: String,
    /// Where it is from.
    pub supplier: String,
    /// Of which lot.
    pub lot: String,
    /// Selvedge to selvedge, measured.
    pub width: Length,
    /// What is there.
    pub length: Length,
    /// Flaws and so on.
    pub note: String,
    /// The job it is promised to.
    pub promised: Option<i64>,
}

/// What comes onto the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrival<'a> {
    /// The cloth.
    pub name: &'a str,
    /// Where it is from.
    pub supplier: &'a str,
    /// Of which lot.
    pub lot: &'a str,
    /// Measured.
    pub width: Length,
    /// Measured.
    pub length: Length,
    /// Flaws and so on.
    pub note: &'a str,
    /// Why it is there: `came in`, `left over`.
    pub why: &'a str,
    /// The job it is left from.
    pub job: Option<i64>,
}

/// A line of what happened to a length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Movement {
    /// When.
    pub at: String,
    /// By whom.
    pub who: String,
    /// Why.
    pub why: String,
    /// More, or less.
    pub length: Length,
    /// For which job.
    pub job: Option<i64>,
}

impl Store {
    /// Lengths that are on the shelf.
    pub fn shelf(&self) -> Result<Vec<Shelf>> {
        Ok(self.all_lengths()?.into_iter().filter(|item| item.length > Length::ZERO).collect())
    }

    /// Whether a job has put something on the shelf for a reason.
    pub fn has_moved(&self, job: i64, why: &str) -> Result<bool> {
        self.lock().query_row(
            "SELECT EXISTS (SELECT 1 FROM movement WHERE job = ?1 AND why = ?2)",
            params![job, why],
            |r| r.get(0),
        )
    }

    /// Lengths that are, or were, on the shelf.
    pub fn all_lengths(&self) -> Result<Vec<Shelf>> {
        let connection = self.lock();
        let mut asked = connection.prepare_cached(
            "SELECT s.id, s.label, s.name, s.supplier, s.lot, s.width, s.note, p.job,
             (SELECT SUM(length) FROM movement WHERE item = s.id) FROM stock s
             LEFT JOIN promise p ON p.item = s.id ORDER BY s.name COLLATE NOCASE, s.id",
        )?;
        let shelf = |r: &rusqlite::Row| {
            Ok(Shelf {
                id: r.get(0)?,
                label: r.get(1)?,
                name: r.get(2)?,
                supplier: r.get(3)?,
                lot: r.get(4)?,
                width: Length::from_nm(r.get(5)?),
                note: r.get(6)?,
                promised: r.get(7)?,
                length: Length::from_nm(r.get::<_, Option<i64>>(8)?.unwrap_or(0)),
            })
        };
        asked.query_map([], shelf)?.collect()
    }

    /// A length comes onto the shelf; its label.
    pub fn arrive(&self, arrival: &Arrival, (who, at): Told) -> Result<String> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let next: i64 =
            transaction
                .query_row("SELECT COALESCE(MAX(id), 0) + 1 FROM stock", [], |r| r.get(0))?;
        let label = format!("R{next}");
        transaction.execute(
            "INSERT INTO stock VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
            params![
                next,
                label,
                arrival.name,
                arrival.supplier,
                arrival.lot,
                arrival.width.nm(),
                arrival.note,
                at
            ],
        )?;
        moved(&transaction, next, arrival.length, arrival.why, (who, at), arrival.job)?;
        transaction.commit()?;
        Ok(label)
    }

    /// More or less of a length, and why.
    pub fn move_length(
        &self,
        item: i64,
        length: Length,
        why: &str,
        told: Told,
        job: Option<i64>,
    ) -> Result<()> {
        moved(&*self.writing()?, item, length, why, told, job)
    }

    /// What happened to a length.
    pub fn movements(&self, item: i64) -> Result<Vec<Movement>> {
        let connection = self.lock();
        let mut asked = connection.prepare_cached(
            "SELECT at, who, why, length, job FROM movement WHERE item = ?1 ORDER BY id",
        )?;
        let movement = |r: &rusqlite::Row| {
            Ok(Movement {
                at: r.get(0)?,
                who: r.get(1)?,
                why: r.get(2)?,
                length: Length::from_nm(r.get(3)?),
                job: r.get(4)?,
            })
        };
        asked.query_map([item], movement)?.collect()
    }

    /// Promises a length to a job; `false` if another job has it already.
    pub fn promise(&self, item: i64, job: i64, at: &str) -> Result<bool> {
        let fresh = self
            .writing()?
            .execute("INSERT OR IGNORE INTO promise VALUES (?1, ?2, ?3)", params![item, job, at])?;
        Ok(fresh == 1)
    }

    /// Gives a promised length free again.
    pub fn free(&self, item: i64) -> Result<()> {
        self.writing()?.execute("DELETE FROM promise WHERE item = ?1", [item])?;
        Ok(())
    }
}

fn moved(
    connection: &Connection,
    item: i64,
    length: Length,
    why: &str,
    (who, at): Told,
    job: Option<i64>,
) -> Result<()> {
    connection.execute(
        "INSERT INTO movement (item, at, who, why, length, job) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
        params![item, at, who, why, length.nm(), job],
    )?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::serve::ledger::tests::store;

    #[test]
    fn a_length_is_the_sum_of_its_lines_and_promised_once() {
        let (_folder, store, job) = store();
        let told = ("a", "t");
        let arrival = Arrival {
            name: "Moss",
            supplier: "",
            lot: "7",
            width: Length::from_mm(1400.0),
            length: Length::from_mm(3000.0),
            note: "",
            why: "came in",
            job: None,
        };
        assert_eq!(store.arrive(&arrival, told).unwrap(), "R1");
        store.move_length(1, -Length::from_mm(1200.0), "cut", told, Some(job)).unwrap();
        assert_eq!(store.shelf().unwrap()[0].length, Length::from_mm(1800.0));
        assert!(store.move_length(1, -Length::from_mm(1800.1), "cut", told, None).is_err());
        assert!(store.promise(1, job, "t").unwrap());
        assert!(!store.promise(1, job, "t").unwrap());
        store.move_length(1, -Length::from_mm(1800.0), "cut", told, None).unwrap();
        assert!(store.shelf().unwrap().is_empty());
        let sum: i64 = store.movements(1).unwrap().iter().map(|m| m.length.nm()).sum();
        assert_eq!(sum, 0);
        assert!(store.lock().execute("UPDATE movement SET length = 5", []).is_err());
    }
}
