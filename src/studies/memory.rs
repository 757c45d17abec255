//! About how much memory a run takes, told from the size of what is asked.
//!
//! Measured, on books of 1,200 to 80,000 loads and on 1,000 to 60,000 replications, with all files of `compare`: within a third of what the
//! system counted. Most of it is the page of the worst replication, which holds all that every truck did.

use crate::montecarlo::KEPT_IN_MEMORY;
use crate::observe::columns;
use crate::scenario::Scenario;

const PROGRAM: f64 = 65e6;
const A_LOAD: f64 = 20e3;
const AN_ORDER: f64 = 10e3;
const A_FIGURE: f64 = 4.0;
/// All values of one figure, while it is summed up: as they are, sorted, and those that they are compared with.
const A_ROW: f64 = 32.0;

/// Bytes, about, of a run with its report; `rows` are the replications whose figures are kept, of each rule.
pub fn memory(scenario: &Scenario, rows: u64) -> f64 {
    let loads = scenario.loads();
    let figures = A_FIGURE * rows as f64 * columns(scenario).len() as f64;
    let figures = figures.min(KEPT_IN_MEMORY as f64);
    PROGRAM
        + A_LOAD * loads
        + AN_ORDER * scenario.orders.len() as f64
        + figures
        + A_ROW * rows as f64
}
