//! Requests a browser would send, and those only someone else would.

use crate::http::send;
use crate::served::{Served, Visitor, between, fresh, put};
use serde_json::{Value, json};
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
    let set = format!("{job}/changes");
    let body = json!({ "changes": [put("piece.@p1.width", "40", "41")] }).to_string().into_bytes();
    let kind = ("Content-Type", "application/json");
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
    // Another site's page gets nothing that costs work, whatever it asks with.
    let asked = |path: &str, site: &str, mode: &str, dest: &str| {
        let said =
            [cookie, ("Sec-Fetch-Site", site), ("Sec-Fetch-Mode", mode), ("Sec-Fetch-Dest", dest)];
        send(page.address, "GET", path, &said, &[]).unwrap().code
    };
    let quote = format!("{job}/papers/quote.pdf");
    for path in ["/", job.as_str(), "/kinds", quote.as_str()] {
        assert_eq!(asked(path, "cross-site", "no-cors", "image"), 403, "{path}");
    }
    assert_eq!(asked(&quote, "cross-site", "navigate", "document"), 403);
    assert_eq!(asked(&quote, "same-origin", "navigate", "document"), 200);
    assert_eq!(asked("/", "cross-site", "navigate", "document"), 200);
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
    assert_eq!(visitor.set(&job, "customer.name", "", "Mill House & Sons"), "taken");
    assert_eq!(visitor.set(&job, "customer.contact", "", "555 0143"), "taken");
    assert!(visitor.get("/customers/known").text().contains("555 0143"));
    let known = visitor.get("/customers?words=mill");
    assert!(known.text().contains("Mill House &amp; Sons") && known.text().contains("555 0143"));
    assert!(!visitor.get("/customers?words=nobody").text().contains("Mill House"));
    let id = job.rsplit('/').next().unwrap();
    let begun = visitor.post("/jobs", &[("name", "Second visit"), ("like", id)]);
    let second = visitor.sheet(begun.header("location").unwrap().trim_end_matches("/details"));
    assert_eq!(second["values"]["customer"]["name"], "Mill House & Sons");
    assert_eq!(second["values"]["customer"]["contact"], "555 0143");
    // Words in any order; nothing found is said so, and that the jobs are still there.
    assert!(visitor.get("/?words=0143+mill").text().contains("Second visit"));
    let nothing = visitor.get("/?words=falmouth").text();
    assert!(
        nothing.contains("No job matches") && nothing.contains("2 jobs are still here"),
        "{nothing}"
    );
    assert_eq!(visitor.post("/jobs", &[("name", "x"), ("like", "999")]).code, 404);
    assert_eq!(visitor.post("/jobs", &[("name", "x"), ("like", "y")]).code, 422);
}

#[test]
fn a_piece_is_shaped_without_file_syntax() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let job = visitor.job(JOB);
    let vent = json!([{ "what": "the vent", "x": "12", "y": "8", "width": "10", "height": "6" }]);
    let change = |path: &str, was: Value, value: Value| {
        let one =
            json!({ "name": fresh(), "act": "put", "path": path, "value": value, "was": was });
        visitor.change(&job, &[one])[0]["state"].as_str().unwrap().to_string()
    };
    assert_eq!(change("piece.@p1.cut_out", Value::Null, vent), "taken");
    assert_eq!(change("piece.@p1.cut_out.0.width", json!("10"), json!("9 1/2")), "taken");
    assert_eq!(change("piece.@p1.radii", Value::Null, json!(["0", "0", "2", "2"])), "taken");
    assert_eq!(change("piece.@p1.side.top.edge", Value::Null, json!("tucked")), "taken");
    let text = visitor.get(&format!("{job}/papers/job.toml")).text();
    assert!(
        text.contains("width = \"9 1/2\"") && text.contains("radii = [\"0\", \"0\", \"2\", \"2\"]"),
        "{text}"
    );
    // What is still missing is said at its place.
    let faults = visitor.sheet(&job)["faults"].clone();
    assert_eq!(faults[0]["path"], "piece.@p1.side.top.by", "{faults}");
    assert_eq!(change("piece.@p1.side.top.by", Value::Null, json!("1")), "taken");
    let sheet = visitor.sheet(&job);
    assert_eq!(sheet["faults"], json!([]));
    assert!(sheet["pictures"]["p1"].as_str().unwrap().contains("data-key=\"width\""));
    // A piece is added, copied, moved and removed by its mark.
    let add = json!({ "name": fresh(), "act": "add", "list": "piece",
        "values": { "id": "new1", "name": "Door", "kind": "panel", "width": "10", "height": "12", "cloth": "Plain", "board": "Ply" } });
    let again = add.clone();
    let mv = |what: &str, mark: &str, copy: &str| json!({ "name": fresh(), "act": "move", "list": "piece", "mark": mark, "what": what, "fresh": copy });
    let told = visitor.change(
        &job,
        &[add, mv("copy", "new1", "new2"), mv("up", "new1", ""), mv("remove", "p2", "")],
    );
    assert!(told.iter().all(|one| one["state"] == "taken"), "{told:?}");
    // Sent a second time it is made once.
    visitor.change(&job, &[again]);
    let sheet = visitor.sheet(&job);
    let marks: Vec<&str> = sheet["values"]["piece"]
        .as_array()
        .unwrap()
        .iter()
        .map(|p| p["id"].as_str().unwrap())
        .collect();
    assert_eq!(marks, ["p1", "new1", "new2"]);
    assert_eq!(sheet["values"]["piece"][2]["name"], "Door 2");
}

#[test]
fn one_piece_that_does_not_fit_takes_no_price_from_the_rest() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let rated = format!("{JOB}[rates]\nhour = 60\n");
    let job = visitor.job(&rated);
    let before = visitor.sheet(&job)["plan"].clone();
    assert!(before["price"].is_string(), "{before}");
    let add = |list: &str, values: Value| {
        let one = json!({ "name": fresh(), "act": "add", "list": list, "values": values });
        assert_eq!(visitor.change(&job, &[one])[0]["state"], "taken");
    };
    // Wider than the cloth, and not to be joined; one that is not measured; a cloth nobody uses yet.
    add(
        "piece",
        json!({ "id": "wide", "name": "Wide", "kind": "panel", "width": "90", "height": "60", "cloth": "Plain" }),
    );
    add("piece", json!({ "id": "blank", "name": "Blank", "kind": "panel", "cloth": "Plain" }));
    add("cloth", json!({ "id": "second", "name": "Second" }));
    let sheet = visitor.sheet(&job);
    assert_eq!(sheet["plan"]["price"], before["price"]);
    let at: Vec<&str> =
        sheet["faults"].as_array().unwrap().iter().map(|f| f["path"].as_str().unwrap()).collect();
    for mark in ["piece.@wide", "piece.@blank.width", "cloth.@second"] {
        assert!(at.iter().any(|path| path.starts_with(mark)), "{mark}: {at:?}");
    }
    let plan = visitor.get(&format!("{job}/plan")).text();
    assert!(plan.contains("without <a href=\"/job/1/pieces/wide\">piece 3</a>"), "{plan}");
    // No paper leaves the house without a piece.
    assert_eq!(visitor.get(&format!("{job}/papers/quote.pdf")).code, 422);
}

#[test]
fn a_job_grows_only_so_far() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let many: String = (0..998).map(|i| format!("[[piece]]\nname = \"P{i}\"\n")).collect();
    let job = visitor.job(&format!("{JOB}{many}"));
    // 1000 there: one more, and a copy, are refused; what is there stays.
    let add = json!({ "name": fresh(), "act": "add", "list": "piece", "values": { "id": "more", "name": "More" } });
    let copy = json!({ "name": fresh(), "act": "move", "list": "piece", "mark": "p1", "what": "copy", "fresh": "more2" });
    let told = visitor.change(&job, &[add, copy]);
    assert!(
        told.iter().all(|one| one["state"] == "refused"
            && one["why"].as_str().unwrap().contains("at most 1000")),
        "{told:?}"
    );
    let long = put("piece.@p1.note", "", &"x".repeat(4_500_000));
    assert_eq!(visitor.change(&job, &[long])[0]["state"], "refused");
    assert_eq!(visitor.set(&job, "piece.@p1.note", "", "short"), "taken");
}

#[test]
fn a_job_begun_away_is_begun_once() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let visitor = Visitor::new(page.address);
    let headers = [
        ("Cookie", visitor.cookie.as_str()),
        ("X-Token", visitor.token.as_str()),
        ("Content-Type", "application/json"),
    ];
    let begin = || {
        let body = json!({ "mark": "kaway1", "name": "At the quay" }).to_string();
        let answer = send(page.address, "POST", "/jobs/begin", &headers, body.as_bytes()).unwrap();
        serde_json::from_slice::<Value>(&answer.body).unwrap()["id"].as_i64().unwrap()
    };
    let id = begin();
    assert_eq!(begin(), id);
    assert_eq!(visitor.get("/").text().matches("At the quay").count(), 1);
    // It starts from what the device was told to start from, mark by mark.
    let start: Value = serde_json::from_slice(&visitor.get("/start").body).unwrap();
    assert_eq!(visitor.sheet(&format!("/job/{id}"))["values"]["cloth"], start["cloth"]);
    // A number that was deleted is never given again: a device may still have changes for it.
    assert_eq!(visitor.post(&format!("/job/{id}/delete"), &[("name", "another")]).code, 422);
    assert_eq!(visitor.post(&format!("/job/{id}/delete"), &[("name", "At the quay")]).code, 303);
    assert_eq!(visitor.get(&format!("/job/{id}/sheet")).code, 404);
    assert!(visitor.job(JOB).trim_start_matches("/job/").parse::<i64>().unwrap() > id);
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
    assert_eq!(visitor.set(&job, "piece.@p1.width", "40", "4o"), "taken");
    let told = visitor.sheet(&job)["faults"].to_string();
    assert!(told.contains("is not part of a length") && told.contains("piece.@p1.width"), "{told}");
    assert_eq!(visitor.set(&job, "piece.@p1.width", "4o", "42"), "taken");
    // Places that are none, steps that are none, texts that are no job.
    let base = visitor.base(&job);
    for path in ["piece.@p9.width", "piece.@p1.width.x.y", "piece.9.width", "", "a b.c"] {
        assert_eq!(visitor.set(&job, path, "", "42"), "refused", "{path}");
    }
    assert_eq!(visitor.post(&format!("{job}/stage"), &[("stage", "burnt")]).code, 422);
    assert_eq!(visitor.post("/jobs/read", &[("text", "[job\nname")]).code, 422);
    assert_eq!(visitor.post("/jobs", &[("name", "  ")]).code, 422);
    assert_eq!(visitor.try_change(&job, &[json!({ "act": "put" })]).unwrap().code, 422);
    let many: Vec<Value> = (0..201).map(|_| put("job.name", "", "x")).collect();
    assert_eq!(visitor.try_change(&job, &many).unwrap().code, 422);
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
    assert!(visitor.sheet(&job).to_string().contains("Seat"));
}

#[test]
fn two_people_at_once_lose_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let (a, b) = (Visitor::new(page.address), Visitor::new(page.address));
    let job = a.job(JOB);
    // Different measures: both are kept, though the second was made on the older text.
    assert_eq!(a.set(&job, "piece.@p1.width", "40", "41"), "taken");
    assert_eq!(b.set(&job, "piece.@p2.width", "40", "43"), "taken");
    let file = a.get(&format!("{job}/papers/job.toml")).text();
    assert!(file.contains("\"41\"") && file.contains("\"43\""), "{file}");
    // The same measure: the second is told what stands there, and nothing is overwritten.
    assert_eq!(a.set(&job, "piece.@p1.height", "18", "19"), "taken");
    let told = b.change(&job, &[put("piece.@p1.height", "18", "17")]);
    assert_eq!((&told[0]["state"], &told[0]["theirs"]), (&json!("differs"), &json!("19")));
    assert!(b.get(&format!("{job}/papers/job.toml")).text().contains("\"19\""));
    // Told so, the second may insist.
    assert_eq!(b.set(&job, "piece.@p1.height", "19", "17"), "taken");
    // A piece one removes is not brought back by the other's late measure.
    let remove =
        json!({ "name": fresh(), "act": "move", "list": "piece", "mark": "p2", "what": "remove" });
    assert_eq!(a.change(&job, &[remove])[0]["state"], "taken");
    assert_eq!(b.set(&job, "piece.@p2.height", "20", "21"), "refused");
    assert_eq!(b.set(&job, "piece.@p1.width", "41", "44"), "taken");
    let versions = b.get(&format!("{job}/versions")).text();
    assert!(versions.contains("Seat: height 19 to 17"), "{versions}");
    // As it was quoted it can be found again, with its price.
    let quoted = json!({ "name": fresh(), "act": "stage", "value": "quoted" });
    assert_eq!(a.change(&job, &[quoted])[0]["state"], "taken");
    assert!(a.get(&format!("{job}/versions")).text().contains("As quoted"));
    let width = put("piece.@p1.width", "44", "45");
    assert_eq!(a.change(&job, &[width])[0]["state"], "taken");
    assert_eq!(b.set(&job, "piece.@p1.width", "45", "44"), "taken");
    assert_eq!(a.post(&format!("{job}/undo"), &[]).code, 303);
    assert_eq!(a.sheet(&job)["values"]["piece"][0]["width"], "45");
    assert_eq!(a.post(&format!("{job}/undo"), &[]).code, 303);
    assert_eq!(a.post(&format!("{job}/undo"), &[]).code, 303);
    // Undo, once and once more.
    assert_eq!(a.post(&format!("{job}/undo"), &[]).code, 303);
    assert_eq!(a.sheet(&job)["values"]["piece"][0]["width"], "41");
    assert_eq!(a.post(&format!("{job}/undo"), &[]).code, 303);
    assert_eq!(a.sheet(&job)["values"]["piece"][1]["name"], "Back");
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
    let mirror = json!({ "name": fresh(), "act": "move", "list": "piece", "mark": "p1", "what": "mirror", "fresh": "m1" });
    assert_eq!(a.change(&job, &[mirror])[0]["state"], "taken");
    assert_eq!(a.sheet(&job)["values"]["piece"][1]["mirror_of"], "Seat");
    assert_eq!(a.post(&format!("{job}/bench/0/0"), &[("done", "yes")]).code, 303);
    let done = |text: &str| text.matches("1 of ").count();
    let before = a.get(&format!("{job}/bench")).text();
    assert_eq!(done(&before), 1, "{before}");
    assert_eq!(a.set(&job, "piece.@p1.name", "Seat", "Quite another name"), "taken");
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
        let to = visitor.clone();
        let (path, writing) = (job.clone(), std::sync::Arc::new(std::sync::Mutex::new(Vec::new())));
        let kept = writing.clone();
        let mut was =
            to.sheet(&job)["values"]["piece"][0]["note"].as_str().unwrap_or("").to_string();
        let writer = std::thread::spawn(move || {
            for i in 0..60 {
                let value = format!("note {round} {i}");
                match to.try_change(&path, &[put("piece.@p1.note", &was, &value)]) {
                    Ok(answer) if answer.code == 200 && answer.text().contains("taken") => {
                        kept.lock().unwrap().push(value.clone());
                    }
                    _ => break,
                }
                was = value;
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
    // Every one of them is a version of its own; the list shows them without those on the way.
    let texts: Vec<String> = (1..=visitor.base(&job).parse::<i64>().unwrap())
        .map(|n| visitor.get(&format!("{job}/versions/{n}/1")).text())
        .collect();
    for note in &acknowledged {
        assert!(
            texts.iter().any(|t| t.contains(&format!("note = &quot;{note}&quot;"))),
            "{note} is lost"
        );
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
    assert_eq!(visitor.set(&job, "piece.@p1.width", "40", "44"), "taken");
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
    let text = format!("{JOB}[rates]\nhour = 60\n");
    let job = visitor.job(&text);
    let pdf = visitor.get(&format!("{job}/papers/job-pack.pdf"));
    assert_eq!(pdf.header("content-type"), Some("application/pdf"));
    assert!(pdf.body.starts_with(b"%PDF"));
    // The screen's totals are those of the command line.
    let read = clothwright::job_file::read(&text);
    let plan = trade::plan::plan(&read.job, &lay::Limits::quick(1)).unwrap();
    let totals = visitor.sheet(&job)["plan"].clone();
    assert_eq!(totals["price"], trade::money::sum("USD", plan.price.total));
    let buys = plan.lays.cloths[0].purchase.show(read.job.cloths[0].unit);
    assert_eq!(totals["buys"][0]["amount"], json!(buys));
    // The quote and the costs are never in one file, and each screen says the same price.
    for screen in ["plan", "send"] {
        let text = visitor.get(&format!("{job}/{screen}")).text();
        assert!(text.contains(&trade::money::sum("USD", plan.price.total)), "{screen}");
    }
}
