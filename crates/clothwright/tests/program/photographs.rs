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
        words.contains("does not fit the photograph") && words.contains("do: measure it again"),
        "{words}"
    );
    let words = refused(&["--tape".into(), "1-1=900".into()]);
    assert!(words.contains("1-2=1482"), "{words}");
    let text = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/photographs/taped.txt");
    let done = program(&["photo", text.to_str().unwrap(), "--out", out.to_str().unwrap()]);
    let words = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(
        done.status.code() == Some(2) && words.contains("no picture that can be read"),
        "{words}"
    );
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
