//! The rule books that come with the program. Not legal advice: the text in force and the carrier's record decide.

use std::borrow::Cow;

use super::rule_set::{
    AdverseExtension, Break, BreakTrigger, Cycle, Date, Law, Limit, Restart, RuleSet, ShortHaul,
};
use crate::units::Millis;

/// The names of the built-in rule books.
pub const NAMES: [&str; 9] = [
    "us_property_2020",
    "us_short_haul_2020",
    "us_property_2013",
    "us_property_2013_strict",
    "us_property_2005",
    "us_short_haul_2016",
    "us_intrastate_ca",
    "us_intrastate_tx",
    "ca_federal_south60",
];

/// The built-in rule book of a name.
pub fn built_in(name: &str) -> Option<RuleSet> {
    Some(match name {
        "us_property_2020" => us_property_2020(),
        "us_short_haul_2020" => us_short_haul_2020(),
        "us_property_2013" => us_property_2013(),
        "us_property_2013_strict" => us_property_2013_strict(),
        "us_property_2005" => us_property_2005(),
        "us_short_haul_2016" => us_short_haul_2016(),
        "us_intrastate_ca" => us_intrastate_ca(),
        "us_intrastate_tx" => us_intrastate_tx(),
        "ca_federal_south60" => ca_federal_south60(),
        _ => return None,
    })
}

fn hours(hours: i64) -> Millis {
    Millis::HOUR * hours
}

fn limit(hours: i64, rule: &'static str, citation: &'static str) -> Option<Limit> {
    Some(Limit {
        length: Millis::HOUR * hours,
        law: Law::new(rule, citation),
    })
}

fn cycle(limit: i64, days: u8, restart: i64, rule: &'static str, citation: &'static str) -> Cycle {
    Cycle {
        days,
        limit: hours(limit),
        law: Law::new(rule, citation),
        restart: Restart {
            length: hours(restart),
            nights: 0,
            since_last_began: Millis::ZERO,
        },
    }
}

/// With the weekly hours that may be chosen, the first by default.
fn with_cycles(cycles: Vec<Cycle>) -> (Option<Cycle>, Vec<Cycle>) {
    (cycles.first().cloned(), cycles)
}

/// 49 CFR 395.3 as amended by 85 FR 33396 (1 June 2020), in force from 29 September 2020.
fn us_property_2020() -> RuleSet {
    RuleSet {
        name: Cow::Borrowed("us_property_2020"),
        about: Cow::Borrowed("interstate property carriers, United States"),
        valid_from: Some(Date::new(2020, 9, 29)),
        valid_to: None,
        break_rule: Some(Break {
            trigger: BreakTrigger::DrivingTime,
            after: hours(8),
            length: Millis::MINUTE * 30,
            work_counts: true,
            waiting_counts: true,
            waiting_counts_from: None,
            law: Law::new("break_30min", "49 CFR 395.3(a)(3)(ii)"),
        }),
        adverse: Some(AdverseExtension {
            driving: hours(2),
            window: hours(2),
            citation: Cow::Borrowed("49 CFR 395.1(b)(1)"),
        }),
        ..us_property_2013()
    }
}

/// 49 CFR 395.3 as amended by the rule of 27 December 2011, in force from 1 July 2013; without the conditions on the restart
/// that were not enforced from 16 December 2014. Waiting counts as a break in ready-mixed concrete vehicles: exemption 80 FR
/// 17819 (2 April 2015), then 49 CFR 395.1.
fn us_property_2013() -> RuleSet {
    let (cycle, cycles) = with_cycles(vec![
        cycle(60, 7, 34, "cycle_60_7", "49 CFR 395.3(b)(1)"),
        cycle(70, 8, 34, "cycle_70_8", "49 CFR 395.3(b)(2)"),
    ]);
    RuleSet {
        name: Cow::Borrowed("us_property_2013"),
        about: Cow::Borrowed(
            "interstate property carriers, United States, before the change of 2020",
        ),
        valid_from: Some(Date::new(2013, 7, 1)),
        valid_to: Some(Date::new(2020, 9, 28)),
        driving: limit(11, "drive_11h", "49 CFR 395.3(a)(3)(i)"),
        window: limit(14, "window_14h", "49 CFR 395.3(a)(2)"),
        reset_rest: hours(10),
        break_rule: Some(Break {
            trigger: BreakTrigger::ElapsedTime,
            after: hours(8),
            length: Millis::MINUTE * 30,
            work_counts: false,
            waiting_counts: true,
            waiting_counts_from: Some(Date::new(2015, 4, 2)),
            law: Law::new("break_30min", "49 CFR 395.3(a)(3)(ii)"),
        }),
        cycle,
        cycles,
        construction_restart: Some(hours(24)), // 49 CFR 395.1(m), 395.2
        long_day_window: Some(hours(16)),      // 49 CFR 395.1(o)
        adverse: Some(AdverseExtension {
            driving: hours(2),
            window: Millis::ZERO,
            citation: Cow::Borrowed("49 CFR 395.1(b)(1)"),
        }),
        ..RuleSet::unlimited()
    }
}

/// With both conditions on the restart: two nights, and 168 hours since the last one began (49 CFR 395.3(c) and (d) of 2013).
/// Waiting was no break yet.
fn us_property_2013_strict() -> RuleSet {
    let mut rules = us_property_2013();
    rules.name = Cow::Borrowed("us_property_2013_strict");
    rules.about =
        Cow::Borrowed("interstate property carriers, United States, restart with two nights");
    rules.valid_to = Some(Date::new(2014, 12, 15));
    for cycle in rules.cycles.iter_mut().chain(&mut rules.cycle) {
        cycle.restart.nights = 2;
        cycle.restart.since_last_began = hours(168);
    }
    if let Some(rule) = &mut rules.break_rule {
        rule.waiting_counts = false;
        rule.waiting_counts_from = None;
    }
    rules
}

/// Before July 2013: no break rule.
fn us_property_2005() -> RuleSet {
    RuleSet {
        name: Cow::Borrowed("us_property_2005"),
        about: Cow::Borrowed("interstate property carriers, United States, before the break rule"),
        valid_from: None,
        valid_to: Some(Date::new(2013, 6, 30)),
        break_rule: None,
        ..us_property_2013()
    }
}

/// 49 CFR 395.1(e)(1) since 29 September 2020: no break, no log; lost for the day when broken.
fn us_short_haul_2020() -> RuleSet {
    RuleSet {
        name: Cow::Borrowed("us_short_haul_2020"),
        about: Cow::Borrowed("short-haul drivers within 150 air miles, United States"),
        short_haul: Some(ShortHaul {
            radius_air_miles: 150.0,
            release_within: hours(14),
            release_within_ready_mix: hours(14),
            citation: Cow::Borrowed("49 CFR 395.1(e)(1)"),
        }),
        ..us_property_2020()
    }
}

/// 49 CFR 395.1(e)(1) from 22 July 2016 (81 FR 47714) to 28 September 2020; 14 hours for ready-mixed concrete by
/// 49 USC 31502(f).
fn us_short_haul_2016() -> RuleSet {
    RuleSet {
        name: Cow::Borrowed("us_short_haul_2016"),
        about: Cow::Borrowed("short-haul drivers within 100 air miles, United States, before 2020"),
        valid_from: Some(Date::new(2016, 7, 22)),
        short_haul: Some(ShortHaul {
            radius_air_miles: 100.0,
            release_within: hours(12),
            release_within_ready_mix: hours(14),
            citation: Cow::Borrowed("49 CFR 395.1(e)(1), 49 USC 31502(f)"),
        }),
        ..us_property_2013()
    }
}

/// 13 CCR 1212.5: drivers within California alone. The state's meal-break law is another matter.
fn us_intrastate_ca() -> RuleSet {
    let (cycle, cycles) = with_cycles(vec![cycle(80, 8, 34, "cycle_80_8", "13 CCR 1212.5(a)(4)")]);
    RuleSet {
        name: Cow::Borrowed("us_intrastate_ca"),
        about: Cow::Borrowed("within California"),
        driving: limit(12, "ca_drive_12h", "13 CCR 1212.5(a)(2)(A)"),
        window: limit(16, "ca_window_16h", "13 CCR 1212.5(a)(2)(B)"),
        reset_rest: hours(10),
        cycle,
        cycles,
        adverse: Some(AdverseExtension {
            driving: hours(2),
            window: Millis::ZERO,
            citation: Cow::Borrowed("13 CCR 1212(b)"),
        }),
        left_out: Cow::Borrowed("the state's own law on meal breaks"),
        ..RuleSet::unlimited()
    }
}

/// 37 TAC 4.12: drivers within Texas alone. Fifteen hours are time on duty (read so from "after having been on duty").
fn us_intrastate_tx() -> RuleSet {
    let (cycle, cycles) = with_cycles(vec![cycle(
        70,
        7,
        34,
        "cycle_70_7",
        "37 TAC 4.12(a)(8)(B)(ii)",
    )]);
    RuleSet {
        name: Cow::Borrowed("us_intrastate_tx"),
        about: Cow::Borrowed("within Texas"),
        driving: limit(12, "tx_drive_12h", "37 TAC 4.12(a)(2)"),
        on_duty: limit(15, "tx_onduty_15h", "37 TAC 4.12(a)(2)"),
        reset_rest: hours(8),
        cycle,
        cycles,
        ..RuleSet::unlimited()
    }
}

/// SOR/2005-313, sections 12 to 14 and 25 to 28: Canada, federal carriers south of latitude 60, cycle 1.
fn ca_federal_south60() -> RuleSet {
    let (cycle, cycles) = with_cycles(vec![cycle(
        70,
        7,
        36,
        "can_cycle_1_70_7",
        "SOR/2005-313 s.26, s.28(1)(a)",
    )]);
    RuleSet {
        name: Cow::Borrowed("ca_federal_south60"),
        about: Cow::Borrowed("federal carriers in Canada south of latitude 60, cycle 1"),
        driving: limit(13, "can_drive_13h", "SOR/2005-313 s.12(1), s.13(1)"),
        window: limit(16, "can_elapsed_16h", "SOR/2005-313 s.13(3)"),
        on_duty: limit(14, "can_onduty_14h", "SOR/2005-313 s.12(2), s.13(2)"),
        limits_hold_per_day: true,
        reset_rest: hours(8),
        cycle,
        cycles,
        daily_off_duty: limit(10, "can_daily_off_10h", "SOR/2005-313 s.14(1)"),
        left_out: Cow::Borrowed(
            "cycle 2 (120 h in 14 days), the 24 hours off duty in any 14 days (s. 25), and that two of the ten hours off duty \
             in a day lie outside the eight (s. 14(2))",
        ),
        ..RuleSet::unlimited()
    }
}
