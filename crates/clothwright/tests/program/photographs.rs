//! Outlines from a photograph through the whole program. The photograph is drawn (`crates/photo/tests`): a
//! board of 900 by 450 mm, 12 mm thick, corner radii 20, 40, 80, 60, with a round hole of 120 mm, its middle
//! 300 mm from the left and 255 mm from the bottom.

use crate::checker;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn program(args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_clothwright")).args(args).output().unwrap()
}

fn photograph() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/photographs/panel.jpg")
}

/// What was taped, as arguments.
fn taped() -> Vec<String> {
    let text = include_str!("../photographs/taped.txt");
    let n: Vec<&str> = text.split_whitespace().collect();
    vec![
        "--tape".into(),
        format!("1-2={}", n[0]),
        "--tape".into(),
        format!("3-4={}", n[1]),
        "--check-across".into(),
        n[2].into(),
        "--check-up".into(),
        n[3].into(),
        "--thickness".into(),
        n[4].into(),
    ]
}

fn trace(out: &Path, more: &[String]) -> Output {
    let picture = photograph();
    let mut args = vec!["photo", picture.to_str().unwrap(), "--out", out.to_str().unwrap()];
    args.extend(more.iter().map(String::as_str));
    program(&args)
}

fn mm(value: &Value) -> f64 {
    value.as_str().unwrap().trim_end_matches(" mm").parse().unwrap()
}

#[test]
fn a_photograph_goes_through_cover_foam_board_and_lay() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("outline.toml");
    let done = trace(&out, &taped());
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
    let lines = std::fs::read_to_string(&out).unwrap();
    let read: toml::Table = lines.parse().unwrap();
    let read: Value = serde_json::to_value(read).unwrap();
    let within = mm(&read["within"]);
    assert!(within <= 3.0, "{within}");
    let hole = &read["cut_out"][0];
    for (what, found, is) in [
        ("across", mm(&hole["diameter"]), 120.0),
        ("x", mm(&hole["x"]), 300.0),
        ("y", mm(&hole["y"]), 255.0),
    ] {
        assert!((found - is).abs() <= 2.0 * within, "{what}: {found} is {is}");
    }
    let job = format!(
        "[job]\nname = \"Traced\"\nunit = \"mm\"\n[rates]\nhour = 40\n[[cloth]]\nname = \"Moss\"\nwidth = \"1400\"\nprice = 20\n\
         [[foam]]\nname = \"Foam\"\nthickness = \"25\"\nsheet = [{{ length = \"2000\", width = \"1000\", price = 40 }}]\n\
         [[board]]\nname = \"Ply\"\nthickness = \"12\"\nsheet = [{{ length = \"2440\", width = \"1220\", price = 40 }}]\n\
         [[piece]]\nname = \"Panel\"\nkind = \"panel\"\ncloth = \"Moss\"\nfoam = \"Foam\"\nboard = \"Ply\"\n{lines}"
    );
    let file = folder.path().join("job.toml");
    std::fs::write(&file, job).unwrap();
    let pack = folder.path().join("pack");
    let planned = program(&[
        "plan",
        file.to_str().unwrap(),
        "--out",
        pack.to_str().unwrap(),
        "--seconds",
        "1",
    ]);
    assert!(planned.status.success(), "{}", String::from_utf8_lossy(&planned.stderr));
    let plan: Value =
        serde_json::from_slice(&std::fs::read(pack.join("plan.json")).unwrap()).unwrap();
    assert_eq!(checker::faults(&plan), Vec::<String>::new());
    board_is_true(&pack, within);
    // What the pack draws can be taken in again.
    for (part, kind) in [("1A", "dxf"), ("1A", "svg"), ("1B", "dxf"), ("1C", "dxf")] {
        let name = format!("{part}.{kind}");
        let found = drawn_in(&name, &std::fs::read(pack.join("parts").join(&name)).unwrap());
        let found = found.unwrap_or_else(|words| panic!("{name}: {words}"));
        assert!(found["corner"].as_array().unwrap().len() >= 4, "{name}");
    }
    let again = program(&["templates", file.to_str().unwrap(), "--out", pack.to_str().unwrap()]);
    assert!(again.status.success());
}

/// The board as it goes to the saw, read by another reader: its box is that of the true one.
fn board_is_true(pack: &Path, within: f64) {
    let found = std::fs::read_dir(pack.join("parts")).unwrap().filter_map(|entry| {
        let path = entry.unwrap().path();
        (path.extension()? == "dxf").then(|| dxf::Drawing::load_file(path).unwrap())
    });
    let boxes: Vec<(f64, f64)> = found
        .map(|drawing| {
            let mut low = [f64::INFINITY; 2];
            let mut high = [f64::NEG_INFINITY; 2];
            for entity in drawing.entities() {
                let dxf::entities::EntityType::Polyline(line) = &entity.specific else {
                    continue;
                };
                for v in line.vertices() {
                    low = [low[0].min(v.location.x), low[1].min(v.location.y)];
                    high = [high[0].max(v.location.x), high[1].max(v.location.y)];
                }
            }
            (high[0] - low[0], high[1] - low[1])
        })
        .collect();
    let is_board = |b: &&(f64, f64)| {
        (b.0 - 900.0).abs() <= 2.0 * within && (b.1 - 450.0).abs() <= 2.0 * within
    };
    assert!(boxes.iter().any(|b| is_board(&b)), "{boxes:?}");
}

#[test]
fn what_is_wrong_is_said_with_what_to_do() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("outline.toml");
    let refused = |more: &[String]| {
        let done = trace(&out, more);
        assert_eq!(done.status.code(), Some(2));
        assert!(!out.exists());
        String::from_utf8_lossy(&done.stderr).into_owned()
    };
    let mut wrong = taped();
    wrong[3] = "3-4=1100".into();
    let words = refused(&wrong);
    assert!(
        words.contains("sheet 3 to sheet 4: taped 1100 mm") && words.contains("do: measure again"),
        "{words}"
    );
    // Never taken for flat by default.
    let words = refused(&taped()[..8]);
    assert!(words.contains("--thickness"), "{words}");
    let words = refused(&["--tape".into(), "1-1=900".into()]);
    assert!(words.contains("1-2=1482"), "{words}");
    let text = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/photographs/taped.txt");
    let done = program(&[
        "photo",
        text.to_str().unwrap(),
        "--thickness",
        "0",
        "--out",
        out.to_str().unwrap(),
    ]);
    let words = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(
        done.status.code() == Some(2) && words.contains("no picture that can be read"),
        "{words}"
    );
}

fn drawn_in(name: &str, bytes: &[u8]) -> Result<Value, String> {
    let folder = tempfile::tempdir().unwrap();
    let (file, out) = (folder.path().join(name), folder.path().join("outline.toml"));
    std::fs::write(&file, bytes).unwrap();
    let done = program(&["outline", file.to_str().unwrap(), "--out", out.to_str().unwrap()]);
    if !done.status.success() {
        return Err(String::from_utf8_lossy(&done.stderr).into_owned());
    }
    let read: toml::Table = std::fs::read_to_string(&out).unwrap().parse().unwrap();
    Ok(serde_json::to_value(read).unwrap())
}

/// A drawing written by the dxf library: lines and an arc drawn in any order and direction, in inches, with a
/// circle inside.
#[test]
fn a_dxf_drawing_becomes_an_outline() {
    use dxf::entities::{Arc, Circle, Entity, EntityType, Line};
    let at = |x: f64, y: f64| dxf::Point::new(x, y, 0.0);
    let mut drawing = dxf::Drawing::new();
    // Older ones do not tell their unit.
    drawing.header.version = dxf::enums::AcadVersion::R2000;
    drawing.header.default_drawing_units = dxf::enums::Units::Inches;
    // A slot of 20 by 10 in with a half round right end, and a hole.
    let lines = [
        (at(0.0, 0.0), at(20.0, 0.0)),
        (at(0.0, 10.0), at(20.0, 10.0)),
        (at(0.0, 0.0), at(0.0, 10.0)),
    ];
    for (a, b) in lines {
        drawing.add_entity(Entity::new(EntityType::Line(Line::new(a, b))));
    }
    drawing.add_entity(Entity::new(EntityType::Arc(Arc::new(at(20.0, 5.0), 5.0, 270.0, 90.0))));
    drawing.add_entity(Entity::new(EntityType::Circle(Circle::new(at(6.0, 4.0), 1.5))));
    let mut bytes = Vec::new();
    drawing.save(&mut bytes).unwrap();
    let found = drawn_in("slot.dxf", &bytes).unwrap();
    let corners = found["corner"].as_array().unwrap();
    let area = area_of(corners);
    let is = (200.0 + std::f64::consts::PI * 12.5) * 25.4 * 25.4;
    assert!((area / is - 1.0).abs() < 1e-4, "{area} is {is}");
    let hole = &found["cut_out"][0];
    assert!((mm(&hole["diameter"]) - 76.2).abs() < 0.06 && (mm(&hole["x"]) - 152.4).abs() < 0.06);
    let mut open = dxf::Drawing::new();
    open.add_entity(Entity::new(EntityType::Line(Line::new(at(0.0, 0.0), at(20.0, 0.0)))));
    let mut bytes = Vec::new();
    open.save(&mut bytes).unwrap();
    let words = drawn_in("open.dxf", &bytes).unwrap_err();
    assert!(words.contains("do: "), "{words}");
}

/// Area of corners and bows: the chords' polygon, and a segment of a circle for each bow.
fn area_of(corners: &[Value]) -> f64 {
    let n = corners.len();
    (0..n)
        .map(|i| {
            let (a, b) = (&corners[i], &corners[(i + 1) % n]);
            let (ax, ay, bx, by) = (mm(&a["x"]), mm(&a["y"]), mm(&b["x"]), mm(&b["y"]));
            let rise: f64 = a.get("rise").map_or(0.0, mm);
            let chord = (bx - ax).hypot(by - ay);
            let bow = if rise == 0.0 {
                0.0
            } else {
                let half = 2.0 * (2.0 * rise.abs() / chord).atan();
                let r = chord / 2.0 / half.sin();
                rise.signum() * r * r * (half - half.sin() * half.cos())
            };
            (ax * by - bx * ay) / 2.0 + bow
        })
        .sum()
}

#[test]
fn drawings_that_are_no_outline_are_refused() {
    let svg = |inside: &str| {
        format!(
            "<svg xmlns='http://www.w3.org/2000/svg' width='400mm' height='300mm' viewBox='0 0 400 300'>{inside}</svg>"
        )
    };
    for (inside, says) in [
        (
            "<path d='M10 10H200V100' fill='red'/><path d='M300 200h50v50h-50z'/>",
            "ends where no other",
        ),
        ("<path d='M10 10H100V100H10Z'/><path d='M200 10H300V100H200Z'/>", "beside each other"),
        ("", "no closed line"),
    ] {
        let words = drawn_in("a.svg", svg(inside).as_bytes()).unwrap_err();
        assert!(words.contains(says) && words.contains("do: "), "{words}");
    }
    assert!(drawn_in("a.svg", b"no drawing").unwrap_err().contains("cannot be read"));
    assert!(drawn_in("a.dxf", b"\0\xff").unwrap_err().contains("do: "));
}

/// The sheets printed at true size: a reader of PDF finds a page of letter size for each, and one that tells
/// how.
#[test]
fn sheets_are_printed_on_either_paper() {
    let folder = tempfile::tempdir().unwrap();
    for (paper, width) in [("A4", 595.28), ("Letter", 612.0)] {
        let out = folder.path().join(format!("{paper}.pdf"));
        assert!(
            program(&["photo-sheets", "--out", out.to_str().unwrap(), "--paper", paper])
                .status
                .success()
        );
        let read = lopdf::Document::load(&out).unwrap();
        assert_eq!(read.get_pages().len(), 5);
        for (_, page) in read.get_pages() {
            let object = read.get_dictionary(page).unwrap();
            let media = object.get(b"MediaBox").unwrap().as_array().unwrap();
            assert!((f64::from(media[2].as_float().unwrap()) - width).abs() < 0.6);
        }
    }
}
