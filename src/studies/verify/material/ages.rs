//! Age limits against the published tables.

use super::super::check::{Basis, Sheet};
use crate::concrete::AgeTable::{self, *};
use crate::concrete::{Conditions, Load, Until};

/// Air and concrete in °F, whether the mix has a retarder and the drum turns, and minutes.
type Row = (f64, f64, bool, bool, i64);

const TABLES: [(AgeTable, Basis, &[Row]); 12] = [
    (Default, Basis::Printed, &[(95.0, 90.0, true, true, 90)]),
    (
        AstmC94To2013,
        Basis::Printed,
        &[(70.0, 70.0, false, true, 90)],
    ),
    // 1.5 h; 2 h with a retarder up to 30 °C; 60 and 45 min without agitation.
    (
        Retarder120,
        Basis::Printed,
        &[
            (70.0, 70.0, false, true, 90),
            (70.0, 86.0, true, true, 120),
            (70.0, 87.0, true, true, 90),
            (70.0, 70.0, false, false, 60),
            (70.0, 86.0, false, false, 45),
        ],
    ),
    (
        Retarder90,
        Basis::Printed,
        &[
            (70.0, 70.0, false, true, 60),
            (70.0, 70.0, true, true, 90),
            (70.0, 70.0, false, false, 45),
            (70.0, 70.0, true, false, 75),
        ],
    ),
    (
        Bs8500,
        Basis::Printed,
        &[
            (70.0, 70.0, false, true, 120),
            (70.0, 70.0, false, false, 60),
        ],
    ),
    (
        HotAir,
        Basis::Printed,
        &[
            (84.0, 80.0, false, true, 90),
            (85.0, 80.0, false, true, 75),
            (87.0, 80.0, false, true, 75),
            (90.0, 80.0, false, true, 75),
            (95.0, 80.0, false, true, 60),
        ],
    ),
    (
        WarmAir60,
        Basis::Printed,
        &[
            (60.0, 70.0, false, true, 90),
            (70.0, 70.0, false, true, 90),
            (80.0, 70.0, false, true, 60),
        ],
    ),
    (
        Minutes105,
        Basis::Printed,
        &[(80.0, 80.0, false, true, 105)],
    ),
    (
        Air90To45,
        Basis::Memory,
        &[
            (90.0, 80.0, false, true, 45),
            (90.0, 80.0, true, true, 75),
            (80.0, 80.0, false, true, 60),
            (80.0, 80.0, true, true, 90),
            (74.0, 80.0, false, true, 90),
            (74.0, 80.0, true, true, 120),
        ],
    ),
    (
        Air60To30,
        Basis::Memory,
        &[
            (90.0, 80.0, false, true, 30),
            (90.0, 80.0, true, true, 75),
            (85.0, 80.0, false, true, 45),
            (85.0, 80.0, true, true, 90),
            (79.0, 80.0, false, true, 60),
            (79.0, 80.0, true, true, 105),
        ],
    ),
    (
        MildAir60,
        Basis::Memory,
        &[
            (60.0, 70.0, false, true, 90),
            (65.0, 70.0, false, true, 60),
            (65.0, 70.0, true, true, 90),
        ],
    ),
    (
        CoolConcrete105,
        Basis::Memory,
        &[
            (70.0, 74.0, false, true, 105),
            (70.0, 75.0, false, true, 90),
        ],
    ),
];

pub(super) fn check(sheet: &mut Sheet) {
    for (table, basis, rows) in TABLES {
        sheet.about(
            format!("Age limit: {}", table.about()),
            basis,
            table.source(),
        );
        for (air_f, concrete_f, retarder, agitating, minutes) in rows.iter().copied() {
            let limit = table.limit(&Conditions {
                air_f,
                concrete_f,
                retarder,
                agitating,
            });
            let mut figure = format!("air {air_f} °F, concrete {concrete_f} °F");
            if retarder {
                figure += ", retarder";
            }
            if !agitating {
                figure += ", not agitated";
            }
            sheet.near(figure + ", min", limit.age.minutes(), minutes as f64, 0.0);
        }
    }
    revolutions(sheet);
}

fn revolutions(sheet: &mut Sheet) {
    let limit = |table: AgeTable, retarder| {
        table.limit(&Conditions {
            air_f: 70.0,
            concrete_f: 70.0,
            retarder,
            agitating: true,
        })
    };
    for (table, retarder, cap) in [
        (AstmC94To2013, false, Some(300.0)),
        (Retarder120, false, Some(250.0)),
        (Retarder120, true, Some(300.0)),
        (Default, false, None),
    ] {
        let told = |cap: Option<f64>| cap.map_or("no cap".into(), |cap| format!("{cap}"));
        sheet.about(
            format!("Revolutions: {}", table.about()),
            Basis::Printed,
            table.source(),
        );
        let figure = if retarder {
            "most, with a retarder"
        } else {
            "most"
        };
        sheet.words(figure, told(limit(table, retarder).revolutions), told(cap));
    }
    sheet.about("Until when: 120 min", Basis::Printed, Bs8500.source());
    let delivered = limit(Bs8500, false).until == Until::Delivered;
    sheet.yes("it ends with the arrival on site", delivered, true);

    let mix = super::plain_mix();
    let mut load = Load::batched(mix.per_yd3, 0.0);
    load.mix(70.0, 70.0);
    load.turn(45.0, 2.0, 70.0);
    load.mix(30.0, 70.0);
    sheet.about(
        "A usual load: 70 revolutions, 45 min at 2 rpm, 30 after water",
        Basis::Paper,
        "NRMCA and ASTM C94, as quoted in the trade press: 70 + 90 + 30",
    );
    sheet.near("revolutions", load.revolutions, 190.0, 1e-9);
}
