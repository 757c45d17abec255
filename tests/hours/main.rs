//! Drivers' clocks against the regulations: worked cases, the command, rule books as they are read.

#[path = "../support/agree.rs"]
mod agree;

mod clocks;
mod command;
mod people_reader;
