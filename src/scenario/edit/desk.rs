//! What the desk knows and does: changes to one rule.

use crate::dispatch::{DriversWord, Lend, Rule, Warning};
use crate::hours::RuleBook;
use crate::roads::Belief;
use crate::scenario::Scenario;

fn with(scenario: &Scenario, rule: usize, edit: impl FnOnce(&mut Rule)) -> Scenario {
    let mut edited = scenario.clone();
    edit(&mut edited.rules[rule]);
    edited
}

pub(super) fn warning(scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
    if scenario.rules[rule].yard.warns() {
        return Err("the ticket carries one");
    }
    let warned = |rule: &mut Rule| {
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

pub(super) fn moisture_probe(scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
    let Some(material) = &scenario.concrete.material else {
        return Err("no concrete is computed");
    };
    let water = &material.moisture;
    if scenario.rules[rule].yard.probe {
        Err("the bins have them")
    } else if water.probe_share == 1.0 || (water.fine_sd == 0.0 && water.coarse_sd == 0.0) {
        Err("a probe would tell nothing new")
    } else {
        Ok(with(scenario, rule, |rule| rule.yard.probe = true))
    }
}

pub(super) fn drivers_word(scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
    if scenario.rule_book == RuleBook::Unlimited {
        Err("no driver runs out of hours")
    } else if scenario.rules[rule].drivers_word == DriversWord::Heard {
        Err("the desk hears them")
    } else {
        Ok(with(scenario, rule, |rule| {
            rule.drivers_word = DriversWord::Heard;
        }))
    }
}
