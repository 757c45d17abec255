//! The concrete in the drum through the whole program: days on paper, what a yard's practice changes, why sites reject.

#[path = "drum/age.rs"]
mod age;
#[path = "support/changed.rs"]
mod changed;
#[path = "drum/charging.rs"]
mod charging;
#[path = "support/day.rs"]
mod day;
#[path = "drum/desk.rs"]
mod desk;
#[path = "drum/on_paper.rs"]
mod on_paper;
#[path = "drum/reader.rs"]
mod reader;
#[path = "drum/readme.rs"]
mod readme;
#[path = "drum/rejections.rs"]
mod rejections;
#[path = "drum/report.rs"]
mod report;
#[path = "drum/weights.rs"]
mod weights;
