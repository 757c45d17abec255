//! Dry-ups worked on paper: definition of w/c, 8.3454 lb/gal, 94 lb bags, absolute volumes with 62.4 lb/ft³.

use super::super::check::{Basis, Sheet};
use super::plain_mix;
use crate::concrete::{Drum, DryUp, DryUpWith, Load, Mix};
use crate::units::Volume;

/// 10 yd³ with so many gal/yd³ too much.
fn wet(mix: &Mix, gal_yd3: f64) -> Load {
    let mut load = Load::batched(mix.per_yd3 * 10.0, 0.0);
    load.add_water(mix, gal_yd3 * 10.0);
    load
}

pub(super) fn check(sheet: &mut Sheet) {
    let mix = plain_mix();
    let drum = |rated_yd3: f64| Drum::rated(Volume::from_yd3(rated_yd3));
    sheet.about(
        "20 gal too much in 10 yd³, cement alone",
        Basis::Paper,
        "20 × 8.3454 = 166.9 lb ÷ 0.57 = 292.8 lb of cement, 3.12 bags; with the water 2.675 + 1.490 = 4.165 ft³",
    );
    let mut load = wet(&mix, 2.0);
    let needed = DryUp::needed(&load, &mix, &drum(12.0), DryUpWith::CementOnly);
    sheet.near("cement, lb", needed.masses.cement_lb, 292.821, 0.01);
    let more = (needed.after_yd3 - 10.0) * 27.0;
    sheet.near("volume more, ft³", more, 4.165, 0.01);
    load.dry_up(&mix, &needed);
    sheet.near("w/c after it", load.wc(), 0.57, 1e-12);
    // (3,566.9 ÷ 8.3454) ÷ 10.1543 = 42.09 gal/yd³, 1.35 above the mix, 0.799 for an inch.
    sheet.near("slump after it, in", load.slump_in(&mix), 5.69, 0.01);

    sheet.about(
        "20 gal too much in 10 yd³, cement and fine aggregate",
        Basis::Paper,
        "3,566.9 lb of water make 3,566.9 ÷ 340 = 10.4909 yd³; 13.254 − 4.165 ft³ × 2.64 × 62.4 = 1,497 lb of fine aggregate",
    );
    let mut load = wet(&mix, 2.0);
    let needed = DryUp::needed(&load, &mix, &drum(10.5), DryUpWith::CementAndFine);
    sheet.near("fine aggregate, lb", needed.masses.fine_lb, 1_497.4, 1.0);
    load.dry_up(&mix, &needed);
    sheet.near(
        "volume after it, yd³",
        load.volume_yd3(&mix),
        10.490_906,
        0.001,
    );
    sheet.near("w/c after it", load.wc(), 0.57, 1e-12);
    sheet.near("slump after it, in", load.slump_in(&mix), 4.0, 1e-9);

    sheet.about(
        "How much too wet half a yard of room just absorbs",
        Basis::Paper,
        "0.5 × 340 ÷ 8.3454 ÷ 10 = 2.03705 gal/yd³",
    );
    for (gal_yd3, fits) in [(2.037, true), (2.038, false)] {
        let load = wet(&mix, gal_yd3);
        let needed = DryUp::needed(&load, &mix, &drum(10.5), DryUpWith::CementAndFine);
        sheet.yes(format!("{gal_yd3} gal/yd³ fit"), needed.fits(), fits);
    }

    sheet.about(
        "5 gal a yd³ too much in a drum of 10.5 yd³",
        Basis::Paper,
        "The load would grow to 3,817.27 ÷ 340 = 11.2273 yd³; 10.5 ÷ 11.2273 of 10.2477 yd³ may stay",
    );
    let load = wet(&mix, 5.0);
    let needed = DryUp::needed(&load, &mix, &drum(10.5), DryUpWith::CementAndFine);
    sheet.near("dumped first, yd³", needed.dump.yd3(), 0.664, 0.0005);
}
