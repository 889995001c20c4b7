//! Changes as the page's scripts send them: each has a name of its own and is made once, however often
//! it is sent; one that another device has overtaken is not made but answered with what stands there.

use super::pages::{change, job};
use super::store::Saved;
use super::text::{self, Move, Refused};
use super::{App, Trouble, now, values};
use crate::job_file;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Most changes that are taken in one go.
pub const MOST: usize = 200;

/// One change.
#[derive(Debug, Deserialize)]
pub struct Change {
    /// Given by the page, never twice.
    pub name: String,
    /// What is changed.
    #[serde(flatten)]
    pub act: Act,
}

/// What is changed.
#[derive(Debug, Deserialize)]
#[serde(tag = "act", rename_all = "kebab-case")]
pub enum Act {
    /// One value. `was` is what the page showed before.
    Put {
        /// See [`values`].
        path: String,
        /// Null takes it out.
        value: Value,
        /// See above.
        #[serde(default)]
        was: Value,
    },
    /// One more entry at the end of a list; its mark is among its values.
    Add {
        /// Which list.
        list: String,
        /// All it has.
        values: Map<String, Value>,
    },
    /// An entry copied (`copy`), mirrored (`mirror`), removed (`remove`), or moved (`up`, `down`).
    Move {
        /// Which list.
        list: String,
        /// Its mark.
        mark: String,
        /// See above.
        what: String,
        /// Mark of the copy.
        #[serde(default)]
        fresh: String,
    },
    /// All lines of an entry, as in the job file.
    Lines {
        /// Which list.
        list: String,
        /// Its mark.
        mark: String,
        /// The lines.
        lines: String,
    },
    /// What has been done with the job last.
    Stage {
        /// One of the shop's verbs.
        value: String,
    },
}

impl Change {
    /// The quote has gone out.
    pub fn is_quoted(&self) -> bool {
        matches!(&self.act, Act::Stage { value } if value == "quoted")
    }
}

/// What became of a change.
#[derive(Clone, Debug, Deserialize, Serialize, PartialEq)]
#[serde(tag = "state", rename_all = "kebab-case")]
pub enum Answer {
    /// Made.
    Taken,
    /// Not made; why, in words.
    Refused {
        /// In words.
        why: String,
    },
    /// Not made: another device has changed the same value.
    Differs {
        /// What stands there now.
        theirs: Value,
        /// From where it came.
        who: String,
        /// When.
        at: String,
    },
}

/// An answer with the name of its change.
#[derive(Clone, Debug, Serialize)]
pub struct Named {
    /// The change's.
    pub name: String,
    /// What became of it.
    #[serde(flatten)]
    pub answer: Answer,
}

/// Makes changes in order. What cannot be kept for now stops the rest: they are sent again.
///
/// # Errors
/// If the store fails, or there is no such job.
pub fn make(app: &App, id: i64, who: &str, all: &[Change]) -> Result<Vec<Named>, Trouble> {
    all.iter()
        .map(|one| Ok(Named { name: one.name.clone(), answer: make_one(app, id, who, one)? }))
        .collect()
}

fn make_one(app: &App, id: i64, who: &str, one: &Change) -> Result<Answer, Trouble> {
    if !values::is_mark(&one.name) {
        return Err(Trouble::Input("a change without a name".into()));
    }
    // Another save may come between reading and keeping; then it is read again.
    for _ in 0..5 {
        if let Some(answer) = app.store.answer(&one.name)? {
            let kept = serde_json::from_str(&answer);
            return kept.map_err(|e| Trouble::Inside(e.to_string()));
        }
        let newest = app.store.newest(id)?.ok_or(Trouble::Missing)?;
        if let Act::Stage { value } = &one.act {
            if !super::pages::list::STAGES.iter().any(|stage| stage.0 == value) {
                return Ok(Answer::Refused { why: format!("`{value}` is no step of a job") });
            }
            job::reached(app, id, value, who)?;
            return Ok(Answer::Taken);
        }
        let text = values::marked(&newest.text);
        let (fresh, note) = match outcome(&text, &one.act) {
            Ok(Outcome::Made(fresh, _)) if fresh.len() > job_file::MOST_BYTES => {
                let why = "the job has grown longer than any job file; divide it";
                return Ok(Answer::Refused { why: why.into() });
            }
            Ok(Outcome::Made(fresh, note)) => (fresh, note),
            Ok(Outcome::Differs(theirs)) => {
                return Ok(Answer::Differs { theirs, who: newest.who, at: newest.at });
            }
            Err(Refused(why)) => return Ok(Answer::Refused { why }),
        };
        if fresh == newest.text {
            return Ok(Answer::Taken);
        }
        let answer = serde_json::to_string(&Answer::Taken).unwrap_or_default();
        let kept = (one.name.as_str(), answer.as_str());
        let titled = job::titled(&fresh);
        match app.store.save_once(id, newest.number, &titled, (who, &note, &now()), kept)? {
            Some(Saved::Newest(_)) => {
                follow(app, id, &newest.text, &one.act)?;
                return Ok(Answer::Taken);
            }
            Some(Saved::Aside(_)) | None => {}
        }
    }
    Err(Trouble::Inside("too many changes at once; they are sent again".into()))
}

/// Steps done at the bench follow a piece that is called otherwise.
fn follow(app: &App, id: i64, before: &str, act: &Act) -> Result<(), Trouble> {
    if let Act::Put { path, .. } = act
        && path.starts_with("piece.")
        && path.ends_with(".name")
    {
        let before = values::marked(before);
        if let Ok(path) = values::placed(&before, path) {
            change::ticks_follow(app, id, &before, &path)?;
        }
    }
    Ok(())
}

enum Outcome {
    /// The new text, and what was done in words.
    Made(String, String),
    /// What stands there now.
    Differs(Value),
}

fn outcome(text: &str, act: &Act) -> Result<Outcome, Refused> {
    Ok(match act {
        Act::Put { path, value, was } => {
            let place = values::placed(text, path)?;
            let all = values::json(text);
            let now = values::at(&all, &place);
            if same(&now, value) {
                return Ok(Outcome::Made(text.into(), String::new()));
            }
            if !same(&now, was) {
                return Ok(Outcome::Differs(now));
            }
            let fresh = text::renamed(&values::put(text, &place, value)?, text, &place)?;
            Outcome::Made(fresh, said(&all, &place, &now, value))
        }
        Act::Add { list, values: fresh } => {
            known(list)?;
            let mark = fresh.get("id").and_then(Value::as_str).unwrap_or_default();
            if values::position(text, list, mark).is_some() {
                return Ok(Outcome::Made(text.into(), String::new()));
            }
            room(text, list)?;
            let name = fresh.get("name").and_then(Value::as_str).unwrap_or(list);
            Outcome::Made(values::add(text, list, fresh)?, format!("{name} added"))
        }
        Act::Move { list, mark, what, fresh } => {
            known(list)?;
            let what = match what.as_str() {
                "copy" => Move::Copy,
                "mirror" => Move::Mirror,
                "remove" => Move::Remove,
                "up" => Move::Up,
                "down" => Move::Down,
                other => return Err(Refused(format!("there is no `{other}`"))),
            };
            let Some(index) = values::position(text, list, mark) else {
                // Removed by another device before: so it is what was wanted, or nothing is left to move.
                return match what {
                    Move::Remove => Ok(Outcome::Made(text.into(), String::new())),
                    _ => Err(Refused(format!("this {list} was removed meanwhile"))),
                };
            };
            if matches!(what, Move::Copy | Move::Mirror) {
                room(text, list)?;
            }
            let name = text::get(text, &format!("{list}.{index}.name"));
            let mut moved = text::change(text, list, index, what)?;
            let words = match what {
                Move::Copy => "duplicated",
                Move::Mirror => "mirror image added",
                Move::Remove => "removed",
                Move::Up => "moved up",
                Move::Down => "moved down",
            };
            if matches!(what, Move::Copy | Move::Mirror) && values::is_mark(fresh) {
                let place = format!("{list}.{}.id", index + 1);
                moved = values::put(&moved, &place, &Value::from(fresh.as_str()))?;
            }
            Outcome::Made(moved, format!("{name}: {words}"))
        }
        Act::Lines { list, mark, lines } => {
            known(list)?;
            let index = values::position(text, list, mark)
                .ok_or_else(|| Refused(format!("this {list} was removed meanwhile")))?;
            let name = text::get(text, &format!("{list}.{index}.name"));
            let fresh = text::replace(text, list, index, lines)?;
            let place = format!("{list}.{index}.id");
            let fresh = values::put(&fresh, &place, &Value::from(mark.as_str()))?;
            Outcome::Made(fresh, format!("{name}: text changed"))
        }
        Act::Stage { .. } => Outcome::Made(text.into(), String::new()),
    })
}

/// Whether a list may have one more.
fn room(text: &str, list: &str) -> Result<(), Refused> {
    let most = job_file::most_of(list);
    match text::Parsed::of(text).count(list) < most {
        true => Ok(()),
        false => Err(Refused(format!("a job has at most {most} of these; begin another job"))),
    }
}

fn known(list: &str) -> Result<(), Refused> {
    match values::LISTS.contains(&list) {
        true => Ok(()),
        false => Err(Refused(format!("there is no list `{list}`"))),
    }
}

/// Whether two values say the same: nothing and an empty word do, and 12 and "12".
fn same(a: &Value, b: &Value) -> bool {
    let plain = |v: &Value| match v {
        Value::Null => Value::String(String::new()),
        Value::Array(all) if all.is_empty() => Value::String(String::new()),
        Value::Object(all) if all.is_empty() => Value::String(String::new()),
        Value::Number(n) => Value::String(n.to_string()),
        Value::String(text) => Value::String(text.trim().to_string()),
        other => other.clone(),
    };
    plain(a) == plain(b)
}

/// A change in words: "Panel: width 900 to 920".
fn said(all: &Value, path: &str, from: &Value, to: &Value) -> String {
    let keys: Vec<&str> = path.split('.').collect();
    let (owner, rest) = match keys.as_slice() {
        [list, number, rest @ ..] if values::LISTS.contains(list) => {
            let name = values::at(all, &format!("{list}.{number}.name"));
            (name.as_str().unwrap_or(list).to_string(), rest)
        }
        [table, rest @ ..] => ((*table).to_string(), rest),
        [] => (String::new(), &[][..]),
    };
    let what: Vec<String> = rest
        .iter()
        .map(|key| match key.parse::<usize>() {
            Ok(number) => (number + 1).to_string(),
            Err(_) => key.replace('_', " "),
        })
        .collect();
    let short = |v: &Value| match v {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        Value::Bool(true) => "yes".into(),
        Value::Bool(false) => "no".into(),
        Value::Array(list) if list.iter().all(Value::is_string) => {
            list.iter().filter_map(Value::as_str).collect::<Vec<_>>().join(", ")
        }
        Value::Number(n) => n.to_string(),
        _ => "…".into(),
    };
    let (from, to) = (short(from), short(to));
    let what = what.join(" ");
    let words = match (from.as_str(), to.as_str()) {
        ("…", _) | (_, "…") => format!("{what} changed"),
        ("", to) => format!("{what} {to}"),
        (from, "") => format!("{what} {from} taken out"),
        (from, to) => format!("{what} {from} to {to}"),
    };
    format!("{owner}: {words}").chars().take(160).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn text() -> String {
        values::marked("[job]\nname = \"A\"\n[[piece]]\nname = \"Panel\"\nwidth = \"900\"\n")
    }

    fn put(value: Value, was: Value) -> Act {
        Act::Put { path: "piece.@p1.width".into(), value, was }
    }

    #[test]
    fn a_change_on_what_was_shown_is_made_and_told_in_words() {
        let Ok(Outcome::Made(fresh, note)) = outcome(&text(), &put(json!("920"), json!("900")))
        else {
            panic!("not made")
        };
        assert!(fresh.contains("920") && note == "Panel: width 900 to 920", "{note}");
    }

    #[test]
    fn a_change_that_was_overtaken_is_answered_with_what_stands_there() {
        let other = outcome(&text(), &put(json!("920"), json!("880")));
        assert!(matches!(other, Ok(Outcome::Differs(ref theirs)) if *theirs == "900"));
        // Both devices typed the same: nothing differs.
        let alike = outcome(&text(), &put(json!("900"), json!("880")));
        assert!(matches!(alike, Ok(Outcome::Made(ref fresh, _)) if *fresh == text()));
    }

    #[test]
    fn what_is_gone_stays_gone() {
        let remove = |mark: &str| Act::Move {
            list: "piece".into(),
            mark: mark.into(),
            what: "remove".into(),
            fresh: String::new(),
        };
        let Ok(Outcome::Made(fresh, _)) = outcome(&text(), &remove("p1")) else { panic!() };
        assert!(!fresh.contains("Panel"));
        assert!(
            matches!(outcome(&fresh, &remove("p1")), Ok(Outcome::Made(ref same, _)) if *same == fresh)
        );
        assert!(outcome(&fresh, &put(json!("1"), json!(""))).is_err());
    }
}
