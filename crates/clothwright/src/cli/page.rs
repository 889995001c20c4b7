//! The page from the command line.

use super::Failure;
use super::say::say;
use crate::serve::{Serve, run};
use std::io::Write;
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::Path;

/// A pass phrase shorter than this is guessed too soon.
const LEAST_LETTERS: usize = 10;

/// The pass phrase: from the environment, or asked for.
fn pass_phrase() -> Result<String, Failure> {
    let phrase = match std::env::var("CLOTHWRIGHT_PASS_PHRASE") {
        Ok(phrase) => phrase,
        Err(_) => {
            eprint!("pass phrase for the workroom (at least {LEAST_LETTERS} letters): ");
            let _ = std::io::stderr().flush();
            let mut line = String::new();
            std::io::stdin().read_line(&mut line).map_err(|e| Failure::Other(e.to_string()))?;
            line.trim_end_matches(['\n', '\r']).to_string()
        }
    };
    if phrase.chars().count() < LEAST_LETTERS {
        eprintln!(
            "error: the pass phrase has fewer than {LEAST_LETTERS} letters\n  = do: choose three or four words"
        );
        return Err(Failure::Input);
    }
    Ok(phrase)
}

pub(super) fn serve(addr: SocketAddr, data: &Path, share: bool) -> Result<(), Failure> {
    if !share && !addr.ip().is_loopback() {
        eprintln!(
            "error: {addr} is open to the network\n  = do: add --share, which asks for a pass phrase, or listen on 127.0.0.1"
        );
        return Err(Failure::Input);
    }
    let pass_phrase = share.then(pass_phrase).transpose()?;
    let everywhere = IpAddr::V4(Ipv4Addr::UNSPECIFIED);
    let address = if share && addr.ip().is_loopback() {
        SocketAddr::new(everywhere, addr.port())
    } else {
        addr
    };
    let serve = Serve { address, data, pass_phrase };
    run(&serve, |address| {
        say(&format!("open {address} in a browser; Ctrl-C ends the page"));
        let _ = std::io::stdout().flush();
    })
    .map_err(Failure::Other)
}
