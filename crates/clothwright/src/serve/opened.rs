//! Opening the store's file: what it is, whether it is whole, and up to date.
//!
//! A file that cannot be used is refused with the reason and what to do, before anything is written to it.

use rusqlite::{Connection, OpenFlags, Result, Transaction, TransactionBehavior, ffi, params};
use std::fs::{File, TryLockError};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// The store's file in its folder.
pub const FILE: &str = "clothwright.sqlite";

/// Beside the file: which run left the log that may lie there.
const RUN: &str = "clothwright.sqlite-run";

/// Marks the file as one of ours: `Clwr`.
const APPLICATION: i32 = 0x436C_7772;

/// The tables of the first version.
pub const FIRST: &str = "
    CREATE TABLE job (
        id INTEGER PRIMARY KEY, name TEXT NOT NULL, stage TEXT NOT NULL, changed TEXT NOT NULL
    ) STRICT;
    CREATE TABLE revision (
        job INTEGER NOT NULL REFERENCES job(id), number INTEGER NOT NULL, text TEXT NOT NULL,
        at TEXT NOT NULL, who TEXT NOT NULL, note TEXT NOT NULL, aside INTEGER NOT NULL,
        PRIMARY KEY (job, number)
    ) STRICT;
    CREATE TABLE tick (
        job INTEGER NOT NULL REFERENCES job(id), piece TEXT NOT NULL, step INTEGER NOT NULL,
        at TEXT NOT NULL, PRIMARY KEY (job, piece, step)
    ) STRICT;
    CREATE TABLE photo (
        id INTEGER PRIMARY KEY, job INTEGER NOT NULL REFERENCES job(id), words TEXT NOT NULL,
        at TEXT NOT NULL, jpeg BLOB NOT NULL
    ) STRICT;
    CREATE TABLE setting (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
    CREATE TABLE session (hash TEXT PRIMARY KEY, made TEXT NOT NULL, words TEXT NOT NULL) STRICT;
    CREATE INDEX photos ON photo(job);
    CREATE INDEX changed ON job(changed);
";

/// Steps that bring an older file up to date; each is applied once, in order, whole or not at all.
const MIGRATIONS: [fn(&Transaction) -> Result<()>; 6] = [
    |to| to.execute_batch(FIRST),
    |to| {
        to.execute_batch(
            "ALTER TABLE job ADD COLUMN customer TEXT NOT NULL DEFAULT '';
             CREATE INDEX customers ON job(customer);",
        )
    },
    know_customers,
    |to| {
        // Changes by the names that the pages gave them, so that none is made twice; jobs begun away
        // from the workroom by theirs; photographs at pieces.
        to.execute_batch(
            "CREATE TABLE taken (
                 name TEXT PRIMARY KEY, job INTEGER NOT NULL REFERENCES job(id),
                 answer TEXT NOT NULL, at TEXT NOT NULL
             ) STRICT;
             ALTER TABLE job ADD COLUMN mark TEXT;
             CREATE UNIQUE INDEX marks ON job(mark);
             ALTER TABLE photo ADD COLUMN piece TEXT NOT NULL DEFAULT '';",
        )
    },
    |to| {
        // What the list of jobs shows and finds without reading every text.
        to.execute_batch(
            "ALTER TABLE job ADD COLUMN due TEXT NOT NULL DEFAULT '';
             ALTER TABLE job ADD COLUMN words TEXT NOT NULL DEFAULT '';
             ALTER TABLE job ADD COLUMN price TEXT NOT NULL DEFAULT '';
             ALTER TABLE job ADD COLUMN picture TEXT NOT NULL DEFAULT '';
             ALTER TABLE job ADD COLUMN archived INTEGER NOT NULL DEFAULT 0;",
        )?;
        know_words(to)
    },
    |to| to.execute_batch(super::ledger::TABLES),
];

/// The newest text of every job.
fn newest_texts(transaction: &Transaction) -> Result<Vec<(i64, String)>> {
    let newest = "SELECT job, text FROM revision r WHERE aside = 0 AND number =
        (SELECT MAX(number) FROM revision WHERE job = r.job AND aside = 0)";
    let mut asked = transaction.prepare(newest)?;
    asked.query_map([], |r| Ok((r.get(0)?, r.get(1)?)))?.collect()
}

/// Reads whom the jobs of an older file are for from their newest texts.
fn know_customers(transaction: &Transaction) -> Result<()> {
    for (job, text) in newest_texts(transaction)? {
        let customer = super::text::get(&text, "customer.name");
        let customer = customer.trim();
        transaction
            .execute("UPDATE job SET customer = ?2 WHERE id = ?1", params![job, customer])?;
    }
    Ok(())
}

/// Reads what jobs of an older file are found by.
fn know_words(transaction: &Transaction) -> Result<()> {
    for (job, text) in newest_texts(transaction)? {
        let titled = super::pages::job::titled(&text);
        transaction.execute(
            "UPDATE job SET due = ?2, words = ?3 WHERE id = ?1",
            params![job, titled.due, titled.words],
        )?;
    }
    Ok(())
}

/// The file that was opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    path: PathBuf,
    /// Device and number of the file, where the system has them.
    identity: Option<(u64, u64)>,
}

fn identity(path: &Path) -> Option<(u64, u64)> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::MetadataExt;
        std::fs::metadata(path).ok().map(|m| (m.dev(), m.ino()))
    }
    #[cfg(not(unix))]
    {
        std::fs::metadata(path).ok().map(|_| (0, 0))
    }
}

impl Place {
    /// That the file is still there and still the same: what is kept in one that was moved away is lost.
    ///
    /// # Errors
    /// What happened and what to do.
    pub fn still_there(&self) -> Result<()> {
        if identity(&self.path) == self.identity {
            return Ok(());
        }
        let what = format!(
            "the store's file {} was replaced or moved away while it was in use; end this program and start it again",
            self.path.display()
        );
        let moved = ffi::Error::new(ffi::SQLITE_READONLY_DBMOVED);
        Err(rusqlite::Error::SqliteFailure(moved, Some(what)))
    }
}

/// Held by the one program that serves a store; the system lets go of it when that program ends, however
/// it ends.
const LOCK: &str = "clothwright.sqlite-lock";

/// Takes a store for this program alone.
///
/// # Errors
/// In words, if another program has it.
pub fn held(folder: &Path) -> std::result::Result<File, String> {
    std::fs::create_dir_all(folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let path = folder.join(LOCK);
    let told = |e: std::io::Error| format!("{}: {e}", path.display());
    let lock =
        File::options().create(true).truncate(false).write(true).open(&path).map_err(told)?;
    own(&path);
    match lock.try_lock() {
        Ok(()) => Ok(lock),
        Err(TryLockError::WouldBlock) => Err(format!(
            "another Clothwright is using the store in {}; end it first, or give this one a folder of its own with --data",
            folder.display()
        )),
        Err(TryLockError::Error(e)) => Err(told(e)),
    }
}

/// Lets nobody but its owner read a file: customers, prices and the workroom's key are in it.
fn own(path: &Path) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // Where the file system has no owners, it stays as it is.
        let _ = std::fs::set_permissions(path, std::fs::Permissions::from_mode(0o600));
    }
    #[cfg(not(unix))]
    let _ = path;
}

/// Opens or makes the store's file in a folder.
///
/// # Errors
/// Why it cannot be used, and what to do.
pub fn open(folder: &Path) -> std::result::Result<(Connection, Place), String> {
    let (connection, place) = open_beside(folder)?;
    own(&place.path);
    let told = |e: &dyn std::fmt::Display| format!("{}: {e}", place.path.display());
    let run = run_name();
    mark(&connection, &run).map_err(|e| told(&e))?;
    // Into the file itself; only then may a log that is found later be held against it.
    let settled =
        connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |r| r.get::<_, i64>(0));
    let beside = folder.join(RUN);
    if settled == Ok(0) {
        std::fs::write(&beside, &run).map_err(|e| told(&e))?;
    } else if beside.exists() {
        std::fs::remove_file(&beside).map_err(|e| told(&e))?;
    }
    Ok((connection, place))
}

/// The same beside a program that is using it: nothing is written but what brings it up to date.
///
/// # Errors
/// See [`open`].
pub fn open_beside(folder: &Path) -> std::result::Result<(Connection, Place), String> {
    std::fs::create_dir_all(folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let path = folder.join(FILE);
    let said = |what: &str| format!("{}: {what}", path.display());
    let told = |e: rusqlite::Error| said(&words(&e));
    if std::fs::metadata(&path).is_ok_and(|m| m.len() == 0) && !log(&path).exists() {
        return Err(said(
            "the file is empty, so that it is no store; put a copy in its place with `clothwright restore`, or move it away to begin a new store",
        ));
    }
    if is_another(folder, &path) {
        return Err(said(
            "it was put there while the log of another store lay beside it (clothwright.sqlite-wal): opening it so would spoil it; put the copy there with `clothwright restore`, which moves the log aside",
        ));
    }
    let connection = Connection::open(&path).map_err(told)?;
    let connection = prepare(connection).map_err(told)?;
    let identity = identity(&path);
    Ok((connection, Place { path, identity }))
}

/// What SQLite says, in words where there are better ones.
fn words(e: &rusqlite::Error) -> String {
    match e.sqlite_error_code() {
        Some(ffi::ErrorCode::NotADatabase) => {
            "this is no store of Clothwright; move it away, or name another folder".into()
        }
        Some(ffi::ErrorCode::DatabaseCorrupt) => DAMAGED.into(),
        _ => e.to_string(),
    }
}

const DAMAGED: &str = "the store is damaged, and is left as it is: put the newest copy in its place with `clothwright restore`";

fn refused(what: impl Into<String>) -> rusqlite::Error {
    let error = ffi::Error::new(ffi::SQLITE_MISMATCH);
    rusqlite::Error::SqliteFailure(error, Some(what.into()))
}

/// Brings an opened file up to date, if it is a store and whole.
pub fn prepare(mut connection: Connection) -> Result<Connection> {
    connection.busy_timeout(Duration::from_secs(5))?;
    judge(&connection)?;
    connection.pragma_update(None, "journal_mode", "WAL")?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    connection.pragma_update(None, "foreign_keys", "ON")?;
    // What is deleted for good is written over in the file.
    connection.pragma_update(None, "secure_delete", "ON")?;
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    // Asked again: another program may have begun the same store meanwhile.
    let done = version(&transaction)?;
    for step in MIGRATIONS.iter().skip(usize::try_from(done).unwrap_or(0)) {
        step(&transaction)?;
    }
    transaction.pragma_update(None, "user_version", MIGRATIONS.len() as i64)?;
    transaction.pragma_update(None, "application_id", APPLICATION)?;
    transaction.commit()?;
    Ok(connection)
}

fn version(connection: &Connection) -> Result<i64> {
    connection.query_row("PRAGMA user_version", [], |r| r.get(0))
}

/// Whether a file is a store that this program knows, and whole.
fn judge(connection: &Connection) -> Result<()> {
    let whole: String = connection.query_row("PRAGMA quick_check(1)", [], |r| r.get(0))?;
    if whole != "ok" {
        return Err(refused(format!("{DAMAGED} ({whole})")));
    }
    let application: i32 = connection.query_row("PRAGMA application_id", [], |r| r.get(0))?;
    let tables: i64 =
        connection.query_row("SELECT count(*) FROM sqlite_master", [], |r| r.get(0))?;
    let revisions = "SELECT count(*) FROM sqlite_master WHERE name = 'revision'";
    let ours: i64 = connection.query_row(revisions, [], |r| r.get(0))?;
    let version = version(connection)?;
    if tables > 0 && (ours == 0 || (application != 0 && application != APPLICATION)) || version < 0
    {
        return Err(refused(
            "this is no store of Clothwright; move it away, or name another folder",
        ));
    }
    let known = MIGRATIONS.len() as i64;
    if version > known {
        return Err(refused(format!(
            "the store was made by a newer Clothwright (its version is {version}, this program knows {known}); use that one, or a copy made before"
        )));
    }
    Ok(())
}

/// Writes into a store which run it belongs to.
pub fn mark(connection: &Connection, run: &str) -> Result<()> {
    connection.execute("INSERT OR REPLACE INTO setting VALUES ('run', ?1)", [run])?;
    Ok(())
}

fn run_name() -> String {
    let mut bytes = [0; 16];
    // Without random numbers the time does: a run only has to differ from the one before.
    if getrandom::fill(&mut bytes).is_err() {
        let now = jiff::Timestamp::now().as_nanosecond();
        bytes = now.to_le_bytes();
    }
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

fn log(path: &Path) -> PathBuf {
    path.with_file_name(format!("{FILE}-wal"))
}

/// Whether a log lies beside the file that another file left there: SQLite would write it into this one.
fn is_another(folder: &Path, path: &Path) -> bool {
    let left = std::fs::metadata(log(path)).is_ok_and(|m| m.len() > 0);
    let Ok(run) = std::fs::read_to_string(folder.join(RUN)) else { return false };
    if !left || !path.exists() {
        return false;
    }
    // The file as it lies there, without the log.
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
    let name = path.to_string_lossy().replace('%', "%25").replace('?', "%3f").replace('#', "%23");
    let own = Connection::open_with_flags(format!("file:{name}?immutable=1"), flags)
        .and_then(|c| c.query_row("SELECT value FROM setting WHERE key = 'run'", [], |r| r.get(0)));
    // A store of before there were runs, or one caught half way through its own log, is its own.
    own.is_ok_and(|own: String| own != run)
}

/// Puts a copy in the place of a folder's store; what lay there is moved aside, and named.
///
/// # Errors
/// Why not, with nothing changed.
pub fn restore(from: &Path, folder: &Path) -> std::result::Result<Option<PathBuf>, String> {
    let told = |path: &Path, e: &dyn std::fmt::Display| format!("{}: {e}", path.display());
    let copy = Connection::open_with_flags(from, OpenFlags::SQLITE_OPEN_READ_ONLY)
        .and_then(|copy| judge(&copy).map(|()| copy))
        .map_err(|e| told(from, &words(&e)))?;
    drop(copy);
    // Nobody serves it meanwhile.
    let _held = held(folder)?;
    let fresh = folder.join(format!("{FILE}-new"));
    std::fs::copy(from, &fresh).map_err(|e| told(&fresh, &e))?;
    let lying: Vec<PathBuf> = ["", "-wal", "-shm", "-run"]
        .iter()
        .map(|end| folder.join(format!("{FILE}{end}")))
        .filter(|path| path.exists())
        .collect();
    let mut aside = None;
    if !lying.is_empty() {
        let free = (1..).map(|n| folder.join(format!("before-restore-{n}"))).find(|p| !p.exists());
        let place = free.unwrap_or_else(|| folder.join("before-restore"));
        std::fs::create_dir_all(&place).map_err(|e| told(&place, &e))?;
        for path in lying {
            let name = path.file_name().unwrap_or_default();
            std::fs::rename(&path, place.join(name)).map_err(|e| told(&path, &e))?;
        }
        aside = Some(place);
    }
    let path = folder.join(FILE);
    std::fs::rename(&fresh, &path).map_err(|e| told(&path, &e))?;
    Ok(aside)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::serve::store::{Store, Titled};

    fn sofa(text: &str) -> Titled<'_> {
        Titled {
            text,
            name: "Sofa".into(),
            customer: String::new(),
            due: String::new(),
            words: String::new(),
        }
    }

    fn why(folder: &Path) -> String {
        Store::open(folder).map(|_| ()).unwrap_err()
    }

    #[test]
    fn what_is_no_store_or_a_newer_one_is_refused_and_left() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(FILE);
        let spoil = |sql: &str| {
            let _ = std::fs::remove_file(&path);
            Connection::open(&path).unwrap().execute_batch(sql).unwrap();
            let before = std::fs::read(&path).unwrap();
            let why = why(folder.path());
            assert_eq!(std::fs::read(&path).unwrap(), before, "{sql}");
            why
        };
        assert!(spoil("CREATE TABLE revision (a); PRAGMA user_version = 8;").contains("newer"));
        assert!(spoil("CREATE TABLE other (a);").contains("no store"));
        assert!(spoil("CREATE TABLE revision (a); PRAGMA user_version = -1;").contains("no store"));
        std::fs::write(&path, "").unwrap();
        assert!(why(folder.path()).contains("empty"));
        std::fs::write(&path, "Not a database at all. ".repeat(100)).unwrap();
        assert!(why(folder.path()).contains("no store"));
    }

    #[test]
    fn damaged_pages_are_found_at_the_start() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        for _ in 0..50 {
            store.add(&sofa(&"text ".repeat(400)), "measured", "a", "t").unwrap();
        }
        drop(store);
        let path = folder.path().join(FILE);
        let mut bytes = std::fs::read(&path).unwrap();
        let middle = bytes.len() / 2 / 4096 * 4096;
        bytes[middle..middle + 4096].fill(0xA5);
        std::fs::write(&path, bytes).unwrap();
        assert!(why(folder.path()).contains("damaged"), "{}", why(folder.path()));
    }

    #[test]
    fn a_store_replaced_in_use_takes_no_more_saves() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let id = store.add(&sofa("one"), "measured", "a", "t").unwrap();
        let path = folder.path().join(FILE);
        std::fs::rename(&path, folder.path().join("elsewhere")).unwrap();
        let gone = store.save(id, 1, &sofa("two"), ("a", "", "t")).unwrap_err();
        assert!(gone.to_string().contains("moved away"), "{gone}");
        std::fs::copy(folder.path().join("elsewhere"), &path).unwrap();
        assert!(store.tick(id, "Seat", 0, Some("t")).is_err());
    }

    #[test]
    fn a_copy_over_a_killed_store_is_not_spoilt() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let id = store.add(&sofa("one"), "measured", "a", "t").unwrap();
        let copy = folder.path().join("copy");
        store.backup(&copy).unwrap();
        store.save(id, 1, &sofa("two"), ("a", "", "t")).unwrap();
        // Killed: its log stays.
        store.killed();
        let path = folder.path().join(FILE);
        assert!(log(&path).exists());
        std::fs::copy(&copy, &path).unwrap();
        assert!(why(folder.path()).contains("restore"), "{}", why(folder.path()));
        let aside = restore(&copy, folder.path()).unwrap().unwrap();
        assert!(aside.join(format!("{FILE}-wal")).exists());
        let again = Store::open(folder.path()).unwrap();
        assert_eq!(again.newest(id).unwrap().unwrap().text, "one");
        let whole = again.save(id, 1, &sofa("three"), ("a", "", "t"));
        assert!(whole.is_ok());
    }

    #[test]
    fn a_killed_store_opens_with_what_was_acknowledged() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let id = store.add(&sofa("one"), "measured", "a", "t").unwrap();
        store.save(id, 1, &sofa("two"), ("a", "", "t")).unwrap();
        store.killed();
        let again = Store::open(folder.path()).unwrap();
        assert_eq!(again.newest(id).unwrap().unwrap().text, "two");
    }
}
