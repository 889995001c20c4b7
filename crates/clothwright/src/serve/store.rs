//! One SQLite file: jobs with every revision kept, photos, ticks, settings, sessions.
//!
//! A revision is a whole job file; nothing is ever overwritten. What is acknowledged is on disk.

use super::opened;
use rusqlite::backup::Backup;
use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};
use std::path::Path;
use std::sync::{Mutex, MutexGuard};
use std::time::Duration;

/// The store.
pub struct Store {
    connection: Mutex<Connection>,
    /// Where its file lies; none of a store in memory.
    place: Option<opened::Place>,
}

/// A job in the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its number.
    pub id: i64,
    /// Its name.
    pub name: String,
    /// What has been done last: one of the shop's verbs.
    pub stage: String,
    /// When it was last changed.
    pub changed: String,
}

/// A job's text to keep, with what lists show of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Titled<'a> {
    /// The job file.
    pub text: &'a str,
    /// The job's name.
    pub name: String,
    /// Who it is for; may be empty.
    pub customer: String,
}

/// A customer with jobs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Customer {
    /// The name.
    pub name: String,
    /// The job changed last.
    pub newest: i64,
    /// How many jobs.
    pub jobs: i64,
}

/// One kept text of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    /// From 1.
    pub number: i64,
    /// The job file.
    pub text: String,
    /// When.
    pub at: String,
    /// From where.
    pub who: String,
    /// What changed.
    pub note: String,
    /// Kept beside the others: it was made on an older text.
    pub aside: bool,
}

/// What became of a save.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Saved {
    /// It is the newest now.
    Newest(i64),
    /// Someone had saved in between: kept aside under this number.
    Aside(i64),
}

type Result<T> = rusqlite::Result<T>;

impl Store {
    /// Opens or makes the store in a folder, and brings it up to date.
    ///
    /// # Errors
    /// Why it cannot be used, and what to do.
    pub fn open(folder: &Path) -> std::result::Result<Self, String> {
        let (connection, place) = opened::open(folder)?;
        Ok(Self { connection: Mutex::new(connection), place: Some(place) })
    }

    /// Opens the store beside a program that is using it.
    ///
    /// # Errors
    /// See [`Self::open`].
    pub fn open_beside(folder: &Path) -> std::result::Result<Self, String> {
        let (connection, place) = opened::open_beside(folder)?;
        Ok(Self { connection: Mutex::new(connection), place: Some(place) })
    }

    fn lock(&self) -> MutexGuard<'_, Connection> {
        // A panic elsewhere leaves the connection usable: every change is one transaction.
        self.connection.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }

    /// The connection for a change, once it is sure that the file is still the one that was opened.
    fn writing(&self) -> Result<MutexGuard<'_, Connection>> {
        if let Some(place) = &self.place {
            place.still_there()?;
        }
        Ok(self.lock())
    }

    /// A new job with its first text.
    pub fn add(&self, job: &Titled, stage: &str, who: &str, now: &str) -> Result<i64> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        transaction.execute(
            "INSERT INTO job (name, stage, changed, customer) VALUES (?1, ?2, ?3, ?4)",
            params![job.name, stage, now, job.customer],
        )?;
        let id = transaction.last_insert_rowid();
        transaction.execute(
            "INSERT INTO revision VALUES (?1, 1, ?2, ?3, ?4, 'begun', 0)",
            params![id, job.text, now, who],
        )?;
        transaction.commit()?;
        Ok(id)
    }

    /// Jobs, the last changed first; those whose name or customer holds some words.
    pub fn jobs(&self, words: &str, most: usize) -> Result<Vec<Entry>> {
        let connection = self.lock();
        let mut statement = connection.prepare_cached(
            "SELECT id, name, stage, changed FROM job
             WHERE instr(lower(name), lower(?1)) > 0 OR instr(lower(customer), lower(?1)) > 0
             ORDER BY changed DESC, id DESC LIMIT ?2",
        )?;
        let rows = statement.query_map(params![words, most as i64], |r| {
            Ok(Entry { id: r.get(0)?, name: r.get(1)?, stage: r.get(2)?, changed: r.get(3)? })
        })?;
        rows.collect()
    }

    /// Customers with jobs, by name; those whose name holds some words.
    pub fn customers(&self, words: &str, most: usize) -> Result<Vec<Customer>> {
        let connection = self.lock();
        // SQLite takes the other columns from the row that has the maximum.
        let mut statement = connection.prepare_cached(
            "SELECT customer, id, count(*), max(changed) FROM job
             WHERE customer <> '' AND instr(lower(customer), lower(?1)) > 0
             GROUP BY customer ORDER BY customer COLLATE NOCASE LIMIT ?2",
        )?;
        let rows = statement.query_map(params![words, most as i64], |r| {
            Ok(Customer { name: r.get(0)?, newest: r.get(1)?, jobs: r.get(2)? })
        })?;
        rows.collect()
    }

    /// One job.
    pub fn job(&self, id: i64) -> Result<Option<Entry>> {
        self.lock()
            .query_row("SELECT id, name, stage, changed FROM job WHERE id = ?1", [id], |r| {
                Ok(Entry { id: r.get(0)?, name: r.get(1)?, stage: r.get(2)?, changed: r.get(3)? })
            })
            .optional()
    }

    /// What has been done with a job last.
    pub fn set_stage(&self, id: i64, stage: &str, now: &str) -> Result<()> {
        self.writing()?.execute(
            "UPDATE job SET stage = ?2, changed = ?3 WHERE id = ?1",
            params![id, stage, now],
        )?;
        Ok(())
    }

    /// The newest text that was not kept aside.
    pub fn newest(&self, id: i64) -> Result<Option<Revision>> {
        self.lock()
            .query_row(
                "SELECT number, text, at, who, note, aside FROM revision
                 WHERE job = ?1 AND aside = 0 ORDER BY number DESC LIMIT 1",
                [id],
                revision,
            )
            .optional()
    }

    /// One kept text.
    pub fn revision(&self, id: i64, number: i64) -> Result<Option<Revision>> {
        self.lock()
            .query_row(
                "SELECT number, text, at, who, note, aside FROM revision WHERE job = ?1 AND number = ?2",
                [id, number],
                revision,
            )
            .optional()
    }

    /// All kept texts, newest first.
    pub fn revisions(&self, id: i64, most: usize) -> Result<Vec<Revision>> {
        let connection = self.lock();
        let mut statement = connection.prepare_cached(
            "SELECT number, text, at, who, note, aside FROM revision WHERE job = ?1
             ORDER BY number DESC LIMIT ?2",
        )?;
        statement.query_map([id, most as i64], revision)?.collect()
    }

    /// Keeps a text made on revision `base`: as the newest if nothing newer was saved meanwhile, else aside.
    pub fn save(
        &self,
        id: i64,
        base: i64,
        job: &Titled,
        (who, note, now): (&str, &str, &str),
    ) -> Result<Saved> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let (newest, last): (i64, i64) = transaction.query_row(
            "SELECT max(CASE aside WHEN 0 THEN number ELSE 0 END), max(number) FROM revision WHERE job = ?1",
            [id],
            |r| Ok((r.get(0)?, r.get(1)?)),
        )?;
        let aside = newest != base;
        transaction.execute(
            "INSERT INTO revision VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            params![id, last + 1, job.text, now, who, note, aside],
        )?;
        if !aside {
            transaction.execute(
                "UPDATE job SET name = ?2, changed = ?3, customer = ?4 WHERE id = ?1",
                params![id, job.name, now, job.customer],
            )?;
        }
        transaction.commit()?;
        Ok(if aside { Saved::Aside(last + 1) } else { Saved::Newest(last + 1) })
    }

    /// A step at the bench done, or not done after all.
    pub fn tick(&self, id: i64, piece: &str, step: i64, done: Option<&str>) -> Result<()> {
        let connection = self.writing()?;
        match done {
            Some(now) => connection.execute(
                "INSERT OR REPLACE INTO tick VALUES (?1, ?2, ?3, ?4)",
                params![id, piece, step, now],
            )?,
            None => connection.execute(
                "DELETE FROM tick WHERE job = ?1 AND piece = ?2 AND step = ?3",
                params![id, piece, step],
            )?,
        };
        Ok(())
    }

    /// Steps done stay with a piece that is called otherwise.
    pub fn rename_ticks(&self, id: i64, before: &str, after: &str) -> Result<()> {
        self.writing()?.execute(
            "UPDATE OR REPLACE tick SET piece = ?3 WHERE job = ?1 AND piece = ?2",
            params![id, before, after],
        )?;
        Ok(())
    }

    /// Steps done: piece, step, when.
    pub fn ticks(&self, id: i64) -> Result<Vec<(String, i64, String)>> {
        let connection = self.lock();
        let mut statement =
            connection.prepare_cached("SELECT piece, step, at FROM tick WHERE job = ?1")?;
        statement.query_map([id], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?.collect()
    }

    /// Keeps a photograph.
    pub fn add_photo(&self, id: i64, words: &str, now: &str, jpeg: &[u8]) -> Result<i64> {
        let connection = self.writing()?;
        connection.execute(
            "INSERT INTO photo (job, words, at, jpeg) VALUES (?1, ?2, ?3, ?4)",
            params![id, words, now, jpeg],
        )?;
        Ok(connection.last_insert_rowid())
    }

    /// Photographs of a job: number, words, when.
    pub fn photos(&self, id: i64) -> Result<Vec<(i64, String, String)>> {
        let connection = self.lock();
        let mut statement = connection
            .prepare_cached("SELECT id, words, at FROM photo WHERE job = ?1 ORDER BY id")?;
        statement.query_map([id], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?.collect()
    }

    /// A photograph.
    pub fn photo(&self, id: i64) -> Result<Option<Vec<u8>>> {
        self.lock().query_row("SELECT jpeg FROM photo WHERE id = ?1", [id], |r| r.get(0)).optional()
    }

    /// A setting of the shop.
    pub fn setting(&self, key: &str) -> Result<Option<String>> {
        self.lock()
            .query_row("SELECT value FROM setting WHERE key = ?1", [key], |r| r.get(0))
            .optional()
    }

    /// Keeps a setting of the shop.
    pub fn set_setting(&self, key: &str, value: &str) -> Result<()> {
        self.writing()?.execute("INSERT OR REPLACE INTO setting VALUES (?1, ?2)", [key, value])?;
        Ok(())
    }

    /// Someone has come in.
    pub fn add_session(&self, hash: &str, now: &str, words: &str) -> Result<()> {
        self.writing()?.execute("INSERT INTO session VALUES (?1, ?2, ?3)", [hash, now, words])?;
        Ok(())
    }

    /// Whether a session goes on.
    pub fn has_session(&self, hash: &str) -> Result<bool> {
        let found = self
            .lock()
            .query_row("SELECT 1 FROM session WHERE hash = ?1", [hash], |_| Ok(()))
            .optional()?;
        Ok(found.is_some())
    }

    /// Sessions that go on: mark, since when, from where.
    pub fn sessions(&self) -> Result<Vec<(String, String, String)>> {
        let connection = self.lock();
        let mut statement =
            connection.prepare_cached("SELECT hash, made, words FROM session ORDER BY made")?;
        statement.query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))?.collect()
    }

    /// Ends a session.
    pub fn end_session(&self, hash: &str) -> Result<()> {
        self.writing()?.execute("DELETE FROM session WHERE hash = ?1", [hash])?;
        Ok(())
    }

    /// Copies the whole store to a file while it is in use.
    ///
    /// # Errors
    /// What SQLite says.
    pub fn backup(&self, to: &Path) -> Result<()> {
        let connection = self.lock();
        let mut copy = Connection::open(to)?;
        Backup::new(&connection, &mut copy)?.run_to_completion(256, Duration::ZERO, None)?;
        // What is left of this store's log does not belong to the copy.
        opened::mark(&copy, "copy")
    }
}

fn revision(r: &rusqlite::Row) -> Result<Revision> {
    Ok(Revision {
        number: r.get(0)?,
        text: r.get(1)?,
        at: r.get(2)?,
        who: r.get(3)?,
        note: r.get(4)?,
        aside: r.get(5)?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sofa(text: &str) -> Titled<'_> {
        Titled { text, name: "Sofa".into(), customer: "Mill House".into() }
    }

    fn store() -> Store {
        let connection = Connection::open_in_memory().unwrap();
        Store { connection: Mutex::new(opened::prepare(connection).unwrap()), place: None }
    }

    #[test]
    fn two_writers_lose_nothing() {
        let store = store();
        let id = store.add(&sofa("one"), "measured", "a", "t").unwrap();
        let first = store.save(id, 1, &sofa("two"), ("a", "", "t")).unwrap();
        assert_eq!(first, Saved::Newest(2));
        // Made on the first text, which is no longer the newest.
        let second = store.save(id, 1, &sofa("other"), ("b", "", "t")).unwrap();
        assert_eq!(second, Saved::Aside(3));
        assert_eq!(store.newest(id).unwrap().unwrap().text, "two");
        assert_eq!(store.revision(id, 3).unwrap().unwrap().text, "other");
        assert_eq!(store.save(id, 2, &sofa("four"), ("a", "", "t")).unwrap(), Saved::Newest(4));
        assert_eq!(store.revisions(id, 10).unwrap().len(), 4);
    }

    #[test]
    fn an_older_file_is_brought_up_to_date() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("clothwright.sqlite");
        let old = Connection::open(&path).unwrap();
        old.execute_batch(opened::FIRST).unwrap();
        old.execute_batch(
            "INSERT INTO job VALUES (1, 'Sofa', 'cut', 't'); INSERT INTO revision VALUES (1, 1, 'one', 't', 'a', '', 0);
             INSERT INTO job VALUES (2, 'Bench', 'cut', 't');
             INSERT INTO revision VALUES (2, 1, '[customer]
name = \"Old Mill\"', 't', 'a', '', 0);
             PRAGMA user_version = 1;",
        )
        .unwrap();
        drop(old);
        let store = Store::open(folder.path()).unwrap();
        assert_eq!(store.newest(1).unwrap().unwrap().text, "one");
        let old = Customer { name: "Old Mill".into(), newest: 2, jobs: 1 };
        assert_eq!(store.customers("", 9).unwrap(), [old]);
        store.save(1, 1, &sofa("two"), ("a", "", "t")).unwrap();
        let known = Customer { name: "Mill House".into(), newest: 1, jobs: 1 };
        assert_eq!(store.customers("mill h", 9).unwrap(), [known]);
        assert_eq!(store.jobs("mill h", 9).unwrap().len(), 1);
    }

    #[test]
    fn a_backup_is_a_whole_store() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let id = store.add(&sofa("text"), "measured", "a", "t").unwrap();
        store.add_photo(id, "front", "t", &[1, 2, 3]).unwrap();
        store.tick(id, "Seat", 2, Some("t")).unwrap();
        let other = tempfile::tempdir().unwrap();
        store.backup(&other.path().join("clothwright.sqlite")).unwrap();
        let copy = Store::open(other.path()).unwrap();
        assert_eq!(copy.newest(id).unwrap(), store.newest(id).unwrap());
        assert_eq!(copy.photo(1).unwrap().unwrap(), [1, 2, 3]);
        assert_eq!(copy.ticks(id).unwrap(), store.ticks(id).unwrap());
    }
}
