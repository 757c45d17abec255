//! Slump: water, HRWR, time, temperature, readings.

use super::super::check::{Basis, Sheet};
use super::plain_mix;
use crate::concrete::{
    Consistency, HRWR_AS_WATER, HrwrKind, Load, MIXING_LOSS_GAL_MIN, SlumpMeter, WATER_GAL_PER_F,
    WATER_LB_PER_GAL, loss_gal_min, slump_test_in, water_between_gal_yd3,
};

pub(super) fn check(sheet: &mut Sheet) {
    water(sheet);
    hrwr(sheet);
    time(sheet);
    warmth(sheet);
    readings(sheet);
}

fn water(sheet: &mut Sheet) {
    sheet.about(
        "An inch of slump for a gallon a yd³",
        Basis::Printed,
        "Concrete Construction, Adjusting slump in the field; Adding water",
    );
    let an_inch = water_between_gal_yd3(2.0, 6.0) / 4.0;
    sheet.near("gal for an inch, 2 to 6 in", an_inch, 1.0, 0.07);
    sheet.about(
        "Ten pounds of water a yd³ for an inch",
        Basis::Memory,
        "ACI 211.1, 6.3.9.1, correction of a trial batch",
    );
    sheet.near(
        "lb for an inch, 2 to 6 in",
        an_inch * WATER_LB_PER_GAL,
        10.0,
        1.2,
    );
    sheet.about(
        "Mixing water without air, ¾ in stone",
        Basis::Printed,
        "ACI 211.1: 315, 340 and 360 lb/yd³ at 1 to 2, 3 to 4, 6 to 7 in",
    );
    let lb = |from, to| water_between_gal_yd3(from, to) * WATER_LB_PER_GAL;
    sheet.near("lb/yd³ from 1½ to 3½ in", lb(1.5, 3.5), 340.0 - 315.0, 1e-9);
    sheet.near("lb/yd³ from 3½ to 6½ in", lb(3.5, 6.5), 360.0 - 340.0, 1e-9);
    sheet.about(
        "Mixing water, metric table",
        Basis::Printed,
        "ACI 211.1, SI table: 20 mm stone, 185 kg/m³ at 30 to 50 mm, 200 at 80 to 100",
    );
    let kg_m3_per_lb_yd3 = 0.453_592_37 / 0.764_554_858;
    let si = 15.0 / kg_m3_per_lb_yd3 / WATER_LB_PER_GAL / (50.0 / 25.4);
    let found = water_between_gal_yd3(1.5, 3.5) / 2.0;
    sheet.close("gal for an inch at low slump", found, si, 0.03);
}

fn hrwr(sheet: &mut Sheet) {
    sheet.about(
        "HRWR at constant w/c, from 3 in",
        Basis::Printed,
        "JoVE Science Education, superplasticizers: 8 in by 0.2 to 0.6 gal/yd³",
    );
    let found = Consistency::from_slump(3.0).with_hrwr(0.4).slump_in();
    sheet.near("slump by 0.4 gal/yd³, in", found, 8.0, 0.001);
    sheet.about(
        "Water that HRWR saves",
        Basis::Printed,
        "ASTM C494, as quoted in the trade: type F saves at least 12%",
    );
    let saved = HRWR_AS_WATER * 0.4 * WATER_LB_PER_GAL / 280.0;
    sheet.between("share of 280 lb, 0.4 gal/yd³", saved, 0.12, 0.25);

    let life = |kind| {
        let mut mix = plain_mix();
        mix.slump.target_in = 8.0;
        mix.per_yd3.hrwr_lb = 0.4 * 1.06 * WATER_LB_PER_GAL;
        mix.hrwr_kind = kind;
        let mut load = Load::batched(mix.per_yd3, 0.0);
        let minutes = (1..300).find(|_| {
            load.turn(1.0, 2.0, 70.0);
            load.slump_in(&mix) <= 3.0
        });
        minutes.map_or(f64::NAN, f64::from)
    };
    sheet.about(
        "How long HRWR lasts, from 8 in back to 3 at 70 °F",
        Basis::Printed,
        "Flowing concrete produced at the batch plant, trade reprint of 2016: 30 to 60 min, 1 to 3 h of the extended kinds",
    );
    sheet.between("older kinds, min", life(HrwrKind::Older), 30.0, 60.0);
    sheet.between("extended kinds, min", life(HrwrKind::Extended), 60.0, 180.0);
}

/// Prolonged mixing: minutes and inches.
const MIXED: ([f64; 4], [f64; 4]) = ([1.0, 5.0, 30.0, 60.0], [9.0, 8.4, 6.4, 2.6]);

/// Least squares: value at 0 and slope.
fn line(x: [f64; 4], y: [f64; 4]) -> (f64, f64) {
    let (mx, my) = (x.iter().sum::<f64>() / 4.0, y.iter().sum::<f64>() / 4.0);
    let xy: f64 = x.iter().zip(y).map(|(x, y)| (x - mx) * (y - my)).sum();
    let xx: f64 = x.iter().map(|x| (x - mx) * (x - mx)).sum();
    (my - xy / xx * mx, xy / xx)
}

/// So many minutes later.
fn after(fresh: Consistency, minutes: f64, rpm: f64, concrete_f: f64) -> Consistency {
    fresh.with_water(-minutes * loss_gal_min(rpm, concrete_f))
}

fn time(sheet: &mut Sheet) {
    sheet.about(
        "Prolonged mixing",
        Basis::Printed,
        "PCA tests, Concrete Construction, Long time mixing: 9.0, 8.4, 6.4, 2.6 in at 1, 5, 30, 60 min",
    );
    let (minutes, measured) = MIXED;
    let gallons = measured.map(|slump| Consistency::from_slump(slump).gal_yd3);
    let (start, slope) = line(minutes, gallons);
    sheet.close("loss, gal/yd³ a minute", MIXING_LOSS_GAL_MIN, -slope, 0.001);
    let model =
        minutes.map(|minute| after(Consistency { gal_yd3: start }, minute, 12.0, 70.0).slump_in());
    for ((minute, model), measured) in minutes.iter().zip(model).zip(measured) {
        sheet.near(format!("after {minute} min, in"), model, measured, 0.51);
    }
    let fall = line(minutes, measured).1;
    sheet.close(
        "fall of a straight line, in a minute",
        line(minutes, model).1,
        fall,
        0.03,
    );
}

fn warmth(sheet: &mut Sheet) {
    sheet.about(
        "Water for warmth",
        Basis::Printed,
        "SDSU Extension Extra 1006 (2002): 33 lb/yd³ from 50 to 100 °F for the same slump",
    );
    let lb = WATER_GAL_PER_F * 50.0 * WATER_LB_PER_GAL;
    sheet.near("lb/yd³ from 50 to 100 °F", lb, 33.0, 1e-9);
    sheet.about(
        "An hour's loss at 90 °F, more than at 70",
        Basis::Memory,
        "ACI 305R, chart: about an inch for 20 °F of the concrete",
    );
    let slump = |f| after(Consistency::from_slump(5.0), 60.0, 2.0, f).slump_in();
    sheet.near("slump lost more, in", slump(70.0) - slump(90.0), 1.0, 0.1);
    sheet.about(
        "Loss goes with temperature as maturity",
        Basis::Memory,
        "ASTM C1074: exp(−Q (1/T − 1/Tr)), Q from 4,000 to 5,000 K",
    );
    let kelvin = |f: f64| (f - 32.0) / 1.8 + 273.15;
    let rate = |q: f64| (q * (1.0 / kelvin(70.0) - 1.0 / kelvin(80.0))).exp();
    let found = loss_gal_min(2.0, 80.0) / loss_gal_min(2.0, 70.0);
    sheet.between(
        "times as fast at 80 as at 70 °F",
        found,
        rate(4_000.0),
        rate(5_000.0),
    );
}

fn readings(sheet: &mut Sheet) {
    let sd = |slump: f64| slump_test_in(slump, 0.841_344_746) - slump;
    sheet.about(
        "Slump tests on site, between laboratories",
        Basis::Memory,
        "ASTM C143-10: standard deviations 0.29, 0.39, 0.53 in at 1.2, 3.4, 6.5 in",
    );
    for (slump, published) in [(1.2, 0.29), (3.4, 0.39), (6.5, 0.53)] {
        let figure = format!("standard deviation at {slump} in");
        sheet.near(figure, sd(slump), published, 1e-5);
    }
    sheet.about(
        "Pairs of slump tests",
        Basis::Printed,
        "ASTM C143-98: 95% of pairs within 0.83 in at 1½ to 2¾ in",
    );
    let pair = sd(2.125) * 1.96 * 2.0_f64.sqrt();
    sheet.near("95% of pairs within, in", pair, 0.83, 0.10);
    sheet.about(
        "The slump meter, standard deviation ½ in",
        Basis::Memory,
        "Normal table: z(0.975) = 1.95996",
    );
    let mix = plain_mix();
    let load = Load::batched(mix.per_yd3 * 10.0, 0.0);
    let read = |u| load.reading_in(&mix, &SlumpMeter::USUAL, u) - 4.0;
    sheet.near("high reading, one in 40, in", read(0.975), 0.979_98, 1e-4);
    sheet.near("low reading, one in 40, in", read(0.025), -0.979_98, 1e-4);
}
