//! What forks foretell comes true as often as they say.
//!
//! Reliability by bins and the partition of the Brier score into reliability, resolution and uncertainty: A. H. Murphy, "A new
//! vector partition of the probability score", Journal of Applied Meteorology 12 (1973); from memory.

use plantday::scenario;
use plantday::studies::trip::{TripQuestion, calibrate};
use plantday::units::Millis;
use std::path::Path;
use std::sync::atomic::AtomicBool;

/// Largest difference in standard deviations: over 40 bins and 4 sums a false alarm once in some fifty seeds.
const LARGEST: f64 = 3.5;

#[test]
fn what_is_foretold_comes_true_as_often() {
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
    let found = calibrate(&scenario, &question, 360, &|_| {}, &AtomicBool::new(false))
        .expect("there are moments");
    assert!(found.moments > 330, "{}", found.moments);
    for of in &found.reliabilities {
        println!(
            "{}: z {:+.2}, Brier {:.4} = {:.4} − {:.4} + {:.4}",
            of.what, of.z, of.brier, of.reliability, of.resolution, of.uncertainty
        );
        assert!(of.z.abs() < LARGEST, "{}: off by {} sd", of.what, of.z);
        for bin in &of.bins {
            println!(
                "  foretold {:.3}, came {} of {}, {:+.2} sd",
                bin.foretold,
                bin.came,
                bin.of,
                bin.z()
            );
            // A bin in which next to nothing can come otherwise has no normal law; it counts in the sum.
            if bin.sd >= 1.0 {
                assert!(bin.z().abs() < LARGEST, "{}: {bin:?}", of.what);
            }
        }
        // It is not that nothing is foretold: the bins lie apart.
        assert!(of.resolution > 0.3 * of.uncertainty, "{}", of.what);
    }
}
