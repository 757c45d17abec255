//! The causes page: one file that works from the disk, offline, and prints. Finding first.

use super::sentences::{self, finding};
use super::terminal::{as_it_is, headings, legend, rows};
use crate::report::compare;
use crate::report::document::document;
use crate::report::shell;
use crate::scenario::Scenario;
use crate::studies::Counterfactuals;
use maud::{Markup, PreEscaped, html};

/// The page as HTML text.
pub(super) fn page(
    answer: &Counterfactuals,
    scenario: &Scenario,
    worth: &str,
    lateness: Option<&str>,
) -> String {
    let not_applying = sentences::not_applying(answer);
    let content = html! {
        h1 { (answer.scenario) }
        p.about { (scenario.about) }
        div.decision {
            p { (finding(answer)) }
            p { (sentences::sureness(answer)) }
        }
        section {
            h2 { "What each change is worth" }
            @if !answer.changes.is_empty() { figure { (PreEscaped(worth)) } }
            p.note { (sentences::paid(answer)) }
        }
        h2 { "What would not have happened" }
        div.wide {
            table {
                thead { tr { @for heading in headings(answer) { th { (heading) } } } }
                tbody {
                    tr { @for cell in as_it_is(answer) { td { (cell) } } }
                    @for row in rows(answer) { tr { @for cell in row { td { (cell) } } } }
                }
            }
        }
        p.note { (legend(answer)) }
        @if !not_applying.is_empty() { p.note { (not_applying) } }
        @if let Some(lateness) = lateness {
            section {
                h2 { "What made loads late" }
                figure { (PreEscaped(lateness)) }
            }
        }
        (compare::losses_section(&answer.ledger))
        (limits())
        (recipe(answer, scenario))
    };
    document(&format!("Causes: {}", answer.scenario), &content)
}

fn limits() -> Markup {
    html! {
        h2 { "How to read this" }
        ul {
            li { "Every change meets the same luck: the same orders, no-shows, traffic and minutes on site, but for what is changed." }
            li { "One thing is changed at a time. Two changes together may be worth less, or more, than their sum." }
            li { "A truck more and its driver are like the first of their plant; who reports an hour earlier works a tour as long as before." }
            li { "\"No plant outages\" leaves out planned ones too. No incidents, no outages and the like can't be bought: they show what those things cost today." }
            li { "This is a plan, not a permission: local codes, hours-of-service rules and the carrier's own records decide who may drive." }
        }
    }
}

/// What gives the same bytes again.
fn recipe(answer: &Counterfactuals, scenario: &Scenario) -> Markup {
    html! {
        h2 { "How to get this answer again" }
        p {
            code {
                (shell::command("causes", scenario)) " --rule " (shell::quoted(&answer.rule)) " --replications " (answer.replications()) " --seed " (answer.seed)
            }
        }
        p.note {
            "plantday " (env!("CARGO_PKG_VERSION")) ", the scenario \"" (answer.scenario) "\". The number of threads changes nothing. "
            "All numbers are in worth.csv, lateness.csv and losses.csv, every figure of every replication in figures.csv."
        }
    }
}
