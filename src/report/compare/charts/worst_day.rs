//! The worst day, truck by truck.

use crate::report::compare::sentences;
use crate::report::day::{self, Day};
use crate::studies::Comparison;

pub(super) fn chart(answer: &Comparison) -> String {
    let worst = &answer.worst;
    day::svg(&Day {
        timeline: &worst.timeline,
        trucks: &worst.trucks,
        day: worst.day,
        days: answer.days,
        replication: (worst.replication, answer.seed),
        opening: format!("On the worst day under {}", sentences::base(answer)),
    })
}
