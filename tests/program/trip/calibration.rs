//! What forks foretell comes true as often as they say.
//!
//! Reliability by bins and the partition of the Brier score into reliability, resolution and uncertainty: A. H. Murphy, "A new
//! vector partition of the probability score", Journal of Applied Meteorology 12 (1973); from memory.

use plantday::report::trip::TripAnswer;
use plantday::scenario::{self, Scenario};
use plantday::studies::trip::{TripQuestion, calibrate};
use std::num::NonZeroUsize;
use std::path::Path;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

/// Largest difference in standard deviations: over 40 bins and 4 sums a false alarm once in some fifty seeds, and more often
/// where a bin holds a handful of moments. So a failure is looked at with four times the moments, never with another seed.
const LARGEST: f64 = 3.5;

#[test]
fn what_is_foretold_comes_true_as_often() {
    let worst = worst_of(360);
    assert!(worst < LARGEST || worst_of(4 * 360) < LARGEST);
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
        calibrate(&scenario, &question, 5000, &progress, &stop).expect("no fault")
    };
    let found = stopped_after(3).expect("there is something to ask about");
    assert!(found.stopped && found.moments < 5000);
    assert!(TripAnswer::Calibration(found).stopped());
    assert!(stopped_after(0).is_none());
}

/// The largest difference of all bins and sums, in standard deviations, over so many moments.
fn worst_of(moments: u64) -> f64 {
    let scenario = week();
    let question = question(&scenario);
    let found = calibrate(
        &scenario,
        &question,
        moments,
        &|_| {},
        &AtomicBool::new(false),
    )
    .expect("there is something to ask about")
    .expect("nobody stops it");
    assert!(found.moments > moments * 11 / 12, "{}", found.moments);
    let mut worst = 0.0_f64;
    for of in &found.reliabilities {
        println!(
            "{}: z {:+.2}, Brier {:.4} = {:.4} − {:.4} + {:.4}",
            of.what, of.z, of.brier, of.reliability, of.resolution, of.uncertainty
        );
        worst = worst.max(of.z.abs());
        for bin in &of.bins {
            println!(
                "  foretold {:.3}, came {} of {}, {:+.2} sd",
                bin.foretold,
                bin.came,
                bin.of,
                bin.z()
            );
            worst = worst.max(bin.z().abs());
        }
        // It is not that nothing is foretold: the bins lie apart.
        assert!(of.resolution > 0.3 * of.uncertainty, "{}", of.what);
    }
    worst
}

fn week() -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/estuary_week.ron");
    scenario::read(&path).expect("the demo is right")
}

fn question(scenario: &Scenario) -> TripQuestion {
    TripQuestion {
        rule: scenario.todays_rule(),
        trials: 60,
        seed: 5,
        ..TripQuestion::default()
    }
}
