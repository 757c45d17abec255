//! The program as its users run it: commands, bad input, answers, the built-in week.

#[path = "../support/agree.rs"]
mod agree;
#[path = "../support/changed.rs"]
mod changed;
#[path = "../support/shelf.rs"]
mod shelf;

mod against;
mod assumed;
mod bad_input;
mod bay_queues;
mod best;
mod called;
mod causes;
mod charts;
mod completions;
mod counterfactuals;
mod demo;
mod examples;
mod fleet;
mod fleet_breakdown;
mod fleet_decides;
mod fleet_on_paper;
mod from_tables;
mod gamer;
mod habits;
mod help;
mod holds;
mod interrupted;
mod library;
mod made_from;
mod man_pages;
mod newcomers;
mod normal_week;
mod odd_tables;
mod out_folder;
mod own_worlds;
mod parts;
mod replay;
mod resumed;
mod runner_up;
mod same_bytes;
mod scenario_reader;
mod seldom;
mod sources;
mod staff;
mod staff_decides;
mod staff_people;
mod staff_year;
mod starter;
mod tables;
mod tickets;
mod tomorrow;
mod trip;
mod tune;
mod units;
mod verify;
mod whole_workbook;
mod whom;
mod workbook;
