//! A comparison under way: run in one go or in parts, broken off and gone on with, and answered as if it had been one run.

use super::RuleTrial;
use super::compare::{Comparison, Decision, Question, judge};
use super::so_far::{Asked, Part};
use super::until::{self, Precision};
use crate::montecarlo::{self, Besides, Broken, Reader, Rows, Run, Trial, Watch, run_on};
use crate::scenario::Scenario;
use std::io::{self, Read, Write};
use std::ops::Range;

/// A comparison under way: what has been run of it so far.
#[derive(Debug)]
pub struct Comparing<'s> {
    scenario: &'s Scenario,
    /// With the rules named.
    question: Question,
    trial: RuleTrial<'s>,
    base: usize,
    rows: Rows,
    /// Replications asked for, with those that a precision has added.
    asked: u64,
}

impl<'s> Comparing<'s> {
    /// Nothing has been run yet.
    pub fn new(scenario: &'s Scenario, question: &Question) -> Self {
        Self::from(scenario, question, question.block.first(0).start)
    }

    /// The same of a part of the replications.
    pub fn part(scenario: &'s Scenario, question: &Question, part: Part) -> Self {
        let all = question.block.first(question.replications);
        Self::from(scenario, question, part.of(all).start)
    }

    fn from(scenario: &'s Scenario, question: &Question, first: u64) -> Self {
        let mut question = question.clone();
        if question.rules.is_empty() {
            question.rules = (0..scenario.rules.len()).collect();
        }
        let today = scenario.todays_rule();
        let base = question.rules.iter().position(|rule| *rule == today);
        let base = base.unwrap_or(0);
        let trial = RuleTrial::new(scenario, question.rules.clone(), question.seed).for_whom(base);
        let (cases, width) = ((&trial).cases(), (&trial).width());
        Self {
            rows: Rows::new(cases, width, first),
            asked: question.replications,
            scenario,
            question,
            trial,
            base,
        }
    }

    /// Replications that have been run.
    pub fn replications(&self) -> Range<u64> {
        self.rows.replications()
    }

    /// Takes up what has been run before: the replications that follow those that are here.
    ///
    /// # Errors
    /// The file is damaged, or its replications are others. This comparison is of no use then.
    pub fn take_up<R: Read>(&mut self, kept: Reader<R>) -> Result<(), Broken> {
        let all = self.farthest();
        montecarlo::take_up(kept, &&self.trial, &mut self.rows, &all)
    }

    /// All replications that there may be.
    fn farthest(&self) -> Range<u64> {
        let question = &self.question;
        let most = question.replications.max(question.until.most);
        question.block.first(most)
    }

    /// Runs the replications asked for that have not been run yet, and those that a precision adds.
    pub fn run(&mut self, watch: Watch<'_>) {
        let run = self.begin(watch);
        let all = self.question.block.first(self.question.replications);
        self.run_until(all.end, run, watch);
        while self.rows.replications().end >= all.start + self.asked
            && !watch.is_stopped()
            && let Some(more) = until::wanted(self.scenario, &self.question, &self.rows, self.asked)
        {
            self.asked = more;
            self.run_until(all.start + more, run, watch);
        }
    }

    /// Runs the replications of a part that have not been run yet.
    pub fn run_part(&mut self, part: Part, watch: Watch<'_>) {
        let run = self.begin(watch);
        let all = self.question.block.first(self.question.replications);
        self.run_until(part.of(all).end, run, watch);
    }

    /// What the journal has of it is taken up.
    fn begin<'w>(&mut self, watch: Watch<'w>) -> Run<'w> {
        let run = Run::next(watch);
        if self.rows.is_empty() {
            let these = self.rows.replications().start..self.farthest().end;
            self.rows = run.taken_up(&&self.trial, &these);
        }
        run
    }

    fn run_until(&mut self, end: u64, run: Run<'_>, watch: Watch<'_>) {
        let first = self.rows.replications().start;
        let none = Rows::new(self.rows.cases(), self.rows.width(), first);
        let rows = std::mem::replace(&mut self.rows, none);
        let threads = self.question.threads;
        self.rows = run_on(&&self.trial, rows, first..end, threads, run, watch);
    }

    /// Writes the file of all that has been run so far, with what was asked.
    ///
    /// # Errors
    /// It cannot be written there.
    pub fn write(&self, asked: &Asked, to: &mut dyn Write) -> io::Result<()> {
        let sums = Besides::sums(&&self.trial);
        montecarlo::write(to, &asked.line(1), &self.rows, &sums)
    }

    /// What may be said by all that has been run; none if that is not one replication. A selection of the best rule is made first, if
    /// it was asked for.
    pub fn answer(mut self, watch: Watch<'_>) -> Option<Comparison> {
        if self.rows.is_empty() {
            return None;
        }
        let (scenario, question) = (self.scenario, &self.question);
        let sure = until::sure(scenario, question, watch);
        let mut answer = judge(scenario, question, &mut self.trial, self.rows, self.base);
        answer.asked = self.asked;
        answer.precision = Precision::of(&answer, question);
        let selected = sure.as_ref().and_then(|sure| sure.selected.best());
        let selected = selected.filter(|best| answer.barred[*best].is_none());
        let selected = selected.filter(|best| answer.selection_tells(*best));
        // Nobody changes a rule for one that does the same.
        let selected = selected.map(|best| {
            if answer.same(best, answer.base) {
                answer.base
            } else {
                best
            }
        });
        if let Some(best) = selected
            && answer.decision != Decision::Best(best)
        {
            answer.decision = Decision::Selected(best);
        }
        answer.sure = sure;
        Some(answer)
    }
}
