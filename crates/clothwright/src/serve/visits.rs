//! What the store keeps besides jobs: settings of the shop, and who is in.

use super::store::{Result, Store};
use rusqlite::OptionalExtension;

impl Store {
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

    /// Ends sessions that began before a time, and all of them if the pass phrase is another than the
    /// one of last time; `print` tells the phrase without holding it.
    pub fn tidy_sessions(
        &self,
        before: &str,
        is_same: impl Fn(&str) -> bool,
        kept: &str,
    ) -> Result<()> {
        let last = self.setting("pass phrase")?;
        if !last.as_deref().is_some_and(is_same) {
            self.writing()?.execute("DELETE FROM session", [])?;
            self.set_setting("pass phrase", kept)?;
        }
        self.writing()?.execute("DELETE FROM session WHERE made < ?1", [before])?;
        Ok(())
    }

    /// Ends a session.
    pub fn end_session(&self, hash: &str) -> Result<()> {
        self.writing()?.execute("DELETE FROM session WHERE hash = ?1", [hash])?;
        Ok(())
    }
}
