//! What else could reach the targets that no finalist meets: trucks, bays, hours and agreements, one at a time.

use super::edited::Edited;
use super::final_round::Judging;
use super::{Block, Searched};
use crate::dispatch::Rule;
use crate::montecarlo::{self, Watch};
use crate::scenario::{Scenario, WhatIf};
use std::num::NonZeroUsize;

/// A change of what the rule has to work with.
#[derive(Clone, Debug)]
pub struct Reach {
    /// Which.
    pub what: WhatIf,
    /// The rule with it, in the replications of the search.
    pub seen: Searched,
}

/// How the changes are tried.
#[derive(Clone, Copy)]
pub(super) struct Trying<'a> {
    pub(super) replications: u64,
    pub(super) seed: u64,
    pub(super) threads: Option<NonZeroUsize>,
    pub(super) watch: Watch<'a>,
}

/// Every change that can be bought, agreed or decided, under this rule; the nearest to the targets first. Empty if it was stopped.
pub(super) fn reach(
    scenario: &Scenario,
    rule: Rule,
    judging: Judging<'_>,
    trying: Trying<'_>,
) -> Vec<Reach> {
    let mut alone = scenario.clone();
    alone.rules = vec![rule];
    let (changes, changed): (Vec<WhatIf>, Vec<Scenario>) = WhatIf::ALL
        .into_iter()
        .filter(|what| what.can_be_decided() && !what.takes_away())
        .filter_map(|what| Some((what, what.apply(&alone, 0).ok()?)))
        .unzip();
    if changes.is_empty() {
        return Vec::new();
    }
    let trial = Edited::new(changed, 0, trying.seed, None);
    let replications = Block::Search.first(trying.replications);
    let rows = montecarlo::run(&&trial, replications, trying.threads, trying.watch);
    if (rows.len() as u64) < trying.replications {
        return Vec::new();
    }
    let cases = changes.into_iter().enumerate();
    let mut all: Vec<Reach> = cases
        .map(|(case, what)| Reach {
            what,
            seen: Searched::of(&rows, case, judging),
        })
        .collect();
    all.sort_by(|a, b| a.seen.order(&b.seen).then(a.what.cmp(&b.what)));
    all
}
