//! `compare`: the rules of a scenario on the same days, and what may be said of them.

use super::barred::Barred;
use super::comparing::Comparing;
use super::per_hundred::{PerHundred, per_hundred};
use super::until::{Precision, SureOf, Until};
use super::{Block, ForWhom, RuleTrial, Worst, WorstReplication};
use crate::montecarlo::{Rows, Watch};
use crate::observe::{Better, Causes, Column, Loss, Profile, columns, figure};
use crate::scenario::{Needed, Period, Scenario};
use crate::statistics::{
    Contrast, Interval, Paired, Selection, Statement, Summary, Verdict, quantile_interval,
    quantile_of_sorted, share_at_most,
};
use std::num::NonZeroUsize;

/// What is asked.
#[derive(Clone, Debug)]
pub struct Question {
    /// Positions of the rules to compare in the scenario, each once; empty: all.
    pub rules: Vec<usize>,
    /// The figure that judges: position in [`columns`], one of which less or more is better.
    pub judge: usize,
    /// Replications, at least 1.
    pub replications: u64,
    /// Of which kind of work: a rule that is picked to be looked at in other replications is picked in some of their own.
    pub block: Block,
    /// Seed of all luck.
    pub seed: u64,
    /// Threads; none: all there are. Does not change the answer.
    pub threads: Option<NonZeroUsize>,
    /// Confidence of all intervals, between 0 and 1.
    pub level: f64,
    /// Replications added until something is known.
    pub until: Until,
}

impl Default for Question {
    fn default() -> Self {
        Self {
            rules: Vec::new(),
            judge: figure::COST,
            replications: 1_000,
            block: Block::Compared,
            seed: 1,
            threads: None,
            level: 0.95,
            until: Until::default(),
        }
    }
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// Title of the scenario.
    pub scenario: String,
    /// Days in a replication.
    pub days: u32,
    /// Seed.
    pub seed: u64,
    /// Confidence of the intervals.
    pub level: f64,
    /// Replications asked for.
    pub asked: u64,
    /// Replications that the question began with; `asked` is more where a precision wanted more.
    pub begun_with: u64,
    /// Replications at most where more were to be added.
    pub most: u64,
    /// Every figure.
    pub columns: Vec<Column>,
    /// Position of the judging figure.
    pub judge: usize,
    /// Position in `rules` of the rule with which the others are compared: today's, or the first if today's is not among
    /// them.
    pub base: usize,
    /// Whether that is today's.
    pub base_is_today: bool,
    /// One for each rule, in the order asked.
    pub rules: Vec<RuleResult>,
    /// What may be said.
    pub decision: Decision,
    /// For each rule, what keeps it from being recommended, whatever it saves.
    pub barred: Vec<Option<Barred>>,
    /// For each rule, the interval of its mean of the judging figure less that of the best of the others, turned so that above
    /// zero is worse; all hold at once (comparisons with the best).
    pub against_best_other: Vec<Interval>,
    /// How the best was selected, if that was asked for and begun.
    pub sure: Option<SureOf>,
    /// How precise the differences are, if a precision was asked for.
    pub precision: Option<Precision>,
    /// Every row: case = position in `rules`.
    pub rows: Rows,
    /// Which replication of the base rule had most late loads; the first of equals.
    pub worst: u64,
    /// The concrete, where the scenario describes mixes.
    pub per_hundred: Vec<PerHundred>,
    /// Who gains and who loses.
    pub whom: ForWhom,
    /// Trucks that the order book needs on paper.
    pub needed: Needed,
    /// The days of a replication.
    pub period: Period,
}

/// What is known of one rule.
#[derive(Clone, Debug)]
pub struct RuleResult {
    /// Name.
    pub name: String,
    /// Description.
    pub about: String,
    /// One for each column.
    pub figures: Vec<Figure>,
    /// Sums over all replications.
    pub profile: Profile,
    /// The replications most worth a replay: the worst by lateness, strandings and waste, where there are any.
    pub worth_replaying: Vec<WorstReplication>,
    /// What made loads late, over all replications.
    pub causes: Causes,
}

/// One figure of one rule over the replications.
#[derive(Clone, Debug)]
pub struct Figure {
    /// Summary over the replications, blanks left out.
    pub summary: Summary,
    /// What is said of it: its mean with an interval, or how often a replication has any.
    pub said: Statement,
    /// Median over the replications; none without a value.
    pub median: Option<f64>,
    /// Interval of the median, whatever the distribution; none with too few replications.
    pub median_interval: Option<Interval>,
    /// The value that 95 % of the replications do not exceed; none without a value.
    pub p95: Option<f64>,
    /// Interval of that value, whatever the distribution; none with too few replications.
    pub p95_interval: Option<Interval>,
    /// This rule less the base on the same days; none for the base itself.
    pub difference: Option<Difference>,
}

/// A paired difference against the base.
#[derive(Clone, Copy, Debug)]
pub struct Difference {
    /// What is said of it, with confidence for all rules compared with the base at once.
    pub said: Contrast,
    /// How many times more replications independent luck would have needed; none if there is no variance.
    pub variance_reduction: Option<f64>,
}

/// What may be said of the judging figure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Decision {
    /// There is one rule only.
    Alone,
    /// This rule is the best: all simultaneous intervals exclude zero.
    Best(usize),
    /// This rule was selected in replications of its own: the best, or not worse than the best by more than the indifference.
    Selected(usize),
    /// These rules are contenders, not told apart.
    NotToldApart(Vec<usize>),
}

/// Runs the comparison. Ends early when it is stopped: the answer is then that of a whole shorter run, none if
/// not one replication was finished.
pub fn compare(scenario: &Scenario, question: &Question, watch: Watch<'_>) -> Option<Comparison> {
    let mut comparing = Comparing::new(scenario, question);
    comparing.run(watch);
    comparing.answer(watch)
}

/// What may be said by these replications.
pub(super) fn judge(
    scenario: &Scenario,
    question: &Question,
    trial: &mut RuleTrial<'_>,
    rows: Rows,
    base: usize,
) -> Comparison {
    let mut profiles = trial.profiles().into_iter();
    let columns = columns(scenario);
    let values = |case: usize, column: usize| rows.values(case, column).collect::<Vec<f64>>();
    let comparisons = question.rules.len() - 1;
    // Figure by figure: the values of all of them at once would be twice the rows.
    let mut figures = vec![Vec::with_capacity(columns.len()); question.rules.len()];
    for (position, column) in columns.iter().enumerate() {
        let looked_at = column.lacks.is_none();
        let base_values = values(base, position);
        for (case, figures) in figures.iter_mut().enumerate() {
            figures.push(if case == base {
                figure(base_values.clone(), None, question.level, looked_at)
            } else {
                let other = Some((&base_values[..], comparisons));
                figure(values(case, position), other, question.level, looked_at)
            });
        }
    }
    let rules: Vec<RuleResult> = question
        .rules
        .iter()
        .zip(figures)
        .enumerate()
        .map(|(case, (rule, figures))| {
            let (profile, causes) = profiles.next().unwrap_or_default();
            RuleResult {
                name: scenario.rules[*rule].name.clone(),
                about: scenario.rules[*rule].about.clone(),
                figures,
                profile,
                causes,
                worth_replaying: [Worst::Lateness, Worst::Strandings, Worst::Waste]
                    .into_iter()
                    .filter_map(|by| WorstReplication::of(by, &rows, case))
                    .filter(|worst| worst.value > 0.0)
                    .collect(),
            }
        })
        .collect();
    let judged: Vec<Vec<f64>> = (0..question.rules.len())
        .map(|case| oriented(&columns[question.judge], values(case, question.judge)))
        .collect();
    let systems: Vec<&[f64]> = judged.iter().map(Vec::as_slice).collect();
    let selection = Selection::of(&systems, question.level);
    let base_figures = &rules[base].figures;
    let barred: Vec<Option<Barred>> = rules
        .iter()
        .map(|rule| Barred::of_figures(&rule.figures, base_figures))
        .collect();
    Comparison {
        scenario: scenario.name.clone(),
        days: scenario.period.days,
        seed: question.seed,
        level: question.level,
        asked: question.replications,
        begun_with: question.replications,
        most: question.until.most,
        decision: decide(&selection, &systems, &barred, question.level),
        barred,
        against_best_other: selection.against_best_other,
        sure: None,
        precision: None,
        judge: question.judge,
        base,
        base_is_today: question.rules[base] == scenario.todays_rule(),
        worst: WorstReplication::of(Worst::Lateness, &rows, base)
            .map_or(0, |worst| worst.replication),
        per_hundred: per_hundred(&rows, &columns, question.level),
        whom: trial.take_whom(question.level).expect("it was added up"),
        needed: Needed::of(scenario, trial.plan().roads()),
        period: scenario.period.clone(),
        rules,
        columns,
        rows,
    }
}

/// Turned so that less is better.
pub(super) fn oriented(column: &Column, mut values: Vec<f64>) -> Vec<f64> {
    if column.better == Better::More {
        for value in &mut values {
            *value = -*value;
        }
    }
    values
}

/// What may be said of the rules that may be recommended at all; the base always may.
fn decide(all: &Selection, systems: &[&[f64]], barred: &[Option<Barred>], level: f64) -> Decision {
    let free: Vec<usize> = (0..systems.len())
        .filter(|rule| barred[*rule].is_none())
        .collect();
    if systems.len() == 1 {
        return Decision::Alone;
    }
    let verdict = if free.len() == systems.len() {
        all.verdict.clone()
    } else {
        let systems: Vec<&[f64]> = free.iter().map(|rule| systems[*rule]).collect();
        Selection::of(&systems, level).verdict
    };
    match verdict {
        Verdict::Best(place) => Decision::Best(free[place]),
        Verdict::NotToldApart(places) => {
            Decision::NotToldApart(places.into_iter().map(|place| free[place]).collect())
        }
    }
}

fn figure(
    mut values: Vec<f64>,
    base: Option<(&[f64], usize)>,
    level: f64,
    looked_at: bool,
) -> Figure {
    let summary = Summary::of(values.iter().copied());
    let said = match looked_at {
        true => Statement::of(&values, level),
        false => Statement::NotLookedAt,
    };
    let difference = base.map(|(base, comparisons)| Difference {
        said: match looked_at {
            true => Contrast::simultaneous(&values, base, level, comparisons),
            false => Contrast::NotLookedAt,
        },
        variance_reduction: Paired::of(&values, base).variance_reduction(),
    });
    values.retain(|value| !value.is_nan());
    values.sort_unstable_by(f64::total_cmp);
    Figure {
        said,
        median: quantile_of_sorted(&values, 0.5),
        median_interval: quantile_interval(&values, 0.5, level),
        p95: quantile_of_sorted(&values, 0.95),
        p95_interval: quantile_interval(&values, 0.95, level),
        summary,
        difference,
    }
}

impl Comparison {
    /// What is said of how often a loss happens in a replication under a rule.
    pub fn loss(&self, rule: usize, loss: Loss) -> Statement {
        match self.columns[loss.figure()].lacks {
            Some(_) => Statement::NotLookedAt,
            None => Statement::of(&self.loss_counts(rule, loss), self.level),
        }
    }

    /// How often a loss happens under a rule, one count for each replication.
    pub fn loss_counts(&self, rule: usize, loss: Loss) -> Vec<f64> {
        let row = |replication| self.rows.row(rule, replication);
        let count = |replication| loss.count(|figure| f64::from(row(replication)[figure]));
        self.rows.replications().map(count).collect()
    }

    /// What never happened in any replication happens in at most this share of them.
    pub fn at_most_if_never(&self) -> f64 {
        share_at_most(0, self.replications(), self.level)
    }

    /// Replications that went in.
    pub fn replications(&self) -> u64 {
        self.rows.len() as u64
    }

    /// The judging figure.
    pub fn judged_by(&self) -> &Column {
        &self.columns[self.judge]
    }

    /// Whether two rules came to the same judging figure in every replication: both the same value, or both none.
    pub fn same(&self, one: usize, other: usize) -> bool {
        let values = |rule: usize| self.rows.values(rule, self.judge);
        let mut pairs = values(one).zip(values(other));
        pairs.all(|(a, b)| a == b || a.is_nan() && b.is_nan())
    }

    /// The factor that turns the judging figure so that less is better: 1 or −1.
    pub fn turned(&self) -> f64 {
        if self.judged_by().better == Better::More {
            -1.0
        } else {
            1.0
        }
    }

    /// The best of the rules but this one by the mean of the judging figure, barred ones only where there are no others; none if it
    /// is the only rule.
    pub fn best_other_than(&self, but: usize) -> Option<usize> {
        let worth = |rule: &usize| {
            let mean = self.judged(*rule).summary.mean();
            mean.map_or(f64::INFINITY, |mean| self.turned() * mean)
        };
        let others = (0..self.rules.len()).filter(|rule| *rule != but);
        others.min_by(|a, b| {
            let barred = |rule: &usize| self.barred[*rule].is_some();
            barred(a)
                .cmp(&barred(b))
                .then(worth(a).total_cmp(&worth(b)))
        })
    }

    /// Whether a selection of this rule, which goes by means, tells anything: not of a judging figure in which too few replications
    /// differ to speak of a mean.
    pub fn selection_tells(&self, best: usize) -> bool {
        let of_means = |rule: usize| {
            let said = self
                .judged(rule)
                .difference
                .map(|difference| difference.said);
            said.is_none_or(|said| said.mean().is_some() || said.never())
        };
        if best == self.base {
            (0..self.rules.len()).all(of_means)
        } else {
            of_means(best)
        }
    }

    /// The judging figure of a rule.
    pub fn judged(&self, rule: usize) -> &Figure {
        &self.rules[rule].figures[self.judge]
    }
}
