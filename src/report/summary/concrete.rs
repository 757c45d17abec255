//! Mixes, readings, corrections and weather in plain words.

use super::Page;
use super::words::{many, minutes, much, plain, plain_1, share};
use crate::concrete::{AgeTable, AirTemperature, DryUpWith, HotWeather, Reuse, hot_weather};
use crate::report::answer::{Cell, Column, Table};
use crate::report::number::Unit;
use crate::scenario::{Material, NamedMix, Scenario};
use crate::units::measure::{self, Quantity};

/// The section, where the scenario describes mixes.
pub(super) fn concrete(scenario: &Scenario, page: &mut Page) {
    let Some(material) = &scenario.concrete.material else {
        return;
    };
    page.heading("Concrete");
    page.table(mixes(material));
    page.line(&format!(
        "w/c: water to cement and other binder. {}: strength at 28 days by the mix's own water, and the specified one; {} of \
         other binder counts for it as the mix says, 0.4 of cement if nothing is written. {}: slump at the bay once HRWR is mixed \
         in, and what the site takes.",
        Quantity::Strength.unit(),
        Quantity::PerWeight.unit(),
        Quantity::Slump.unit(),
    ));
    page.line(&reading(material));
    page.line(&corrections(material));
    page.line(&on_site(material, scenario));
    if let Some(reuse) = &scenario.concrete.reuse {
        let words = reused(reuse);
        page.line(&format!("Returned concrete: {words}"));
    }
    page.line(&air(material));
    page.line(&weather(material));
}

fn mixes(material: &Material) -> Table {
    let mut table = Table::new(
        "mixes",
        vec![
            Column::new("mix").left().key("mix"),
            Column::new(measure::said("lb/yd³")).key("lb_per_yd3"),
            Column::new("w/c").key("wc"),
            Column::new("at most").key("most_wc"),
            Column::new(Quantity::Strength.unit()).key("psi"),
            Column::new("specified").key("specified_psi"),
            Column::new(format!("bay, {}", Quantity::Slump.unit())).key("yard_slump_in"),
            Column::new(format!("site, {}", Quantity::Slump.unit())).key("site_slump_in"),
            Column::new(measure::said("HRWR, gal/yd³")).key("hrwr_gal_yd3"),
            Column::new("air, %").key("air"),
        ],
    );
    for NamedMix {
        name,
        mix,
        site_slump,
    } in &material.mixes
    {
        let figure = |value, decimals| Cell::number(value, Unit::Plain, decimals);
        let told = |quantity: Quantity, us: f64, decimals| {
            figure(quantity.told(us), quantity.decimals(decimals))
        };
        let slump =
            |words: String, inches: f64| Cell::worded(words, Some(Quantity::Slump.told(inches)));
        let site = format!(
            "{} ± {}",
            many(Quantity::Slump, site_slump.target_in),
            many(Quantity::Slump, site_slump.tolerance_in)
        );
        let air = format!("{} ± {}", plain(mix.air.target), plain(mix.air.tolerance));
        table.row([
            name.as_str().into(),
            told(Quantity::Density, mix.lb_per_yd3(), 0),
            figure(mix.wc(), 3),
            figure(mix.most_wc(), 3),
            told(Quantity::Strength, mix.psi(), 0),
            told(Quantity::Strength, mix.specified_psi, 0),
            slump(
                many(Quantity::Slump, mix.slump.target_in),
                mix.slump.target_in,
            ),
            slump(site, site_slump.target_in),
            told(Quantity::Dose, mix.hrwr_gal_yd3(), 2),
            Cell::worded(air, Some(mix.air.target)),
        ]);
    }
    table
}

fn reading(material: &Material) -> String {
    let (meter, tickets) = (&material.meter, &material.tickets);
    format!(
        "Reading: the meter is off by {} (standard deviation) and sees HRWR after {} revolutions or {} min of mixing; {} of \
         tickets are read, of those {} heeded without a warning, {} with one where it counts, {} with one on every ticket",
        much(Quantity::Slump, meter.sd_in),
        plain(meter.revolutions),
        plain(meter.minutes),
        share(tickets.read),
        share(tickets.knows),
        share(tickets.warned),
        share(tickets.worn)
    )
}

fn corrections(material: &Material) -> String {
    let corrections = &material.corrections;
    format!(
        "Too wet in the plant yard: {} of watered loads are read once more; a wait of up to {} min; else stiffened with {} ({} min in \
         the bay, then remixing), for which up to {} are dumped; else rebatched",
        share(corrections.looks_again),
        plain(corrections.wait_min),
        match corrections.with {
            DryUpWith::CementAndFine => "cement and sand",
            DryUpWith::CementOnly => "cement only",
        },
        plain_1(corrections.minutes.mean()),
        much(Quantity::Volume, corrections.dump.yd3())
    )
}

fn on_site(material: &Material, scenario: &Scenario) -> String {
    let site = &material.on_site;
    let age = match (scenario.concrete.age_limit, material.age) {
        (Some(limit), _) => format!("at most {} min old", plain(limit.minutes())),
        (None, AgeTable::Default) => "at most 90 min old".into(),
        (None, table) => format!("age limit {} ({})", table.about(), table.source()),
    };
    let revolutions = material.revolution_limit.map_or(String::new(), |most| {
        format!(", at most {} revolutions", plain(most))
    });
    format!(
        "On site: {age}{revolutions}{}; slump and air of {} of loads are tested, the others turned away {} beyond the \
         tolerance; {}",
        if material.waiver {
            ", waived where it can be placed without added water"
        } else {
            ""
        },
        share(site.tested),
        much(Quantity::Slump, site.by_eye_in),
        if site.retemper {
            "water once, with authority and within the mix's w/c"
        } else {
            "no water on site"
        }
    )
}

/// What is reused of what comes back.
pub(super) fn reused(reuse: &Reuse) -> String {
    format!(
        "reused under the truck's next load if that is of the same mix, up to {} old and {} of that load, where the purchaser \
         permits it",
        minutes(reuse.age_limit),
        share(reuse.share)
    )
}

fn air(material: &Material) -> String {
    let sensitivity = material.sensitivity();
    format!(
        "Air: each per cent beyond the mix's takes {} of its strength; where it is entrained (more than 3%), makes {} of slump, and \
         {} of added water{} brings {}%",
        share(sensitivity.strength_per_air),
        much(Quantity::Slump, sensitivity.slump_in_per_air),
        if measure::is_si() {
            "a liter"
        } else {
            "a gallon"
        },
        format_args!(" {}", Quantity::PerVolume.unit()),
        many(Quantity::PerDose, sensitivity.air_per_gal)
    )
}

fn weather(material: &Material) -> String {
    let air = match material.air {
        AirTemperature::Steady(f) => format!("{} all day", much(Quantity::Temperature, f)),
        AirTemperature::Daily {
            mean_f,
            swing_f,
            warmest_h,
        } => format!(
            "{} to {}, warmest at {} h",
            many(Quantity::Temperature, mean_f - swing_f),
            much(Quantity::Temperature, mean_f + swing_f),
            plain(warmest_h)
        ),
    };
    let concrete = material.warmest_concrete_f();
    let caution = measure::said(match hot_weather(concrete) {
        HotWeather::Usual => "",
        HotWeather::Caution => ": hot weather, look at the contract's limits",
        HotWeather::TooHot => ": warmer than 95 °F, not placed without the engineer's word",
    });
    let step = Quantity::Warmth.unit();
    format!(
        "Weather: air {air}, a day's level off by {} (standard deviation); concrete has {} in air of {} and {} {step} more for \
         each {step} of the air, up to {} {step}{caution}; {}; {} more take {} of the strength",
        much(Quantity::Warmth, material.air_sd_f),
        much(Quantity::Temperature, material.temperature.at_70_f),
        much(Quantity::Temperature, 70.0),
        plain(material.temperature.per_air),
        plain_1(Quantity::Temperature.told(concrete)),
        if material.water_for_heat {
            "mixing water is set by the weather written, within the mix's w/c"
        } else {
            "mixing water is the same in all weather"
        },
        much(Quantity::Warmth, 18.0),
        share(material.sensitivity().strength_per_18_f)
    )
}
