//! Strength against ACI 211.1 and its metric printing, and rules of thumb.

use super::super::check::{Basis, Sheet};
use super::plain_mix;
use crate::concrete::{ACI_PLAIN, Abrams, Load, StrengthLaw};

/// Pounds per square inch in a megapascal.
pub const PSI_PER_MPA: f64 = 145.037_738;

/// Least squares of ln psi on w/c over (w/c, psi).
pub fn fit(points: &[(f64, f64)]) -> Abrams {
    let n = points.len() as f64;
    let x = points.iter().map(|(wc, _)| wc).sum::<f64>() / n;
    let y = points.iter().map(|(_, psi)| psi.ln()).sum::<f64>() / n;
    let (mut xx, mut xy) = (0.0, 0.0);
    for (wc, psi) in points {
        xx += (wc - x) * (wc - x);
        xy += (wc - x) * (psi.ln() - y);
    }
    Abrams {
        a_psi: (y - xy / xx * x).exp(),
        b: (-xy / xx).exp(),
    }
}

/// W/c and MPa.
pub type Metric = (StrengthLaw, &'static str, [(f64, f64); 7]);

/// PCA, Design and Control of Concrete Mixtures, Table 9-3 (metric).
pub const METRIC: [Metric; 2] = [
    (
        StrengthLaw::AciPlain,
        "plain",
        [
            (0.38, 45.0),
            (0.42, 40.0),
            (0.47, 35.0),
            (0.54, 30.0),
            (0.61, 25.0),
            (0.69, 20.0),
            (0.79, 15.0),
        ],
    ),
    (
        StrengthLaw::AciAirEntrained,
        "air-entrained",
        [
            (0.30, 45.0),
            (0.34, 40.0),
            (0.39, 35.0),
            (0.45, 30.0),
            (0.52, 25.0),
            (0.60, 20.0),
            (0.70, 15.0),
        ],
    ),
];

pub(super) fn check(sheet: &mut Sheet) {
    for (law, of, basis, points) in [
        (
            StrengthLaw::AciPlain,
            "plain",
            Basis::Printed,
            &[(0.41, 6_000.0), (0.82, 2_000.0)][..],
        ),
        (
            StrengthLaw::AciPlain,
            "plain",
            Basis::Memory,
            &[(0.48, 5_000.0), (0.57, 4_000.0), (0.68, 3_000.0)],
        ),
        (
            StrengthLaw::AciAirEntrained,
            "air-entrained",
            Basis::Printed,
            &[(0.40, 5_000.0), (0.74, 2_000.0)],
        ),
        (
            StrengthLaw::AciAirEntrained,
            "air-entrained",
            Basis::Memory,
            &[(0.48, 4_000.0), (0.59, 3_000.0)],
        ),
    ] {
        sheet.about(
            format!("Strength at 28 days, {of}"),
            basis,
            "ACI 211.1, Table 6.3.4(a)",
        );
        for (wc, psi) in points {
            sheet.close(format!("w/c {wc}, psi"), law.psi(*wc), *psi, 1e-12);
        }
    }
    for (law, of, points) in METRIC {
        sheet.about(
            format!("Strength at 28 days, {of}, in another printing"),
            Basis::Printed,
            "PCA, Design and Control of Concrete Mixtures, Table 9-3 (metric), within 6%",
        );
        for (wc, mpa) in points {
            let found = law.psi(wc) / PSI_PER_MPA;
            sheet.close(format!("w/c {wc}, MPa"), found, mpa, 0.06);
        }
    }
    sheet.about(
        "Abrams' law fitted to the tables, ln strength on w/c",
        Basis::Computed,
        "Least squares with NumPy",
    );
    let us = fit(&ACI_PLAIN);
    sheet.close("B of the plain table", us.b, 14.363_894, 0.01);
    sheet.close("A of the plain table, psi", us.a_psi, 18_053.924_833, 0.01);
    for ((_, of, points), b) in METRIC.into_iter().zip([13.927_009, 15.131_968]) {
        sheet.close(
            format!("B of the metric table, {of}"),
            fit(&points).b,
            b,
            0.01,
        );
    }
    sheet.about(
        "The handbook's form of Abrams' law",
        Basis::Printed,
        "A civil-engineering handbook: A 14,000 psi, B about 4, exponent 1.5 w/c, so B = 8 by mass",
    );
    let law = Abrams {
        a_psi: 14_000.0,
        b: 8.0,
    };
    let expected = 14_000.0 / 4.0_f64.powf(1.5 * 0.5);
    sheet.close("w/c 0.5, psi", law.psi(0.5), expected, 1e-12);
    sheet.close("w/c 1, psi", law.psi(1.0), 1_750.0, 1e-12);

    let lost = |law| {
        let mut mix = plain_mix();
        mix.law = law;
        let mut load = Load::batched(mix.per_yd3, 0.0);
        let before = load.psi(&mix, 0.0);
        load.add_water(&mix, 1.0);
        before - load.psi(&mix, 0.0)
    };
    sheet.about(
        "A gallon a yd³ too much, w/c 0.57, without air",
        Basis::Printed,
        "Concrete Construction, Adjusting slump in the field: 150 to 200 psi, here within 10% below",
    );
    sheet.between(
        "strength lost, psi",
        lost(StrengthLaw::AciPlain),
        135.0,
        200.0,
    );
    sheet.about(
        "The same by the fitted law",
        Basis::Computed,
        "A ÷ B^(w/c) on paper: 340 lb of water and 8.3454 more",
    );
    let by_fit = lost(StrengthLaw::Abrams(us));
    sheet.close("strength lost, psi", by_fit, 144.660_627, 0.02);
}
