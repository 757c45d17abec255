//! Days worked out on paper: timetables, shifts, decisions of rules, lateness, money, roads.

#[path = "../support/agree.rs"]
mod agree;
#[path = "../support/changed.rs"]
mod changed;
#[path = "../support/day.rs"]
mod day;

mod age;
mod broken_down;
mod changes;
mod clocks_on_paper;
mod decisions;
mod drawn_orders;
mod haulers;
mod held_up;
mod ledger;
mod minutes_by_hour;
mod money;
mod pay;
mod plants;
mod roads;
mod run_home;
mod taken;
mod three_days;
mod timetables;
mod told;
mod week_on_paper;
