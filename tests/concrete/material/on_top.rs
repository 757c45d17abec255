//! Fresh concrete on top of what is left of an older load. Common practice, no source: volumes mix, and the oldest counts.

use super::{near, plain_mix};
use plantday::concrete::{Load, Masses, Mix, SlumpMeter};
use plantday::units::Volume;

/// Half a gallon of HRWR a yd³ in the plain mix, which takes it to 8 in; fine aggregate as it was.
fn with_hrwr() -> Mix {
    let mut mix = plain_mix();
    mix.per_yd3.hrwr_lb = 4.4;
    mix.slump.target_in = 8.0;
    mix
}

fn batched(mix: &Mix, yd3: f64, air: f64) -> Load {
    Load::batched(mix.per_yd3 * yd3, air)
}

/// 2 yd³ after an hour at 2 rpm under 8 fresh: masses add up, 120 revolutions count on, and an hour's loss of 2 gal/yd³ is 0.4 in
/// the whole.
#[test]
fn volumes_mix_and_the_oldest_counts() {
    let mix = plain_mix();
    let mut old = batched(&mix, 10.0, 0.0);
    old.turn(60.0, 2.0, 70.0);
    let placed = old.place(&mix, Volume::from_yd3(8.0));
    let fresh = batched(&mix, 8.0, 0.0);
    let both = fresh.on_top_of(&old, &mix);
    assert!(both.ledger.balances());
    let went_in = mix.per_yd3 * 18.0 - placed;
    for (found, expected) in both.in_drum().parts().into_iter().zip(went_in.parts()) {
        near(found, expected, 1e-6);
    }
    near(both.ledger.under.total_lb(), 2.0 * mix.lb_per_yd3(), 1e-6);
    near(both.volume_yd3(&mix), 10.0, 1e-9);
    near(both.revolutions, 120.0, 1e-9);
    let slump = |load: &Load| load.consistency(&mix).gal_yd3;
    near(slump(&fresh) - slump(&old), 2.0, 1e-9);
    near(slump(&fresh) - slump(&both), 0.4, 1e-9);
    // All that was in it goes again, and the ledger is even.
    let mut both = both;
    both.place_rest();
    assert_eq!(both.in_drum(), Masses::default());
}

/// 2 yd³ with 6 % of air, 8 with 4 %, both reckoned without air: 2 ÷ 0.94 and 8 ÷ 0.96 yd³ mix.
#[test]
fn air_mixes_by_volume() {
    let mix = plain_mix();
    let old = batched(&mix, 2.0, 6.0);
    let both = batched(&mix, 8.0, 4.0).on_top_of(&old, &mix);
    let (below, above) = (2.0 / 0.94, 8.0 / 0.96);
    near(
        both.air,
        (below * 6.0 + above * 4.0) / (below + above),
        1e-9,
    );
}

/// The meter does not see HRWR that has just come in; concrete without any leaves what is mixed in as it was.
#[test]
fn fresh_hrwr_is_not_mixed_in() {
    let mix = with_hrwr();
    let meter = SlumpMeter {
        sd_in: 0.0,
        ..SlumpMeter::USUAL
    };
    let mut old = batched(&mix, 2.0, 0.0);
    old.turn(10.0, 12.0, 70.0);
    let seen =
        |load: &Load| load.reading_in(&mix, &meter, 0.5) - load.without_hrwr(&mix).slump_in();
    assert!(seen(&old) > 1.0);
    near(
        seen(&batched(&mix, 8.0, 0.0).on_top_of(&old, &mix)),
        0.0,
        1e-9,
    );
    let bare = batched(&plain_mix(), 8.0, 0.0).on_top_of(&old, &mix);
    near(bare.mixing_min_since_hrwr, 10.0, 1e-9);
    near(bare.revolutions_since_hrwr, 120.0, 1e-9);
    assert!(seen(&bare) > 0.1);
}
