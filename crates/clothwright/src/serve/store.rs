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
    /// Keeps other programs out for as long as this one serves it.
    _held: Option<std::fs::File>,
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
    /// Who it is for; may be empty.
    pub customer: String,
    /// When it is due, as 2026-12-20; may be empty.
    pub due: String,
    /// What it came to when it was last planned; may be empty.
    pub price: String,
    /// A small picture of its first piece; may be empty.
    pub picture: String,
    /// Put away.
    pub archived: bool,
}

/// Columns of an [`Entry`].
const ENTRY: &str = "id, name, stage, changed, customer, due, price, picture, archived";

fn entry(r: &rusqlite::Row) -> Result<Entry> {
    Ok(Entry {
        id: r.get(0)?,
        name: r.get(1)?,
        stage: r.get(2)?,
        changed: r.get(3)?,
        customer: r.get(4)?,
        due: r.get(5)?,
        price: r.get(6)?,
        picture: r.get(7)?,
        archived: r.get(8)?,
    })
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
    /// When it is due; may be empty.
    pub due: String,
    /// What it is found by.
    pub words: String,
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

/// A photograph without its picture.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Photo {
    /// Its number; 0 for one that is not kept yet.
    pub id: i64,
    /// What it shows.
    pub words: String,
    /// When.
    pub at: String,
    /// Mark of the piece it shows; empty for the whole job.
    pub piece: String,
}

/// What became of a save.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Saved {
    /// It is the newest now.
    Newest(i64),
    /// Someone had saved in between: kept aside under this number.
    Aside(i64),
}

pub(super) type Result<T> = rusqlite::Result<T>;

impl Store {
    /// Opens or makes the store in a folder, and brings it up to date.
    ///
    /// # Errors
    /// Why it cannot be used, and what to do.
    pub fn open(folder: &Path) -> std::result::Result<Self, String> {
        let held = opened::held(folder)?;
        let (connection, place) = opened::open(folder)?;
        Ok(Self { connection: Mutex::new(connection), place: Some(place), _held: Some(held) })
    }

    /// Opens the store beside a program that is using it.
    ///
    /// # Errors
    /// See [`Self::open`].
    pub fn open_beside(folder: &Path) -> std::result::Result<Self, String> {
        let (connection, place) = opened::open_beside(folder)?;
        Ok(Self { connection: Mutex::new(connection), place: Some(place), _held: None })
    }

    /// Ends as a killed program does: its log stays, its hold on the store goes.
    #[cfg(test)]
    pub fn killed(mut self) {
        self._held = None;
        std::mem::forget(self);
    }

    pub(super) fn lock(&self) -> MutexGuard<'_, Connection> {
        // A panic elsewhere leaves the connection usable: every change is one transaction.
        self.connection.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }

    /// The connection for a change, once it is sure that the file is still the one that was opened.
    pub(super) fn writing(&self) -> Result<MutexGuard<'_, Connection>> {
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
            "INSERT INTO job (name, stage, changed, customer, due, words) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            params![job.name, stage, now, job.customer, job.due, job.words],
        )?;
        let id = transaction.last_insert_rowid();
        transaction.execute(
            "INSERT INTO revision VALUES (?1, 1, ?2, ?3, ?4, 'begun', 0)",
            params![id, job.text, now, who],
        )?;
        transaction.commit()?;
        Ok(id)
    }

    /// A job begun on a page, by the mark that the page gave it: a second time it is the same job.
    pub fn begin(
        &self,
        mark: &str,
        job: &Titled,
        stage: &str,
        who: &str,
        now: &str,
    ) -> Result<i64> {
        let known = |on: &Connection| {
            on.query_row("SELECT id FROM job WHERE mark = ?1", [mark], |r| r.get(0)).optional()
        };
        if let Some(id) = known(&self.lock())? {
            return Ok(id);
        }
        let id = self.add(job, stage, who, now)?;
        // Two at once: the second leaves the mark to the first and its own job goes.
        let given =
            self.writing()?.execute("UPDATE job SET mark = ?2 WHERE id = ?1", params![id, mark]);
        match given {
            Ok(_) => Ok(id),
            Err(e) => {
                let connection = self.writing()?;
                connection.execute("DELETE FROM revision WHERE job = ?1", [id])?;
                connection.execute("DELETE FROM job WHERE id = ?1", [id])?;
                known(&connection)?.ok_or(e)
            }
        }
    }

    /// Jobs, the last changed first: all that hold every one of some words in name, customer, address,
    /// telephone, number or place, in whatever order; put away or not.
    pub fn jobs(&self, words: &str, archived: bool, most: usize) -> Result<Vec<Entry>> {
        let connection = self.lock();
        let all: Vec<String> = words.split_whitespace().take(8).map(|w| w.to_lowercase()).collect();
        let found = (0..all.len())
            .map(|i| format!(" AND instr(lower(words), ?{}) > 0", i + 3))
            .collect::<String>();
        let mut statement = connection.prepare_cached(&format!(
            "SELECT {ENTRY} FROM job WHERE archived = ?1{found} ORDER BY changed DESC, id DESC LIMIT ?2"
        ))?;
        let most = most as i64;
        let mut values: Vec<&dyn rusqlite::ToSql> = vec![&archived, &most];
        values.extend(all.iter().map(|word| word as &dyn rusqlite::ToSql));
        statement.query_map(&values[..], entry)?.collect()
    }

    /// How many jobs there are.
    pub fn count(&self) -> Result<i64> {
        self.lock().query_row("SELECT count(*) FROM job WHERE archived < 2", [], |r| r.get(0))
    }

    /// Puts a job away, or takes it back.
    pub fn archive(&self, id: i64, archived: bool) -> Result<()> {
        self.writing()?
            .execute("UPDATE job SET archived = ?2 WHERE id = ?1", params![id, archived])?;
        Ok(())
    }

    /// Deletes a job for good, with its history and photographs: a right of the person it concerns.
    pub fn delete(&self, id: i64) -> Result<()> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        for table in ["taken", "tick", "photo", "revision"] {
            transaction.execute(&format!("DELETE FROM {table} WHERE job = ?1"), [id])?;
        }
        // Its number stays taken: what a device still has of it never reaches another job.
        transaction.execute(
            "UPDATE job SET name = '', customer = '', due = '', words = '', price = '', picture = '',
             mark = NULL, archived = 2 WHERE id = ?1",
            [id],
        )?;
        transaction.commit()
    }

    /// What the list shows of a job once it has been planned.
    pub fn show(&self, id: i64, price: &str, picture: &str) -> Result<()> {
        self.writing()?.execute(
            "UPDATE job SET price = ?2, picture = ?3 WHERE id = ?1 AND (price <> ?2 OR picture <> ?3)",
            params![id, price, picture],
        )?;
        Ok(())
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
            .query_row(
                &format!("SELECT {ENTRY} FROM job WHERE id = ?1 AND archived < 2"),
                [id],
                entry,
            )
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

    /// What became of a change with a name of its own, if it was made before.
    pub fn answer(&self, name: &str) -> Result<Option<String>> {
        self.lock()
            .query_row("SELECT answer FROM taken WHERE name = ?1", [name], |r| r.get(0))
            .optional()
    }

    /// Keeps a text made on revision `base` as the newest, with the name and the answer of the change
    /// that made it; nothing at all is kept if something newer was saved meanwhile.
    pub fn save_once(
        &self,
        id: i64,
        base: i64,
        job: &Titled,
        told: (&str, &str, &str),
        (name, answer): (&str, &str),
    ) -> Result<Option<Saved>> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let fresh = transaction.execute(
            "INSERT OR IGNORE INTO taken VALUES (?1, ?2, ?3, ?4)",
            params![name, id, answer, told.2],
        )?;
        let saved = keep(&transaction, id, base, job, told)?;
        // What is not the newest, or was made before, is given up with everything else.
        if fresh == 0 || matches!(saved, Saved::Aside(_)) {
            return Ok(None);
        }
        transaction.commit()?;
        Ok(Some(saved))
    }

    /// Keeps a text made on revision `base`: as the newest if nothing newer was saved meanwhile, else aside.
    pub fn save(
        &self,
        id: i64,
        base: i64,
        job: &Titled,
        told: (&str, &str, &str),
    ) -> Result<Saved> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let saved = keep(&transaction, id, base, job, told)?;
        transaction.commit()?;
        Ok(saved)
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
    pub fn add_photo(&self, id: i64, photo: &Photo, name: &str, jpeg: &[u8]) -> Result<()> {
        let mut connection = self.writing()?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let fresh = transaction.execute(
            "INSERT OR IGNORE INTO taken VALUES (?1, ?2, 'photo', ?3)",
            params![name, id, photo.at],
        )?;
        // Sent a second time it is there already.
        if fresh == 1 {
            transaction.execute(
                "INSERT INTO photo (job, words, at, jpeg, piece) VALUES (?1, ?2, ?3, ?4, ?5)",
                params![id, photo.words, photo.at, jpeg, photo.piece],
            )?;
        }
        transaction.commit()
    }

    /// Photographs of a job.
    pub fn photos(&self, id: i64) -> Result<Vec<Photo>> {
        let connection = self.lock();
        let mut statement = connection
            .prepare_cached("SELECT id, words, at, piece FROM photo WHERE job = ?1 ORDER BY id")?;
        let photo = |r: &rusqlite::Row| {
            Ok(Photo { id: r.get(0)?, words: r.get(1)?, at: r.get(2)?, piece: r.get(3)? })
        };
        statement.query_map([id], photo)?.collect()
    }

    /// Removes a photograph for good.
    pub fn remove_photo(&self, id: i64) -> Result<()> {
        self.writing()?.execute("DELETE FROM photo WHERE id = ?1", [id])?;
        Ok(())
    }

    /// A photograph.
    pub fn photo(&self, id: i64) -> Result<Option<Vec<u8>>> {
        self.lock().query_row("SELECT jpeg FROM photo WHERE id = ?1", [id], |r| r.get(0)).optional()
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

/// Keeps a text within a transaction; see [`Store::save`].
fn keep(
    transaction: &rusqlite::Transaction,
    id: i64,
    base: i64,
    job: &Titled,
    (who, note, now): (&str, &str, &str),
) -> Result<Saved> {
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
            "UPDATE job SET name = ?2, changed = ?3, customer = ?4, due = ?5, words = ?6 WHERE id = ?1",
            params![id, job.name, now, job.customer, job.due, job.words],
        )?;
    }
    Ok(if aside { Saved::Aside(last + 1) } else { Saved::Newest(last + 1) })
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
        Titled {
            text,
            name: "Sofa".into(),
            customer: "Mill House".into(),
            due: String::new(),
            words: "Sofa Mill House, 3 Quay 07700 900".into(),
        }
    }

    fn store() -> Store {
        let connection = Connection::open_in_memory().unwrap();
        let connection = Mutex::new(opened::prepare(connection).unwrap());
        Store { connection, place: None, _held: None }
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
        // Words in any order, in any of the places.
        assert_eq!(store.jobs("quay MILL 07700", false, 9).unwrap().len(), 1);
        assert_eq!(store.jobs("quay elsewhere", false, 9).unwrap().len(), 0);
        store.archive(1, true).unwrap();
        assert_eq!(store.jobs("sofa", false, 9).unwrap().len(), 0);
        assert_eq!(store.jobs("sofa", true, 9).unwrap().len(), 1);
        store.delete(1).unwrap();
        assert!(store.job(1).unwrap().is_none() && store.newest(1).unwrap().is_none());
    }

    #[test]
    fn a_store_is_served_by_one_program_and_read_by_its_owner_only() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let told = Store::open(folder.path()).err().unwrap();
        assert!(told.contains("another Clothwright is using the store"), "{told}");
        // A backup is taken beside it.
        assert!(Store::open_beside(folder.path()).is_ok());
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            let file = std::fs::metadata(folder.path().join(opened::FILE)).unwrap();
            assert_eq!(file.permissions().mode() & 0o777, 0o600);
        }
        drop(store);
        assert!(Store::open(folder.path()).is_ok());
    }

    #[test]
    fn a_backup_is_a_whole_store() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let id = store.add(&sofa("text"), "measured", "a", "t").unwrap();
        let front = Photo { id: 0, words: "front".into(), at: "t".into(), piece: "p1".into() };
        // Sent twice, kept once.
        store.add_photo(id, &front, "a", &[1, 2, 3]).unwrap();
        store.add_photo(id, &front, "a", &[1, 2, 3]).unwrap();
        assert_eq!(store.photos(id).unwrap(), [Photo { id: 1, ..front }]);
        store.tick(id, "Seat", 2, Some("t")).unwrap();
        let other = tempfile::tempdir().unwrap();
        store.backup(&other.path().join("clothwright.sqlite")).unwrap();
        let copy = Store::open(other.path()).unwrap();
        assert_eq!(copy.newest(id).unwrap(), store.newest(id).unwrap());
        assert_eq!(copy.photo(1).unwrap().unwrap(), [1, 2, 3]);
        assert_eq!(copy.ticks(id).unwrap(), store.ticks(id).unwrap());
    }
}
