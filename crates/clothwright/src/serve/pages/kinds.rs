//! All kinds of pieces as data: what is asked of each, in what order, with which words, and its blank
//! picture, so that a page can measure any piece without the workroom at hand.

use crate::serve::fields::{COMMON, Input, caption, title};
use crate::serve::{Answer, Trouble};
use crate::{KINDS, job_file};
use axum::http::header;
use axum::response::IntoResponse;
use serde_json::{Value, json};
use std::sync::OnceLock;
use trade::cloth_sort::ClothSort;
use trade::kinds::TABLES;
use trade::kinds::table::{Key, Sort, Table, Unsaid, Work};
use trade::layers;
use trade::material::Use;
use trade::places::PLACES;

/// Shapes that the file of one of every kind leaves out.
const BLANKS: &str = include_str!("../../../assets/blanks.toml");

fn key(of: &str, key: &Key) -> Value {
    let mut out = json!({
        "name": key.name,
        "caption": caption(of, key.name),
        "how": key.how,
        "run": key.is_from_run,
    });
    let (sort, words): (&str, &[&str]) = match key.sort {
        Sort::Length => ("length", &[]),
        Sort::LengthOrZero => ("zero", &[]),
        Sort::SignedLength => ("signed", &[]),
        Sort::Lengths | Sort::LengthsOrZero => ("lengths", &[]),
        Sort::Count(..) => ("count", &[]),
        Sort::Degrees(..) => ("degrees", &[]),
        Sort::Flag(otherwise) => {
            out["otherwise"] = json!(otherwise);
            ("flag", &[])
        }
        Sort::Word(words) => ("word", words),
        Sort::Text => ("text", &[]),
        Sort::Side => ("side", &[]),
        Sort::Table(keys) => {
            out["keys"] = keys.iter().map(|k| self::key(key.name, k)).collect();
            ("table", &[])
        }
        Sort::Tables(keys) => {
            out["keys"] = keys.iter().map(|k| self::key(key.name, k)).collect();
            ("tables", &[])
        }
        Sort::Sides(keys) => {
            out["keys"] = keys.iter().map(|k| self::key(key.name, k)).collect();
            ("sides", &[])
        }
        Sort::OfFoam => ("of foam", &[]),
    };
    out["sort"] = json!(sort);
    if !words.is_empty() {
        out["words"] = words.iter().map(|w| json!([w, title(w)])).collect();
    }
    match key.unsaid {
        Unsaid::Fault => out["must"] = json!(true),
        Unsaid::Nothing => {}
        Unsaid::Zero => out["unsaid"] = json!("0"),
        Unsaid::Word(word) => out["unsaid"] = json!(word),
        Unsaid::Count(count) => out["unsaid"] = json!(count.to_string()),
    }
    if let Some((on, words)) = key.when {
        out["when"] = json!([on, words]);
    }
    out
}

/// A kind's blank pictures, each with the measures it shows.
fn blanks(read: &[job_file::Read], kind: &str) -> Vec<Value> {
    let pieces = read.iter().flat_map(|r| r.job.pieces.iter().map(|p| (&r.job, p)));
    pieces
        .filter(|(_, piece)| piece.kind.name() == kind)
        .map(|(job, piece)| {
            let keys: Vec<&str> = piece.kind.letters().iter().map(|(_, key)| key.name).collect();
            json!({
                "shape": piece.kind.of().said("shape"),
                "keys": keys,
                "picture": documents::screen::touched(job, piece, "what is measured"),
                "icon": documents::screen::icon(job, piece),
            })
        })
        .collect()
}

/// What is asked of a kind; of what is stapled its layers too.
fn keys(table: &Table) -> Vec<Value> {
    let layers = (table.nature.work == Work::Stapled).then_some(&layers::KEY);
    table.keys.iter().chain(layers).map(|k| key(table.name, k)).collect()
}

fn all() -> Value {
    let read = [job_file::read(BLANKS), job_file::read(KINDS)];
    let kinds = TABLES.iter().map(|table| {
        let nature = table.nature;
        json!({
            "name": table.name,
            "title": title(table.name),
            "keys": keys(table),
            "foam": nature.takes_foam,
            "board": nature.takes_board,
            "cover": nature.had_cover,
            "blanks": blanks(&read, table.name),
        })
    });
    let shared = COMMON.map(|(name, input)| {
        let words = match input {
            Input::Choice(words) => words.iter().map(|w| json!([w, title(w)])).collect(),
            _ => Value::Null,
        };
        json!({ "name": name, "caption": caption("", name), "sort": input.name(), "words": words })
    });
    let uses: Vec<Value> = Use::ALL.iter().map(|of| json!([of.name(), title(of.name())])).collect();
    let places: Vec<Value> = PLACES.iter().map(|p| json!([p.name, title(p.name)])).collect();
    let sorts: Vec<Value> = ClothSort::ALL.iter().map(|(n, _)| json!([n, title(n)])).collect();
    json!({ "kinds": kinds.collect::<Vec<_>>(), "common": shared, "uses": uses, "places": places, "sorts": sorts })
}

/// The data; the same for every visit of one program.
pub async fn show() -> Answer {
    static ALL: OnceLock<String> = OnceLock::new();
    let text = tokio::task::spawn_blocking(|| ALL.get_or_init(|| all().to_string()))
        .await
        .map_err(|e| Trouble::Inside(e.to_string()))?;
    let headers = [(header::CONTENT_TYPE, "application/json"), (header::CACHE_CONTROL, "no-cache")];
    Ok((headers, text.as_str()).into_response())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_has_a_blank_picture_for_every_shape_with_its_measures() {
        assert!(job_file::read(BLANKS).faults.is_empty());
        let all = all();
        for kind in all["kinds"].as_array().unwrap() {
            let name = kind["name"].as_str().unwrap();
            let blanks = kind["blanks"].as_array().unwrap();
            assert!(!blanks.is_empty(), "{name}");
            let shapes = kind["keys"].as_array().unwrap().iter().find(|k| k["name"] == "shape");
            let shapes = shapes.and_then(|k| k["words"].as_array().cloned()).unwrap_or_default();
            for shape in shapes {
                let is_there = |b: &&Value| b["shape"] == shape[0];
                let blank = blanks.iter().find(is_there);
                let blank = blank.unwrap_or_else(|| panic!("{name}: no picture of {}", shape[0]));
                assert!(blank["picture"].as_str().unwrap().starts_with("<svg"), "{name} {shape}");
            }
            // What is measured first has its arrow.
            let picture = blanks[0]["picture"].as_str().unwrap();
            let first = blanks[0]["keys"][0].as_str().unwrap();
            assert!(picture.contains(&format!("data-key=\"{first}")), "{name}: {first}");
        }
    }
}
