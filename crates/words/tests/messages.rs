//! Message files against the sources: nothing is missing, nothing is left over, every file can be read.

#![allow(clippy::unwrap_used, clippy::panic)] // In tests a failure may say so.

use fluent_syntax::ast::Entry;
use fluent_syntax::parser::parse;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

fn crates() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_path_buf()
}

fn below(folder: &Path, ending: &str, all: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            below(&path, ending, all);
        } else if path.extension().is_some_and(|e| e == ending) {
            all.push(path);
        }
    }
}

/// The names of a language's messages.
fn messages(language: &str) -> BTreeSet<String> {
    let mut files = Vec::new();
    below(&crates().join("words/messages").join(language), "ftl", &mut files);
    let mut all = BTreeSet::new();
    for path in files {
        let text = std::fs::read_to_string(&path).unwrap();
        let resource = parse(text.as_str()).unwrap_or_else(|(_, errors)| {
            panic!("{}: {errors:?}", path.display());
        });
        for entry in resource.body {
            if let Entry::Message(message) = entry {
                let name = message.id.name.to_string();
                assert!(all.insert(name.clone()), "{name} is said twice");
            }
        }
    }
    all
}

/// Every text in quotes of the sources that could be a message's name, and those that are asked for.
fn in_sources() -> (BTreeSet<String>, BTreeSet<String>) {
    let mut files = Vec::new();
    for krate in ["trade", "words", "documents", "clothwright"] {
        below(&crates().join(krate).join("src"), "rs", &mut files);
    }
    below(&crates().join("documents/templates"), "typ", &mut files);
    let (mut quoted, mut asked) = (BTreeSet::new(), BTreeSet::new());
    for path in files {
        let text = std::fs::read_to_string(&path).unwrap();
        let is_name = |word: &str| {
            let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            !word.is_empty() && word.chars().all(plain)
        };
        let parts: Vec<&str> = text.split('"').collect();
        for (i, word) in parts.iter().enumerate().skip(1) {
            if is_name(word) {
                quoted.insert((*word).to_string());
                let before = parts[i - 1].trim_end();
                if [" t(", "(t(", "[t(", "#t(", "message(", ".word("]
                    .iter()
                    .any(|ask| before.ends_with(ask))
                {
                    asked.insert((*word).to_string());
                }
            }
        }
    }
    (quoted, asked)
}

#[test]
fn every_message_asked_for_is_there_and_none_is_left_over() {
    let there = messages("en");
    let (quoted, asked) = in_sources();
    assert!(there.len() > 300, "{}", there.len());
    let missing: Vec<&String> = asked.difference(&there).collect();
    assert!(missing.is_empty(), "no message: {missing:?}");
    let unused: Vec<&String> = there.difference(&quoted).collect();
    assert!(unused.is_empty(), "never said: {unused:?}");
}
