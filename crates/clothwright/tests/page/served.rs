//! The program serving a page from a folder of its own, and a visitor.

use crate::http::{Answer, form, send};
use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::net::SocketAddr;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};

/// A running page; ended with the value.
pub struct Served {
    child: Child,
    /// Where it listens.
    pub address: SocketAddr,
}

impl Served {
    /// Starts it on a port of its own.
    pub fn start(data: &Path) -> Self {
        Self::with(data, None)
    }

    /// Shared with a pass phrase, if one is given.
    pub fn with(data: &Path, pass_phrase: Option<&str>) -> Self {
        Self::at(data, pass_phrase, "127.0.0.1:0")
    }

    /// Started anew where it listened before.
    pub fn again(data: &Path, address: SocketAddr) -> Self {
        Self::at(data, None, &address.to_string())
    }

    fn at(data: &Path, pass_phrase: Option<&str>, address: &str) -> Self {
        let mut command = Command::new(env!("CARGO_BIN_EXE_clothwright"));
        command.args(["serve", "--addr", address, "--data"]).arg(data).stdout(Stdio::piped());
        if let Some(phrase) = pass_phrase {
            command.arg("--share").env("CLOTHWRIGHT_PASS_PHRASE", phrase);
        }
        let mut child = command.spawn().unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let told = line
            .split_whitespace()
            .find_map(|w| w.strip_prefix("http://").or(w.strip_prefix("https://")))
            .unwrap_or_else(|| panic!("{line}"));
        let port = told.rsplit(':').next().and_then(|p| p.parse().ok()).unwrap();
        Self { child, address: SocketAddr::from(([127, 0, 0, 1], port)) }
    }

    /// Ends it at once, as a power cut would.
    pub fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Someone with the page open.
#[derive(Clone)]
pub struct Visitor {
    /// Where the page is.
    pub to: SocketAddr,
    /// The cookie.
    pub cookie: String,
    /// The token.
    pub token: String,
}

/// What stands between two texts.
pub fn between<'a>(text: &'a str, from: &str, to: &str) -> Option<&'a str> {
    let start = text.find(from)? + from.len();
    Some(&text[start..start + text[start..].find(to)?])
}

impl Visitor {
    /// Opens the first screen.
    pub fn new(to: SocketAddr) -> Self {
        let first = send(to, "GET", "/enter", &[], &[]).unwrap();
        let cookie =
            first.header("set-cookie").and_then(|c| c.split(';').next()).unwrap().to_string();
        let token = between(&first.text(), "X-Token&quot;: &quot;", "&quot;").unwrap().to_string();
        Self { to, cookie, token }
    }

    /// Reads a screen.
    pub fn get(&self, path: &str) -> Answer {
        send(self.to, "GET", path, &[("Cookie", &self.cookie)], &[]).unwrap()
    }

    /// Sends a form.
    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        self.try_post(path, fields).unwrap()
    }

    /// Sends a form to a page that may be gone.
    pub fn try_post(&self, path: &str, fields: &[(&str, &str)]) -> std::io::Result<Answer> {
        let headers = [
            ("Cookie", self.cookie.as_str()),
            ("X-Token", &self.token),
            ("Content-Type", "application/x-www-form-urlencoded"),
        ];
        send(self.to, "POST", path, &headers, &form(fields))
    }

    /// A new job from a job file's text; its address.
    pub fn job(&self, text: &str) -> String {
        let answer = self.post("/jobs/read", &[("text", text)]);
        assert_eq!(answer.code, 303, "{}", answer.text());
        answer.header("location").unwrap().to_string()
    }

    /// A job as the page's scripts read it.
    pub fn sheet(&self, job: &str) -> Value {
        serde_json::from_slice(&self.get(&format!("{job}/sheet")).body).unwrap()
    }

    /// The revision a job stands on.
    pub fn base(&self, job: &str) -> String {
        self.sheet(job)["revision"].to_string()
    }

    /// Sends changes as the page's scripts do, to a page that may be gone.
    pub fn try_change(&self, job: &str, changes: &[Value]) -> std::io::Result<Answer> {
        let headers = [
            ("Cookie", self.cookie.as_str()),
            ("X-Token", &self.token),
            ("Content-Type", "application/json"),
        ];
        let body = json!({ "changes": changes }).to_string();
        send(self.to, "POST", &format!("{job}/changes"), &headers, body.as_bytes())
    }

    /// Sends changes; what became of each.
    pub fn change(&self, job: &str, changes: &[Value]) -> Vec<Value> {
        let answer = self.try_change(job, changes).unwrap();
        assert_eq!(answer.code, 200, "{}", answer.text());
        let told: Value = serde_json::from_slice(&answer.body).unwrap();
        told["answers"].as_array().unwrap().clone()
    }

    /// Sets one value that was shown as `was`; what became of it.
    pub fn set(&self, job: &str, path: &str, was: &str, value: &str) -> String {
        let one = put(path, was, value);
        self.change(job, &[one])[0]["state"].as_str().unwrap().to_string()
    }
}

/// A name that no other change has.
pub fn fresh() -> String {
    static NEXT: AtomicUsize = AtomicUsize::new(1);
    format!("t{}", NEXT.fetch_add(1, Ordering::Relaxed))
}

/// One value set, as a change.
pub fn put(path: &str, was: &str, value: &str) -> Value {
    json!({ "name": fresh(), "act": "put", "path": path, "value": value, "was": was })
}
