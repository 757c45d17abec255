//! The report page of a pour's fleet.

use super::charts::Chart;
use super::{sentences, terminal};
use crate::report::compare::page::{assumed, limits};
use crate::report::document::document;
use crate::scenario::Scenario;
use crate::studies::{FleetAnswer, PourPlan};
use maud::{Markup, PreEscaped, html};

pub(super) fn page(
    answer: &FleetAnswer,
    scenario: &Scenario,
    charts: &[Chart],
    recipe: &str,
) -> String {
    let shown = answer.shown();
    let title = format!("Trucks for {}: {}", answer.order, answer.scenario);
    let body = html! {
        h1 { (answer.scenario) }
        p.about { "How many trucks \"" (answer.order) "\" takes" }
        div.decision {
            p { (sentences::decision(answer)) }
            p { (sentences::by_hand(shown)) }
            p { (sentences::sureness(answer)) }
        }
        @for (_, heading, svg) in charts {
            section {
                h2 { (heading) }
                figure { (PreEscaped(svg)) }
            }
        }
        p { (sentences::hours_in_words(answer, shown)) }
        @for plan in &answer.plans { (sizes(answer, plan)) }
        (notes(answer))
        (by_hand(shown))
        (assumed(scenario))
        (limits(scenario))
        h2 { "How to get this answer again" }
        p {
            "plantday " (env!("CARGO_PKG_VERSION")) ", the scenario \"" (answer.scenario) "\":"
        }
        p { code { (recipe) } }
        p.note { "The number of threads changes nothing. Every number of this page is in fleet.csv, trucks-by-hour.csv and fleet.json." }
    };
    document(&title, &body)
}

fn sizes(answer: &FleetAnswer, plan: &PourPlan) -> Markup {
    html! {
        h2 { "Fleet sizes, " (sentences::plan_words(answer, plan)) }
        div.wide {
            table {
                thead { tr { @for heading in terminal::columns(answer, plan) { th { (heading) } } } }
                tbody {
                    @for (at, size) in plan.sizes.iter().enumerate() {
                        tr { @for cell in terminal::cells(size, Some(at) == plan.smallest) { td { (cell) } } }
                    }
                }
            }
        }
    }
}

fn notes(answer: &FleetAnswer) -> Markup {
    html! {
        ul {
            li { "A gap: discharge stands still within the pour for longer than " (sentences::minutes(answer.tolerated)) " min, or the pour is \
                not finished on its day. Worst gap: the mean of each pour's longest pause." }
            li { "A fleet meets the target if its one-sided bound does. Sizes near the answer stand on the replications of the final \
                answer, the others on those of the search." }
            li { "Drivers of trucks beyond the roster are called in one spacing apart, early enough for all but one pre-trip and one trip \
                in twenty. Hours carried over from the day before are not known here." }
            @if answer.alone {
                li { "Cost: drivers, trucks, material, penalties and the crew of the plant for the whole day, over the yd³ placed." }
            }
        }
    }
}

fn by_hand(plan: &PourPlan) -> Markup {
    let hand = &plan.hand;
    let rows = [
        ("loading", hand.loading),
        ("rack", hand.rack),
        ("trip out, loaded", hand.out),
        ("position, discharge, chute wash", hand.on_site),
        ("trip back", hand.back),
        ("round trip", hand.round_trip()),
        (sentences::divisor(hand), hand.every()),
    ];
    html! {
        h2 { "The formula by hand" }
        table {
            tbody {
                @for (what, minutes) in rows {
                    tr { td { (what) } td { (crate::report::number::number(minutes.minutes(), 1)) " min" } }
                }
                tr { td { strong { "trucks, rounded up" } } td { (hand.trucks()) } }
            }
        }
    }
}
