//! What forks foretell comes true as often as they say.
//!
//! Reliability by bins and the partition of the Brier score into reliability, resolution and uncertainty: A. H. Murphy, "A new
//! vector partition of the probability score", Journal of Applied Meteorology 12 (1973); from memory.

use crate::changed::changed;
use plantday::Watch;
use plantday::report::trip::TripAnswer;
use plantday::scenario::edit::Input;
use plantday::scenario::{self, Scenario};
use plantday::studies::trip::{
    Calibration, Known, PASSED, STUCK, TripQuestion, calibrate, calibrate_desk,
};
use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

/// Largest difference in standard deviations: over some 120 bins and 12 sums a false alarm once in some twenty seeds, and more often
/// where a bin holds a handful of moments. So a failure is looked at with four times the moments, never with another seed.
const LARGEST: f64 = 3.5;

/// From the simulated moment, and from what a file holds of it, the rest drawn: no more certain than that allows, and so as right.
#[test]
fn what_is_foretold_comes_true_as_often() {
    let worst = worst_of(200);
    assert!(worst < LARGEST || worst_of(4 * 200) < LARGEST);
}

/// A desk that takes every trip for half of what it lasts promises too much: on site in time, fresh enough, and a driver
/// who is not stranded. It is found out, and the one that knows the traffic beside it is not.
#[test]
fn a_forecast_that_knows_nothing_of_the_traffic_is_found_out() {
    let scenario = week();
    let free = Input::Traffic.set(&scenario, 0.5).expect("it can be set");
    let found = calibrated(&scenario, &free, 100);
    let z = |known, what| {
        let mut all = found.reliabilities.iter();
        let of = all.find(|of| (of.known, of.what) == (known, what));
        of.expect("it is foretold").z
    };
    let fresh = "discharged within its age";
    assert!(
        z(Known::Written, fresh) < -LARGEST,
        "{}",
        z(Known::Written, fresh)
    );
    assert!(
        z(Known::Written, STUCK) > LARGEST,
        "{}",
        z(Known::Written, STUCK)
    );
    for what in [fresh, STUCK] {
        assert!(z(Known::Simulated, what).abs() < LARGEST, "{what}");
    }
}

/// Ctrl-C after three moments: what is there is told as unfinished. Before the first: nothing is told.
#[test]
fn a_calibration_that_is_stopped_says_so() {
    let scenario = week();
    let mut question = question(&scenario);
    (question.trials, question.threads) = (2, NonZeroUsize::new(1));
    let stopped_after = |most: u64| {
        let stop = AtomicBool::new(most == 0);
        let finished = AtomicU64::new(0);
        let progress = |_| {
            if finished.fetch_add(1, Ordering::SeqCst) + 1 >= most {
                stop.store(true, Ordering::SeqCst);
            }
        };
        calibrate(&scenario, &question, 5000, Watch::new(&progress, &stop)).expect("no fault")
    };
    let found = stopped_after(3).expect("there is something to ask about");
    assert!(found.stopped && found.moments < 5000);
    assert!(TripAnswer::Calibration(found).stopped());
    assert!(stopped_after(0).is_none());
}

/// The largest difference of all bins and sums, in standard deviations, over so many moments.
fn worst_of(moments: u64) -> f64 {
    let scenario = week();
    let found = calibrated(&scenario, &scenario, moments);
    assert!(found.moments > moments * 11 / 12, "{}", found.moments);
    assert!(
        found.near_a_limit > moments * 3 / 4,
        "{}",
        found.near_a_limit
    );
    let mut worst = 0.0_f64;
    for of in &found.reliabilities {
        // A file says nothing of loads that are promised and have not begun to load: with one the order's next load is another.
        assert!(of.of > moments / 2, "{}: {}", of.what, of.of);
        println!(
            "{}, {:?}: of {}, z {:+.2}, Brier {:.4} = {:.4} − {:.4} + {:.4}",
            of.what, of.known, of.of, of.z, of.brier, of.reliability, of.resolution, of.uncertainty
        );
        worst = worst.max(of.z.abs());
        for bin in &of.bins {
            println!(
                "  {:?}: foretold {:.4}, came {} of {}, {:+.2} sd",
                bin.ends, bin.foretold, bin.came, bin.of, bin.z
            );
            worst = worst.max(bin.z.abs());
        }
        // It is not that nothing is foretold: the bins lie apart. A limit is hardly ever passed.
        let lies_apart = of.resolution > 0.3 * of.uncertainty;
        assert!(lies_apart || of.what == PASSED, "{}", of.what);
        if (of.what, of.known) == (STUCK, Known::Simulated) {
            let filled = |low: f64| {
                of.bins
                    .iter()
                    .find(|bin| bin.ends.0 == low)
                    .map_or(0, |bin| bin.of)
            };
            assert!(filled(0.0) > moments / 20 && filled(0.999) > moments / 50);
        }
    }
    worst
}

fn calibrated(scenario: &Scenario, desk: &Scenario, moments: u64) -> Calibration {
    let found = calibrate_desk(
        scenario,
        desk,
        &question(scenario),
        moments,
        Watch::default(),
    );
    let found = found.expect("there is something to ask about");
    found.expect("nobody stops it")
}

/// The built-in week with a window of 11 hours, in which many come near the limit.
fn week() -> Scenario {
    let text = changed(
        include_str!("../../../scenarios/estuary_week.ron"),
        &[(
            "\"us_property_2020\"",
            "DutyWindow(hours: 11, rest_hours: 10)",
        )],
    );
    scenario::parse("week", &text).expect("the demo is right")
}

fn question(scenario: &Scenario) -> TripQuestion {
    TripQuestion {
        rule: scenario.todays_rule(),
        trials: 60,
        seed: 5,
        ..TripQuestion::default()
    }
}
