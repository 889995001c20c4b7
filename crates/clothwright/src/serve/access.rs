//! Who may come in: loopback by default; on the workroom's network only with a pass phrase.

use super::App;
use super::door::Peer;
use argon2::password_hash::phc::PasswordHash;
use argon2::{Argon2, PasswordHasher, PasswordVerifier};
use axum::body::Body;
use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Redirect, Response};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Guesses of the pass phrase allowed from one address within [`WINDOW`].
const GUESSES: usize = 5;
const WINDOW: Duration = Duration::from_secs(300);

/// A session lasts 30 days, in seconds.
pub const LASTS: i64 = 30 * 24 * 3600;

/// The cookie's name.
const COOKIE: &str = "clothwright";

/// Wrong guesses by address.
#[derive(Default)]
pub struct Guesses(Mutex<BTreeMap<IpAddr, Vec<Instant>>>);

impl Guesses {
    /// Whether an address may guess again.
    pub fn allowed(&self, from: IpAddr) -> bool {
        let mut all = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        all.retain(|_, times| {
            times.retain(|t| t.elapsed() < WINDOW);
            !times.is_empty()
        });
        all.get(&from).is_none_or(|times| times.len() < GUESSES)
    }

    /// The right phrase: what was guessed before no longer counts.
    pub fn right(&self, from: IpAddr) {
        let mut all = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        all.remove(&from);
    }

    /// A wrong guess.
    pub fn wrong(&self, from: IpAddr) {
        let mut all = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        all.entry(from).or_default().push(Instant::now());
    }
}

/// A fresh secret of 32 bytes, in hexadecimal digits.
///
/// # Errors
/// If the system gives no random bytes.
pub fn secret() -> Result<String, getrandom::Error> {
    let mut bytes = [0_u8; 32];
    getrandom::fill(&mut bytes)?;
    Ok(hex(&bytes))
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|b| format!("{b:02x}")).collect()
}

/// SHA-256 as people compare it: `AB:12:...`.
pub fn print(bytes: &[u8]) -> String {
    let all: Vec<String> = Sha256::digest(bytes).iter().map(|b| format!("{b:02X}")).collect();
    all.join(":")
}

fn digest(words: &str) -> String {
    hex(&Sha256::digest(words.as_bytes()))
}

/// The mark under which a session's cookie is kept: the cookie itself is never stored.
pub fn session_mark(cookie: &str) -> String {
    digest(&format!("session {cookie}"))
}

/// What every change must show besides the cookie.
pub fn token(cookie: &str) -> String {
    digest(&format!("token {cookie}"))
}

/// A pass phrase as it is kept.
///
/// # Errors
/// In words.
pub fn hashed(phrase: &str) -> Result<String, String> {
    Argon2::default()
        .hash_password(phrase.as_bytes())
        .map(|hash| hash.to_string())
        .map_err(|e| e.to_string())
}

/// Whether a phrase is the one kept.
pub fn matches(phrase: &str, kept: &str) -> bool {
    PasswordHash::new(kept)
        .is_ok_and(|hash| Argon2::default().verify_password(phrase.as_bytes(), &hash).is_ok())
}

/// This visit's cookie and token.
#[derive(Clone, Debug)]
pub struct Visit {
    /// The cookie.
    pub cookie: String,
    /// See [`token`].
    pub token: String,
    /// From where.
    pub from: IpAddr,
    /// By what name and port the page was called.
    pub host: String,
}

fn cookie(headers: &HeaderMap) -> Option<String> {
    let all = headers.get(header::COOKIE)?.to_str().ok()?;
    all.split(';').find_map(|pair| {
        let value = pair.trim().strip_prefix(COOKIE)?.strip_prefix('=')?;
        let plain = value.len() == 64 && value.bytes().all(|b| b.is_ascii_hexdigit());
        plain.then(|| value.to_string())
    })
}

/// The name in a Host header, without its port.
fn host_name(host: &str) -> &str {
    match host.strip_prefix('[') {
        Some(rest) => rest.split(']').next().unwrap_or_default(),
        None => host.split(':').next().unwrap_or_default(),
    }
}

/// Whether another site's page asks, by what the browser itself says (Fetch Metadata, W3C). A link that a
/// person follows may lead to a screen, never to what costs work.
fn is_from_elsewhere(headers: &HeaderMap, path: &str) -> bool {
    let said = |name: &str| headers.get(name).and_then(|v| v.to_str().ok()).unwrap_or_default();
    if !matches!(said("sec-fetch-site"), "cross-site" | "same-site") {
        return false;
    }
    let is_link = said("sec-fetch-mode") == "navigate" && said("sec-fetch-dest") == "document";
    let costs = ["/papers/", "/compare", "/misses", "/versions/", "/photo/", "/lay/"];
    !is_link || costs.iter().any(|part| path.contains(part))
}

fn refused(code: StatusCode, what: &str) -> Response {
    (code, [(header::CONTENT_TYPE, "text/plain; charset=utf-8")], what.to_string()).into_response()
}

/// Checks every request and marks every answer.
pub async fn guard(
    State(app): State<Arc<App>>,
    ConnectInfo(peer): ConnectInfo<Peer>,
    mut request: Request,
    next: Next,
) -> Response {
    let headers = request.headers();
    let host =
        headers.get(header::HOST).and_then(|h| h.to_str().ok()).unwrap_or_default().to_string();
    let name = host_name(&host).to_lowercase();
    if name != peer.at.to_string() && !app.hosts.contains(&name) {
        return marked(refused(
            StatusCode::FORBIDDEN,
            "this is not the address the page is served at",
        ));
    }
    if is_from_elsewhere(headers, request.uri().path()) {
        return marked(refused(StatusCode::FORBIDDEN, "the request comes from another page"));
    }
    let known = cookie(headers);
    let Some((cookie, fresh)) =
        known.map(|c| (c, false)).or_else(|| secret().ok().map(|c| (c, true)))
    else {
        return marked(refused(StatusCode::SERVICE_UNAVAILABLE, "no random numbers to be had"));
    };
    let token = token(&cookie);
    if request.method() != Method::GET && request.method() != Method::HEAD {
        let own = |origin: &str| {
            origin.strip_prefix("http://").or(origin.strip_prefix("https://"))
                == Some(host.as_str())
        };
        let origin = headers.get(header::ORIGIN).and_then(|o| o.to_str().ok());
        if origin.is_some_and(|o| !own(o)) {
            return marked(refused(StatusCode::FORBIDDEN, "the request comes from another page"));
        }
        let query = request.uri().query().unwrap_or_default();
        let in_query = query.split('&').find_map(|p| p.strip_prefix("token="));
        let shown = headers.get("x-token").and_then(|t| t.to_str().ok()).or(in_query);
        if fresh || shown != Some(token.as_str()) {
            return marked(refused(
                StatusCode::FORBIDDEN,
                "this page is too old: load it again, then repeat the change",
            ));
        }
    }
    let path = request.uri().path();
    let is_secure = !peer.from.ip().is_loopback() && peer.is_private;
    let is_trust = path == "/trust" || path == "/trust/workroom.crt";
    if app.authority.is_some() && !peer.is_private && !is_trust && !path.starts_with("/assets/") {
        // In clear text nobody on the network gets anything but the way to trust.
        return marked(match *request.method() {
            Method::GET => Redirect::to("/trust").into_response(),
            _ => refused(StatusCode::FORBIDDEN, "not in clear text: open https, see /trust"),
        });
    }
    let open = path == "/enter" || path == "/worker.js" || is_trust || path.starts_with("/assets/");
    if app.pass_phrase.is_some()
        && !open
        && !app.store.has_session(&session_mark(&cookie)).unwrap_or(false)
    {
        let mut answer = Redirect::to("/enter").into_response();
        set_cookie(&mut answer, &cookie, is_secure);
        return marked(answer);
    }
    let by_script = request.headers().contains_key("hx-request");
    let from = screen_before(&request, &host);
    let visit = Visit { cookie: cookie.clone(), token, from: peer.from.ip(), host };
    request.extensions_mut().insert(visit.clone());
    let mut answer = next.run(request).await;
    if !by_script && (answer.status().is_client_error() || answer.status().is_server_error()) {
        answer = explained(&visit, answer, from.as_deref()).await;
    }
    if fresh {
        set_cookie(&mut answer, &cookie, is_secure);
    }
    marked(answer)
}

/// The screen of this page that a request came from, as a path.
fn screen_before(request: &Request, host: &str) -> Option<String> {
    let said = request.headers().get(header::REFERER)?.to_str().ok()?;
    let (_, rest) = said.split_once("://")?;
    let path = rest.strip_prefix(host)?;
    path.starts_with('/').then(|| path.to_string())
}

/// A refusal in words as a screen with a way on.
async fn explained(visit: &Visit, answer: Response, from: Option<&str>) -> Response {
    let (mut head, body) = answer.into_parts();
    let plain = head
        .headers
        .get(header::CONTENT_TYPE)
        .is_some_and(|t| t.as_bytes().starts_with(b"text/plain"));
    if !plain {
        return Response::from_parts(head, body);
    }
    let words = axum::body::to_bytes(body, 100_000).await.unwrap_or_default();
    let screen = super::pages::told(visit, &String::from_utf8_lossy(&words), from).into_string();
    head.headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("text/html; charset=utf-8"));
    head.headers.remove(header::CONTENT_LENGTH);
    Response::from_parts(head, Body::from(screen))
}

/// Sets the cookie of a visit; one given on an encrypted line is never sent in clear text.
pub fn set_cookie(answer: &mut Response, cookie: &str, is_secure: bool) {
    let secure = if is_secure { "; Secure" } else { "" };
    let text =
        format!("{COOKIE}={cookie}; Path=/; HttpOnly; SameSite=Strict; Max-Age={LASTS}{secure}");
    if let Ok(value) = HeaderValue::from_str(&text) {
        answer.headers_mut().insert(header::SET_COOKIE, value);
    }
}

fn marked(mut answer: Response<Body>) -> Response<Body> {
    let headers = answer.headers_mut();
    let policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; worker-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; manifest-src 'self'";
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, policy),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "same-origin"),
        (header::X_FRAME_OPTIONS, "DENY"),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    if !headers.contains_key(header::CACHE_CONTROL) {
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    }
    answer
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_told_from_ports() {
        assert_eq!(host_name("localhost:8080"), "localhost");
        assert_eq!(host_name("127.0.0.1"), "127.0.0.1");
        assert_eq!(host_name("[::1]:80"), "::1");
        assert_eq!(host_name("evil.example:80"), "evil.example");
    }

    #[test]
    fn phrases_are_kept_hashed() {
        let kept = hashed("horsehair and twine").unwrap();
        assert!(kept.starts_with("$argon2id$") && !kept.contains("horsehair"));
        assert!(matches("horsehair and twine", &kept) && !matches("horsehair", &kept));
    }

    #[test]
    fn guesses_are_counted_by_address() {
        let guesses = Guesses::default();
        let (a, b): (IpAddr, IpAddr) = ("10.0.0.1".parse().unwrap(), "10.0.0.2".parse().unwrap());
        for _ in 0..GUESSES {
            assert!(guesses.allowed(a));
            guesses.wrong(a);
        }
        assert!(!guesses.allowed(a) && guesses.allowed(b));
        guesses.right(a);
        assert!(guesses.allowed(a));
    }
}
