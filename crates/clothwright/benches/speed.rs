//! How long things take on this machine: `cargo bench -p clothwright --bench speed`.
//!
//! Prints the time of a first valid lay of a 40-part job, of planning the built-in example without and
//! with its papers, and how a first lay grows with the number of parts. Tests never time; this does.

#![allow(missing_docs, clippy::panic, clippy::disallowed_methods)]

use documents::drawing::{Anchor, Drawing, Ink};
use geometry::{Point, Vector};
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

/// Time against parts, both axes logarithmic, as a drawing.
fn plot(points: &[(usize, Duration)]) -> String {
    let ink = Ink::line(0.4);
    let mut drawing = Drawing::new(130.0, 84.0);
    let at = |parts: f64, seconds: f64| {
        let x = 18.0 + 100.0 * (parts / 10.0).log10() / 3.0;
        let y = 70.0 - 60.0 * (seconds / 0.0001).log10() / 5.0;
        Point::new(x, y)
    };
    for (n, words) in [(10.0, "10"), (100.0, "100"), (1000.0, "1,000"), (10_000.0, "10,000 parts")]
    {
        let (low, high) = (at(n, 0.0001), at(n, 10.0));
        drawing.stroke(low, high, Ink::line(0.15).grey(0.7));
        drawing.text(Point::new(low.x, low.y + 5.0), 3.0, Anchor::Middle, words);
    }
    for (seconds, words) in [
        (0.0001, "0.1 ms"),
        (0.001, "1 ms"),
        (0.01, "10 ms"),
        (0.1, "0.1 s"),
        (1.0, "1 s"),
        (10.0, "10 s"),
    ] {
        let (left, right) = (at(10.0, seconds), at(10_000.0, seconds));
        drawing.stroke(left, right, Ink::line(0.15).grey(0.7));
        drawing.text(Point::new(left.x - 2.0, left.y + 1.0), 3.0, Anchor::End, words);
    }
    let spots: Vec<Point> = points.iter().map(|(n, t)| at(*n as f64, t.as_secs_f64())).collect();
    for pair in spots.windows(2) {
        drawing.stroke(pair[0], pair[1], ink);
    }
    for spot in &spots {
        let arm = Vector::new(0.8, 0.8);
        drawing.rect(*spot + -arm, *spot + arm, ink.filled(0.0));
    }
    drawing.text(
        Point::new(18.0, 82.0),
        3.0,
        Anchor::Start,
        "first valid lay of a job whose parts all differ",
    );
    documents::svg::write(&drawing)
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
        let ms = time.as_secs_f64() * 1e3;
        println!(
            "first valid lay of {cloth_parts:4} parts: {ms:8.1} ms, {:.2} a part",
            ms / cloth_parts as f64
        );
        (cloth_parts, time)
    };
    let points: Vec<_> = [10, 20, 40, 100, 200, 400, 700, 1000].map(first_lay).to_vec();
    // The picture of docs/measured.md.
    if let Some(path) = std::env::var_os("GROWTH_PLOT") {
        assert!(std::fs::write(path, plot(&points)).is_ok());
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
