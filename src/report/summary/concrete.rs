//! Mixes, readings, corrections and weather in plain words.

use super::Page;
use super::words::{minutes, plain, plain_1, share};
use crate::concrete::{AgeTable, AirTemperature, DryUpWith, HotWeather, Reuse, hot_weather};
use crate::report::answer::{Cell, Column, Table};
use crate::report::number::Unit;
use crate::scenario::{Material, NamedMix, Scenario};

/// The section, where the scenario describes mixes.
pub(super) fn concrete(scenario: &Scenario, page: &mut Page) {
    let Some(material) = &scenario.concrete.material else {
        return;
    };
    page.heading("Concrete");
    page.table(mixes(material));
    page.line(
        "w/c: water to cement and other binder. psi: strength at 28 days by the mix's own water, and the specified one; a pound of \
         other binder counts for it as the mix says, 0.4 of cement if nothing is written. in: slump at the bay once HRWR is mixed \
         in, and what the site takes.",
    );
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
            Column::new("lb/yd³").key("lb_per_yd3"),
            Column::new("w/c").key("wc"),
            Column::new("at most").key("most_wc"),
            Column::new("psi").key("psi"),
            Column::new("specified").key("specified_psi"),
            Column::new("bay, in").key("yard_slump_in"),
            Column::new("site, in").key("site_slump_in"),
            Column::new("HRWR, gal/yd³").key("hrwr_gal_yd3"),
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
        let site = format!(
            "{} ± {}",
            plain(site_slump.target_in),
            plain(site_slump.tolerance_in)
        );
        let air = format!("{} ± {}", plain(mix.air.target), plain(mix.air.tolerance));
        table.row([
            name.as_str().into(),
            figure(mix.lb_per_yd3(), 0),
            figure(mix.wc(), 3),
            figure(mix.most_wc(), 3),
            figure(mix.psi(), 0),
            figure(mix.specified_psi, 0),
            Cell::worded(plain(mix.slump.target_in), Some(mix.slump.target_in)),
            Cell::worded(site, Some(site_slump.target_in)),
            figure(mix.hrwr_gal_yd3(), 2),
            Cell::worded(air, Some(mix.air.target)),
        ]);
    }
    table
}

fn reading(material: &Material) -> String {
    let (meter, tickets) = (&material.meter, &material.tickets);
    format!(
        "Reading: the meter is off by {} in (standard deviation) and sees HRWR after {} revolutions or {} min of mixing; {} of \
         tickets are read, of those {} heeded without a warning, {} with one where it counts, {} with one on every ticket",
        plain(meter.sd_in),
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
         the bay, then remixing), for which up to {} yd³ are dumped; else rebatched",
        share(corrections.looks_again),
        plain(corrections.wait_min),
        match corrections.with {
            DryUpWith::CementAndFine => "cement and sand",
            DryUpWith::CementOnly => "cement only",
        },
        plain_1(corrections.minutes.mean()),
        plain(corrections.dump.yd3())
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
        "On site: {age}{revolutions}{}; slump and air of {} of loads are tested, the others turned away {} in beyond the \
         tolerance; {}",
        if material.waiver {
            ", waived where it can be placed without added water"
        } else {
            ""
        },
        share(site.tested),
        plain(site.by_eye_in),
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
        "Air: each per cent beyond the mix's takes {} of its strength; where it is entrained (more than 3%), makes {} in of slump, and \
         a gallon of added water a yd³ brings {}%",
        share(sensitivity.strength_per_air),
        plain(sensitivity.slump_in_per_air),
        plain(sensitivity.air_per_gal)
    )
}

fn weather(material: &Material) -> String {
    let air = match material.air {
        AirTemperature::Steady(f) => format!("{} °F all day", plain(f)),
        AirTemperature::Daily {
            mean_f,
            swing_f,
            warmest_h,
        } => format!(
            "{} to {} °F, warmest at {} h",
            plain(mean_f - swing_f),
            plain(mean_f + swing_f),
            plain(warmest_h)
        ),
    };
    let concrete = material.warmest_concrete_f();
    let caution = match hot_weather(concrete) {
        HotWeather::Usual => "",
        HotWeather::Caution => ": hot weather, look at the contract's limits",
        HotWeather::TooHot => ": warmer than 95 °F, not placed without the engineer's word",
    };
    format!(
        "Weather: air {air}, a day's level off by {} °F (standard deviation); concrete has {} °F in air of 70 °F and {} °F more for \
         each °F of the air, up to {} °F{caution}; {}; 18 °F more take {} of the strength",
        plain(material.air_sd_f),
        plain(material.temperature.at_70_f),
        plain(material.temperature.per_air),
        plain_1(concrete),
        if material.water_for_heat {
            "mixing water is set by the weather written, within the mix's w/c"
        } else {
            "mixing water is the same in all weather"
        },
        share(material.sensitivity().strength_per_18_f)
    )
}
