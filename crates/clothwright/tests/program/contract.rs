//! The command line and the plan file, run as a stranger runs them.

use crate::checker;
use serde_json::Value;
use std::process::Command;

fn demo(folder: &std::path::Path, more: &[&str]) -> Value {
    let out = folder.to_str().unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .args(["demo", "--out", out])
        .args(more)
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&std::fs::read(folder.join("plan.json")).unwrap()).unwrap()
}

fn schema() -> jsonschema::Validator {
    let text = include_str!("../../schema/plan.schema.json");
    jsonschema::validator_for(&serde_json::from_str(text).unwrap()).unwrap()
}

#[track_caller]
fn fits_schema(plan: &Value) {
    let problems: Vec<String> =
        schema().iter_errors(plan).map(|e| format!("{} at {}", e, e.instance_path())).collect();
    assert_eq!(problems, Vec::<String>::new());
}

#[test]
fn the_demo_pack_is_whole_and_right() {
    let folder = tempfile::tempdir().unwrap();
    let plan = demo(folder.path(), &[]);
    fits_schema(&plan);
    assert_eq!(checker::faults(&plan), Vec::<String>::new());
    assert_eq!(plan["format"], "clothwright-plan/1");
    // What the example promises to show.
    let lays = plan["lays"].as_array().unwrap();
    let has = |what: &dyn Fn(&Value) -> bool| lays.iter().any(what);
    assert!(has(&|l| l["repeat"]["drop"] == "half"));
    assert!(has(&|l| l["stock"].as_str().unwrap().starts_with("remnant:")));
    assert!(has(&|l| !l["flaws_mm"].as_array().unwrap().is_empty()));
    assert_eq!(plan["options"].as_array().unwrap().len(), 1);
    let read = clothwright::job_file::read(clothwright::DEMO);
    let made = trade::plan::check(&read.job).unwrap();
    assert!(made.iter().map(|d| d.count).sum::<usize>() >= 30);
    let mut kinds: Vec<&str> = read.job.pieces.iter().map(|p| p.kind.name()).collect();
    kinds.sort_unstable();
    kinds.dedup();
    assert!(kinds.len() >= 5, "{kinds:?}");
    for name in ["job-pack.pdf", "plan.json", "lays/fern-1.svg"] {
        assert!(folder.path().join(name).exists(), "{name}");
    }
}

#[test]
fn the_same_seed_gives_the_same_bytes() {
    let (a, b) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    demo(a.path(), &["--seed", "7"]);
    demo(b.path(), &["--seed", "7"]);
    let bytes = |f: &tempfile::TempDir| std::fs::read(f.path().join("plan.json")).unwrap();
    assert!(bytes(&a) == bytes(&b));
}

#[test]
fn a_new_pack_replaces_the_old_one_and_leaves_other_files_alone() {
    let folder = tempfile::tempdir().unwrap();
    demo(folder.path(), &[]);
    std::fs::write(folder.path().join("photo.txt"), "mine").unwrap();
    std::fs::write(folder.path().join("lays/mine.svg"), "mine").unwrap();
    std::fs::write(folder.path().join("parts/3A notes.txt"), "mine").unwrap();
    // A job with other cloths takes the old lays away, and nothing else.
    let job = folder.path().join("job.toml");
    std::fs::write(&job, clothwright::DEMO.replace("\"Fern\"", "\"Moss\"")).unwrap();
    assert!(folder.path().join("lays/fern-1.svg").exists());
    let plan = |job: &std::path::Path| {
        Command::new(env!("CARGO_BIN_EXE_clothwright"))
            .args(["plan", job.to_str().unwrap(), "--seconds", "0"])
            .args(["--out", folder.path().to_str().unwrap()])
            .output()
            .unwrap()
    };
    assert!(plan(&job).status.success());
    for mine in ["photo.txt", "lays/mine.svg", "parts/3A notes.txt"] {
        assert!(folder.path().join(mine).exists(), "{mine}");
    }
    assert!(!folder.path().join("lays/fern-1.svg").exists());
    assert!(folder.path().join("lays/moss-1.svg").exists());
    // A file of one's own under a name that the pack wants is left, and nothing is written.
    std::fs::write(folder.path().join("lays/oat-1.svg"), "mine").unwrap();
    std::fs::write(&job, clothwright::DEMO.replace("\"Fern\"", "\"Oat\"")).unwrap();
    let refused = plan(&job);
    assert_eq!(refused.status.code(), Some(1));
    let told = String::from_utf8_lossy(&refused.stderr).into_owned();
    assert!(told.contains("lays/oat-1.svg"), "{told}");
    assert_eq!(std::fs::read(folder.path().join("lays/oat-1.svg")).unwrap(), b"mine");
    assert!(folder.path().join("lays/moss-1.svg").exists());
    let left: Vec<String> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|n| n.starts_with('.'))
        .collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn a_failure_leaves_the_old_pack_whole() {
    let folder = tempfile::tempdir().unwrap();
    let before = demo(folder.path(), &[]);
    let templates = tempfile::tempdir().unwrap();
    std::fs::write(templates.path().join("quote.typ"), "#no-such-thing").unwrap();
    let job = folder.path().join("job.toml");
    std::fs::write(&job, clothwright::DEMO.replace("Lakeside tea room", "Another")).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .args(["plan", job.to_str().unwrap(), "--out", folder.path().to_str().unwrap()])
        .args(["--page-designs", templates.path().to_str().unwrap()])
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(told.contains("quote.typ:1"), "{told}");
    let after: Value =
        serde_json::from_slice(&std::fs::read(folder.path().join("plan.json")).unwrap()).unwrap();
    assert_eq!(before, after);
}

#[test]
fn a_shop_can_replace_a_template() {
    let folder = tempfile::tempdir().unwrap();
    let templates = tempfile::tempdir().unwrap();
    std::fs::write(templates.path().join("quote.typ"), "Our own quote").unwrap();
    let job = folder.path().join("job.toml");
    std::fs::write(&job, clothwright::DEMO).unwrap();
    let output = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .args(["plan", job.to_str().unwrap(), "--out", folder.path().to_str().unwrap()])
        .args(["--page-designs", templates.path().to_str().unwrap()])
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
}

#[test]
fn scenarios_fit_the_schema() {
    for name in ["cafe_bench", "office_wall"] {
        let plan = crate::scenarios::planned(name, |t| t);
        fits_schema(&serde_json::from_str(&clothwright::plan_json::write(&plan, &[])).unwrap());
    }
}

/// Ctrl-C during a long search keeps the best lay so far and writes the pack.
#[cfg(unix)]
#[test]
fn stopping_keeps_the_best_so_far() {
    let folder = tempfile::tempdir().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .args(["demo", "--out", folder.path().to_str().unwrap(), "--seconds", "100000"])
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(std::time::Duration::from_millis(1500));
    let kill = Command::new("kill").args(["-INT", &child.id().to_string()]).status().unwrap();
    assert!(kill.success());
    assert!(child.wait().unwrap().success());
    let plan =
        serde_json::from_slice(&std::fs::read(folder.path().join("plan.json")).unwrap()).unwrap();
    assert_eq!(checker::faults(&plan), Vec::<String>::new());
}

#[test]
fn files_of_ones_own_are_not_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("my.toml");
    std::fs::write(&own, "mine").unwrap();
    let run = |args: &[&str]| {
        Command::new(env!("CARGO_BIN_EXE_clothwright")).args(args).output().unwrap()
    };
    let out = folder.path().join("pack");
    let demo = run(&[
        "demo",
        "--seconds",
        "0",
        "--out",
        out.to_str().unwrap(),
        "--job",
        own.to_str().unwrap(),
    ]);
    let survey = run(&["survey", "--out", own.to_str().unwrap()]);
    for output in [demo, survey] {
        assert_eq!(output.status.code(), Some(1));
        let told = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(told.contains("nothing was overwritten"), "{told}");
    }
    assert_eq!(std::fs::read(&own).unwrap(), b"mine");
}
