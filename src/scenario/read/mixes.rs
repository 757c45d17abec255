//! Mixes, the meter, the aggregates' water, the weather, tickets, corrections and the tests on site.

mod age_table;
mod mix;
mod temperatures;

use self::age_table::age_table;
use self::mix::mix;
use self::temperatures::TEMPERATURES;
use super::super::decode::{Fields, Limits, Names, flag, list, minutes, number, one_of, variant};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::Node;
use super::super::{AggregateWater, Corrections, Material, OnSite, Tickets};
use crate::concrete::{ConcreteTemperature, DryUpWith, Sensitivity, SlumpMeter};
use crate::units::{Millis, Volume};

/// The fields of the block `concrete` that go with `mixes`, which is written.
pub(super) fn material(
    fields: &mut Fields<'_>,
    age_limit: Option<Millis>,
    problems: &Problems,
) -> Option<Material> {
    fields.former(
        "empty_weight",
        "`weighing: (empty_over_lb: …, empty_sd_lb: …)` of the scenario, which holds for weigh stations and computed loads alike",
    );
    let mut names = Names::of("mix");
    let mixes = fields.required("mixes", |node, problems| {
        list(1..=200, "mix", |node, problems| {
            mix(node, &mut names, problems)
        })(node, problems)
    });
    let material = Material {
        mixes: Vec::new(),
        meter: fields.block("meter", "meter block", meter),
        moisture: fields.block("moisture", "moisture block", moisture),
        air: fields.usual(
            &defaults::TEMPERATURE,
            variant("temperature", &TEMPERATURES),
        ),
        air_sd_f: fields.usual(
            &defaults::TEMPERATURE_SD_F,
            number(Limits::between("°F", 0.0, 30.0).difference()),
        ),
        temperature: ConcreteTemperature {
            at_70_f: fields.usual(
                &defaults::CONCRETE_AT_70_F,
                number(Limits::between("°F", 40.0, 100.0)),
            ),
            per_air: fields.usual(
                &defaults::CONCRETE_PER_AIR_F,
                number(Limits::between("°F for each °F", 0.0, 1.2)),
            ),
        },
        water_for_heat: fields.usual(&defaults::WATER_FOR_HEAT, flag),
        age: fields.usual(&defaults::AGE_TABLE, age_table),
        age_limit,
        revolution_limit: fields.off(
            &defaults::REVOLUTION_LIMIT,
            number(Limits::above("revolutions", 0.0, 10_000.0)),
        ),
        waiver: fields.usual(&defaults::WAIVER, flag),
        tickets: fields.block("tickets", "tickets block", tickets),
        corrections: fields.block("corrections", "corrections block", corrections),
        on_site: fields.block("on_site", "on-site block", on_site),
    };
    let sensitivity = fields.block("sensitivity", "sensitivity block", sensitivity);
    if let Some(span) = fields.place("rack") {
        problems.add::<()>(Problem::new(span, "`rack` stands beside `mixes`").label(
            "expected one of the two: `mixes` computes what `rack` gives as shares of loads",
        ));
    }
    let mut mixes = mixes?;
    for described in &mut mixes {
        described.mix.sensitivity = sensitivity;
    }
    Some(Material { mixes, ..material })
}

fn sensitivity(mut fields: Fields<'_>) -> Sensitivity {
    let share = number(Limits::between("share of the strength", 0.0, 0.5));
    let sensitivity = Sensitivity {
        strength_per_air: fields.usual(&defaults::STRENGTH_PER_AIR, share),
        slump_in_per_air: fields.usual(
            &defaults::SLUMP_IN_PER_AIR,
            number(Limits::between("in", 0.0, 3.0)),
        ),
        air_per_gal: fields.usual(
            &defaults::AIR_PER_GAL,
            number(Limits::between("per cent for each gal/yd³", 0.0, 3.0)),
        ),
        strength_per_18_f: fields.usual(&defaults::STRENGTH_PER_18_F, share),
    };
    fields.finish();
    sensitivity
}

fn share(what: &'static str) -> impl Fn(&Node, &Problems) -> Option<f64> + Copy {
    number(Limits::between(what, 0.0, 1.0))
}

fn meter(mut fields: Fields<'_>) -> SlumpMeter {
    let meter = SlumpMeter {
        sd_in: fields.usual(
            &defaults::METER_SD_IN,
            number(Limits::between("in", 0.0, 5.0)),
        ),
        revolutions: fields.usual(
            &defaults::METER_REVOLUTIONS,
            number(Limits::above("revolutions", 0.0, 500.0)),
        ),
        minutes: fields.usual(
            &defaults::METER_MINUTES,
            number(Limits::above("minutes", 0.0, 60.0)),
        ),
    };
    fields.finish();
    meter
}

fn moisture(mut fields: Fields<'_>) -> AggregateWater {
    let water = number(Limits::between("share of the mass", 0.0, 0.2));
    let moisture = AggregateWater {
        fine: fields.usual(&defaults::FINE_WATER, water),
        coarse: fields.usual(&defaults::COARSE_WATER, water),
        fine_sd: fields.usual(&defaults::FINE_SD, water),
        coarse_sd: fields.usual(&defaults::COARSE_SD, water),
        probe_share: fields.usual(&defaults::PROBE_SHARE, share("share")),
    };
    fields.finish();
    moisture
}

fn tickets(mut fields: Fields<'_>) -> Tickets {
    let share = share("share of tickets");
    let tickets = Tickets {
        read: fields.usual(&defaults::TICKETS_READ, share),
        knows: fields.usual(&defaults::TICKETS_KNOW, share),
        warned: fields.usual(&defaults::TICKETS_WARNED, share),
        worn: fields.usual(&defaults::TICKETS_WORN, share),
    };
    fields.finish();
    tickets
}

const WITH: [(&str, DryUpWith); 2] = [
    ("CementAndFine", DryUpWith::CementAndFine),
    ("CementOnly", DryUpWith::CementOnly),
];

fn corrections(mut fields: Fields<'_>) -> Corrections {
    let yd3 = |node: &Node, problems: &Problems| {
        number(Limits::between("yd³", 0.0, 20.0))(node, problems).map(Volume::from_yd3)
    };
    let price = number(Limits::between("money per lb", 0.0, 100.0));
    let corrections = Corrections {
        looks_again: fields.usual(&defaults::LOOKS_AGAIN, share("share of loads")),
        wait_min: fields.usual(
            &defaults::WAIT_MIN,
            number(Limits::between("minutes", 0.0, 60.0)),
        ),
        dump: fields.usual(&defaults::DUMP, yd3),
        with: fields.usual(
            &defaults::DRY_UP_WITH,
            one_of("material of a dry-up", &WITH),
        ),
        minutes: fields.usual(&defaults::CORRECTION_MINUTES, minutes),
        cement_per_lb: fields.usual(&defaults::CEMENT_PER_LB, price),
        fine_per_lb: fields.usual(&defaults::FINE_PER_LB, price),
    };
    fields.finish();
    corrections
}

fn on_site(mut fields: Fields<'_>) -> OnSite {
    let on_site = OnSite {
        tested: fields.usual(&defaults::TESTED, share("share of loads")),
        by_eye_in: fields.usual(
            &defaults::BY_EYE_IN,
            number(Limits::between("in", 0.0, 11.0)),
        ),
        air_sd: fields.usual(
            &defaults::AIR_SD,
            number(Limits::between("per cent", 0.0, 10.0)),
        ),
        wrong_mix: fields.usual(&defaults::WRONG_MIX, share("share of loads")),
        retemper: fields.usual(&defaults::RETEMPER, flag),
    };
    fields.finish();
    on_site
}
