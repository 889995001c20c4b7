//! Widths, directions and cloths side by side; near misses that change more than a measure.

use crate::said;
use clothwright::job_file;
use geometry::Length;
use lay::Limits;
use serde_json::Value;
use std::process::Command;

const JOB: &str = r#"
[job]
name = "Test"
unit = "in"
[near_misses]
hidden_seam = true
swap_cloths = true
[[cloth]]
name = "Plain"
width = "54"
price = 20
step = "1 in"
trim = "0"
[[cloth]]
name = "Stripe"
width = "54"
price = 40
step = "1 in"
trim = "0"
repeat = { length = "12" }
[[piece]]
name = "Back"
kind = "measured"
cloth = "Plain"
width = "40"
height = "30"
count = 2
"#;

fn compare(args: &[&str]) -> (i32, String, String) {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job.toml");
    std::fs::write(&job, JOB).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .arg("compare")
        .arg(&job)
        .args(args)
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    (output.status.code().unwrap(), text(output.stdout), text(output.stderr))
}

#[test]
fn each_row_is_a_plan_of_its_own() {
    let (code, out, _) = compare(&["--widths", "81 in, 30 in", "--json"]);
    assert_eq!(code, 0);
    let tables: Value = serde_json::from_str(&out).unwrap();
    let rows = tables[0]["rows"].as_array().unwrap();
    let bought = |cloth: &str, width: f64, laid: &str| -> Option<f64> {
        let row = rows
            .iter()
            .find(|r| r["cloth"] == cloth && r["width_mm"] == width && r["laid"] == laid);
        row.unwrap()["outcome"]["buy"]["quantity"].as_f64()
    };
    // Two backs 40 wide and 30 high: 60 of length one after another on 54; beside one another on 81
    // it takes 30. Railroaded on 54: 40 across the roll's length twice, or 80 of it. On 30 they fit
    // railroaded only. The stripe is 60 too, in whole inches.
    assert_eq!(bought("Plain", 54.0 * 25.4, "up the roll"), Some(60.0 / 36.0));
    assert_eq!(bought("Plain", 54.0 * 25.4, "railroaded"), Some(80.0 / 36.0));
    assert_eq!(bought("Plain", 81.0 * 25.4, "up the roll"), Some(30.0 / 36.0));
    assert_eq!(bought("Plain", 30.0 * 25.4, "up the roll"), None);
    assert_eq!(bought("Plain", 30.0 * 25.4, "railroaded"), Some(80.0 / 36.0));
    assert_eq!(bought("Stripe", 54.0 * 25.4, "up the roll"), Some(60.0 / 36.0));
    assert!(rows.iter().filter(|r| r["now"] == true).count() == 1);
}

#[test]
fn bad_widths_are_told_with_the_remedy() {
    for widths in ["wide", "54 in, -3", "0"] {
        let (code, _, err) = compare(&[&format!("--widths={widths}")]);
        assert_eq!(code, 2, "{widths}");
        assert!(err.contains("--widths") && err.contains("= do:"), "{err}");
    }
}

#[test]
fn the_comparison_is_written_as_a_page_for_each_cloth() {
    let folder = tempfile::tempdir().unwrap();
    let (code, out, _) = compare(&["--out", folder.path().to_str().unwrap()]);
    assert_eq!(code, 0);
    assert!(out.contains("(*: as the job stands)"), "{out}");
    let pdf = lopdf::Document::load(folder.path().join("comparison.pdf")).unwrap();
    assert_eq!(pdf.get_pages().len(), 1);
}

#[test]
fn a_seam_is_proposed_only_where_it_saves_cloth() {
    // Four backs 28 wide and 20 high on 54: one beside another does not go, 80 of length. One of each
    // cut in halves of 14 1/2: two whole ones need 40, and halves lie three abreast.
    let job = JOB.replace(
        "width = \"40\"\nheight = \"30\"\ncount = 2",
        "width = \"28\"\nheight = \"20\"\ncount = 4",
    );
    let read = job_file::read(&job);
    assert_eq!(read.faults.len(), 0, "{:?}", read.faults);
    let plan = trade::plan::plan(&read.job, &Limits::quick(1)).unwrap();
    assert_eq!(plan.lays.cloths[0].purchase, Length::from_inches(80.0));
    let hints = trade::hints::hints(&plan, &Limits::quick(1));
    let seam = hints.iter().find(|h| said(&h.what).contains("joined down the middle")).unwrap();
    // Eight halves of 14 1/2, three abreast: three rows of 20.
    assert_eq!(seam.cloths[0].2, Length::from_inches(60.0));
    // The two of the job as it stands lie as well without a seam.
    let read = job_file::read(JOB);
    let plan = trade::plan::plan(&read.job, &Limits::quick(1)).unwrap();
    assert_eq!(trade::hints::hints(&plan, &Limits::quick(1)), []);
}

#[test]
fn what_is_needed_whatever_the_lay_is_not_more_than_any_way_needs() {
    // Of a cloth that may lie either way the best lay's own way says nothing of the others.
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/jobs/practice");
    let mut lower = 0;
    for name in ["boat_berths", "booth", "dining_seats", "hotel_backs", "remnants", "stools"] {
        let text = std::fs::read_to_string(format!("{folder}/{name}.toml")).unwrap();
        let least = |direction: &str| {
            let text = text.replace("direction = \"either\"", direction);
            let read = job_file::read(&text);
            let developed = trade::plan::check(&read.job).unwrap();
            let lays = trade::lays::lays(&read.job, &developed, &Limits::quick(1)).ok()?;
            let lay = &lays.cloths[0];
            let own = lay.instance.buying.purchase(lay::least_length(&lay.instance).length);
            Some((lay.least_purchase, own))
        };
        let (told, own) = least("direction = \"either\"").unwrap();
        lower += usize::from(told < own);
        for way in ["", "direction = \"railroaded\""] {
            let Some((one_way, _)) = least(way) else { continue };
            assert!(told <= one_way, "{name}: {told} told, {one_way} needed with {way:?}");
        }
    }
    assert!(lower > 0, "no job of these shows it");
}
