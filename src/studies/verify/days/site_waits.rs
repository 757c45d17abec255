//! What trucks wait for on site.

use super::super::check::{Basis, Sheet};
use super::{Change, TWO_TRUCKS, day, told};
use crate::engine::Luck;
use crate::observe::Profiler;
use crate::observe::WaitCause::{self, *};
use crate::plant::{Plan, World};

struct Day {
    about: &'static str,
    arithmetic: &'static str,
    changes: &'static [Change],
    waits: &'static [(WaitCause, f64)],
}

const ONE_LOAD: Change = ("volume_yd3: 40", "volume_yd3: 10");
const EARLY: Change = ("early_min: 0", "early_min: 10");

/// Three loads due at once, at one bay: on site at 07:00, 07:06, 07:12.
const THREE: [Change; 2] = [
    (
        "volume_yd3: 40, spacing_min: 30",
        "volume_yd3: 30, spacing_min: 0",
    ),
    ("count: 2", "count: 3"),
];

const DAYS: [Day; 5] = [
    Day {
        about: "Three loads at once on site",
        arithmetic: "A place is taken for 10 min; they come at 07:00, 07:06, 07:12 and get it at 07:00, 07:10, 07:20",
        changes: &[THREE[0], THREE[1]],
        waits: &[(Slow, 12.0)],
    },
    Day {
        about: "The same, called in at 06:45",
        arithmetic: "They come at 07:15, 07:21, 07:27, after the site could have taken them: 4 + 8 min for loads that came late",
        changes: &[
            THREE[0],
            THREE[1],
            ("late_min: 0", "late_min: 0, called: \"06:45\""),
        ],
        waits: &[(Bunched, 12.0)],
    },
    Day {
        about: "A rule that keeps 10 min in hand",
        arithmetic: "On site at 06:50 for a load due at 07:00",
        changes: &[ONE_LOAD, EARLY],
        waits: &[(Early, 10.0)],
    },
    Day {
        about: "A site that is not set up",
        arithmetic: "Due at 07:00, ready at 07:25, which nobody knows; there since 06:50",
        changes: &[
            ONE_LOAD,
            EARLY,
            (
                "rules: [",
                "changes: (not_ready: 1, not_ready_min: Constant(25)), rules: [",
            ),
        ],
        waits: &[(Early, 10.0), (NotReady, 25.0)],
    },
    Day {
        about: "A pour on hold",
        arithmetic: "After the first load, at 07:10, half an hour: the second waits 4 min, then 30; the third 28, then 10 for the second",
        changes: &[
            THREE[0],
            THREE[1],
            (
                "rules: [",
                "changes: (hold: 1, hold_min: Constant(30)), rules: [",
            ),
        ],
        waits: &[(OnHold, 58.0), (Slow, 14.0)],
    },
];

pub(super) fn check(sheet: &mut Sheet) {
    for paper in DAYS {
        let scenario = day(TWO_TRUCKS, paper.changes);
        let plan = Plan::new(&scenario);
        let mut profiler = Profiler::new(&plan);
        profiler.begin();
        World::new(&plan).run(0, Luck::new(1, 0), &mut profiler);
        let waits = profiler.profile.site_wait;
        let found = WaitCause::ALL.into_iter();
        let found = found.map(|cause| (cause.words(), waits[cause as usize] as f64 / 60_000.0));
        let expected = paper.waits.iter();
        let expected = expected.map(|(cause, minutes)| (cause.words(), *minutes));
        sheet.about(paper.about, Basis::Paper, paper.arithmetic);
        sheet.words("waiting on site", told(found), told(expected));
    }
}
