//! The concrete in the drum through the whole program: days on paper, what a yard's practice changes, why sites reject.

mod age;
mod charging;
use crate::day;
mod desk;
mod guide;
mod on_paper;
mod reader;
mod rejections;
mod report;
mod weather;
mod weights;
