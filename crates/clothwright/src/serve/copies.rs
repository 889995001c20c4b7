//! A copy of the store each day, kept for a month beside it.

use super::store::Store;
use std::path::{Path, PathBuf};

/// Where the copies lie, within the store's folder.
const FOLDER: &str = "copies";

/// How many are kept.
const KEPT: usize = 31;

/// How a copy of a day is called.
fn named(day: &str) -> String {
    format!("clothwright-{day}.sqlite")
}

/// Copies that are there, the oldest first.
fn there(folder: &Path) -> Vec<PathBuf> {
    let is_copy = |path: &PathBuf| {
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
        let day = name.strip_prefix("clothwright-").and_then(|rest| rest.strip_suffix(".sqlite"));
        day.is_some_and(|day| day.parse::<jiff::civil::Date>().is_ok())
    };
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let mut all: Vec<PathBuf> = entries.map(|entry| entry.path()).filter(is_copy).collect();
    all.sort();
    all
}

/// Makes the day's copy if there is none yet, and lets go of those that are too old. A copy that could not
/// be made leaves nothing behind.
///
/// # Errors
/// In words.
pub fn daily(data: &Path, day: &str) -> Result<(), String> {
    let folder = data.join(FOLDER);
    let to = folder.join(named(day));
    if to.exists() {
        return Ok(());
    }
    std::fs::create_dir_all(&folder).map_err(|e| format!("{}: {e}", folder.display()))?;
    let begun = folder.join("begun.sqlite");
    let _ = std::fs::remove_file(&begun);
    // A connection of its own: nobody waits for it.
    let made = Store::open_beside(data)
        .and_then(|store| store.backup(&begun).map_err(|e| format!("{}: {e}", begun.display())))
        .and_then(|()| std::fs::rename(&begun, &to).map_err(|e| format!("{}: {e}", to.display())));
    if made.is_err() {
        let _ = std::fs::remove_file(&begun);
        return made;
    }
    let all = there(&folder);
    for old in &all[..all.len().saturating_sub(KEPT)] {
        let _ = std::fs::remove_file(old);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_month_of_copies_is_kept_and_each_opens() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        let job = crate::serve::store::Titled {
            text: "[job]\n",
            name: "J".into(),
            customer: String::new(),
            due: String::new(),
            words: String::new(),
        };
        store.add(&job, "measured", "a", "t").unwrap();
        std::fs::create_dir_all(folder.path().join(FOLDER)).unwrap();
        std::fs::write(folder.path().join(FOLDER).join("mine.txt"), "stays").unwrap();
        for day in 1..=31 {
            daily(folder.path(), &format!("2026-10-{day:02}")).unwrap();
        }
        for day in 1..=5 {
            daily(folder.path(), &format!("2026-11-{day:02}")).unwrap();
            // Made once a day.
            daily(folder.path(), &format!("2026-11-{day:02}")).unwrap();
        }
        let all = there(&folder.path().join(FOLDER));
        assert_eq!(all.len(), KEPT);
        assert!(all[0].ends_with("clothwright-2026-10-06.sqlite"));
        assert!(folder.path().join(FOLDER).join("mine.txt").exists());
        // The newest is put in another place and opens there.
        let other = tempfile::tempdir().unwrap();
        crate::serve::restore(&all[KEPT - 1], other.path()).unwrap();
        assert_eq!(Store::open(other.path()).unwrap().count().unwrap(), 1);
    }
}
