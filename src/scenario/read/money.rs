//! Prices.

use super::super::decode::{
    Fields, Limits, Shown, entries, number, time_of_day, weekday, weekdays,
};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::{Field, Node};
use super::super::{Money, Night, Revenue, ShowUp, Weekend};
use crate::units::measure::{self, Quantity};
use crate::units::{Cents, Millis, Rate, Volume, Weekday};

/// An amount of money.
pub(super) fn price(node: &Node, problems: &Problems) -> Option<Cents> {
    number(Limits::between("in whole units of money", 0.0, 1e6))(node, problems)
        .map(Cents::from_units)
}

/// An amount of money for each yd³ or m³.
pub(super) fn per_yd3(node: &Node, problems: &Problems) -> Option<Rate> {
    rate(Quantity::PerVolume, node, problems)
}

/// An amount of money for each mile or km.
fn per_mile(node: &Node, problems: &Problems) -> Option<Rate> {
    rate(Quantity::PerDistance, node, problems)
}

/// In US units whole cents, as every price; in SI a price of whole cents has parts of one for the program's unit.
fn rate(quantity: Quantity, node: &Node, problems: &Problems) -> Option<Rate> {
    if !measure::is_si() {
        return price(node, problems).map(Rate::from);
    }
    let written = number(Limits::between("in whole units of money", 0.0, 1e6))(node, problems)?;
    Some(Rate::of(quantity.heard(written)))
}

/// Prices of which nobody has a use where no truck breaks down.
pub(super) const OF_BREAKDOWNS: [&str; 3] = [
    defaults::DRUM_STABILIZED.about.path,
    defaults::DRUM_EMPTIED.about.path,
    defaults::DRUM_CHIPPED_OUT.about.path,
];

/// A minute without the first load costs so many times one without a later load, unless it is written.
const FIRST_LATE: f64 = 2.0;

const FACTOR: Limits = Limits::between("factor", 1.0, 10.0);

/// The prices, each of which may be left out.
pub(super) fn money(mut fields: Fields<'_>) -> Money {
    let hours = |most| number(Limits::between("hours", 0.0, most));
    let factor = number(FACTOR);
    let overtime_after = fields.usual(&defaults::OVERTIME_AFTER_H, hours(672.0));
    let overtime_after = Millis::from_hours(overtime_after);
    let week = fields.off(&defaults::OVERTIME_AFTER_WEEK, hours(168.0));
    let mph = number(Limits::between("miles an hour", 1.0, 100.0));
    let late_per_min = fields.usual(&defaults::LATE_PER_MIN, price);
    let share = number(Limits::between("share", 0.0, 1.0));
    let money = Money {
        pay_per_h: fields.usual(&defaults::PAY_PER_H, price),
        overtime_after,
        overtime_factor: fields.usual(&defaults::OVERTIME_FACTOR, factor),
        truck_per_duty_h: fields.usual(&defaults::TRUCK_PER_DUTY_H, price),
        truck_per_driven_h: fields.usual(&defaults::TRUCK_PER_DRIVEN_H, price),
        crew_per_open_h: fields.usual(&defaults::CREW_PER_OPEN_H, price),
        material_per_yd3: fields.usual(&defaults::MATERIAL_PER_YD3, per_yd3),
        dumped_per_yd3: fields.usual(&defaults::DUMPED_PER_YD3, per_yd3),
        payroll_tax: fields.usual(&defaults::PAYROLL_TAX, share),
        late_per_load: fields.usual(&defaults::LATE_PER_LOAD, price),
        late_per_min,
        first_late_per_min: fields.usual_from(
            &defaults::FIRST_LATE_PER_MIN,
            price,
            late_per_min.times(FIRST_LATE),
        ),
        gap_per_min: fields.usual(&defaults::GAP_PER_MIN, price),
        broken_pour: fields.usual(&defaults::BROKEN_POUR, price),
        early_per_min: fields.usual(&defaults::EARLY_PER_MIN, price),
        outside_per_load: fields.usual(&defaults::OUTSIDE_PER_LOAD, price),
        below_strength: fields.usual(&defaults::BELOW_STRENGTH, price),
        moved_per_min: fields.usual(&defaults::MOVED_PER_MIN, price),
        moved_lost_share: fields.usual(&defaults::MOVED_LOST_SHARE, share),
        undelivered_per_yd3: fields.usual(&defaults::UNDELIVERED_PER_YD3, per_yd3),
        stranded: fields.usual(&defaults::STRANDED, price),
        lodging: fields.usual(&defaults::LODGING, price),
        helper_per_h: fields.usual(&defaults::HELPER_PER_H, price),
        overtime_after_week: week.map(Millis::from_hours),
        second_overtime: fields
            .off(&defaults::SECOND_OVERTIME, |node, problems| {
                second_overtime(node, overtime_after, problems)
            })
            .map(|SecondStep(after, factor)| (after, factor)),
        call_out: Millis::from_hours(fields.usual(&defaults::CALL_OUT_H, hours(24.0))),
        guaranteed_day: Millis::from_hours(fields.usual(&defaults::GUARANTEED_DAY, hours(24.0))),
        guaranteed_week: Millis::from_hours(fields.usual(&defaults::GUARANTEED_WEEK, hours(168.0))),
        show_up: fields.off(&defaults::SHOW_UP, show_up),
        workweek: fields.usual(&defaults::WORKWEEK, weekday),
        night: fields.off(&defaults::NIGHT, night),
        weekend: fields.off(&defaults::WEEKEND, weekend),
        truck_per_mile: fields.usual(&defaults::TRUCK_PER_MILE, per_mile),
        miles_at_mph: fields.usual(&defaults::MILES_AT_MPH, mph),
        per_washout: fields.usual(&defaults::PER_WASHOUT, price),
        found_heavy: fields.usual(&defaults::FOUND_HEAVY, price),
        drum_stabilized: fields.usual(&defaults::DRUM_STABILIZED, price),
        drum_emptied: fields.usual(&defaults::DRUM_EMPTIED, price),
        drum_chipped_out: fields.usual(&defaults::DRUM_CHIPPED_OUT, price),
        returned_per_yd3: fields.usual(&defaults::RETURNED_PER_YD3, per_yd3),
        pump_standby_per_h: fields.usual(&defaults::PUMP_STANDBY, price),
        site_crew_per_h: fields.usual(&defaults::SITE_CREW, price),
        revenue: fields.block("revenue", "revenue block", revenue),
    };
    fields.finish();
    money
}

/// Hours of a day, and the factor on an hour beyond.
struct SecondStep(Millis, f64);

impl Shown for SecondStep {}
impl Shown for ShowUp {}
impl Shown for Night {}
impl Shown for Weekend {}

/// `(after_h: 12, factor: 2)`: the second step comes after the first.
fn second_overtime(node: &Node, first: Millis, problems: &Problems) -> Option<SecondStep> {
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
    Some(SecondStep(Millis::from_hours(after?), factor?))
}

/// `(share?: 0.5, least_h?: 2, most_h?: 4)`
fn show_up(node: &Node, problems: &Problems) -> Option<ShowUp> {
    let mut fields = Fields::of(node, "show-up block", problems)?;
    let hours = || number(Limits::between("hours", 0.0, 24.0));
    let share = number(Limits::between("share of the shift", 0.0, 1.0));
    let share = fields.usual(&defaults::SHOW_UP_SHARE, share);
    let least = fields.usual(&defaults::SHOW_UP_LEAST, hours());
    let most = fields.usual(&defaults::SHOW_UP_MOST, hours());
    let place = fields.place("most_h").or_else(|| fields.place("least_h"));
    if let Some(place) = place.filter(|_| least > most) {
        let title = format!("show-up pay is for at least {least} h and for at most {most} h");
        let problem = Problem::new(place, title);
        problems.add::<()>(problem.label("expected `least_h` no more than `most_h`"));
    }
    fields.finish();
    let (least, most) = (least.min(most), least.max(most));
    Some(ShowUp {
        share,
        least: Millis::from_hours(least),
        most: Millis::from_hours(most),
    })
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

fn revenue(mut fields: Fields<'_>) -> Revenue {
    let allowance = Limits::between("minutes a yd³", 0.0, 240.0);
    let volume = number(Limits::between("yd³", 0.0, 100.0));
    let revenue = Revenue {
        per_yd3: fields.usual(&defaults::SALE_PRICE, per_yd3),
        prices: fields.optional("prices", by_mix, Vec::new()),
        unloading_min_per_yd3: fields.usual(&defaults::UNLOADING_ALLOWANCE, number(allowance)),
        unloading_per_min: fields.usual(&defaults::UNLOADING_PER_MIN, price),
        short_load_under: Volume::from_yd3(fields.usual(&defaults::SHORT_LOAD_UNDER, volume)),
        short_load: fields.usual(&defaults::SHORT_LOAD, price),
    };
    fields.finish();
    revenue
}

/// `{"air": 182}`
fn by_mix(node: &Node, problems: &Problems) -> Option<Vec<(String, Rate)>> {
    let entries = entries(node, "a price for each mix: { \"mix\": 182 }", problems)?;
    let priced = |field: &Field| Some((field.key.clone(), per_yd3(&field.value, problems)?));
    entries.iter().map(priced).collect()
}
