//! `best`: the best rule that can be put together from the decisions written in a scenario's rules.
//!
//! A search changes one decision at a time, beginning with today's rule and with the best of the rules as written, as long as that is
//! worth something; it may take back what it has changed. A shortlist of what it found is run in fresh replications, which alone
//! decide ([`FinalRound`]). Then the rule chosen is taken apart ([`habits`]).

mod decisions;
mod search;

pub use decisions::{Combination, Decidable, kept_though_no_recommendation};

use super::final_round::Judging;
use super::reach::{Trying, reach};
use super::{
    Block, FinalRound, Habits, HabitsQuestion, Reach, RuleTrial, Searched, Target, habits,
};
use crate::dispatch::{Habit, Rule};
use crate::montecarlo::{self, Watch};
use crate::observe::{Column, columns, figure};
use crate::scenario::Scenario;
use search::Search;
use std::num::NonZeroUsize;

/// What is asked.
#[derive(Clone, Debug)]
pub struct BestQuestion {
    /// What must be met.
    pub targets: Vec<Target>,
    /// The figure that judges: position in [`columns`], one of which less or more is better.
    pub judge: usize,
    /// A difference of the judging figure that does not matter, above zero: no decision is changed for less.
    pub indifference: f64,
    /// Replications of every rule in the search, at least 2.
    pub search: u64,
    /// Fresh replications of the shortlist, at least 2.
    pub last: u64,
    /// Seed.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
    /// Confidence, between 0 and 1.
    pub level: f64,
}

impl Default for BestQuestion {
    fn default() -> Self {
        Self {
            targets: Vec::new(),
            judge: figure::COST,
            indifference: 50.0,
            search: 40,
            last: 200,
            seed: 1,
            threads: None,
            level: 0.95,
        }
    }
}

/// One rule that was tried.
#[derive(Clone, Debug)]
pub struct Tried {
    /// What it decides.
    pub combination: Combination,
    /// As the search saw it.
    pub seen: Searched,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Best {
    /// Title of the scenario.
    pub scenario: String,
    /// Days in a replication.
    pub days: u32,
    /// What was asked.
    pub asked: BestQuestion,
    /// Position of today's rule in the scenario: the one that the search begins with.
    pub today: usize,
    /// The decisions that the scenario's rules take in more than one way.
    pub decisions: Vec<Decidable>,
    /// Replications of each rule in the search.
    pub searched: u64,
    /// Every rule tried, in the order of trying.
    pub tried: Vec<Tried>,
    /// The way of the search from today's rule: positions in `tried`, today's first, each with one decision changed or taken back.
    pub path: Vec<usize>,
    /// The shortlist in fresh replications, today's rule last; `setting` is a position in `tried`.
    pub last: FinalRound,
    /// Of the shortlist, the one with the fewest decisions changed from today's that may be chosen and brings at least four fifths of
    /// what the chosen one brings; none if there is none with fewer.
    pub smallest: Option<usize>,
    /// The chosen rule, under a name of its own unless it is one of those written; none if none is chosen.
    pub rule: Option<Rule>,
    /// What each decision of it brings; none if it is today's or none, if cost is not what judges, or where
    /// the study was stopped before.
    pub shares: Option<Habits>,
    /// Where no finalist meets the targets: what else could, under the one that comes nearest.
    pub reach: Vec<Reach>,
    /// The judging figure.
    pub judge: Column,
    /// The figures of the targets.
    pub targets: Vec<Column>,
}

/// A smaller change than the best is worth naming if it brings this share of the saving.
const MOST_OF_IT: f64 = 0.8;

/// Runs the study. None if it was stopped before the search had tried anything.
pub fn best(scenario: &Scenario, asked: &BestQuestion, watch: Watch<'_>) -> Option<Best> {
    let all = columns(scenario);
    let judging = Judging {
        columns: &all,
        judge: asked.judge,
        targets: &asked.targets,
        indifference: asked.indifference,
        level: asked.level,
    };
    let today = scenario.todays_rule();
    let decisions = Decidable::all(scenario, today);
    let mut search = Search::new(scenario, asked, judging, &decisions, watch);
    let path = search.path_from_today()?;
    let shortlist = search.shortlist(&path);
    let tried = search.into_tried();

    let built = |setting: &usize| tried[*setting].combination.rule(scenario, &decisions);
    let mut last = scenario.clone();
    last.rules = shortlist.iter().map(built).collect();
    let trial = RuleTrial::new(&last, (0..shortlist.len()).collect(), asked.seed);
    let fresh = Block::Final.first(asked.last);
    let rows = montecarlo::run(&&trial, fresh, asked.threads, watch);
    let round = FinalRound::of(
        &rows,
        &shortlist,
        |setting| tried[setting].combination.changes(),
        judging,
    );
    let combination = |place: usize| &tried[round.finalists[place].setting].combination;
    let rule = round
        .chosen
        .map(|chosen| combination(chosen).named(scenario, &decisions));
    let smallest = round
        .chosen
        .and_then(|chosen| smallest(&round, chosen, |place| combination(place).changes()));
    let shares = rule
        .as_ref()
        .and_then(|rule| shares(scenario, rule, asked, watch));
    let trying = Trying {
        replications: asked.search,
        seed: asked.seed,
        threads: asked.threads,
        watch,
    };
    let reach = round.short_of().map_or_else(Vec::new, |nearest| {
        let rule = built(&round.finalists[nearest].setting);
        reach(scenario, rule, judging, trying)
    });
    Some(Best {
        scenario: scenario.name.clone(),
        days: scenario.period.days,
        asked: asked.clone(),
        today,
        searched: asked.search,
        path,
        smallest,
        rule,
        shares,
        reach,
        last: round,
        judge: all[asked.judge].clone(),
        targets: asked
            .targets
            .iter()
            .map(|target| all[target.column].clone())
            .collect(),
        tried,
        decisions,
    })
}

/// Of the finalists that may be chosen, the one with the fewest changes that brings most of what the chosen one does.
fn smallest(round: &FinalRound, chosen: usize, changes: impl Fn(usize) -> usize) -> Option<usize> {
    let whole = round.finalists[chosen].saves?;
    let brings = |place: usize| round.finalists[place].saves.map(|saves| saves / whole);
    let places = (0..round.finalists.len()).filter(|place| {
        let finalist = &round.finalists[*place];
        let free = finalist.meets && finalist.barred.is_none();
        let most = brings(*place).is_some_and(|share| share >= MOST_OF_IT);
        free && most && changes(*place) < changes(chosen)
    });
    places.min_by(|a, b| {
        let share = |place: usize| brings(place).unwrap_or(0.0);
        let fewest = changes(*a).cmp(&changes(*b));
        fewest.then(share(*b).total_cmp(&share(*a)))
    })
}

/// What each decision of the rule brings against today's.
fn shares(
    scenario: &Scenario,
    rule: &Rule,
    asked: &BestQuestion,
    watch: Watch<'_>,
) -> Option<Habits> {
    let today = &scenario.rules[scenario.todays_rule()];
    let of_cost = asked.judge == figure::COST;
    if !of_cost || Habit::differing(today, rule).is_empty() || watch.is_stopped() {
        return None;
    }
    let mut two = scenario.clone();
    two.rules = vec![today.clone(), rule.clone()];
    let question = HabitsQuestion {
        from: 0,
        to: 1,
        replications: asked.search,
        orders: 4,
        seed: asked.seed,
        threads: asked.threads,
        level: asked.level,
    };
    habits(&two, &question, watch)
}
