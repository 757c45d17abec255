//! The report page: one file that works from the disk, offline, and prints. Decision first.

use super::charts::Chart;
use super::terminal::{SHOWN, mean};
use super::{assumptions, causes, decision, heading, sentences, sureness, unit};
use crate::observe::figure;
use crate::scenario::Scenario;
use crate::studies::Comparison;
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("page.css");
const REGULAR: &[u8] = include_bytes!("../fonts/Inter-Regular.woff2");
const BOLD: &[u8] = include_bytes!("../fonts/Inter-Bold.woff2");
/// Nothing is loaded from anywhere, and no script runs.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:";

/// The page as HTML text.
pub(super) fn page(answer: &Comparison, scenario: &Scenario, charts: &[Chart]) -> String {
    let title = format!("Dispatch rules compared: {}", answer.scenario);
    let body = html! {
        h1 { (answer.scenario) }
        p.about { (scenario.about) }
        div.decision {
            p { (decision(answer)) }
            p { (sureness(answer)) }
        }
        (means(answer))
        (rules(answer))
        @for chart in charts {
            section {
                h2 { (chart.heading) }
                figure { (PreEscaped(&chart.svg)) }
            }
        }
        (causes::losses_section(answer))
        (assumed(scenario))
        (limits())
        (recipe(answer))
    };
    frame(&title, &body)
}

/// A page with this title and body, in the look that all reports share.
pub(in crate::report) fn frame(title: &str, body: &Markup) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(fonts())) (PreEscaped(STYLE)) }
            }
            body {
                main { (body) }
            }
        }
    };
    markup.into_string()
}

fn fonts() -> String {
    let face = |weight: u32, font: &[u8]| {
        format!(
            "@font-face{{font-family:Inter;font-weight:{weight};src:url(data:font/woff2;base64,{}) format('woff2')}}\n",
            STANDARD.encode(font)
        )
    };
    face(400, REGULAR) + &face(700, BOLD)
}

/// Means side by side, and the differences in the judging figure.
fn means(answer: &Comparison) -> Markup {
    let shown: Vec<usize> = SHOWN
        .into_iter()
        .filter(|place| {
            answer
                .rules
                .iter()
                .any(|rule| rule.figures[*place].summary.n() > 0)
        })
        .collect();
    html! {
        h2 { "The rules side by side" }
        div.wide {
            table {
                thead {
                    tr {
                        th { "mean " (sentences::period(answer.days)) }
                        @for (place, rule) in answer.rules.iter().enumerate() {
                            th {
                                (rule.name)
                                @if place == answer.base && answer.base_is_today { " (today)" }
                            }
                        }
                    }
                }
                tbody {
                    @for place in shown {
                        tr {
                            td { (heading(&answer.columns[place])) }
                            @for rule in &answer.rules {
                                td { (mean(&answer.columns[place], &rule.figures[place])) }
                            }
                        }
                    }
                }
            }
        }
        @if answer.rules.len() > 1 {
            div.wide {
                table {
                    thead {
                        tr {
                            th { "difference from " (sentences::base(answer)) " in " (answer.judged_by().label) }
                            th { "mean" }
                            th { (format!("{:.0} % interval", answer.level * 100.0)) }
                        }
                    }
                    tbody {
                        @for rule in &answer.rules {
                            @if let Some(difference) = &rule.figures[answer.judge].difference {
                                (difference_row(answer, &rule.name, difference))
                            }
                        }
                    }
                }
            }
            p.note { "Intervals hold for all comparisons at once. \"none\" means not once in " (sentences::replications(answer.replications())) "." }
        }
    }
}

fn difference_row(
    answer: &Comparison,
    name: &str,
    difference: &crate::studies::Difference,
) -> Markup {
    let unit = unit(answer.judged_by());
    let interval = difference.interval;
    let decimals = unit.decimals(interval.half_width());
    let show = |value: f64| unit.show_difference(value, decimals);
    html! {
        tr {
            td { (name) }
            td { (difference.mean.map_or("–".into(), show)) }
            td {
                @if interval.is_bounded() { (show(interval.low)) " to " (show(interval.high)) }
                @else { "needs two replications" }
            }
        }
    }
}

fn rules(answer: &Comparison) -> Markup {
    html! {
        h2 { "What the rules are" }
        table.words {
            tbody {
                @for rule in &answer.rules {
                    tr { td { strong { (rule.name) } } td { (rule.about) } }
                }
            }
        }
    }
}

/// What was assumed.
pub(in crate::report) fn assumed(scenario: &Scenario) -> Markup {
    html! {
        h2 { "What was assumed" }
        div.wide {
            table.words {
                thead { tr { th { "what" } th { "here" } th { "where the usual value comes from" } } }
                tbody {
                    @for row in assumptions::of(scenario) {
                        tr { td { (row.what) } td { (row.here) } td { (row.source) } }
                    }
                }
            }
        }
    }
}

/// What is not modelled, and cautions.
pub(in crate::report) fn limits() -> Markup {
    html! {
        h2 { "What is not modelled" }
        ul { @for line in assumptions::NOT_MODELLED { li { (line) } } }
        h2 { "Cautions" }
        ul { @for line in assumptions::CAUTIONS { li { (line) } } }
    }
}

/// What gives the same bytes again.
fn recipe(answer: &Comparison) -> Markup {
    let names: Vec<&str> = answer.rules.iter().map(|rule| rule.name.as_str()).collect();
    html! {
        h2 { "How to get this answer again" }
        p {
            "plantday " (env!("CARGO_PKG_VERSION")) ", the scenario \"" (answer.scenario) "\", "
            (sentences::replications(answer.replications())) ", seed " (answer.seed) ":"
        }
        p {
            code {
                "plantday compare FILE --replications " (answer.replications()) " --seed " (answer.seed)
                " --judge " (answer.judged_by().key) " --rules \"" (names.join(";")) "\""
            }
        }
        p.note {
            "The number of threads changes nothing. All " (answer.rules[0].figures.len()) " figures of every replication are in "
            "figures.csv, " "with " (answer.columns[figure::COST].label) " first; their means and intervals in summary.csv."
        }
    }
}
