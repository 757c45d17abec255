//! The answer for programs.

use super::plant;
use crate::hours::Clock;
use crate::report::trip::{Asked, words};
use crate::studies::trip::{Candidate, Fate, LoadAnswer, LoadVerdict, Risk};
use crate::units::measure::{self, Quantity};
use serde_json::{Value, json};

/// ```text
/// head …, "order", "load": {"number", "volume_yd3", "due"}, "verdict": "yes" | "no" | "refused" | "not told" |
/// "too risky" | "risk not shown", "legal": {"runs", "past_a_limit": risk, "stranded": risk} | null,
/// "clock": {"rule", "citation"} | null, "asked": candidate, "without": fate, "without_taken_by", "others": [candidate],
/// "first": candidate | null, "trials", "searched", "stopped"
/// ```
pub(super) fn json(answer: &LoadAnswer, asked: &Asked<'_>) -> Value {
    let driver = &asked.scenario.drivers[answer.asked.driver.at()];
    let book = driver.rule_book.of(&asked.scenario.rule_sets);
    let law = answer.clock.and_then(|clock| book?.law(clock).cloned());
    json!({
        "order": asked.scenario.orders[answer.order.at()].name,
        "load": {
            "number": answer.load.number + 1,
            "volume_yd3": measure::rounded(Quantity::Volume, answer.load.volume.yd3(), 6),
            "due": words::clock(asked.scenario, answer.load.due),
        },
        "verdict": match answer.verdict {
            LoadVerdict::Yes => "yes",
            LoadVerdict::Refused(_) => "refused",
            LoadVerdict::No => "no",
            LoadVerdict::NotTold => "not told",
            LoadVerdict::TooRisky => "too risky",
            LoadVerdict::RiskNotShown => "risk not shown",
        },
        "legal": answer.legal.map(|legal| json!({
            "runs": legal.runs,
            "past_a_limit": risk_json(&legal.passing),
            "stranded": risk_json(&legal.stranded),
        })),
        "clock": law.map(|law| json!({ "rule": law.rule, "citation": law.citation })),
        "asked": candidate_json(&answer.asked, asked),
        "without": fate_json(&answer.without),
        "without_taken_by": answer.without_taken_by.as_ref().map(|(driver, _)| words::driver(asked, *driver)),
        "others": answer.others.iter().map(|other| candidate_json(other, asked)).collect::<Vec<_>>(),
        "first": answer.first.as_ref().map(|first| candidate_json(first, asked)),
        "trials": answer.trials,
        "searched": answer.searched,
        "stopped": answer.stopped,
    })
}

fn risk_json(risk: &Risk) -> Value {
    json!({
        "times": risk.times,
        "at_least": risk.at_least,
        "at_most": risk.at_most,
        "accepted": risk.borne,
    })
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
        "in_time_and_within_age": words::chance_json(&fate.good),
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
            .map(|(why, times)| json!({ "reason": why.words(), "clock": why.clock().map(Clock::key), "times": times }))
            .collect::<Vec<_>>(),
    })
}
