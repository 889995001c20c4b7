//! The page on the workroom's network: encrypted, by the workroom's own certificate; checked by a TLS
//! client that is not ours (rustls, with the rules of RFC 5280 as webpki has them).

use crate::http::send;
use crate::served::{Served, Visitor};
use std::io::{Read, Write};
use std::net::{IpAddr, SocketAddr, TcpStream};
use std::sync::Arc;
use tokio_rustls::rustls::pki_types::{CertificateDer, ServerName};
use tokio_rustls::rustls::{ClientConfig, ClientConnection, RootCertStore, StreamOwned};

/// What a trusting device is answered; the fault if it does not trust.
fn asked(at: SocketAddr, name: &str, trusted: &[u8], request: &str) -> std::io::Result<String> {
    let mut roots = RootCertStore::empty();
    roots.add(CertificateDer::from(trusted.to_vec())).map_err(std::io::Error::other)?;
    let config = ClientConfig::builder().with_root_certificates(roots).with_no_client_auth();
    let name = ServerName::try_from(name.to_string()).map_err(std::io::Error::other)?;
    let client = ClientConnection::new(Arc::new(config), name).map_err(std::io::Error::other)?;
    let mut line = StreamOwned::new(client, TcpStream::connect(at)?);
    line.write_all(request.as_bytes())?;
    let mut out = Vec::new();
    // An end without farewell is an end.
    let _ = line.read_to_end(&mut out);
    Ok(String::from_utf8_lossy(&out).into_owned())
}

/// An address of this machine that is not its own loop.
fn outside() -> Option<IpAddr> {
    let all = if_addrs::get_if_addrs().ok()?;
    all.iter().map(if_addrs::Interface::ip).find(|ip| ip.is_ipv4() && !ip.is_loopback())
}

#[test]
fn a_phone_trusts_the_workroom_once_and_clear_text_gets_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::with(folder.path(), Some("webbing and twine"));
    let Some(ip) = outside() else {
        eprintln!("this machine has no network: sharing is not tested");
        return;
    };
    let at = SocketAddr::new(ip, page.address.port());
    // In clear text: the way to trust, and nothing else.
    for path in ["/", "/job/1", "/shop", "/enter", "/token", "/kinds"] {
        let answer = send(at, "GET", path, &[], &[]).unwrap();
        assert_eq!((answer.code, answer.header("location")), (303, Some("/trust")), "{path}");
    }
    for path in ["/enter", "/jobs", "/job/1/changes"] {
        assert_eq!(send(at, "POST", path, &[], b"phrase=webbing").unwrap().code, 403, "{path}");
    }
    assert_eq!(send(at, "GET", "/trust", &[("Host", "evil.example")], &[]).unwrap().code, 403);
    let guide = send(at, "GET", "/trust", &[], &[]).unwrap().text();
    assert!(
        guide.contains("Certificate Trust Settings") && guide.contains(&format!("https://{at}/")),
        "{guide}"
    );
    let certificate = send(at, "GET", "/trust/workroom.crt", &[], &[]).unwrap().body;
    // Trusted: the line is encrypted and the door asks for the phrase.
    let request = format!("GET / HTTP/1.1\r\nHost: {at}\r\nConnection: close\r\n\r\n");
    let answer = asked(at, &ip.to_string(), &certificate, &request).unwrap();
    assert!(answer.starts_with("HTTP/1.1 303") && answer.contains("location: /enter"), "{answer}");
    assert!(answer.contains("; Secure"), "{answer}");
    // Another name, or another workroom's certificate: not trusted.
    assert!(asked(at, "elsewhere.local", &certificate, &request).is_err());
    let other = tempfile::tempdir().unwrap();
    let another = Served::with(other.path(), Some("webbing and twine"));
    let theirs = send(another.address, "GET", "/trust/workroom.crt", &[], &[]).unwrap().body;
    assert_ne!(theirs, certificate);
    assert!(asked(at, &ip.to_string(), &theirs, &request).is_err());
    // The same authority after a new start: phones need not be told again.
    page.kill();
    let page = Served::with(folder.path(), Some("webbing and twine"));
    let at = SocketAddr::new(ip, page.address.port());
    let again = send(at, "GET", "/trust/workroom.crt", &[], &[]).unwrap().body;
    assert_eq!(again, certificate);
}

#[test]
fn one_address_holds_only_so_many_lines_and_the_owner_gets_in() {
    let folder = tempfile::tempdir().unwrap();
    let page = Served::with(folder.path(), Some("webbing and twine"));
    let Some(ip) = outside() else { return };
    let at = SocketAddr::new(ip, page.address.port());
    let held: Vec<TcpStream> = (0..64).map(|_| TcpStream::connect(at).unwrap()).collect();
    std::thread::sleep(std::time::Duration::from_millis(200));
    let refused = send(at, "GET", "/trust", &[], &[]);
    assert!(refused.is_err(), "{:?}", refused.map(|a| a.code));
    assert_eq!(send(page.address, "GET", "/trust", &[], &[]).unwrap().code, 200);
    drop(held);
    std::thread::sleep(std::time::Duration::from_millis(200));
    assert_eq!(send(at, "GET", "/trust", &[], &[]).unwrap().code, 200);
}

#[test]
fn sessions_end_with_the_pass_phrase() {
    let folder = tempfile::tempdir().unwrap();
    let enter = |page: &Served, phrase: &str| {
        let visitor = Visitor::new(page.address);
        let answer = visitor.post("/enter", &[("phrase", phrase)]);
        assert_eq!(answer.code, 303);
        answer.header("set-cookie").and_then(|c| c.split(';').next()).unwrap().to_string()
    };
    let inside = |page: &Served, cookie: &str| {
        send(page.address, "GET", "/", &[("Cookie", cookie)], &[]).unwrap().code == 200
    };
    let page = Served::with(folder.path(), Some("webbing and twine"));
    let cookie = enter(&page, "webbing and twine");
    assert!(inside(&page, &cookie));
    page.kill();
    let page = Served::with(folder.path(), Some("webbing and twine"));
    assert!(inside(&page, &cookie), "the same phrase: still in");
    page.kill();
    let page = Served::with(folder.path(), Some("horsehair and tacks"));
    assert!(!inside(&page, &cookie), "another phrase: out");
}
