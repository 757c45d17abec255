//! What the clocks that are carried along tell beside what is left: pauses, exceptions in use, plans. Days by hand from the regulations.

use super::cases::minutes;
use plantday::hours::{Allowance, Clock, Clocks, DutyStatus, RuleSet, built_in};
use plantday::units::Millis;

fn book(name: &str) -> RuleSet {
    built_in(name).expect("a name")
}

/// Rested for ten hours at midnight.
fn rested(rules: &RuleSet) -> Clocks {
    Clocks::new(rules, Millis::ZERO, -minutes(600), [])
}

/// At the wheel from 06:00 to 10:00.
fn driven(rules: &RuleSet) -> Clocks {
    let mut clocks = rested(rules);
    clocks.change(rules, minutes(360), DutyStatus::Driving);
    clocks.advance(rules, minutes(600));
    clocks
}

/// 49 CFR 395.3(a)(3)(ii) of 2020: thirty minutes of anything but driving are a break. That of 2013 took thirty minutes off duty.
#[test]
fn a_pause_is_a_break_after_half_an_hour() {
    let rules = book("us_property_2020");
    let mut clocks = driven(&rules);
    assert_eq!(
        (clocks.now(), clocks.drove_since_break()),
        (minutes(600), minutes(240))
    );
    assert_eq!(
        clocks.last_break_over(),
        minutes(360),
        "the shift's beginning"
    );
    assert_eq!(clocks.pause_is_break_at(&rules), None, "no pause");
    clocks.change(&rules, minutes(600), DutyStatus::OnDuty);
    assert_eq!(clocks.pause_is_break_at(&rules), Some(minutes(630)));
    let mut short = clocks;
    short.change(&rules, minutes(629), DutyStatus::Driving);
    assert_eq!(short.drove_since_break(), minutes(240));
    assert_eq!(short.last_break_over(), minutes(360));
    clocks.change(&rules, minutes(640), DutyStatus::Driving);
    assert_eq!(clocks.drove_since_break(), Millis::ZERO);
    assert_eq!(clocks.last_break_over(), minutes(640));
    assert_eq!(clocks.pause_is_break_at(&rules), None, "under way again");

    let of_2013 = book("us_property_2013");
    let mut clocks = driven(&of_2013);
    clocks.change(&of_2013, minutes(600), DutyStatus::OnDuty);
    assert_eq!(clocks.pause_is_break_at(&of_2013), None, "work is no break");
    clocks.change(&of_2013, minutes(610), DutyStatus::OffDuty);
    assert_eq!(clocks.pause_is_break_at(&of_2013), Some(minutes(640)));

    let none = book("us_property_2005");
    let mut clocks = driven(&none);
    clocks.change(&none, minutes(600), DutyStatus::OffDuty);
    assert_eq!(
        clocks.pause_is_break_at(&none),
        None,
        "no break is asked for"
    );
}

/// The break rule of 2013 counts eight hours from the beginning of the shift, not from waking up.
#[test]
fn nobody_needs_a_break_before_the_shift() {
    let rules = book("us_property_2013");
    let mut clocks = rested(&rules);
    clocks.advance(&rules, minutes(300));
    assert_eq!(clocks.left(&rules).break_in, Some(minutes(480)));
    clocks.change(&rules, minutes(300), DutyStatus::OnDuty);
    clocks.advance(&rules, minutes(400));
    assert_eq!(clocks.left(&rules).break_in, Some(minutes(380)));
}

/// FMCSA guidance to 395.1, question 33 (78 FR 76757): a missed break is excused until the first safe stop, and not at it.
#[test]
fn a_break_is_excused_until_the_first_safe_stop() {
    let rules = book("us_property_2013");
    let mut clocks = driven(&rules);
    let excused = Allowance {
        break_excused_until: Some(minutes(700)),
        ..Allowance::default()
    };
    clocks.allow(&rules, minutes(600), excused);
    assert_eq!(clocks.allowance(), excused);
    clocks.advance(&rules, minutes(699));
    assert_eq!(clocks.left(&rules).break_in, None);
    clocks.advance(&rules, minutes(700));
    assert_eq!(clocks.left(&rules).break_in, Some(minutes(480 - 340)));
}

/// 49 CFR 395.1(o)(2): who is released later than sixteen hours after the report never had the longer window.
#[test]
fn a_long_day_is_of_no_use_to_whom_it_does_not_bring_home() {
    let rules = book("us_property_2020");
    let mut clocks = driven(&rules);
    let long = Allowance {
        long_day: true,
        ..Allowance::default()
    };
    clocks.allow(&rules, minutes(600), long);
    let sixteenth = minutes(360 + 960);
    let window = |clocks: Clocks| clocks.left(&rules).window;
    assert_eq!(
        window(clocks.as_released_at(&rules, sixteenth)),
        Some(minutes(720))
    );
    let later = clocks.as_released_at(&rules, sixteenth + Millis(1));
    assert_eq!(window(later), Some(minutes(600)));
    assert!(!later.allowance().long_day);
    // Nobody is released before the shift has begun.
    let mut idle = rested(&rules);
    idle.allow(&rules, Millis::ZERO, long);
    let then = idle.as_released_at(&rules, minutes(10_000));
    assert_eq!(then.allowance().long_day, idle.allowance().long_day);
}

/// Under a window alone waiting only loses time; a break or a night can give some back.
#[test]
fn waiting_helps_where_a_pause_counts() {
    assert!(rested(&book("us_property_2020")).can_gain_by_waiting());
    let lone = RuleSet::lone_window(minutes(840), minutes(600));
    assert!(!rested(&lone).can_gain_by_waiting());
}

/// On duty from 06:00, so until 20:00: a plan fits if its drives end by then, whatever stands around them.
#[test]
fn a_plan_is_held_against_the_clock_that_ends_first() {
    for rules in [
        book("us_property_2020"),
        RuleSet::lone_window(minutes(840), minutes(600)),
    ] {
        let mut clocks = rested(&rules);
        clocks.change(&rules, minutes(360), DutyStatus::OnDuty);
        clocks.advance(&rules, minutes(400));
        let load = (DutyStatus::OnDuty, minutes(20));
        let drive = |length| (DutyStatus::Driving, minutes(length));
        let unload = (DutyStatus::OnDuty, minutes(60));
        let fits = |from, out, back| {
            clocks.fits(
                &rules,
                minutes(from),
                &[load, drive(out), unload, drive(back), load],
            )
        };
        let fit = fits(1_060, 30, 30);
        assert_eq!((fit.slack, fit.binds), (Millis::ZERO, Some(Clock::Window)));
        assert!(fit.fits());
        let fit = fits(1_061, 30, 30);
        assert_eq!(fit.slack, -Millis::MINUTE);
        assert!(!fit.fits());
        // There is no drive home: what is left counts where the drive out ends, and work may go on.
        let fit = fits(1_060, 30, 0);
        assert_eq!(fit.slack, minutes(90));
        let (_, on) = clocks.follow(&rules, minutes(1_060), &[load, drive(30), unload], true);
        assert_eq!((on.until, on.by), (minutes(1_200), Some(Clock::Window)));
        assert!(fits(3_000, 0, 0).fits(), "nothing is driven");
    }
}

/// 49 CFR 395.1(e)(1)(ii)(B): released within 14 hours. It forbids no driving, and is told beside what does.
#[test]
fn a_plan_tells_how_far_it_stays_within_short_haul() {
    let rules = book("us_short_haul_2020");
    let mut clocks = rested(&rules);
    clocks.change(&rules, minutes(360), DutyStatus::OnDuty);
    clocks.advance(&rules, minutes(400));
    let plan = |work| [(DutyStatus::OnDuty, minutes(work))];
    let slack = |work| {
        clocks
            .fits(&rules, minutes(400), &plan(work))
            .short_haul_slack
    };
    assert_eq!(slack(800), Some(Millis::ZERO));
    assert_eq!(slack(810), Some(-minutes(10)));
    let property = book("us_property_2020");
    let fit = driven(&property).fits(&property, minutes(600), &plan(10));
    assert_eq!(fit.short_haul_slack, None);
}
