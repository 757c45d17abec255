//! Age limits: what is told of the tables, and how a limit is judged.

use plantday::concrete::{AgeLimit, AgeTable, AgeVerdict, Conditions};
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

/// A drum that does not turn has no turns to be counted: California DOT, section 90-6, has the cap beside agitation alone.
#[test]
fn a_drum_that_stands_is_not_capped() {
    let most = |agitating| {
        let limit = AgeTable::Retarder120.limit(&Conditions {
            air_f: 70.0,
            concrete_f: 70.0,
            retarder: false,
            agitating,
        });
        limit.revolutions
    };
    assert_eq!(most(true), Some(250.0));
    assert_eq!(most(false), None);
}
