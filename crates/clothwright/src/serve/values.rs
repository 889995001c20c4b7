//! A job's text as values for the page's own scripts: read as JSON, changed at one place.
//!
//! A place is like `customer.name` or `piece.@p3.cut_out`: an entry of a list is named by its own mark,
//! which stays with it when others come, go or change places.

use super::text::Refused;
use serde_json::{Map, Value, json};
use toml_edit::{
    Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value as Toml,
};

/// Lists whose entries have marks of their own.
pub const LISTS: [&str; 6] = ["cloth", "foam", "board", "piece", "sundry", "option"];

/// Nothing that is measured is nested deeper.
const DEEPEST: usize = 8;

fn parsed(text: &str) -> Result<DocumentMut, Refused> {
    text.parse::<DocumentMut>()
        .map_err(|e| Refused(format!("the job's text cannot be read: {}", e.message())))
}

/// The text with a mark at every entry of its lists. The same text always gets the same marks, so that
/// two who read it before it is kept speak of the same entries.
pub fn marked(text: &str) -> String {
    let Ok(mut document) = parsed(text) else { return text.into() };
    for list in LISTS.into_iter().filter(|list| *list != "option") {
        let Some(all) = document.get_mut(list).and_then(Item::as_array_of_tables_mut) else {
            continue;
        };
        let mut used: Vec<String> =
            all.iter().filter_map(|t| t.get("id")?.as_str().map(str::to_string)).collect();
        let mut seen: Vec<String> = Vec::new();
        for (i, table) in all.iter_mut().enumerate() {
            let own = table.get("id").and_then(Item::as_str).map(str::to_string);
            // A second entry with the same mark is a copy that was pasted in.
            if let Some(own) = own.filter(|own| is_mark(own) && !seen.contains(own)) {
                seen.push(own);
                continue;
            }
            let letter = &list[..1];
            let fresh = (i + 1..).map(|n| format!("{letter}{n}")).find(|m| !used.contains(m));
            let fresh = fresh.unwrap_or_default();
            used.push(fresh.clone());
            seen.push(fresh.clone());
            table.insert("id", toml_edit::value(fresh));
        }
    }
    document.to_string()
}

/// Whether a word may be a mark.
pub fn is_mark(word: &str) -> bool {
    !word.is_empty()
        && word.len() <= 40
        && word.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_')
}

/// All values of a text.
pub fn json(text: &str) -> Value {
    parsed(text).map_or_else(|_| json!({}), |document| of_table(document.as_table()))
}

fn of_table(table: &dyn TableLike) -> Value {
    let pairs = table.iter().filter(|(_, item)| !item.is_none());
    Value::Object(pairs.map(|(key, item)| (key.to_string(), of_item(item))).collect())
}

fn of_item(item: &Item) -> Value {
    match item {
        Item::Value(value) => of_value(value),
        Item::Table(table) => of_table(table),
        Item::ArrayOfTables(all) => Value::Array(all.iter().map(|table| of_table(table)).collect()),
        Item::None => Value::Null,
    }
}

fn of_value(value: &Toml) -> Value {
    match value {
        Toml::String(text) => json!(text.value()),
        Toml::Integer(number) => json!(number.value()),
        Toml::Float(number) => json!(number.value()),
        Toml::Boolean(flag) => json!(flag.value()),
        Toml::Datetime(date) => json!(date.value().to_string()),
        Toml::Array(all) => Value::Array(all.iter().map(of_value).collect()),
        Toml::InlineTable(table) => of_table(table),
    }
}

/// The number of an entry by its mark, from 0.
pub fn position(text: &str, list: &str, mark: &str) -> Option<usize> {
    let document = parsed(text).ok()?;
    let all = document.get(list)?.as_array_of_tables()?;
    all.iter().position(|t| t.get("id").and_then(Item::as_str) == Some(mark))
}

/// A place with numbers instead of marks.
///
/// # Errors
/// If an entry is gone.
pub fn placed(text: &str, path: &str) -> Result<String, Refused> {
    let mut out: Vec<String> = Vec::new();
    for key in path.split('.') {
        let key = match (key.strip_prefix('@'), out.last()) {
            (Some(mark), Some(list)) => position(text, list, mark)
                .ok_or_else(|| Refused(format!("this {list} was removed meanwhile")))?
                .to_string(),
            _ => key.to_string(),
        };
        out.push(key);
    }
    Ok(out.join("."))
}

/// The value at a place with numbers; null where nothing stands.
pub fn at(all: &Value, path: &str) -> Value {
    let found = path.split('.').try_fold(all, |here, key| match key.parse::<usize>() {
        Ok(number) => here.get(number),
        Err(_) => here.get(key),
    });
    found.cloned().unwrap_or(Value::Null)
}

/// The text with the value at a place set; what is empty is taken out. Remarks and order stay.
///
/// # Errors
/// If the place is none.
pub fn put(text: &str, path: &str, to: &Value) -> Result<String, Refused> {
    let mut document = parsed(text)?;
    let keys: Vec<&str> = path.split('.').collect();
    if keys.len() > DEEPEST || keys.iter().any(|key| !is_mark(key)) {
        return Err(Refused(format!("`{path}` is no place for a value")));
    }
    let (last, way) = keys.split_last().ok_or_else(|| Refused("no place is named".into()))?;
    let mut here: &mut Item = document.as_item_mut();
    for key in way {
        here = step(here, key).ok_or_else(|| Refused(format!("there is no `{key}` here")))?;
    }
    let fresh = fresh(to, 0)?;
    if let (Ok(number), Item::Value(Toml::Array(list))) = (last.parse::<usize>(), &mut *here) {
        let Some(fresh) = fresh else { return Err(Refused("a value is missing".into())) };
        match number.cmp(&list.len()) {
            std::cmp::Ordering::Less => drop(list.replace(number, fresh)),
            std::cmp::Ordering::Equal => list.push(fresh),
            std::cmp::Ordering::Greater => {
                return Err(Refused(format!("there is no value {}", number + 1)));
            }
        }
        return Ok(document.to_string());
    }
    let table = here.as_table_like_mut().ok_or_else(|| Refused(format!("`{path}` is no value")))?;
    match fresh {
        Some(mut fresh) => {
            if let Some(Item::Value(old)) = table.get(last) {
                *fresh.decor_mut() = old.decor().clone();
            }
            table.insert(last, Item::Value(fresh));
        }
        None => {
            table.remove(last);
        }
    }
    Ok(document.to_string())
}

/// One step on the way, made if it is not there yet.
fn step<'a>(here: &'a mut Item, key: &str) -> Option<&'a mut Item> {
    if let Ok(number) = key.parse::<usize>() {
        return here.get_mut(number);
    }
    if here.get(key).is_none() {
        // Tables of the job itself stand alone, those of a piece in line.
        let is_root = here.as_table().is_some_and(|t| t.contains_key("job"));
        let fresh = if is_root {
            Item::Table(Table::new())
        } else {
            Item::Value(Toml::InlineTable(InlineTable::new()))
        };
        here.as_table_like_mut()?.insert(key, fresh);
    }
    here.get_mut(key)
}

/// A value as it goes into the text; `None` for what is empty.
fn fresh(value: &Value, depth: usize) -> Result<Option<Toml>, Refused> {
    if depth > DEEPEST {
        return Err(Refused("that is nested deeper than any measure".into()));
    }
    Ok(match value {
        Value::Null => None,
        Value::Bool(flag) => Some(Toml::from(*flag)),
        Value::Number(number) => Some(match number.as_i64() {
            Some(whole) => Toml::from(whole),
            None => Toml::from(number.as_f64().unwrap_or_default()),
        }),
        Value::String(text) if text.trim().is_empty() => None,
        Value::String(text) => Some(Toml::from(text.trim())),
        Value::Array(all) => {
            let mut list = Array::new();
            for one in all {
                // A gap in a list of measures stays a gap: what follows keeps its place.
                let gap = match one {
                    Value::Object(_) => Toml::InlineTable(InlineTable::new()),
                    _ => Toml::from(""),
                };
                list.push(fresh(one, depth + 1)?.unwrap_or(gap));
            }
            (!list.is_empty()).then_some(Toml::Array(list))
        }
        Value::Object(pairs) => {
            let table = inline(pairs, depth)?;
            (!table.is_empty()).then_some(Toml::InlineTable(table))
        }
    })
}

fn inline(pairs: &Map<String, Value>, depth: usize) -> Result<InlineTable, Refused> {
    let mut table = InlineTable::new();
    for (key, value) in pairs {
        if !is_mark(key) {
            return Err(Refused(format!("`{key}` is no name for a value")));
        }
        if let Some(value) = fresh(value, depth + 1)? {
            table.insert(key, value);
        }
    }
    Ok(table)
}

/// The text with one more entry after all others of a list.
///
/// # Errors
/// If a value is none.
pub fn add(text: &str, list: &str, values: &Map<String, Value>) -> Result<String, Refused> {
    let mut document = parsed(text)?;
    let entry = inline(values, 0)?.into_table();
    let place = document.entry(list).or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    let all = place.as_array_of_tables_mut().ok_or_else(|| {
        Refused(format!("`{list}` is written in another way than [[{list}]]; edit the text itself"))
    })?;
    all.push(entry);
    Ok(document.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = "# kept\n[job]\nname = \"A\"\n\n[[piece]]\nname = \"P\"\nwidth = \"10\" # tape\n\n[[piece]]\nid = \"p1\"\nname = \"Q\"\n";

    #[test]
    fn marks_are_given_once_and_always_the_same() {
        let text = marked(JOB);
        assert_eq!(text, marked(&text));
        let all = json(&text);
        // The second has `p1` of its own, so the first is not called so.
        assert_eq!((&all["piece"][0]["id"], &all["piece"][1]["id"]), (&json!("p2"), &json!("p1")));
        let twice = marked("[[piece]]\nid = \"a\"\n[[piece]]\nid = \"a\"\n");
        assert_ne!(json(&twice)["piece"][0]["id"], json(&twice)["piece"][1]["id"]);
    }

    #[test]
    fn values_are_put_by_mark_and_remarks_stay() {
        let text = marked(JOB);
        let put_at = |text: &str, path: &str, to: Value| {
            put(text, &placed(text, path).unwrap(), &to).unwrap()
        };
        let text = put_at(&text, "piece.@p2.width", json!("12 1/2"));
        assert!(text.contains("width = \"12 1/2\" # tape") && text.contains("# kept"), "{text}");
        let cuts = json!([{ "what": "vent", "x": "10", "width": "", "y": "4" }]);
        let text = put_at(&text, "piece.@p1.cut_out", cuts);
        assert_eq!(json(&text)["piece"][1]["cut_out"][0], json!({"what":"vent","x":"10","y":"4"}));
        let text = put_at(&text, "piece.@p1.side.top.edge", json!("lip"));
        assert_eq!(json(&text)["piece"][1]["side"]["top"]["edge"], "lip");
        let text = put_at(&text, "customer.name", json!("Mill House"));
        assert_eq!(at(&json(&text), "customer.name"), "Mill House");
        let text = put_at(&text, "piece.@p1.side", Value::Null);
        assert!(!text.contains("lip"));
        assert!(placed(&text, "piece.@gone.width").is_err());
        for path in ["", ".", "piece.9.width", "job.name.x", "a.b c"] {
            assert!(put(&text, path, &json!("1")).is_err(), "{path}");
        }
    }

    #[test]
    fn an_entry_is_added_with_its_values() {
        let values = json!({"id": "k1", "name": "R", "count": 2, "radii": ["1", "1", "", "2"]});
        let text = add(JOB, "piece", values.as_object().unwrap()).unwrap();
        let all = json(&text);
        assert_eq!(
            (&all["piece"][2]["count"], &all["piece"][2]["radii"][2]),
            (&json!(2), &json!(""))
        );
    }
}
