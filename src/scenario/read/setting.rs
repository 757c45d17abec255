//! The period, the company's habits and the yard.

use super::super::decode::{
    Fields, Limits, Spanned, date, date_in, days_between, flag, minutes, name, number, one_of,
    spanned, time_of_day, weekday, weekday_of, whole,
};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::{Kind, Node};
use super::super::{Company, Period, Yard};
use crate::hours::Date;
use crate::units::measure::{Currency, Measures, System};
use crate::units::{Millis, Weekday};

const SYSTEMS: [(&str, System); 2] = [("us", System::Us), ("si", System::Si)];

/// `us` or `si`.
pub(super) fn system(node: &Node, problems: &Problems) -> Option<System> {
    one_of("system of units", &SYSTEMS)(node, problems)
}

/// `"€"`: one to four letters or signs.
pub(super) fn currency(node: &Node, problems: &Problems) -> Option<Currency> {
    let sign = name(node, problems)?;
    Currency::of(&sign).or_else(|| {
        let title = format!("{sign:?} is no sign of a currency");
        problems.add(
            Problem::new(node.span.clone(), title)
                .label("expected one to four letters or signs, such as \"$\", \"€\" or \"CHF\""),
        )
    })
}

/// What a scenario is written in, to be known before anything else of it is read. What is wrong with it is told when its fields are.
pub(super) fn measures(scenario: &Node) -> Measures {
    let Kind::Fields(fields) = &scenario.kind else {
        return Measures::US;
    };
    let nobody = Problems::new();
    let field = |key: &str| fields.iter().find(|field| field.key == key);
    // Whoever writes units means other ones than the usual: if they cannot be read, no field is told to be in the wrong ones besides.
    let system = field("units").map(|field| system(&field.value, &nobody).unwrap_or(System::Si));
    let currency = field("currency").and_then(|field| currency(&field.value, &nobody));
    Measures {
        system: system.unwrap_or(System::Us),
        currency: currency.unwrap_or(Currency::DOLLAR),
    }
}

/// The period where none is written.
pub(super) fn one_day() -> Period {
    Period {
        first_day: Weekday::Monday,
        first_date: None,
        days: 1,
        measure: None,
    }
}

/// `(first_day?: Monday | "2026-06-08", days?: 1, measure?: (from_h: 0, to_h: 24))`
pub(super) fn period(node: &Node, problems: &Problems) -> Option<Period> {
    let mut fields = Fields::of(node, "period", problems)?;
    let first_day = fields.optional("first_day", first_day, (Weekday::Monday, None));
    let (first_day, first_date) = first_day;
    let days = whole(Limits::between("days", 1.0, 28.0));
    // Days that are wrong make no order too late.
    let days = fields.or_else("days", days, 1, 28);
    let measure = fields.maybe("measure", |node, problems| measure(node, days, problems));
    fields.finish();
    Some(Period {
        first_day,
        first_date,
        days,
        measure,
    })
}

/// A weekday, or a date with its weekday.
fn first_day(node: &Node, problems: &Problems) -> Option<(Weekday, Option<Date>)> {
    if node.is_asked() {
        date(node, problems);
    }
    let in_cell = |text: &str| matches!(node.kind, Kind::Cell { .. }) && date_in(text).is_none();
    if node.text().is_none_or(in_cell) {
        return Some((weekday(node, problems)?, None));
    }
    let date = date(node, problems)?;
    Some((weekday_of(date), Some(date)))
}

/// A day of the period, by its number or, where the first day has one, by its date.
pub(super) fn day_of(period: &Period) -> impl Fn(&Node, &Problems) -> Option<u32> {
    let (days, first) = (period.days, period.first_date);
    move |node, problems| {
        if let Some(date) = node.text().and_then(date_in) {
            let Some(first) = first else {
                let title = "a date, and the first day of the period has none";
                return problems.add(Problem::new(node.span.clone(), title).label(
                    "expected the number of a day, or `first_day: \"2026-06-08\"` in `period`",
                ));
            };
            let number = 1 + days_between(first, date);
            let Some(day) = u32::try_from(number)
                .ok()
                .filter(|day| (1..=days).contains(day))
            else {
                let title = format!("{date} is not in the period, which begins on {first}");
                return problems.add(
                    Problem::new(node.span.clone(), title)
                        .label(format!("expected a date within {days} days from then")),
                );
            };
            return Some(day);
        }
        let day = whole(Limits::between("day, the first is 1", 1.0, 28.0));
        within(days, &spanned(day)(node, problems)?, problems)
    }
}

/// A day that has been read, if the period has it.
pub(super) fn day_within(period: &Period, day: &Spanned<u32>, problems: &Problems) -> Option<u32> {
    within(period.days, day, problems)
}

fn within(days: u32, day: &Spanned<u32>, problems: &Problems) -> Option<u32> {
    if day.value <= days {
        return Some(day.value);
    }
    let expected = match days {
        1 => "expected 1, the only day of the period".to_owned(),
        _ => format!("expected 1 to {days}, the days of the period"),
    };
    let title = format!("day {} is after the end of the period", day.value);
    problems.add(Problem::new(day.span.clone(), title).label(expected))
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

/// See [`Company`] for how it is written.
pub(super) fn company(mut fields: Fields<'_>) -> Company {
    let hours = |most| number(Limits::above("hours", 0.0, most));
    let days = whole(Limits::between("days", 1.0, 28.0));
    let share = number(Limits::between("share", 0.5, 0.999));
    let minutes = |most| number(Limits::between("minutes", 0.0, most));
    let from_0 = |most| number(Limits::between("hours", 0.0, most));
    let no_load_after = fields.off(&defaults::NO_LOAD_AFTER, hours(672.0));
    let driver_caution = fields.usual(&defaults::DRIVER_CAUTION, share);
    let promise_horizon = fields.usual(&defaults::PROMISE_HORIZON_MIN, minutes(240.0));
    let latest_report = fields.usual(&defaults::LATEST_REPORT_H, from_0(24.0));
    let call_time = fields.usual(&defaults::CALL_TIME, time_of_day);
    let call_off = fields.usual(&defaults::CALL_OFF, flag);
    let finish_within = fields.off(&defaults::FINISH_WITHIN, hours(672.0));
    let days_in_row = fields.off(&defaults::DAYS_IN_ROW, days);
    let least_week = fields.usual(&defaults::LEAST_WEEK_H, from_0(14.0));
    let stranded_drive_car = fields.usual(&defaults::STRANDED_DRIVE_CAR, flag);
    let order_open = fields.usual(&defaults::ORDER_OPEN_H, from_0(24.0));
    let relief = fields.usual(&defaults::RELIEF, flag);
    let stabiliser = fields.usual(&defaults::STABILIZER_H, from_0(72.0));
    let drum_cleaning = fields.usual(&defaults::DRUM_CLEANING_MIN, minutes(1_440.0));
    fields.finish();
    Company {
        no_load_after: no_load_after.map(Millis::from_hours),
        driver_caution,
        promise_horizon: Millis::from_minutes(promise_horizon),
        latest_report: Millis::from_hours(latest_report),
        finish_within: finish_within.map(Millis::from_hours),
        days_in_row,
        call_time,
        call_off,
        least_week: Millis::from_hours(least_week),
        stranded_drive_car,
        order_open: Millis::from_hours(order_open),
        relief,
        stabiliser: Millis::from_hours(stabiliser),
        drum_cleaning: Millis::from_minutes(drum_cleaning),
    }
}

/// `(pre_trip?: spread, washout?: spread, post_trip?: spread)`
pub(super) fn yard(mut fields: Fields<'_>) -> Yard {
    let yard = Yard {
        pre_trip: fields.usual(&defaults::PRE_TRIP, minutes),
        washout: fields.usual(&defaults::WASHOUT, minutes),
        post_trip: fields.usual(&defaults::POST_TRIP, minutes),
    };
    fields.finish();
    yard
}
