//! Every kind of interval that an answer prints, on models whose truth is known: the share of 400 seeds in which it holds the truth.
//!
//! `SHOW_AGREEMENT=1 cargo test --release --test theory kinds -- --nocapture` prints the shares, which stand in DEVELOPERS.md. The difference of
//! several rules at once is held in the file above, luck and assumptions apart in `two_way`.

use plantday::Watch;
use plantday::engine::{Entity, Luck, Sampler, Spread};
use plantday::scenario::parse;
use plantday::scenario::past_tickets::{PastTickets, Stamp, Ticket};
use plantday::statistics::{
    Contrast, Estimate, Interval, Statement, Summary, mcb_intervals, quantile_interval,
    share_at_most, wilson,
};
use plantday::studies::tickets::{Leg, Part, TicketsQuestion, fit_tickets};
use plantday::studies::verify::queues::Fleet;
use plantday::studies::{Question, compare};
use plantday::units::measure::here;
use plantday::units::{Millis, Purpose};
use rand::{Rng, RngExt};
use std::num::NonZeroUsize;

const SEEDS: u64 = 400;
const LEVEL: f64 = 0.95;
/// Replications behind an interval, as a hurried user makes them.
const RUNS: usize = 30;

fn draws(seed: u64) -> impl Rng {
    Luck::new(seed, 0).stream(Purpose::Calibration, Entity::named("coverage"), 0)
}

fn values(sampler: &Sampler, count: usize, draws: &mut impl Rng) -> Vec<f64> {
    let one = |_| sampler.at(draws.random_range(1e-12..1.0));
    (0..count).map(one).collect()
}

/// The share of seeds in which all of what is said at once holds; what is not said in a seed is left out.
fn share(name: &str, least: f64, holds: impl Fn(u64) -> Option<bool>) {
    let said: Vec<bool> = (1..=SEEDS).filter_map(holds).collect();
    let held = said.iter().filter(|held| **held).count();
    let share = held as f64 / said.len() as f64;
    if std::env::var_os("SHOW_AGREEMENT").is_some() {
        println!("{name:58} {share:.3} of {}", said.len());
    }
    assert!(said.len() as u64 > SEEDS / 2, "{name}: rarely said");
    assert!(share >= least, "{name}: {share} of {}", said.len());
}

/// What a share of 0.95 falls below in one of 2,000 samples of 400 (binomial: 0.95 − 3.3 × 0.0109).
const LEAST: f64 = 0.914;

fn lognormal() -> Sampler {
    // Skewed as days are; its mean is 1, its median 1 ÷ √(1 + cv²).
    Spread::Lognormal { mean: 1.0, cv: 0.8 }.sampler()
}

/// Truth: the spread's mean, its median, its 95th percentile exp(−s²/2 + 1.644854 s) with s² = ln(1 + cv²) (the lognormal distribution, any
/// handbook).
#[test]
fn a_mean_a_median_and_a_high_percentile() {
    let spread = lognormal();
    share("mean of a skewed figure, 30 runs", 0.90, |seed| {
        let seen = values(&spread, RUNS, &mut draws(seed));
        let Statement::Mean { interval, .. } = Statement::of(&seen, LEVEL) else {
            panic!("every run has some");
        };
        Some(interval.contains(1.0))
    });
    let s = 1.64_f64.ln().sqrt();
    for (name, p, truth) in [
        ("median, 200 runs", 0.5, (-s * s / 2.0).exp()),
        (
            "95th percentile, 200 runs",
            0.95,
            (-s * s / 2.0 + 1.644_853_63 * s).exp(),
        ),
    ] {
        share(name, LEAST, |seed| {
            let mut seen = values(&spread, 200, &mut draws(seed));
            seen.sort_by(f64::total_cmp);
            quantile_interval(&seen, p, LEVEL).map(|interval| interval.contains(truth))
        });
    }
}

/// Truth: the chance by which the runs are drawn.
#[test]
fn a_chance_and_its_bounds() {
    for (name, chance) in [
        ("chance of any, 1 in 12", 1.0 / 12.0),
        ("chance of any, 1 in 100", 0.01),
    ] {
        share(name, LEAST, |seed| {
            let mut draws = draws(seed);
            let seen: Vec<f64> = (0..RUNS)
                .map(|_| f64::from(u8::from(draws.random_range(0.0..1.0) < chance)))
                .collect();
            match Statement::of(&seen, LEVEL) {
                Statement::Chance { interval, .. } => Some(interval.contains(chance)),
                _ => None,
            }
        });
    }
    let events = |seed: u64, chance: f64, of: u64| {
        let mut draws = draws(seed);
        let came = (0..of).filter(|_| draws.random_range(0.0..1.0) < chance);
        came.count() as u64
    };
    share(
        "score interval of a forecast's share, 60 looks",
        LEAST,
        |seed| Some(wilson(events(seed, 0.3, 60), 60, LEVEL).contains(0.3)),
    );
    share(
        "\"at most\" of a share, one-sided, 60 runs",
        LEAST,
        |seed| Some(share_at_most(events(seed, 0.1, 60), 60, LEVEL) >= 0.1),
    );
    let spread = Spread::Gamma { mean: 1.0, cv: 0.3 }.sampler();
    share("\"at most\" of a mean, one-sided, 30 runs", LEAST, |seed| {
        let seen = values(&spread, RUNS, &mut draws(seed));
        Some(Summary::of(seen).at_most(LEVEL) >= 1.0)
    });
}

/// Three rules on the same days: a day's luck that they share, and luck of their own. Truth: the differences that are put in, and chances that
/// are.
#[test]
fn differences_of_the_same_days() {
    let (day, own) = (lognormal(), Spread::Gamma { mean: 1.0, cv: 0.5 }.sampler());
    let means = [0.0, 0.1, 0.3, 0.6];
    let systems = |seed: u64, runs: usize| -> Vec<Vec<f64>> {
        let mut draws = draws(seed);
        let days = values(&day, runs, &mut draws);
        let system = |mean: f64, draws: &mut _| {
            let lucks = values(&own, runs, draws);
            days.iter()
                .zip(lucks)
                .map(|(day, luck)| day + mean + luck)
                .collect()
        };
        means.iter().map(|mean| system(*mean, &mut draws)).collect()
    };
    share("three paired differences at once, 30 runs", LEAST, |seed| {
        let systems = systems(seed, RUNS);
        let one = |at: usize| match Contrast::simultaneous(&systems[at], &systems[0], LEVEL, 3) {
            Contrast::Mean { interval, .. } => interval.contains(means[at]),
            said => panic!("{said:?}"),
        };
        Some((1..4).all(one))
    });
    share(
        "against the best other, all four at once, 30 runs",
        LEAST,
        |seed| {
            let systems = systems(seed, RUNS);
            let pairs = |a: usize, b: usize| match Contrast::simultaneous(
                &systems[a],
                &systems[b],
                LEVEL,
                6,
            ) {
                Contrast::Mean { interval, .. } => interval,
                said => panic!("{said:?}"),
            };
            // The least is the best: 0.1 ahead of the next; each other behind the best.
            let truth = [-0.1, 0.1, 0.3, 0.6];
            let mut said = mcb_intervals(4, pairs).into_iter().zip(truth);
            Some(said.all(|(said, truth): (Interval, f64)| said.contains(truth)))
        },
    );
    share("difference of two seldom chances, 60 runs", LEAST, |seed| {
        let mut draws = draws(seed);
        let mut chances = |chance: f64| -> Vec<f64> {
            let any = |_| f64::from(u8::from(draws.random_range(0.0..1.0) < chance));
            (0..60).map(any).collect()
        };
        let (often, seldom) = (chances(0.06), chances(0.02));
        match Contrast::of(&often, &seldom, LEVEL) {
            Contrast::Chance { interval, .. } => Some(interval.contains(0.04)),
            _ => None,
        }
    });
}

/// Whole scenarios: two queues and a delay with two customers, X = 2/3, .4 at the bay, .9333 at the site (the queues of `plantday verify`).
#[test]
fn figures_of_whole_scenarios() {
    let fleet = Fleet {
        trucks: 2,
        bays: 1,
        loading: "Exponential(0.5)",
        rack: None,
        road: (1.0, 0.0),
        luck: "Exponential(1)",
        sites: &[("Exponential(1)", 1)],
        days: 1,
    };
    let scenario = parse("test", &fleet.text()).unwrap_or_else(|faults| panic!("{faults}"));
    let truths = [
        ("P bays: throughput_per_h", 40.0),
        ("P bays: mean_present", 0.4),
        ("E at Site 1: mean_present", 14.0 / 15.0),
    ];
    share(
        "three figures of a queue at once, 8 runs of a day",
        LEAST,
        |seed| {
            let question = Question {
                rules: vec![0],
                replications: 8,
                seed,
                threads: Some(NonZeroUsize::MIN),
                ..Question::default()
            };
            let found = compare(&scenario, &question, Watch::default());
            let found = found.expect("nobody stops it");
            let each = 1.0 - (1.0 - LEVEL) / 3.0;
            Some(truths.iter().all(|(key, truth)| {
                let at = found.columns.iter().position(|column| column.key == *key);
                let seen: Vec<f64> = found.rows.values(0, at.expect(key)).collect();
                Estimate::of_values(&seen, each).interval.contains(*truth)
            }))
        },
    );
}

/// Forty tickets of a stage whose minutes are drawn by a known spread. Truth: its mean and its coefficient of variation, where the family that
/// is found has them as parameters.
#[test]
fn what_past_tickets_tell() {
    let spread = Spread::Gamma { mean: 6.0, cv: 0.4 }.sampler();
    let fitted = |seed: u64| {
        let ticket = |(number, minutes): (usize, f64)| {
            let mut times = [None; 8];
            let loaded = Millis::midnight(number as i64) + Millis::HOUR * 8;
            times[Stamp::Loaded as usize] = Some(loaded);
            times[Stamp::LeftPlant as usize] = Some(loaded + Millis::from_minutes(minutes));
            Ticket {
                plant: Some("P".into()),
                times,
                ..Ticket::default()
            }
        };
        let minutes = values(&spread, 40, &mut draws(seed)).into_iter();
        let tickets = PastTickets {
            file: "t.csv".into(),
            first_date: None,
            days_told: true,
            tickets: minutes.enumerate().map(ticket).collect(),
            ignored: Vec::new(),
            whole_minutes: false,
            measures: here(),
        };
        let fits = fit_tickets(&tickets, &TicketsQuestion::default());
        let mut legs = fits.legs.into_iter();
        legs.find(|leg| leg.leg == Leg::Yard)
            .and_then(|leg| leg.found)
    };
    let all: Vec<_> = (1..=SEEDS).map(fitted).collect();
    let holds = |seed: u64, part: &'static str, truth: f64| {
        let parameters = all[seed as usize - 1].as_ref()?.parameters.iter();
        let mut of = parameters.filter(|one| one.part == Part::Spread(part));
        of.next().map(|one| one.interval(LEVEL).contains(truth))
    };
    share("mean of a stage by 40 tickets", 0.90, |seed| {
        holds(seed, "mean", 6.0)
    });
    share("its coefficient of variation", 0.88, |seed| {
        holds(seed, "cv", 0.4)
    });
}
