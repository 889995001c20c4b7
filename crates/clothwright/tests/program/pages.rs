//! True scale, read back by others: SVG by an XML reader, PDF pages by a PDF reader. And the pages of
//! the repository kept true.

use std::path::{Path, PathBuf};

fn demo_plan() -> trade::plan::Plan {
    let read = clothwright::job_file::read(clothwright::DEMO);
    trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap()
}

#[test]
fn lays_are_drawn_at_true_scale() {
    let plan = demo_plan();
    let files = documents::lay_files(&plan);
    let lay = &plan.lays.cloths[0];
    let strip = &lay.answer.lay.strips[0];
    let svg = files.iter().find(|f| f.path == "lays/fern-1.svg").unwrap();
    let text = std::str::from_utf8(&svg.bytes).unwrap();
    let svg = roxmltree::Document::parse(text).unwrap();
    let root = svg.root_element();
    let millimetres = |name: &str| {
        root.attribute(name).unwrap().strip_suffix("mm").unwrap().parse::<f64>().unwrap()
    };
    // One unit of the view box is one millimetre on paper.
    let view: Vec<f64> =
        root.attribute("viewBox").unwrap().split(' ').map(|n| n.parse().unwrap()).collect();
    assert_eq!((view[2], view[3]), (millimetres("width"), millimetres("height")));
    // Every part's outline is there in its own size: compare boxes of closed white shapes.
    let boxes: Vec<(f64, f64)> = svg
        .descendants()
        .filter(|n| {
            n.has_tag_name("path")
                && n.attribute("fill") == Some("#ffffff")
                && n.attribute("stroke").is_some()
        })
        .map(|n| {
            let mut xs = Vec::new();
            let mut ys = Vec::new();
            for step in n.attribute("d").unwrap().split(['M', 'L', 'A', 'Z']) {
                let numbers: Vec<f64> =
                    step.split_whitespace().filter_map(|t| t.parse().ok()).collect();
                if let [.., x, y] = numbers[..] {
                    xs.push(x);
                    ys.push(y);
                }
            }
            let span = |v: &[f64]| {
                v.iter().copied().fold(f64::MIN, f64::max)
                    - v.iter().copied().fold(f64::MAX, f64::min)
            };
            (span(&xs), span(&ys))
        })
        .collect();
    let rectangles =
        strip.placements.iter().filter(|p| lay.instance.items[p.item].shape.is_upright_rectangle());
    assert!(rectangles.clone().count() > 5);
    for placement in rectangles {
        let bounds = lay.instance.items[placement.item].shape.turned(placement.turn).bounds();
        // The roll runs to the right.
        let want = (bounds.height().mm(), bounds.width().mm());
        let near = |b: &&(f64, f64)| (b.0 - want.0).abs() < 0.5 && (b.1 - want.1).abs() < 0.5;
        assert!(boxes.iter().any(|b| near(&b)), "{want:?}");
    }
}

#[test]
fn dxf_lays_read_back_at_true_scale_with_their_arcs() {
    use dxf::entities::EntityType;
    let plan = demo_plan();
    let files = documents::lay_files(&plan);
    let file = files.iter().find(|f| f.path == "lays/fern-1.dxf").unwrap();
    let drawing = dxf::Drawing::load(&mut file.bytes.as_slice()).unwrap();
    let lay = &plan.lays.cloths[0];
    let placements = &lay.answer.lay.strips[0].placements;
    // Area of each closed cut line from its vertices and bulges (segment of a circle over a chord).
    let mut areas: Vec<f64> = drawing
        .entities()
        .filter(|e| e.common.layer == "cut")
        .filter_map(|e| match &e.specific {
            EntityType::Polyline(line) if line.is_closed() => {
                let v: Vec<(f64, f64, f64)> =
                    line.vertices().map(|v| (v.location.x, v.location.y, v.bulge)).collect();
                let n = v.len();
                let area: f64 = (0..n)
                    .map(|i| {
                        let (a, b) = (v[i], v[(i + 1) % n]);
                        let chord = ((b.0 - a.0).powi(2) + (b.1 - a.1).powi(2)).sqrt();
                        let angle = 4.0 * a.2.atan();
                        let bow = if a.2 == 0.0 {
                            0.0
                        } else {
                            let r = chord / (2.0 * (angle / 2.0).sin());
                            r * r * (angle - angle.sin()) / 2.0 * a.2.signum()
                        };
                        (a.0 * b.1 - b.0 * a.1) / 2.0 + bow.abs() * a.2.signum()
                    })
                    .sum();
                Some(area)
            }
            _ => None,
        })
        .collect();
    let mut want: Vec<f64> =
        placements.iter().map(|p| lay.parts[p.item].part.outline.area()).collect();
    areas.sort_by(f64::total_cmp);
    want.sort_by(f64::total_cmp);
    assert_eq!(areas.len(), want.len());
    for (got, want) in areas.iter().zip(&want) {
        assert!((got - want).abs() < 0.5, "{got} for {want} mm2");
    }
    let tags = drawing.entities().filter(|e| matches!(e.specific, EntityType::Text(_))).count();
    assert_eq!(tags, placements.len());
}

#[test]
fn pages_have_the_paper_size_asked_for() {
    let page = |letter: bool| {
        let mut read = clothwright::job_file::read(clothwright::DEMO);
        read.job.letter_paper = letter;
        let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
        let bytes = documents::job_pack(&plan, &[], &Default::default()).unwrap();
        let pdf = lopdf::Document::load_mem(&bytes).unwrap();
        let first = *pdf.get_pages().values().next().unwrap();
        let media = pdf
            .get_dictionary(first)
            .unwrap()
            .get(b"MediaBox")
            .unwrap()
            .as_array()
            .unwrap()
            .clone();
        let points: Vec<f64> = media.iter().map(|n| f64::from(n.as_float().unwrap())).collect();
        (points[2] / 72.0 * 25.4, points[3] / 72.0 * 25.4)
    };
    // ISO 216: A4 is 210 x 297 mm. ANSI Y14.1: Letter is 8.5 x 11 in.
    let (w, h) = page(false);
    assert!((w - 210.0).abs() < 0.1 && (h - 297.0).abs() < 0.1, "{w} x {h}");
    let (w, h) = page(true);
    assert!((w - 215.9).abs() < 0.1 && (h - 279.4).abs() < 0.1, "{w} x {h}");
}

fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
}

#[test]
fn the_reference_page_names_every_key() {
    let page = std::fs::read_to_string(root().join("docs/job-file.md")).unwrap();
    // A piece of every kind makes the reader ask for every key it knows.
    let mut text = String::from(clothwright::DEMO);
    for (kind, more) in [
        ("panel", "shape = \"trapezoid\"\nnotch = [{}]\nside = { top = {} }"),
        ("panel", "shape = \"disc\"\ncut_out = [{ diameter = \"1\" }]"),
        ("panel", "shape = \"ring\""),
        ("wall grid", "fitting = [{}]"),
        ("measured", "allowances = {}"),
        ("pad", "fixing = { by = \"clips\" }"),
    ] {
        text.push_str(&format!("\n[[piece]]\nkind = \"{kind}\"\n{more}\n"));
    }
    text = text.replace("round_to = 1.00", "round_to = 1.00\nminutes = {}");
    let read = clothwright::job_file::read(&text);
    let words: Vec<&str> = page
        .split('`')
        .skip(1)
        .step_by(2)
        .flat_map(|code| code.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_')))
        .collect();
    let mut missing: Vec<&String> =
        read.asked.iter().filter(|key| !words.contains(&key.rsplit('.').next().unwrap())).collect();
    missing.sort();
    missing.dedup();
    assert!(missing.is_empty(), "not in docs/job-file.md: {missing:?}");
}

#[test]
fn the_first_job_of_the_docs_is_planned_without_a_word() {
    let text = std::fs::read_to_string(root().join("docs/first-job.toml")).unwrap();
    let read = clothwright::job_file::read(&text);
    assert!(
        read.faults.is_empty(),
        "{}",
        clothwright::job_file::show("first-job", &text, &read.faults)
    );
    let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
    assert_eq!(plan.warnings().len(), 0, "{:?}", plan.warnings());
}

/// Every Rust source below a folder.
fn sources(folder: &Path, all: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, all);
        } else if path.extension().is_some_and(|e| e == "rs") {
            all.push(path);
        }
    }
}

#[test]
fn the_architecture_page_is_true_both_ways() {
    let page = std::fs::read_to_string(root().join("ARCHITECTURE.md")).unwrap();
    let contributing = std::fs::read_to_string(root().join("CONTRIBUTING.md")).unwrap();
    let is_file = |word: &str| {
        let ends = [".rs", ".typ", ".json", ".md", ".toml", "/"];
        word.contains('/') && !word.contains("new_kind") && ends.iter().any(|e| word.ends_with(e))
    };
    let named: Vec<&str> = [page.as_str(), contributing.as_str()]
        .iter()
        .flat_map(|text| text.split('`').skip(1).step_by(2))
        .filter(|word| is_file(word))
        .collect();
    for word in &named {
        let found = ["", "crates/"].iter().any(|p| root().join(format!("{p}{word}")).exists());
        assert!(found, "named and not there: {word}");
    }
    let mut all = Vec::new();
    for krate in ["geometry", "lay", "trade", "words", "books", "documents", "clothwright"] {
        sources(&root().join("crates").join(krate).join("src"), &mut all);
    }
    assert!(all.len() > 150, "{} sources", all.len());
    let crates = root().join("crates");
    for path in all {
        let path = path.strip_prefix(&crates).unwrap().to_string_lossy().replace('\\', "/");
        let has_room = named
            .iter()
            .any(|room| *room == path || (room.ends_with('/') && path.starts_with(room)));
        assert!(has_room, "{path} stands in no room of ARCHITECTURE.md");
    }
}

#[test]
fn modules_of_the_trade_use_only_earlier_ones() {
    let source = root().join("crates/trade/src");
    let lib = std::fs::read_to_string(source.join("lib.rs")).unwrap();
    let order: Vec<&str> =
        lib.lines().filter_map(|l| l.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    assert!(order.len() > 10);
    for (i, module) in order.iter().enumerate() {
        let mut texts = vec![source.join(format!("{module}.rs"))];
        if let Ok(folder) = std::fs::read_dir(source.join(module)) {
            texts.extend(folder.map(|f| f.unwrap().path()));
        }
        for path in texts.iter().filter(|p| p.exists()) {
            let text = std::fs::read_to_string(path).unwrap();
            for later in &order[i + 1..] {
                assert!(
                    !text.contains(&format!("crate::{later}")),
                    "{} uses {later}, which comes after it",
                    path.display()
                );
            }
        }
    }
}
