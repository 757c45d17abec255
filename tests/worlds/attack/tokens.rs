//! One token of a shipped scenario is made another: that is refused with its place, changes the answer, or is said by `check`. What does
//! none of the three is counted by field.
//!
//! `MUTATIONS=1000 cargo test --release --test worlds attack::tokens -- --nocapture` changes so many tokens of every file.

use super::corpus::{IN_TABLES, SCENARIOS};
use super::mutate::tokens;
use super::{in_folder, wrongly_refused};
use crate::all_rules;
use plantday::report::summary;
use plantday::scenario::{ReadError, Scenario, built_in_week, parse, read};
use rand::rngs::ChaCha8Rng;
use rand::seq::IndexedRandom;
use rand::{RngExt, SeedableRng};
use std::collections::BTreeMap;
use std::env;
use std::ops::Range;
use tempfile::TempDir;

/// Replications in which a change may show.
const PLAYED: u64 = 3;

/// What is known of a scenario that was taken.
struct Answer {
    /// Those of every rule and replication.
    figures: Vec<u32>,
    /// What `check --summary` says, its doubts at the end.
    summary: String,
}

impl Answer {
    fn of(scenario: &Scenario) -> Self {
        Self {
            figures: all_rules::figures(scenario, 1, PLAYED),
            summary: summary::answer(scenario).terminal(120),
        }
    }
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Outcome {
    /// Refused with its place.
    Refused,
    /// The figures of some replications are others.
    ChangesTheAnswer,
    /// `check` says something else.
    IsSaid,
    /// Nothing is other than before.
    Silent,
}

/// A file, and the fields around a token of it: `orders.outlets.places`.
fn path(text: &str, tokens: &[Range<usize>], at: usize) -> String {
    let word = |at: usize| &text[tokens[at].clone()];
    let mut path: Vec<&str> = Vec::new();
    let mut key = "";
    for place in 0..at {
        match word(place) {
            "(" | "[" | "{" => path.push(std::mem::take(&mut key)),
            ")" | "]" | "}" => drop(path.pop()),
            ":" if place > 0 => key = word(place - 1),
            "," => key = "",
            _ => {}
        }
    }
    path.push(key);
    path.retain(|key| !key.is_empty());
    path.join(".")
}

/// The paths of all fields that a text writes.
pub(crate) fn fields_written(text: &str) -> Vec<String> {
    let places = tokens(text);
    let keys = (1..places.len()).filter(|at| &text[places[*at].clone()] == ":");
    keys.map(|at| path(text, &places, at + 1)).collect()
}

/// Another token of the same kind; none where the token is mere punctuation that may be left out.
fn other(rng: &mut ChaCha8Rng, token: &str, all: &[&str]) -> Option<String> {
    if let Ok(value) = token.parse::<f64>() {
        let times = [0.0, 2.0, 0.5, 10.0, -1.0].choose(rng)?;
        let other = (value * times).to_string();
        return (other != token).then_some(other);
    }
    let kind = |token: &str| match token.chars().next() {
        Some('"') if token.contains(':') => 0,
        Some('"') => 1,
        Some(first) if first.is_alphabetic() => 2,
        _ => 3,
    };
    match kind(token) {
        // A letter left out, or another of the file.
        of @ 0..=2 if rng.random_bool(0.6) => {
            let others: Vec<&&str> = all
                .iter()
                .filter(|other| kind(other) == of && **other != token)
                .collect();
            others.choose(rng).map(|other| (**other).to_owned())
        }
        0..=2 => {
            let letters: Vec<usize> = token
                .char_indices()
                .filter(|(_, letter)| letter.is_alphanumeric())
                .map(|(at, _)| at)
                .collect();
            let at = *letters.choose(rng)?;
            Some(format!(
                "{}{}",
                &token[..at],
                &token[token.ceil_char_boundary(at + 1)..]
            ))
        }
        _ => Some(if rng.random_bool(0.5) {
            String::new()
        } else {
            token.repeat(2)
        }),
    }
}

/// Changes tokens of one text; `taken` reads it.
fn mutate(
    name: &str,
    text: &str,
    taken: &dyn Fn(&str) -> Result<Scenario, String>,
    count: u64,
    silent: &mut BTreeMap<String, Vec<String>>,
) -> BTreeMap<Outcome, u64> {
    let before = Answer::of(&taken(text).unwrap_or_else(|why| panic!("{name}: {why}")));
    let places = tokens(text);
    let all: Vec<&str> = places.iter().map(|at| &text[at.clone()]).collect();
    let mut outcomes = BTreeMap::new();
    for number in 0..count {
        let mut rng = ChaCha8Rng::seed_from_u64(
            number
                .wrapping_mul(1_000_003)
                .wrapping_add(name.len() as u64),
        );
        let at = rng.random_range(0..places.len());
        let Some(by) = other(&mut rng, all[at], &all) else {
            continue;
        };
        let changed = format!(
            "{}{by}{}",
            &text[..places[at].start],
            &text[places[at].end..]
        );
        let outcome = match taken(&changed) {
            Err(why) => {
                assert!(why.is_empty(), "{name}, {} for {by:?}: {why}", all[at]);
                Outcome::Refused
            }
            Ok(scenario) => {
                let after = Answer::of(&scenario);
                match (
                    before.figures == after.figures,
                    before.summary == after.summary,
                ) {
                    (false, _) => Outcome::ChangesTheAnswer,
                    (true, false) => Outcome::IsSaid,
                    (true, true) => Outcome::Silent,
                }
            }
        };
        if outcome == Outcome::Silent {
            let told = silent.entry(path(text, &places, at)).or_default();
            told.push(format!("{name}: {} for {by}", all[at]));
        }
        *outcomes.entry(outcome).or_default() += 1;
    }
    outcomes
}

#[test]
fn one_token_of_a_shipped_scenario() {
    let asked = env::var("MUTATIONS").ok();
    let count = asked.map_or(6, |asked| asked.parse().expect("a number of tokens"));
    let mut silent = BTreeMap::new();
    let mut sum: BTreeMap<Outcome, u64> = BTreeMap::new();
    let mut add = |name: &str, outcomes: BTreeMap<Outcome, u64>| {
        println!("{name}: {outcomes:?}");
        for (outcome, count) in outcomes {
            *sum.entry(outcome).or_default() += count;
        }
    };
    assert_eq!(
        built_in_week().name,
        parse("week", SCENARIOS[1].1).expect("it is good").name,
        "it is among them"
    );
    let of_text = |text: &str| {
        parse("day.ron", text).map_err(|faults| wrongly_refused(&faults).unwrap_or_default())
    };
    for (name, text) in &SCENARIOS[..10] {
        add(name, mutate(name, text, &of_text, count, &mut silent));
    }
    let folder = TempDir::new().expect("a folder");
    for (name, text) in IN_TABLES {
        let of_files = |changed: &str| {
            for (other, text) in IN_TABLES {
                in_folder(
                    folder.path(),
                    other,
                    if other == name { changed } else { text }.as_bytes(),
                );
            }
            read(&folder.path().join(IN_TABLES[0].0)).map_err(|error| match error {
                ReadError::Faults(faults) => wrongly_refused(&faults).unwrap_or_default(),
                error => error.to_string(),
            })
        };
        add(name, mutate(name, text, &of_files, count, &mut silent));
    }
    println!("{sum:?}");
    for (path, told) in &silent {
        println!(
            "{path} ({}): {}",
            told.len(),
            told[..told.len().min(3)].join("; ")
        );
    }
    assert!(
        sum[&Outcome::Refused] > 0 && sum[&Outcome::ChangesTheAnswer] > 0,
        "{sum:?}"
    );
}
