//! The period, the hours-of-service limits, the company's habits and the yard.

use super::super::decode::{
    Contents, Fields, Limits, minutes, number, variant, weekday, whole, wrong_kind,
};
use super::super::problem::{Problem, Problems, nearest};
use super::super::tree::{Kind, Node};
use super::super::{Company, Period, Yard};
use crate::engine::Spread;
use crate::hours::RuleBook;
use crate::units::{Millis, Weekday};

/// The period where none is written.
pub(super) fn one_day() -> Period {
    Period {
        first_day: Weekday::Monday,
        days: 1,
        measure: None,
    }
}

/// `(first_day?: Monday, days?: 1, measure?: (from_h: 0, to_h: 24))`
pub(super) fn period(node: &Node, problems: &Problems) -> Option<Period> {
    let mut fields = Fields::of(node, "period", problems)?;
    let first_day = fields.optional("first_day", weekday, Weekday::Monday);
    let days = whole(Limits::between("days", 1.0, 28.0));
    // Days that are wrong make no order too late.
    let days = fields.or_else("days", days, 1, 28);
    let measure = fields.maybe("measure", |node, problems| measure(node, days, problems));
    fields.finish();
    Some(Period {
        first_day,
        days,
        measure,
    })
}

/// A day of the period, by its number.
pub(super) fn day_of(period: &Period) -> impl Fn(&Node, &Problems) -> Option<u32> {
    let days = period.days;
    move |node, problems| {
        let day = whole(Limits::between("day, the first is 1", 1.0, 28.0))(node, problems)?;
        if day <= days {
            return Some(day);
        }
        let expected = match days {
            1 => "expected 1, the only day of the period".to_owned(),
            _ => format!("expected 1 to {days}, the days of the period"),
        };
        let title = format!("day {day} is after the end of the period");
        problems.add(Problem::new(node.span.clone(), title).label(expected))
    }
}

fn measure(node: &Node, days: u32, problems: &Problems) -> Option<(Millis, Millis)> {
    let hours = Limits::between(
        "hours since the first midnight",
        0.0,
        24.0 * f64::from(days),
    );
    let mut fields = Fields::of(node, "measured span", problems)?;
    let from = fields.required("from_h", number(hours));
    let to = fields.required("to_h", number(hours));
    fields.finish();
    let (from, to) = (Millis::from_hours(from?), Millis::from_hours(to?));
    if from < to {
        return Some((from, to));
    }
    problems.add(
        Problem::new(node.span.clone(), "the measured span ends before it begins")
            .label("expected from_h below to_h"),
    )
}

/// The limits where none are written: what is left of them in any rule book for property carriers, the 14-hour window.
pub(super) fn usual_rule_book() -> RuleBook {
    RuleBook::DutyWindow {
        window: Millis::HOUR * 14,
        rest: Millis::HOUR * 10,
    }
}

/// `"none"` or `DutyWindow(hours: 14, rest_hours?: 10)`
pub(super) fn rule_book(node: &Node, problems: &Problems) -> Option<RuleBook> {
    match &node.kind {
        Kind::Text(text) if text == "none" => Some(RuleBook::Unlimited),
        Kind::Text(text) => {
            let problem = Problem::new(node.span.clone(), format!("unknown rule book {text:?}"))
                .label("expected \"none\" or DutyWindow(hours: 14)");
            problems.add(match nearest(text, ["none"]) {
                Some(near) => problem.replace(
                    node.span.clone(),
                    format!("{near:?}"),
                    "a similar one exists: \"none\"",
                ),
                None => problem,
            })
        }
        Kind::Tag(_) | Kind::Tagged(..) => {
            variant("rule book", &[("DutyWindow", duty_window)])(node, problems)
        }
        _ => wrong_kind(
            node,
            "a rule book: \"none\" or DutyWindow(hours: 14)",
            problems,
        ),
    }
}

fn duty_window(contents: Contents<'_>) -> Option<RuleBook> {
    let mut fields = contents.fields(&["hours", "rest_hours"])?;
    let hours = fields.required("hours", number(Limits::above("hours", 0.0, 24.0)));
    let rest = fields.optional(
        "rest_hours",
        number(Limits::between("hours", 0.0, 24.0)),
        10.0,
    );
    fields.finish();
    Some(RuleBook::DutyWindow {
        window: Millis::from_hours(hours?),
        rest: Millis::from_hours(rest),
    })
}

const DRIVER_CAUTION: f64 = 0.8;
const PROMISE_HORIZON_MIN: f64 = 20.0;
const LATEST_REPORT_H: f64 = 4.0;

/// The company where nothing is written.
pub(super) fn usual_company() -> Company {
    Company {
        no_load_after: None,
        driver_caution: DRIVER_CAUTION,
        promise_horizon: Millis::from_minutes(PROMISE_HORIZON_MIN),
        latest_report: Millis::from_hours(LATEST_REPORT_H),
    }
}

/// `(no_load_after_h?: 12, driver_caution?: 0.8, promise_horizon_min?: 20, latest_report_h?: 4)`
pub(super) fn company(node: &Node, problems: &Problems) -> Option<Company> {
    let mut fields = Fields::of(node, "company", problems)?;
    let no_load_after = fields.maybe(
        "no_load_after_h",
        number(Limits::above("hours", 0.0, 672.0)),
    );
    let driver_caution = fields.optional(
        "driver_caution",
        number(Limits::between("share", 0.5, 0.999)),
        DRIVER_CAUTION,
    );
    let horizon = Limits::between("minutes", 0.0, 240.0);
    let promise_horizon =
        fields.optional("promise_horizon_min", number(horizon), PROMISE_HORIZON_MIN);
    let latest_report = fields.optional(
        "latest_report_h",
        number(Limits::between("hours", 0.0, 24.0)),
        LATEST_REPORT_H,
    );
    fields.finish();
    Some(Company {
        no_load_after: no_load_after.map(Millis::from_hours),
        driver_caution,
        promise_horizon: Millis::from_minutes(promise_horizon),
        latest_report: Millis::from_hours(latest_report),
    })
}

/// The yard where nothing is written.
pub(super) fn usual_yard() -> Yard {
    Yard {
        pre_trip: Spread::Lognormal {
            mean: 15.7,
            cv: 0.3,
        },
        washout: Spread::Triangular {
            low: 10.0,
            mode: 15.0,
            high: 30.0,
        },
        post_trip: Spread::Constant(10.0),
    }
}

/// `(pre_trip?: spread, washout?: spread, post_trip?: spread)`
pub(super) fn yard(node: &Node, problems: &Problems) -> Option<Yard> {
    let usual = usual_yard();
    let mut fields = Fields::of(node, "yard", problems)?;
    let pre_trip = fields.optional("pre_trip", minutes, usual.pre_trip);
    let washout = fields.optional("washout", minutes, usual.washout);
    let post_trip = fields.optional("post_trip", minutes, usual.post_trip);
    fields.finish();
    Some(Yard {
        pre_trip,
        washout,
        post_trip,
    })
}
