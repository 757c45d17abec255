//! Properties of random worlds, readers under attack, the rooms of the house, memory.

mod all_rules;
mod attack;
mod desk;
mod every_field;
mod every_figure;
mod given_up;
mod habits;
mod invariants;
mod memory;
mod no_use;
mod plant_days;
mod random_scenario;
mod rooms;
mod rules_written;
mod shortcuts;
mod wide_scenario;
