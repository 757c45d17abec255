//! Age limits: what is told of the tables, and how a limit is judged.

use plantday::concrete::{AgeLimit, AgeTable, AgeVerdict};
use plantday::units::Millis;

#[test]
fn names_and_sources_are_apart() {
    for (at, table) in AgeTable::ALL.iter().enumerate() {
        assert!(!table.source().is_empty());
        let others = AgeTable::ALL.iter().skip(at + 1);
        assert!(others.clone().all(|other| other.name() != table.name()));
    }
}

/// ASTM C94: the purchaser may waive the limit if the concrete can be placed without added water.
#[test]
fn a_limit_is_judged_and_waived() {
    let minutes = |n| Millis::MINUTE * n;
    let mut limit = AgeLimit::USUAL;
    assert_eq!(limit.judge(minutes(90), 900.0, true), AgeVerdict::Within);
    assert_eq!(
        limit.judge(minutes(90) + Millis(1), 0.0, true),
        AgeVerdict::TooOld
    );
    limit.revolutions = Some(300.0);
    assert_eq!(limit.judge(minutes(80), 300.0, true), AgeVerdict::Within);
    assert_eq!(
        limit.judge(minutes(80), 301.0, true),
        AgeVerdict::TooManyRevolutions
    );
    limit.waived = true;
    assert_eq!(limit.judge(minutes(120), 0.0, true), AgeVerdict::Waived);
    assert_eq!(limit.judge(minutes(120), 0.0, false), AgeVerdict::TooOld);
    assert_eq!(limit.judge(minutes(80), 0.0, false), AgeVerdict::Within);
}
