//! Where the page listens. On the workroom's network everything is encrypted: what comes in clear text is
//! told how to trust the workroom and gets nothing else.

use super::authority::Authority;
use axum::serve::Listener;
use std::io;
use std::net::{IpAddr, SocketAddr};
use std::pin::Pin;
use std::sync::Arc;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::mpsc;
use tokio_rustls::TlsAcceptor;
use tokio_rustls::server::TlsStream;

/// Who came in, and how.
#[derive(Clone, Copy, Debug)]
pub struct Peer {
    /// Where from.
    pub from: SocketAddr,
    /// The address of this machine that was called.
    pub at: IpAddr,
    /// Nobody on the way can read it.
    pub is_private: bool,
}

/// Handshakes under way at once.
const MOST: usize = 256;

/// A handshake takes no longer.
const PATIENCE: Duration = Duration::from_secs(10);

/// First byte of a TLS handshake (RFC 8446, section 5.1).
const HANDSHAKE: u8 = 0x16;

/// A connection, encrypted or not.
pub enum Line {
    /// In clear text.
    Clear(TcpStream),
    /// Encrypted.
    Private(Box<TlsStream<TcpStream>>),
}

impl AsyncRead for Line {
    fn poll_read(
        self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        to: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        match self.get_mut() {
            Self::Clear(line) => Pin::new(line).poll_read(cx, to),
            Self::Private(line) => Pin::new(line).poll_read(cx, to),
        }
    }
}

impl AsyncWrite for Line {
    fn poll_write(
        self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        from: &[u8],
    ) -> Poll<io::Result<usize>> {
        match self.get_mut() {
            Self::Clear(line) => Pin::new(line).poll_write(cx, from),
            Self::Private(line) => Pin::new(line).poll_write(cx, from),
        }
    }

    fn poll_flush(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        match self.get_mut() {
            Self::Clear(line) => Pin::new(line).poll_flush(cx),
            Self::Private(line) => Pin::new(line).poll_flush(cx),
        }
    }

    fn poll_shutdown(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        match self.get_mut() {
            Self::Clear(line) => Pin::new(line).poll_shutdown(cx),
            Self::Private(line) => Pin::new(line).poll_shutdown(cx),
        }
    }
}

/// The listening end.
pub struct Door {
    local: SocketAddr,
    ready: mpsc::Receiver<(Line, Peer)>,
}

impl Door {
    /// Listens; with an authority, encrypted.
    ///
    /// # Errors
    /// What the system says.
    pub fn open(listener: TcpListener, authority: Option<Arc<Authority>>) -> io::Result<Self> {
        let local = listener.local_addr()?;
        let (to, ready) = mpsc::channel(MOST);
        tokio::spawn(async move {
            let turns = Arc::new(tokio::sync::Semaphore::new(MOST));
            loop {
                let Ok((stream, from)) = listener.accept().await else {
                    // Too many open at once: some will close.
                    tokio::time::sleep(Duration::from_millis(50)).await;
                    continue;
                };
                // An answer leaves at once, small as its last part may be.
                let _ = stream.set_nodelay(true);
                let Ok(turn) = turns.clone().acquire_owned().await else { return };
                let (to, authority) = (to.clone(), authority.clone());
                tokio::spawn(async move {
                    let greeted = greet(stream, from, authority);
                    if let Ok(Some(ready)) = tokio::time::timeout(PATIENCE, greeted).await {
                        let _ = to.send(ready).await;
                    }
                    drop(turn);
                });
            }
        });
        Ok(Self { local, ready })
    }
}

/// Finds out how someone comes in; `None` if they go again.
async fn greet(
    stream: TcpStream,
    from: SocketAddr,
    authority: Option<Arc<Authority>>,
) -> Option<(Line, Peer)> {
    let at = stream.local_addr().ok()?.ip();
    let mut peer = Peer { from, at, is_private: from.ip().is_loopback() };
    let Some(authority) = authority else { return Some((Line::Clear(stream), peer)) };
    let mut first = [0];
    if stream.peek(&mut first).await.ok()? == 0 {
        return None;
    }
    if first[0] != HANDSHAKE {
        return Some((Line::Clear(stream), peer));
    }
    let given = authority.at(at).ok()?;
    let line = TlsAcceptor::from(given).accept(stream).await.ok()?;
    peer.is_private = true;
    Some((Line::Private(Box::new(line)), peer))
}

impl Listener for Door {
    type Io = Line;
    type Addr = Peer;

    async fn accept(&mut self) -> (Line, Peer) {
        match self.ready.recv().await {
            Some(ready) => ready,
            // Nobody listens any more: the program is ending.
            None => std::future::pending().await,
        }
    }

    fn local_addr(&self) -> io::Result<Peer> {
        Ok(Peer { from: self.local, at: self.local.ip(), is_private: true })
    }
}
