//! Exceptions that a log claims: which claims hold, and which exceptions that nobody claimed may cover a violation. Days by hand from
//! 49 CFR 395.1(o) and 395.1(b)(1); as they are read and told, they are in `command/exceptions.rs`.

use super::cases::minutes;
use plantday::hours::review::violations;
use plantday::hours::{
    Claim, Claims, DutyLog, DutyStatus, Entry, Exception, Refused, RuleSet, built_in, use_claims,
};
use plantday::units::Millis;

const FIVE: i64 = 300;
const DAY: i64 = 1440;

fn book(name: &str) -> RuleSet {
    built_in(name).expect("a name")
}

/// Statuses with their ends, one after the other, from 05:00 of the first day on, after a long rest.
fn log(stretches: &[(DutyStatus, i64)]) -> DutyLog {
    let mut from = FIVE;
    let entries = stretches.iter().map(|(status, to)| {
        let entry = Entry {
            status: *status,
            from: minutes(from),
            to: minutes(*to),
        };
        from = *to;
        entry
    });
    DutyLog {
        entries: entries.collect(),
        rested_since: minutes(FIVE) - Millis::HOUR * 200,
        ..DutyLog::default()
    }
}

/// On duty from 05:00, on the road until 09:00, on the road home for the last 50 minutes, released 30 minutes after that. All in
/// minutes since that midnight.
fn tour(midnight: i64, home: i64) -> Vec<(DutyStatus, i64)> {
    vec![
        (DutyStatus::OnDuty, midnight + 360),
        (DutyStatus::Driving, midnight + 540),
        (DutyStatus::OnDuty, midnight + home - 50),
        (DutyStatus::Driving, midnight + home),
        (DutyStatus::OnDuty, midnight + home + 30),
    ]
}

/// Home at 20:00, 15 hours after the report.
const LATE: i64 = 1200;

fn claim(what: Exception, from: i64) -> Claim {
    Claim {
        what,
        from: minutes(from),
    }
}

const LONG: Exception = Exception::LongDay;

fn judge(
    mut log: DutyLog,
    rules: &RuleSet,
    claims: &[Claim],
    used_before: Option<i64>,
) -> (Claims, DutyLog) {
    let found = use_claims(&mut log, rules, claims, used_before);
    (found, log)
}

/// What became of each claim, in order of time.
fn verdicts(found: &Claims) -> Vec<Option<Refused>> {
    found.judged.iter().map(|judged| judged.refused).collect()
}

#[test]
fn a_claim_belongs_to_the_tour_that_it_is_made_in() {
    let rules = book("us_property_2020");
    let released = LATE + 30;
    for (from, refused) in [
        (FIVE - 1, Some(Refused::NoTour)),
        (FIVE, None),
        (released - 1, None),
        (released, Some(Refused::NoTour)),
    ] {
        let claims = [claim(LONG, from)];
        let (found, log) = judge(log(&tour(0, LATE)), &rules, &claims, None);
        assert_eq!(verdicts(&found), [refused], "from minute {from}");
        assert_eq!(log.allowances.len(), usize::from(refused.is_none()));
        if refused.is_none() {
            // It holds from the report on, wherever in the tour it is written down.
            assert_eq!(log.allowances[0].0, minutes(FIVE));
            assert!(log.allowances[0].1.long_day && log.allowances[0].1.adverse.is_none());
            assert!(violations(&log, &rules).is_empty());
        } else {
            assert!(!violations(&log, &rules).is_empty());
        }
    }
}

#[test]
fn a_long_day_ends_with_its_sixteenth_hour() {
    let rules = book("us_property_2020");
    for (home, refused) in [(1230, None), (1231, Some(Refused::ReleasedLate))] {
        let (found, _) = judge(log(&tour(0, home)), &rules, &[claim(LONG, FIVE)], None);
        assert_eq!(verdicts(&found), [refused]);
        // Nobody is told to claim what does not hold.
        let (found, plain) = judge(log(&tour(0, home)), &rules, &[], None);
        let violations = violations(&plain, &rules);
        assert_eq!(
            found.may_cover(LONG, &rules, &violations),
            refused.is_none()
        );
    }
}

#[test]
fn a_long_day_comes_once_in_seven_days_or_after_a_restart() {
    let rules = book("us_property_2020");
    let used_on = |day| {
        let (found, _) = judge(log(&tour(0, LATE)), &rules, &[claim(LONG, FIVE)], Some(day));
        verdicts(&found)[0]
    };
    // The rest before the log began after such a use if that lies two hundred hours back, and is a restart.
    assert_eq!(used_on(-9), None);
    let mut rested = log(&tour(0, LATE));
    rested.rested_since = minutes(FIVE) - Millis::HOUR * 12;
    let after = |day| {
        let (found, _) = judge(rested.clone(), &rules, &[claim(LONG, FIVE)], Some(day));
        verdicts(&found)[0]
    };
    assert_eq!(after(-6), Some(Refused::UsedOn(-6)));
    assert_eq!(after(-1), Some(Refused::UsedOn(-1)));
    assert_eq!(after(-7), None);

    // The first long day, a night of ten hours, the second.
    let two = |nights: i64, home: i64| {
        let mut both = tour(0, home);
        let next = DAY * nights;
        both.push((DutyStatus::OffDuty, next + FIVE));
        both.extend(tour(next, LATE));
        let claims = [claim(LONG, next + FIVE), claim(LONG, FIVE)];
        let (found, log) = judge(log(&both), &rules, &claims, None);
        (verdicts(&found), log.allowances.len())
    };
    let refused = Some(Refused::UsedOn(0));
    // 32 h 30 min off; with two more the weekly hours begin anew.
    assert_eq!(two(2, LATE), (vec![None, refused], 1));
    assert_eq!(two(3, LATE), (vec![None, None], 2));
    // Home before the fourteenth hour: claimed, and not used.
    assert_eq!(two(2, 1140), (vec![None, None], 2));
    assert_eq!(two(2, 1141), (vec![None, refused], 1));
}

#[test]
fn a_book_without_the_exception_refuses_it() {
    for (name, what, refused) in [
        ("us_property_2020", LONG, None),
        ("us_property_2020", Exception::Adverse, None),
        ("ca_federal_south60", LONG, Some(Refused::NotInBook)),
        ("us_intrastate_tx", LONG, Some(Refused::NotInBook)),
        (
            "us_intrastate_tx",
            Exception::Adverse,
            Some(Refused::NotInBook),
        ),
    ] {
        let rules = book(name);
        let (found, log) = judge(log(&tour(0, LATE)), &rules, &[claim(what, FIVE)], None);
        assert_eq!(verdicts(&found), [refused], "{name}: {what:?}");
        assert_eq!(log.allowances.len(), usize::from(refused.is_none()));
    }
}

#[test]
fn adverse_conditions_hold_from_the_claim_on_and_keep_the_long_day() {
    let rules = book("us_property_2020");
    let claims = [claim(Exception::Adverse, 1150), claim(LONG, 400)];
    let (found, both) = judge(log(&tour(0, LATE)), &rules, &claims, None);
    assert_eq!(verdicts(&found), [None, None]);
    assert_eq!(found.judged[0].claim, claims[1], "in order of time");
    let [(first, long), (second, adverse)] = both.allowances[..] else {
        panic!("{:?}", both.allowances);
    };
    assert_eq!((first, second), (minutes(FIVE), minutes(1150)));
    assert!(long.long_day && long.adverse.is_none());
    assert!(adverse.long_day && adverse.adverse.is_some());
    assert!(violations(&both, &rules).is_empty());
    // Claimed, it is not offered again.
    let plain = log(&tour(0, LATE));
    let beyond = violations(&plain, &rules);
    assert!(!found.may_cover(Exception::Adverse, &rules, &beyond));
    assert!(!found.may_cover(LONG, &rules, &beyond));
}

/// Two more hours of the window, so until the sixteenth hour after the report.
#[test]
fn what_nobody_claimed_may_cover_two_hours_of_the_window() {
    let rules = book("us_property_2020");
    for (home, covered) in [(LATE, true), (FIVE + 960, true), (FIVE + 961, false)] {
        let (found, plain) = judge(log(&tour(0, home)), &rules, &[], None);
        let beyond = violations(&plain, &rules);
        assert_eq!(
            found.may_cover(Exception::Adverse, &rules, &beyond),
            covered,
            "home at minute {home}"
        );
    }
    // Home within fourteen hours: there is nothing to cover.
    let (found, plain) = judge(log(&tour(0, 1140)), &rules, &[], None);
    let none = violations(&plain, &rules);
    assert!(none.is_empty());
    for what in Exception::ALL {
        assert!(!found.may_cover(what, &rules, &none));
    }
    // The book of 2013 gave two hours of driving alone.
    let (found, plain) = judge(log(&tour(0, LATE)), &book("us_property_2013"), &[], None);
    let beyond = violations(&plain, &book("us_property_2013"));
    assert!(!found.may_cover(Exception::Adverse, &book("us_property_2013"), &beyond));
}

/// Eleven hours of driving, and two more: all that is driven beyond them in a tour counts, of no other tour.
#[test]
fn what_nobody_claimed_may_cover_two_hours_of_driving() {
    let rules = book("us_property_2020");
    let long_drive = |midnight: i64, beyond: i64| {
        vec![
            (DutyStatus::Driving, midnight + 300 + 420),
            (DutyStatus::OffDuty, midnight + 300 + 450),
            // Eleven hours are driven at 300 + 690.
            (DutyStatus::Driving, midnight + 300 + 690 + 20),
            (DutyStatus::OnDuty, midnight + 300 + 690 + 30),
            (DutyStatus::Driving, midnight + 300 + 690 + 10 + beyond),
        ]
    };
    for (beyond, covered) in [(60, true), (120, true), (121, false)] {
        let (found, plain) = judge(log(&long_drive(0, beyond)), &rules, &[], None);
        let driven = violations(&plain, &rules);
        assert_eq!(driven.len(), 2, "{driven:?}");
        assert_eq!(
            found.may_cover(Exception::Adverse, &rules, &driven),
            covered,
            "{beyond} min"
        );
        assert!(!found.may_cover(LONG, &rules, &driven));
    }
    let mut two = long_drive(0, 121);
    two.push((DutyStatus::OffDuty, DAY + 300));
    two.extend(long_drive(DAY, 120));
    let (found, plain) = judge(log(&two), &rules, &[], None);
    let driven = violations(&plain, &rules);
    assert_eq!(driven.len(), 4, "{driven:?}");
    assert!(found.may_cover(Exception::Adverse, &rules, &driven));
    assert!(!found.may_cover(Exception::Adverse, &rules, &driven[..2]));
}
