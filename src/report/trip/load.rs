//! May this load go: what is shown of the answer.

use super::shown::{Asked, Bar, Shown};
use super::words;
use crate::hours::Rule;
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::csv_text::{Cell, Table};
use crate::report::number::Unit;
use crate::studies::trip::{Candidate, Fate, LoadAnswer, LoadVerdict, Spanning};
use serde_json::{Value, json};

pub(super) fn shown(answer: &LoadAnswer, asked: &Asked<'_>) -> Shown {
    let decision = decision(answer, asked);
    let mut rows = vec![row(&answer.asked, asked, "→ ", "")];
    rows.extend(answer.others.iter().map(|other| row(other, asked, "", "")));
    if let Some(first) = &answer.first {
        rows.push(row(first, asked, "", " (search only)"));
    }
    Shown {
        sentences: sentences(answer, asked),
        headings: vec![
            "driver, plant",
            "all three",
            "in time, age, clocks, %",
            "on site",
            "clock left",
            "cost more",
        ],
        rows,
        notes: vec![
            "In time: on site no later than the order tolerates after it could be taken. Age: discharged within the scenario's age \
             limit. Clocks: back at a plant after this load within every clock, not stranded."
                .into(),
            "Clock left: hours and minutes of the clock that binds, when the driver is back; the median, and what 1 trial in 20 falls below.".into(),
            "Cost more: all plants, from the moment to four in the night, against the same trial in which the asked driver does not \
             take the load and the desk goes on as usual."
                .into(),
            "The rule's own gates and its lending are left aside for the driver who is tried, so that they can be weighed; law, company \
             limits, weight and age are not."
                .into(),
        ],
        charts: vec![("drivers", "Who could take it", chart(answer, asked))],
        csv: csv(answer, asked),
        json: json(answer, asked, &decision),
        decision,
    }
}

fn what(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    format!(
        "load {} of \"{}\"",
        answer.load.number + 1,
        asked.scenario.orders[answer.order.at()].name
    )
}

fn plant(candidate: &Candidate, asked: &Asked<'_>) -> String {
    asked.scenario.plants[candidate.plant.at()].name.clone()
}

fn decision(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    let who = words::driver(asked, answer.asked.driver);
    let what = what(answer, asked);
    let from = plant(&answer.asked, asked);
    let fate = &answer.asked.fate;
    let all = words::chance(&fate.all);
    let wanted = Unit::Share.show(asked.question.probability, 0);
    match answer.verdict {
        LoadVerdict::Yes => format!(
            "Yes: {who} can take {what} from {from}. On site in time, discharged within its age and back within every clock in {all} \
             of trials."
        ),
        LoadVerdict::Refused(why) => {
            let reason = match law(answer, asked) {
                Some(law) if why.law().is_some() => {
                    format!("the {law} would end before lawful parking is reached")
                }
                _ => why.words().into_owned(),
            };
            format!(
                "No: {who} may not take {what}: {reason}.{}",
                instead(answer, asked)
            )
        }
        LoadVerdict::No => format!(
            "No: {who} would bring {what} from {from} in time, within its age and clocks in only {all} of trials, {wanted} are asked \
             for; {}.{}",
            weakest(fate, law(answer, asked)),
            instead(answer, asked)
        ),
        LoadVerdict::NotTold => format!(
            "Not sure: {who} would bring {what} from {from} in time, within its age and clocks in {all} of trials, which is not told \
             apart from the {wanted} asked for; {}.{}",
            weakest(fate, law(answer, asked)),
            instead(answer, asked)
        ),
    }
}

fn weakest(fate: &Fate, law: Option<String>) -> String {
    let parts = [
        ("on site in time", &fate.in_time),
        ("discharged within its age", &fate.within_age),
        ("back within every clock", &fate.back),
    ];
    let least = parts
        .iter()
        .min_by(|a, b| a.1.share().total_cmp(&b.1.share()));
    least.map_or(String::new(), |(name, chance)| {
        let law = if std::ptr::eq(*chance, &fate.back) {
            law.map_or(String::new(), |law| format!(", by the {law}"))
        } else {
            String::new()
        };
        format!("least likely is {name}, {}{law}", words::percent(chance))
    })
}

/// The next best choice.
fn instead(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    let able = answer
        .others
        .iter()
        .find(|other| other.fate.all.at_least >= asked.question.probability);
    if let Some(other) = able {
        return format!(
            " {} from {} can: {}.",
            words::driver(asked, other.driver),
            plant(other, asked),
            words::chance(&other.fate.all)
        );
    }
    match &answer.first {
        Some(first) => format!(
            " Nobody can with that chance; the first within age and clocks is {} from {}, loading at {}, on site at {}, {} late.",
            words::driver(asked, first.driver),
            plant(first, asked),
            first
                .fate
                .loading
                .map_or("–".into(), |at| words::short(asked, at.middle)),
            first
                .fate
                .on_site
                .map_or("–".into(), |at| words::short(asked, at.middle)),
            first
                .fate
                .late
                .map_or("–".into(), |late| words::length(late.middle.max(0.0)))
        ),
        None => " Nobody can with that chance.".into(),
    }
}

fn law(answer: &LoadAnswer, asked: &Asked<'_>) -> Option<String> {
    let rule = answer.clock?;
    let driver = &asked.scenario.drivers[answer.asked.driver.at()];
    let book = driver.rule_book.of(&asked.scenario.rule_sets)?;
    book.law(rule).map(words::law)
}

fn sentences(answer: &LoadAnswer, asked: &Asked<'_>) -> Vec<String> {
    let mut all = Vec::new();
    let now = &answer.asked.now;
    let who = words::driver(asked, answer.asked.driver);
    let mut state = format!("{who}: {}", now.doing);
    if let Some(reported) = now.reported {
        state += &format!(", reported {}", words::short(asked, reported.minutes()));
    } else if let Some(due) = now.due {
        state += &format!(", due {}", words::short(asked, due.minutes()));
    }
    if let Some((rule, left)) = now.left.and_then(|left| left.least()) {
        state += &format!(
            ", {} left of the {rule:?} clock",
            words::length(left.minutes())
        )
        .to_lowercase();
    }
    all.push(format!(
        "{state}. The load: {} yd³, due {}.",
        answer.load.volume.yd3(),
        words::short(asked, answer.load.due.minutes())
    ));
    let usually_back = answer.asked.fate.back.share() > 0.5;
    let margin = answer.asked.fate.margin.filter(|_| usually_back);
    if let (Some(margin), Some(law)) = (margin, law(answer, asked)) {
        all.push(format!(
            "What binds is the {law}: {} left when the driver is back ({} to {}).",
            words::length(margin.middle),
            words::length(margin.low),
            words::length(margin.high)
        ));
    }
    let taker = answer.without_taken_by.as_ref().map_or(
        "nobody takes it".to_owned(),
        |(driver, chance)| {
            format!(
                "{} takes it most often ({})",
                words::driver(asked, *driver),
                words::percent(chance)
            )
        },
    );
    all.push(format!(
        "Without {who} the load is on site in time in {} of trials; {taker}. Letting {who} take it costs {} against that.",
        words::chance(&answer.without.delivered_in_time),
        words::money(&answer.asked.cost_more)
    ));
    let cost = |fate: &Fate| {
        fate.cost
            .mean
            .map_or("–".into(), |mean| Unit::Money.show(mean, 0))
    };
    all.push(format!(
        "All plants' cost to four in the night: {} with the load on this truck, {} without.",
        cost(&answer.asked.fate),
        cost(&answer.without)
    ));
    all.push(words::sureness(
        asked,
        answer.trials,
        answer.searched,
        answer.stopped,
    ));
    all
}

fn row(candidate: &Candidate, asked: &Asked<'_>, mark: &str, after: &str) -> Vec<String> {
    let fate = &candidate.fate;
    let name = format!(
        "{mark}{}, {}{after}",
        words::driver(asked, candidate.driver),
        plant(candidate, asked)
    );
    let refused = fate
        .refused
        .first()
        .filter(|(_, times)| 2 * times > fate.trials);
    let all = match refused {
        Some((why, _)) => format!("refused: {}", why.words()),
        None => words::narrow(&fate.all),
    };
    let whole = |chance: &crate::studies::Chance| (100.0 * chance.share()).round();
    let late_of = |span: Spanning| words::short(asked, span.middle);
    vec![
        name,
        all,
        format!(
            "{}/{}/{}",
            whole(&fate.in_time),
            whole(&fate.within_age),
            whole(&fate.back)
        ),
        fate.on_site.map_or("–".into(), late_of),
        fate.margin.map_or("–".into(), |span| {
            format!("{} ({})", words::h_min(span.middle), words::h_min(span.low))
        }),
        words::money(&candidate.cost_more),
    ]
}

fn candidates(answer: &LoadAnswer) -> impl Iterator<Item = &Candidate> {
    std::iter::once(&answer.asked)
        .chain(&answer.others)
        .chain(&answer.first)
}

fn chart(answer: &LoadAnswer, asked: &Asked<'_>) -> String {
    let all: Vec<&Candidate> = std::iter::once(&answer.asked)
        .chain(&answer.others)
        .collect();
    let best = (0..all.len()).max_by(|a, b| {
        let share = |at: &usize| all[*at].fate.all.share();
        share(a).total_cmp(&share(b)).then(b.cmp(a))
    });
    let best = best.filter(|at| all[*at].fate.all.at_least >= asked.question.probability);
    let title = match best {
        Some(at) => format!(
            "{} from {} brings {} in time, within its age and clocks in {} of trials",
            words::driver(asked, all[at].driver),
            plant(all[at], asked),
            what(answer, asked),
            words::percent(&all[at].fate.all)
        ),
        None => format!(
            "Nobody brings {} with the chance asked for",
            what(answer, asked)
        ),
    };
    let points = |value: &dyn Fn(&Candidate) -> Option<Bar>| {
        Content::Apart(all.iter().map(|candidate| value(candidate)).collect())
    };
    let chances = points(&|candidate| {
        let chance = &candidate.fate.all;
        Some((chance.share(), chance.interval.low, chance.interval.high))
    });
    let left = points(&|candidate| {
        let margin = candidate.fate.margin?;
        Some((margin.middle / 60.0, margin.low / 60.0, margin.high / 60.0))
    });
    let lowest = all
        .iter()
        .filter_map(|candidate| candidate.fate.margin)
        .map(|margin| margin.low / 60.0)
        .fold(0.0, f64::min);
    panels::svg(&Panels {
        title,
        subtitle: format!(
            "{}; → the driver asked for. Bars: {:.0} % intervals of chances; of hours, what 1 trial in 20 falls below and above",
            words::clock(asked.scenario, asked.question.at),
            asked.question.level * 100.0
        ),
        axis: "driver".into(),
        steps: all
            .iter()
            .map(|candidate| {
                let is_asked = (candidate.driver, candidate.plant)
                    == (answer.asked.driver, answer.asked.plant);
                let mark = if is_asked { "→ " } else { "" };
                format!("{mark}{}", words::driver(asked, candidate.driver))
            })
            .collect(),
        marked: best,
        panels: vec![
            Panel {
                axis: "chance: in time, within age, back within every clock".into(),
                unit: Unit::Share,
                bottom: None,
                top: Some(1.0),
                line: Some((
                    asked.question.probability,
                    format!(
                        "- - asked for: {}",
                        Unit::Share.show(asked.question.probability, 0)
                    ),
                )),
                content: chances,
            },
            Panel {
                axis: "hours left on the clock that binds, when back".into(),
                unit: Unit::Plain,
                bottom: (lowest < 0.0).then_some(lowest),
                top: None,
                line: None,
                content: left,
            },
        ],
    })
}

fn csv(answer: &LoadAnswer, asked: &Asked<'_>) -> Vec<u8> {
    let mut table = Table::new(&[
        "driver",
        "plant",
        "asked",
        "final",
        "trials",
        "all",
        "all_low",
        "all_high",
        "all_at_least",
        "in_time",
        "within_age",
        "back",
        "stranded",
        "loading_min",
        "on_site_min",
        "late_min",
        "age_min",
        "clock_left_min",
        "clock_left_min_p05",
        "back_min",
        "home_min",
        "cost",
        "cost_more",
        "cost_more_low",
        "cost_more_high",
        "refused",
    ]);
    for candidate in candidates(answer) {
        let fate = &candidate.fate;
        let name = words::driver(asked, candidate.driver);
        let plant = plant(candidate, asked);
        let middle = |span: Option<Spanning>| Cell::from(span.map(|span| span.middle));
        let yes = |yes: bool| Cell::Text(if yes { "yes" } else { "no" });
        let more = &candidate.cost_more;
        let refused = fate.refused.first().map(|(why, _)| why.words());
        let refused = refused.unwrap_or_default();
        table.row([
            Cell::Text(&name),
            Cell::Text(&plant),
            yes(candidate.driver == answer.asked.driver),
            yes(candidate.is_final),
            (fate.trials as f64).into(),
            fate.all.share().into(),
            fate.all.interval.low.into(),
            fate.all.interval.high.into(),
            fate.all.at_least.into(),
            fate.in_time.share().into(),
            fate.within_age.share().into(),
            fate.back.share().into(),
            fate.stranded.share().into(),
            middle(fate.loading),
            middle(fate.on_site),
            middle(fate.late),
            middle(fate.age),
            middle(fate.margin),
            fate.margin.map(|margin| margin.low).into(),
            middle(fate.back_at),
            middle(fate.home),
            fate.cost.mean.into(),
            more.mean.into(),
            more.interval.low.into(),
            more.interval.high.into(),
            Cell::Text(&refused),
        ]);
    }
    table.finish()
}

/// ```text
/// head …, "order", "load": {"number", "volume_yd3", "due"}, "verdict": "yes" | "no" | "refused" | "not told",
/// "clock": {"rule", "citation"} | null, "asked": candidate, "without": fate, "without_taken_by", "others": [candidate],
/// "first": candidate | null, "trials", "searched", "stopped"
/// ```
fn json(answer: &LoadAnswer, asked: &Asked<'_>, decision: &str) -> Value {
    let mut map = words::head_json(asked, "load", decision);
    let driver = &asked.scenario.drivers[answer.asked.driver.at()];
    let book = driver.rule_book.of(&asked.scenario.rule_sets);
    let law = answer.clock.and_then(|clock| book?.law(clock).cloned());
    let more = json!({
        "order": asked.scenario.orders[answer.order.at()].name,
        "load": {
            "number": answer.load.number + 1,
            "volume_yd3": answer.load.volume.yd3(),
            "due": words::clock(asked.scenario, answer.load.due),
        },
        "verdict": match answer.verdict {
            LoadVerdict::Yes => "yes",
            LoadVerdict::Refused(_) => "refused",
            LoadVerdict::No => "no",
            LoadVerdict::NotTold => "not told",
        },
        "clock": law.map(|law| json!({ "rule": law.rule, "citation": law.citation })),
        "asked": candidate_json(&answer.asked, asked),
        "without": fate_json(&answer.without),
        "without_taken_by": answer.without_taken_by.as_ref().map(|(driver, _)| words::driver(asked, *driver)),
        "others": answer.others.iter().map(|other| candidate_json(other, asked)).collect::<Vec<_>>(),
        "first": answer.first.as_ref().map(|first| candidate_json(first, asked)),
        "trials": answer.trials,
        "searched": answer.searched,
        "stopped": answer.stopped,
    });
    if let Value::Object(more) = more {
        map.extend(more);
    }
    Value::Object(map)
}

fn candidate_json(candidate: &Candidate, asked: &Asked<'_>) -> Value {
    json!({
        "driver": words::driver(asked, candidate.driver),
        "plant": plant(candidate, asked),
        "now": candidate.now.doing,
        "final": candidate.is_final,
        "cost_more": words::estimate_json(&candidate.cost_more),
        "fate": fate_json(&candidate.fate),
    })
}

fn fate_json(fate: &Fate) -> Value {
    json!({
        "trials": fate.trials,
        "taken": words::chance_json(&fate.taken),
        "in_time": words::chance_json(&fate.in_time),
        "within_age": words::chance_json(&fate.within_age),
        "back_within_clocks": words::chance_json(&fate.back),
        "all": words::chance_json(&fate.all),
        "stranded": words::chance_json(&fate.stranded),
        "delivered_in_time": words::chance_json(&fate.delivered_in_time),
        "loading_min": words::span_json(fate.loading),
        "on_site_min": words::span_json(fate.on_site),
        "late_min": words::span_json(fate.late),
        "age_min": words::span_json(fate.age),
        "clock_left_min": words::span_json(fate.margin),
        "back_min": words::span_json(fate.back_at),
        "home_min": words::span_json(fate.home),
        "cost": words::estimate_json(&fate.cost),
        "refused": fate
            .refused
            .iter()
            .map(|(why, times)| json!({ "reason": why.words(), "clock": why.clock().map(Rule::key), "times": times }))
            .collect::<Vec<_>>(),
    })
}
