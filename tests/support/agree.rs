//! Checks of the program's own list that must all agree, and could disagree.

use plantday::studies::verify::{Check, Expected, Found};

/// Fails with every check that does not agree, and with every one that would agree with another expected value as well.
#[track_caller]
pub(crate) fn all_agree(checks: &[Check]) {
    assert!(!checks.is_empty());
    let wrong: Vec<String> = checks
        .iter()
        .filter(|check| !check.agrees() || broken(check).agrees())
        .map(|check| format!("{check:?}"))
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The same check with another expected value, just outside of what still agrees.
pub(crate) fn broken(check: &Check) -> Check {
    let expected = match (&check.expected, &check.found) {
        (Expected::Number { within, .. }, Found::Number(found)) => Expected::Number {
            value: found + 1.01 * (within + 1e-9 * found.abs().max(1e-9)),
            within: *within,
        },
        (Expected::Number { within, .. }, Found::Mean(found)) => Expected::Number {
            value: found.interval.high + 0.01 * found.interval.half_width(),
            within: *within,
        },
        (Expected::Between { low, high }, Found::Number(found)) => Expected::Between {
            low: found + 1e-9 * (high - low),
            high: found + (high - low),
        },
        (Expected::Words(words), _) => Expected::Words(format!("not {words}")),
        other => panic!("{other:?}"),
    };
    Check {
        expected,
        ..check.clone()
    }
}
