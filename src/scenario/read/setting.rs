//! The period, the company's habits and the yard.

use super::super::decode::{Fields, Limits, flag, minutes, number, weekday, whole};
use super::super::problem::{Problem, Problems};
use super::super::tree::Node;
use super::super::{Company, Period, Yard};
use crate::engine::Spread;
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

const DRIVER_CAUTION: f64 = 0.8;
const PROMISE_HORIZON_MIN: f64 = 20.0;
const LATEST_REPORT_H: f64 = 4.0;
const LEAST_WEEK_H: f64 = 1.0;
const DRUM_CLEANING_MIN: f64 = 180.0;

/// The company where nothing is written.
pub(super) fn usual_company() -> Company {
    Company {
        no_load_after: None,
        driver_caution: DRIVER_CAUTION,
        promise_horizon: Millis::from_minutes(PROMISE_HORIZON_MIN),
        latest_report: Millis::from_hours(LATEST_REPORT_H),
        finish_within: None,
        days_in_row: None,
        least_week: Millis::from_hours(LEAST_WEEK_H),
        stranded_drive_car: true,
        relief: false,
        stabiliser: Millis::ZERO,
        drum_cleaning: Millis::from_minutes(DRUM_CLEANING_MIN),
    }
}

/// See [`Company`] for how it is written.
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
    let finish_within = number(Limits::above("hours", 0.0, 672.0));
    let finish_within = fields.maybe("finish_within_h", finish_within);
    let in_row = whole(Limits::between("days", 1.0, 28.0));
    let days_in_row = fields.maybe("most_days_in_row", in_row);
    let least_week = number(Limits::between("hours", 0.0, 14.0));
    let least_week = fields.optional("least_week_h", least_week, LEAST_WEEK_H);
    let stranded_drive_car = fields.optional("stranded_drive_car", flag, true);
    let relief = fields.optional("relief", flag, false);
    let stabiliser = number(Limits::between("hours", 0.0, 72.0));
    let stabiliser = fields.optional("stabiliser_h", stabiliser, 0.0);
    let cleaning = number(Limits::between("minutes", 0.0, 1_440.0));
    let drum_cleaning = fields.optional("drum_cleaning_min", cleaning, DRUM_CLEANING_MIN);
    fields.finish();
    Some(Company {
        no_load_after: no_load_after.map(Millis::from_hours),
        driver_caution,
        promise_horizon: Millis::from_minutes(promise_horizon),
        latest_report: Millis::from_hours(latest_report),
        finish_within: finish_within.map(Millis::from_hours),
        days_in_row,
        least_week: Millis::from_hours(least_week),
        stranded_drive_car,
        relief,
        stabiliser: Millis::from_hours(stabiliser),
        drum_cleaning: Millis::from_minutes(drum_cleaning),
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
