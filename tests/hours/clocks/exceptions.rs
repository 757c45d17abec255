//! Exceptions, and rule books as files. Sources beside each check.

use plantday::hours::{Adverse, Date, DelayCause, NAMES, RuleSet, TourRecord, built_in};

use super::cases::minutes;
use plantday::units::Millis;

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

/// In force: 85 FR 33396 (compliance from 29 September 2020); 76 FR 81134 (from 1 July 2013); section 133 of Public Law 113-235, which
/// suspended the restart with two nights from 16 December 2014; 81 FR 47714 (from 22 July 2016); the numbers of the register from memory.
/// The others: no date is told.
#[test]
fn a_rule_book_knows_its_dates() {
    let day = |year, month, day| Some(Date::new(year, month, day));
    for (name, first, last) in [
        ("us_property_2005", None, day(2013, 6, 30)),
        ("us_property_2013", day(2013, 7, 1), day(2020, 9, 28)),
        (
            "us_property_2013_strict",
            day(2013, 7, 1),
            day(2014, 12, 15),
        ),
        ("us_property_2020", day(2020, 9, 29), None),
        ("us_short_haul_2016", day(2016, 7, 22), day(2020, 9, 28)),
        ("us_short_haul_2020", day(2020, 9, 29), None),
        ("us_intrastate_ca", None, None),
        ("us_intrastate_tx", None, None),
        ("ca_federal_south60", None, None),
    ] {
        let rules = built_in(name).expect("a name");
        assert_eq!((rules.valid_from, rules.valid_to), (first, last), "{name}");
        for date in first.into_iter().chain(last) {
            assert!(rules.in_force_on(date), "{name}");
        }
        assert_eq!(
            rules.in_force_on(Date::new(1999, 1, 1)),
            first.is_none(),
            "{name}"
        );
        assert_eq!(
            rules.in_force_on(Date::new(2040, 1, 1)),
            last.is_none(),
            "{name}"
        );
    }
}

/// Weekly hours and what adverse conditions add: 49 CFR 395.3(b) and 395.1(b)(1) (the window since 2020 alone, 85 FR 33396); 13 CCR
/// 1212.5(a)(4) and 1212(b); 37 TAC 4.12(a); SOR/2005-313 s. 26 and 28(1)(a), cycle 1.
#[test]
fn a_rule_book_knows_its_weekly_hours_and_bad_weather() {
    let two = Some((2, 0));
    for (name, cycle, restart, adverse) in [
        ("us_property_2005", (60, 7), 34, two),
        ("us_property_2013", (60, 7), 34, two),
        ("us_property_2013_strict", (60, 7), 34, two),
        ("us_property_2020", (60, 7), 34, Some((2, 2))),
        ("us_short_haul_2016", (60, 7), 34, two),
        ("us_short_haul_2020", (60, 7), 34, Some((2, 2))),
        ("us_intrastate_ca", (80, 8), 34, two),
        ("us_intrastate_tx", (70, 7), 34, None),
        ("ca_federal_south60", (70, 7), 36, None),
    ] {
        let rules = built_in(name).expect("a name");
        let hours = |hours| Millis::HOUR * hours;
        let used = rules.cycle.as_ref().expect("weekly hours");
        assert_eq!((used.limit, used.days), (hours(cycle.0), cycle.1), "{name}");
        assert_eq!(used.restart.length, hours(restart), "{name}");
        assert_eq!(rules.cycles.first(), rules.cycle.as_ref(), "{name}");
        let more = rules
            .adverse
            .as_ref()
            .map(|more| (more.driving, more.window));
        assert_eq!(
            more,
            adverse.map(|(drive, window)| (hours(drive), hours(window))),
            "{name}"
        );
        assert!(!rules.about.is_empty(), "{name}");
    }
    let left_out = |name: &str| !built_in(name).expect("a name").left_out.is_empty();
    assert!(left_out("us_intrastate_ca") && left_out("ca_federal_south60"));
    assert!(!left_out("us_property_2020"));
    let strict = built_in("us_property_2013_strict").expect("a name");
    let restart = &strict.cycle.expect("weekly hours").restart;
    assert_eq!(
        (restart.nights, restart.since_last_began),
        (2, Millis::HOUR * 168)
    );
}
