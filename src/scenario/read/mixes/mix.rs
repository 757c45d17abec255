//! One mix: its masses, air, slump, strength and limits.

use crate::concrete::{
    Abrams, AirTarget, Gravities, HrwrKind, Masses, Mix, MixError, Sensitivity, SlumpTarget,
    StrengthLaw,
};
use crate::scenario::NamedMix;
use crate::scenario::decode::{
    Contents, Fields, Limits, Names, flag, name, number, one_of, spanned, variant,
};
use crate::scenario::defaults;
use crate::scenario::problem::{Problem, Problems};
use crate::scenario::tree::Node;

pub(super) fn mix(node: &Node, names: &mut Names, problems: &Problems) -> Option<NamedMix> {
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
    let binder_lb = fields.usual(&defaults::BINDER_LB, lb);
    let water_lb = fields.required("water_lb", lb);
    let fine_lb = fields.maybe("fine_lb", lb);
    let fine_written = fields.place("fine_lb").is_some();
    let coarse_lb = fields.required("coarse_lb", lb);
    let hrwr_lb = fields.usual(&defaults::HRWR_LB, lb);
    let percent = number(Limits::between("per cent", 0.0, 20.0));
    let air = fields.usual(&defaults::AIR, percent);
    let air_tolerance = fields.usual(&defaults::AIR_TOLERANCE, percent);
    let inches = number(Limits::between("in", 0.0, 10.5));
    let slump_in = fields.usual(&defaults::SLUMP_IN, inches);
    let tolerance = fields.off(&defaults::SLUMP_TOLERANCE, inches);
    let tolerance_in = tolerance.unwrap_or(SlumpTarget::by_c94(slump_in).tolerance_in);
    let more = &defaults::YARD_SLUMP_MORE_IN;
    let yard_in = fields.usual_from(more, inches, (slump_in + more.value).min(10.5));
    let specified = fields.required("specified_psi", number(Limits::above("psi", 0.0, 20_000.0)));
    let law = fields.usual(&defaults::STRENGTH, variant("strength law", &LAWS));
    let most_wc = fields.maybe("most_wc", number(Limits::above("w/c", 0.0, 2.0)));
    let retarder = fields.usual(&defaults::RETARDER, flag);
    let hrwr_kind = fields.usual(&defaults::HRWR_KIND, one_of("kind of HRWR", &HRWR_KINDS));
    let binder_counts = fields.usual(
        &defaults::BINDER_COUNTS,
        number(Limits::between("of cement", 0.0, 1.5)),
    );
    let gravities = fields.block("gravities", "block of specific gravities", gravities);
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
        hrwr_kind,
        binder_counts,
        sensitivity: Sensitivity::USUAL, // of all mixes, read beside them
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

const HRWR_KINDS: [(&str, HrwrKind); 2] =
    [("Extended", HrwrKind::Extended), ("Older", HrwrKind::Older)];

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

fn gravities(mut fields: Fields<'_>) -> Gravities {
    let gravity = number(Limits::between("specific gravity", 0.5, 8.0));
    let gravities = Gravities {
        cement: fields.usual(&defaults::CEMENT, gravity),
        binder: fields.usual(&defaults::BINDER, gravity),
        fine: fields.usual(&defaults::FINE, gravity),
        coarse: fields.usual(&defaults::COARSE, gravity),
        hrwr: fields.usual(&defaults::HRWR, gravity),
    };
    fields.finish();
    gravities
}
