//! One load without any luck, step by step as on paper.
//!
//! The mix: 3 ft³ of cement (589.68 lb), 5 of water (312 lb), 10 of coarse aggregate (1,672.32 lb), 0.54 of air (2 %), 0.4
//! gal of HRWR (3.5384 lb, 0.0535 ft³), 8.4065 ft³ of fine aggregate (1,384.85 lb): 3,962.39 lb/yd³, w/c 312 ÷ 589.68 =
//! 0.5291, 8 in ± 1½. Strength by the handbook's 14,000 ÷ 8^(w/c).
//!
//! In gallons of water per yd³, by the mixing-water table of ACI 211.1, 25 ÷ 2 ÷ 8.3454 = 1.49783 for an inch up to 3½ in and
//! 20 ÷ 3 ÷ 8.3454 = 0.798843 above: 5.24241 at 3½ in, 8.03836 at 7, from there 11 − 4 e^((8.03836 − g) ÷ 3.19537). The target
//! of 8 in is 8.03836 − 3.19537 ln(3 ÷ 4) = 8.95761, of which HRWR makes 0.4 × 11.1603 = 4.46412.

use super::super::check::{Basis, Sheet};
use crate::concrete::{
    Abrams, AirTarget, Drum, DryUp, DryUpWith, Gravities, HrwrKind, Load, Masses, Mix, Sensitivity,
    SlumpMeter, SlumpTarget, StrengthLaw, WATER_LB_PER_GAL,
};
use crate::units::Volume;

/// The mix.
pub fn loaded_mix() -> Mix {
    let mix = Mix {
        per_yd3: Masses {
            cement_lb: 589.68,
            water_lb: 312.0,
            coarse_lb: 1_672.32,
            hrwr_lb: 0.4 * 1.06 * WATER_LB_PER_GAL,
            ..Masses::default()
        },
        gravities: Gravities::USUAL,
        air: AirTarget {
            target: 2.0,
            tolerance: 1.5,
        },
        slump: SlumpTarget {
            target_in: 8.0,
            tolerance_in: 1.5,
        },
        specified_psi: 4_000.0,
        law: StrengthLaw::Abrams(Abrams {
            a_psi: 14_000.0,
            b: 8.0,
        }),
        most_wc: None,
        retarder: false,
        hrwr_kind: HrwrKind::Extended,
        binder_counts: 1.0,
        sensitivity: Sensitivity::NONE,
    };
    mix.filled_with_fine().expect("the yard has room for it")
}

/// One row of the table: slump, reading, w/c, psi, yd³, lb.
fn row(sheet: &mut Sheet, load: &Load, expected: [f64; 6]) {
    let mix = loaded_mix();
    let found = [
        load.slump_in(&mix),
        load.reading_in(&mix, &SlumpMeter::USUAL, 0.5),
        load.wc(),
        load.psi(&mix, 0.0),
        load.volume_yd3(&mix),
        load.weight_lb(),
    ];
    let figures = [
        ("slump, in", 0.005),
        ("reading of the slump meter, in", 0.005),
        ("w/c", 0.000_05),
        ("strength, psi", 0.5),
        ("volume, yd³", 0.000_05),
        ("weight, lb", 0.1),
    ];
    for ((found, expected), (figure, within)) in found.into_iter().zip(expected).zip(figures) {
        sheet.near(figure, found, expected, within);
    }
}

pub(super) fn check(sheet: &mut Sheet) {
    let mix = loaded_mix();
    sheet.about(
        "A load of 10 yd³, batched, read at once",
        Basis::Paper,
        "By ACI 211.1's water table 8.95761 gal/yd³ at 8 in, of which HRWR, not yet mixed in, makes 4.46412",
    );
    let batched = mix.batched(
        Volume::from_yd3(10.0),
        Default::default(),
        Default::default(),
    );
    let mut load = Load::batched(batched, mix.air.target);
    row(sheet, &load, [8.0, 3.0, 0.5291, 4_659.0, 10.0, 39_623.9]);

    sheet.about(
        "The driver reads 3 in for 8 and adds 50 gal",
        Basis::Paper,
        "w/c 3,537.27 ÷ 5,896.8; volume 10 + 417.27 ÷ 62.4 ÷ 0.98 ÷ 27; 11 − 4 e^−1.4910 in",
    );
    load.add_water(&mix, 50.0);
    row(
        sheet,
        &load,
        [10.099, 7.482, 0.5999, 4_022.0, 10.2527, 40_041.2],
    );

    sheet.about(
        "The load is dried up into 10.5 yd³",
        Basis::Paper,
        "It would grow 1.0919 times, to 11.1947: 10.5 ÷ 11.1947 stay, 739.6 lb of cement and 3,231.2 of fine aggregate go in",
    );
    let drum = Drum::rated(Volume::from_yd3(10.5));
    let needed = DryUp::needed(&load, &mix, &drum, DryUpWith::CementAndFine);
    sheet.near("dumped, yd³", needed.dump.yd3(), 0.637, 1e-9);
    sheet.near("cement, lb", needed.masses.cement_lb, 739.642, 0.01);
    sheet.near("fine aggregate, lb", needed.masses.fine_lb, 3_231.185, 0.05);
    load.dry_up(&mix, &needed);
    row(
        sheet,
        &load,
        [8.0, 3.318, 0.5291, 4_659.0, 10.4992, 41_524.3],
    );

    sheet.about(
        "Remixed and hauled for 30 min at 2 rpm",
        Basis::Paper,
        "70 revolutions at 12 rpm 5.833 min × 0.1031 = 0.601 gal; haul 1 gal; 8.958 − 1.601 = 7.356: 6.15 in",
    );
    sheet.near("minutes of remixing", load.mix(70.0, 70.0), 5.8333, 0.0001);
    load.turn(30.0, 2.0, 70.0);
    row(
        sheet,
        &load,
        [6.146, 6.146, 0.5291, 4_659.0, 10.4992, 41_524.3],
    );

    sheet.about(
        "10 yd³ placed, the rest dumped",
        Basis::Paper,
        "39,623.9 lb batched + 417.3 of water + 3,970.8 of cement and fine aggregate = placed + dumped",
    );
    let placed = load.place(&mix, Volume::from_yd3(10.0));
    let expected = 41_524.3 * 10.0 / 10.4992;
    sheet.near("placed, lb", placed.total_lb(), expected, 0.5);
    load.dump_rest();
    sheet.near("left in the drum, lb", load.weight_lb(), 0.0, 1e-9);
    let ledger = load.ledger;
    sheet.near("came in, lb", ledger.came_in_lb(), 44_012.0, 0.3);
    let left = (ledger.placed + ledger.dumped).total_lb();
    sheet.near("placed and dumped, lb", left, ledger.came_in_lb(), 1e-6);
}
