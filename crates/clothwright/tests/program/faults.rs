//! Bad input: each fault by name, at its line, all found in one pass, nothing written.

use crate::said;
use clothwright::job_file;
use std::process::Command;

const HEAD: &str = r#"
[job]
name = "Test"
unit = "in"
[[cloth]]
name = "Plain"
width = "54"
price = 20
[[foam]]
name = "Two"
thickness = "2"
firmness = "30"
sheet = [{ length = "80", width = "60", price = 10 }]
[[board]]
name = "Half"
thickness = "1/2"
sheet = [{ length = "96", width = "48", price = 10 }]
"#;

/// Faults of a job, as `code@line of the text that follows the head`.
fn found(rest: &str) -> Vec<String> {
    let text = format!("{HEAD}{rest}");
    let head = HEAD.lines().count();
    let read = job_file::read(&text);
    let mut faults = read.faults.clone();
    let checked = trade::plan::plan(&read.job, &lay::Limits::quick(1));
    if let Err(more) = checked {
        let told = !faults.is_empty();
        faults.extend(
            job_file::place(&text, more, &read)
                .into_iter()
                .filter(|p| !(told && p.fault.code == "no-pieces")),
        );
    }
    for placed in &faults {
        assert!(!placed.fault.remedy.is_empty() && !placed.fault.what.is_empty());
    }
    faults
        .iter()
        .map(|p| {
            format!("{}@{}", p.fault.code, job_file::line(&text, p.span.start) as i64 - head as i64)
        })
        .collect()
}

fn panel(lines: &str) -> String {
    format!(
        "[[piece]]\nname = \"P\"\nkind = \"panel\"\ncloth = \"Plain\"\nboard = \"Half\"\n{lines}"
    )
}

#[test]
fn every_bad_measure_is_named_at_its_line() {
    for (lines, want) in [
        ("width = \"2o\"\nheight = \"10\"", vec!["not-a-length@6"]),
        ("width = \"0\"\nheight = \"10\"", vec!["zero-length@6"]),
        ("width = \"-4\"\nheight = \"10\"", vec!["not-a-length@6"]),
        ("width = nan\nheight = \"10\"", vec!["not-a-length@6"]),
        ("width = inf\nheight = \"10\"", vec!["not-a-length@6"]),
        ("width = \"101 m\"\nheight = \"10\"", vec!["absurd-length@6"]),
        ("width = true\nheight = \"10\"", vec!["not-a-length@6"]),
        ("height = \"10\"", vec!["missing@1"]),
        ("width = \"20\"\nheight = \"10\"\nradius = \"6\"", vec!["radius-too-large@8"]),
        ("width = \"20\"\nheight = \"10\"\nradii = [\"1\", \"2\"]", vec!["not-four-radii@8"]),
        (
            "width = \"20\"\nheight = \"10\"\ncut_out = [{ x = \"19\", y = \"5\", width = \"4\", height = \"4\" }]",
            vec!["hole-outside@8"],
        ),
        (
            "width = \"20\"\nheight = \"10\"\ncut_out = [{ x = \"40\", y = \"5\", diameter = \"4\" }]",
            vec!["hole-outside@8"],
        ),
        (
            "shape = \"corners\"\ncorner = [{ x = \"0\", y = \"0\" }, { x = \"9\", y = \"9\" }, { x = \"9\", y = \"0\" }, { x = \"0\", y = \"9\" }]",
            vec!["outline-crosses@1"],
        ),
        (
            "shape = \"corners\"\ncorner = [{ x = \"0\", y = \"0\" }, { x = \"9\", y = \"0\" }]",
            vec!["few-corners@1"],
        ),
        (
            "shape = \"trapezoid\"\nbottom = \"700 mm\"\ntop = \"560 mm\"\nheight = \"480 mm\"\ndiagonals = [\"700 mm\", \"700 mm\"]",
            vec!["diagonal-contradicts@10", "diagonal-contradicts@10"],
        ),
        ("width = \"24\"\nheight = \"24\"\ndiagonals = [\"33 15/16\", \"33 15/16\"]", vec![]),
        (
            "width = \"24\"\nheight = \"24\"\ndiagonals = [\"34 1/2\"]",
            vec!["diagonal-contradicts@8"],
        ),
        (
            "height = \"20\"\nrun = { length = \"100\", measured = [\"30\", \"30\", \"30\"] }",
            vec!["sections-do-not-add-up@7"],
        ),
        (
            "height = \"20\"\nrun = { length = \"1\", sections = 30 }",
            vec!["no-room-for-sections@7"],
        ),
        ("width = \"20\"\nheight = \"10\"\nhand = \"pair\"\ncount = 3", vec!["unequal-pair@9"]),
        ("width = \"20\"\nheight = \"10\"\ncount = 0", vec!["not-a-count@8"]),
        ("width = \"20\"\nheight = \"10\"\ncuont = 2", vec!["unknown-key@8"]),
        ("width = \"20\"\nheight = \"10\"\nhand = \"lefft\"", vec!["unknown-word@8"]),
        (
            "width = \"60\"\nheight = \"60\"",
            vec!["part-larger-than-sheet@0", "too-wide-for-cloth@4"],
        ),
        ("shape = \"ring\"\ndiameter = \"20\"\ninner = \"20\"", vec!["hole-outside@8"]),
        (
            "width = \"20\"\nheight = \"10\"\nnotch = [{ side = \"top\", from = \"15\", width = \"9\", depth = \"2\" }]",
            vec!["notch-outside@8"],
        ),
        ("width = \"20\"\nheight = \"10\"\nside = { top = { edge = \"lip\" } }", vec!["missing@8"]),
    ] {
        let mut got = found(&panel(lines));
        got.sort();
        assert_eq!(got, want, "{lines}");
    }
}

#[test]
fn bad_materials_references_and_rates_are_named() {
    let good = panel("width = \"20\"\nheight = \"10\"\n");
    for (rest, want) in [
        (good.replace("\"Plain\"", "\"Plane\""), vec!["unknown-cloth@4"]),
        (good.replace("cloth = \"Plain\"\n", ""), vec!["no-cloth@1"]),
        (good.replace("\"Half\"", "\"Haf\""), vec!["unknown-board@5"]),
        (format!("{good}{good}"), vec!["same-name@9"]),
        (format!("{good}[tax]\nrate = 120\n"), vec!["tax-over-100@9"]),
        (
            format!("{good}[rates]\ncloth_markup = 40\ncloth_margin = 30\n"),
            vec!["markup-and-margin@10"],
        ),
        (format!("{good}[rates]\nhour = \"lots\"\n"), vec!["not-a-number@9"]),
        (
            format!(
                "[[cloth]]\nname = \"Thin\"\nwidth = \"1\"\nselvedge = \"1/2\"\nprice = 1\n{good}"
            ),
            vec!["no-usable-width@3"],
        ),
        (
            format!(
                "[[cloth]]\nname = \"Short\"\nwidth = \"54\"\nroll = \"1 ft\"\nprice = 1\n{}",
                good.replace("Plain", "Short").replace("10\"", "20\"")
            ),
            vec!["longer-than-roll@9"],
        ),
        (
            format!("[[cloth]]\nname = \"Own\"\nwidth = \"54\"\ncustomers_own = true\n{good}"),
            vec!["no-length@4"],
        ),
        (
            format!(
                "[[cloth]]\nname = \"Rep\"\nwidth = \"54\"\nprice = 1\nrepeat = {{ width = \"60\", length = \"9\" }}\n{good}"
            ),
            vec!["repeat-wider-than-cloth@5"],
        ),
        (
            format!("{good}[[option]]\nname = \"O\"\nswap = {{ \"Plain\" = \"Gold\" }}\n"),
            vec!["unknown-cloth@10"],
        ),
        (String::new(), vec!["no-pieces@-16"]),
        (format!("{good}[[piece]\n"), vec!["not-toml@8"]),
    ] {
        let got = found(&rest);
        assert_eq!(got[..1.min(got.len())], want[..], "{rest}\n{got:?}");
    }
}

#[test]
fn a_job_has_so_many_pieces_and_no_more() {
    let many: String = (0..1200).map(|i| format!("[[piece]]\nname = \"P{i}\"\n")).collect();
    let read = clothwright::job_file::read(&format!("[job]\nname = \"Many\"\n{many}"));
    let told: Vec<_> = read.faults.iter().filter(|f| f.fault.code == "too-many").collect();
    assert_eq!(told.len(), 1);
    assert!(told[0].what().contains("1200") && told[0].remedy().contains("divide"));
}

#[test]
fn all_faults_are_found_in_one_pass() {
    let many = format!(
        "{}{}{}",
        panel("width = \"2o\"\nheight = \"0\"\nwdth = \"1\"\n"),
        panel("width = \"20\"\nheight = \"10\"\nradius = \"9\"\n").replace("\"P\"", "\"Q\""),
        panel("width = \"20\"\nheight = \"10\"\n")
            .replace("\"P\"", "\"R\"")
            .replace("Plain", "Gold"),
    );
    let mut got = found(&many);
    got.sort();
    assert_eq!(
        got,
        [
            "not-a-length@6",
            "radius-too-large@16",
            "unknown-cloth@20",
            "unknown-key@8",
            "zero-length@7"
        ]
    );
}

#[test]
fn a_suggestion_is_near_what_was_typed() {
    let text = format!("{HEAD}{}", panel("width = \"20\"\nheigth = \"10\"\n"));
    let shown = job_file::show("job.toml", &text, &job_file::read(&text).faults);
    assert!(shown.contains("did you mean `height`?"), "{shown}");
    assert!(shown.contains("job.toml:"), "{shown}");
}

#[test]
fn warnings_do_not_stop_the_plan() {
    let rest = format!(
        "[[foam]]\nname = \"Soft\"\nthickness = \"1\"\ndensity = \"1.8 lb/ft3\"\nsheet = [{{ length = \"80\", width = \"60\", price = 10 }}]\n\
         [[sundry]]\nname = \"Staples\"\nfor = \"staples\"\nleg = \"3/4\"\n{}fixing = {{ by = \"screws\", count = 4, gauge = 4, length = \"3\", into = \"3/4\", through_face = true }}\n",
        panel("width = \"20\"\nheight = \"10\"\nfoam = \"Soft\"\n")
    );
    let text = format!("{HEAD}{rest}");
    let read = job_file::read(&text);
    let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
    let mut codes: Vec<&str> = plan.warnings().iter().map(|w| w.code).collect();
    codes.sort_unstable();
    assert_eq!(
        codes,
        ["no-cap-for-gauge", "no-firmness", "no-hourly-rate", "screw-too-long", "staple-too-long"]
    );
    let staple = plan.warnings().into_iter().find(|w| w.code == "staple-too-long").unwrap();
    // Cloth 1 mm and board 1/2, less 1/16: 7/16 and a little.
    assert_eq!(said(&staple.remedy), "use legs of 5/16 or 7/16 in");
}

#[test]
fn a_customers_own_cloth_that_is_short_says_what_it_gives() {
    let rest = format!(
        "[[cloth]]\nname = \"Own\"\nwidth = \"54\"\ncustomers_own = true\non_hand = [{{ id = \"own\", length = \"30\" }}]\n{}count = 6\n",
        panel("width = \"20\"\nheight = \"20\"\n").replace("Plain", "Own")
    );
    let text = format!("{HEAD}{rest}");
    let read = job_file::read(&text);
    let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
    let own = plan.lays.cloths[0].own.as_ref().unwrap();
    // Covers 25 square: two abreast, one row in 30; two more rows of 25 are missing.
    assert_eq!((own.laid, own.asked), (2, 6));
    assert!(own.missing >= geometry::Length::from_inches(50.0));
    assert_eq!(own.pieces, [("P".to_string(), 2, 6)]);
    assert!(plan.warnings().iter().any(|w| w.code == "own-cloth-short"));
}

#[test]
fn own_cloth_goes_to_whole_pieces_the_most_wanted_first() {
    // 60 in of cloth. The small ones would all fit, but the chair is wanted first: its seat and back
    // take 29 + 29, and beside them small ones of 21.
    let piece = |name: &str, w: &str, h: &str, count: usize, more: &str| {
        format!(
            "[[piece]]\nname = \"{name}\"\nkind = \"measured\"\ncloth = \"Own\"\nwidth = \"{w}\"\nheight = \"{h}\"\ncount = {count}\n{more}"
        )
    };
    let job = |chair: &str| {
        format!(
            "{HEAD}[[cloth]]\nname = \"Own\"\nwidth = \"54\"\ncustomers_own = true\non_hand = [{{ id = \"own\", length = \"60\" }}]\n{}{}",
            piece("Stool", "26", "29", 4, ""),
            piece("Chair", "30", "29", 2, chair)
        )
    };
    let given = |chair: &str| {
        let read = job_file::read(&job(chair));
        assert_eq!(read.faults.len(), 0, "{:?}", read.faults);
        let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
        let lay = &plan.lays.cloths[0];
        assert_eq!(lay::verify(&lay.instance, &lay.answer.lay), []);
        lay.own.as_ref().unwrap().pieces.iter().map(|p| p.1).collect::<Vec<_>>()
    };
    assert_eq!(given(""), [4, 0]);
    assert_eq!(given("priority = 1\n"), [0, 2]);
}

fn program(args: &[&str]) -> (i32, String) {
    let output = Command::new(env!("CARGO_BIN_EXE_clothwright")).args(args).output().unwrap();
    (output.status.code().unwrap(), String::from_utf8_lossy(&output.stderr).into_owned())
}

#[test]
fn the_program_exits_with_2_and_writes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job.toml");
    let out = folder.path().join("pack");
    std::fs::write(&job, format!("{HEAD}{}", panel("width = \"2o\"\nheight = \"10\"\n"))).unwrap();
    let (job, out) = (job.to_str().unwrap(), out.to_str().unwrap());
    let (code, told) = program(&["plan", job, "--out", out]);
    assert_eq!(code, 2);
    assert!(told.contains("not-a-length") && told.contains("job.toml:23:9"), "{told}");
    assert!(!std::path::Path::new(out).exists());
    assert_eq!(program(&["check", job]).0, 2);
    assert_eq!(program(&["check", "/no/such/file"]).0, 2);
    let (code, json) = {
        let output = Command::new(env!("CARGO_BIN_EXE_clothwright"))
            .args(["check", job, "--json"])
            .output()
            .unwrap();
        (output.status.code().unwrap(), String::from_utf8_lossy(&output.stdout).into_owned())
    };
    let list: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!((code, list[0]["line"].as_u64().unwrap()), (2, 23));
}

#[test]
fn a_folder_that_cannot_be_written_is_told_before_the_work() {
    let folder = tempfile::tempdir().unwrap();
    let blocked = folder.path().join("file");
    std::fs::write(&blocked, "here is a file").unwrap();
    let inside = blocked.join("pack");
    let (code, told) = program(&["demo", "--out", inside.to_str().unwrap()]);
    assert_eq!(code, 1);
    assert!(told.contains("pack"), "{told}");
}

#[test]
fn a_file_of_ten_megabytes_is_refused_with_the_limit() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("big.toml");
    std::fs::write(&job, "# a long remark\n".repeat(700_000)).unwrap();
    let (code, told) = program(&["check", job.to_str().unwrap()]);
    assert_eq!(code, 2);
    assert!(told.contains("4 MB"), "{told}");
}

#[test]
fn five_thousand_parts_are_laid() {
    let rest = format!(
        "{}count = 5000\n",
        panel("width = \"20\"\nheight = \"10\"\n").replace("board = \"Half\"\n", "")
    );
    let text = format!("{HEAD}{rest}");
    let read = job_file::read(&text);
    let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
    let lay = &plan.lays.cloths[0].answer;
    assert_eq!(lay.lay.strips[0].placements.len(), 5000);
    let text = text.replace("count = 5000", "count = 20000").replace("[[piece]]", "[[piece]]\nname = \"Q\"\nkind = \"measured\"\ncloth = \"Plain\"\nwidth = \"9\"\nheight = \"9\"\n[[piece]]");
    let faults = trade::plan::plan(&job_file::read(&text).job, &lay::Limits::quick(1)).unwrap_err();
    assert_eq!(faults[0].code, "too-many-pieces");
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(300))]

    #[test]
    fn no_text_makes_the_reader_panic(text in "(\\[\\[?(job|cloth|piece|tax|foam)\\]\\]?|name|width|=|\"|\n|[0-9. /'-]|kind|panel|\\{|\\}|,){0,60}") {
        let read = job_file::read(&text);
        let _ = job_file::show("t", &text, &read.faults);
        let _ = trade::plan::check(&read.job);
    }
}

#[test]
fn odd_numbers_neither_hang_nor_panic() {
    let fine = "[[cloth]]\nname = \"Fine\"\nwidth = \"54\"\nprice = 1\nrepeat = { length = \"1/64\", width = \"1/64\", drop = \"half\" }\n";
    let patterned = format!(
        "{fine}{}pattern = \"centred\"\n",
        panel("width = \"20\"\nheight = \"10\"\n").replace("Plain", "Fine")
    );
    assert_eq!(found(&patterned), Vec::<String>::new());
    let read = job_file::read(&format!("{HEAD}{patterned}"));
    let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
    assert!(documents::job_pack(&plan, &[], &Default::default()).is_ok());
    let wall = "[[piece]]\nname = \"W\"\nkind = \"wall grid\"\ncloth = \"Plain\"\nwidth = \"90 m\"\nheight = \"90 m\"\ncolumns = 200\nrows = 200\n";
    assert_eq!(found(wall), ["too-many-parts@1"]);
    // Flaws over the whole remnant: it is simply not used.
    let flawed = "[[cloth]]\nname = \"F\"\nwidth = \"54\"\nprice = 1\non_hand = [{ id = \"r\", length = \"90\", flaw = [{ x = \"0\", y = \"0\", width = \"54\", length = \"90\" }] }]\n";
    let job =
        format!("{flawed}{}", panel("width = \"20\"\nheight = \"10\"\n").replace("Plain", "F"));
    assert_eq!(found(&job), Vec::<String>::new());
    for seconds in ["NaN", "-1", "inf", "soon"] {
        let (code, told) = program(&["demo", "--out", "/tmp/never", "--seconds", seconds]);
        assert_eq!(code, 2, "{told}");
    }
}
