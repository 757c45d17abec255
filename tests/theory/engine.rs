//! Queues run on the engine alone (calendar, addressed draws, samplers) against queueing theory.
//!
//! Every expected value is exact: a formula or a numerical solution of the model's equations. Where a textbook or a
//! published test suite prints it, that source is named ("from memory" where the book was not at hand); the others are
//! computed by the formula named. Numbers Q01 … are only labels of this list. Every run checks Little's law as an
//! identity. `SHOW_AGREEMENT=1 cargo test --test theory engine:: -- --nocapture` prints every comparison.

use crate::agreement;
use crate::queue_network;

mod blocking;
mod losses;
mod networks;
mod priorities;
mod single_queues;
mod trace;
mod transients;

use agreement::Check;
use plantday::engine::Spread;
use queue_network::{Network, Seen, Source, Station};

pub(crate) const SEED: u64 = 20_261_125;

fn exponential(mean: f64) -> Spread {
    Spread::Exponential { mean }
}

/// Poisson arrivals of rate `rate` at one station.
fn single(rate: f64, station: Station, service: f64) -> Network {
    Network::new(vec![station], vec![Source::poisson(rate, 0)], service)
}

/// A figure of one station by its usual symbol.
fn figure(seen: &Seen, station: usize, symbol: &str) -> f64 {
    let station = &seen.stations[station];
    match symbol {
        "L" => station.mean_present,
        "Lq" => station.mean_waiting,
        "W" => station.mean_stay,
        "Wq" => station.mean_wait,
        "P0" => station.empty,
        "U" => station.utilisation,
        "X" => station.throughput,
        "Pwait" => station.waited,
        "Plost" => station.lost,
        "P(N>crowd)" => station.crowded,
        "P(Wq>long)" => station.waited_long,
        other => panic!("no figure {other}"),
    }
}

/// Compares figures of the only station.
fn agree(name: &str, replications: u64, network: &Network, expected: &[(&str, f64)]) {
    let pick = |seen: &Seen| {
        expected
            .iter()
            .map(|&(symbol, _)| figure(seen, 0, symbol))
            .collect()
    };
    Check::new(name, replications, expected).run(|replication| network.pair(replication, pick));
}
