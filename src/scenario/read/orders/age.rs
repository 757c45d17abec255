//! How old the loads of an order may be.

use crate::concrete::OrderAge;
use crate::scenario::decode::{Fields, Limits, Shown, number};
use crate::scenario::defaults;
use crate::scenario::problem::Problems;
use crate::scenario::read::money::per_yd3;
use crate::scenario::tree::Node;
use crate::units::{Millis, Rate};

/// What an order says of the age of its loads.
#[derive(Clone, Copy)]
pub(super) struct Aged {
    pub(super) age: OrderAge,
    pub(super) waived: Option<f64>,
    pub(super) stabilizer_per_yd3: Rate,
}

/// `(min: 60, per_yd3: 4)`
struct Stabilizer(Millis, Rate);

impl Shown for Stabilizer {}

const MINUTES: Limits = Limits::above("minutes", 0.0, 1_440.0);

impl Aged {
    pub(super) fn read(fields: &mut Fields<'_>) -> Self {
        let limit = fields.off(&defaults::ORDER_AGE_LIMIT, number(MINUTES));
        let share = number(Limits::between("share of loads", 0.0, 1.0));
        let waived = fields.off(&defaults::AGE_WAIVED, share);
        let stabilizer = fields.off(&defaults::STABILIZER, stabilizer);
        let Stabilizer(stabilized, stabilizer_per_yd3) =
            stabilizer.unwrap_or(Stabilizer(Millis::ZERO, Rate::ZERO));
        Self {
            age: OrderAge {
                limit: limit.map(Millis::from_minutes),
                stabilized,
            },
            waived,
            stabilizer_per_yd3,
        }
    }
}

fn stabilizer(node: &Node, problems: &Problems) -> Option<Stabilizer> {
    let mut fields = Fields::of(node, "stabilizer block", problems)?;
    let min = fields.required("min", number(MINUTES));
    let per_yd3 = fields.required("per_yd3", per_yd3);
    fields.finish();
    Some(Stabilizer(Millis::from_minutes(min?), per_yd3?))
}
