//! Choices of a rule that make no sense together.

use crate::dispatch::{AfterDischarge, Lend, Override, Rule};
use crate::scenario::decode::Fields;
use crate::scenario::problem::{Problem, Problems};
use crate::scenario::read::fleet::Trucks;

/// Finds them in a rule, and says where they are written.
pub(super) fn find(rule: &Rule, fields: &Fields<'_>, trucks: &Trucks, problems: &Problems) {
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
