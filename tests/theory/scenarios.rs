//! Queueing theory against the whole program: textbook queues written as ordinary scenario files, read, run by `compare`,
//! and judged by the figures that it writes.
//!
//! The world is switched down: no legal clock, rosters of the whole period, plants always open, loads made on demand, first
//! come first served, every stage a spread of its own. Every expected value is exact (a formula or the product form);
//! where a textbook prints it, that source is named, "from memory" where the book was not at hand; the others are computed
//! by the formula named. Numbers Q26 … are only labels of the list.
//! `SHOW_AGREEMENT=1 cargo test --test theory scenarios:: -- --nocapture` prints every comparison.

mod fleet;
mod fleet_on_paper;
mod little;
mod networks;
mod repair;
mod stream;
