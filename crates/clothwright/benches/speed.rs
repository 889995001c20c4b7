//! How long things take on this machine: `cargo bench -p clothwright --bench speed`.
//!
//! Prints the time of a first valid lay of a 40-part job, of planning the built-in example without and
//! with its papers, and how a first lay grows with the number of parts. Tests never time; this does.

#![allow(missing_docs, clippy::panic)]

use std::time::{Duration, Instant};

/// The best of some runs: what the machine can do when nothing else disturbs it.
fn best(runs: usize, mut work: impl FnMut()) -> Duration {
    let timed = (0..runs).map(|_| {
        let start = Instant::now();
        work();
        start.elapsed()
    });
    timed.min().unwrap_or_default()
}

/// A job of about `parts` cloth parts: seats, backs, cushions with their boxing, panels.
fn job(parts: usize) -> String {
    let sets = parts.div_ceil(10);
    let mut text = String::from(
        "[job]\nname = \"Speed\"\nunit = \"in\"\n[[cloth]]\nname = \"C\"\nwidth = \"54\"\nselvedge = \"1/2\"\nprice = 20\n\
         [[foam]]\nname = \"F\"\nthickness = \"3\"\nfirmness = \"40\"\nsheet = [{ length = \"82\", width = \"54\", price = 50 }]\n",
    );
    for i in 0..sets {
        let (a, b) = (18 + i % 7, 15 + i % 5);
        text.push_str(&format!(
            "[[piece]]\nname = \"Panel {i}\"\nkind = \"panel\"\ncloth = \"C\"\nfoam = \"F\"\nwidth = \"{a}\"\nheight = \"{b} 1/2\"\nradius = \"{}\"\ncount = 3\n\
             [[piece]]\nname = \"Cushion {i}\"\nkind = \"boxed cushion\"\ncloth = \"C\"\nfoam = \"F\"\nwidth = \"{a}\"\ndepth = \"{b}\"\n\
             [[piece]]\nname = \"Piece {i}\"\nkind = \"measured\"\ncloth = \"C\"\nwidth = \"{b}\"\nheight = \"{a} 1/4\"\ncount = 2\n",
            i % 3
        ));
    }
    text
}

fn main() {
    let first_lay = |parts: usize| {
        let read = clothwright::job_file::read(&job(parts));
        let developed = trade::plan::check(&read.job).unwrap_or_else(|f| panic!("{f:?}"));
        let cloth_parts: usize = developed
            .iter()
            .flat_map(|d| &d.parts)
            .filter(|p| p.stuff == trade::part::Stuff::Cloth)
            .map(|p| p.count)
            .sum();
        let time = best(5, || {
            let lays = trade::lays::lays(&read.job, &developed, &lay::Limits::quick(1));
            assert!(lays.is_ok());
        });
        println!("first valid lay of {cloth_parts:4} parts: {:8.1} ms", time.as_secs_f64() * 1e3);
    };
    for parts in [40, 100, 200, 400, 700, 1000] {
        first_lay(parts);
    }
    let read = clothwright::job_file::read(clothwright::DEMO);
    let plan = best(3, || {
        let plan = trade::plan::plan(&read.job, &lay::Limits::work(1, 40_000_000));
        assert!(plan.is_ok());
    });
    println!("the example planned, without papers: {:.0} ms", plan.as_secs_f64() * 1e3);
    let Ok(planned) = trade::plan::plan(&read.job, &lay::Limits::work(1, 40_000_000)) else {
        return;
    };
    let papers = best(3, || {
        assert!(documents::job_pack(&planned, &[], &Default::default()).is_ok());
    });
    println!("its papers set: {:.0} ms", papers.as_secs_f64() * 1e3);
}
