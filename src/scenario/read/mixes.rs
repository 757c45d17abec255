//! Mixes, the meter, the aggregates' water, the weather, tickets, corrections and the tests on site.

use super::super::decode::{
    Contents, Fields, Limits, Names, flag, list, minutes, name, number, one_of, spanned, variant,
};
use super::super::problem::{Problem, Problems, listed, nearest};
use super::super::tree::Node;
use super::super::{AggregateWater, Corrections, Material, NamedMix, OnSite, Tickets};
use super::empty_weight::Written;
use crate::concrete::{
    Abrams, AgeTable, AirTarget, AirTemperature, DryUpWith, Gravities, Masses, Mix, MixError,
    SlumpMeter, SlumpTarget, StrengthLaw,
};
use crate::engine::Spread;
use crate::units::{Millis, Volume};

/// The fields of the block `concrete` that go with `mixes`, which is written.
pub(super) fn material(
    fields: &mut Fields<'_>,
    age_limit: Option<Millis>,
    weights: &mut Written,
    problems: &Problems,
) -> Option<Material> {
    weights.concrete(fields);
    let mut names = Names::of("mix");
    let mixes = fields.required("mixes", |node, problems| {
        list(1..=200, "mix", |node, problems| {
            mix(node, &mut names, problems)
        })(node, problems)
    });
    let material = Material {
        mixes: Vec::new(),
        meter: fields.optional("meter", meter, SlumpMeter::USUAL),
        moisture: fields.optional("moisture", moisture, usual_moisture()),
        air: fields.optional(
            "temperature",
            variant("temperature", &TEMPERATURES),
            AirTemperature::Steady(70.0),
        ),
        air_sd_f: fields.optional(
            "temperature_sd_f",
            number(Limits::between("°F", 0.0, 30.0)),
            0.0,
        ),
        concrete_at_70_f: fields.optional(
            "concrete_at_70_f",
            number(Limits::between("°F", 40.0, 100.0)),
            70.0,
        ),
        age: fields.optional("age", age_table, AgeTable::Default),
        age_limit,
        revolution_limit: fields.maybe(
            "revolution_limit",
            number(Limits::above("revolutions", 0.0, 10_000.0)),
        ),
        waiver: fields.optional("waiver", flag, false),
        tickets: fields.optional("tickets", tickets, usual_tickets()),
        corrections: fields.optional("corrections", corrections, usual_corrections()),
        on_site: fields.optional("on_site", on_site, usual_on_site()),
    };
    if let Some(span) = fields.place("rack") {
        problems.add::<()>(Problem::new(span, "`rack` stands beside `mixes`").label(
            "expected one of the two: `mixes` computes what `rack` gives as shares of loads",
        ));
    }
    Some(Material {
        mixes: mixes?,
        ..material
    })
}

fn mix(node: &Node, names: &mut Names, problems: &Problems) -> Option<NamedMix> {
    let mut fields = Fields::of(node, "mix", problems)?;
    let name = fields.required("name", spanned(name));
    match &name {
        Some(name) => {
            names.define(name, problems);
        }
        None => names.unread(),
    }
    let lb = number(Limits::between("lb/yd³", 0.0, 5_000.0));
    let cement_lb = fields.required("cement_lb", lb);
    let binder_lb = fields.optional("binder_lb", lb, 0.0);
    let water_lb = fields.required("water_lb", lb);
    let fine_lb = fields.maybe("fine_lb", lb);
    let fine_written = fields.place("fine_lb").is_some();
    let coarse_lb = fields.required("coarse_lb", lb);
    let hrwr_lb = fields.optional("hrwr_lb", lb, 0.0);
    let percent = number(Limits::between("per cent", 0.0, 20.0));
    let air = fields.optional("air", percent, 2.0);
    let air_tolerance = fields.optional("air_tolerance", percent, 1.5);
    let inches = number(Limits::between("in", 0.0, 10.5));
    let slump_in = fields.optional("slump_in", inches, 4.0);
    let usual = SlumpTarget::by_c94(slump_in);
    let tolerance_in = fields.optional("slump_tolerance_in", inches, usual.tolerance_in);
    let yard_in = fields.optional("yard_slump_in", inches, (slump_in + 1.0).min(10.5));
    let specified = fields.required("specified_psi", number(Limits::above("psi", 0.0, 20_000.0)));
    let law = fields.optional(
        "strength",
        variant("strength law", &LAWS),
        StrengthLaw::AciPlain,
    );
    let most_wc = fields.maybe("most_wc", number(Limits::above("w/c", 0.0, 2.0)));
    let retarder = fields.optional("retarder", flag, false);
    let gravities = fields.optional("gravities", gravities, Gravities::USUAL);
    let opening = fields.opening();
    let at = |field: &str| fields.place(field).unwrap_or(opening.clone());
    let (fine_at, wc_at, water_at) = (at("fine_lb"), at("most_wc"), at("water_lb"));
    fields.finish();
    let written = Mix {
        per_yd3: Masses {
            cement_lb: cement_lb?,
            binder_lb,
            water_lb: water_lb?,
            fine_lb: fine_lb.unwrap_or(0.0),
            coarse_lb: coarse_lb?,
            hrwr_lb,
        },
        gravities,
        air: AirTarget {
            target: air,
            tolerance: air_tolerance,
        },
        slump: SlumpTarget {
            target_in: yard_in,
            tolerance_in,
        },
        specified_psi: specified?,
        law,
        most_wc,
        retarder,
    };
    if fine_written && fine_lb.is_none() {
        return None; // reported where it is written
    }
    let checked = match fine_lb {
        Some(_) => written.check().map(|()| written),
        None => written.filled_with_fine(),
    };
    match checked {
        Ok(mix) => Some(NamedMix {
            name: name?.value,
            mix,
            site_slump: SlumpTarget {
                target_in: slump_in,
                tolerance_in,
            },
        }),
        Err(error) => {
            let (span, expected) = match error {
                MixError::Volume { .. } => (
                    fine_at,
                    "expected masses that fill 27 ft³; without `fine_lb` it is computed".to_owned(),
                ),
                MixError::AboveItsLimit { wc, .. } => {
                    (wc_at, format!("expected at least {wc:.3}, or less water"))
                }
                MixError::Masses => (
                    water_at,
                    "expected cement and water of more than 0 lb".to_owned(),
                ),
                _ => (opening, "expected a mix that can be made".to_owned()),
            };
            problems.add(Problem::new(span, error.to_string()).label(expected))
        }
    }
}

type Variants<T, const N: usize> = [(&'static str, fn(Contents<'_>) -> Option<T>); N];

const LAWS: Variants<StrengthLaw, 3> = [
    ("AciPlain", |contents| contents.bare(StrengthLaw::AciPlain)),
    ("AciAirEntrained", |contents| {
        contents.bare(StrengthLaw::AciAirEntrained)
    }),
    ("Abrams", |contents| {
        let mut fields = contents.fields(&["a_psi", "b"])?;
        let a_psi = fields.required("a_psi", number(Limits::between("psi", 1e3, 1e5)));
        let b = fields.required("b", number(Limits::above("factor", 1.0, 100.0)));
        fields.finish();
        Some(StrengthLaw::Abrams(Abrams {
            a_psi: a_psi?,
            b: b?,
        }))
    }),
];

const TEMPERATURES: Variants<AirTemperature, 2> = [
    ("Steady", |contents| {
        let mut fields = contents.fields(&["f"])?;
        let f = fields.required("f", number(AIR));
        fields.finish();
        Some(AirTemperature::Steady(f?))
    }),
    ("Daily", |contents| {
        let mut fields = contents.fields(&["mean_f", "swing_f", "warmest_h"])?;
        let mean_f = fields.required("mean_f", number(AIR));
        let swing_f = fields.required("swing_f", number(Limits::between("°F", 0.0, 40.0)));
        let warmest_h = fields.optional(
            "warmest_h",
            number(Limits::between("hour", 0.0, 24.0)),
            15.0,
        );
        fields.finish();
        Some(AirTemperature::Daily {
            mean_f: mean_f?,
            swing_f: swing_f?,
            warmest_h,
        })
    }),
];

const AIR: Limits = Limits::between("°F", -20.0, 130.0);

fn age_table(node: &Node, problems: &Problems) -> Option<AgeTable> {
    let written = spanned(name)(node, problems)?;
    let all = AgeTable::ALL.map(AgeTable::name);
    let found = AgeTable::ALL
        .into_iter()
        .find(|table| table.name() == written.value);
    found.or_else(|| {
        let title = format!("unknown table of age limits {:?}", written.value);
        let mut problem = Problem::new(written.span.clone(), title)
            .label(format!("expected one of {}", listed(all)));
        if let Some(near) = nearest(&written.value, all) {
            let text = format!("{near:?}");
            problem = problem.replace(
                written.span,
                text,
                format!("a similar one exists: {near:?}"),
            );
        }
        problems.add(problem)
    })
}

fn share(what: &'static str) -> impl Fn(&Node, &Problems) -> Option<f64> + Copy {
    number(Limits::between(what, 0.0, 1.0))
}

fn gravities(node: &Node, problems: &Problems) -> Option<Gravities> {
    let usual = Gravities::USUAL;
    let mut fields = Fields::of(node, "block of specific gravities", problems)?;
    let gravity = number(Limits::between("specific gravity", 0.5, 8.0));
    let gravities = Gravities {
        cement: fields.optional("cement", gravity, usual.cement),
        binder: fields.optional("binder", gravity, usual.binder),
        fine: fields.optional("fine", gravity, usual.fine),
        coarse: fields.optional("coarse", gravity, usual.coarse),
        hrwr: fields.optional("hrwr", gravity, usual.hrwr),
    };
    fields.finish();
    Some(gravities)
}

fn meter(node: &Node, problems: &Problems) -> Option<SlumpMeter> {
    let usual = SlumpMeter::USUAL;
    let mut fields = Fields::of(node, "meter block", problems)?;
    let meter = SlumpMeter {
        sd_in: fields.optional(
            "sd_in",
            number(Limits::between("in", 0.0, 5.0)),
            usual.sd_in,
        ),
        revolutions: fields.optional(
            "revolutions",
            number(Limits::above("revolutions", 0.0, 500.0)),
            usual.revolutions,
        ),
        minutes: fields.optional(
            "minutes",
            number(Limits::above("minutes", 0.0, 60.0)),
            usual.minutes,
        ),
    };
    fields.finish();
    Some(meter)
}

fn usual_moisture() -> AggregateWater {
    AggregateWater {
        fine: 0.05,
        coarse: 0.01,
        fine_sd: 0.004,
        coarse_sd: 0.0015,
        probe_share: 0.25,
    }
}

fn moisture(node: &Node, problems: &Problems) -> Option<AggregateWater> {
    let usual = usual_moisture();
    let mut fields = Fields::of(node, "moisture block", problems)?;
    let water = number(Limits::between("share of the mass", 0.0, 0.2));
    let moisture = AggregateWater {
        fine: fields.optional("fine", water, usual.fine),
        coarse: fields.optional("coarse", water, usual.coarse),
        fine_sd: fields.optional("fine_sd", water, usual.fine_sd),
        coarse_sd: fields.optional("coarse_sd", water, usual.coarse_sd),
        probe_share: fields.optional("probe_share", share("share"), usual.probe_share),
    };
    fields.finish();
    Some(moisture)
}

fn usual_tickets() -> Tickets {
    Tickets {
        read: 0.8,
        knows: 0.7,
        warned: 0.98,
        worn: 0.8,
    }
}

fn tickets(node: &Node, problems: &Problems) -> Option<Tickets> {
    let usual = usual_tickets();
    let mut fields = Fields::of(node, "tickets block", problems)?;
    let share = share("share of tickets");
    let tickets = Tickets {
        read: fields.optional("read", share, usual.read),
        knows: fields.optional("knows", share, usual.knows),
        warned: fields.optional("warned", share, usual.warned),
        worn: fields.optional("worn", share, usual.worn),
    };
    fields.finish();
    Some(tickets)
}

fn usual_corrections() -> Corrections {
    Corrections {
        looks_again: 0.8,
        wait_min: 10.0,
        dump: Volume::from_yd3(1.0),
        with: DryUpWith::CementAndFine,
        minutes: Spread::Triangular {
            low: 3.0,
            mode: 4.0,
            high: 8.0,
        },
        cement_per_lb: 0.07,
        fine_per_lb: 0.01,
    }
}

const WITH: [(&str, DryUpWith); 2] = [
    ("CementAndFine", DryUpWith::CementAndFine),
    ("CementOnly", DryUpWith::CementOnly),
];

fn corrections(node: &Node, problems: &Problems) -> Option<Corrections> {
    let usual = usual_corrections();
    let mut fields = Fields::of(node, "corrections block", problems)?;
    let yd3 = |node: &Node, problems: &Problems| {
        number(Limits::between("yd³", 0.0, 20.0))(node, problems).map(Volume::from_yd3)
    };
    let price = number(Limits::between("money per lb", 0.0, 100.0));
    let corrections = Corrections {
        looks_again: fields.optional("looks_again", share("share of loads"), usual.looks_again),
        wait_min: fields.optional(
            "wait_min",
            number(Limits::between("minutes", 0.0, 60.0)),
            usual.wait_min,
        ),
        dump: fields.optional("dump_yd3", yd3, usual.dump),
        with: fields.optional("with", one_of("material of a dry-up", &WITH), usual.with),
        minutes: fields.optional("minutes", minutes, usual.minutes),
        cement_per_lb: fields.optional("cement_per_lb", price, usual.cement_per_lb),
        fine_per_lb: fields.optional("fine_per_lb", price, usual.fine_per_lb),
    };
    fields.finish();
    Some(corrections)
}

fn usual_on_site() -> OnSite {
    OnSite {
        tested: 0.3,
        by_eye_in: 1.5,
        air_sd: 0.7,
        wrong_mix: 0.0005,
        retemper: true,
    }
}

fn on_site(node: &Node, problems: &Problems) -> Option<OnSite> {
    let usual = usual_on_site();
    let mut fields = Fields::of(node, "on-site block", problems)?;
    let on_site = OnSite {
        tested: fields.optional("tested", share("share of loads"), usual.tested),
        by_eye_in: fields.optional(
            "by_eye_in",
            number(Limits::between("in", 0.0, 11.0)),
            usual.by_eye_in,
        ),
        air_sd: fields.optional(
            "air_sd",
            number(Limits::between("per cent", 0.0, 10.0)),
            usual.air_sd,
        ),
        wrong_mix: fields.optional("wrong_mix", share("share of loads"), usual.wrong_mix),
        retemper: fields.optional("retemper", flag, usual.retemper),
    };
    fields.finish();
    Some(on_site)
}
