//! What is kept of a comparison that is not done yet, or of a part of one, and whether it is of the same question.

use super::RuleTrial;
use super::compare::Question;
use crate::montecarlo::{self, Besides, Rows};
use crate::observe::columns;
use crate::scenario::Scenario;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::io::{self, Write};
use std::ops::Range;
use std::time::Duration;

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

/// Keeps what has been run so far, now and then.
pub struct Keeper<'k> {
    /// Work between two times, at least.
    pub every: Duration,
    /// Keeps it.
    pub keep: &'k mut dyn FnMut(&SoFar<'_>),
}

impl fmt::Debug for Keeper<'_> {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(to, "keeps every {:?}", self.every)
    }
}

/// What has been run so far.
#[derive(Clone, Copy, Debug)]
pub struct SoFar<'r> {
    pub(super) rows: &'r Rows,
    pub(super) trial: &'r RuleTrial<'r>,
}

impl SoFar<'_> {
    /// Writes the file of it.
    ///
    /// # Errors
    /// It cannot be written there.
    pub fn write(&self, asked: &Asked, to: &mut dyn Write) -> io::Result<()> {
        montecarlo::write(to, &asked.line(), self.rows, &self.trial.sums())
    }
}

/// What was asked, as the file of what has been done tells it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Asked {
    /// Version of the program.
    pub plantday: String,
    /// The scenario's file as it was named; none: the built-in week.
    pub scenario: Option<String>,
    /// The checksum of what it was read from.
    pub sha256: String,
    /// Names of the rules, in their order.
    pub rules: Vec<String>,
    /// Key of the judging figure.
    pub judge: String,
    /// Replications, all parts together.
    pub replications: u64,
    /// Seed.
    pub seed: u64,
    /// Confidence; a text, which is the same number again when it is read.
    pub confidence: String,
    /// How long replications are added, in words; none: they are not.
    pub until: Option<String>,
    /// The part of the replications; none: all.
    pub part: Option<Part>,
    /// Options of the command line that say all this, but for the part.
    pub options: String,
    /// Keys of all figures.
    pub figures: Vec<String>,
}

impl Asked {
    /// What is asked of a scenario of this name by these options.
    pub fn new(
        scenario: &Scenario,
        named: Option<String>,
        question: &Question,
        part: Option<Part>,
        options: String,
    ) -> Self {
        let columns = columns(scenario);
        let until = &question.until;
        let each = [
            (until.sure_within).map(|within| format!("until sure within {within}")),
            (until.precision).map(|precision| format!("until precise to {precision}")),
        ];
        let each: Vec<String> = each.into_iter().flatten().collect();
        let most = until.most;
        Self {
            plantday: env!("CARGO_PKG_VERSION").to_owned(),
            scenario: named,
            sha256: scenario.origin.sha256.clone(),
            rules: (question.rules.iter())
                .map(|rule| scenario.rules[*rule].name.clone())
                .collect(),
            judge: columns[question.judge].key.to_owned(),
            replications: question.replications,
            seed: question.seed,
            confidence: question.level.to_string(),
            until: (!each.is_empty()).then(|| format!("{}, {most} at most", each.join(", "))),
            part,
            options,
            figures: columns.iter().map(|column| column.key.to_owned()).collect(),
        }
    }

    /// As it stands in the file.
    fn line(&self) -> String {
        serde_json::to_string(self).expect("names and numbers can be written")
    }

    /// Reads that; none if it is something else.
    pub fn read(line: &str) -> Option<Self> {
        let asked: Self = serde_json::from_str(line).ok()?;
        let is_part = |part: Part| (1..=part.of).contains(&part.nth);
        (asked.part.is_none_or(is_part) && asked.replications > 0).then_some(asked)
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
        let list = |names: &[String]| {
            let names: Vec<String> = names.iter().map(|name| format!("{name:?}")).collect();
            names.join(", ")
        };
        differ("the rules were", &list(&self.rules), &list(&now.rules));
        differ("the judging figure was", &self.judge, &now.judge);
        differ(
            "the replications were",
            &self.replications,
            &now.replications,
        );
        let parts = |asked: &Self| asked.part.map_or(1, |part| part.of);
        differ("the parts were", &parts(self), &parts(now));
        differ("the seed was", &self.seed, &now.seed);
        differ("the confidence was", &self.confidence, &now.confidence);
        let until = |asked: &Self| asked.until.clone().unwrap_or("none".into());
        differ("added replications were", &until(self), &until(now));
        if told.is_empty() && self.figures != now.figures {
            told.push("it was made by another build of plantday, with other figures".into());
        }
        told
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
