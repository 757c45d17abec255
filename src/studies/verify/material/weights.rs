//! Weights against 23 U.S.C. 127 and its published table, and axles on paper.

use super::super::check::{Basis, Sheet};
use crate::concrete::{
    Axle, AxleLayout, CONCRETE_LB_PER_YD3, EmptyWeight, bridge_formula_lb, bridge_limit_lb,
};

/// Axles, feet between the outer ones, pounds.
const BRIDGE: [(usize, f64, f64); 15] = [
    (2, 4.0, 34_000.0),
    (2, 8.0, 34_000.0),
    (2, 9.0, 39_000.0),
    (2, 10.0, 40_000.0),
    (3, 9.0, 42_500.0),
    (3, 10.0, 43_500.0),
    (3, 11.0, 44_000.0),
    (3, 20.0, 51_000.0),
    (4, 12.0, 50_000.0),
    (4, 20.0, 55_500.0),
    (4, 36.0, 66_000.0),
    (5, 16.0, 58_000.0),
    (5, 51.0, 80_000.0),
    (6, 25.0, 69_000.0),
    (7, 36.0, 81_000.0),
];

pub(super) fn check(sheet: &mut Sheet) {
    sheet.about(
        "Fresh concrete",
        Basis::Printed,
        "General public guides: 150 lb/ft³",
    );
    sheet.near("lb a yd³", CONCRETE_LB_PER_YD3, 150.0 * 27.0, 0.0);
    let gross = 26_000.0 + 10.0 * CONCRETE_LB_PER_YD3;
    sheet.near("a truck of 26,000 lb with 10 yd³, lb", gross, 66_500.0, 0.0);

    sheet.about(
        "Permissible gross loads",
        Basis::Memory,
        "FHWA, Bridge Formula Weights, table of 23 U.S.C. 127",
    );
    for (axles, ft, lb) in BRIDGE {
        let figure = format!("{axles} axles over {ft} ft, lb");
        sheet.near(figure, bridge_limit_lb(axles, ft), lb, 0.0);
    }
    sheet.about(
        "The bridge formula",
        Basis::Printed,
        "FHWA, Bridge Formula Weights: W = 500 (LN ÷ (N − 1) + 12 N + 36), worked example of five axles over 51 ft",
    );
    for (axles, ft, lb) in [(2, 4.0, 34_000.0), (5, 51.0, 79_875.0), (3, 20.0, 51_000.0)] {
        let figure = format!("{axles} axles over {ft} ft, lb");
        sheet.near(figure, bridge_formula_lb(axles, ft), lb, 1e-6);
    }
    // 69,000 lb: five axles over 33.6 ft, six over 25, seven over 15.4.
    for (axles, ft) in [(5, 33.6), (6, 25.0), (7, 15.43)] {
        let figure = format!("{axles} axles over {ft} ft, lb");
        sheet.close(figure, bridge_formula_lb(axles, ft), 69_000.0, 0.001);
    }
    axles(sheet);

    sheet.about(
        "A truck without a scale: 400 lb ± 600 beyond the books",
        Basis::Memory,
        "Normal table: z(0.99) = 2.32635",
    );
    let booked = EmptyWeight {
        mean_over_lb: 400.0,
        sd_lb: 600.0,
    };
    let expected = 400.0 + 600.0 * 2.326_35;
    sheet.near(
        "one day in 100, lb",
        booked.drawn_over_lb(0.99),
        expected,
        0.01,
    );
    sheet.near("one day in 2, lb", booked.drawn_over_lb(0.5), 400.0, 1e-9);
}

fn axle(at_ft: f64, empty_lb: f64, share: f64) -> Axle {
    Axle {
        at_ft,
        empty_lb,
        share,
    }
}

fn payload(axles: &[Axle], state_lb: Option<f64>) -> f64 {
    let layout = AxleLayout::new(axles);
    layout.map_or(f64::NAN, |layout| layout.largest_legal(state_lb).payload_lb)
}

fn axles(sheet: &mut Sheet) {
    let short = [
        axle(0.0, 12_000.0, 0.10),
        axle(15.6, 8_000.0, 0.45),
        axle(20.0, 8_000.0, 0.45),
    ];
    sheet.about(
        "Three axles over 20 ft, 28,000 lb empty",
        Basis::Paper,
        "23 U.S.C. 127: steer 80,000; tandem (34,000 − 16,000) ÷ 0.90 = 20,000; bridge 51,000 − 28,000 = 23,000; the tandem binds",
    );
    sheet.near("most concrete, lb", payload(&short, None), 20_000.0, 1e-6);
    let strict = payload(&short, Some(40_000.0));
    sheet.near(
        "where the state allows 40,000 lb gross, lb",
        strict,
        12_000.0,
        1e-6,
    );

    let long = [
        axle(0.0, 10_000.0, 0.15),
        axle(16.0, 3_000.0, 0.16),
        axle(20.6, 7_500.0, 0.25),
        axle(25.0, 7_500.0, 0.25),
        axle(36.0, 5_000.0, 0.19),
    ];
    sheet.about(
        "Pusher and booster: five axles over 36 ft, 33,000 lb empty",
        Basis::Paper,
        "23 U.S.C. 127: pusher and tandem, three axles over 9 ft, bind: (42,500 − 18,000) ÷ 0.66",
    );
    sheet.near(
        "most concrete, lb",
        payload(&long, None),
        24_500.0 / 0.66,
        1e-6,
    );

    let tandems = |last: f64| {
        let quarter = |at_ft| axle(at_ft, 5_000.0, 0.25);
        payload(&[0.0, 4.0, last - 4.0, last].map(quarter), None)
    };
    sheet.about(
        "Two tandems of 10,000 lb empty each",
        Basis::Paper,
        "23 U.S.C. 127: 34,000 lb each from 36 ft on; 500 (46.67 + 84) = 65,333, rounded 65,500, at 35 ft",
    );
    sheet.near(
        "most concrete over 36 ft, lb",
        tandems(36.0),
        48_000.0,
        1e-6,
    );
    sheet.near(
        "most concrete over 35 ft, lb",
        tandems(35.0),
        45_500.0,
        1e-6,
    );

    let heavy = [axle(0.0, 21_000.0, 0.0), axle(20.0, 10_000.0, 1.0)];
    sheet.about(
        "A front axle of 21,000 lb empty",
        Basis::Paper,
        "23 U.S.C. 127: 20,000 lb on a single axle",
    );
    sheet.near("most concrete, lb", payload(&heavy, None), -1_000.0, 1e-9);
}
