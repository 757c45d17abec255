//! Choices of a rule that make no sense together.

use super::Known;
use crate::dispatch::{AfterDischarge, Lend, Override, Rule};
use crate::roads::Belief;
use crate::scenario::decode::Fields;
use crate::scenario::problem::{Problem, Problems};

/// Finds them in a rule, and says where they are written.
pub(super) fn find(rule: &Rule, fields: &Fields<'_>, known: Known<'_>, problems: &Problems) {
    let trucks = known.trucks;
    if let (Belief::StraightLine, Some(place)) = (rule.belief, known.off_the_map)
        && let Some(span) = fields.place("belief")
    {
        let title = "the rule measures on the map, and not every place lies on it";
        problems.add::<()>(
            Problem::new(span, title)
                .label("expected `at: (miles east, miles north)` for every plant and site, or another belief")
                .also(
                    place.span.clone(),
                    format!("{:?} does not say where it lies", place.value),
                ),
        );
    }
    if rule.override_gates != Override::Never
        && rule.gates.is_empty()
        && fields.place("gates").is_none()
        && let Some(span) = fields.place("override_gates")
    {
        problems.add::<()>(
            Problem::new(span, "gates are overridden, and the rule has none")
                .label("expected `Never`, or gates in the rule"),
        );
    }
    if rule.after_discharge != AfterDischarge::HomePlant
        && rule.lend == Lend::Never
        && let Some(span) = fields.place("after_discharge")
    {
        let mut problem = Problem::new(
            span,
            "trucks head for another plant, and the rule never lends them",
        )
        .label(
            "expected `HomePlant`, or `lend: IfSaves(minutes: …)` or `lend: Always` in the rule",
        );
        if let Some(lend) = fields.place("lend") {
            problem = problem.also(lend, "never lends here");
        }
        problems.add::<()>(problem);
    }
    if !trucks.can_carry(rule.room_kept_yd3, rule.weight_margin_lb) {
        let span = fields
            .place("room_kept_yd3")
            .or(fields.place("weight_margin_lb"))
            .unwrap_or(fields.opening());
        let title = format!(
            "with {} yd³ of room and {} lb of weight kept no truck can carry anything",
            rule.room_kept_yd3, rule.weight_margin_lb
        );
        problems.add::<()>(
            Problem::new(span, title)
                .label("expected less than some truck's capacity and legal payload"),
        );
    }
}
