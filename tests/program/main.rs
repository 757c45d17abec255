//! The program as its users run it: commands, bad input, answers, the built-in week.

#[path = "../support/changed.rs"]
mod changed;

mod against;
mod assumed;
mod bad_input;
mod bay_queues;
mod best;
mod causes;
mod charts;
mod completions;
mod counterfactuals;
mod demo;
mod fleet;
mod gamer;
mod habits;
mod help;
mod holds;
mod made_from;
mod man_pages;
mod newcomers;
mod out_folder;
mod own_worlds;
mod replay;
mod runner_up;
mod same_bytes;
mod scenario_reader;
mod seldom;
mod sources;
mod staff;
mod starter;
mod tables;
mod tickets;
mod trip;
mod tune;
mod whom;
mod workbook;
