//! A real browser walks through a job: Debian's chromium, driven over the WebDriver protocol (W3C
//! recommendation). Skipped with a word where the browser is not installed; the test script installs it.

use crate::http::send;
use crate::served::Served;
use serde_json::{Value, json};
use std::net::{SocketAddr, TcpListener};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const AXE: &str = include_str!("../vendor/axe.min.js");

struct Browser {
    driver: Child,
    at: SocketAddr,
    session: String,
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = send(self.at, "DELETE", &format!("/session/{}", self.session), &[], &[]);
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

impl Browser {
    /// A driver that answers; `None` where there is none. Another may take its port first: then again.
    fn driver() -> Option<(Child, SocketAddr)> {
        for _ in 0..5 {
            let port = TcpListener::bind("127.0.0.1:0").ok()?.local_addr().ok()?.port();
            let driver = Command::new("chromedriver")
                .arg(format!("--port={port}"))
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn();
            let Ok(mut driver) = driver else {
                assert!(
                    std::env::var_os("CLOTHWRIGHT_TEST_BROWSER").is_none(),
                    "chromedriver is not installed"
                );
                eprintln!("no chromedriver: the browser is not tested");
                return None;
            };
            let at = SocketAddr::from(([127, 0, 0, 1], port));
            let begun = Instant::now();
            while begun.elapsed() < Duration::from_secs(20) && driver.try_wait().ok()?.is_none() {
                if send(at, "GET", "/status", &[], &[]).is_ok_and(|answer| answer.code == 200) {
                    return Some((driver, at));
                }
                std::thread::sleep(Duration::from_millis(50));
            }
            let _ = driver.kill();
            let _ = driver.wait();
        }
        panic!("chromedriver does not answer");
    }

    /// A fresh browser of a window size, or `None` where there is none.
    fn start(width: u32, height: u32) -> Option<Self> {
        let (driver, at) = Self::driver()?;
        let mut browser = Self { driver, at, session: String::new() };
        let asked = json!({ "capabilities": { "alwaysMatch": {
            "goog:loggingPrefs": { "browser": "ALL" },
            "goog:chromeOptions": { "args": [
                "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
                "--disable-component-update", "--disable-sync", "--disable-quic", "--disable-dev-shm-usage",
                format!("--window-size={width},{height}"),
            ] },
        } } });
        let answer = browser.call("POST", "/session", &asked);
        browser.session =
            answer["sessionId"].as_str().unwrap_or_else(|| panic!("{answer}")).to_string();
        let size = json!({ "width": width, "height": height });
        browser.command("POST", "/window/rect", &size);
        Some(browser)
    }

    fn call(&self, method: &str, path: &str, body: &Value) -> Value {
        let body = if method == "GET" { String::new() } else { body.to_string() };
        let ask = || {
            send(self.at, method, path, &[("Content-Type", "application/json")], body.as_bytes())
        };
        // The driver drops a line now and then, before it has heard anything.
        let dropped = |e: std::io::Error| match e.kind() {
            std::io::ErrorKind::ConnectionReset => ask(),
            _ => Err(e),
        };
        let answer = ask().or_else(dropped).unwrap();
        let value: Value = serde_json::from_slice(&answer.body).unwrap();
        value["value"].clone()
    }

    fn command(&self, method: &str, path: &str, body: &Value) -> Value {
        let value = self.call(method, &format!("/session/{}{path}", self.session), body);
        assert!(value.get("error").is_none(), "{path} {body}: {value}");
        value
    }

    fn go(&self, url: &str) {
        self.command("POST", "/url", &json!({ "url": url }));
    }

    fn script(&self, code: &str) -> Value {
        self.command("POST", "/execute/sync", &json!({ "script": code, "args": [] }))
    }

    /// Waits until a script says true.
    #[track_caller]
    fn until(&self, what: &str, code: &str) {
        let begun = Instant::now();
        while self.script(code) != json!(true) {
            assert!(begun.elapsed() < Duration::from_secs(30), "not within 30 s: {what}");
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    fn find(&self, css: &str) -> String {
        let begun = Instant::now();
        loop {
            let path = format!("/session/{}/element", self.session);
            let found = self.call("POST", &path, &json!({ "using": "css selector", "value": css }));
            if let Some(id) =
                found.as_object().and_then(|o| o.values().next()?.as_str().map(str::to_string))
                && found.get("error").is_none()
            {
                return id;
            }
            assert!(begun.elapsed() < Duration::from_secs(15), "there is no {css}");
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Unfolds what an element is folded into, and brings it to the middle.
    fn open(&self, css: &str) {
        self.script(&format!(
            "const e = document.querySelector({css:?}); for (let d = e.closest('details'); d; d = d.parentElement.closest('details')) d.open = true; e.scrollIntoView({{block: 'center'}})"
        ));
    }

    fn click(&self, css: &str) {
        let id = self.find(css);
        self.script(&format!(
            "document.querySelector({css:?}).scrollIntoView({{block: 'center'}})"
        ));
        self.command("POST", &format!("/element/{id}/click"), &json!({}));
    }

    /// Types into a field what a person would, over what stood there.
    fn fill(&self, css: &str, text: &str) {
        let id = self.find(css);
        self.open(css);
        self.script(&format!("const f = document.querySelector({css:?}); f.select && f.select()"));
        self.command("POST", &format!("/element/{id}/value"), &json!({ "text": text }));
    }

    /// Types into a field of the job's sheet and waits until it is kept.
    fn keep(&self, path: &str, text: &str) {
        let base = self.script("return document.getElementById('base').value");
        self.fill(&format!("[data-path=\"{path}\"]"), text);
        let base = base.as_str().unwrap_or_default().to_string();
        self.until(path, &format!("return document.getElementById('base').value !== {base:?} && !document.querySelector('.htmx-request')"));
    }

    /// What a list of faults says.
    fn faults(&self, css: &str) -> Value {
        self.script(&format!(
            "return [...document.querySelectorAll('{css} li')].map(l => l.textContent)"
        ))
    }

    fn choose(&self, path: &str, value: &str) {
        self.script(&format!(
            "const s = document.querySelector('[data-path=\"{path}\"]'); s.value = {value:?}; s.dispatchEvent(new Event('change', {{bubbles: true}}))"
        ));
        std::thread::sleep(Duration::from_millis(300));
    }

    fn address(&self) -> String {
        self.command("GET", "/url", &json!({})).as_str().unwrap_or_default().to_string()
    }

    fn text(&self, css: &str) -> String {
        self.script(&format!("return document.querySelector({css:?}).textContent"))
            .as_str()
            .unwrap_or_default()
            .to_string()
    }

    /// Nothing that keeps someone out, by axe-core.
    fn accessible(&self, screen: &str) {
        self.script(AXE);
        let found = self.command(
            "POST",
            "/execute/async",
            &json!({ "script": "const done = arguments[0]; axe.run(document, { resultTypes: ['violations'] }).then(r => done(r.violations.filter(v => ['serious', 'critical'].includes(v.impact)).map(v => v.id + ': ' + v.nodes.slice(0, 3).map(n => n.html.slice(0, 120)).join(' | '))))", "args": [] }),
        );
        assert_eq!(found, json!([]), "{screen}");
    }

    /// Nothing in the console that a page should not say.
    fn quiet(&self) {
        let log = self.command("POST", "/se/log", &json!({ "type": "browser" }));
        let errors: Vec<&Value> = log
            .as_array()
            .into_iter()
            .flatten()
            .filter(|e| e["level"] == "SEVERE")
            // Refused on purpose: papers while something is to be put right.
            .filter(|e| !e["message"].as_str().unwrap_or_default().contains("/papers/job-pack.pdf"))
            .collect();
        assert!(errors.is_empty(), "{errors:?}");
    }

    fn no_sideways(&self, screen: &str) {
        let wide = self.script(
            "return document.documentElement.scrollWidth - document.documentElement.clientWidth",
        );
        assert_eq!(wide, json!(0), "{screen} is wider than its window");
    }
}

#[test]
fn a_whole_job_at_a_desk() {
    let Some(browser) = Browser::start(1280, 900) else { return };
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    browser.go(&root);
    browser.accessible("the list");
    browser.fill("[name=name]", "Harbour guest house");
    browser.click("form[action^='/jobs?'] button");
    browser.until("the job", "return !!document.querySelector('main[data-job]') && !!window.htmx");
    let job = browser.address();
    // A patterned cloth.
    browser.keep("cloth.0.name", "Leaf");
    browser.keep("cloth.0.repeat.length", "12 1/2");
    browser.keep("cloth.0.repeat.width", "13 1/2");
    browser.keep("customer.name", "Harbour House");
    // What an hour costs, and the tax.
    browser.keep("rates.hour", "75");
    browser.keep("tax.rate", "20");
    // Ten pieces of different kinds, each added by its picture and measured.
    let pieces: [(&str, &[(&str, &str)]); 10] = [
        ("panel", &[("width", "30"), ("height", "24")]),
        ("pad", &[("width", "42"), ("height", "16")]),
        ("boxed cushion", &[("width", "22"), ("depth", "20")]),
        ("wedge cushion", &[("width", "20"), ("depth", "18"), ("front", "1"), ("back", "2")]),
        ("waterfall cushion", &[("width", "22"), ("depth", "20")]),
        ("knife-edge cushion", &[("width", "18"), ("height", "18")]),
        ("bolster", &[("length", "24"), ("diameter", "7")]),
        ("headboard", &[("width", "50"), ("height", "30"), ("border", "4")]),
        (
            "buttoned back",
            &[("width", "40"), ("height", "30"), ("border", "4"), ("across", "3"), ("high", "2")],
        ),
        ("welt", &[("runs", "96, 40")]),
    ];
    for (i, (kind, measures)) in pieces.iter().enumerate() {
        browser.script("window.fresh = true");
        browser.click(&format!(".kinds button[hx-vals*='\"{kind}\"']"));
        browser.until(
            kind,
            &format!(
                "return !window.fresh && !!document.querySelector('#piece-{i}') && !!window.htmx"
            ),
        );
        for (key, value) in *measures {
            browser.keep(&format!("piece.{i}.{key}"), value);
        }
        browser
            .until("its drawing", &format!("return !!document.querySelector('#figure-{i} svg')"));
    }
    assert_eq!(browser.faults("ul.faults"), json!([]));
    // A bad measure is told at once, at its piece, and the rest goes on.
    browser.keep("piece.0.width", "3o");
    browser.until("the fault", "return document.querySelectorAll('#faults-piece-0 li').length > 0");
    // What is wrong leaves the sums open, and there are no papers to sign.
    assert!(browser.text("#totals").contains("to put right"));
    assert_eq!(
        browser
            .script("return fetch(location.pathname + '/papers/job-pack.pdf').then(r => r.status)"),
        json!(422)
    );
    browser.keep("piece.0.width", "31 1/2");
    browser
        .until("no fault", "return document.querySelectorAll('#faults-piece-0 li').length === 0");
    browser.choose("piece.0.pattern", "centred");
    browser.until("the search", "return document.querySelector('#plan').dataset.over === 'true'");
    assert!(browser.text("#plan").contains("Leaf: buy"), "{}", browser.text("#plan"));
    assert!(browser.text("#totals").contains("with tax"));
    browser.until(
        "the lay's picture",
        "const i = document.querySelector('.lay img'); return i.complete && i.naturalWidth > 0",
    );
    browser.no_sideways("the job");
    browser.accessible("the job");
    // A length on hand, and a flaw on it.
    let hand = ".material form[hx-post$='/hand']";
    browser.script("document.querySelectorAll('.material details').forEach(d => d.open = true); window.fresh = true");
    browser.fill(&format!("{hand} [name=id]"), "R1");
    browser.fill(&format!("{hand} [name=length]"), "60");
    browser.click(&format!("{hand} button"));
    browser.until(
        "the length on hand",
        "return !window.fresh && document.body.textContent.includes('R1') && !!window.htmx",
    );
    browser.script("document.querySelectorAll('.material details').forEach(d => d.open = true); window.fresh = true");
    for (key, value) in [("x", "10"), ("y", "20"), ("width", "2"), ("length", "2")] {
        browser.fill(&format!("{hand} [name={key}]"), value);
    }
    browser.click(&format!("{hand} button"));
    browser.until("the flaw", "return !window.fresh && document.body.textContent.includes('flaw 10 from the left selvedge')");
    browser.until("the search", "return document.querySelector('#plan').dataset.over === 'true'");
    lay_by_hand(&browser, &job);
    // The same in another cloth, priced beside.
    browser.go(&job);
    browser.until("the job", "return !!window.htmx && !!document.querySelector('#plan')");
    browser.script("window.fresh = true");
    browser.click("button[hx-vals='{\"list\":\"cloth\"}']");
    browser.until("a second cloth", "return !window.fresh && !!window.htmx && !!document.querySelector('[data-path=\"cloth.1.name\"]')");
    browser.keep("cloth.1.name", "Twill");
    browser.keep("cloth.1.width", "60");
    browser.keep("cloth.1.price", "55");
    browser.go(&job);
    browser.until("the search", "return document.querySelector('#plan').dataset.over === 'true'");
    let form = "form[hx-post$='/option']";
    browser.fill(&format!("{form} [name=name]"), "In twill");
    browser.script(&format!(
        "document.querySelector(\"{form} [name=to]\").value = 'Twill'; window.fresh = true"
    ));
    browser.click(&format!("{form} button"));
    browser.until("the option", "return !window.fresh && !!document.querySelector('#options') && document.querySelector('#options').textContent.includes('In twill')");
    browser.accessible("the job with an option");
    // Near misses are planned again and can be taken.
    browser.go(&format!("{job}/compare"));
    browser.until("the comparison", "return document.querySelectorAll('tr.now').length > 0");
    browser.accessible("the comparison");
    browser.go(&format!("{job}/misses"));
    browser.until("near misses", "return !document.querySelector('#main progress') && document.querySelector('#main').textContent.length > 20");
    browser.accessible("near misses");
    if browser.script("return !!document.querySelector('article.lay form')") == json!(true) {
        browser.click("article.lay form button");
        browser.until(
            "it is taken",
            "return !location.pathname.endsWith('misses') && !!document.querySelector('#plan')",
        );
    }
    browser.go(&job);
    browser.until("the search", "return document.querySelector('#plan').dataset.over === 'true'");
    // Papers, versions, bench.
    assert_eq!(browser.script("return fetch(location.pathname + '/papers/job-pack.pdf').then(r => r.headers.get('content-type'))"), json!("application/pdf"));
    browser.go(&format!("{job}/versions"));
    browser.accessible("versions");
    browser.click("table.versions td a");
    browser.until("compared", "return document.body.textContent.includes('to buy') && document.body.textContent.includes('What changed')");
    browser.go(&format!("{job}/bench"));
    browser.accessible("the bench");
    browser.click(".jobs a");
    browser.accessible("a step");
    browser.click("button.main");
    browser.until("the next step", "return location.pathname.endsWith('/1')");
    browser.go(&format!("{job}/bench"));
    assert!(browser.text(".jobs li").contains("1 of"));
    browser.go(&format!("{root}/customers"));
    assert!(browser.text("#main").contains("Harbour House"));
    browser.accessible("customers");
    browser.go(&format!("{root}/shop"));
    browser.accessible("the shop");
    browser.quiet();
}

/// A part is dragged and stays, another is moved with the keys, a flaw is tapped; then all is let go.
fn lay_by_hand(browser: &Browser, job: &str) {
    browser.go(&format!("{job}/by-hand/0"));
    let searched =
        "return document.querySelector('#main').dataset.over === 'true' && !!window.htmx";
    browser.until("the search", searched);
    browser.accessible("by hand");
    browser.no_sideways("by hand");
    let part = "rect[data-part=\"1A\"]";
    browser.open(part);
    let before = browser.script(&format!("return +document.querySelector('{part}').dataset.mmY"));
    let steps = |x: i64| {
        json!([
            { "type": "pointerMove", "duration": 0, "origin": { ELEMENT: browser.find(part) }, "x": 0, "y": 0 },
            { "type": "pointerDown", "button": 0 },
            { "type": "pointerMove", "duration": 100, "origin": "pointer", "x": x, "y": 4 },
            { "type": "pointerUp", "button": 0 },
        ])
    };
    let pointer = |steps: Value| {
        browser.script("window.fresh = true");
        let pointer = json!({ "type": "pointer", "id": "finger", "actions": steps });
        browser.command("POST", "/actions", &json!({ "actions": [pointer] }));
    };
    pointer(steps(120));
    let pinned = "return !window.fresh && document.querySelectorAll('rect.kept').length === 1";
    browser.until("the pinned part", pinned);
    let at = "return +document.querySelector('rect.kept').dataset.mmY";
    let after = browser.script(at);
    assert!(after.as_f64() > before.as_f64(), "{before} {after}");
    browser.until("the search round it", searched);
    assert_eq!(browser.script(at), after);
    // With the keys: where it lies, and without a mouse.
    browser.script("window.fresh = true; const r = document.querySelector('rect[data-part]:not(.kept)'); r.focus(); r.dispatchEvent(new KeyboardEvent('keydown', {key: 'Enter', bubbles: true}))");
    browser.until(
        "two pinned",
        "return !window.fresh && document.querySelectorAll('rect.kept').length === 2",
    );
    browser.until("the search", searched);
    browser.click("#mark-flaw");
    pointer(steps(0));
    // Under a pinned part a flaw makes its pin fail, which is told.
    browser.until("the flaw", "return !window.fresh && document.body.textContent.includes('2 in across, 2 in along') && document.body.textContent.includes('is pinned over a flaw')");
    browser.until("the search", searched);
    browser.script("window.fresh = true");
    browser.click("form[action*='/flaw'] button.quiet");
    browser.until("no flaw", "return !window.fresh && !!document.querySelector('#main') && !document.body.textContent.includes('is pinned over a flaw')");
    for left in ["1", "0"] {
        browser.until("the search", searched);
        browser.script("window.fresh = true");
        browser.click("form[action*='/let-go'] button");
        browser.until("let go", &format!("return !window.fresh && document.querySelectorAll('form[action*=\"/let-go\"]').length === {left}"));
    }
}

/// The name by which the protocol refers to an element.
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

#[test]
fn measuring_on_a_phone() {
    // A window of chromium is no narrower than 500: the frame's width counts, so the page is asked to be
    // 360 wide by the driver's own metrics.
    let Some(browser) = Browser::start(500, 800) else { return };
    let metrics = json!({ "cmd": "Emulation.setDeviceMetricsOverride", "params": { "width": 360, "height": 740, "deviceScaleFactor": 2, "mobile": true } });
    browser.command("POST", "/goog/cdp/execute", &metrics);
    let folder = tempfile::tempdir().unwrap();
    let page = Served::start(folder.path());
    let root = format!("http://{}", page.address);
    browser.go(&root);
    browser.no_sideways("the list");
    browser.fill("[name=name]", "Boat");
    browser.click("form[action^='/jobs?'] button");
    browser.until("the job", "return !!document.querySelector('main[data-job]') && !!window.htmx");
    let job = browser.address();
    browser.no_sideways("the job");
    browser.script("window.fresh = true");
    browser.click(".kinds button[hx-vals*='\"sloped cushion\"']");
    browser.until("the piece", "return !window.fresh && !!document.querySelector('#piece-0')");
    browser.go(&format!("{job}/measure/0/0"));
    browser.no_sideways("the keypad");
    browser.accessible("the keypad");
    // 40 1/2 by the keypad, then the next measures.
    for key in ["4", "0", " 1/2"] {
        browser.click(&format!("[data-key=\"{key}\"]"));
    }
    assert_eq!(browser.script("return document.getElementById('value').value"), json!("40 1/2"));
    browser.click("button.main");
    browser.until("the next measure", "return location.pathname.endsWith('/1')");
    for key in ["2", "6"] {
        browser.click(&format!("[data-key=\"{key}\"]"));
    }
    browser.click("button.main");
    browser.until("the angle", "return location.pathname.endsWith('/2')");
    for key in ["1", "2"] {
        browser.click(&format!("[data-key=\"{key}\"]"));
    }
    browser.click("button.main");
    browser.until("the last", "return location.pathname.endsWith('/3')");
    browser.click("button.main");
    browser.until("the sheet", "return !location.pathname.includes('measure') && !!document.querySelector('#figure-0 svg')");
    assert_eq!(
        browser.script("return document.querySelector('[data-path=\"piece.0.width\"]').value"),
        json!("40 1/2")
    );
    assert_eq!(browser.faults("#faults-piece-0"), json!([]));
    // A renamed cloth is followed by what is covered in it, here and in the file.
    browser.choose("piece.0.cloth", "Cloth");
    browser.keep("cloth.0.name", "Sail");
    let cloth = "return document.querySelector('[data-path=\"piece.0.cloth\"]').value";
    browser.until("the new name", &format!("{cloth} === 'Sail'"));
    assert_eq!(browser.faults("#faults-piece-0"), json!([]));
    // A print is one way at once.
    browser.keep("cloth.0.repeat.length", "12");
    let one_way = "document.querySelector('[data-path=\"cloth.0.one_way\"]').selectedOptions[0].textContent === 'yes'";
    browser.until("one way", &format!("return {one_way}"));
    finger_on_the_cloth(&browser, &job);
    browser.quiet();
}

/// A finger scrolls the picture until it is said that parts are to be moved.
fn finger_on_the_cloth(browser: &Browser, job: &str) {
    let touch =
        json!({ "cmd": "Emulation.setTouchEmulationEnabled", "params": { "enabled": true } });
    browser.command("POST", "/goog/cdp/execute", &touch);
    browser.go(&format!("{job}/by-hand/0"));
    browser.until("the search", "return document.querySelector('#main').dataset.over === 'true'");
    let pressed = "return document.querySelector('#move').getAttribute('aria-pressed')";
    assert_eq!(browser.script(pressed), json!("false"));
    browser.no_sideways("by hand");
    browser.accessible("by hand on a phone");
    browser.click("#move");
    let part = "rect[data-part=\"1A\"]";
    browser.open(part);
    browser.script("window.fresh = true");
    let steps = json!([
        { "type": "pointerMove", "duration": 0, "origin": { ELEMENT: browser.find(part) }, "x": 0, "y": 0 },
        { "type": "pointerDown", "button": 0 },
        { "type": "pointerMove", "duration": 80, "origin": "pointer", "x": 20, "y": 0 },
        { "type": "pointerMove", "duration": 80, "origin": "pointer", "x": 60, "y": 2 },
        { "type": "pointerUp", "button": 0 },
    ]);
    let finger = json!({ "type": "pointer", "id": "finger", "parameters": { "pointerType": "touch" }, "actions": steps });
    browser.command("POST", "/actions", &json!({ "actions": [finger] }));
    browser.until("the pinned part", "return !window.fresh && document.querySelectorAll('rect.kept').length === 1 && +document.querySelector('rect.kept').dataset.mmY > 30");
}
