//! One station, unlimited room, long runs.

use super::{agree, exponential, figure, single};
use crate::queue_network::{Network, Source, Station};
use plantday::engine::Spread;

/// M/M/1 and M/M/c (Erlang C). Waits of lightly loaded queues (below a tenth of the service time) would need far more
/// runs; there time in the system, utilisation and the share that waits are compared.
#[test]
fn markov_queues() {
    let markov = |rate, mu: f64, servers| {
        single(rate, Station::new(servers, exponential(1.0 / mu)), 1.0 / mu)
    };
    // Anderson, Sweeney, Williams et al., An Introduction to Management Science, ch. 11 (from memory)
    let mut q01 = markov(0.75, 1.0, 1);
    q01.crowd = 3;
    agree(
        "Q01 M/M/1",
        38,
        &q01,
        &[
            ("L", 3.0),
            ("Lq", 2.25),
            ("W", 4.0),
            ("Wq", 3.0),
            ("P0", 0.25),
            ("Pwait", 0.75),
            ("P(N>crowd)", 0.316_406_25),
        ],
    );
    // Bronson (1982), example 23.3
    agree(
        "Q02 M/M/1",
        28,
        &markov(24.0, 30.0, 1),
        &[("L", 4.0), ("W", 1.0 / 6.0), ("P0", 0.2), ("Pwait", 0.8)],
    );
    // Hillier and Lieberman, Introduction to Operations Research, emergency room (from memory)
    let mut q03 = markov(2.0, 3.0, 1);
    q03.long_wait = 1.0;
    agree(
        "Q03 M/M/1",
        24,
        &q03,
        &[
            ("L", 2.0),
            ("Lq", 4.0 / 3.0),
            ("W", 1.0),
            ("Wq", 2.0 / 3.0),
            ("P0", 1.0 / 3.0),
            ("P(Wq>long)", 0.245_252_961),
        ],
    );
    agree(
        "Q04 M/M/2",
        22,
        &markov(2.0, 3.0, 2),
        &[
            ("L", 0.75),
            ("W", 0.375),
            ("P0", 0.5),
            ("Pwait", 1.0 / 6.0),
            ("Lq", 1.0 / 12.0),
        ],
    );
    // Weigh-station exercise with printed solution (operations management): W = 0.078 h, both busy 0.5765
    agree(
        "Q05 M/M/2",
        12,
        &markov(35.0, 25.0, 2),
        &[
            ("L", 2.745_098_04),
            ("W", 0.078_431_372_5),
            ("P0", 0.176_470_588),
            ("Pwait", 0.576_470_588),
        ],
    );
    // Test suite of the Octave "queueing" package: W = 1.053, 0.212 with four servers
    agree(
        "Q06 M/M/2",
        80,
        &markov(9.0, 5.0, 2),
        &[
            ("L", 9.473_684_21),
            ("W", 1.052_631_58),
            ("U", 0.9),
            ("P0", 0.052_631_578_9),
        ],
    );
    agree(
        "Q07 M/M/4",
        12,
        &markov(9.0, 5.0, 4),
        &[
            ("L", 1.905_163_89),
            ("W", 0.211_684_877),
            ("P0", 0.161_622_098),
            ("Pwait", 0.128_533_647),
        ],
    );
    // Trueman, An Introduction to Quantitative Methods for Decision Making (1977), table 12.2: Wq = 2.16
    agree(
        "Q08 M/M/3",
        26,
        &markov(1.2, 0.5, 3),
        &[
            ("L", 4.988_764_04),
            ("W", 4.157_303_37),
            ("Wq", 2.157_303_37),
            ("P0", 0.056_179_775_3),
            ("Pwait", 0.647_191_011),
        ],
    );
    // Bronson (1982), example 24.6
    agree(
        "Q09 M/M/3",
        12,
        &markov(300.0 / 365.0, 0.5, 3),
        &[
            ("L", 1.996_261_53),
            ("W", 2.428_784_86),
            ("P0", 0.177_537_033),
            ("Pwait", 0.290_751_38),
        ],
    );
    // Anderson, Sweeney, Williams et al., ch. 11 (from memory)
    agree(
        "Q10 M/M/2",
        12,
        &markov(0.75, 1.0, 2),
        &[
            ("L", 0.872_727_273),
            ("W", 1.163_636_36),
            ("P0", 0.454_545_455),
            ("Pwait", 0.204_545_455),
        ],
    );
    // Render, Stair, Hanna, Quantitative Analysis for Management, example 14.3
    agree(
        "Q11 M/M/2",
        12,
        &markov(20.0, 30.0, 2),
        &[
            ("L", 0.75),
            ("W", 0.0375),
            ("P0", 0.5),
            ("Pwait", 1.0 / 6.0),
        ],
    );
}

/// M/G/1 (Pollaczek–Khinchine) and M/D/2 (Crommelin).
#[test]
fn general_service() {
    let queue = |rate, spread: Spread| {
        let mean = spread.mean();
        single(rate, Station::new(1, spread), mean)
    };
    // Anderson, Sweeney, Williams et al., ch. 11: service of mean 2 and standard deviation 1.2 (from memory)
    let gamma = Spread::Gamma { mean: 2.0, cv: 0.6 };
    agree(
        "Q12 M/G/1",
        12,
        &queue(0.35, gamma),
        &[
            ("L", 1.810_666_67),
            ("Lq", 1.110_666_67),
            ("W", 5.173_333_33),
            ("Wq", 3.173_333_33),
            ("P0", 0.3),
        ],
    );
    // Render, Stair, Hanna: trucks at a compactor, constant service (from memory)
    agree(
        "Q13 M/D/1",
        12,
        &queue(2.0 / 15.0, Spread::Constant(5.0)),
        &[
            ("L", 4.0 / 3.0),
            ("Lq", 2.0 / 3.0),
            ("W", 10.0),
            ("Wq", 5.0),
        ],
    );
    // Kelton, Sadowski, Zupick, Simulation with Arena, exercise 2-7 and its variants
    let uniform = Spread::Uniform {
        low: 0.1,
        high: 1.9,
    };
    agree(
        "Q14 M/U/1",
        32,
        &queue(0.8, uniform),
        &[("L", 2.832), ("Lq", 2.032), ("W", 3.54), ("Wq", 2.54)],
    );
    let triangular = Spread::Triangular {
        low: 0.1,
        mode: 1.0,
        high: 1.9,
    };
    agree(
        "Q15 M/Tri/1",
        28,
        &queue(0.8, triangular),
        &[("L", 2.616), ("Lq", 1.816), ("W", 3.27), ("Wq", 2.27)],
    );
    // Computed by formula (Pollaczek–Khinchine)
    let lognormal = Spread::Lognormal { mean: 9.0, cv: 0.5 };
    agree(
        "Q16 M/LN/1",
        18,
        &queue(1.0 / 12.0, lognormal),
        &[
            ("L", 2.156_25),
            ("Lq", 1.406_25),
            ("W", 25.875),
            ("Wq", 16.875),
        ],
    );
    let erlang2 = Spread::Gamma {
        mean: 8.0,
        cv: 0.5_f64.sqrt(),
    };
    agree(
        "Q17 M/E2/1",
        38,
        &queue(0.1, erlang2),
        &[("L", 3.2), ("Lq", 2.4), ("W", 32.0), ("Wq", 24.0)],
    );
    // Hillier and Lieberman, queueing exercise: arrivals 0.2, mean service 4, standard deviation 4 to 0 (answers by formula)
    for (sd, waiting, replications) in [
        (4.0, 3.2, 46),
        (3.0, 2.5, 36),
        (2.0, 2.0, 32),
        (1.0, 1.7, 26),
        (0.0, 1.6, 20),
    ] {
        let gamma = Spread::Gamma {
            mean: 4.0,
            cv: sd / 4.0,
        };
        let expected = [("Lq", waiting), ("L", waiting + 0.8), ("Wq", waiting / 0.2)];
        agree(
            &format!("Q18 M/G/1, sd {sd}"),
            replications,
            &queue(0.2, gamma),
            &expected,
        );
    }
    // Computed numerically (Crommelin's embedding, 400 states)
    let q19 = single(1.6, Station::new(2, Spread::Constant(1.0)), 1.0);
    agree(
        "Q19 M/D/2",
        12,
        &q19,
        &[
            ("L", 3.045_254_21),
            ("Lq", 1.445_254_21),
            ("W", 1.903_283_88),
            ("Wq", 0.903_283_879),
        ],
    );
}

/// GI/M/1 (root of σ = A*(μ(1 − σ))) and Kingman's approximation.
#[test]
fn general_arrivals() {
    let queue = |gap: Spread, service: Spread| {
        Network::new(
            vec![Station::new(1, service)],
            vec![Source::renewal(gap, 0)],
            8.0,
        )
    };
    let q45 = queue(Spread::Constant(10.0), exponential(8.0));
    agree(
        "Q45 D/M/1",
        38,
        &q45,
        &[
            ("L", 2.154_184_67),
            ("Lq", 1.354_184_67),
            ("W", 21.541_846_7),
            ("Wq", 13.541_846_7),
            ("Pwait", 0.628_629_796),
        ],
    );
    let erlang2 = Spread::Gamma {
        mean: 10.0,
        cv: 0.5_f64.sqrt(),
    };
    agree(
        "Q46 E2/M/1",
        42,
        &queue(erlang2, exponential(8.0)),
        &[
            ("L", 3.075_183_81),
            ("Lq", 2.275_183_81),
            ("W", 30.751_838_1),
            ("Wq", 22.751_838_1),
            ("Pwait", 0.739_852_949),
        ],
    );
    // Kingman (1961) in the VUT form of Hopp and Spearman gives 8 and is only an approximation from above: within 20 %.
    let spread = |mean| Spread::Gamma { mean, cv: 0.5 };
    let q47 = queue(spread(10.0), spread(8.0));
    let wait = q47.pair(0, |seen| vec![figure(seen, 0, "Wq")])[0];
    assert!(wait < 8.0 && wait > 0.8 * 8.0, "Q47: {wait}");
}
