//! Rules in sentences built from their decisions.

use super::Page;
use super::decisions;
use super::words::{plain, share};
use crate::dispatch::{
    Choose, Gate, HrwrAt, Lend, LoadSize, Plants, ReadAfter, Retrieval, Rule, Send, Sequence,
    Warning, WaterBy, YardPractice,
};
use crate::roads::Belief;
use crate::scenario::Scenario;

pub(super) fn rules(scenario: &Scenario, page: &mut Page) {
    for (at, rule) in scenario.rules.iter().enumerate() {
        let today = if at == scenario.todays_rule() {
            " (today)"
        } else {
            ""
        };
        page.line(&format!(
            "{}{today}: {}",
            rule.name,
            sentence(rule, scenario)
        ));
    }
}

fn sentence(rule: &Rule, scenario: &Scenario) -> String {
    let mut parts = vec![
        send(rule),
        belief(rule.belief, scenario.roads.straight_line_mph),
        sequence(rule.sequence).into(),
        choose(rule.choose).into(),
        lend(rule.lend),
    ];
    if let Plants::NearestFirst { late_min } = rule.plants {
        parts.push(format!(
            "from the nearest open plant, from others once that would be {} min late",
            plain(late_min)
        ));
    }
    if rule.gates.is_empty() {
        parts.push("no hours check".into());
    }
    parts.extend(rule.gates.iter().map(|each| gate(*each)));
    if rule.load_size == LoadSize::Equal {
        parts.push("equal loads".into());
    }
    if rule.room_kept_yd3 > 0.0 {
        parts.push(format!(
            "keeps {} yd³ of the drum free",
            plain(rule.room_kept_yd3)
        ));
    }
    if rule.weight_margin_lb > 0.0 {
        parts.push(format!(
            "stays {} lb below the legal weight",
            plain(rule.weight_margin_lb)
        ));
    }
    match rule.yard.warning {
        Warning::Never => {}
        Warning::OnEverything if scenario.concrete.material.is_some() => {
            parts.push("every ticket warns of reading the slump too early".into());
        }
        _ => parts.push("the ticket warns of reading the slump too early".into()),
    }
    if scenario.concrete.material.is_some() {
        parts.extend(yard(&rule.yard));
    }
    parts.extend(decisions::parts(rule));
    // Without helpers there is no choice.
    if scenario
        .drivers
        .iter()
        .any(|driver| driver.rule_book.limits())
        && (!scenario.helpers.is_empty() || rule.retrieval.fetch().is_some())
    {
        parts.push(
            match rule.retrieval {
                Retrieval::RestOut => "stranded drivers stay overnight with the truck",
                Retrieval::Fetch(_) => "stranded drivers are picked up by a helper",
                Retrieval::FetchDriver(_) => {
                    "stranded drivers are picked up by a helper, and the truck stays till morning"
                }
            }
            .to_owned()
                + &how(&rule.retrieval),
        );
    }
    parts.join("; ")
}

/// What is done in the yard, the warning apart.
fn yard(yard: &YardPractice) -> Vec<String> {
    let mut parts = vec![match yard.reading() {
        ReadAfter::Minutes(minutes) => format!("slump read after {} min", plain(minutes)),
        ReadAfter::Revolutions(turns) => format!("slump read after {} revolutions", plain(turns)),
    }];
    let most = plain(yard.most_gal_yd3);
    parts.push(match yard.water_by {
        WaterBy::Driver => format!("the driver waters, up to {most} gal a yd³"),
        WaterBy::Batcher => {
            format!("the batcher waters within the ticket's w/c, up to {most} gal a yd³")
        }
        WaterBy::Nobody => "no water in the plant yard".into(),
    });
    if yard.probe {
        parts.push("moisture probes in the bins".into());
    }
    if yard.hrwr == HrwrAt::OnSite {
        parts.push("HRWR goes in on site".into());
    }
    parts
}

/// The particulars of a retrieval.
fn how(retrieval: &Retrieval) -> String {
    let mut text = String::new();
    let Some(fetch) = retrieval.fetch() else {
        return text;
    };
    if fetch.own_drivers {
        text += " or a free driver of the plant";
    }
    if fetch.waits {
        text += ", the next who comes on call if nobody can go";
    }
    if fetch.foreseen {
        text += ", sent early when it is foreseen";
    }
    if let Some((from, to)) = fetch.not_between {
        text += &format!(", not between {from} and {to}");
    }
    text
}

fn send(rule: &Rule) -> String {
    let mut text = match rule.send {
        Send::AsOrdered => "sends as ordered",
        Send::Paced => "sends at the pace at which the site unloads",
    }
    .to_owned();
    if rule.spacing_factor != 1.0 {
        text += &format!(
            ", at {} times the ordered spacing",
            plain(rule.spacing_factor)
        );
    }
    if rule.early_min > 0.0 {
        text += &format!(", {} min early", plain(rule.early_min));
    }
    if rule.bay_wait_min > 0.0 {
        text += &format!(", {} min allowed for the bay", plain(rule.bay_wait_min));
    }
    text
}

fn belief(belief: Belief, mph: f64) -> String {
    match belief {
        Belief::StraightLine => format!("reckons with straight lines at {} mph", plain(mph)),
        Belief::FreeFlow => "reckons with empty roads".into(),
        Belief::TimeOfDay { quantile: None } => {
            "reckons with the hour's average drive times".into()
        }
        Belief::TimeOfDay { quantile: Some(q) } => {
            format!(
                "reckons with the minutes that {} of trips at the hour stay within",
                share(q)
            )
        }
        Belief::Live => "reckons with the traffic as the day is going".into(),
    }
}

fn sequence(sequence: Sequence) -> &'static str {
    match sequence {
        Sequence::EarliestDue => "the load due first goes first",
        Sequence::RunningPoursFirst => "pours that have begun go first",
        Sequence::BiggestFirst => "the biggest order goes first",
    }
}

fn choose(choose: Choose) -> &'static str {
    match choose {
        Choose::Nearest => "the plant nearest to the site",
        Choose::LongestIdle => "the truck idle longest",
        Choose::SoonestOnSite => "the plant and truck soonest on site",
        Choose::FewestHours => "the driver with the fewest hours",
        Choose::Seniority => "the most senior driver",
        Choose::Cheapest => "the plant and truck that look cheapest",
    }
}

fn lend(lend: Lend) -> String {
    match lend {
        Lend::Never => "no loans between plants".into(),
        Lend::IfSaves { minutes } => {
            format!("loans between plants if that saves {} min", plain(minutes))
        }
        Lend::Always => "loans between plants always".into(),
    }
}

fn gate(gate: Gate) -> String {
    match gate {
        Gate::LastLoadBy { hours } => format!("no load later than {} h after report", plain(hours)),
        Gate::KeepMinutes { minutes } => {
            format!("only drivers home with {} min left", plain(minutes))
        }
        Gate::Reserve { hours } => {
            format!("keeps one driver with {} h left in reserve", plain(hours))
        }
        Gate::HomeWithin { probability } => {
            format!(
                "only drivers {} sure to be home in time",
                share(probability)
            )
        }
    }
}
