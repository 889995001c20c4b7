//! The page, as a server that is talked to and as a browser shows it.

#![allow(clippy::unwrap_used, clippy::panic)] // In tests a failure may say so.

mod books;
mod browser;
mod by_hand;
mod http;
mod outline;
mod served;
mod server;
mod share;
mod walks;
