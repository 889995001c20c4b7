//! Where the page listens. On the workroom's network everything is encrypted: what comes in clear text is
//! told how to trust the workroom and gets nothing else.

use super::authority::Authority;
use axum::serve::Listener;
use std::collections::BTreeMap;
use std::future::Future;
use std::io;
use std::net::{IpAddr, SocketAddr};
use std::pin::Pin;
use std::sync::{Arc, Mutex, PoisonError};
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

/// Connections open at once from one address of the network; a browser opens six.
const MOST_FROM_ONE: usize = 64;

/// Connections open at once by address. This computer itself is not counted: its owner always gets in.
#[derive(Clone, Default)]
struct Open(Arc<Mutex<BTreeMap<IpAddr, usize>>>);

impl Open {
    /// One more from an address; `None` if it has enough.
    fn one_more(&self, from: IpAddr) -> Option<Turn> {
        if from.is_loopback() {
            return Some(Turn { of: self.clone(), from: None });
        }
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        let count = all.entry(from).or_default();
        if *count >= MOST_FROM_ONE {
            return None;
        }
        *count += 1;
        Some(Turn { of: self.clone(), from: Some(from) })
    }
}

/// A connection that is counted until it is dropped.
struct Turn {
    of: Open,
    from: Option<IpAddr>,
}

impl Drop for Turn {
    fn drop(&mut self) {
        let Some(from) = self.from else { return };
        let mut all = self.of.0.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = all.get_mut(&from) {
            *count -= 1;
            if *count == 0 {
                all.remove(&from);
            }
        }
    }
}

/// A line on which nothing has come or gone for so long is closed; progress is told more often than that.
const IDLE: Duration = Duration::from_secs(120);

/// A connection, encrypted or not.
pub struct Line {
    stream: Stream,
    _turn: Turn,
    idle: Pin<Box<tokio::time::Sleep>>,
}

impl Line {
    fn new(stream: Stream, turn: Turn) -> Self {
        Self { stream, _turn: turn, idle: Box::pin(tokio::time::sleep(IDLE)) }
    }

    /// Something came or went.
    fn stir(&mut self) {
        self.idle.as_mut().reset(tokio::time::Instant::now() + IDLE);
    }
}

enum Stream {
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
        let line = self.get_mut();
        let read = match &mut line.stream {
            Stream::Clear(stream) => Pin::new(stream).poll_read(cx, to),
            Stream::Private(stream) => Pin::new(stream).poll_read(cx, to),
        };
        if read.is_ready() {
            line.stir();
            return read;
        }
        match line.idle.as_mut().poll(cx) {
            Poll::Ready(()) => Poll::Ready(Err(io::ErrorKind::TimedOut.into())),
            Poll::Pending => Poll::Pending,
        }
    }
}

impl AsyncWrite for Line {
    fn poll_write(
        self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        from: &[u8],
    ) -> Poll<io::Result<usize>> {
        let line = self.get_mut();
        let written = match &mut line.stream {
            Stream::Clear(stream) => Pin::new(stream).poll_write(cx, from),
            Stream::Private(stream) => Pin::new(stream).poll_write(cx, from),
        };
        if written.is_ready() {
            line.stir();
        }
        written
    }

    fn poll_flush(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        match &mut self.get_mut().stream {
            Stream::Clear(line) => Pin::new(line).poll_flush(cx),
            Stream::Private(line) => Pin::new(line).poll_flush(cx),
        }
    }

    fn poll_shutdown(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        match &mut self.get_mut().stream {
            Stream::Clear(line) => Pin::new(line).poll_shutdown(cx),
            Stream::Private(line) => Pin::new(line).poll_shutdown(cx),
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
            let open = Open::default();
            loop {
                let Ok((stream, from)) = listener.accept().await else {
                    // Too many open at once: some will close.
                    tokio::time::sleep(Duration::from_millis(50)).await;
                    continue;
                };
                // An answer leaves at once, small as its last part may be.
                let _ = stream.set_nodelay(true);
                let Some(counted) = open.one_more(from.ip()) else { continue };
                let Ok(turn) = turns.clone().acquire_owned().await else { return };
                let (to, authority) = (to.clone(), authority.clone());
                tokio::spawn(async move {
                    let greeted = greet(stream, from, authority);
                    if let Ok(Some((stream, peer))) = tokio::time::timeout(PATIENCE, greeted).await
                    {
                        let _ = to.send((Line::new(stream, counted), peer)).await;
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
) -> Option<(Stream, Peer)> {
    let at = stream.local_addr().ok()?.ip();
    let mut peer = Peer { from, at, is_private: from.ip().is_loopback() };
    let Some(authority) = authority else { return Some((Stream::Clear(stream), peer)) };
    let mut first = [0];
    if stream.peek(&mut first).await.ok()? == 0 {
        return None;
    }
    if first[0] != HANDSHAKE {
        return Some((Stream::Clear(stream), peer));
    }
    let given = authority.at(at).ok()?;
    let line = TlsAcceptor::from(given).accept(stream).await.ok()?;
    peer.is_private = true;
    Some((Stream::Private(Box::new(line)), peer))
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
