//! Prices.

use super::super::Money;
use super::super::decode::{Fields, Limits, number};
use super::super::problem::Problems;
use super::super::tree::Node;
use crate::units::{Cents, Millis};

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
        helper_per_h: Cents::from_units(55.0),
    }
}

/// The prices, each of which may be left out.
pub(super) fn money(node: &Node, problems: &Problems) -> Option<Money> {
    let usual = usual();
    let mut fields = Fields::of(node, "block of prices", problems)?;
    let mut price = |name, usual| {
        let amount = |node: &Node, problems: &Problems| {
            number(Limits::between("in whole units of money", 0.0, 1e6))(node, problems)
                .map(Cents::from_units)
        };
        fields.optional(name, amount, usual)
    };
    let money = Money {
        pay_per_h: price("pay_per_h", usual.pay_per_h),
        truck_per_duty_h: price("truck_per_duty_h", usual.truck_per_duty_h),
        truck_per_driven_h: price("truck_per_driven_h", usual.truck_per_driven_h),
        crew_per_open_h: price("crew_per_open_h", usual.crew_per_open_h),
        material_per_yd3: price("material_per_yd3", usual.material_per_yd3),
        dumped_per_yd3: price("dumped_per_yd3", usual.dumped_per_yd3),
        late_per_load: price("late_per_load", usual.late_per_load),
        late_per_min: price("late_per_min", usual.late_per_min),
        undelivered_per_yd3: price("undelivered_per_yd3", usual.undelivered_per_yd3),
        stranded: price("stranded", usual.stranded),
        helper_per_h: price("helper_per_h", usual.helper_per_h),
        overtime_after: Millis::from_hours(fields.optional(
            "overtime_after_h",
            number(Limits::between("hours", 0.0, 672.0)),
            usual.overtime_after.hours(),
        )),
        overtime_factor: fields.optional(
            "overtime_factor",
            number(Limits::between("factor", 1.0, 10.0)),
            usual.overtime_factor,
        ),
    };
    fields.finish();
    Some(money)
}
