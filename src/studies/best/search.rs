//! The search: one decision changed at a time, on the same replications.

use super::{BestQuestion, Combination, Decidable, Tried};
use crate::montecarlo::{self, Rows, Watch};
use crate::scenario::Scenario;
use crate::statistics::{Paired, Summary};
use crate::studies::final_round::{Judging, sign};
use crate::studies::{Barred, Block, RuleTrial, Searched};
use std::cmp::Ordering;
use std::collections::HashMap;

/// Rules run side by side at a time: enough for any one step, few enough that their rows stay small.
const AT_A_TIME: usize = 32;
/// Of the way from today's rule so many first steps go into the shortlist: the smallest change is one of them.
const FIRST_STEPS: usize = 4;
/// So many of the shortlist are there because nothing that was tried looked better.
const LEADERS: usize = 3;

/// What was tried so far.
pub(super) struct Search<'a> {
    scenario: &'a Scenario,
    asked: &'a BestQuestion,
    judging: Judging<'a>,
    decisions: &'a [Decidable],
    watch: Watch<'a>,
    tried: Vec<Tried>,
    /// The judging figure in each replication, turned so that less is better; one list for each of `tried`.
    worth: Vec<Vec<f64>>,
    /// Whether it is seen to do what keeps a rule from being recommended, against today's.
    barred: Vec<bool>,
    /// Today's figures that bars go by, in each replication.
    todays: Vec<Vec<f64>>,
    places: HashMap<Combination, usize>,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        scenario: &'a Scenario,
        asked: &'a BestQuestion,
        judging: Judging<'a>,
        decisions: &'a [Decidable],
        watch: Watch<'a>,
    ) -> Self {
        Self {
            scenario,
            asked,
            judging,
            decisions,
            watch,
            tried: Vec::new(),
            worth: Vec::new(),
            barred: Vec::new(),
            todays: Vec::new(),
            places: HashMap::new(),
        }
    }

    /// Tries every rule as written, goes on from today's and from the best of the others, and gives the way from today's. None if
    /// it was stopped before the rules as written were tried.
    pub(super) fn path_from_today(&mut self) -> Option<Vec<usize>> {
        let written = self.written();
        if !self.try_all(&written) {
            return None;
        }
        let today = self.places[&Combination::todays(self.decisions)];
        let path = self.go_on(today);
        let best = written
            .iter()
            .map(|combination| self.places[combination])
            .min_by(|a, b| self.order(*a, *b))
            .expect("there is a rule");
        if best != today {
            self.go_on(best);
        }
        Some(path)
    }

    /// Today's rule first.
    fn written(&self) -> Vec<Combination> {
        let rules = 0..self.scenario.rules.len();
        let written =
            rules.filter_map(|rule| Combination::written(self.scenario, self.decisions, rule));
        let mut all = vec![Combination::todays(self.decisions)];
        for combination in written {
            if !all.contains(&combination) {
                all.push(combination);
            }
        }
        all
    }

    /// Changes one decision after the other as long as that is worth something, then takes back what is not; gives the way.
    fn go_on(&mut self, from: usize) -> Vec<usize> {
        let mut path = vec![from];
        let mut here = from;
        // No way is longer than one that changes every decision and takes as many back; rounding cannot make it endless.
        for _ in 0..4 * self.decisions.len() {
            let combination = self.tried[here].combination.clone();
            let next: Vec<Combination> = combination.neighbors(self.decisions).collect();
            if !self.try_all(&next) {
                return path;
            }
            let places = next.iter().map(|combination| self.places[combination]);
            let best = places.min_by(|a, b| self.order(*a, *b));
            match best.filter(|best| self.worth_it(here, *best)) {
                Some(best) => here = best,
                None => break,
            }
            path.push(here);
        }
        while let Some(less) = self.one_less(here) {
            here = less;
            path.push(here);
        }
        path
    }

    /// Whether a change is worth more than its noise and than what does not matter; what comes nearer to the targets always is.
    fn worth_it(&self, from: usize, to: usize) -> bool {
        if self.barred[to] {
            return false;
        }
        let (a, b) = (&self.tried[from].seen, &self.tried[to].seen);
        if !a.seems_to_meet {
            return b.order(a).is_lt();
        }
        let gain = self.paired(from, to);
        let mean = gain.mean().unwrap_or(0.0);
        b.seems_to_meet && mean > gain.standard_error() && mean > self.asked.indifference
    }

    /// The best rule with one change taken back, if that is seen to lose no more than does not matter.
    fn one_less(&mut self, from: usize) -> Option<usize> {
        let combination = self.tried[from].combination.clone();
        let next: Vec<Combination> = combination.with_one_less().collect();
        if next.is_empty() || !self.try_all(&next) {
            return None;
        }
        let places = next.iter().map(|combination| self.places[combination]);
        let best = places.min_by(|a, b| self.order(*a, *b))?;
        let loss = self.paired(best, from);
        let noise = 2.0 * loss.standard_error();
        let loss = loss.mean().unwrap_or(f64::INFINITY);
        let as_good = self.tried[best].seen.seems_to_meet || !self.tried[from].seen.seems_to_meet;
        let little = loss <= self.asked.indifference.max(noise);
        (as_good && little && !self.barred[best]).then_some(best)
    }

    /// What the second is better by, replication by replication.
    fn paired(&self, from: usize, to: usize) -> Summary {
        Paired::of(&self.worth[from], &self.worth[to]).difference
    }

    fn order(&self, a: usize, b: usize) -> Ordering {
        let (one, other) = (&self.tried[a], &self.tried[b]);
        let fewer = one.combination.changes().cmp(&other.combination.changes());
        let barred = self.barred[a].cmp(&self.barred[b]);
        barred
            .then(one.seen.order(&other.seen))
            .then(fewer)
            .then(a.cmp(&b))
    }

    /// What is decided between: positions in `tried`, each once, today's rule last.
    pub(super) fn shortlist(&self, path: &[usize]) -> Vec<usize> {
        let today = path[0];
        let steps = path.iter().skip(1).take(FIRST_STEPS).chain(path.last());
        let mut shortlist: Vec<usize> = Vec::new();
        let mut add = |place: usize| {
            if place != today && !shortlist.contains(&place) {
                shortlist.push(place);
            }
        };
        steps.copied().for_each(&mut add);
        let mut order: Vec<usize> = (0..self.tried.len()).collect();
        order.sort_by(|a, b| self.order(*a, *b));
        order.into_iter().take(LEADERS).for_each(&mut add);
        let written = self.written().into_iter();
        let written = written.filter_map(|combination| self.places.get(&combination).copied());
        if let Some(best) = written.min_by(|a, b| self.order(*a, *b)) {
            add(best);
        }
        shortlist.push(today);
        shortlist
    }

    pub(super) fn into_tried(self) -> Vec<Tried> {
        self.tried
    }

    /// Tries what was not tried yet; false if it was stopped.
    fn try_all(&mut self, combinations: &[Combination]) -> bool {
        let known = |combination: &&Combination| !self.places.contains_key(*combination);
        let new: Vec<Combination> = combinations.iter().filter(known).cloned().collect();
        new.chunks(AT_A_TIME).all(|some| self.run(some))
    }

    fn run(&mut self, combinations: &[Combination]) -> bool {
        let mut scenario = self.scenario.clone();
        let built = combinations.iter();
        let built = built.map(|combination| combination.rule(self.scenario, self.decisions));
        scenario.rules = built.collect();
        let cases = 0..combinations.len();
        let trial = RuleTrial::new(&scenario, cases.clone().collect(), self.asked.seed);
        let replications = Block::Search.first(self.asked.search);
        let rows: Rows = montecarlo::run(&&trial, replications, self.asked.threads, self.watch);
        if (rows.len() as u64) < self.asked.search {
            return false;
        }
        if self.todays.is_empty() {
            // today's rule is the very first that is tried
            let figures = Barred::FIGURES.iter();
            self.todays = figures
                .map(|column| rows.values(0, *column).collect())
                .collect();
        }
        let turn = sign(&self.judging.columns[self.judging.judge]);
        for (case, combination) in cases.zip(combinations) {
            self.places.insert(combination.clone(), self.tried.len());
            self.tried.push(Tried {
                combination: combination.clone(),
                seen: Searched::of(&rows, case, self.judging),
            });
            let both = |column: usize| {
                let at = Barred::FIGURES.iter().position(|figure| *figure == column);
                let todays = self.todays[at.expect("it goes by no others")].clone();
                (rows.values(case, column).collect(), todays)
            };
            let barred = Barred::of_values(both, 1, self.judging.level);
            self.barred.push(barred.is_some());
            let judged = rows.values(case, self.judging.judge);
            self.worth.push(judged.map(|value| turn * value).collect());
        }
        true
    }
}
