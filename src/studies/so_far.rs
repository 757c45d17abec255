//! What was asked of a study that is not done yet, or of a part of one, and whether it is the same question.

use super::compare::Question;
use crate::observe::columns;
use crate::scenario::Scenario;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use std::fmt;
use std::ops::Range;

/// One of so many shares of the replications, each of which follows the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Part {
    /// Which, from 1 to `of`.
    pub nth: u64,
    /// How many there are.
    pub of: u64,
}

impl fmt::Display for Part {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "{}/{}", self.nth, self.of)
    }
}

impl Part {
    /// Its replications of these. Shares differ by one at most.
    pub fn of(self, all: Range<u64>) -> Range<u64> {
        let count = u128::from(all.end - all.start);
        let until = |nth: u64| {
            let share = count * u128::from(nth) / u128::from(self.of);
            all.start + u64::try_from(share).unwrap_or(u64::MAX)
        };
        until(self.nth - 1)..until(self.nth)
    }
}

/// What was asked, as the file of what has been done tells it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Asked {
    /// Version of the program.
    pub plantday: String,
    /// Which of the runs of the study it is, from 1.
    pub run: u64,
    /// The scenario's file as it was named; none: the built-in week.
    pub scenario: Option<String>,
    /// The checksum of what it was read from.
    pub sha256: String,
    /// What the answer depends on besides: each with the words that stand before what was asked.
    pub question: Vec<(String, Vec<String>)>,
    /// The part of the replications; none: all.
    pub part: Option<Part>,
    /// Options of the command line that say all this, but for the part.
    pub options: String,
    /// Keys of all figures.
    pub figures: Vec<String>,
}

const RULES: &str = "the rules were";
const JUDGE: &str = "the judging figure was";
const REPLICATIONS: &str = "the replications were";
const SEED: &str = "the seed was";
const CONFIDENCE: &str = "the confidence was";
const ADDED: &str = "added replications were";

/// What a comparison was asked, as a file tells it.
#[derive(Clone, Debug, PartialEq)]
pub struct AskedRules {
    /// Names of the rules, in their order.
    pub rules: Vec<String>,
    /// Key of the judging figure.
    pub judge: String,
    /// Replications, all parts together, at least 1.
    pub replications: u64,
    /// Seed.
    pub seed: u64,
    /// Confidence.
    pub level: f64,
}

impl Asked {
    /// What is asked of a scenario of this name by these options: each with its values, or none where it is not given.
    pub fn new(
        scenario: &Scenario,
        named: Option<String>,
        options: impl IntoIterator<Item = (String, Vec<String>)>,
    ) -> Self {
        let columns = columns(scenario);
        let said = |(name, values): (String, Vec<String>)| (format!("--{name} was"), values);
        Self {
            plantday: env!("CARGO_PKG_VERSION").to_owned(),
            run: 1,
            scenario: named,
            sha256: scenario.origin.sha256.clone(),
            question: options.into_iter().map(said).collect(),
            part: None,
            options: String::new(),
            figures: columns.iter().map(|column| column.key.to_owned()).collect(),
        }
    }

    /// The same of a comparison, whose options say this.
    pub fn compare(
        scenario: &Scenario,
        named: Option<String>,
        question: &Question,
        part: Option<Part>,
        options: String,
    ) -> Self {
        let until = &question.until;
        let added = [
            (until.sure_within).map(|within| format!("until sure within {within}")),
            (until.precision).map(|precision| format!("until precise to {precision}")),
        ];
        let added: Vec<String> = added.into_iter().flatten().collect();
        let added = match added.is_empty() {
            true => "none".to_owned(),
            false => format!("{}, {} at most", added.join(", "), until.most),
        };
        let rules = question.rules.iter();
        let rules = rules.map(|rule| scenario.rules[*rule].name.clone());
        let one = |what: &str, value: String| (what.to_owned(), vec![value]);
        let judge = columns(scenario)[question.judge].key.to_owned();
        Self {
            question: vec![
                (RULES.to_owned(), rules.collect()),
                one(JUDGE, judge),
                one(REPLICATIONS, question.replications.to_string()),
                one(SEED, question.seed.to_string()),
                // The same number again when it is read.
                one(CONFIDENCE, question.level.to_string()),
                one(ADDED, added),
            ],
            part,
            options,
            ..Self::new(scenario, named, [])
        }
    }

    /// The same of a file besides, by its checksum.
    #[must_use]
    pub fn of_file(mut self, what: &str, bytes: &[u8]) -> Self {
        let sum = Sha256::digest(bytes);
        let digits = sum.iter().map(|byte| format!("{byte:02x}"));
        self.question
            .push((what.to_owned(), vec![digits.collect()]));
        self
    }

    /// What it asks of a comparison; none if it is of another study.
    pub fn of_rules(&self) -> Option<AskedRules> {
        let one = |what: &str| match self.values(what) {
            [value] => Some(value.clone()),
            _ => None,
        };
        Some(AskedRules {
            rules: self.values(RULES).to_vec(),
            judge: one(JUDGE)?,
            replications: (one(REPLICATIONS)?.parse().ok()).filter(|count| *count > 0)?,
            seed: one(SEED)?.parse().ok()?,
            level: one(CONFIDENCE)?.parse().ok()?,
        })
    }

    /// As it stands in the file of a run.
    pub fn line(&self, run: u64) -> String {
        let asked = Self {
            run,
            ..self.clone()
        };
        serde_json::to_string(&asked).expect("names and numbers can be written")
    }

    /// Reads that; none if it is something else.
    pub fn read(line: &str) -> Option<Self> {
        let asked: Self = serde_json::from_str(line).ok()?;
        let is_part = |part: Part| (1..=part.of).contains(&part.nth);
        asked.part.is_none_or(is_part).then_some(asked)
    }

    fn values(&self, what: &str) -> &[String] {
        let said = self.question.iter().find(|(said, _)| said == what);
        said.map_or(&[], |(_, values)| values)
    }

    /// In what it differs from another, each in words: what it was here, and what it is there, where `there` tells which is meant. Empty:
    /// it is the same question; the part may be another of as many.
    pub fn differences(&self, now: &Self, there: &str) -> Vec<String> {
        let mut told = Vec::new();
        let mut differ = |what: &str, was: &dyn fmt::Display, is: &dyn fmt::Display| {
            let (was, is) = (was.to_string(), is.to_string());
            if was != is {
                told.push(format!("{what} {was}, {there} {is}"));
            }
        };
        differ("it was made by plantday", &self.plantday, &now.plantday);
        differ(
            "the scenario has changed: the checksum of its file and tables was",
            &self.sha256,
            &now.sha256,
        );
        let here = self.question.iter().map(|(what, _)| what);
        let only_there = now.question.iter().map(|(what, _)| what);
        let only_there =
            only_there.filter(|what| self.question.iter().all(|(own, _)| own != *what));
        for what in here.chain(only_there) {
            differ(
                what,
                &said(what, self.values(what)),
                &said(what, now.values(what)),
            );
        }
        let parts = |asked: &Self| asked.part.map_or(1, |part| part.of);
        differ("the parts were", &parts(self), &parts(now));
        if told.is_empty() && self.figures != now.figures {
            told.push("it was made by another build of plantday, with other figures".into());
        }
        told
    }
}

/// Values as they stand in a sentence.
fn said(what: &str, values: &[String]) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || ".,:;=/+-_%".contains(c);
    let is_name = |value: &str| {
        let is_plain = !value.is_empty() && value.chars().all(plain);
        what == RULES || (what.starts_with("--") && !is_plain)
    };
    let each = values.iter().map(|value| match is_name(value) {
        true => format!("{value:?}"),
        false => value.clone(),
    });
    match values {
        [] => "not given".to_owned(),
        _ => each.collect::<Vec<_>>().join(", "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// No published source: a share is whole replications, and all shares together are all of them, each once.
    #[test]
    fn parts_are_all_replications_each_once() {
        for (all, of) in [(0..1_000, 16), (0..16, 16), (5..1_000_005, 7), (0..1, 1)] {
            let mut next = all.start;
            let (mut least, mut most) = (u64::MAX, 0);
            for nth in 1..=of {
                let share = Part { nth, of }.of(all.clone());
                assert_eq!(share.start, next);
                next = share.end;
                let count = share.end - share.start;
                (least, most) = (least.min(count), most.max(count));
            }
            assert_eq!(next, all.end);
            assert!(most - least <= 1 && least > 0, "{least} to {most}");
        }
    }
}
