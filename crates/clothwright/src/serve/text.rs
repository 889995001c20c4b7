//! Changes to a job's text: one value, one piece, one material. Remarks and order stay.

use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, Value, value};

/// What sort of value a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// A text or a length.
    Text,
    /// A bare number.
    Number,
    /// Yes or no.
    Flag,
    /// Texts with commas or semicolons between.
    List,
}

impl Sort {
    /// As a form says it.
    pub fn named(name: &str) -> Self {
        match name {
            "number" => Self::Number,
            "flag" => Self::Flag,
            "list" => Self::List,
            _ => Self::Text,
        }
    }
}

/// Why a change cannot be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused(pub String);

fn parsed(text: &str) -> Result<DocumentMut, Refused> {
    text.parse::<DocumentMut>()
        .map_err(|e| Refused(format!("the job's text cannot be read: {}", e.message())))
}

/// The text with one value set, or taken out if it is empty. `path` is like `piece.2.width` or
/// `piece.0.fixing.count`; numbers count from 0.
pub fn set(text: &str, path: &str, sort: Sort, to: &str) -> Result<String, Refused> {
    let mut document = parsed(text)?;
    let keys: Vec<&str> = path.split('.').collect();
    let Some((last, way)) = keys.split_last() else {
        return Err(Refused("no place is named".into()));
    };
    let mut here: &mut Item = document.as_item_mut();
    let mut way = way.iter().peekable();
    while let Some(key) = way.next() {
        if here.get(key).is_none() && !key.bytes().all(|b| b.is_ascii_digit()) {
            let fresh = if here.is_value() {
                value(InlineTable::new())
            } else if way.peek().is_some_and(|next| next.parse::<usize>().is_ok()) {
                Item::ArrayOfTables(ArrayOfTables::new())
            } else if here.as_table().is_some() && here.as_table().is_some_and(Table::is_implicit) {
                Item::Table(Table::new())
            } else {
                // Small tables stand in line: fixing = { ... }.
                value(InlineTable::new())
            };
            let table = here
                .as_table_like_mut()
                .ok_or_else(|| Refused(format!("`{path}` is no place for a value")))?;
            table.insert(key, fresh);
        }
        here =
            step(here, key).ok_or_else(|| Refused(format!("there is no `{key}` in `{path}`")))?;
    }
    let to = to.trim();
    let fresh = match sort {
        _ if to.is_empty() => None,
        Sort::Text => Some(Value::from(to)),
        Sort::Flag => Some(Value::from(to == "true" || to == "on" || to == "yes")),
        Sort::Number => Some(match to.parse::<i64>() {
            Ok(whole) => Value::from(whole),
            // What is no number is kept as it was typed; the reader says so at its place.
            Err(_) => to
                .parse::<f64>()
                .ok()
                .filter(|n| n.is_finite())
                .map_or(Value::from(to), Value::from),
        }),
        Sort::List => {
            let parts = to.split([',', ';']).map(str::trim).filter(|part| !part.is_empty());
            Some(Value::from(parts.collect::<Array>()))
        }
    };
    let table = here.as_table_like_mut().ok_or_else(|| Refused(format!("`{path}` is no value")))?;
    // A field never takes the place of a table or of a list of tables.
    let whole = table.get(last).is_some_and(|old| match old.as_value() {
        None => !old.is_none(),
        Some(Value::Array(list)) => list.iter().any(Value::is_inline_table),
        Some(value) => value.is_inline_table(),
    });
    if whole || last.is_empty() {
        return Err(Refused(format!("`{path}` is more than one value; change it in full")));
    }
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

fn step<'a>(item: &'a mut Item, key: &str) -> Option<&'a mut Item> {
    match key.parse::<usize>() {
        Ok(index) => item.get_mut(index),
        Err(_) => item.get_mut(key),
    }
}

/// The text after a material got another name: pieces that are covered in it or padded with it follow.
/// `before` is the text before, `path` where the name stands.
pub fn renamed(text: &str, before: &str, path: &str) -> Result<String, Refused> {
    let list = path.split('.').next().unwrap_or_default();
    if !["cloth", "foam", "board", "piece"].contains(&list) || !path.ends_with(".name") {
        return Ok(text.to_string());
    }
    let names = |key: &str| match list {
        "piece" => key == "mirror_of",
        "cloth" => key == "cloth" || key.ends_with("_cloth"),
        list => key == list,
    };
    let (old, new) = (get(before, path), get(text, path));
    let all = Parsed::of(text);
    // Another of the old name may be what is meant.
    let taken = (0..all.count(list)).any(|i| all.get(&format!("{list}.{i}.name")) == old);
    if old.is_empty() || new.is_empty() || taken {
        return Ok(text.to_string());
    }
    let mut document = parsed(text)?;
    if let Some(pieces) = document.get_mut("piece") {
        rename(pieces, &names, &old, &new);
    }
    Ok(document.to_string())
}

/// Puts a new name for an old one at all keys of a sort, however deep they stand.
fn rename(item: &mut Item, names: &impl Fn(&str) -> bool, old: &str, new: &str) {
    let at = |key: &str, inner: &mut Item| {
        if names(key) && inner.as_str() == Some(old) {
            *inner = toml_edit::value(new);
        } else {
            rename(inner, names, old, new);
        }
    };
    if let Some(table) = item.as_table_like_mut() {
        table.iter_mut().for_each(|(key, inner)| at(key.get(), inner));
    } else if let Some(tables) = item.as_array_of_tables_mut() {
        for table in tables.iter_mut() {
            table.iter_mut().for_each(|(key, inner)| at(key.get(), inner));
        }
    } else if let Some(array) = item.as_array_mut() {
        for value in array.iter_mut() {
            let mut inner = Item::Value(std::mem::replace(value, 0.into()));
            rename(&mut inner, names, old, new);
            if let Item::Value(kept) = inner {
                *value = kept;
            }
        }
    }
}

/// A job's text taken apart once, to be asked many times.
pub struct Parsed(Option<DocumentMut>);

impl Parsed {
    /// A text that cannot be read has no values.
    pub fn of(text: &str) -> Self {
        Self(parsed(text).ok())
    }

    /// The value at a path as a form shows it.
    pub fn get(&self, path: &str) -> String {
        let Some(document) = &self.0 else { return String::new() };
        let mut here: &Item = document.as_item();
        for key in path.split('.') {
            let next = match key.parse::<usize>() {
                Ok(index) => here.get(index),
                Err(_) => here.get(key),
            };
            match next {
                Some(next) => here = next,
                None => return String::new(),
            }
        }
        here.as_value().map(shown).unwrap_or_default()
    }

    /// How many `[[list]]` there are.
    pub fn count(&self, list: &str) -> usize {
        let tables = self.0.as_ref().and_then(|d| d.get(list)?.as_array_of_tables());
        tables.map_or(0, ArrayOfTables::len)
    }

    /// The lines of one of a list.
    pub fn lines(&self, list: &str, index: usize) -> Option<String> {
        let table = self.0.as_ref()?.get(list)?.as_array_of_tables()?.get(index)?;
        let mut alone = DocumentMut::new();
        for (key, item) in table.iter() {
            let mut item = item.clone();
            if let Item::Table(inner) = &mut item {
                inner.set_position(None);
            }
            alone.insert(key, item);
        }
        Some(alone.to_string())
    }
}

/// The value at a path as a form shows it.
pub fn get(text: &str, path: &str) -> String {
    Parsed::of(text).get(path)
}

fn shown(value: &Value) -> String {
    match value {
        Value::String(s) => s.value().clone(),
        Value::Array(list) => list.iter().map(shown).collect::<Vec<_>>().join(", "),
        Value::InlineTable(_) => value.to_string().trim().to_string(),
        other => other.clone().decorated("", "").to_string(),
    }
}

fn tables<'a>(document: &'a mut DocumentMut, list: &str) -> Result<&'a mut ArrayOfTables, Refused> {
    let item = document.entry(list).or_insert(Item::ArrayOfTables(ArrayOfTables::new()));
    item.as_array_of_tables_mut().ok_or_else(|| {
        Refused(format!("`{list}` is written in another way than [[{list}]]; edit the text itself"))
    })
}

/// The lines of an option: a name, and one cloth instead of another.
pub fn option(name: &str, from: &str, to: &str) -> String {
    let mut lines = DocumentMut::new();
    let mut swap = InlineTable::new();
    swap.insert(from, Value::from(to));
    lines["name"] = value(name.trim());
    lines["swap"] = value(swap);
    lines.to_string()
}

/// The text with one more `[[list]]` made from lines of a job file.
pub fn add(text: &str, list: &str, lines: &str) -> Result<String, Refused> {
    let mut document = parsed(text)?;
    let fresh = parsed(lines)?;
    tables(&mut document, list)?.push(fresh.as_table().clone());
    Ok(document.to_string())
}

/// The text with one more `{ ... }` in the list at a path such as `cloth.0.on_hand`; `pairs` are its keys
/// and texts, empty ones left out.
pub fn push(text: &str, path: &str, pairs: &[(&str, &str)]) -> Result<String, Refused> {
    let mut document = parsed(text)?;
    let Some((way, list)) = path.rsplit_once('.') else {
        return Err(Refused("no list is named".into()));
    };
    let mut here: &mut Item = document.as_item_mut();
    for key in way.split('.') {
        here =
            step(here, key).ok_or_else(|| Refused(format!("there is no `{key}` in `{path}`")))?;
    }
    let table = here.as_table_like_mut().ok_or_else(|| Refused(format!("`{path}` is no list")))?;
    let mut fresh = InlineTable::new();
    for (key, to) in pairs.iter().filter(|(_, to)| !to.trim().is_empty()) {
        fresh.insert(*key, Value::from(to.trim()));
    }
    match table.entry(list).or_insert(Item::Value(Value::Array(Array::new()))) {
        Item::Value(Value::Array(all)) => all.push(Value::InlineTable(fresh)),
        Item::ArrayOfTables(all) => all.push(fresh.into_table()),
        _ => return Err(Refused(format!("`{path}` is no list"))),
    }
    Ok(document.to_string())
}

/// The text without one of the `{ ... }` in the list at a path.
pub fn pull(text: &str, path: &str, index: usize) -> Result<String, Refused> {
    let mut document = parsed(text)?;
    let mut here: &mut Item = document.as_item_mut();
    for key in path.split('.') {
        here = step(here, key).ok_or_else(|| Refused(format!("there is no `{path}`")))?;
    }
    let none = || Refused(format!("there is no {} in `{path}`", index + 1));
    match here {
        Item::Value(Value::Array(all)) if index < all.len() => {
            all.remove(index);
        }
        Item::ArrayOfTables(all) if index < all.len() => {
            all.remove(index);
        }
        _ => return Err(none()),
    }
    Ok(document.to_string())
}

/// What is done with one of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Move {
    /// A second one after it.
    Copy,
    /// Its mirror image after it.
    Mirror,
    /// Taken out.
    Remove,
    /// One place earlier.
    Up,
    /// One place later.
    Down,
}

impl Move {
    /// Where an entry of a list of `count` stands once the one at `index` is moved so; `None` if it is gone.
    fn moved(self, index: usize, count: usize, entry: usize) -> Option<usize> {
        let other = match self {
            Self::Copy | Self::Mirror => {
                return Some(if entry > index { entry + 1 } else { entry });
            }
            Self::Remove if entry == index => return None,
            Self::Remove => return Some(if entry > index { entry - 1 } else { entry }),
            Self::Up => index.checked_sub(1),
            Self::Down => Some(index + 1).filter(|next| *next < count),
        };
        Some(match other {
            Some(other) if entry == index => other,
            Some(other) if entry == other => index,
            _ => entry,
        })
    }
}

/// Parts pinned on cloths keep their piece when pieces change places; pins of a piece that is gone go too.
fn pins_follow(document: &mut DocumentMut, to: impl Fn(usize) -> Option<usize>) {
    let renamed = |tag: &str| -> Option<String> {
        let digits = tag.find(|c: char| !c.is_ascii_digit()).unwrap_or(tag.len());
        let Ok(number) = tag[..digits].parse::<usize>() else { return Some(tag.into()) };
        Some(format!("{}{}", to(number.checked_sub(1)?)? + 1, &tag[digits..]))
    };
    let Some(cloths) = document.get_mut("cloth").and_then(Item::as_array_of_tables_mut) else {
        return;
    };
    for cloth in cloths.iter_mut() {
        match cloth.get_mut("pin") {
            Some(Item::ArrayOfTables(pins)) => {
                for pin in pins.iter_mut() {
                    let tag = pin.get("part").and_then(Item::as_str).and_then(&renamed);
                    pin.insert("part", value(tag.unwrap_or_default()));
                }
                pins.retain(|pin| pin.get("part").and_then(Item::as_str) != Some(""));
            }
            Some(Item::Value(Value::Array(pins))) => {
                for pin in pins.iter_mut().filter_map(Value::as_inline_table_mut) {
                    let tag = pin.get("part").and_then(Value::as_str).and_then(&renamed);
                    pin.insert("part", tag.unwrap_or_default().into());
                }
                let part = |pin: &Value| pin.as_inline_table()?.get("part")?.as_str().map(str::len);
                pins.retain(|pin| part(pin) != Some(0));
            }
            _ => {}
        }
    }
}

fn name_of(table: &Table) -> Option<&str> {
    table.get("name").and_then(Item::as_str)
}

/// The name, or with a number if it is taken.
fn free_name(tables: &[Table], name: &str) -> String {
    let taken = |n: &str| tables.iter().any(|t| name_of(t) == Some(n));
    if !taken(name) {
        return name.into();
    }
    (2..).map(|i| format!("{name} {i}")).find(|n| !taken(n)).unwrap_or_default()
}

/// A mirror image's name: "Left arm" makes "Right arm", another name says what it is.
fn other_hand(name: &str) -> String {
    for (one, other) in [("left", "right"), ("Left", "Right")] {
        for (from, to) in [(one, other), (other, one)] {
            if name.split(|c: char| !c.is_alphanumeric()).any(|word| word == from) {
                return name.replace(from, to);
            }
        }
    }
    format!("{name}, mirror image")
}

/// The text with one of a list copied, mirrored, removed or moved.
pub fn change(text: &str, list: &str, index: usize, what: Move) -> Result<String, Refused> {
    let mut document = parsed(text)?;
    let all = tables(&mut document, list)?;
    let mut tables: Vec<Table> = all.iter().cloned().collect();
    let count = tables.len();
    if index >= count {
        return Err(Refused(format!("there is no {list} {}", index + 1)));
    }
    match what {
        Move::Copy => {
            let mut copy = tables[index].clone();
            copy["name"] = value(free_name(&tables, name_of(&tables[index]).unwrap_or(list)));
            tables.insert(index + 1, copy);
        }
        Move::Mirror => {
            let name = name_of(&tables[index]).unwrap_or_default();
            let mut image = Table::new();
            image["name"] = value(free_name(&tables, &other_hand(name)));
            image["mirror_of"] = value(name);
            tables.insert(index + 1, image);
        }
        Move::Remove => {
            tables.remove(index);
        }
        Move::Up if index > 0 => tables.swap(index, index - 1),
        Move::Down if index + 1 < tables.len() => tables.swap(index, index + 1),
        Move::Up | Move::Down => {}
    }
    let mut fresh = ArrayOfTables::new();
    for mut table in tables {
        table.set_position(None);
        fresh.push(table);
    }
    if list == "piece" {
        pins_follow(&mut document, |piece| what.moved(index, count, piece));
    }
    if fresh.is_empty() {
        document.remove(list);
    } else {
        document.insert(list, Item::ArrayOfTables(fresh));
    }
    Ok(document.to_string())
}

/// The text with one of a list replaced by lines of a job file.
pub fn replace(text: &str, list: &str, index: usize, lines: &str) -> Result<String, Refused> {
    let mut document = parsed(text)?;
    let fresh = parsed(lines)?;
    let all = tables(&mut document, list)?;
    let place =
        all.get_mut(index).ok_or_else(|| Refused(format!("there is no {list} {}", index + 1)))?;
    let mut table = fresh.as_table().clone();
    table.set_position(place.position());
    *place = table;
    Ok(document.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = "# kept\n[job]\nname = \"A\" # too\n\n[[piece]]\nname = \"P\"\nwidth = \"10\"\n\n[[piece]]\nname = \"Q\"\n";

    #[test]
    fn values_change_and_remarks_stay() {
        let text = set(JOB, "piece.0.width", Sort::Text, "12 1/2").unwrap();
        assert!(
            text.contains("width = \"12 1/2\"")
                && text.contains("# kept")
                && text.contains("# too"),
            "{text}"
        );
        assert_eq!(get(&text, "piece.0.width"), "12 1/2");
        let text = set(&text, "piece.1.fixing.count", Sort::Number, "4").unwrap();
        assert_eq!(get(&text, "piece.1.fixing.count"), "4");
        let text = set(&text, "piece.1.diagonals", Sort::List, "30, 31 1/2").unwrap();
        assert_eq!(get(&text, "piece.1.diagonals"), "30, 31 1/2");
        let text = set(&text, "piece.0.width", Sort::Text, " ").unwrap();
        assert_eq!(get(&text, "piece.0.width"), "");
        for place in [
            "piece.7.width",
            "piece.0.width.x.y",
            "piece.0.width.x",
            "job.name.0",
            "",
            ".",
            "0",
            "piece",
            "piece.x",
        ] {
            // Refused or a new key, never a panic; what stood there still stands.
            if let Ok(other) = set(&text, place, Sort::Text, "1") {
                assert_eq!(get(&other, "piece.1.fixing.count"), "4", "{place}");
            }
        }
        assert!(set(&text, "piece.7.width", Sort::Text, "1").is_err());
        let text = set("[job]\nname = \"A\"\n", "allowances.seam", Sort::Text, "1/2").unwrap();
        assert_eq!(get(&text, "allowances.seam"), "1/2");
    }

    #[test]
    fn pieces_follow_a_material_that_is_renamed() {
        let text = "[[foam]]\nname = \"Foam\"\n[[piece]]\nname = \"Foam\"\nfoam = \"Foam\"\n";
        let now = set(text, "foam.0.name", Sort::Text, "Firm").unwrap();
        let now = renamed(&now, text, "foam.0.name").unwrap();
        assert_eq!(
            (get(&now, "piece.0.foam"), get(&now, "piece.0.name")),
            ("Firm".into(), "Foam".into())
        );
        // While another is called so, nothing is guessed.
        let two = format!("{text}[[foam]]\nname = \"Foam\"\n");
        let now = set(&two, "foam.0.name", Sort::Text, "Firm").unwrap();
        assert_eq!(get(&renamed(&now, &two, "foam.0.name").unwrap(), "piece.0.foam"), "Foam");
    }

    #[test]
    fn an_option_is_written_whatever_its_cloths_are_called() {
        let lines = option("In \"twill\"", "Leaf = 1", "Sea\\ \u{201c}x\u{201d}");
        let text = add("[job]\nname = \"A\"\n", "option", &lines).unwrap();
        assert_eq!(get(&text, "option.0.name"), "In \"twill\"");
        assert_eq!(get(&text, "option.0.swap.Leaf = 1"), "Sea\\ \u{201c}x\u{201d}");
    }

    #[test]
    fn one_of_an_inline_list_is_taken_out() {
        let text = "[[cloth]]\nname = \"A\"\npin = [{ part = \"1A\" }, { part = \"2A\" }]\n";
        let less = pull(text, "cloth.0.pin", 0).unwrap();
        assert_eq!(get(&less, "cloth.0.pin.0.part"), "2A");
        assert!(pull(&less, "cloth.0.pin", 1).is_err() && pull(&less, "cloth.0.flaw", 0).is_err());
    }

    #[test]
    fn lengths_on_hand_and_their_flaws_are_added() {
        let job = "[[cloth]]\nname = \"A\"\n";
        let text =
            push(job, "cloth.0.on_hand", &[("id", "R1"), ("length", "60"), ("width", "")]).unwrap();
        let text = push(
            &text,
            "cloth.0.on_hand.0.flaw",
            &[("x", "10"), ("y", "20"), ("width", "2"), ("length", "2")],
        )
        .unwrap();
        assert_eq!(get(&text, "cloth.0.on_hand.0.flaw.0.y"), "20");
        assert!(!text.contains("width = \"\""), "{text}");
        assert!(
            push(&text, "cloth.7.on_hand", &[]).is_err()
                && push(&text, "cloth.0.name", &[]).is_err()
        );
    }

    #[test]
    fn pins_follow_their_pieces() {
        let text = "[[cloth]]\nname = \"C\"\npin = [{ part = \"1A\", x = \"0\" }, { part = \"3B2\" }]\n\
                    [[cloth]]\nname = \"D\"\n[[cloth.pin]]\npart = \"2A\"\n\
                    [[piece]]\nname = \"P\"\n[[piece]]\nname = \"Q\"\n[[piece]]\nname = \"R\"\n";
        // Whatever is done, a pin names the place at which its own piece stands now.
        let pins = |text: &str| -> Vec<String> {
            let places = ["cloth.0.pin.0.part", "cloth.0.pin.1.part", "cloth.1.pin.0.part"];
            places.iter().map(|path| get(text, path)).filter(|tag| !tag.is_empty()).collect()
        };
        let named = |text: &str, tag: &str| {
            let place: usize = tag[..1].parse().unwrap();
            get(text, &format!("piece.{}.name", place - 1))
        };
        assert_eq!(pins(text), ["1A", "3B2", "2A"]);
        for what in [Move::Copy, Move::Up, Move::Down] {
            for index in 0..3 {
                let after = change(text, "piece", index, what).unwrap();
                let now: Vec<String> = pins(&after).iter().map(|tag| named(&after, tag)).collect();
                assert_eq!(now, ["P", "R", "Q"], "{what:?} {index}: {after}");
            }
        }
        let fewer = change(text, "piece", 0, Move::Remove).unwrap();
        assert_eq!(pins(&fewer), ["2B2", "1A"]);
        assert_eq!(pins(&change(text, "piece", 1, Move::Remove).unwrap()), ["1A", "2B2"]);
    }

    #[test]
    fn a_mirror_image_follows_its_piece() {
        let text = "[[piece]]\nname = \"Left arm\"\nkind = \"pad\"\n";
        let with = change(text, "piece", 0, Move::Mirror).unwrap();
        assert_eq!(get(&with, "piece.1.name"), "Right arm");
        assert_eq!(get(&with, "piece.1.mirror_of"), "Left arm");
        let named = set(&with, "piece.0.name", Sort::Text, "Arm").unwrap();
        let named = renamed(&named, &with, "piece.0.name").unwrap();
        assert_eq!(get(&named, "piece.1.mirror_of"), "Arm");
        assert_eq!(get(&named, "piece.1.name"), "Right arm");
    }

    #[test]
    fn pieces_are_copied_moved_and_removed() {
        let text = change(JOB, "piece", 0, Move::Copy).unwrap();
        assert_eq!(get(&text, "piece.1.name"), "P 2");
        assert_eq!(get(&text, "piece.2.name"), "Q");
        let text = change(&text, "piece", 2, Move::Up).unwrap();
        assert_eq!(get(&text, "piece.1.name"), "Q");
        let text = change(&text, "piece", 0, Move::Remove).unwrap();
        assert_eq!(get(&text, "piece.0.name"), "Q");
        let text = add(&text, "piece", "name = \"R\"\nkind = \"welt\"\n").unwrap();
        assert_eq!(get(&text, "piece.2.name"), "R");
        let text = replace(&text, "piece", 2, "name = \"S\"\n").unwrap();
        assert_eq!(Parsed::of(&text).lines("piece", 2).unwrap().trim(), "name = \"S\"");
        assert_eq!(get(&text, "piece.2.kind"), "");
    }
}
