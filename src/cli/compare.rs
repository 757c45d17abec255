//! `plantday compare`.

use super::given::Given;
use super::input::{Error, options, position};
use super::judged::{Judged, indifference};
use super::keeping::Resume;
use super::numbers::{above_zero, confidence, whole};
use super::part;
use super::study::{self, Shared, Study, Verdict, Work};
use crate::observe::columns;
use crate::report::answer::Answer;
use crate::report::compare as report;
use crate::report::holds;
use crate::scenario::{Scenario, Surprise};
use crate::studies::{
    self, Asked, Comparing, Comparison, Decision, FIRST_STAGE, Holds, HoldsQuestion, Part,
    Question, Until,
};
use std::sync::Arc;

/// A changed world gets one replication for so many of the comparison.
const SHORTER: u64 = 50;

/// With fewer replications nothing is said of changed worlds.
const FEWEST: u64 = 5;

/// Run dispatch rules on the same days and say which to run, what it saves, and how sure that is
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  plantday compare scenarios/estuary_day.ron --replications 2000 --judge late_loads --out answer"
)]
#[command(mut_arg("out", |out| out.default_value("plantday-out")))]
pub(super) struct Compare {
    /// How many times to run the days under each rule
    #[arg(long, short = 'n', default_value_t = Question::default().replications, value_parser = whole::<u64>(1..=1_000_000))]
    replications: u64,
    /// Rules to compare, by name, separated by semicolons [default: all]
    #[arg(long, value_name = "NAMES", value_delimiter = ';')]
    rules: Vec<String>,
    /// A rule to compare, by name, semicolons and all; may be repeated
    #[arg(long, value_name = "NAME")]
    rule: Vec<String>,
    #[command(flatten)]
    judged: Judged,
    /// Add runs until the best rule is known with the confidence asked for
    #[arg(long)]
    until_sure: bool,
    /// Confidence of the selection and of all intervals
    #[arg(long, value_name = "P", default_value_t = Question::default().level, value_parser = confidence)]
    confidence: f64,
    /// Difference in that figure that does not matter to --until-sure, in its unit
    /// [default: $50, 0.1 of a count, 0.5 h or 1 yd³ a day; 0.01 of a share; 1 min; $0.25 a yd³]
    #[arg(long, value_name = "X", requires = "until_sure", value_parser = above_zero)]
    indifference: Option<f64>,
    /// Add runs until the intervals of the differences reach no farther than this to each side
    #[arg(long, value_name = "X", value_parser = above_zero)]
    precision: Option<f64>,
    /// Runs at most with --until-sure or --precision [default: 20,000]
    #[arg(long, value_name = "N", value_parser = whole::<u64>(2..=10_000_000))]
    max_replications: Option<u64>,
    /// Run one share of the replications, such as 3/16, to be put together by join (help parts)
    #[arg(long, value_name = "K/N", value_parser = part::numbers)]
    part: Option<Part>,
    #[command(flatten)]
    pub(super) resume: Resume,
    #[command(flatten)]
    pub(super) shared: Shared,
}

impl Compare {
    pub(super) fn run(&self, given: &Given) -> Result<u8, Error> {
        match self.part {
            None => study::run(self, given),
            Some(part) => {
                self.may_be_parted(part)?;
                part::run(self, part)
            }
        }
    }

    fn may_be_parted(&self, part: Part) -> Result<(), Error> {
        let wrong = |text: String| Err(Error::Argument(text));
        if self.until_sure || self.precision.is_some() {
            return wrong(format!(
                "--part {part} does not go with --until-sure or --precision: how many replications they add is decided by what all parts have shown\n  \
                 expected --replications alone"
            ));
        }
        if part.of > self.replications {
            return wrong(format!(
                "--part {part} is a share of {} replications, and some shares would have none\n  \
                 expected at most so many parts, or more --replications",
                self.replications
            ));
        }
        for (is_given, option) in [
            (self.shared.told.json, "--json"),
            (self.shared.told.xlsx, "--xlsx"),
        ] {
            if is_given {
                return wrong(format!(
                    "--part {part} gives no answer that {option} could tell\n  expected {option} with plantday join, which gives it"
                ));
            }
        }
        Ok(())
    }

    /// What is asked, as it is kept with what has been done.
    pub(super) fn asked_of(
        &self,
        scenario: &Scenario,
        question: &Question,
        part: Option<Part>,
    ) -> Asked {
        let named = (self.shared.file()).map(|file| file.display().to_string());
        let usual = Question::default();
        let mut given = vec![
            ("replications", Some(question.replications.to_string())),
            ("seed", Some(question.seed.to_string())),
        ];
        if question.judge != usual.judge {
            let key = &columns(scenario)[question.judge].key;
            given.push(("judge", Some(key.clone())));
        }
        if question.level != usual.level {
            given.push(("confidence", Some(question.level.to_string())));
        }
        if question.rules.len() < scenario.rules.len() || !question.rules.is_sorted() {
            let names = question
                .rules
                .iter()
                .map(|rule| &scenario.rules[*rule].name);
            given.extend(names.map(|name| ("rule", Some(name.clone()))));
        }
        Asked::compare(scenario, named, question, part, options(&given))
    }

    pub(super) fn question(&self, scenario: &Scenario) -> Result<Question, Error> {
        let names = scenario.rules.iter().map(|rule| rule.name.as_str());
        let mut rules = Vec::new();
        for name in self.rules.iter().chain(&self.rule) {
            let rule = position("rule", name.trim(), names.clone())?;
            if !rules.contains(&rule) {
                rules.push(rule);
            }
        }
        if rules.is_empty() {
            rules = (0..scenario.rules.len()).collect();
        }
        let most = self.most(rules.len())?;
        let judge = self.judged.figure(scenario)?;
        Ok(Question {
            rules,
            judge,
            replications: self.replications,
            seed: self.shared.seed,
            threads: self.shared.threads,
            level: self.confidence,
            until: Until {
                sure_within: self
                    .until_sure
                    .then(|| indifference(self.indifference, judge, scenario)),
                precision: self.precision,
                most,
            },
            ..Question::default()
        })
    }

    /// Replications at most, if what limits them goes together.
    fn most(&self, rules: usize) -> Result<u64, Error> {
        let wrong = |text: String| Err(Error::Argument(text));
        if self.until_sure && rules < 2 {
            return wrong("--until-sure selects among rules, and there is only one\n  expected two rules at least".into());
        }
        let Some(most) = self.max_replications else {
            return Ok(Until::default().most.max(self.replications));
        };
        if !self.until_sure && self.precision.is_none() {
            return wrong(format!(
                "--max-replications {most} limits what --until-sure or --precision adds, and neither is given\n  \
                 expected one of them, or --replications alone"
            ));
        }
        if self.until_sure && most < FIRST_STAGE {
            return wrong(format!(
                "--max-replications {most} is less than the selection of --until-sure begins with\n  expected {FIRST_STAGE} at least"
            ));
        }
        if self.precision.is_some() && most < self.replications {
            return wrong(format!(
                "--max-replications {most} is less than the {} --replications that --precision begins with\n  \
                 expected so many at least, or fewer --replications",
                self.replications
            ));
        }
        Ok(most)
    }
}

impl Study for Compare {
    fn shared(&self) -> &Shared {
        &self.shared
    }

    fn resume(&self) -> Option<Resume> {
        Some(self.resume)
    }

    fn asked(&self, scenario: &Scenario, _: &Given) -> Result<Asked, Error> {
        let question = self.question(scenario)?;
        Ok(self.asked_of(scenario, &question, None))
    }

    fn rows(&self, scenario: &Scenario) -> u64 {
        let named = self.rules.len() + self.rule.len();
        let rules = if named == 0 {
            scenario.rules.len()
        } else {
            named
        };
        self.replications * rules as u64
    }

    fn answer(
        &self,
        scenario: &Arc<Scenario>,
        work: &Work<'_>,
    ) -> Result<Option<(Answer, Verdict)>, Error> {
        let question = self.question(scenario)?;
        let mut comparing = Comparing::new(scenario, &question);
        comparing.run(work.watch);
        Ok(told(scenario, &question, comparing, work))
    }
}

/// The answer of a comparison that has been run.
pub(super) fn told(
    scenario: &Arc<Scenario>,
    question: &Question,
    comparing: Comparing<'_>,
    work: &Work<'_>,
) -> Option<(Answer, Verdict)> {
    let found = Arc::new(comparing.answer(work.watch)?);
    let worst = Arc::new(studies::worst_of(scenario, &found));
    let mut answer = report::answer(&found, &worst, scenario);
    if let Some(tried) = in_changed_worlds(scenario, question, &found, work) {
        holds::add_to_comparison(&tried, scenario, &mut answer);
    }
    let stopped = found.replications() < found.asked || work.watch.is_stopped();
    Some((answer, Verdict::of(stopped, true)))
}

/// A decision is tried in changed worlds as well, in short; none where nothing is decided or too little was run.
fn in_changed_worlds(
    scenario: &Scenario,
    question: &Question,
    found: &Comparison,
    work: &Work<'_>,
) -> Option<Holds> {
    let rule = match found.decision {
        Decision::Best(rule) | Decision::Selected(rule) => question.rules[rule],
        Decision::Alone | Decision::NotToldApart(_) => return None,
    };
    let replications = found.replications() / SHORTER;
    if replications < FEWEST || work.watch.is_stopped() {
        return None;
    }
    let question = HoldsQuestion {
        compare: Question {
            replications,
            until: Until::default(),
            ..question.clone()
        },
        rule: Some(rule),
        surprises: Surprise::few(scenario),
        ..HoldsQuestion::default()
    };
    studies::holds(scenario, &question, work.watch)
}
