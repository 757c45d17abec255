//! Slump: water, HRWR, time, temperature, readings.

use super::{close, near, plain_mix};
use plantday::concrete::{
    Consistency, Load, MIXING_LOSS_GAL_MIN, SlumpMeter, SlumpTarget, SlumpVerdict, WATER_GAL_PER_F,
    WATER_LB_PER_GAL, loss_gal_min, slump_test_in, water_between_gal_yd3,
};

const KG_M3_PER_LB_YD3: f64 = 0.453_592_37 / 0.764_554_858;

/// So many minutes later.
fn after(fresh: Consistency, minutes: f64, rpm: f64, concrete_f: f64) -> Consistency {
    fresh.with_water(-minutes * loss_gal_min(rpm, concrete_f))
}

/// "One inch for a gallon per yd³" (Concrete Construction, "Adjusting slump in the field" and "Adding water"), from 2 in to
/// 6.
#[test]
fn a_gallon_gives_an_inch_in_the_middle_and_less_at_the_top() {
    for slump in [2.0, 3.0, 4.0, 5.0] {
        let after = Consistency::from_slump(slump).with_water(1.0);
        near(after.slump_in(), slump + 1.0, 0.25);
    }
    let mut last = 1.1;
    for slump in [5.9, 7.0, 8.0, 9.0, 10.0, 10.9] {
        let gained = Consistency::from_slump(slump).with_water(1.0).slump_in() - slump;
        assert!(gained > 0.0 && gained < last, "{slump}: {gained}");
        last = gained;
    }
    near(Consistency { gal_yd3: 500.0 }.slump_in(), 11.0, 1e-9);
    near(Consistency { gal_yd3: -3.0 }.slump_in(), 0.0, 0.0);
    for tenths in 0..110 {
        let slump = f64::from(tenths) / 10.0;
        near(Consistency::from_slump(slump).slump_in(), slump, 1e-9);
    }
}

/// ACI 211.1 (SI, 20 mm aggregate): 185 kg/m³ at 30–50 mm, 200 at 80–100 mm, so 1.54 gal/yd³ for an inch; US table, ¾ in:
/// 340 to 360 lb/yd³ from 3–4 to 6–7 in (from memory), 0.8 gal. The middle of the two is the inch per gallon.
#[test]
fn the_response_lies_between_the_two_published_slopes() {
    let low: f64 = 15.0 / KG_M3_PER_LB_YD3 / WATER_LB_PER_GAL / (50.0 / 25.4);
    close(low, 1.539_043, 0.01);
    let high = 20.0 / WATER_LB_PER_GAL / 3.0;
    let model = water_between_gal_yd3(3.5, 6.5) / 3.0;
    assert!(high < model && model < low, "{high} {model} {low}");
}

/// 3 in to 8 in at constant w/c by 0.2 to 0.6 gal/yd³ (JoVE Science Education, superplasticizers).
#[test]
fn hrwr_takes_three_inches_to_eight() {
    let at = |gal| Consistency::from_slump(3.0).with_hrwr(gal).slump_in();
    near(at(0.4), 8.0, 0.001);
    assert!(at(0.2) < 6.0 && at(0.6) > 9.0);
}

/// Prolonged mixing, PCA tests (Concrete Construction, "Long time mixing"): 9.0, 8.4, 6.4 and 2.6 in at 1, 5, 30 and 60
/// min. A straight line through them falls by 0.105581 in a minute.
#[test]
fn mixing_loses_slump_as_the_pca_series() {
    let minutes = [1.0, 5.0, 30.0, 60.0];
    let measured: [f64; 4] = [9.0, 8.4, 6.4, 2.6];
    let gallons = measured.map(|slump| Consistency::from_slump(slump).gal_yd3);
    let (start, slope) = line(minutes, gallons);
    close(-slope, MIXING_LOSS_GAL_MIN, 0.001);
    let model =
        minutes.map(|minute| after(Consistency { gal_yd3: start }, minute, 12.0, 70.0).slump_in());
    for (model, measured) in model.iter().zip(measured) {
        near(*model, measured, 0.25);
    }
    close(line(minutes, measured).1, -0.105_581, 0.001);
    close(line(minutes, model).1, -0.105_581, 0.03);
}

/// Least squares: value at 0 and slope.
fn line(x: [f64; 4], y: [f64; 4]) -> (f64, f64) {
    let (mx, my) = (x.iter().sum::<f64>() / 4.0, y.iter().sum::<f64>() / 4.0);
    let xy: f64 = x.iter().zip(y).map(|(x, y)| (x - mx) * (y - my)).sum();
    let xx: f64 = x.iter().map(|x| (x - mx) * (x - mx)).sum();
    (my - xy / xx * mx, xy / xx)
}

/// 33 lb/yd³ of water from 50 to 100 °F for the same slump (SDSU Extension Extra 1006, 2002): 0.79 gal/yd³ for 10 °F. An
/// hour's loss is an inch more at 90 than at 70 °F (chart of ACI 305R, from memory).
#[test]
fn warm_concrete_needs_water_and_loses_slump_sooner() {
    close(WATER_GAL_PER_F * 10.0, 0.790_855, 0.01);
    near(WATER_GAL_PER_F * 50.0 * WATER_LB_PER_GAL, 33.0, 1e-9);
    // The plant reckoned with 60 °F and the concrete has 70: 0.79 in of slump are missing.
    let mix = plain_mix();
    let mut load = Load::batched(mix.per_yd3, 0.0);
    load.warmed(60.0, 70.0);
    near(load.slump_in(&mix), 4.0 - 0.790_855, 0.0001);
    let after = |f| after(Consistency::from_slump(5.0), 60.0, 2.0, f).slump_in();
    near(after(70.0) - after(90.0), 1.0, 0.2);
    assert!(loss_gal_min(2.0, 70.0) < loss_gal_min(8.0, 70.0));
    near(loss_gal_min(18.0, 70.0), loss_gal_min(12.0, 70.0), 0.0);
}

/// Tolerances: ACI 301/117, 4 in means 3 to 5; ASTM C94 nominal (from memory).
#[test]
fn slump_is_judged_by_its_tolerance() {
    let usual = SlumpTarget::USUAL;
    near(usual.least_in(), 3.0, 0.0);
    near(usual.most_in(), 5.0, 0.0);
    assert_eq!(usual.judge(5.0), SlumpVerdict::Taken);
    assert_eq!(usual.judge(5.1), SlumpVerdict::TooWet);
    assert_eq!(usual.judge(2.9), SlumpVerdict::TooStiff);
    let by_c94 = [2.0, 4.0, 5.0].map(|target| SlumpTarget::by_c94(target).tolerance_in);
    assert_eq!(by_c94, [0.5, 1.0, 1.5]);
}

/// The meter shows 3 in where 8 will come, until 70 revolutions or 5 min of mixing have passed; turning slowly on the road
/// mixes nothing in.
#[test]
fn the_meter_does_not_see_hrwr_before_it_is_mixed_in() {
    let mut mix = plain_mix();
    mix.slump = SlumpTarget {
        target_in: 8.0,
        tolerance_in: 1.5,
    };
    mix.per_yd3.hrwr_lb = 0.4 * 1.06 * WATER_LB_PER_GAL;
    let mix = mix.filled_with_fine().unwrap();
    let meter = SlumpMeter::USUAL;
    let mut load = Load::batched(mix.per_yd3 * 10.0, 0.0);
    near(load.slump_in(&mix), 8.0, 1e-6);
    near(load.reading_in(&mix, &meter, 0.5), 3.0, 0.001);
    load.turn(0.5, 2.0, 70.0);
    assert!(load.reading_in(&mix, &meter, 0.5) < 3.0);
    load.mix(35.0, 70.0);
    let half = load.reading_in(&mix, &meter, 0.5);
    assert!((5.0..6.0).contains(&half), "{half}");
    load.mix(35.0, 70.0);
    near(
        load.reading_in(&mix, &meter, 0.5),
        load.slump_in(&mix),
        1e-9,
    );
    // 5 min at 14 rpm are 70 revolutions, at 6 rpm only 30: whichever comes first counts.
    near(meter.mixed_in(70.0, 0.0), 1.0, 0.0);
    near(meter.mixed_in(30.0, 5.0), 1.0, 0.0);
    near(meter.wait_min(), 5.0, 1e-12);
    // A second dose begins anew.
    load.add_hrwr(10.0);
    assert!(load.reading_in(&mix, &meter, 0.5) < load.slump_in(&mix) - 0.5);
}

#[test]
fn without_hrwr_a_reading_is_only_noisy() {
    let mix = plain_mix();
    let load = Load::batched(mix.per_yd3 * 10.0, 0.0);
    let read = |u| load.reading_in(&mix, &SlumpMeter::USUAL, u);
    near(read(0.5), 4.0, 1e-9);
    // z(0.975) = 1.95996 (tables), sd 0.5 in.
    near(read(0.975) - 4.0, 0.979_98, 1e-4);
    near(read(0.025) - 4.0, -0.979_98, 1e-4);
    // 95 % of pairs of slump tests lie within 0.83 in (ASTM C143-98): 1.96 √2 standard deviations.
    let sd = slump_test_in(4.0, 0.841_344_746) - 4.0;
    near(sd * 1.96 * 2.0_f64.sqrt(), 0.83, 0.01);
    assert!(slump_test_in(0.1, 0.001) >= 0.0);
}
