//! As little of HTTP/1.1 as the tests need: one request, one answer, every header in the test's hand.

use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::time::Duration;

/// An answer.
pub struct Answer {
    /// Status.
    pub code: u16,
    /// Headers, names in small letters.
    pub headers: Vec<(String, String)>,
    /// Body.
    pub body: Vec<u8>,
}

impl Answer {
    /// A header's value.
    pub fn header(&self, name: &str) -> Option<&str> {
        self.headers.iter().find(|h| h.0 == name).map(|h| h.1.as_str())
    }

    /// The body as text.
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }
}

/// Sends a request and reads the answer to its end.
pub fn send(
    to: SocketAddr,
    method: &str,
    path: &str,
    headers: &[(&str, &str)],
    body: &[u8],
) -> std::io::Result<Answer> {
    let mut stream = TcpStream::connect(to)?;
    // Browsers do so too: head and body are two writes, and the second would wait for an answer.
    stream.set_nodelay(true)?;
    stream.set_read_timeout(Some(Duration::from_secs(20)))?;
    let mut head = format!(
        "{method} {path} HTTP/1.1\r\nConnection: close\r\nContent-Length: {}\r\n",
        body.len()
    );
    if !headers.iter().any(|h| h.0 == "Host") {
        head.push_str(&format!("Host: {to}\r\n"));
    }
    for (name, value) in headers {
        head.push_str(&format!("{name}: {value}\r\n"));
    }
    head.push_str("\r\n");
    stream.write_all(head.as_bytes())?;
    // A server that refuses a body may close before all of it is sent.
    let _ = stream.write_all(body);
    let mut all = Vec::new();
    let mut buffer = [0_u8; 65536];
    let split = loop {
        let split = all.windows(4).position(|w| w == b"\r\n\r\n");
        // Some servers keep the line open: the answer is as long as it says.
        if let Some(split) = split
            && said_length(&all[..split]).is_some_and(|n| all.len() >= split + 4 + n)
        {
            break split;
        }
        match stream.read(&mut buffer) {
            Ok(0) => break split.ok_or_else(|| std::io::Error::other("no answer"))?,
            Ok(n) => all.extend(&buffer[..n]),
            Err(error) => break split.ok_or(error)?,
        }
    };
    let text = String::from_utf8_lossy(&all[..split]).into_owned();
    let mut lines = text.lines();
    let code = lines.next().and_then(|l| l.split(' ').nth(1)?.parse().ok()).unwrap_or(0);
    let headers: Vec<(String, String)> = lines
        .filter_map(|l| l.split_once(':'))
        .map(|(n, v)| (n.to_lowercase(), v.trim().to_string()))
        .collect();
    let mut body = all[split + 4..].to_vec();
    if headers.iter().any(|h| h.0 == "transfer-encoding" && h.1 == "chunked") {
        body = unchunked(&body);
    }
    Ok(Answer { code, headers, body })
}

fn said_length(head: &[u8]) -> Option<usize> {
    let head = String::from_utf8_lossy(head).to_lowercase();
    head.lines().find_map(|l| l.strip_prefix("content-length:")?.trim().parse().ok())
}

fn unchunked(mut rest: &[u8]) -> Vec<u8> {
    let mut all = Vec::new();
    while let Some(line) = rest.windows(2).position(|w| w == b"\r\n") {
        let size = std::str::from_utf8(&rest[..line])
            .ok()
            .and_then(|t| usize::from_str_radix(t.trim(), 16).ok());
        let Some(size) = size.filter(|s| *s > 0 && line + 2 + s <= rest.len()) else { break };
        all.extend(&rest[line + 2..line + 2 + size]);
        rest = &rest[(line + 4 + size).min(rest.len())..];
    }
    all
}

/// A form's body.
pub fn form(fields: &[(&str, &str)]) -> Vec<u8> {
    let plain = |text: &str| -> String {
        text.bytes()
            .map(|b| {
                if b.is_ascii_alphanumeric() {
                    (b as char).to_string()
                } else {
                    format!("%{b:02X}")
                }
            })
            .collect()
    };
    fields
        .iter()
        .map(|(k, v)| format!("{}={}", plain(k), plain(v)))
        .collect::<Vec<_>>()
        .join("&")
        .into_bytes()
}
