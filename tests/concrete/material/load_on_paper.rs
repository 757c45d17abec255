//! What the load of `plantday verify` that is followed on paper comes to besides: verdicts, and a ledger that is even at every step.

use super::near;
use plantday::concrete::{Drum, DryUp, DryUpWith, Load, Masses, SlumpVerdict};
use plantday::studies::verify::material::loaded_mix;
use plantday::units::Volume;

#[test]
fn a_load_batched_misread_watered_dried_up_and_delivered() {
    let mix = loaded_mix();
    let drum = Drum::rated(Volume::from_yd3(10.5));
    let mut load = Load::batched(mix.per_yd3 * 10.0, mix.air.target);
    assert!(load.ledger.balances());
    // He reads 3 in for 8: more than 50 gal seem to be missing; 50 go in.
    assert!(load.water_for_reading_gal(&mix, 3.0, 8.0) > 50.0);
    load.add_water(&mix, 50.0);
    assert_eq!(mix.slump.judge(load.slump_in(&mix)), SlumpVerdict::TooWet);
    let needed = DryUp::needed(&load, &mix, &drum, DryUpWith::CementAndFine);
    load.dry_up(&mix, &needed);
    assert!(load.ledger.balances());
    load.mix(70.0, 70.0);
    load.turn(30.0, 2.0, 70.0);
    assert_eq!(mix.slump.judge(load.slump_in(&mix)), SlumpVerdict::TooStiff);
    load.place(&mix, Volume::from_yd3(10.0));
    near(load.volume_yd3(&mix), 0.4992, 0.00005);
    near(load.wc(), 0.5291, 0.00005);
    load.dump_rest();
    assert!(load.ledger.balances());
}

#[test]
fn placing_more_than_there_is_places_what_there_is() {
    let mix = loaded_mix();
    let mut load = Load::batched(mix.per_yd3 * 2.0, mix.air.target);
    let placed = load.place(&mix, Volume::from_yd3(3.0));
    near(placed.total_lb(), 2.0 * mix.lb_per_yd3(), 1e-6);
    assert_eq!(load.place(&mix, Volume::from_yd3(1.0)), Masses::default());
    assert!(load.ledger.balances());
    let mut cheat = load.ledger;
    cheat.placed.cement_lb += 1.0;
    assert!(!cheat.balances());
}
