//! What was assumed and what is left out, for pages that are not drawn from an answer yet.

use crate::report::assumptions;
use crate::scenario::Scenario;
use maud::{Markup, html};

/// What was assumed.
pub(in crate::report) fn assumed(scenario: &Scenario) -> Markup {
    html! {
        h2 { "What was assumed" }
        div.wide {
            table.words {
                thead { tr { th { "what" } th { "here" } th { "whose" } th { "where the usual value comes from" } } }
                tbody {
                    @for row in assumptions::of(scenario) {
                        tr { td { (row.what) } td { (row.here) } td { (row.whose) } td { (row.source) } }
                    }
                }
            }
        }
    }
}

/// What is not modeled, and cautions.
pub(in crate::report) fn limits(scenario: &Scenario) -> Markup {
    html! {
        h2 { "What is not modeled" }
        ul { @for line in assumptions::not_modeled(scenario) { li { (line) } } }
        h2 { "Cautions" }
        ul { @for line in assumptions::cautions(scenario) { li { (line) } } }
    }
}
