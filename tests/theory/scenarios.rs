//! Queueing theory against the whole program: the queues of `plantday verify`, and Little's law as an identity.

mod little;

use crate::agree::all_agree;
use plantday::Watch;
use plantday::studies::verify::{Family, VerifyQuestion, verify};

/// Sources and expected values stand with each check of the list.
#[test]
fn queues_as_scenarios_agree_with_theory() {
    let question = VerifyQuestion {
        families: vec![Family::Queues],
        ..VerifyQuestion::default()
    };
    let found = verify(&question, Watch::default()).expect("nobody stops it");
    let random = found.checks.iter().filter(|check| check.is_random());
    assert!(random.count() >= 75);
    all_agree(&found.checks);
}
