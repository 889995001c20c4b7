//! Requests a browser would send, and those only someone else would.

use crate::http::send;
use crate::served::{Served, Visitor, between};
use std::process::Command;

const JOB: &str = r#"
[job]
name = "Bench"
unit = "in"
[[cloth]]
name = "Plain"
width = "54"
price = 20
[[board]]
name = "Ply"
thickness = "1/2"
sheet = [{ length = "96", width = "48", price = 40 }]
[[piece]]
name = "Seat"
kind = "panel"
width = "40"
height = "18"
cloth = "Plain"
board = "Ply"
[[piece]]
name = "Back"
kind = "panel"
width = "40"
height = "20"
cloth = "Plain"
board = "Ply"
"#;

#[test]
fn only_the_page_itself_may_change_anything() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let job = visitor.job(JOB);
    let set = format!("{job}/set");
    let body = crate::http::form(&[
        ("base", "1"),
        ("path", "piece.0.width"),
        ("sort", "text"),
        ("value", "41"),
    ]);
    let kind = ("Content-Type", "application/x-www-form-urlencoded");
    let cookie = ("Cookie", visitor.cookie.as_str());
    let token = ("X-Token", visitor.token.as_str());
    let code =
        |headers: &[(&str, &str)]| send(page.address, "POST", &set, headers, &body).unwrap().code;
    // No token, a wrong one, no cookie, another page's origin, another name for this machine.
    assert_eq!(code(&[kind, cookie]), 403);
    assert_eq!(code(&[kind, cookie, ("X-Token", "0")]), 403);
    assert_eq!(code(&[kind, token]), 403);
    assert_eq!(code(&[kind, cookie, token, ("Origin", "http://evil.example")]), 403);
    assert_eq!(code(&[kind, cookie, token, ("Host", "evil.example")]), 403);
    assert_eq!(send(page.address, "GET", "/", &[("Host", "evil.example")], &[]).unwrap().code, 403);
    let own = format!("http://{}", page.address);
    assert_eq!(code(&[kind, cookie, token, ("Origin", &own)]), 200);
    // Every answer forbids what the page does not need.
    let answer = visitor.get("/");
    let policy = answer.header("content-security-policy").unwrap();
    assert!(policy.contains("default-src 'none'") && !policy.contains("unsafe"));
    assert_eq!(answer.header("x-content-type-options"), Some("nosniff"));
    let cookie = send(page.address, "GET", "/", &[], &[]).unwrap();
    let cookie = cookie.header("set-cookie").unwrap().to_string();
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
}

#[test]
fn a_customer_is_known_again() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let job = visitor.job(JOB);
    let base = visitor.base(&job);
    visitor.set(&job, &base, "customer.name", "Mill House & Sons");
    let base = visitor.base(&job);
    visitor.set(&job, &base, "customer.contact", "555 0143");
    let known = visitor.get("/customers?words=mill");
    assert!(known.text().contains("Mill House &amp; Sons") && known.text().contains("555 0143"));
    assert!(!visitor.get("/customers?words=nobody").text().contains("Mill House"));
    let id = job.rsplit('/').next().unwrap();
    let begun = visitor.post("/jobs", &[("name", "Second visit"), ("like", id)]);
    let second = visitor.get(begun.header("location").unwrap());
    assert!(second.text().contains("Mill House &amp; Sons") && second.text().contains("555 0143"));
    assert!(visitor.get("/?words=mill+house").text().contains("Second visit"));
    assert_eq!(visitor.post("/jobs", &[("name", "x"), ("like", "999")]).code, 404);
    assert_eq!(visitor.post("/jobs", &[("name", "x"), ("like", "y")]).code, 422);
}

#[test]
fn a_cut_out_is_added_by_its_measures() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let job = visitor.job(JOB);
    let base = visitor.base(&job);
    let fields = [
        ("base", base.as_str()),
        ("piece", "0"),
        ("what", "the vent"),
        ("x", "12"),
        ("y", "8"),
        ("width", "10"),
        ("height", "6"),
    ];
    assert_eq!(visitor.post(&format!("{job}/cut-out"), &fields).code, 200);
    let text = visitor.get(&format!("{job}/papers/job.toml")).text().to_string();
    assert!(text.contains("cut_out = [{ what = \"the vent\", x = \"12\", y = \"8\""), "{text}");
    let base = visitor.base(&job);
    assert_eq!(visitor.set(&job, &base, "piece.0.cut_out.0.width", "9 1/2").code, 200);
    let text = visitor.get(&format!("{job}/papers/job.toml")).text().to_string();
    assert!(text.contains("width = \"9 1/2\", height"), "{text}");
    assert!(visitor.get(&job).text().contains("Cut-outs"));
}

#[test]
fn parts_are_pinned_and_flaws_marked_by_their_measures() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let job = visitor.job(JOB);
    let text = || visitor.get(&format!("{job}/papers/job.toml")).text().to_string();
    let post = |what: &str, fields: &[(&str, &str)]| {
        let base = visitor.base(&job);
        let all = [&[("base", base.as_str()), ("cloth", "0")], fields].concat();
        visitor.post(&format!("{job}/{what}"), &all)
    };
    let pin = [("part", "1A"), ("to_x", "2"), ("to_y", "40")];
    assert_eq!(post("pin", &pin).code, 303);
    assert!(text().contains("pin = [{ part = \"1A\", x = "), "{}", text());
    // Over itself, off the tape, no such part, a place beyond all cloth.
    let beyond = ("1A", "2", "99999 m");
    for (part, x, y) in [("1A", "2", "4x"), ("77Z", "2", "4"), ("1A", "", ""), beyond] {
        let bad = [("part", part), ("to_x", x), ("to_y", y)];
        assert_eq!(post("pin", &bad).code, 422, "{part} {x} {y}");
    }
    let flaw = [("x", "10"), ("y", "90"), ("width", "2"), ("length", "1 1/2")];
    assert_eq!(post("flaw", &flaw).code, 303);
    assert!(text().contains("flaw = [{ x = \"10\", y = \"90\""), "{}", text());
    let screen = visitor.get(&format!("{job}/by-hand/0")).text().to_string();
    assert!(screen.contains("1 1/2 in along") && screen.contains("class=\"kept\""), "{screen}");
    let tapped = [("strip", "0"), ("at_x", "nan"), ("at_y", "10")];
    assert_eq!(post("flaw", &tapped).code, 422);
    assert_eq!(post("flaw", &[("out", "7")]).code, 422);
    assert_eq!(post("flaw", &[("out", "0")]).code, 303);
    assert_eq!(post("let-go", &[("pin", "3")]).code, 422);
    assert_eq!(post("let-go", &[("pin", "0")]).code, 303);
    assert!(!text().contains("1A"), "{}", text());
    assert_eq!(visitor.get(&format!("{job}/by-hand/9")).code, 404);
}

#[test]
fn bad_requests_are_told_and_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let job = visitor.job(JOB);
    for path in [
        "/job/999",
        "/job/x",
        "/nothing",
        "/assets/../Cargo.toml",
        "/assets/%2e%2e%2fCargo.toml",
        "/photo/9",
        "/job/1/papers/..%2f..%2fetc%2fpasswd",
        "/job/1/lay/9/9",
        "/job/1/bench/99/0",
    ] {
        let code = visitor.get(path).code;
        assert!((400..500).contains(&code), "{path} {code}");
    }
    // A value that is no length is kept as typed, and said to be none.
    let told = visitor.set(&job, "1", "piece.0.width", "4o");
    assert_eq!(told.code, 200);
    assert!(told.text().contains("is not part of a length"), "{}", told.text());
    let base = visitor.base(&job);
    assert_eq!(visitor.set(&job, &base, "piece.0.width", "42").code, 200);
    // Places that are none, stages that are none, texts that are no job.
    let base = visitor.base(&job);
    assert_eq!(visitor.set(&job, &base, "piece.9.width", "42").code, 422);
    assert_eq!(visitor.set(&job, &base, "piece.0.width.x.y", "42").code, 422);
    assert_eq!(visitor.post(&format!("{job}/stage"), &[("stage", "burnt")]).code, 422);
    assert_eq!(visitor.post("/jobs/read", &[("text", "[job\nname")]).code, 422);
    assert_eq!(visitor.post("/jobs", &[("name", "  ")]).code, 422);
    assert_eq!(visitor.base(&job), base);
    // Too much at once.
    let headers = [
        ("Cookie", visitor.cookie.as_str()),
        ("X-Token", visitor.token.as_str()),
        ("Content-Type", "application/x-www-form-urlencoded"),
    ];
    let huge = vec![b'a'; 6 * 1024 * 1024];
    assert_eq!(send(page.address, "POST", "/jobs/read", &headers, &huge).unwrap().code, 413);
    let headers = [
        ("Cookie", visitor.cookie.as_str()),
        ("X-Token", visitor.token.as_str()),
        ("Content-Type", "multipart/form-data; boundary=x"),
    ];
    let mut upload =
        b"--x\r\nContent-Disposition: form-data; name=\"photo\"; filename=\"a.jpg\"\r\n\r\n"
            .to_vec();
    upload.extend(b"<svg onload=alert(1)>");
    upload.extend(b"\r\n--x--\r\n");
    assert_eq!(
        send(page.address, "POST", &format!("{job}/photo"), &headers, &upload).unwrap().code,
        422
    );
    assert!(visitor.get(&job).text().contains("Seat"));
}

#[test]
fn two_people_at_once_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let (a, b) = (Visitor::new(page.address), Visitor::new(page.address));
    let job = a.job(JOB);
    // Different measures: both are kept, though the second was made on the older text.
    assert_eq!(a.set(&job, "1", "piece.0.width", "41").code, 200);
    assert_eq!(b.set(&job, "1", "piece.1.width", "43").code, 200);
    let file = a.get(&format!("{job}/papers/job.toml")).text();
    assert!(file.contains("\"41\"") && file.contains("\"43\""), "{file}");
    // The same measure: the second is told, and what was typed is kept aside.
    let base = a.base(&job);
    assert_eq!(a.set(&job, &base, "piece.0.height", "19").code, 200);
    let told = b.set(&job, &base, "piece.0.height", "17");
    assert_eq!(told.code, 409);
    assert!(told.text().contains("kept aside"), "{}", told.text());
    let versions = b.get(&format!("{job}/versions")).text();
    assert!(versions.contains("(aside)") && versions.contains("piece.0.height = 17"), "{versions}");
    assert!(b.get(&format!("{job}/papers/job.toml")).text().contains("\"19\""));
    // Going back keeps what came after.
    assert_eq!(a.post(&format!("{job}/back/1"), &[]).code, 303);
    assert!(a.get(&format!("{job}/papers/job.toml")).text().contains("width = \"40\""));
    let compared = a.get(&format!("{job}/versions/2/1")).text();
    assert!(compared.contains("hours") && compared.contains("41"), "{compared}");
}

#[test]
fn steps_done_and_mirror_images_follow_a_piece_that_is_renamed() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let a = Visitor::new(page.address);
    let job = a.job(JOB);
    let list = |what: &str, index: &str| {
        let base = a.base(&job);
        let fields = [("base", base.as_str()), ("list", "piece"), ("index", index), ("what", what)];
        a.post(&format!("{job}/list"), &fields)
    };
    assert_eq!(list("mirror", "0").code, 200);
    let sheet = a.get(&job).text();
    assert!(sheet.contains("mirror image of"), "{sheet}");
    assert_eq!(a.post(&format!("{job}/bench/0/0"), &[("done", "yes")]).code, 303);
    let done = |text: &str| text.matches("1 of ").count();
    let before = a.get(&format!("{job}/bench")).text();
    assert_eq!(done(&before), 1, "{before}");
    let base = a.base(&job);
    assert_eq!(a.set(&job, &base, "piece.0.name", "Quite another name").code, 200);
    let after = a.get(&format!("{job}/bench")).text();
    assert!(after.contains("Quite another name") && done(&after) == 1, "{after}");
    let file = a.get(&format!("{job}/papers/job.toml")).text();
    assert!(file.contains("mirror_of = \"Quite another name\""), "{file}");
    let plan = a.get(&format!("{job}/papers/job-pack.pdf"));
    assert_eq!(plan.code, 200, "{}", plan.text());
}

#[test]
fn what_was_acknowledged_outlives_a_power_cut() {
    let folder = tempfile::tempdir().unwrap();
    let mut acknowledged: Vec<String> = Vec::new();
    let mut job = String::new();
    for round in 0..6 {
        let page = Served::start(folder.path());
        let visitor = Visitor::new(page.address);
        if job.is_empty() {
            job = visitor.job(JOB);
        }
        let (to, base) = (visitor.clone(), visitor.base(&job));
        let (path, writing) = (job.clone(), std::sync::Arc::new(std::sync::Mutex::new(Vec::new())));
        let kept = writing.clone();
        let writer = std::thread::spawn(move || {
            for i in 0..60 {
                let value = format!("note {round} {i}");
                let fields = [
                    ("base", base.as_str()),
                    ("path", "piece.0.note"),
                    ("sort", "text"),
                    ("value", value.as_str()),
                ];
                match to.try_post(&format!("{path}/set"), &fields) {
                    Ok(answer) if answer.code == 200 || answer.code == 409 => {
                        kept.lock().unwrap().push(value)
                    }
                    _ => break,
                }
            }
        });
        std::thread::sleep(std::time::Duration::from_millis(60 + 70 * round));
        page.kill();
        writer.join().unwrap();
        acknowledged.append(&mut writing.lock().unwrap());
    }
    assert!(acknowledged.len() > 6, "{}", acknowledged.len());
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let versions = visitor.get(&format!("{job}/versions")).text();
    for note in &acknowledged {
        assert!(versions.contains(&format!("piece.0.note = {note}<")), "{note} is lost");
    }
}

#[test]
fn sharing_asks_for_the_pass_phrase_and_counts_guesses() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::with(folder.path(), Some("webbing and twine"));
    let visitor = Visitor::new(page.address);
    let shut = visitor.get("/");
    assert_eq!((shut.code, shut.header("location")), (303, Some("/enter")));
    assert_eq!(visitor.post("/jobs", &[("name", "x")]).code, 303);
    let right = visitor.post("/enter", &[("phrase", "webbing and twine")]);
    assert_eq!(right.code, 303);
    // The right phrase brings a cookie of its own.
    let cookie = right.header("set-cookie").and_then(|c| c.split(';').next()).unwrap().to_string();
    assert_ne!(cookie, visitor.cookie);
    let inside = send(page.address, "GET", "/shop", &[("Cookie", &cookie)], &[]).unwrap();
    assert_eq!(inside.code, 200);
    assert!(inside.text().contains("<svg"), "the code to join");
    // The session can be ended.
    let token = between(&inside.text(), "X-Token&quot;: &quot;", "&quot;").unwrap().to_string();
    let end = between(&inside.text(), "action=\"/shop/end/", "?").unwrap().to_string();
    let headers = [("Cookie", cookie.as_str()), ("X-Token", token.as_str())];
    send(page.address, "POST", &format!("/shop/end/{end}"), &headers, &[]).unwrap();
    assert_eq!(send(page.address, "GET", "/", &[("Cookie", &cookie)], &[]).unwrap().code, 303);
    // Wrong guesses: five, then not even the right one.
    let mut codes = Vec::new();
    for _ in 0..5 {
        codes.push(visitor.post("/enter", &[("phrase", "horsehair")]).code);
    }
    assert!(
        codes.contains(&429)
            || visitor.post("/enter", &[("phrase", "webbing and twine")]).code == 429,
        "{codes:?}"
    );
    // Without a word nothing is open to the network, and a short phrase is refused.
    let open = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .args(["serve", "--addr", "0.0.0.0:0", "--data"])
        .arg(folder.path())
        .output()
        .unwrap();
    assert_eq!(open.status.code(), Some(2));
    let short = Command::new(env!("CARGO_BIN_EXE_clothwright"))
        .args(["serve", "--addr", "127.0.0.1:0", "--share", "--data"])
        .arg(folder.path())
        .env("CLOTHWRIGHT_PASS_PHRASE", "short")
        .output()
        .unwrap();
    assert_eq!(short.status.code(), Some(2));
}

#[test]
fn a_backup_restores() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let job = visitor.job(JOB);
    visitor.set(&job, "1", "piece.0.width", "44");
    let other = tempfile::tempdir().unwrap();
    let copy = other.path().join("clothwright.sqlite");
    let backup = || {
        Command::new(env!("CARGO_BIN_EXE_clothwright"))
            .args(["backup", "--data"])
            .arg(folder.path())
            .arg("--out")
            .arg(&copy)
            .output()
            .unwrap()
            .status
            .code()
    };
    assert_eq!(backup(), Some(0));
    // An older copy is not overwritten.
    assert_eq!(backup(), Some(1));
    let restored = Served::start(other.path());
    let visitor = Visitor::new(restored.address);
    assert!(visitor.get(&format!("{job}/papers/job.toml")).text().contains("\"44\""));
}

#[test]
fn papers_come_from_the_same_numbers() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let job = visitor.job(JOB);
    let pdf = visitor.get(&format!("{job}/papers/job-pack.pdf"));
    assert_eq!(pdf.header("content-type"), Some("application/pdf"));
    assert!(pdf.body.starts_with(b"%PDF"));
    // The screen's totals are those of the command line.
    let read = clothwright::job_file::read(JOB);
    let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
    let screen = visitor.get(&job).text();
    assert!(screen.contains(&trade::money::show(plan.price.total)));
    assert!(screen.contains(&plan.lays.cloths[0].purchase.show(read.job.cloths[0].unit)));
}
