//! What the desk knows and does: changes to one rule.

use crate::dispatch::{Lend, Rule, Warning};
use crate::roads::Belief;
use crate::scenario::Scenario;

fn with(scenario: &Scenario, rule: usize, edit: impl FnOnce(&mut Rule)) -> Scenario {
    let mut edited = scenario.clone();
    edit(&mut edited.rules[rule]);
    edited
}

pub(super) fn warning(scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
    if scenario.rules[rule].warning {
        return Err("the ticket carries one");
    }
    let warned = |rule: &mut Rule| {
        rule.warning = true;
        rule.yard.warning = Warning::OnAdmixture;
    };
    if scenario.concrete.material.is_some() {
        return Ok(with(scenario, rule, warned));
    }
    match &scenario.concrete.rack {
        Some(rack) if rack.misread != rack.misread_if_warned => Ok(with(scenario, rule, warned)),
        Some(_) => Err("a warning changes no reading"),
        None => Err("no load is misread"),
    }
}

pub(super) fn knows_the_hour(scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
    match scenario.rules[rule].belief {
        Belief::TimeOfDay { .. } | Belief::Live => Err("the desk does"),
        Belief::StraightLine | Belief::FreeFlow => Ok(with(scenario, rule, |rule| {
            rule.belief = Belief::TimeOfDay { quantile: None };
        })),
    }
}

pub(super) fn knows_the_day(scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
    if scenario.roads.network.is_none() {
        Err("a table of minutes tells nothing of the day")
    } else if scenario.rules[rule].belief == Belief::Live {
        Err("the desk does")
    } else {
        Ok(with(scenario, rule, |rule| rule.belief = Belief::Live))
    }
}

pub(super) fn no_lends(scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
    if scenario.plants.len() == 1 {
        Err("there is one plant")
    } else if scenario.rules[rule].lend == Lend::Never {
        Err("the rule lends no truck")
    } else {
        Ok(with(scenario, rule, |rule| rule.lend = Lend::Never))
    }
}
