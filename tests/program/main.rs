//! The program as its users run it: commands, bad input, answers, the built-in week.

#[path = "../support/changed.rs"]
mod changed;

mod against;
mod assumed;
mod bad_input;
mod best;
mod causes;
mod charts;
mod counterfactuals;
mod demo;
mod fleet;
mod gamer;
mod habits;
mod help;
mod holds;
mod own_worlds;
mod replay;
mod runner_up;
mod same_bytes;
mod scenario_reader;
mod seldom;
mod sources;
mod staff;
mod starter;
mod trip;
mod tune;
mod whom;
mod workbook;
