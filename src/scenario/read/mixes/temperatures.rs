//! The air over the day.

use crate::concrete::AirTemperature;
use crate::scenario::decode::{Contents, Limits, number};

type Read = fn(Contents<'_>) -> Option<AirTemperature>;

pub(super) const TEMPERATURES: [(&str, Read); 2] = [
    ("Steady", |contents| {
        let mut fields = contents.fields(&["f"])?;
        let f = fields.required("f", number(AIR));
        fields.finish();
        Some(AirTemperature::Steady(f?))
    }),
    ("Daily", |contents| {
        let mut fields = contents.fields(&["mean_f", "swing_f", "warmest_h"])?;
        let mean_f = fields.required("mean_f", number(AIR));
        let swing_f = fields.required(
            "swing_f",
            number(Limits::between("°F", 0.0, 40.0).difference()),
        );
        let warmest_h = fields.optional(
            "warmest_h",
            number(Limits::between("hour", 0.0, 24.0)),
            15.0,
        );
        fields.finish();
        Some(AirTemperature::Daily {
            mean_f: mean_f?,
            swing_f: swing_f?,
            warmest_h,
        })
    }),
];

const AIR: Limits = Limits::between("°F", -20.0, 130.0);
