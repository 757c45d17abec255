//! An open queue: a stream of single loads, and so many trucks that none ever waits for one.

use super::fleet::{Fleet, agree};

/// M/M/1 at ρ = ½: L = 1, Lq = ½ and Wq = one service time (in every textbook of queueing; formula).
#[test]
fn a_stream_of_loads_is_an_open_queue() {
    let fleet = Fleet {
        trucks: 60, // more than 60 present: once in 2^60
        bays: 1,
        loading: "Exponential(1)",
        rack: None,
        road: (0.0, 0.0),
        luck: "Constant(1)",
        sites: &[("Constant(0)", 1)],
        days: 28,
    };
    let text = fleet.text().replace(
        "(name: \"E\", to: Drawn,",
        "(name: \"E\", arrivals: Exponential(2),",
    );
    let expected = [
        ("P bays: throughput_per_h", 1.0, 30.0),
        ("P bays: mean_present", 1.0, 1.0),
        ("P bays: mean_waiting", 1.0, 0.5),
        ("P bays: mean_wait_min", 1.0, 1.0),
        ("P bays: busy_share", 1.0, 0.5),
    ];
    agree("M/M/1", &text, 250, &expected);
}
