//! Walks of a real browser through whole jobs: at a desk, on a phone, away from the network, on two
//! devices at once.

use crate::browser::Browser;
use crate::by_hand::{finger_on_the_cloth, lay_by_hand};
use crate::served::{Served, Visitor};
use serde_json::json;
use std::cell::Cell;
use std::time::Duration;

/// What a finger does, counted.
struct Finger<'a> {
    on: &'a Browser,
    /// All taps, those on the keys of the pad among them.
    taps: Cell<usize>,
    /// Taps on the keys of the pad.
    keys: Cell<usize>,
}

impl Finger<'_> {
    fn tap(&self, css: &str) {
        self.taps.set(self.taps.get() + 1);
        self.on.click(css);
    }

    /// A reading on the keypad, then on.
    fn read(&self, keys: &str) {
        self.on.script("document.querySelector('.next').dataset.seen = 'yes'");
        for key in keys.split(' ').filter(|key| !key.is_empty()) {
            // Fractions are one key, digits one each.
            self.keys.set(self.keys.get() + if key.contains('/') { 1 } else { key.len() });
            if key.contains('/') {
                self.tap(&format!("[data-key=\"{key}\"]"));
            } else {
                for digit in key.chars() {
                    self.tap(&format!("[data-key=\"{digit}\"]"));
                }
            }
        }
        self.tap(".next");
        self.on.until("the next screen", "return !document.querySelector('.next[data-seen]')");
    }

    /// A piece of a kind, added; the keypad opens.
    fn add(&self, kind: &str, shape: Option<&str>) {
        self.tap("#add-piece");
        let outline =
            shape.map_or(":not([data-shape])".into(), |s| format!("[data-shape=\"{s}\"]"));
        self.tap(&format!("[data-kind=\"{kind}\"]{outline}"));
        self.on.until("the keypad", "return !!document.querySelector('#reading')");
    }

    /// A value typed into a field: one tap to go there.
    fn keep(&self, path: &str, text: &str) {
        self.taps.set(self.taps.get() + 1);
        self.on.keep(path, text);
    }
}

fn phone(browser: &Browser) {
    let metrics = json!({ "cmd": "Emulation.setDeviceMetricsOverride", "params": { "width": 360, "height": 740, "deviceScaleFactor": 2, "mobile": true } });
    browser.command("POST", "/goog/cdp/execute", &metrics);
}

fn begin(browser: &Browser, root: &str, name: &str) -> String {
    browser.go(root);
    browser.fill("[name=name]", name);
    browser.click("form[action^='/jobs?'] button");
    browser.until("the job", "return !!document.querySelector('[data-path=\"customer.name\"]')");
    let address = browser.address();
    address.trim_end_matches("/details").to_string()
}

fn set_millimetres(browser: &Browser, root: &str) {
    browser.go(&format!("{root}/shop"));
    browser.click("input[value=mm]");
    browser.click("form[action^='/shop?'] .strong");
    browser.until("kept", "return location.search.includes('kept')");
}

#[test]
fn a_whole_job_at_a_desk() {
    let Some(browser) = Browser::start(1366, 900) else { return };
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    browser.go(&root);
    browser.accessible("the first screen");
    let job = begin(&browser, &root, "Harbour guest house");
    browser.keep("customer.name", "Harbour House");
    browser.keep("rates.hour", "75");
    browser.keep("tax.rate", "20");
    browser.accessible("details");
    browser.go(&format!("{job}/materials"));
    browser.click("[data-material]");
    browser.keep(".repeat.length", "12 1/2");
    browser.keep(".repeat.width", "13 1/2");
    browser.keep(".name", "Leaf");
    browser.accessible("materials");
    browser.go(&format!("{job}/pieces"));
    let finger = Finger { on: &browser, taps: Cell::new(0), keys: Cell::new(0) };
    // Ten pieces of different kinds; what is usual is passed.
    let pieces: [(&str, &[&str]); 9] = [
        ("panel", &["30", "24"]),
        ("pad", &["42", "16"]),
        ("boxed cushion", &["22", "", "20"]),
        ("wedge cushion", &["20", "18", "1", "2"]),
        ("waterfall cushion", &["22", "20"]),
        ("knife-edge cushion", &["18", "18"]),
        ("bolster", &["24", "7"]),
        ("headboard", &["50", "30", "4"]),
        ("welt", &["96"]),
    ];
    for (i, (kind, readings)) in pieces.iter().enumerate() {
        finger.add(kind, None);
        for reading in *readings {
            finger.read(reading);
        }
        // What is usual, then how many.
        for _ in 0..2 {
            if browser.script("return !!document.querySelector('.next')") == json!(true) {
                finger.read("");
            }
        }
        browser.until(
            kind,
            &format!("return document.querySelectorAll('[data-piece]').length === {}", i + 1),
        );
    }
    browser.saved();
    browser.until("no fault", "return document.querySelectorAll('.say.bad, .st.no').length === 0");
    browser.no_sideways("the pieces");
    browser.accessible("the pieces");
    browser.until(
        "the price",
        "return document.querySelector('.figure-price').textContent.includes('USD')",
    );
    // A bad measure is told at its field, and the rest goes on.
    browser.click("[data-piece]");
    browser.keep(".width", "3o");
    browser.until("the fault", "return document.querySelector('.editor .say.bad')?.textContent.includes('is not part of a length')");
    browser.until(
        "the price without it",
        "return document.querySelector('#docket').textContent.includes('without Panel')",
    );
    assert_eq!(browser.script("const f = document.querySelector('[data-path$=\".width\"]'); return [f.getAttribute('aria-invalid'), document.getElementById(f.getAttribute('aria-describedby')).textContent.length > 0]"), json!(["true", true]));
    let number = job.rsplit('/').next().unwrap().to_string();
    let refused = format!("return fetch('/job/{number}/papers/quote.pdf').then(r => r.status)");
    assert_eq!(browser.script(&refused), json!(422));
    browser.keep(".width", "31 1/2");
    browser.until("no fault", "return document.querySelectorAll('.editor .say.bad').length === 0");
    browser.go(&format!("{job}/plan"));
    browser.until("the search", "return document.querySelector('#plan').dataset.over === 'true'");
    assert!(browser.text("#plan").contains("of Leaf"), "{}", browser.text("#plan"));
    browser.until(
        "the lay's picture",
        "const i = document.querySelector('.lay img'); return i.complete && i.naturalWidth > 0",
    );
    browser.no_sideways("the plan");
    browser.accessible("the plan");
    lay_by_hand(&browser, &job);
    // The same in another cloth, priced beside.
    browser.go(&format!("{job}/materials"));
    browser.click("#add-cloth");
    browser
        .until("a second cloth", "return document.querySelectorAll('.swatch.cloth').length === 2");
    browser.keep(".name", "Twill");
    browser.keep(".width", "60");
    browser.keep(".price", "55");
    browser.go(&format!("{job}/plan"));
    browser.until("the search", "return document.querySelector('#plan').dataset.over === 'true'");
    let form = "form[action*='/option?']";
    browser.fill(&format!("{form} [name=name]"), "In twill");
    browser.script(&format!(
        "document.querySelector(\"{form} [name=to]\").value = 'Twill'; window.fresh = true"
    ));
    browser.click(&format!("{form} button"));
    browser.until("the option", "return !window.fresh && document.querySelector('#options')?.textContent.includes('In twill')");
    browser.accessible("the plan with an option");
    browser.go(&format!("{job}/compare"));
    browser.until("the comparison", "return document.querySelectorAll('tr.now').length > 0");
    browser.accessible("the comparison");
    browser.go(&format!("{job}/misses"));
    browser.until("small changes", "return !document.querySelector('#main progress') && document.querySelector('#main').textContent.length > 20");
    browser.accessible("small changes");
    // Papers, history, bench.
    browser.go(&format!("{job}/send"));
    browser.accessible("send");
    let quote = format!(
        "return fetch('/job/{number}/papers/quote.pdf').then(r => r.headers.get('content-type'))"
    );
    assert_eq!(browser.script(&quote), json!("application/pdf"));
    browser.go(&format!("{job}/versions"));
    browser.accessible("history");
    browser.go(&format!("{job}/bench"));
    browser.accessible("the bench");
    browser.click(".jobs a");
    browser.accessible("a step");
    browser.click(".b.strong");
    browser.until("the next step", "return location.pathname.endsWith('/1')");
    browser.go(&format!("{job}/bench"));
    assert!(browser.text(".jobs li").contains("1 of"));
    browser.go(&format!("{root}/customers"));
    assert!(browser.text("#main").contains("Harbour House"));
    browser.accessible("customers");
    browser.go(&format!("{root}/shop"));
    browser.accessible("settings");
    browser.quiet();
}

#[test]
fn six_drop_in_seats_on_a_phone_in_sixteen_taps() {
    let Some(browser) = Browser::start(500, 800) else { return };
    phone(&browser);
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    let job = begin(&browser, &root, "Six chairs");
    browser.go(&format!("{job}/pieces"));
    browser.accessible("no pieces yet");
    let finger = Finger { on: &browser, taps: Cell::new(0), keys: Cell::new(0) };
    finger.add("slip seat", None);
    browser.no_sideways("the keypad");
    browser.accessible("the keypad");
    // The letter's arrow is lit before the first number, and keys are large enough and stay where they are.
    assert_eq!(
        browser.script("return document.querySelectorAll('g.measure.lit').length"),
        json!(1)
    );
    let place = "const b = [...document.querySelectorAll('.key')].map(k => k.getBoundingClientRect()); return [Math.min(...b.map(r => r.height)) >= 56, Math.round(b[0].top)]";
    let first = browser.script(place);
    assert_eq!(first[0], json!(true), "keys of 56 px");
    finger.read("19 3/4");
    assert_eq!(browser.script(place), first);
    finger.read("17 5/8");
    finger.read("18");
    finger.read("");
    finger.read("6");
    assert!(finger.taps.get() <= 16, "{} taps", finger.taps.get());
    browser.saved();
    browser.until(
        "the price",
        "return document.querySelector('#docket-line').textContent.includes('USD')",
    );
    let seat =
        Visitor::new(page.address).sheet(job.strip_prefix(&root).unwrap())["values"]["piece"][0]
            .clone();
    assert_eq!(
        (&seat["front"], &seat["back"], &seat["depth"], &seat["count"]),
        (&json!("19 3/4"), &json!("17 5/8"), &json!("18"), &json!(6))
    );
    browser.no_sideways("the pieces");
    browser.accessible("the pieces on a phone");
    finger_on_the_cloth(&browser, &job);
    browser.quiet();
}

#[test]
fn a_camper_wall_by_touch_without_file_syntax() {
    let Some(browser) = Browser::start(500, 800) else { return };
    phone(&browser);
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    set_millimetres(&browser, &root);
    let job = begin(&browser, &root, "Camper wall");
    let finger = Finger { on: &browser, taps: Cell::new(2), keys: Cell::new(0) };
    finger.keep("customer.name", "J Parkes");
    finger.keep("customer.contact", "07700 900");
    finger.keep("customer.address", "14 Quay");
    finger.tap(".tabs a[data-step=materials]");
    finger.tap("[data-material]");
    for (key, value) in [
        (".name", "Fern print"),
        (".width", "1400"),
        (".price", "28"),
        (".repeat.length", "320"),
        (".repeat.width", "280"),
    ] {
        finger.keep(key, value);
    }
    finger.tap(".tabs a[data-step=pieces]");
    // A panel with a radius and both diagonals.
    finger.add("panel", None);
    finger.read("920");
    finger.read("600");
    for (key, value) in [("radius", "20"), ("diagonals.0", "1098"), ("diagonals.1", "1098")] {
        finger.tap(&format!("[data-usual=\"{key}\"]"));
        finger.read(value);
    }
    finger.read("");
    finger.read("");
    // Three locker fronts.
    finger.add("panel", None);
    finger.read("700");
    finger.read("400");
    finger.read("");
    finger.read("3");
    // Over the hob: a trapezoid.
    finger.add("panel", Some("trapezoid"));
    for reading in ["800", "650", "500"] {
        finger.read(reading);
    }
    finger.tap("[data-usual=\"offset\"]");
    for reading in ["75", "", ""] {
        finger.read(reading);
    }
    // Two different corners and a vent.
    finger.add("panel", None);
    for reading in ["1100", "450", "", ""] {
        finger.read(reading);
    }
    finger.tap(".editor button:nth-child(2), .two button:nth-child(2)");
    finger.tap("[data-corner=\"top left\"]");
    finger.tap("[data-radius=\"40\"]");
    finger.tap("[data-corner=\"top right\"]");
    finger.tap("[data-radius=\"75\"]");
    finger.tap(".next");
    finger.tap(".flat .face");
    browser.until("the opening", "return !!document.querySelector('[data-path$=\"cut_out.0.x\"]')");
    for (key, value) in [
        ("cut_out.0.x", "400"),
        ("cut_out.0.y", "225"),
        ("cut_out.0.width", "120"),
        ("cut_out.0.height", "80"),
    ] {
        finger.keep(key, value);
    }
    browser.accessible("the shape");
    browser.no_sideways("the shape");
    finger.tap(".next");
    finger.tap(".next");
    // An L, and a pad with folded ends.
    finger.add("panel", Some("ell"));
    for reading in ["900", "400", "700", "300", "", ""] {
        finger.read(reading);
    }
    finger.add("pad", None);
    for reading in ["1100", "500", "", ""] {
        finger.read(reading);
    }
    browser.saved();
    browser.until(
        "the price",
        "return document.querySelector('#docket-line').textContent.includes('USD')",
    );
    assert_eq!(browser.script("return document.querySelectorAll('.st.no').length"), json!(0));
    finger.tap(".tabs a[data-step=plan]");
    browser.until("the plan", "return !!document.querySelector('.lay')");
    finger.tap(".tabs a[href$=send]");
    browser.until("the quote", "return !!document.querySelector('#share')");
    browser.accessible("send on a phone");
    browser.no_sideways("send on a phone");
    // The first page took 212 taps besides what was typed; keys of the pad are what was typed there.
    let (taps, keys) = (finger.taps.get() - finger.keys.get(), finger.keys.get());
    println!("camper wall: {taps} taps and {keys} keys of the pad");
    assert!(taps <= 110, "{taps} taps");
    let text = Visitor::new(page.address)
        .get(&format!("{}/papers/job.toml", job.strip_prefix(&root).unwrap()))
        .text();
    assert!(
        text.contains("radii = [\"0\", \"0\", \"75\", \"40\"]")
            && text.contains("diagonals = [\"1098\", \"1098\"]"),
        "{text}"
    );
    browser.quiet();
}

#[test]
fn settings_keep_themselves_and_several_pieces_change_at_once() {
    let Some(browser) = Browser::start(500, 800) else { return };
    phone(&browser);
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    browser.go(&format!("{root}/shop"));
    browser.fill("[name=\"job.currency\"]", "$");
    browser.script("document.activeElement.blur()");
    browser.until("kept", "return document.querySelector('#notice').textContent.includes('Saved')");
    let job = begin(&browser, &root, "Several");
    browser.go(&format!("{job}/pieces"));
    let finger = Finger { on: &browser, taps: Cell::new(0), keys: Cell::new(0) };
    for _ in 0..2 {
        finger.add("ottoman", None);
        for reading in ["20", "18", "16", ""] {
            finger.read(reading);
        }
    }
    browser.saved();
    // Another outline has other measures: the old ones go with it.
    browser.script("const s = document.querySelector('[data-path$=\".shape\"]'); s.value = 'round'; s.dispatchEvent(new Event('change', {bubbles: true}))");
    browser
        .until("its own measures", "return !!document.querySelector('[data-path$=\".diameter\"]')");
    browser.saved();
    browser.until("no fault", "return document.querySelectorAll('.why li').length === 0");
    finger.tap(".headrow .plain");
    for n in 1..=2 {
        finger.tap(&format!(".list li:nth-child({n}) .line"));
        browser.until(
            "chosen",
            &format!(
                "return document.querySelectorAll('[aria-pressed=true][data-piece]').length === {n}"
            ),
        );
    }
    browser.script("const s = document.querySelectorAll('.bulk select')[3]; s.value = 'centred'; s.dispatchEvent(new Event('change', {bubbles: true}))");
    browser.saved();
    let sheet = Visitor::new(page.address).sheet(job.strip_prefix(&root).unwrap());
    let pieces = sheet["values"]["piece"].as_array().unwrap();
    assert!(pieces.iter().all(|p| p["pattern"] == "centred"), "{pieces:?}");
    assert!(pieces[1]["width"].is_null() && pieces[1]["shape"] == "round", "{pieces:?}");
    assert_eq!(sheet["values"]["job"]["currency"], "$");
    browser.quiet();
}

fn network(browser: &Browser, is_there: bool) {
    let cut = json!({ "cmd": "Network.emulateNetworkConditions", "params": { "offline": !is_there, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1 } });
    browser.command("POST", "/goog/cdp/execute", &json!({ "cmd": "Network.enable", "params": {} }));
    browser.command("POST", "/goog/cdp/execute", &cut);
}

#[test]
fn ten_pieces_are_measured_away_from_the_workroom() {
    let Some(browser) = Browser::start(500, 800) else { return };
    phone(&browser);
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    let job = begin(&browser, &root, "Long seats");
    let path = job.strip_prefix(&root).unwrap().to_string();
    browser.go(&format!("{job}/pieces"));
    browser.until("kept on the device", "return caches.keys().then(k => Promise.all(k.map(n => caches.open(n).then(c => c.match('/away')))).then(f => f.some(Boolean)))");
    let finger = Finger { on: &browser, taps: Cell::new(0), keys: Cell::new(0) };
    // The workroom is gone in the middle of a reading.
    finger.add("boxed cushion", None);
    finger.tap("[data-key=\"7\"]");
    let at = page.address;
    page.kill();
    finger.read("1");
    finger.read("");
    finger.read("18 1/4");
    finger.read("");
    finger.read("2");
    for i in 0..9 {
        finger.add(if i % 2 == 0 { "panel" } else { "pad" }, None);
        finger.read(&format!("3{i}"));
        finger.read("20 3/8");
        finger.read("");
        finger.read("");
    }
    assert!(browser.text("#away").contains("kept on this device"));
    browser.accessible("away");
    assert!(
        browser.text("#docket-line").contains("price when back"),
        "{}",
        browser.text("#docket-line")
    );
    // Loaded again without a network everything is still there.
    browser.go(&format!("{job}/pieces"));
    browser.until("all pieces", "return document.querySelectorAll('[data-piece]').length === 10");
    browser.until(
        "what was measured",
        "return document.querySelector('[data-piece]').textContent.includes('71 × 18 1/4')",
    );
    browser.go(&format!("{job}/plan"));
    browser.until(
        "words, not a broken page",
        "return document.querySelector('#main').textContent.includes('made in the workroom')",
    );
    // Back again; and killed once more while they are sent.
    browser.go(&format!("{job}/pieces"));
    let page = Served::again(folder.path(), at);
    std::thread::sleep(Duration::from_millis(900));
    page.kill();
    let page = Served::again(folder.path(), at);
    browser.saved();
    let sheet = Visitor::new(page.address).sheet(&path);
    let pieces = sheet["values"]["piece"].as_array().unwrap();
    assert_eq!(pieces.len(), 10);
    assert_eq!(
        (&pieces[0]["width"], &pieces[0]["depth"], &pieces[0]["count"]),
        (&json!("71"), &json!("18 1/4"), &json!(2))
    );
    assert!(pieces.iter().all(|p| p["width"].is_string()), "{pieces:?}");
    browser.until(
        "the price",
        "return document.querySelector('#docket-line').textContent.includes('USD')",
    );
    // A job begun away joins the store under a number of its own.
    page.kill();
    browser.go(&root);
    browser.fill("#name", "Begun away");
    browser.click(".strong");
    browser
        .until("its details", "return !!document.querySelector('[data-path=\"customer.name\"]')");
    browser.fill("[data-path=\"customer.name\"]", "Someone new");
    browser.script("document.activeElement.blur()");
    browser.click(".tabs a[data-step=pieces]");
    finger.add("bolster", None);
    finger.read("24");
    let page = Served::again(folder.path(), at);
    browser.saved();
    browser.until("its number", "return /^\\/job\\/[0-9]+\\//.test(location.pathname)");
    let away = Visitor::new(page.address).get("/").text();
    assert!(away.contains("Begun away") && away.contains("Someone new"), "{away}");
}

#[test]
fn two_devices_see_each_other() {
    let Some(browser) = Browser::start(1366, 900) else { return };
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    let job = begin(&browser, &root, "Two devices");
    let path = job.strip_prefix(&root).unwrap().to_string();
    browser.go(&format!("{job}/pieces"));
    let finger = Finger { on: &browser, taps: Cell::new(0), keys: Cell::new(0) };
    finger.add("panel", None);
    finger.read("30");
    finger.read("20");
    finger.read("");
    finger.read("");
    browser.saved();
    let other = Visitor::new(page.address);
    let mark = other.sheet(&path)["values"]["piece"][0]["id"].as_str().unwrap().to_string();
    let width = format!("piece.@{mark}.width");
    // What the other changes is seen here without loading anything.
    assert_eq!(other.set(&path, &width, "30", "32"), "taken");
    browser.until(
        "the other's value",
        "return document.querySelector('[data-path$=\".width\"]').value === '32'",
    );
    // Both at once: told at the field, both values kept until one is chosen.
    network(&browser, false);
    browser.fill("[data-path$=\".width\"]", "33");
    std::thread::sleep(Duration::from_millis(400));
    assert_eq!(other.set(&path, &width, "32", "34"), "taken");
    network(&browser, true);
    browser.until("the conflict", "return !!document.querySelector('.says .row button')");
    assert!(
        browser.text(".editor").contains("Keep theirs: 34")
            && browser.text(".editor").contains("Keep mine: 33")
    );
    browser.accessible("two values");
    assert_eq!(other.sheet(&path)["values"]["piece"][0]["width"], "34");
    browser.click(".says .row button:nth-child(2)");
    browser.saved();
    assert_eq!(other.sheet(&path)["values"]["piece"][0]["width"], "33");
}

#[test]
fn every_screen_fits_its_window() {
    let Some(browser) = Browser::start(1366, 900) else { return };
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    let job = format!("{root}{}", Visitor::new(page.address).job(clothwright::DEMO));
    for width in [360, 768, 1366, 2560] {
        let metrics = json!({ "cmd": "Emulation.setDeviceMetricsOverride", "params": { "width": width, "height": 800, "deviceScaleFactor": 1, "mobile": width < 1000 } });
        browser.command("POST", "/goog/cdp/execute", &metrics);
        for dark in ["light", "dark"] {
            let media = json!({ "cmd": "Emulation.setEmulatedMedia", "params": { "features": [{ "name": "prefers-color-scheme", "value": dark }] } });
            browser.command("POST", "/goog/cdp/execute", &media);
            for screen in ["details", "materials", "pieces", "plan", "send", "bench", "versions"] {
                browser.go(&format!("{job}/{screen}"));
                browser.until(screen, "return document.querySelector('#main').children.length > 0");
                browser.no_sideways(&format!("{screen} at {width}"));
                if width != 2560 {
                    browser.accessible(&format!("{screen} at {width}, {dark}"));
                }
            }
            for screen in ["", "customers", "shop"] {
                browser.go(&format!("{root}/{screen}"));
                browser.no_sideways(&format!("/{screen} at {width}"));
                browser.accessible(&format!("/{screen} at {width}, {dark}"));
            }
        }
    }
}
