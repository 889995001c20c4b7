//! The live path of the page: `cargo bench -p clothwright --bench page`.
//!
//! Starts the page with ten thousand stored jobs and a job of forty pieces, then types into it: requests
//! a second, median and 99th percentile of a change (text kept on disk, job read, developed, laid, priced,
//! drawn), of the list, and of the whole sheet. One connection for each request, on loopback.

#![allow(missing_docs, clippy::unwrap_used, clippy::panic)]

#[path = "../tests/page/http.rs"]
mod http;
#[allow(dead_code)]
#[path = "../tests/page/served.rs"]
mod served;

use served::{Served, Visitor};
use std::time::{Duration, Instant};

const STORED: usize = 10_000;

fn forty_pieces() -> String {
    let mut text = String::from(
        "[job]\nname = \"Forty pieces\"\nunit = \"in\"\n[[cloth]]\nname = \"Plain\"\nwidth = \"54\"\nselvedge = \"1/2\"\nprice = 20\n[[cloth]]\nname = \"Leaf\"\nwidth = \"54\"\nprice = 30\nrepeat = { length = \"12\", width = \"9\" }\n[[foam]]\nname = \"Two\"\nthickness = \"2\"\nsheet = [{ length = \"82\", width = \"54\", price = 40 }]\n[[board]]\nname = \"Ply\"\nthickness = \"1/2\"\nsheet = [{ length = \"96\", width = \"48\", price = 40 }]\n[rates]\nhour = 60\n",
    );
    for i in 0..40 {
        let cloth = if i % 4 == 0 { "Leaf\"\npattern = \"centred" } else { "Plain" };
        let (w, h) = (16 + i % 7 * 3, 12 + i % 5 * 2);
        let measures = match i % 3 {
            0 => format!(
                "kind = \"panel\"\nboard = \"Ply\"\nwidth = \"{w}\"\nheight = \"{h}\"\nradius = \"2\""
            ),
            1 => format!(
                "kind = \"boxed cushion\"\nwidth = \"{w}\"\ndepth = \"{h}\"\nwelt = \"both\""
            ),
            _ => format!("kind = \"pad\"\nboard = \"Ply\"\nwidth = \"{w}\"\nheight = \"{h}\""),
        };
        text.push_str(&format!(
            "[[piece]]\nname = \"P{i}\"\ncloth = \"{cloth}\"\nfoam = \"Two\"\n{measures}\n"
        ));
    }
    text
}

fn report(what: &str, mut times: Vec<Duration>) {
    times.sort();
    let total: Duration = times.iter().sum();
    let at = |share: f64| {
        times[((times.len() as f64 * share) as usize).min(times.len() - 1)].as_secs_f64() * 1e3
    };
    println!(
        "| {what} | {} | {:.0} | {:.1} | {:.1} |",
        times.len(),
        times.len() as f64 / total.as_secs_f64(),
        at(0.5),
        at(0.99)
    );
}

/// So many people, each on a job of forty pieces of their own, a change every third of a second.
fn several(page: &Served, people: usize) {
    let all: Vec<std::thread::JoinHandle<Vec<Duration>>> = (0..people)
        .map(|who| {
            let visitor = Visitor::new(page.address);
            let job = visitor.job(&forty_pieces());
            std::thread::spawn(move || {
                let mut was = visitor.sheet(&job)["values"]["piece"][0]["width"]
                    .as_str()
                    .unwrap_or_default()
                    .to_string();
                (0..30)
                    .map(|i| {
                        std::thread::sleep(Duration::from_millis(280 + (who * 37 % 100) as u64));
                        let value = format!("{} 1/{}", 20 + i % 9, if i % 2 == 0 { 2 } else { 4 });
                        let change = served::put("piece.@p1.width", &was, &value);
                        was = value;
                        let begun = Instant::now();
                        let answer = visitor.try_change(&job, &[change]).unwrap();
                        assert_eq!(answer.code, 200, "{}", answer.text());
                        begun.elapsed()
                    })
                    .collect()
            })
        })
        .collect();
    let times = all.into_iter().flat_map(|one| one.join().unwrap()).collect();
    report(&format!("a measure changed, {people} people at once"), times);
}

fn main() {
    let folder = std::env::temp_dir().join(format!("clothwright-bench-{}", std::process::id()));
    let page = Served::start(&folder);
    let visitor = Visitor::new(page.address);
    let begun = Instant::now();
    for i in 0..STORED {
        let text = format!("[job]\nname = \"Stored {i}\"\nunit = \"in\"\n");
        assert_eq!(visitor.post("/jobs/read", &[("text", &text)]).code, 303);
    }
    println!("{STORED} jobs stored in {:.1} s", begun.elapsed().as_secs_f64());
    let job = visitor.job(&forty_pieces());
    println!("\n| what | times | each second | median ms | 99 % ms |\n|---|---|---|---|---|");
    let mut changes = Vec::new();
    for i in 0..300 {
        let value = format!("{} 1/{}", 20 + i % 9, if i % 2 == 0 { 2 } else { 4 });
        let path = format!("piece.@p{}.width", 1 + i % 40);
        let sheet = visitor.sheet(&job);
        let was = sheet["values"]["piece"][i % 40]["width"].as_str().unwrap_or_default();
        let change = served::put(&path, was, &value);
        let begun = Instant::now();
        let answer = visitor.try_change(&job, &[change]).unwrap();
        changes.push(begun.elapsed());
        assert_eq!(answer.code, 200, "{}", answer.text());
    }
    report("a measure changed, forty pieces", changes);
    let timed = |what: &str, path: &str, n: usize| {
        let times = (0..n).map(|_| {
            let begun = Instant::now();
            assert_eq!(visitor.get(path).code, 200);
            begun.elapsed()
        });
        report(what, times.collect());
    };
    timed("the list, 10,000 stored", "/", 200);
    timed("the list, found by name", "/?words=stored%209999", 200);
    timed("the whole sheet, forty pieces", &format!("{job}/sheet"), 60);
    for people in [1, 5, 20] {
        several(&page, people);
    }
    page.kill();
    let _ = std::fs::remove_dir_all(&folder);
}
