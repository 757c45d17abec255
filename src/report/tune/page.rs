//! The report page of `tune`: decision first, surface, final, cautions, recipe.

use super::sentences::{decimals, decision, named, notes, shown};
use crate::report::compare::limits;
use crate::report::document::{document, unbroken};
use crate::report::shell;
use crate::scenario::Scenario;
use crate::studies::Tuned;
use maud::{PreEscaped, html};

/// The page as HTML text.
pub(super) fn page(answer: &Tuned, scenario: &Scenario, chart: &str) -> String {
    let figures = || std::iter::once(&answer.judge).chain(&answer.targets);
    let body = html! {
        h1 { (answer.scenario) }
        p.about { (scenario.about) }
        div.decision {
            p { (unbroken(&decision(answer))) }
            @for note in notes(answer) { p { (unbroken(&note)) } }
        }
        section {
            h2 { "The settings tried" }
            figure { (PreEscaped(chart)) }
        }
        @if !answer.finalists.is_empty() {
            h2 { "The final" }
            div.wide {
                table {
                    thead { tr {
                        th { "setting" }
                        @for column in figures() { th { (column.label) } }
                        @for column in &answer.targets { th { (column.label) ", bound" } }
                        @if !answer.targets.is_empty() { th { "meets the targets" } }
                    } }
                    tbody {
                        @for (place, finalist) in answer.finalists.iter().enumerate() {
                            tr {
                                td {
                                    @if answer.chosen == Some(place) { strong { (named(answer, &answer.settings[finalist.setting])) } }
                                    @else { (named(answer, &answer.settings[finalist.setting])) }
                                }
                                @for (column, summary) in figures().zip(std::iter::once(&finalist.judged).chain(&finalist.targets)) {
                                    td { (summary.mean().map_or("–".into(), |mean| shown(column, mean, decimals(column)))) }
                                }
                                @for (column, bound) in answer.targets.iter().zip(&finalist.bounds) {
                                    td { (shown(column, *bound, decimals(column) + 1)) }
                                }
                                @if !answer.targets.is_empty() { td { @if finalist.meets { "yes" } @else { "not shown" } } }
                            }
                        }
                    }
                }
            }
            @if !answer.targets.is_empty() { p.note { "A target is met if the bound, which holds for all finalists at once, meets it." } }
        }
        h2 { "The rule" }
        p { strong { (answer.rule) } " " (scenario.rules[answer.asked.rule].about) }
        (limits(scenario))
        h2 { "How to get this answer again" }
        p { "plantday " (env!("CARGO_PKG_VERSION")) ", the scenario \"" (answer.scenario) "\":" }
        p { code { (recipe(answer, scenario)) } }
        p.note { "The number of threads changes nothing. Every setting is in surface.csv, the finalists in final.csv." }
    };
    document(&format!("Rule tuned: {}", answer.rule), &body)
}

fn recipe(answer: &Tuned, scenario: &Scenario) -> String {
    let asked = &answer.asked;
    let mut text = format!(
        "{} --rule {}",
        shell::command("tune", scenario),
        shell::quoted(&answer.rule)
    );
    for vary in &asked.vary {
        let values: Vec<String> = vary.values.iter().map(f64::to_string).collect();
        text += &format!(" --vary '{}={}'", vary.parameter.name(), values.join(","));
    }
    for (target, column) in asked.targets.iter().zip(&answer.targets) {
        text += &format!(" --target '{}={}'", column.key, target.bound);
    }
    text + &format!(
        " --judge {} --indifference {} --confidence {} --search {} --replications {} --seed {}",
        answer.judge.key,
        asked.indifference,
        asked.level,
        answer.searched,
        answer.decided_on,
        asked.seed
    )
}
