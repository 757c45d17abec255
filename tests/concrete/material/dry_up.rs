//! Dry-ups worked on paper: definition of w/c, 8.3454 lb/gal, 94 lb bags, absolute volumes with 62.4 lb/ft³.

use super::{close, near, plain_mix};
use plantday::concrete::{Drum, DryUp, DryUpWith, Load, Mix, Sensitivity};
use plantday::units::Volume;
use proptest::prelude::*;

/// 10 yd³ with so many gal/yd³ too much.
fn wet(mix: &Mix, gal_yd3: f64) -> Load {
    let mut load = Load::batched(mix.per_yd3 * 10.0, 0.0);
    load.add_water(mix, gal_yd3 * 10.0);
    load
}

fn drum(rated_yd3: f64) -> Drum {
    Drum::rated(Volume::from_yd3(rated_yd3))
}

/// 3,566.9 lb of water make 3,566.9 ÷ 340 = 10.4909 yd³ of this mix, so 0.4909 yd³ of room; half a yard just absorbs 2.04
/// gal/yd³.
#[test]
fn cement_and_fine_bring_slump_and_wc_back() {
    let mix = plain_mix();
    let mut load = wet(&mix, 2.0);
    let needed = DryUp::needed(&load, &mix, &drum(10.5), DryUpWith::CementAndFine);
    assert!(needed.fits());
    close(needed.after_yd3 - 10.0, 0.490_906, 0.005);
    load.dry_up(&mix, &needed);
    near(load.wc(), 0.57, 1e-12);
    near(load.slump_in(&mix), 4.0, 1e-9);
    assert!(load.ledger.balances());
}

/// 5 gal/yd³ too much grow the load to 3,817.27 ÷ 340 = 11.2273 yd³. In a 10.5 yd³ drum 10.5 ÷ 11.2273 of the wet 10.2477
/// yd³ may stay: 0.664 yd³ are dumped first.
#[test]
fn what_has_no_room_is_dumped_first() {
    let mix = plain_mix();
    let mut load = wet(&mix, 5.0);
    let needed = DryUp::needed(&load, &mix, &drum(10.5), DryUpWith::CementAndFine);
    assert!(!needed.fits());
    near(needed.dump.yd3(), 0.664, 0.001);
    // 11.2273 − 10.2477 for the whole, and so much less for what is kept.
    near(needed.added_yd3, 0.9796 * 10.5 / 11.2273, 0.001);
    load.dry_up(&mix, &needed);
    let after = load.volume_yd3(&mix);
    assert!(after <= 10.5 && after > 10.498, "{after}");
    near(after, needed.after_yd3, 1e-9);
    near(load.wc(), 0.57, 1e-12);
    near(load.slump_in(&mix), 4.0, 1e-9);
    assert!(load.ledger.balances());
    // The gross drum is the physical limit whatever the rating says.
    let small = Drum {
        gross_yd3: 16.0, // 10.08 yd³ of mixing
        ..drum(10.5)
    };
    let tight = DryUp::needed(&wet(&mix, 2.0), &mix, &small, DryUpWith::CementAndFine);
    assert!(!tight.fits() && tight.after_yd3 <= 10.08);
}

#[test]
fn a_load_that_is_not_wet_needs_nothing() {
    let mix = plain_mix();
    let load = Load::batched(mix.per_yd3 * 10.0, 0.0);
    let needed = DryUp::needed(&load, &mix, &drum(10.0), DryUpWith::CementAndFine);
    near(needed.masses.total_lb(), 0.0, 1e-6);
    assert!(needed.fits());
}

proptest! {
    /// Whatever was added and lost: the w/c is the mix's, the load is not wetter than its target, the drum holds it, nothing is lost.
    #[test]
    fn a_dry_up_always_ends_where_it_should(
        gal_yd3 in 0.0..12.0,
        hrwr_lb in 0.0..40.0,
        yd3 in 0.5..10.5,
        rated in 8.0..12.0,
        minutes in 0.0..60.0,
        air in 0.0..8.0,
    ) {
        let mut mix = plain_mix();
        mix.sensitivity = Sensitivity::USUAL;
        let mut load = Load::batched(mix.per_yd3 * yd3, air);
        load.add_water(&mix, gal_yd3 * yd3);
        load.add_hrwr(hrwr_lb);
        load.turn(minutes, 2.0, 80.0);
        let most = drum(rated).most_mixed().yd3();
        let needed = DryUp::needed(&load, &mix, &drum(rated), DryUpWith::CementAndFine);
        load.dry_up(&mix, &needed);
        prop_assert!((load.wc() - mix.wc()).abs() < 1e-9);
        prop_assert!(load.slump_in(&mix) < mix.slump.target_in + 1e-6);
        prop_assert!(load.volume_yd3(&mix) < most + 1e-6);
        prop_assert!((load.volume_yd3(&mix) - needed.after_yd3).abs() < 1e-9);
        prop_assert!(load.ledger.balances());
    }
}

#[test]
fn an_empty_drum_needs_nothing() {
    let mix = plain_mix();
    let mut load = wet(&mix, 3.0);
    load.dump_rest();
    let needed = DryUp::needed(&load, &mix, &drum(10.0), DryUpWith::CementAndFine);
    near(needed.after_yd3, 0.0, 0.0);
    load.dry_up(&mix, &needed);
    near(load.weight_lb(), 0.0, 1e-6);
}
