//! Fleets for a pour.

mod cases;

use super::super::Work;
use super::super::check::{Basis, Sheet};
use super::pour_figures::Figure;
use super::{Change, TOWER, day};
use crate::studies::{FleetQuestion, fleet};
use crate::units::OrderId;
use cases::POURS;

struct Pour {
    about: &'static str,
    arithmetic: &'static str,
    changes: &'static [Change],
    /// What is asked beyond the usual.
    asked: fn(&mut FleetQuestion),
    figures: &'static [Figure],
}

pub(super) fn cases() -> u64 {
    POURS.len() as u64
}

pub(super) fn check(work: &Work<'_>, sheet: &mut Sheet) -> Option<()> {
    for pour in &POURS {
        let mut question = FleetQuestion {
            order: OrderId::new(0),
            alone: true,
            trucks: 1..=16,
            replications: 60,
            threads: work.question.threads,
            ..FleetQuestion::default()
        };
        (pour.asked)(&mut question);
        let scenario = day(TOWER, pour.changes);
        let answer = fleet(&scenario, &question, work.watch.telling(&|_| ()))
            .unwrap_or_else(|_| panic!("a pour of the program's own: {}", pour.about))?;
        sheet.about(pour.about, Basis::Paper, pour.arithmetic);
        for figure in pour.figures {
            let (words, expected, found) = figure.line(&answer);
            sheet.check(words, expected, found);
        }
        work.done(1)?;
    }
    Some(())
}
