//! Mixes: absolute volumes, moisture, drum figures.

use super::near;
use plantday::concrete::{
    AFTER_WATER_REVOLUTIONS, AirTarget, AirVerdict, Mix, MixError, Moisture, time_for,
};
use plantday::studies::verify::material::retaining_wall;
use plantday::units::{Millis, Volume};

#[test]
fn a_mix_fills_its_yard_and_loses_no_pound() {
    let mix = retaining_wall().filled_with_fine().unwrap();
    near(mix.design_ft3(), 27.0, 1e-9);
    near(mix.wc(), 0.5, 1e-12);
    near(mix.yield_yd3(mix.per_yd3, 5.0), 1.0, 1e-12);
    assert_eq!(mix.check(), Ok(()));
    let unseen = |real| Moisture {
        believed: 0.0,
        real,
    };
    let wet = mix.batched(Volume::from_yd3(1.0), unseen(0.06), unseen(0.02));
    near(wet.total_lb(), mix.lb_per_yd3(), 1e-9);
    near(Moisture::drawn(0.001, 0.01, 0.01).real, 0.0, 0.0);
    assert_eq!(time_for(AFTER_WATER_REVOLUTIONS, 12.0), Millis(150_000));
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
