//! A real browser: Debian's chromium, driven over the WebDriver protocol (W3C recommendation). Skipped with
//! a word where the browser is not installed; the test script installs it.

use crate::http::send;
use serde_json::{Value, json};
use std::net::{SocketAddr, TcpListener};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const AXE: &str = include_str!("../vendor/axe.min.js");

/// A browser that is driven.
pub struct Browser {
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
    pub fn driver() -> Option<(Child, SocketAddr)> {
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
    pub fn start(width: u32, height: u32) -> Option<Self> {
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

    pub fn call(&self, method: &str, path: &str, body: &Value) -> Value {
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

    pub fn command(&self, method: &str, path: &str, body: &Value) -> Value {
        let value = self.call(method, &format!("/session/{}{path}", self.session), body);
        assert!(value.get("error").is_none(), "{path} {body}: {value}");
        value
    }

    pub fn go(&self, url: &str) {
        self.command("POST", "/url", &json!({ "url": url }));
    }

    pub fn script(&self, code: &str) -> Value {
        self.command("POST", "/execute/sync", &json!({ "script": code, "args": [] }))
    }

    /// Waits until a script says true.
    #[track_caller]
    pub fn until(&self, what: &str, code: &str) {
        let begun = Instant::now();
        while self.script(code) != json!(true) {
            assert!(
                begun.elapsed() < Duration::from_secs(30),
                "not within 30 s: {what} on {}: {}",
                self.address(),
                self.text("body")
            );
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    pub fn find(&self, css: &str) -> String {
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
            assert!(
                begun.elapsed() < Duration::from_secs(15),
                "there is no {css} on {}: {}",
                self.address(),
                self.text("body")
            );
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Unfolds what an element is folded into, and brings it to the middle.
    pub fn open(&self, css: &str) {
        self.script(&format!(
            "const e = document.querySelector({css:?}); for (let d = e.closest('details'); d; d = d.parentElement.closest('details')) d.open = true; e.scrollIntoView({{block: 'center'}})"
        ));
    }

    pub fn click(&self, css: &str) {
        // What is drawn anew just then is looked for once more.
        for _ in 0..5 {
            let id = self.find(css);
            self.script(&format!(
                "document.querySelector({css:?})?.scrollIntoView({{block: 'center'}})"
            ));
            let path = format!("/session/{}/element/{id}/click", self.session);
            let told = self.call("POST", &path, &json!({}));
            if told["error"] != "stale element reference" {
                assert!(told.get("error").is_none(), "{css}: {told}");
                return;
            }
        }
        panic!("{css} is drawn anew all the time");
    }

    /// Types into a field what a person would, over what stood there.
    pub fn fill(&self, css: &str, text: &str) {
        let id = self.find(css);
        self.open(css);
        self.script(&format!("const f = document.querySelector({css:?}); f.select && f.select()"));
        self.command("POST", &format!("/element/{id}/value"), &json!({ "text": text }));
    }

    /// Types into a field of a job and waits until the workroom has it.
    pub fn keep(&self, path: &str, text: &str) {
        self.fill(&format!("[data-path$={path:?}]"), text);
        self.script("document.activeElement.blur()");
        self.saved();
    }

    /// Waits until everything that was typed is with the workroom.
    pub fn saved(&self) {
        std::thread::sleep(Duration::from_millis(300));
        self.until("everything saved", "return document.querySelector('#state .from640, .state-wide .from640')?.textContent === 'Saved'");
    }

    pub fn address(&self) -> String {
        self.command("GET", "/url", &json!({})).as_str().unwrap_or_default().to_string()
    }

    pub fn text(&self, css: &str) -> String {
        self.script(&format!("return document.querySelector({css:?}).textContent"))
            .as_str()
            .unwrap_or_default()
            .to_string()
    }

    /// Nothing that keeps someone out, by axe-core.
    pub fn accessible(&self, screen: &str) {
        self.script(AXE);
        let found = self.command(
            "POST",
            "/execute/async",
            &json!({ "script": "const done = arguments[0]; axe.run(document, { resultTypes: ['violations'] }).then(r => done(r.violations.filter(v => ['serious', 'critical'].includes(v.impact)).map(v => v.id + ': ' + v.nodes.slice(0, 3).map(n => n.html.slice(0, 120)).join(' | '))))", "args": [] }),
        );
        assert_eq!(found, json!([]), "{screen}");
    }

    /// Nothing in the console that a page should not say.
    pub fn quiet(&self) {
        let log = self.command("POST", "/se/log", &json!({ "type": "browser" }));
        let errors: Vec<&Value> = log
            .as_array()
            .into_iter()
            .flatten()
            .filter(|e| e["level"] == "SEVERE")
            // Refused on purpose: papers while something is to be put right. Cut on purpose: the network.
            .filter(|e| {
                let words = e["message"].as_str().unwrap_or_default();
                !words.contains("/papers/quote.pdf") && !words.contains("net::ERR_")
            })
            .collect();
        assert!(errors.is_empty(), "{errors:?}");
    }

    pub fn no_sideways(&self, screen: &str) {
        let wide = self.script(
            "return document.documentElement.scrollWidth - document.documentElement.clientWidth",
        );
        assert_eq!(wide, json!(0), "{screen} is wider than its window");
    }
}
