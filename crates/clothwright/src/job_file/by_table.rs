//! Reads what is measured of a piece by the table of its kind.

use super::reader::{self, Table};
use geometry::{Length, Unit};
use trade::fault::Fault;
use trade::kinds::Kind;
use trade::kinds::table::{self, Key, Sort, Unsaid};
use trade::kinds::values::{Value, Values};
use trade::message::message;
use trade::panel::side_number;

/// A piece's kind by its table; its measures as typed are added to the table's.
pub fn kind(t: &mut Table, of: &table::Table, unit: Unit, in_run: bool) -> Kind {
    let mut values = values(t, of.keys, unit, in_run);
    let mut faults = Vec::new();
    let kind = (of.read)(&mut values, &mut faults);
    for fault in faults {
        t.fault(fault);
    }
    t.typed.extend(values.typed().iter().cloned());
    kind
}

/// What was said of some keys.
pub fn values(t: &mut Table, keys: &'static [Key], unit: Unit, in_run: bool) -> Values {
    let before = t.typed.len();
    let mut values = Values::new(!unit.is_binary(), in_run);
    for key in keys {
        if matches!(key.sort, Sort::OfFoam) || !key.is_asked(keys, |key| values.said(key)) {
            continue;
        }
        if in_run && key.is_from_run {
            given_by_run(t, key, unit);
            values.keep(key.name, Value::Length(Length::ZERO));
            continue;
        }
        if t.has(key.name) {
            values.see(key.name);
        }
        let value = read(t, key, unit).or_else(|| key.usual());
        match (&key.sort, &value) {
            (Sort::Count(..), Some(Value::Count(n))) => note(t, key, n),
            (Sort::Degrees(..), Some(Value::Number(n))) => {
                note(t, key, format!("{}°", n.normalize()));
            }
            _ => {}
        }
        if let Some(value) = value {
            values.keep(key.name, value);
        }
    }
    for (name, text) in t.typed.split_off(before) {
        values.note(name, text);
    }
    values
}

fn note(t: &mut Table, key: &Key, text: impl ToString) {
    t.typed.push((key.name.replace('_', " "), text.to_string()));
}

fn given_by_run(t: &mut Table, key: &Key, unit: Unit) {
    if t.opt_length(key.name, unit, reader::Sort::OrZero).is_some() {
        t.wrong(
            key.name,
            "width-and-run",
            format!("`{}` and `run` are both given", key.name),
            "the run gives the width; take one out",
        );
    }
}

/// The value of one key, if it was said.
fn read(t: &mut Table, key: &Key, unit: Unit) -> Option<Value> {
    let must = matches!(key.unsaid, Unsaid::Fault);
    let lengths = |t: &mut Table, sort: reader::Sort| {
        let is_there = t.has(key.name);
        let all = t.lengths(key.name, unit, sort);
        is_there.then_some(Value::Lengths(all))
    };
    match key.sort {
        Sort::Length if must => Some(Value::Length(t.length(key.name, unit))),
        Sort::Length => t.opt_length(key.name, unit, reader::Sort::Positive).map(Value::Length),
        Sort::LengthOrZero => t.opt_length(key.name, unit, reader::Sort::OrZero).map(Value::Length),
        Sort::SignedLength => t.signed_length(key.name, unit).map(Value::Length),
        Sort::Lengths => lengths(t, reader::Sort::Positive),
        Sort::LengthsOrZero => lengths(t, reader::Sort::OrZero),
        Sort::Count(low, high) if must => Some(Value::Count(t.counted(key.name, low, high))),
        Sort::Count(low, high) => t.count(key.name, low, high).map(Value::Count),
        Sort::Degrees(low, high) => t.decimal(key.name, low, high).map(Value::Number),
        Sort::Flag(unsaid) => Some(Value::Flag(t.flag(key.name, unsaid))),
        Sort::Word(words) => {
            let pairs: Vec<(&'static str, &'static str)> = words.iter().map(|w| (*w, *w)).collect();
            t.choice(key.name, &pairs).map(Value::Word)
        }
        Sort::Text if must => Some(Value::Text(t.text(key.name))),
        Sort::Text => t.opt_text(key.name).map(Value::Text),
        Sort::Side => Some(Value::Side(side(t, key))),
        Sort::Table(keys) => t.table(key.name).map(|mut inner| {
            let values = inner_values(&mut inner, keys, unit);
            for (name, text) in values.typed() {
                t.typed.push((format!("{} {name}", key.name), text.clone()));
            }
            Value::Table(values)
        }),
        Sort::Tables(keys) => {
            let all = t.tables(key.name).into_iter();
            Some(Value::Tables(all.map(|mut inner| inner_values(&mut inner, keys, unit)).collect()))
        }
        Sort::Sides(keys) => Some(Value::Sides(
            t.named_tables(key.name)
                .into_iter()
                .filter_map(|(name, mut inner)| {
                    let values = inner_values(&mut inner, keys, unit);
                    let is_side = side_number(&name).is_some();
                    if !is_side {
                        t.fault(unknown_side(format!("side.{name}"), &name));
                    }
                    is_side.then_some((name, values))
                })
                .collect(),
        )),
        Sort::OfFoam => None,
    }
}

fn inner_values(inner: &mut Table, keys: &'static [Key], unit: Unit) -> Values {
    let values = values(inner, keys, unit, false);
    inner.refuse_unknown();
    values
}

fn side(t: &mut Table, key: &Key) -> usize {
    let name = t.opt_text(key.name).unwrap_or_default();
    side_number(&name).unwrap_or_else(|| {
        t.fault(unknown_side(key.name, &name));
        0
    })
}

fn unknown_side(at: impl Into<String>, name: &str) -> Fault {
    let what = message("unknown-side").text("name", name);
    Fault::new("unknown-side", at, what, message("unknown-side").part("do"))
}
