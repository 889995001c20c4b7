//! The papers looked at by machine: no text on another or off its page, none too small to read, every part
//! on a cutting plan with its number, nothing of costs where the customer or the bench reads.

use documents::drawing::Item;
use documents::pdf::{Run, Sheet};
use documents::{Paper, Papers};
use std::collections::BTreeMap;
use trade::plan::Plan;

/// A text on a page, mm, and its type in points.
struct Text {
    text: String,
    size: f64,
    low: (f64, f64),
    high: (f64, f64),
}

/// Everything written on a page: by the type-setter, and in its drawings.
fn texts(page: &Sheet, papers: &Papers) -> Vec<Text> {
    let mut all: Vec<Text> = page
        .texts
        .iter()
        .map(|Run { text, size, low, high }| Text {
            text: text.clone(),
            size: *size,
            low: *low,
            high: *high,
        })
        .collect();
    for (name, at, width) in &page.drawings {
        let Some(drawing) = papers.drawings().get(name) else { continue };
        let scale = width / drawing.width;
        for item in &drawing.items {
            let Item::Text { at: place, text, size, anchor, turn, bold, .. } = item else {
                continue;
            };
            let (low, high) = documents::written(*place, *size, *anchor, *turn, *bold, text);
            let on = |x: f64, y: f64| (at.0 + x * scale, at.1 + y * scale);
            let points = size * scale / 25.4 * 72.0;
            all.push(Text {
                text: text.clone(),
                size: points,
                low: on(low.x, low.y),
                high: on(high.x, high.y),
            });
        }
    }
    all
}

/// Two inked boxes lie on each other by more than a hair.
fn overlap(a: &Text, b: &Text) -> bool {
    let over = |a: (f64, f64), b: (f64, f64)| a.1.min(b.1) - a.0.max(b.0);
    let x = over((a.low.0, a.high.0), (b.low.0, b.high.0));
    let y = over((a.low.1, a.high.1), (b.low.1, b.high.1));
    x > 0.35 && y > 0.35
}

/// Holds the papers of a plan; gives the number of the workshop's pages.
fn hold(name: &str, plan: &Plan) -> usize {
    let papers = Papers::of(plan, &[]);
    let mut pages_of_workshop = 0;
    let mut wrong = Vec::new();
    for paper in Paper::ALL {
        let document = papers.set(paper, &BTreeMap::new()).unwrap();
        let least = if paper == Paper::Office { 7.9 } else { 8.9 };
        let pages = document.pages();
        if paper == Paper::Workshop {
            pages_of_workshop = pages.len();
        }
        for (n, page) in pages.iter().enumerate() {
            let at = format!("{name}: {} page {}", paper.name(), n + 1);
            let texts = texts(page, &papers);
            for (i, a) in texts.iter().enumerate() {
                if a.size < least {
                    wrong.push(format!("{at}: `{}` in {:.1} pt", a.text, a.size));
                }
                let off = a.low.0 < 4.0
                    || a.low.1 < 4.0
                    || a.high.0 > page.width - 4.0
                    || a.high.1 > page.height - 4.0;
                if off {
                    wrong.push(format!("{at}: `{}` runs off the page", a.text));
                }
                for b in &texts[i + 1..] {
                    if overlap(a, b) {
                        wrong
                            .push(format!("{at}: `{}` and `{}` lie on each other", a.text, b.text));
                    }
                }
            }
        }
        let all: String = pages.iter().flat_map(|p| &p.texts).map(|t| t.text.as_str()).collect();
        if matches!(paper, Paper::Quote | Paper::Workshop | Paper::Order | Paper::Delivery) {
            for word in ["Margin", "markup", "Materials cost"] {
                assert!(!all.contains(word), "{name}: {} says {word}", paper.name());
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} faults:\n{}",
        wrong.len(),
        wrong[..wrong.len().min(40)].join("\n")
    );
    pages_of_workshop
}

/// Every part of every length has its number on the plan: in it, at a leader, or in a group.
fn hold_numbers(name: &str, plan: &Plan) {
    for lay in &plan.lays.cloths {
        for strip in &lay.answer.lay.strips {
            let mut seen = vec![false; strip.placements.len() + 1];
            for text in documents::plan_texts(plan, lay, strip) {
                let head = text.split([':', ' ']).next().unwrap_or("");
                let range = head.split_once('–').unwrap_or((head, head));
                if let (Ok(a), Ok(b)) = (range.0.parse::<usize>(), range.1.parse::<usize>()) {
                    (a..=b.min(strip.placements.len())).for_each(|n| seen[n] = true);
                }
            }
            let missing: Vec<usize> = (1..seen.len()).filter(|n| !seen[*n]).collect();
            assert!(missing.is_empty(), "{name}: no number for {missing:?}");
        }
    }
}

/// Sections hold every part once, add up, and are cut where no part is cut into; no place is told further
/// from its zero than a tape reaches; places told from motifs are where the parts lie.
fn hold_sections(name: &str, plan: &Plan) {
    let mark = plan.job.style.mark.nm();
    for lay in &plan.lays.cloths {
        for strip in &lay.answer.lay.strips {
            let sections = documents::sections(plan, lay, strip);
            let mut parts: Vec<usize> = sections.iter().flat_map(|s| s.parts()).collect();
            parts.sort_unstable();
            assert!(parts.into_iter().eq(0..strip.placements.len()), "{name}");
            assert!(sections.windows(2).all(|s| s[0].to == s[1].from), "{name}");
            let boxes: Vec<(i64, i64)> = strip
                .placements
                .iter()
                .map(|p| lay.instance.items[p.item].shape.turned(p.turn).bounds().moved(p.at))
                .map(|b| (b.low.y, b.high.y))
                .collect();
            for section in &sections {
                let cut = section.from.nm();
                let into = |(low, high): &(i64, i64)| (cut - low).min(high - cut);
                let deepest = boxes.iter().map(into).max().unwrap_or(0);
                assert!(deepest <= mark / 2, "{name}: cut at {cut} goes {deepest} into a part");
                for index in section.parts() {
                    let near = plan.job.style.place(geometry::Length::from_nm(boxes[index].0));
                    let from = near - section.zero(near);
                    // 120 in or 3.048 m.
                    assert!(from.nm() >= 0 && from.mm() <= 3048.0 + 1e-6, "{name}: {from:?}");
                    hold_motif(name, lay, strip, section, index);
                }
            }
        }
    }
}

/// Walks from the left selvedge and the section's cut to the motif that is told, motif by motif.
fn hold_motif(
    name: &str,
    lay: &trade::lays::ClothLay,
    strip: &lay::Strip,
    section: &documents::Section,
    index: usize,
) {
    let Some(told) = documents::on_motif(lay, strip, section, index) else { return };
    let pattern = lay.instance.pattern.as_ref().unwrap();
    let (first, along) = (lay.instance.motif(strip.stock), pattern.length.unwrap().nm());
    let placement = &strip.placements[index];
    let middle = lay.parts[placement.item].part.seen_middle().turned(placement.turn);
    let middle = geometry::Spot::from_point(middle);
    let place = (placement.at.x + middle.x, placement.at.y + middle.y);
    let (mut x, mut column) = (place.0, 0);
    if let Some(across) = pattern.width.map(geometry::Length::nm) {
        let left = lay.instance.usable(strip.stock).0.nm();
        // From a motif known to lie on the cloth, down to the first column and up again.
        x = first.x;
        while x - across >= left {
            (x, column) = (x - across, column - 1);
        }
        while x < left {
            (x, column) = (x + across, column + 1);
        }
        (x, column) = (x + across * (told.column as i64 - 1), column + told.column as i64 - 1);
    }
    let drop =
        pattern.drop == lay::Drop::Half && pattern.width.is_some() && column.rem_euclid(2) == 1;
    let mut y = first.y + if drop { along / 2 } else { 0 };
    while y - along >= section.from.nm() {
        y -= along;
    }
    while y < section.from.nm() {
        y += along;
    }
    y += along * (told.nth as i64 - 1);
    assert!(told.nth >= 1, "{name}");
    assert_eq!((x + told.right.nm(), y + told.beyond.nm()), place, "{name}");
}

fn planned(text: &str) -> Plan {
    let read = clothwright::job_file::read(text);
    assert!(read.faults.is_empty());
    trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap()
}

#[test]
fn the_demos_papers_are_clean_and_few() {
    let plan = planned(clothwright::DEMO);
    hold_numbers("demo", &plan);
    let pages = hold("demo", &plan);
    assert!(pages <= 22, "{pages} pages");
}

#[test]
fn papers_of_every_kind_are_clean() {
    let plan = planned(clothwright::KINDS);
    hold_numbers("kinds", &plan);
    hold("kinds", &plan);
}

/// The practice jobs, those with a number of pages that a shop would still print.
#[test]
fn papers_of_the_practice_jobs_are_clean() {
    for (name, text) in crate::claims::jobs() {
        let read = clothwright::job_file::read(&text);
        let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
        hold_numbers(&name, &plan);
        hold_sections(&name, &plan);
        hold(&name, &plan);
    }
}

/// The words of a paper, a line for each run of text, page by page.
fn words_of(papers: &Papers, paper: Paper) -> String {
    let document = papers.set(paper, &BTreeMap::new()).unwrap();
    let mut all = String::new();
    for (n, page) in document.pages().iter().enumerate() {
        all += &format!("== page {}\n", n + 1);
        for run in &page.texts {
            all += run.text.trim();
            all.push('\n');
        }
    }
    all
}

/// What each paper says of the demo, word for word; `CLOTHWRIGHT_WRITE_GOLDEN=1` writes it anew.
#[test]
fn papers_say_what_they_said() {
    let plan = planned(clothwright::DEMO);
    let papers = Papers::of(&plan, &[]);
    let folder = format!("{}/tests/golden", env!("CARGO_MANIFEST_DIR"));
    let mut other = Vec::new();
    for paper in Paper::ALL {
        let path = format!("{folder}/{}.txt", paper.name());
        let now = words_of(&papers, paper);
        if std::env::var_os("CLOTHWRIGHT_WRITE_GOLDEN").is_some() {
            std::fs::create_dir_all(&folder).unwrap();
            std::fs::write(&path, &now).unwrap();
        }
        let was = std::fs::read_to_string(&path).unwrap_or_default();
        let line = was.lines().zip(now.lines()).position(|(a, b)| a != b);
        if was != now {
            other.push(format!("{path}:{}", line.map_or(0, |n| n + 1)));
        }
    }
    assert!(other.is_empty(), "other words than before: {other:?}");
}
