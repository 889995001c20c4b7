//! How true outlines from photographs are, over photographs drawn by seed:
//!
//! ```sh
//! cargo bench -p photo -- 100              # judged photographs
//! cargo bench -p photo -- 40 tuning        # those the measuring was tuned on
//! cargo bench -p photo -- 20 large         # of twelve million pixels
//! cargo bench -p photo -- 20 frayed       # old covers: edges frayed by up to 1.2 mm
//! cargo bench -p photo -- 20 careless     # one tape read wrongly by 3 to 15 mm
//! cargo bench -p photo -- fixture          # draws the photograph that other tests use again
//! ```

#[path = "../tests/render/mod.rs"]
mod render;

use render::judge::measure;
use render::{draw, sets};

fn main() {
    let words: Vec<String> = std::env::args().skip(1).filter(|a| !a.starts_with('-')).collect();
    let count: u64 = words.iter().find_map(|w| w.parse().ok()).unwrap_or(40);
    let is = |word: &str| words.iter().any(|w| w == word);
    if is("fixture") {
        return fixture();
    }
    let size = if is("large") { (4000, 3000) } else { (2400, 1800) };
    let first = if is("tuning") { sets::TUNING.start } else { sets::JUDGING };
    let from = words
        .iter()
        .filter_map(|w| w.strip_prefix("from=")?.parse::<u64>().ok())
        .next()
        .unwrap_or(0);
    let mut found = Vec::new();
    let mut refused = 0;
    println!(
        "seed tilt thick floor part            | 95 %   most  outw. | stated  places | stretches"
    );
    let some: Vec<u64> =
        words.iter().filter_map(|w| w.strip_prefix("seed=")?.parse().ok()).collect();
    let all = first + from..first + from + count;
    for seed in if some.is_empty() { all.collect::<Vec<_>>() } else { some } {
        let mut shot = sets::with_contrast(seed, size);
        if is("frayed") {
            shot = sets::old_cover(shot);
        }
        let about = format!(
            "{seed} {:4.1} {:4.1} {:?} {:?} {:?}",
            shot.tilt, shot.thickness, shot.floor, shot.part, shot.light
        );
        let mut shown = draw(&shot);
        if is("careless") {
            shown.measured.tapes[0].mm += sets::careless(seed);
        }
        match measure(&shown, &shot.loops) {
            Ok(j) => {
                println!(
                    "{about:45} | {:5.2} {:6.2} {:6.2} | {:5.2} {:6.3} | {} {}",
                    j.p95,
                    j.most,
                    j.outwards,
                    j.stated,
                    j.places_within,
                    j.stretches,
                    if j.p95 > j.stated { "BEYOND" } else { "" }
                );
                found.push(j);
            }
            Err(why) => {
                println!("{about:45} | refused: {why:?}");
                refused += 1;
            }
        }
    }
    let share = |is: &dyn Fn(&render::judge::Judged) -> bool| {
        format!("{} of {}", found.iter().filter(|j| is(j)).count(), found.len())
    };
    println!("refused {refused}; within 1.5 mm: {}", share(&|j| j.p95 <= 1.5));
    println!("within what is stated: {}", share(&|j| j.p95 <= j.stated));
    println!("stated 1.5 mm or less: {}", share(&|j| j.stated <= 1.5));
}

/// The photograph that the tests of the command line and the page use, and what was taped.
fn fixture() {
    let outer = render::shapes::rectangle(900.0, 450.0, [20.0, 40.0, 80.0, 60.0]);
    let loops = vec![outer, render::shapes::circle(-150.0, 30.0, 60.0)];
    let shot = render::Shot {
        thickness: 12.0,
        floor: render::Stuff::Concrete,
        quality: 80,
        ..render::Shot::of(2026, loops)
    };
    let shown = render::draw(&shot);
    let m = &shown.measured;
    let told = format!(
        "{:.1} {:.1} {:.2} {:.2} {:.1}\n",
        m.tapes[0].mm,
        m.tapes[1].mm,
        m.lines.across.unwrap_or_default(),
        m.lines.up.unwrap_or_default(),
        m.thickness
    );
    let folder =
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../clothwright/tests/photographs");
    for (name, bytes) in [("panel.jpg", shown.file.as_slice()), ("taped.txt", told.as_bytes())] {
        if let Err(error) = std::fs::write(folder.join(name), bytes) {
            eprintln!("{name}: {error}");
        }
    }
}
