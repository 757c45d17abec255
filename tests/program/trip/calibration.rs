//! What forks foretell comes true as often as they say.
//!
//! Reliability by bins and the partition of the Brier score into reliability, resolution and uncertainty: A. H. Murphy, "A new
//! vector partition of the probability score", Journal of Applied Meteorology 12 (1973); from memory.

use plantday::scenario;
use plantday::studies::trip::{TripQuestion, calibrate};
use plantday::units::Millis;
use std::path::Path;
use std::sync::atomic::AtomicBool;

/// Largest difference in standard deviations: over 40 bins and 4 sums a false alarm once in some fifty seeds, and more often
/// where a bin holds a handful of moments. So a failure is looked at with four times the moments, never with another seed.
const LARGEST: f64 = 3.5;

#[test]
fn what_is_foretold_comes_true_as_often() {
    let worst = worst_of(360);
    assert!(worst < LARGEST || worst_of(4 * 360) < LARGEST);
}

/// The largest difference of all bins and sums, in standard deviations, over so many moments.
fn worst_of(moments: u64) -> f64 {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/estuary_week.ron");
    let scenario = scenario::read(&path).expect("the demo is right");
    let question = TripQuestion {
        rule: scenario.todays_rule(),
        at: Millis::ZERO,
        replication: 0,
        state: None,
        trials: 60,
        probability: 0.9,
        seed: 5,
        threads: None,
        level: 0.95,
    };
    let found = calibrate(
        &scenario,
        &question,
        moments,
        &|_| {},
        &AtomicBool::new(false),
    )
    .expect("there are moments");
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
