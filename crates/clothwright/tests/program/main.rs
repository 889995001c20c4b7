//! The program held against the outside: worked scenarios, its contracts, bad input, random jobs.

mod checker;
mod contract;
mod faults;
mod pages;
mod random_jobs;
mod scenarios;
mod strips;
