//! Properties of random worlds, the rooms of the house, memory.

mod desk;
mod every_figure;
mod habits;
mod invariants;
mod memory;
mod random_scenario;
mod rooms;
mod rules_written;
mod shortcuts;
