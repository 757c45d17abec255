//! Concrete against published figures and open data, alone and in the drum of a simulated truck.

#[path = "../support/agree.rs"]
mod agree;
#[path = "../support/changed.rs"]
mod changed;
#[path = "../support/day.rs"]
mod day;

mod drum;
mod material;
mod returned_concrete;
