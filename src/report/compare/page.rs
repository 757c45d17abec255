//! The report page: one file that works from the disk, offline, and prints. Decision first.

use super::charts::{self, Chart};
use super::terminal::{any, mean, shown};
use super::{causes, decision, heading, sentences, sureness, unit};
use crate::observe::figure;
use crate::report::assumptions;
use crate::report::document::{document, unbroken};
use crate::report::number::Unit;
use crate::report::shell;
use crate::scenario::Scenario;
use crate::statistics::Summary;
use crate::studies::{Comparison, PerHundred};
use maud::{Markup, PreEscaped, html};

/// The page as HTML text.
pub(super) fn page(answer: &Comparison, scenario: &Scenario, charts: &[Chart]) -> String {
    let content = html! {
        h1 { (answer.scenario) }
        p.about { (scenario.about) }
        div.decision {
            p { (unbroken(&decision(answer))) }
            p { (unbroken(&sureness(answer))) }
            @for sentence in sentences::selection(answer) { p { (unbroken(&sentence)) } }
        }
        (means(answer))
        (quantiles(answer))
        @if !answer.per_hundred.is_empty() { (concrete(answer)) }
        (rules(answer))
        @for chart in charts {
            section {
                h2 { (chart.heading) }
                figure { (PreEscaped(&chart.svg)) }
                @if chart.name == charts::WORST_DAY { (worth_replaying(answer, scenario)) }
                @if chart.name == charts::CAUSES {
                    p { "What one change would be worth (a bay, a truck, two more open hours, the traffic known) on the same days:" }
                    p { code { (shell::causes(scenario, &answer.rules[answer.base].name, answer.replications(), answer.seed)) } }
                }
            }
        }
        (causes::losses_section(answer))
        @for rule in 0..answer.rules.len() {
            @if let Some(sentence) = sentences::price_of_hours(answer, rule) { p { (unbroken(&sentence)) } }
        }
        (assumed(scenario))
        (limits(scenario))
        (recipe(answer, scenario))
    };
    document(
        &format!("Dispatch rules compared: {}", answer.scenario),
        &content,
    )
}

/// Figures that a screen has no room for.
const ONLY_HERE: [usize; 3] = [
    figure::VIOLATION_MIN,
    figure::POURS_LATE,
    figure::CREW_WAIT_MIN,
];

/// Means side by side, and the differences in the judging figure.
fn means(answer: &Comparison) -> Markup {
    let mut places = shown(answer);
    if !places.contains(&figure::FOUND_HEAVY) && any(answer, figure::FOUND_HEAVY) {
        places.push(figure::FOUND_HEAVY);
    }
    let shown: Vec<usize> = places
        .into_iter()
        .chain(ONLY_HERE)
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
                    @for place in shown.iter().copied() {
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
        @if shown.contains(&figure::MARGIN_MIN) {
            p.note {
                "Closest to the limit: the least that any driver has left, at the end of a tour's last drive, on the clock that binds; "
                "below zero it was driven past by so many minutes."
            }
        }
        @if answer.rules.len() > 1 {
            div.wide {
                table.differences {
                    thead {
                        tr {
                            th { "difference from " (sentences::base(answer)) " in " (answer.judged_by().label) }
                            th { "mean" }
                            th { (format!("{} % interval", sentences::percent(answer.level))) }
                            th { "worse than the best by at most" }
                        }
                    }
                    tbody {
                        @for (place, rule) in answer.rules.iter().enumerate() {
                            @if let Some(difference) = &rule.figures[answer.judge].difference {
                                (difference_row(answer, &rule.name, difference, answer.against_best_other[place].high))
                            }
                        }
                    }
                }
            }
            p.note { "Intervals hold for all comparisons at once. \"none\" means not once in " (sentences::replications(answer.replications())) "." }
        }
    }
}

/// What becomes of the concrete, for each hundred loads placed.
fn concrete(answer: &Comparison) -> Markup {
    html! {
        h2 { "The concrete, for each 100 loads placed" }
        div.wide {
            table {
                thead {
                    tr {
                        th { "mean (" (format!("{:.0} % interval", answer.level * 100.0)) ")" }
                        @for rule in &answer.rules { th { (rule.name) } }
                    }
                }
                tbody {
                    @for row in &answer.per_hundred {
                        tr {
                            td { (heading(&answer.columns[row.column])) }
                            @for rule in 0..row.rules.len() {
                                td { (per_hundred(answer, row, rule)) }
                            }
                        }
                    }
                }
            }
        }
        p.note {
            "A load placed below its specified strength because of added water is accepted and a liability. A load heavier than "
            "the law allows is a risk and no saving: the answer is a smaller load or a truck scale."
        }
    }
}

/// `1.3 (1.2 to 1.4)`, or how often at most what never was.
fn per_hundred(answer: &Comparison, row: &PerHundred, rule: usize) -> String {
    match row.at_most_if_never(rule, answer.level) {
        Some(share) => {
            let share = Unit::Share.show(share, 2);
            format!("none (in at most {share} of all replications)")
        }
        None => with_interval(answer, row.column, &row.rules[rule]),
    }
}

fn with_interval(answer: &Comparison, column: usize, summary: &Summary) -> String {
    let interval = summary.interval(answer.level);
    let Some(mean) = summary.mean() else {
        return "–".into();
    };
    let unit = unit(&answer.columns[column]);
    if !interval.is_bounded() {
        return unit.show(mean, answer.columns[column].decimals);
    }
    let decimals = unit.decimals(interval.half_width());
    let [mean, low, high] =
        [mean, interval.low.max(0.0), interval.high].map(|value| unit.show(value, decimals));
    format!("{mean} ({low} to {high})")
}

fn difference_row(
    answer: &Comparison,
    name: &str,
    difference: &crate::studies::Difference,
    worse: f64,
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
            td {
                @if !worse.is_finite() { "–" }
                @else if worse == 0.0 { "it is the best" }
                @else { (unit.show(worse, decimals)) }
            }
        }
    }
}

/// The usual and the bad day: medians and 95th percentiles of cost and lateness, with their intervals.
fn quantiles(answer: &Comparison) -> Markup {
    let mut shown = vec![figure::COST, figure::LATE_MIN];
    if !shown.contains(&answer.judge) {
        shown.push(answer.judge);
    }
    let cell = |place: usize, value: Option<f64>, interval: Option<crate::statistics::Interval>| {
        let column = &answer.columns[place];
        let show = |value: f64| unit(column).show(value, column.decimals);
        html! {
            td {
                (value.map_or("–".into(), show))
                br;
                span.note {
                    @match interval {
                        Some(i) => { (show(i.low)) " to " (show(i.high)) },
                        None => "too few to say",
                    }
                }
            }
        }
    };
    html! {
        h2 { "The usual and the bad " @if answer.days == 1 { "day" } @else { "period" } }
        div.wide {
            table {
                thead {
                    tr {
                        th { "over " (sentences::replications(answer.replications())) }
                        @for rule in &answer.rules { th { (rule.name) } }
                    }
                }
                tbody {
                    @for place in shown {
                        tr {
                            td { (heading(&answer.columns[place])) ": half are below" }
                            @for rule in &answer.rules { (cell(place, rule.figures[place].median, rule.figures[place].median_interval)) }
                        }
                        tr {
                            td { (heading(&answer.columns[place])) ": one in twenty is above" }
                            @for rule in &answer.rules { (cell(place, rule.figures[place].p95, rule.figures[place].p95_interval)) }
                        }
                    }
                }
            }
        }
        p.note { (format!("Below each, its {} % interval from order statistics, which holds whatever the distribution.", sentences::percent(answer.level))) }
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

/// How to watch the worst day, and which other days are worth it.
fn worth_replaying(answer: &Comparison, scenario: &Scenario) -> Markup {
    let base = &answer.rules[answer.base];
    let found: Vec<_> = answer
        .rules
        .iter()
        .flat_map(|rule| rule.worth_replaying.iter().map(move |worst| (rule, worst)))
        .collect();
    html! {
        p {
            a href=(super::WORST_PAGE) { "Watch these days minute by minute on a moving map" }
            " (" (super::WORST_PAGE) ", beside this page), with every late load and why. The same from the command line:"
        }
        p { code { (shell::replay(scenario, &base.name, answer.worst.replication, answer.seed)) } }
        @if !found.is_empty() {
            p { "Days worth watching, each with the command that plays it:" }
            div.wide {
                table.words {
                    thead { tr { th { "rule" } th { "worst by" } th { "figure" } th { "command" } } }
                    tbody {
                        @for (rule, worst) in found {
                            @let column = &answer.columns[worst.by.figure()];
                            tr {
                                td { (rule.name) }
                                td { (worst.by.words()) }
                                td { (crate::report::figure::amount(column, worst.value)) }
                                td { code { (shell::replay(scenario, &rule.name, worst.replication, answer.seed)) } }
                            }
                        }
                    }
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

/// What is not modelled, and cautions.
pub(in crate::report) fn limits(scenario: &Scenario) -> Markup {
    html! {
        h2 { "What is not modelled" }
        ul { @for line in assumptions::not_modeled(scenario) { li { (line) } } }
        h2 { "Cautions" }
        ul { @for line in assumptions::cautions(scenario) { li { (line) } } }
    }
}

/// What gives the same bytes again.
fn recipe(answer: &Comparison, scenario: &Scenario) -> Markup {
    html! {
        h2 { "How to get this answer again" }
        p {
            "plantday " (env!("CARGO_PKG_VERSION")) ", the scenario \"" (answer.scenario) "\", "
            (sentences::replications(answer.replications())) ", seed " (answer.seed) ":"
        }
        p {
            code {
                (shell::command("compare", scenario)) (sentences::options(answer))
            }
        }
        p.note {
            "The number of threads changes nothing. All " (answer.rules[0].figures.len()) " figures of every replication are in "
            "figures.csv, " "with " (answer.columns[figure::COST].label) " first; their means and intervals in summary.csv."
        }
    }
}
