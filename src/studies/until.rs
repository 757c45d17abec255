//! Replications added where needed: until a precision is met, and until the best rule is known.

use super::compare::{Comparison, Question, oriented};
use super::{Block, RuleTrial};
use crate::montecarlo::{self, Rows, Selected, Selecting, Watch};
use crate::observe::{Better, Column, FigureUnit, columns};
use crate::scenario::Scenario;
use crate::statistics::{Contrast, Interval, Paired, Statement, Summary, replications_for_error};

/// When enough is known. By default: with the replications asked for.
#[derive(Clone, Copy, Debug)]
pub struct Until {
    /// Select the best rule by replications of their own, differences up to this (above zero, in the judging figure's unit)
    /// not mattering.
    pub sure_within: Option<f64>,
    /// Add replications until every simultaneous interval of a difference from the base in the judging figure (of the mean,
    /// with one rule) reaches at most so far to each side, in its unit.
    pub precision: Option<f64>,
    /// Replications at most, of the selection (at least [`FIRST_STAGE`]) and again of the comparison with a precision (at least those
    /// of the question).
    pub most: u64,
}

impl Default for Until {
    fn default() -> Self {
        Self {
            sure_within: None,
            precision: None,
            most: 20_000,
        }
    }
}

/// How the best rule was selected.
#[derive(Clone, Debug, PartialEq)]
pub struct SureOf {
    /// The difference that does not matter, in the judging figure's unit.
    pub indifference: f64,
    /// Replications at most.
    pub most: u64,
    /// What it came to.
    pub selected: Selected,
}

/// How precise the differences of the judging figure are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Precision {
    /// Half-width wanted.
    pub wanted: f64,
    /// Largest half-width reached; infinite with one replication.
    pub reached: f64,
    /// Replications that it is expected to take where it is not reached; none if that cannot be said.
    pub would_take: Option<u64>,
}

/// Replications of a selection before a rule may be left behind: enough for the variances of differences whose distribution
/// is skewed.
pub const FIRST_STAGE: u64 = 50;

/// A difference of the judging figure that nobody would change a rule for, where none is named: $50, 0.1 of a count, half an
/// hour or one yd³ a day of the period; $0.25 a yd³, one percentage point, one minute. Fixed beforehand, not taken from
/// results.
pub fn default_indifference(column: &Column, days: u32) -> f64 {
    let days = f64::from(days);
    match column.unit {
        FigureUnit::Money => 50.0 * days,
        FigureUnit::MoneyPerYd3 => 0.25,
        FigureUnit::Share => 0.01,
        FigureUnit::Minutes => 1.0,
        FigureUnit::Hours => 0.5 * days,
        FigureUnit::Yd3 => days,
        _ => 0.1 * days,
    }
}

/// Selects the best rule; none if it was not asked for, or if there is one rule. A study that
/// was stopped before has made no replication of it.
pub(super) fn sure(scenario: &Scenario, question: &Question, watch: Watch<'_>) -> Option<SureOf> {
    let indifference = question.until.sure_within?;
    if question.rules.len() < 2 {
        return None;
    }
    // A trial of its own: the causes and profiles shown are those of the comparison alone.
    let trial = RuleTrial::new(scenario, question.rules.clone(), question.seed);
    let less = columns(scenario)[question.judge].better != Better::More;
    let plan = Selecting {
        level: question.level,
        indifference,
        first_stage: FIRST_STAGE,
        from: Block::Selection.first(0).start,
        most: question.until.most,
        threads: question.threads,
    };
    let value = |row: &[f32]| {
        let value = f64::from(row[question.judge]);
        if less { value } else { -value }
    };
    Some(SureOf {
        indifference,
        most: plan.most,
        selected: montecarlo::select(&&trial, value, &plan, watch),
    })
}

/// How many replications to make in all where the first `asked` of these do not meet the precision; none where they do, or no more may
/// be made.
pub(super) fn wanted(
    scenario: &Scenario,
    question: &Question,
    rows: &Rows,
    asked: u64,
) -> Option<u64> {
    let wanted = question.until.precision?;
    if asked >= question.until.most {
        return None;
    }
    let column = &columns(scenario)[question.judge];
    let today = scenario.todays_rule();
    let base = question.rules.iter().position(|rule| *rule == today);
    let base = base.unwrap_or(0);
    let these = usize::try_from(asked).unwrap_or(usize::MAX);
    let judged: Vec<Vec<f64>> = (0..question.rules.len())
        .map(|case| {
            let values = rows.values(case, question.judge).take(these);
            oriented(column, values.collect())
        })
        .collect();
    let (reached, needed) = reach(&judged, base, question.level, wanted);
    if reached <= wanted {
        return None;
    }
    // At most twice as many at a time: the estimate of a short run is not to be trusted far. It is one by Student's t alone.
    let next = needed
        .unwrap_or(u64::MAX)
        .clamp(asked + asked / 20 + 1, asked * 2);
    Some(next.min(question.until.most))
}

/// The largest half-width, and how many replications it is expected to take until all are as wanted. A rule that did the same in
/// every replication leaves nothing to be made more precise; one that differs in too few for a mean has no half-width yet.
fn reach(judged: &[Vec<f64>], base: usize, level: f64, wanted: f64) -> (f64, Option<u64>) {
    let comparisons = judged.len().saturating_sub(1).max(1);
    let one = 1.0 - (1.0 - level) / comparisons as f64;
    let mut reached: f64 = 0.0;
    let mut needed = Some(judged[base].len() as u64);
    let mut add = |mean: Option<(f64, Interval)>, values: Summary| {
        let half = mean.map_or(f64::INFINITY, |(_, interval)| interval.half_width());
        reached = reached.max(half);
        let more = mean.and(replications_for_error(&values, wanted, one));
        needed = needed.zip(more).map(|(a, b)| a.max(b));
    };
    if judged.len() == 1 {
        let values = &judged[0];
        add(
            Statement::of(values, one).mean(),
            Summary::of(values.iter().copied()),
        );
    }
    for case in (0..judged.len()).filter(|case| *case != base) {
        let said = Contrast::of(&judged[case], &judged[base], one);
        if !said.never() {
            let pairs = Paired::of(&judged[case], &judged[base]);
            add(said.mean(), pairs.difference);
        }
    }
    (reached, needed)
}

impl Precision {
    pub(super) fn of(answer: &Comparison, question: &Question) -> Option<Self> {
        let wanted = question.until.precision?;
        let judged: Vec<Vec<f64>> = (0..answer.rules.len())
            .map(|case| answer.rows.values(case, answer.judge).collect())
            .collect();
        let (reached, needed) = reach(&judged, answer.base, answer.level, wanted);
        Some(Self {
            wanted,
            reached,
            would_take: needed.filter(|_| reached > wanted),
        })
    }
}
