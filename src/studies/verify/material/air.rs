//! Air and what it does: strength, slump, yield; and the air that added water brings.

use super::super::check::{Basis, Sheet};
use super::plain_mix;
use crate::concrete::{
    ConcreteTemperature, HotWeather, Load, Mix, Sensitivity, StrengthLaw, hot_weather,
};

/// An air-entrained mix of this w/c at 4 in with 5 % of air.
fn entrained(wc: f64) -> Mix {
    let mut mix = plain_mix();
    mix.per_yd3.water_lb = 280.0;
    mix.per_yd3.cement_lb = 280.0 / wc;
    mix.air.target = 5.0;
    mix.law = StrengthLaw::AciAirEntrained;
    mix.sensitivity = Sensitivity::USUAL;
    mix.filled_with_fine().expect("the yard has room for it")
}

pub(super) fn check(sheet: &mut Sheet) {
    let mix = entrained(0.45);
    let at = |air: f64| Load::batched(mix.per_yd3, air);
    let psi = |air: f64| at(air).psi(&mix, 0.0);
    sheet.about(
        "1% of air more",
        Basis::Printed,
        "ACI, frequently asked question 657: about 5%; Concrete Construction, Effects of too much air: 2 to 6%",
    );
    let lost = 1.0 - psi(6.0) / psi(5.0);
    sheet.near("share of strength lost", lost, 0.05, 1e-9);
    sheet.between("the same", lost, 0.02, 0.06);
    sheet.about(
        "A slab with 12% of air in place of 6",
        Basis::Printed,
        "Concrete Construction, Too much air: 18 to 30% lost",
    );
    let slab = 1.0 - psi(11.0) / psi(5.0);
    sheet.between("share of strength lost", slab, 0.18, 0.30);
    sheet.about(
        "1% of air less, at 4 in",
        Basis::Printed,
        "Concrete Construction, More on entrainment: about ½ in of slump, over ¼ ft³ a yd³",
    );
    let slump = 4.0 - at(4.0).slump_in(&mix);
    sheet.near("slump lost, in", slump, 0.5, 0.075);
    let ft3 = 27.0 * (at(5.0).volume_yd3(&mix) - at(4.0).volume_yd3(&mix));
    sheet.between("volume lost, ft³", ft3, 0.25, 0.30);
    a_gallon(sheet);
    by_water(sheet);
    warmth(sheet);
}

fn a_gallon(sheet: &mut Sheet) {
    sheet.about(
        "A gallon a yd³ into an air-entrained mix",
        Basis::Printed,
        "Concrete Construction, Adding water: about an inch, ½ to 1% of air, 200 to 400 psi lost",
    );
    for wc in [0.40, 0.50, 0.60] {
        let mix = entrained(wc);
        let mut load = Load::batched(mix.per_yd3, 5.0);
        let before = load.psi(&mix, 0.0);
        load.add_water(&mix, 1.0);
        let air = load.air_now() - 5.0;
        sheet.between(format!("air at w/c {wc}, %"), air, 0.5, 1.0);
        let slump = load.slump_in(&mix) - 4.0;
        sheet.near(format!("slump gained at w/c {wc}, in"), slump, 1.0, 0.08);
        let lost = before - load.psi(&mix, 0.0);
        sheet.between(
            format!("strength lost at w/c {wc}, psi"),
            lost,
            200.0,
            400.0,
        );
    }
}

fn by_water(sheet: &mut Sheet) {
    let mix = entrained(0.45);
    sheet.about(
        "From 4 to 7 in by water",
        Basis::Printed,
        "Concrete Construction, Excess water can be a costly ingredient in concrete: about 800 psi; within 10%",
    );
    let mut load = Load::batched(mix.per_yd3, 5.0);
    let before = load.psi(&mix, 0.0);
    let gal = load.water_for_reading_gal(&mix, 4.0, 7.0);
    load.add_water(&mix, gal);
    let lost = before - load.psi(&mix, 0.0);
    sheet.near("strength lost, psi", lost, 800.0, 80.0);
}

fn warmth(sheet: &mut Sheet) {
    sheet.about(
        "Concrete follows its materials: all but the cement 1 °F warmer",
        Basis::Computed,
        "Concrete Construction, If you get it when it's hot: specific heats 0.22 and 1; 470 lb of cement, 3,300 of aggregates, 260 of water",
    );
    let (cement, others) = (0.22 * 470.0, 0.22 * 3_300.0 + 260.0);
    let usual = ConcreteTemperature::USUAL;
    let found = usual.at(71.0) - usual.at(70.0);
    sheet.near("°F warmer", found, others / (cement + others), 0.01);
    sheet.about(
        "Concrete 18 °F warmer than usual",
        Basis::Printed,
        "Concrete Construction, How to cope with high concrete temperatures: about 10% less strength",
    );
    let mut mix = plain_mix();
    mix.sensitivity = Sensitivity::USUAL;
    let load = Load::batched(mix.per_yd3, 0.0);
    let share = load.psi(&mix, 18.0) / load.psi(&mix, 0.0);
    sheet.near("share of strength left", share, 0.90, 1e-9);
    sheet.about(
        "The hottest concrete at discharge",
        Basis::Printed,
        "ACI 301-20 and ACI 305.1-14: 95 °F",
    );
    for (f, too_hot) in [(95.0, false), (95.1, true)] {
        let found = hot_weather(f) == HotWeather::TooHot;
        sheet.yes(format!("{f} °F is too hot"), found, too_hot);
    }
}
