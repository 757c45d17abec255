//! Mixes: absolute volumes, moisture, drum figures.

use super::{close, near, plain_mix};
use plantday::concrete::{
    AFTER_WATER_REVOLUTIONS, AirTarget, AirVerdict, Drum, Gravities, HrwrKind, MIXING_REVOLUTIONS,
    Masses, Mix, MixError, Moisture, Sensitivity, SlumpTarget, StrengthLaw, WATER_LB_PER_GAL,
    minutes_for, time_for,
};
use plantday::units::{Millis, Volume};

/// The retaining wall of the United States Navy's course "Engineering Aid" (NAVEDTRA 14071, chapter 17, absolute volume
/// method): 3 in slump, 5 % air, 305 lb of water, w/c 0.50, 1,735 lb of coarse aggregate of gravity 2.60; fine aggregate of
/// gravity 2.65 comes to 1,153 lb, cement to 6.49 sacks, water to 36.6 gallons.
fn retaining_wall() -> Mix {
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

#[test]
fn the_absolute_volume_method_gives_the_published_fine_aggregate() {
    let mix = retaining_wall().filled_with_fine().unwrap();
    near(mix.per_yd3.fine_lb, 1_153.0, 2.0); // printed with volumes rounded to hundredths of a ft³
    near(mix.per_yd3.cement_lb / 94.0, 6.49, 0.005);
    near(mix.per_yd3.water_lb / WATER_LB_PER_GAL, 36.6, 0.06);
    near(mix.design_ft3(), 27.0, 1e-9);
    near(mix.wc(), 0.5, 1e-12);
    near(mix.yield_yd3(mix.per_yd3, 5.0), 1.0, 1e-12);
    // 610 + 305 + 1,735 + 1,153 = 3,803 lb: 140.9 lb/ft³.
    near(mix.lb_per_yd3() / 27.0, 3_803.0 / 27.0, 0.1);
    assert_eq!(mix.check(), Ok(()));
}

#[test]
fn a_mix_that_does_not_fill_its_yard_is_told_by_how_much() {
    let mut mix = retaining_wall();
    mix.per_yd3.fine_lb = 1_153.0;
    assert_eq!(mix.check(), Ok(()), "the published rounding passes");
    // The printed figures fill 27.01 ft³; 100 lb of cement more are 100 ÷ (3.15 × 62.4) = 0.51.
    mix.per_yd3.cement_lb += 100.0;
    let said = mix.check().unwrap_err().to_string();
    assert!(
        said.contains("add up to 27.52 ft³, 0.52 ft³ more than the 27 ft³"),
        "{said}"
    );
    mix.per_yd3.fine_lb = 900.0;
    let said = mix.check().unwrap_err().to_string();
    assert!(said.contains("ft³ less than the 27 ft³"), "{said}");
    mix.per_yd3.coarse_lb = 5_000.0;
    assert!(matches!(
        mix.filled_with_fine(),
        Err(MixError::NoRoom { .. })
    ));
}

#[test]
fn every_field_of_a_mix_is_looked_at() {
    let good = retaining_wall().filled_with_fine().unwrap();
    let refused = |change: fn(&mut Mix)| {
        let mut mix = good;
        change(&mut mix);
        mix.check().unwrap_err()
    };
    assert_eq!(refused(|mix| mix.per_yd3.water_lb = 0.0), MixError::Masses);
    assert_eq!(
        refused(|mix| mix.per_yd3.binder_lb = f64::NAN),
        MixError::Masses
    );
    assert_eq!(refused(|mix| mix.gravities.fine = 0.0), MixError::Gravities);
    assert_eq!(refused(|mix| mix.air.target = 25.0), MixError::Air);
    assert_eq!(refused(|mix| mix.slump.target_in = 12.0), MixError::Slump);
    assert_eq!(refused(|mix| mix.specified_psi = 0.0), MixError::Strength);
    assert_eq!(refused(|mix| mix.binder_counts = -0.1), MixError::Binder);
    assert!(matches!(
        refused(|mix| mix.most_wc = Some(0.45)),
        MixError::AboveItsLimit { .. }
    ));
}

/// Army "Concrete and Masonry" course EN5466, lesson 2: 2 % on 1,768 lb of coarse and 6 % on 1,083 lb of fine aggregate are
/// 100.34 lb of water per yd³ (12 gallons).
#[test]
fn water_on_the_aggregate_is_real_water() {
    let mut mix = retaining_wall();
    mix.per_yd3.fine_lb = 1_083.0;
    mix.per_yd3.coarse_lb = 1_768.0;
    let one = Volume::from_yd3(1.0);
    let known = |share| Moisture {
        believed: share,
        real: share,
    };
    let right = mix.batched(one, known(0.06), known(0.02));
    near(right.water_lb, 305.0, 1e-9);
    near(right.fine_lb, 1_083.0, 1e-9);
    // Nobody reckoned with it: in a pound weighed 1 ÷ 1.06 is sand. 1,083 × 0.06 ÷ 1.06 + 1,768 × 0.02 ÷ 1.02 = 95.97 lb.
    let unseen = |real| Moisture {
        believed: 0.0,
        real,
    };
    let wet = mix.batched(one, unseen(0.06), unseen(0.02));
    near(wet.water_lb - 305.0, 95.97, 0.01);
    near(wet.fine_lb, 1_083.0 / 1.06, 1e-9);
    near(wet.total_lb(), mix.lb_per_yd3(), 1e-9);
    near((1_083.0 - wet.fine_lb) * 1.06, 64.98, 1e-9);
    near((1_768.0 - wet.coarse_lb) * 1.02, 35.36, 1e-9);
}

#[test]
fn a_probe_leaves_little_error() {
    let at = |sd| {
        let mix = plain_mix();
        let fine = Moisture::drawn(0.05, sd, 0.9);
        let masses = mix.batched(Volume::from_yd3(1.0), fine, Moisture::default());
        (masses.water_lb - mix.per_yd3.water_lb) / WATER_LB_PER_GAL
    };
    // z(0.9) = 1.2816 (tables): 1.28 % of some 1,200 lb of sand, nearly 2 gal.
    near(at(0.01), 1.8, 0.3);
    near(at(0.002), at(0.01) / 5.0, 0.02);
    near(Moisture::drawn(0.001, 0.01, 0.01).real, 0.0, 0.0);
}

/// NRMCA, "Delivery of ready mixed concrete": at most 63 % of the gross drum mixing.
#[test]
fn a_ten_yard_drum() {
    let drum = Drum::rated(Volume::from_yd3(10.0));
    close(drum.gross_yd3, 15.873_016, 0.001);
    assert_eq!(drum.most_mixed(), Volume::from_yd3(10.0));
    let small = Drum {
        gross_yd3: 15.0,
        ..drum
    };
    // 15 × 0.63 = 9.45.
    assert_eq!(small.most_mixed(), Volume::from_yd3(9.45));
}

/// NRMCA, "How is it produced": 70 revolutions at about 8 rpm in transit, 50 at 12 rpm in the yard, 70 in about 5 min; 30
/// after water.
#[test]
fn revolutions_take_their_minutes() {
    near(minutes_for(MIXING_REVOLUTIONS, 8.0), 8.75, 0.001);
    close(minutes_for(50.0, 12.0), 4.166_667, 0.001);
    near(minutes_for(MIXING_REVOLUTIONS, 14.0), 5.0, 0.001);
    near(minutes_for(AFTER_WATER_REVOLUTIONS, 12.0), 2.5, 0.001);
    close(minutes_for(300.0, 10.0 / 3.0), 90.0, 0.001);
    assert_eq!(time_for(AFTER_WATER_REVOLUTIONS, 12.0), Millis(150_000));
}

#[test]
fn air_is_drawn_about_its_target() {
    let air = AirTarget {
        target: 5.0,
        tolerance: 1.5,
    };
    near(air.drawn(0.6, 0.5), 5.0, 1e-12);
    // z(0.975) = 1.95996 (tables).
    near(air.drawn(1.0, 0.975), 6.95996, 1e-4);
    assert_eq!(air.judge(6.5), AirVerdict::Taken);
    assert_eq!(air.judge(6.51), AirVerdict::TooMuch);
    assert_eq!(air.judge(3.49), AirVerdict::TooLittle);
}
