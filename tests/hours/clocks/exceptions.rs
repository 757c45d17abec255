//! Exceptions, and rule books as files. Sources beside each check.

use plantday::hours::{Adverse, Date, DelayCause, NAMES, RuleSet, TourRecord, built_in};

use super::cases::minutes;

/// 49 CFR 395.1(b)(1) and FMCSA guidance to 395.1, questions 4 and 5: delays at loading or discharge are none.
#[test]
fn a_late_pour_is_never_adverse_conditions() {
    assert!(Adverse::claim(DelayCause::Weather, false, true).is_some());
    assert!(Adverse::claim(DelayCause::UnusualRoadOrTraffic, false, true).is_some());
    for cause in [
        DelayCause::LatePour,
        DelayCause::RushHour,
        DelayCause::OwnCrash,
    ] {
        assert!(Adverse::claim(cause, false, true).is_none(), "{cause:?}");
    }
    assert!(Adverse::claim(DelayCause::Weather, true, true).is_none());
    assert!(Adverse::claim(DelayCause::Weather, false, false).is_none());
}

/// 49 CFR 395.1(o); a long day without driving past the 14th hour is no use of it (case P29).
#[test]
fn a_long_day_counts_only_if_driven() {
    let mut record = TourRecord::SETTLED;
    record.released(true, None);
    assert!(record.may_use_long_day(10));
    record.released(true, Some(10));
    assert!(!record.may_use_long_day(16) && record.may_use_long_day(17));
}

/// No source: a rule book that is written out and read again is the same.
#[test]
fn every_rule_book_can_be_written_out_and_changed() {
    for name in NAMES {
        let rules = built_in(name).expect("a built-in name");
        assert_eq!(rules.name, name);
        let text = serde_json::to_string(&rules).expect("it can be written");
        let again: RuleSet = serde_json::from_str(&text).expect("it can be read");
        assert_eq!(again, rules);
        let changed = text.replace("\"day_start\":0.0", "\"day_start\":240.0");
        let changed: RuleSet = serde_json::from_str(&changed).expect("it can be read");
        assert_eq!(changed.carrier_day(minutes(200)), -1);
    }
    assert!(built_in("us_propertyy").is_none());
    assert!(serde_json::from_str::<RuleSet>("{}").is_err());
}

/// 85 FR 33396: in force from 29 September 2020.
#[test]
fn a_rule_book_knows_its_dates() {
    let (old, new) = (built_in("us_property_2013"), built_in("us_property_2020"));
    let (old, new) = (old.expect("a name"), new.expect("a name"));
    let (before, after) = (Date::new(2020, 9, 28), Date::new(2020, 9, 29));
    assert!(old.in_force_on(before) && !old.in_force_on(after));
    assert!(!new.in_force_on(before) && new.in_force_on(after));
}
