//! Several stations: customers who circulate for ever, and customers who come, wander and leave.

use super::{exponential, figure};
use crate::agreement::Check;
use crate::queue_network::{Network, Source, Station, UNLIMITED};

/// Compares figures named "symbol station", such as "L 2"; "W all" is the time in the network.
fn agree(name: &str, replications: u64, network: &Network, expected: &[(&str, f64)]) {
    let pick = |&(name, _): &(&str, f64), seen: &_| -> f64 { by_name(seen, name) };
    Check::new(name, replications, expected).run(|replication| {
        network.pair(replication, |seen| {
            expected.iter().map(|entry| pick(entry, seen)).collect()
        })
    });
}

fn by_name(seen: &crate::queue_network::Seen, name: &str) -> f64 {
    match name.split_once(' ').expect("symbol and station") {
        ("W", "all") => seen.time_in_network,
        ("L", "all") => seen
            .stations
            .iter()
            .map(|station| station.mean_present)
            .sum(),
        (symbol, station) => figure(seen, station.parse().expect("a station"), symbol),
    }
}

/// `residents` who go from any station to station i with the share visits[i] ÷ all visits.
fn closed(residents: u32, visits: &[f64], stations: Vec<Station>, service: f64) -> Network {
    let all: f64 = visits.iter().sum();
    let routes: Vec<f64> = visits.iter().map(|visits| visits / all).collect();
    let stations = stations.into_iter().map(|station| station.routes(&routes));
    let mut network = Network::new(stations.collect(), Vec::new(), service);
    network.residents = residents;
    network
}

/// Product-form networks (Gordon and Newell); only the visit ratios matter, not the routes.
#[test]
fn residents_circulate() {
    let station = |servers, mean| Station::new(servers, exponential(mean));
    // Jain, The Art of Computer Systems Performance Analysis (1991), example 34.2: R = 0.373, 4.854, 0.300 and
    // Q = 1.991, 16.177, 0.500, as quoted in the test suite of the Octave "queueing" package. Station 0 is thinking.
    let stations = vec![
        station(UNLIMITED, 4.0),
        station(1, 0.125),
        station(1, 0.3),
        station(1, 0.2),
    ];
    let q36 = closed(20, &[1.0, 16.0, 10.0, 5.0], stations, 0.2);
    let expected = [
        ("X 0", 0.333_246_512),
        ("L 1", 1.990_623_28),
        ("L 2", 16.176_651_1),
        ("L 3", 0.499_739_544),
        ("W 1", 0.373_339_107),
        ("W 2", 4.854_259_69),
        ("W 3", 0.299_921_845),
    ];
    agree("Q36 closed", 14, &q36, &expected);
    // Bolch, Greiner, de Meer, Trivedi, Queueing Networks and Markov Chains (1998), example 8.3: X = 9.92,
    // U = 0.198, 0.794, 0.794, 0.595, Q = 0.244, 2.261, 2.261, 1.234 (same test suite)
    let stations = vec![
        station(1, 0.02),
        station(1, 0.2),
        station(1, 0.4),
        station(1, 0.6),
    ];
    let q37 = closed(6, &[1.0, 0.4, 0.2, 0.1], stations, 0.1);
    let expected = [
        ("X 0", 9.919_836_34),
        ("L 0", 0.243_615_259),
        ("L 1", 2.261_037_79),
        ("L 2", 2.261_037_79),
        ("L 3", 1.234_309_16),
        ("U 0", 0.198_396_727),
        ("U 1", 0.793_586_907),
        ("U 3", 0.595_190_18),
    ];
    agree("Q37 central server", 15, &q37, &expected);
    // The same book, example 8.1: X = 0.945, Q = 1.29, 1.05, 0.66
    let stations = vec![station(2, 1.25), station(3, 1.0 / 0.6), station(1, 2.5)];
    let q39 = closed(3, &[1.0, 0.667, 0.2], stations, 1.5);
    let expected = [
        ("X 0", 0.944_418_984),
        ("L 0", 1.289_810_29),
        ("L 1", 1.049_879_1),
        ("L 2", 0.660_310_606),
    ];
    agree("Q39 many servers", 10, &q39, &expected);
}

/// Open networks (Jackson).
#[test]
fn customers_wander() {
    let station =
        |servers, mean, routes: &[f64]| Station::new(servers, exponential(mean)).routes(routes);
    // Lazowska, Zahorjan, Graham, Sevcik, Quantitative System Performance (1984), p. 113: U1 = 0.182, X1 = 36.3,
    // Q1 = 0.222 (same test suite). There a customer
    // makes 121, 70 and 50 visits; here arrivals are 25 times as frequent and visits 25 times fewer, because the load of
    // a station is all that counts and rare customers with many visits would need 25 times the runs.
    let shares = [121.0 / 241.0, 70.0 / 241.0, 50.0 / 241.0];
    let routes = shares.map(|share| share * (1.0 - 25.0 / 241.0));
    let stations = [0.005, 0.03, 0.027].map(|mean| station(1, mean, &routes));
    let sources = (0..3).map(|place| Source::poisson(25.0 * 0.3 * shares[place], place));
    let q48 = Network::new(stations.to_vec(), sources.collect(), 0.02);
    let expected = [
        ("U 0", 0.1815),
        ("U 1", 0.63),
        ("U 2", 0.405),
        ("X 0", 36.3),
        ("L 0", 0.221_747_098),
        ("L 1", 1.702_702_7),
        ("L 2", 0.680_672_269),
    ];
    agree("Q48 open", 58, &q48, &expected);
    // Hillier and Lieberman, Introduction to Operations Research, Jackson network (from memory)
    let stations = vec![
        station(1, 0.1, &[0.0, 0.6, 0.3]),
        station(2, 0.1, &[0.1, 0.0, 0.3]),
        station(1, 0.1, &[0.4, 0.4, 0.0]),
    ];
    let sources = (0..3).map(|place| Source::poisson([1.0, 4.0, 3.0][place], place));
    let q49 = Network::new(stations, sources.collect(), 0.1);
    let expected = [
        ("X 0", 5.0),
        ("X 1", 10.0),
        ("X 2", 7.5),
        ("L 0", 1.0),
        ("L 1", 4.0 / 3.0),
        ("L 2", 3.0),
        ("L all", 16.0 / 3.0),
        ("W all", 2.0 / 3.0),
    ];
    agree("Q49 Jackson", 48, &q49, &expected);
    // Ross, Introduction to Probability Models, exercise on queueing networks: L = 82/13, W = 41/195 (from memory)
    let stations = vec![
        station(1, 0.1, &[0.0, 1.0 / 3.0, 1.0 / 3.0]),
        station(1, 0.02, &[0.0, 0.0, 1.0]),
        station(1, 0.01, &[0.0, 0.5, 0.0]),
    ];
    let sources = (0..3).map(|place| Source::poisson([5.0, 10.0, 15.0][place], place));
    let q61 = Network::new(stations, sources.collect(), 0.02);
    let expected = [
        ("X 0", 5.0),
        ("X 1", 40.0),
        ("X 2", 170.0 / 3.0),
        ("L 1", 4.0),
        ("L 2", 17.0 / 13.0),
        ("L all", 82.0 / 13.0),
        ("W all", 41.0 / 195.0),
    ];
    agree("Q61 feedback", 66, &q61, &expected);
    // Burke (1956), Jackson (1957): both queues of a tandem are M/M/1
    let stations = vec![station(1, 6.0, &[0.0, 1.0]), station(1, 8.0, &[])];
    let q50 = Network::new(stations, vec![Source::poisson(0.1, 0)], 8.0);
    let expected = [("L 0", 1.5), ("L 1", 4.0), ("W all", 55.0)];
    agree("Q50 tandem", 24, &q50, &expected);
}
