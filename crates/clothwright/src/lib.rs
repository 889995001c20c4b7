//! Everything that touches the world: the command line, files, the contracts' own types.
//!
//! The core (`geometry`, `lay`, `trade`) computes; `documents` draws; this crate reads, writes,
//! tells the time and talks to the person.

pub mod cli;
pub mod drawing_in;
pub mod job_file;
pub mod outline;
pub mod pack;
pub mod plan_json;
pub mod serve;
pub mod strip_file;

/// The built-in example.
pub const DEMO: &str = include_str!("../demo/demo.toml");

/// One piece of every kind, for the survey sheets.
pub const KINDS: &str = include_str!("../demo/kinds.toml");
