//! Priorities without interruption: Cobham's formula.

use super::exponential;
use crate::agreement::Check;
use crate::queue_network::{Network, Source, Station};
use plantday::engine::Spread;

fn agree(name: &str, replications: u64, network: &Network, expected: &[(&str, f64)]) {
    Check::new(name, replications, expected).run(|replication| {
        network.pair(replication, |seen| {
            seen.stations[0].mean_wait_by_class.clone()
        })
    });
}

#[test]
fn urgent_customers_go_first() {
    // Hillier and Lieberman, Introduction to Operations Research, emergency room with priorities: 0.238, 0.325 (from
    // memory). The
    // first class is one customer in ten.
    let sources = (0..3).map(|class| Source::poisson([0.2, 0.6, 1.2][class], 0).class(class));
    let station = Station::new(1, exponential(1.0 / 3.0));
    let q51 = Network::new(vec![station], sources.collect(), 1.0 / 3.0);
    let expected = [
        ("Wq 1", 0.238_095_238),
        ("Wq 2", 0.324_675_325),
        ("Wq 3", 0.909_090_909),
    ];
    agree("Q51 three classes", 20, &q51, &expected);
    // Computed by formula (Cobham): constant 5 and lognormal 8 with cv 0.5
    let sources = (0..2).map(|class| Source::poisson([0.06, 0.05][class], 0).class(class));
    let mut station = Station::new(1, Spread::Constant(5.0));
    let lognormal = Spread::Lognormal { mean: 8.0, cv: 0.5 };
    station.service.push(lognormal.sampler());
    let q52 = Network::new(vec![station], sources.collect(), 6.0);
    let expected = [("Wq 1", 3.928_571_43), ("Wq 2", 13.095_238_1)];
    agree("Q52 two classes", 30, &q52, &expected);
}
