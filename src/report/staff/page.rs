//! The report page of staffing.

use super::charts::Chart;
use super::terminal::{HEADINGS, cells, margin, shown};
use super::{sentences, sheet};
use crate::report::compare::page::{assumed, limits};
use crate::report::document::document;
use crate::report::number::number;
use crate::scenario::Scenario;
use crate::studies::{CallSheet, StaffAnswer};
use maud::{Markup, PreEscaped, html};

pub(super) fn page(
    answer: &StaffAnswer,
    call_in: Option<&CallSheet>,
    scenario: &Scenario,
    charts: &[Chart],
    recipe: &str,
) -> String {
    let title = format!("Staffing: {}", answer.scenario);
    let body = html! {
        h1 { (answer.scenario) }
        p.about { "How many drivers, starting when, and whether overtime is cheaper than a hire" }
        div.decision {
            p { (sentences::decision(answer)) }
            @for sentence in sentences::one_more(answer) { p { (sentence) } }
            @if let Some(sentence) = sentences::hire(answer) { p { (sentence) } }
            @if let Some(sentence) = sentences::growth(answer) { p { (sentence) } }
            @if let Some(sentence) = sentences::written(answer) { p { (sentence) } }
        }
        @for (_, heading, svg) in charts {
            section { h2 { (heading) } figure { (PreEscaped(svg)) } }
        }
        h2 { "The staffings of the final answer" }
        div.wide {
            table {
                thead { tr { @for heading in HEADINGS { th { (heading) } } th { "closest to the limit" } } }
                tbody {
                    @for result in shown(answer) {
                        tr { @for cell in cells(answer, result) { td { (cell) } } td { (margin(result)) } }
                    }
                }
            }
        }
        p.note { "Money " (sentences::period(answer.days)) ". \"!\": above a target. All staffings tried are in staff.csv." }
        (growth(answer))
        @if let Some(call_in) = call_in { (sheet::section(call_in)) }
        h2 { "How to read it" }
        ul {
            li { (sentences::MATCHED) }
            li { "Staggered: evenly between the first and the last rostered report of each plant; staggered:20: 20 min apart from the first on. \
                Who takes over a truck from another that day keeps the rostered time." }
            li { "Overtime none: sent home when the regular hours are over; longer: two hours beyond the roster. The hours-of-service limits \
                hold in every case." }
            li { "Drivers counted are those rostered on at least half of the days; the others stay as they are. A driver more brings a truck, whose \
                hours are charged at the scenario's price; a driver less leaves one parked." }
            li { "Idle: regular pay for the share of paid time without a load, a trip for one, or a site." }
            li { "A hire's break-even is what one driver more saves, that driver's hours already paid; so what a hire costs a week is what comes \
                on top: benefits, training, insurance." }
            li { (sentences::sureness(answer)) }
        }
        (assumed(scenario))
        (limits(scenario))
        h2 { "How to get this answer again" }
        p { "plantday " (env!("CARGO_PKG_VERSION")) ", the scenario \"" (answer.scenario) "\":" }
        p { code { (recipe) } }
        p.note { "The number of threads changes nothing. Every number of this page is in staff.csv, growth.csv and staff.json." }
    };
    document(&title, &body)
}

fn growth(answer: &StaffAnswer) -> Markup {
    html! {
        @if !answer.grown.is_empty() {
            h2 { "A growing order book" }
            table {
                thead { tr { th { "more volume" } th { "late with as many drivers" } th { "undelivered" } th { "fewest drivers that meet the targets" } th { "their cost" } } }
                tbody {
                    @for grown in &answer.grown {
                        tr {
                            td { (number(grown.per_cent, 0)) " %" }
                            td { (sentences::share(&grown.as_now.late_share)) }
                            td { (sentences::share(&grown.as_now.undelivered)) }
                            @match &grown.fewest {
                                Some(result) => { td { (result.staffing.drivers) } td { (sentences::dollars(&result.cost)) } }
                                None => { td { "more than were tried" } td { "–" } }
                            }
                        }
                    }
                }
            }
        }
    }
}
