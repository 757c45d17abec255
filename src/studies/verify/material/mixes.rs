//! Mixes: absolute volumes, moisture, drum figures.

use super::super::check::{Basis, Sheet};
use crate::concrete::{
    AFTER_WATER_REVOLUTIONS, AirTarget, Drum, Gravities, HrwrKind, MIXING_REVOLUTIONS, Masses, Mix,
    Moisture, Sensitivity, SlumpTarget, StrengthLaw, WATER_LB_PER_GAL, minutes_for,
};
use crate::units::Volume;

/// A plain mix without air: 340 lb of water per yd³, w/c 0.57, 4 in; fine aggregate fills it. Neither air nor warmth does anything
/// to it.
pub fn plain_mix() -> Mix {
    let mix = Mix {
        per_yd3: Masses {
            cement_lb: 340.0 / 0.57,
            water_lb: 340.0,
            coarse_lb: 1_750.0,
            ..Masses::default()
        },
        gravities: Gravities::USUAL,
        air: AirTarget {
            target: 0.0,
            tolerance: 1.5,
        },
        slump: SlumpTarget::USUAL,
        specified_psi: 4_000.0,
        law: StrengthLaw::AciPlain,
        most_wc: None,
        retarder: false,
        hrwr_kind: HrwrKind::Extended,
        binder_counts: 1.0,
        sensitivity: Sensitivity::NONE,
    };
    mix.filled_with_fine().expect("the yard has room for it")
}

/// The retaining wall of the United States Navy's course "Engineering Aid" (NAVEDTRA 14071, chapter 17, absolute volume
/// method): 3 in slump, 5 % air, 305 lb of water, w/c 0.50, 1,735 lb of coarse aggregate of gravity 2.60, fine aggregate of
/// gravity 2.65 that is still to be found.
pub fn retaining_wall() -> Mix {
    Mix {
        per_yd3: Masses {
            cement_lb: 610.0,
            water_lb: 305.0,
            coarse_lb: 1_735.0,
            ..Masses::default()
        },
        gravities: Gravities {
            fine: 2.65,
            coarse: 2.60,
            ..Gravities::USUAL
        },
        air: AirTarget {
            target: 5.0,
            tolerance: 1.5,
        },
        slump: SlumpTarget {
            target_in: 3.0,
            tolerance_in: 1.0,
        },
        specified_psi: 3_000.0,
        law: StrengthLaw::AciAirEntrained,
        most_wc: Some(0.50),
        retarder: false,
        hrwr_kind: HrwrKind::Extended,
        binder_counts: 1.0,
        sensitivity: Sensitivity::NONE,
    }
}

pub(super) fn check(sheet: &mut Sheet) {
    absolute_volumes(sheet);
    moisture(sheet);
    drums(sheet);
}

fn absolute_volumes(sheet: &mut Sheet) {
    let mix = retaining_wall().filled_with_fine();
    let mix = mix.expect("the yard has room for it");
    sheet.about(
        "A retaining wall by absolute volumes",
        Basis::Printed,
        "U.S. Navy, Engineering Aid, NAVEDTRA 14071, ch. 17: 1,153 lb of fine aggregate (volumes rounded to 0.01 ft³), 6.49 sacks, 36.6 gal",
    );
    sheet.near("fine aggregate, lb/yd³", mix.per_yd3.fine_lb, 1_153.0, 2.0);
    let sacks = mix.per_yd3.cement_lb / 94.0;
    sheet.near("cement, sacks/yd³", sacks, 6.49, 0.005);
    let gal = mix.per_yd3.water_lb / WATER_LB_PER_GAL;
    sheet.near("water, gal/yd³", gal, 36.6, 0.06);
    let lb_per_ft3 = mix.lb_per_yd3() / 27.0;
    sheet.near("weight, lb/ft³", lb_per_ft3, 3_803.0 / 27.0, 0.1);
}

fn moisture(sheet: &mut Sheet) {
    let mut mix = retaining_wall();
    mix.per_yd3.fine_lb = 1_083.0;
    mix.per_yd3.coarse_lb = 1_768.0;
    let one = Volume::from_yd3(1.0);
    let of = |believed, real| Moisture { believed, real };
    let known = mix.batched(one, of(0.06, 0.06), of(0.02, 0.02));
    let unseen = mix.batched(one, of(0.0, 0.06), of(0.0, 0.02));
    sheet.about(
        "Water on 1,768 lb of coarse aggregate (2%) and 1,083 of fine (6%)",
        Basis::Printed,
        "U.S. Army, Concrete and Masonry, EN5466, lesson 2: 35.36 + 64.98 = 100.34 lb of water a yd³",
    );
    let fine = (1_083.0 - unseen.fine_lb) * 1.06;
    sheet.near("on the fine aggregate, lb", fine, 64.98, 1e-9);
    let coarse = (1_768.0 - unseen.coarse_lb) * 1.02;
    sheet.near("on the coarse aggregate, lb", coarse, 35.36, 1e-9);
    sheet.about(
        "The same where nobody reckons with it",
        Basis::Paper,
        "In a pound weighed 1 ÷ 1.06 is sand: 1,083 × 0.06 ÷ 1.06 + 1,768 × 0.02 ÷ 1.02 = 95.97 lb",
    );
    sheet.near(
        "water too much, lb/yd³",
        unseen.water_lb - 305.0,
        95.97,
        0.01,
    );
    sheet.near(
        "water where it is known, lb/yd³",
        known.water_lb,
        305.0,
        1e-9,
    );

    let drawn = |sd| {
        let mix = plain_mix();
        let fine = Moisture::drawn(0.05, sd, 0.9);
        let masses = mix.batched(one, fine, Moisture::default());
        (masses.water_lb - mix.per_yd3.water_lb) / WATER_LB_PER_GAL
    };
    sheet.about(
        "Sand wetter than known, one batch in ten",
        Basis::Memory,
        "Normal table: z(0.9) = 1.2816, so 1.28% of some 1,200 lb of sand, nearly 2 gal",
    );
    sheet.near("without a probe (1%), gal/yd³", drawn(0.01), 1.8, 0.3);
    let with_probe = drawn(0.002);
    sheet.near(
        "with a probe (0.2%), gal/yd³",
        with_probe,
        drawn(0.01) / 5.0,
        0.02,
    );
}

fn drums(sheet: &mut Sheet) {
    sheet.about(
        "A drum rated at 10 yd³",
        Basis::Printed,
        "NRMCA, Delivery of ready mixed concrete: at most 63% of the gross drum when mixing",
    );
    let drum = Drum::rated(Volume::from_yd3(10.0));
    sheet.close("gross, yd³", drum.gross_yd3, 15.873_016, 0.001);
    let small = Drum {
        gross_yd3: 15.0,
        ..drum
    };
    sheet.near(
        "most in a gross drum of 15, yd³",
        small.most_mixed().yd3(),
        9.45,
        1e-9,
    );
    sheet.about(
        "How long revolutions take",
        Basis::Printed,
        "NRMCA, How is it produced: 70 at about 8 rpm in transit, 50 at 12 rpm in the yard, 70 in about 5 min, 30 after water",
    );
    for (revolutions, rpm, minutes) in [
        (MIXING_REVOLUTIONS, 8.0, 8.75),
        (50.0, 12.0, 4.166_667),
        (MIXING_REVOLUTIONS, 14.0, 5.0),
        (AFTER_WATER_REVOLUTIONS, 12.0, 2.5),
    ] {
        let figure = format!("{revolutions} at {rpm} rpm, min");
        sheet.near(figure, minutes_for(revolutions, rpm), minutes, 0.001);
    }
}
