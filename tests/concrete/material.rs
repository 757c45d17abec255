//! Concrete in the drum, against published figures, open data and days on paper. The source stands beside each check.

mod ages;
mod air;
mod dry_up;
mod load_on_paper;
mod mixes;
mod on_top;
mod slumps;
mod strengths;
mod weather;
mod weights;

use plantday::concrete::{
    AirTarget, Gravities, HrwrKind, Masses, Mix, Sensitivity, SlumpTarget, StrengthLaw,
};

#[track_caller]
fn near(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance,
        "{found} for {expected} ± {tolerance}"
    );
}

/// Within this share of the expected value.
#[track_caller]
fn close(found: f64, expected: f64, relative: f64) {
    near(found, expected, relative * expected.abs());
}

/// A plain mix without air: 340 lb of water per yd³, w/c 0.57, 4 in; fine aggregate fills it. Neither air nor warmth does anything
/// to it.
fn plain_mix() -> Mix {
    Mix {
        per_yd3: Masses {
            cement_lb: 340.0 / 0.57,
            water_lb: 340.0,
            coarse_lb: 1_750.0,
            ..Masses::default()
        },
        gravities: Gravities::USUAL,
        air: AirTarget {
            target: 0.0,
            tolerance: 1.5,
        },
        slump: SlumpTarget::USUAL,
        specified_psi: 4_000.0,
        law: StrengthLaw::AciPlain,
        most_wc: None,
        retarder: false,
        hrwr_kind: HrwrKind::Extended,
        binder_counts: 1.0,
        sensitivity: Sensitivity::NONE,
    }
    .filled_with_fine()
    .unwrap()
}
