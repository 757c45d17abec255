//! Weight against 23 U.S.C. 127 and its published table.

use super::{close, near};
use plantday::concrete::{
    Axle, AxleLayout, AxleLayoutError, CONCRETE_LB_PER_YD3, WeightLimit, bridge_formula_lb,
    volume_of_lb,
};
use plantday::units::Volume;
use proptest::prelude::*;

/// 150 lb/ft³ × 27; a 26,000 lb truck with 10 yd³ weighs 66,500 lb (general public guides).
#[test]
fn a_yard_weighs_4050_lb() {
    near(CONCRETE_LB_PER_YD3, 150.0 * 27.0, 0.0);
    near(26_000.0 + 10.0 * CONCRETE_LB_PER_YD3, 66_500.0, 0.0);
    assert_eq!(
        volume_of_lb(40_500.0, CONCRETE_LB_PER_YD3),
        Volume::from_yd3(10.0)
    );
    assert_eq!(
        volume_of_lb(40_499.0, CONCRETE_LB_PER_YD3),
        Volume::from_yd3(9.999)
    );
}

fn axle(at_ft: f64, empty_lb: f64, share: f64) -> Axle {
    Axle {
        at_ft,
        empty_lb,
        share,
    }
}

/// 28,000 lb empty, outer axles 20 ft apart.
fn three_axles() -> AxleLayout {
    AxleLayout::new(&[
        axle(0.0, 12_000.0, 0.10),
        axle(15.6, 8_000.0, 0.45),
        axle(20.0, 8_000.0, 0.45),
    ])
    .unwrap()
}

/// On paper: gross 52,000 lb free; steer 8,000 ÷ 0.10 = 80,000; drive axle 12,000 ÷ 0.45 = 26,667; tandem (34,000 − 16,000)
/// ÷ 0.90 = 20,000; bridge 2–3 the same; bridge 1–3: 51,000 − 28,000 = 23,000, the 5.68 yd³ of the formula; bridge 1–2 over
/// 15.6 ft: 500 (31.2 + 60) = 45,600, rounded 45,500, less 20,000 ÷ 0.55 = 46,364. The tandem binds: 4.938 yd³.
#[test]
fn the_largest_legal_load_of_a_short_truck() {
    let truck = three_axles();
    near(truck.empty_lb(), 28_000.0, 0.0);
    let legal = truck.largest_legal(None);
    near(legal.payload_lb, 20_000.0, 1e-6);
    assert_eq!(legal.by, WeightLimit::Tandem(1, 2));
    assert_eq!(
        volume_of_lb(legal.payload_lb + 1e-6, CONCRETE_LB_PER_YD3),
        Volume::thousandths(4_938)
    );
    close(
        (bridge_formula_lb(3, 20.0) - truck.empty_lb()) / 4_050.0,
        5.679_012,
        0.005,
    );
    assert_eq!(truck.overweight(20_000.0, None), None);
    // 24,000 lb: tandem 16,000 + 21,600 = 37,600 is 3,600 over; the bridge only 1,000.
    let (by, over) = truck.overweight(24_000.0, None).unwrap();
    assert_eq!(by, WeightLimit::Tandem(1, 2));
    near(over, 3_600.0, 1e-6);
    let strict = truck.largest_legal(Some(40_000.0));
    near(strict.payload_lb, 12_000.0, 1e-9);
    assert_eq!(strict.by, WeightLimit::Gross);
}

/// Steer, pusher, tandem and a booster 11 ft behind, 36 ft in all; 33,000 lb empty. On paper: gross 47,000; steer 10,000 ÷
/// 0.15 = 66,667; tandem (34,000 − 15,000) ÷ 0.50 = 38,000; five axles over 36 ft: 500 (45 + 96) = 70,500 less 33,000 =
/// 37,500; three axles, pusher and tandem over 9 ft: 42,500 − 18,000 over 0.66 = 37,121; steer to tandem over 25 ft, four
/// axles: 500 (33.33 + 84) = 58,667, rounded 58,500, less 28,000 over 0.81 = 37,654; tandem and booster, three axles over
/// 15.4 ft: 500 (23.1 + 72) = 47,550, rounded 47,500, less 20,000 over 0.69 = 39,855; steer and pusher over 16 ft: 46,000 −
/// 13,000 over 0.31; pusher to booster, four axles over 20 ft: 55,500 − 23,000 over 0.85 = 38,235. The pusher group binds:
/// 9.165 yd³, nearly twice the short truck's.
#[test]
fn pusher_and_booster_carry_nearly_twice_as_much() {
    let truck = AxleLayout::new(&[
        axle(0.0, 10_000.0, 0.15),
        axle(16.0, 3_000.0, 0.16),
        axle(20.6, 7_500.0, 0.25),
        axle(25.0, 7_500.0, 0.25),
        axle(36.0, 5_000.0, 0.19),
    ])
    .unwrap();
    let legal = truck.largest_legal(None);
    near(legal.payload_lb, 24_500.0 / 0.66, 1e-6);
    assert_eq!(legal.by, WeightLimit::Bridge(1, 3));
    assert_eq!(
        volume_of_lb(legal.payload_lb, CONCRETE_LB_PER_YD3),
        Volume::thousandths(9_165)
    );
    assert_eq!(truck.overweight(legal.payload_lb, None), None);
    assert!(truck.overweight(legal.payload_lb + 1.0, None).is_some());
}

#[test]
fn a_truck_too_heavy_empty_and_axles_that_are_none() {
    let heavy = AxleLayout::new(&[axle(0.0, 21_000.0, 0.0), axle(20.0, 10_000.0, 1.0)]).unwrap();
    near(heavy.largest_legal(None).payload_lb, -1_000.0, 1e-9);
    assert_eq!(
        heavy.overweight(0.0, None),
        Some((WeightLimit::Axle(0), 1_000.0))
    );
    let refused = |axles: &[Axle]| AxleLayout::new(axles).unwrap_err();
    let front = axle(0.0, 9_000.0, 0.5);
    assert_eq!(refused(&[front]), AxleLayoutError::Count(1));
    assert_eq!(refused(&[front, front]), AxleLayoutError::Order(2));
    assert_eq!(
        refused(&[front, axle(9.0, -1.0, 0.5)]),
        AxleLayoutError::Empty(2)
    );
    assert!(matches!(
        refused(&[front, axle(9.0, 1.0, f64::NAN)]),
        AxleLayoutError::Shares(_)
    ));
    assert_eq!(
        refused(&[front, axle(9.0, 1.0, 0.7)]).to_string(),
        "the axles bear 1.200 of the concrete, not 1"
    );
}

proptest! {
    /// The largest legal load is legal, and 10 lb more are not.
    #[test]
    fn the_largest_legal_load_is_the_largest(
        gaps in prop::collection::vec((3.5..16.0, 2_000.0..9_000.0, 0.05..1.0), 1..7),
        front in 6_000.0..14_000.0,
        state in prop::option::of(50_000.0..80_000.0),
    ) {
        let whole: f64 = 0.2 + gaps.iter().map(|gap| gap.2).sum::<f64>();
        let mut axles = vec![axle(0.0, front, 0.2 / whole)];
        let mut at_ft = 0.0;
        for (gap_ft, empty_lb, share) in gaps {
            at_ft += gap_ft;
            axles.push(axle(at_ft, empty_lb, share / whole));
        }
        let truck = AxleLayout::new(&axles).unwrap();
        let legal = truck.largest_legal(state).payload_lb;
        prop_assume!(legal > 0.0);
        prop_assert_eq!(truck.overweight(legal, state), None);
        prop_assert!(truck.overweight(legal + 10.0, state).is_some());
    }
}
