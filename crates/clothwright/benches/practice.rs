//! How often a purchase is proven least: `cargo bench -p clothwright --bench practice`.
//!
//! Plans the jobs of `tests/jobs/practice`, five seconds each, and prints for each cloth what is
//! bought, what cannot be undercut, and when the best purchase was found.

#![allow(missing_docs, clippy::panic)]

use lay::{Limits, Progress};
use std::sync::Mutex;
use std::time::{Duration, Instant};

const SECONDS: f64 = 5.0;

fn main() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/jobs/practice");
    let mut files: Vec<_> = std::fs::read_dir(folder)
        .unwrap_or_else(|e| panic!("{folder}: {e}"))
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|e| e == "toml"))
        .collect();
    files.sort();
    println!("| job | cloth | parts | buys | cannot be less than | proven | seconds |");
    println!("|---|---|---|---|---|---|---|");
    let (mut cloths, mut proven) = (0, 0);
    for path in files {
        let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{e}"));
        let read = clothwright::job_file::read(&text);
        let started = Instant::now();
        let stop = || started.elapsed() > Duration::from_secs_f64(SECONDS);
        let found = Mutex::new(0.0);
        let told = |_: Progress| {
            if let Ok(mut last) = found.lock() {
                *last = started.elapsed().as_secs_f64();
            }
        };
        let limits = Limits { stop: &stop, progress: &told, ..Limits::work(1, 1_750_000_000) };
        let developed = trade::plan::check(&read.job).unwrap_or_else(|f| panic!("{path:?} {f:?}"));
        let lays = trade::lays::lays(&read.job, &developed, &limits)
            .unwrap_or_else(|f| panic!("{path:?} {f:?}"));
        for lay in &lays.cloths {
            let cloth = &read.job.cloths[lay.cloth];
            cloths += 1;
            proven += usize::from(lay.answer.proven);
            println!(
                "| {} | {} | {} | {} | {} | {} | {:.1} |",
                path.file_stem().and_then(|s| s.to_str()).unwrap_or_default(),
                cloth.name,
                lay.instance.copies(),
                lay.purchase.show(cloth.unit),
                lay.least_purchase.show(cloth.unit),
                if lay.answer.proven { "yes" } else { "no" },
                started.elapsed().as_secs_f64()
            );
        }
    }
    println!("\nproven least: {proven} of {cloths}");
}
