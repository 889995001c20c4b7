//! Bare strips of the nesting literature, laid.

use super::say::say;
use super::{Failure, STRIP_WORK_PER_SECOND, Search, bar, read_input, within};
use crate::strip_file;
use std::path::Path;
use std::time::Instant;

pub(super) fn lay_strip(path: &Path, search: Search, json: bool) -> Result<(), Failure> {
    let text = read_input(path, 64 * 1024 * 1024)?;
    let strip = strip_file::read(&text).map_err(|faults| {
        for fault in faults {
            let voice =
                words::english().voice(trade::working::Style::usual(geometry::Unit::Millimetre));
            let (what, remedy) = (voice.say(&fault.what), voice.say(&fault.remedy));
            eprintln!("error: {}: {what}\n  = do: {remedy}", path.display());
        }
        Failure::Input
    })?;
    let bar = bar(search.seconds);
    let started = Instant::now();
    let answer =
        within(search, STRIP_WORK_PER_SECOND, &bar, |limits| lay::lay(&strip.instance, limits));
    bar.finish_and_clear();
    let answer = answer.map_err(|item| {
        eprintln!(
            "error: {}: item {} is wider than the strip in every allowed turn\n  = do: widen the strip or allow more turns",
            path.display(),
            strip.instance.items[item].name
        );
        Failure::Input
    })?;
    let result = strip.result(&answer, started.elapsed().as_secs_f64());
    if json {
        say(&serde_json::to_string(&result).unwrap_or_default());
    } else {
        say(&format!(
            "{}: length {} at {:.2} % density; least possible {}{}",
            result.name,
            result.length,
            100.0 * result.density,
            result.least_possible,
            if result.proven { ", proven" } else { "" }
        ));
    }
    Ok(())
}
