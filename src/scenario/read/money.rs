//! Prices.

use super::super::decode::{Fields, Limits, number, time_of_day, weekdays};
use super::super::problem::{Problem, Problems};
use super::super::tree::Node;
use super::super::{Money, Night, Revenue, Weekend};
use crate::units::{Cents, Millis, Volume, Weekday};

/// The prices where nothing is written.
pub(super) fn usual() -> Money {
    Money {
        pay_per_h: Cents::from_units(27.0),
        overtime_after: Millis::HOUR * 8,
        overtime_factor: 1.5,
        truck_per_duty_h: Cents::from_units(25.0),
        truck_per_driven_h: Cents::from_units(30.0),
        crew_per_open_h: Cents::from_units(110.0),
        material_per_yd3: Cents::from_units(105.0),
        dumped_per_yd3: Cents::from_units(40.0),
        late_per_load: Cents::from_units(50.0),
        late_per_min: Cents::from_units(2.0),
        undelivered_per_yd3: Cents::from_units(180.0),
        stranded: Cents::from_units(400.0),
        lodging: Cents::ZERO,
        helper_per_h: Cents::from_units(55.0),
        overtime_after_week: None,
        second_overtime: None,
        call_out: Millis::ZERO,
        night: None,
        weekend: None,
        truck_per_mile: Cents::ZERO,
        miles_at_mph: 30.0,
        per_washout: Cents::ZERO,
        found_heavy: Cents::ZERO,
        returned_per_yd3: Cents::from_units(40.0),
        pump_standby_per_h: Cents::ZERO,
        site_crew_per_h: Cents::ZERO,
        revenue: None,
    }
}

/// An amount of money.
pub(super) fn price(node: &Node, problems: &Problems) -> Option<Cents> {
    number(Limits::between("in whole units of money", 0.0, 1e6))(node, problems)
        .map(Cents::from_units)
}

const FACTOR: Limits = Limits::between("factor", 1.0, 10.0);

/// The prices, each of which may be left out.
pub(super) fn money(node: &Node, problems: &Problems) -> Option<Money> {
    let mut money = usual();
    let mut fields = Fields::of(node, "block of prices", problems)?;
    for (name, amount) in [
        ("pay_per_h", &mut money.pay_per_h),
        ("truck_per_duty_h", &mut money.truck_per_duty_h),
        ("truck_per_driven_h", &mut money.truck_per_driven_h),
        ("crew_per_open_h", &mut money.crew_per_open_h),
        ("material_per_yd3", &mut money.material_per_yd3),
        ("dumped_per_yd3", &mut money.dumped_per_yd3),
        ("late_per_load", &mut money.late_per_load),
        ("late_per_min", &mut money.late_per_min),
        ("undelivered_per_yd3", &mut money.undelivered_per_yd3),
        ("stranded", &mut money.stranded),
        ("lodging", &mut money.lodging),
        ("helper_per_h", &mut money.helper_per_h),
        ("truck_per_mile", &mut money.truck_per_mile),
        ("per_washout", &mut money.per_washout),
        ("found_heavy", &mut money.found_heavy),
        ("returned_per_yd3", &mut money.returned_per_yd3),
        ("pump_standby_per_h", &mut money.pump_standby_per_h),
        ("site_crew_per_h", &mut money.site_crew_per_h),
    ] {
        *amount = fields.optional(name, price, *amount);
    }
    let hours = |most| number(Limits::between("hours", 0.0, most));
    money.overtime_after = Millis::from_hours(fields.optional(
        "overtime_after_h",
        hours(672.0),
        money.overtime_after.hours(),
    ));
    money.overtime_factor =
        fields.optional("overtime_factor", number(FACTOR), money.overtime_factor);
    money.overtime_after_week = fields
        .maybe("overtime_after_week_h", hours(168.0))
        .map(Millis::from_hours);
    let first = money.overtime_after;
    money.second_overtime = fields.maybe("second_overtime", |node, problems| {
        second_overtime(node, first, problems)
    });
    money.call_out = Millis::from_hours(fields.optional("call_out_min_h", hours(24.0), 0.0));
    money.night = fields.maybe("night", night);
    money.weekend = fields.maybe("weekend", weekend);
    money.miles_at_mph = fields.optional(
        "miles_at_mph",
        number(Limits::between("miles an hour", 1.0, 100.0)),
        money.miles_at_mph,
    );
    money.revenue = fields.maybe("revenue", revenue);
    fields.finish();
    Some(money)
}

/// `(after_h: 12, factor: 2)`: the second step comes after the first.
fn second_overtime(node: &Node, first: Millis, problems: &Problems) -> Option<(Millis, f64)> {
    let mut fields = Fields::of(node, "second step of overtime", problems)?;
    let after = fields.required("after_h", number(Limits::between("hours", 0.0, 672.0)));
    let factor = fields.required("factor", number(FACTOR));
    if let (Some(after), Some(place)) = (after, fields.place("after_h"))
        && Millis::from_hours(after) <= first
    {
        let title = format!("the second step begins after {after} h");
        let expected = format!("expected more than {} h, the first step", first.hours());
        problems.add::<()>(Problem::new(place, title).label(expected));
    }
    fields.finish();
    Some((Millis::from_hours(after?), factor?))
}

fn night(node: &Node, problems: &Problems) -> Option<Night> {
    let mut fields = Fields::of(node, "night premium", problems)?;
    let from = fields.required("from", time_of_day);
    let to = fields.required("to", time_of_day);
    let per_h = fields.required("per_h", price);
    if let (Some(from), Some(to), Some(place)) = (from, to, fields.place("to"))
        && from == to
    {
        let problem = Problem::new(place, format!("the night begins and ends at {to}"));
        problems.add::<()>(problem.label("expected another time than `from`"));
    }
    fields.finish();
    Some(Night {
        from: from?,
        to: to?,
        per_h: per_h?,
    })
}

fn weekend(node: &Node, problems: &Problems) -> Option<Weekend> {
    let mut fields = Fields::of(node, "weekend premium", problems)?;
    let usual = vec![Weekday::Saturday, Weekday::Sunday];
    let days = fields.optional("days", weekdays, usual);
    let factor = fields.required("factor", number(FACTOR));
    fields.finish();
    Some(Weekend {
        days,
        factor: factor?,
    })
}

fn revenue(node: &Node, problems: &Problems) -> Option<Revenue> {
    let mut fields = Fields::of(node, "revenue block", problems)?;
    let per_yd3 = fields.required("per_yd3", price);
    let allowance = Limits::between("minutes a yd³", 0.0, 240.0);
    let unloading_min_per_yd3 = fields.optional("unloading_min_per_yd3", number(allowance), 7.0);
    let unloading_per_min = fields.optional("unloading_per_min", price, Cents::ZERO);
    let volume = number(Limits::between("yd³", 0.0, 100.0));
    let short_load_under = fields.optional("short_load_under_yd3", volume, 0.0);
    let short_load = fields.optional("short_load", price, Cents::ZERO);
    fields.finish();
    Some(Revenue {
        per_yd3: per_yd3?,
        unloading_min_per_yd3,
        unloading_per_min,
        short_load_under: Volume::from_yd3(short_load_under),
        short_load,
    })
}
