//! Can we take this order, and for when?
//!
//! A new order's harm is not told day by day: one truck sent elsewhere makes some loads late and saves others. The day holds if
//! it is no worse than 39 of 40 without the order.

use super::super::{Chance, Estimate};
use super::TripQuestion;
use super::base::{Base, Forks, cost};
use super::fate::Spanning;
use crate::montecarlo::{self, Rows, Trial, Watch};
use crate::observe::{DayWatch, Figures};
use crate::plant::Plan;
use crate::scenario::Scenario;
use crate::scenario::edit::new_order::{NewOrder, offered};
use crate::statistics::{Summary, quantile};
use crate::units::{Millis, OrderId, PlantId, Volume};

/// Trials of the day without the order, which say how bad a day may be.
const USUAL: u64 = 100;
/// Trials of the search, for each time.
const SEARCH: u64 = 30;
/// The share of days without the order that are no worse than a day that holds. Day by day with and without it cannot be told:
/// one truck sent elsewhere makes other loads late and saves others.
const NO_WORSE: f64 = 0.975;
/// Times of the final answer.
const IN_FINAL: usize = 5;
/// Trials of what is tried instead, at most.
const INSTEAD: u64 = 100;
/// First-load times that are tried lie so far apart, and this many at most.
const STEP: Millis = Millis(30 * Millis::MINUTE.0);
const TIMES: usize = 17;

/// What is asked.
#[derive(Clone, Debug)]
pub struct OrderQuestion {
    /// The order.
    pub new: NewOrder,
    /// Its first-load time as the customer wants it, since midnight before the first day.
    pub first: Millis,
    /// Further late loads of other orders that are accepted.
    pub accepted: u32,
}

impl Default for OrderQuestion {
    fn default() -> Self {
        Self {
            new: NewOrder::default(),
            first: Millis::ZERO,
            accepted: 0,
        }
    }
}

/// How bad a day may be that still holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayLimit {
    /// Late loads of the other orders, those accepted included.
    pub late: f64,
    /// Drivers stranded.
    pub stranded: f64,
}

/// One first-load time.
#[derive(Clone, Debug)]
pub struct FirstLoad {
    /// When.
    pub first: Millis,
    /// Trials behind the numbers.
    pub trials: u64,
    /// Whether they are those of the final answer; else of the search.
    pub is_final: bool,
    /// All its loads come in time and it is finished.
    pub holds: Chance,
    /// No more loads of other orders are late, and no more drivers stranded, than the limit says.
    pub rest_holds: Chance,
    /// Both.
    pub both: Chance,
    /// Late loads of others that it brings, on the mean.
    pub more_late: Estimate,
    /// Strandings that it brings, on the mean.
    pub more_stranded: Estimate,
    /// What all plants pay more with it than without.
    pub cost_more: Estimate,
    /// When it is finished, minutes since midnight before the first day.
    pub finished: Option<Spanning>,
}

/// A smaller or other order that is tried where the one asked for cannot be taken for its time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Change {
    /// Less of it.
    Volume(Volume),
    /// Loads farther apart.
    Spacing(Millis),
    /// From one plant alone.
    Plant(PlantId),
}

/// The answer.
#[derive(Clone, Debug)]
pub struct OrderAnswer {
    /// What was asked.
    pub asked: OrderQuestion,
    /// Every time that was tried, in order; the first is the one asked for.
    pub times: Vec<FirstLoad>,
    /// Position in `times` of the first that holds with the chance asked for.
    pub first_that_holds: Option<usize>,
    /// Where the order cannot be taken for the time asked for: what would do at that time, each with what becomes of it, and what was
    /// tried and would not.
    pub instead: Vec<(Change, FirstLoad)>,
    /// What the rest of the day is held against: the worst of 39 in 40 days without the order, and what is accepted.
    pub limit: DayLimit,
    /// Late loads of the others without it.
    pub late_without: Estimate,
    /// Trials of the final answer that were run.
    pub trials: u64,
    /// Trials of the search, all times together.
    pub searched: u64,
    /// Whether it was interrupted.
    pub stopped: bool,
}

mod column {
    pub(super) const SERVED: usize = 0;
    pub(super) const OTHERS_LATE: usize = 1;
    pub(super) const STRANDED: usize = 2;
    pub(super) const FINISHED: usize = 3;
    pub(super) const COST: usize = 4;
    pub(super) const COUNT: usize = 5;
}

struct OrderTrial<'b, 'p> {
    base: &'b Base<'p>,
    /// The order that is taken in each case; none: none.
    cases: Vec<Option<OrderId>>,
    until: Millis,
}

impl<'p> Trial for OrderTrial<'_, 'p> {
    type Worker = (Forks<'p>, Figures<'p>, DayWatch);

    fn worker(&self) -> Self::Worker {
        (
            Forks::new(self.base.plan),
            self.base.figures.clone(),
            DayWatch::default(),
        )
    }

    fn cases(&self) -> usize {
        self.cases.len()
    }

    fn width(&self) -> usize {
        column::COUNT
    }

    fn run(
        &self,
        (forks, figures, watch): &mut Self::Worker,
        case: usize,
        trial: u64,
        row: &mut [f32],
    ) {
        let base = self.base;
        let world = forks.with(base, base.luck(3, trial));
        figures.clone_from(&base.figures);
        watch.begin(self.cases[case], base.moment.at());
        if let Some(order) = self.cases[case] {
            world.take_order(order);
        }
        world.go_on_to(self.until, &mut (&mut *figures, &mut *watch));
        let seen = watch.seen();
        let served = seen.complete.is_some() && seen.late == 0;
        row[column::SERVED] = f32::from(u8::from(served));
        row[column::OTHERS_LATE] = seen.others_late as f32;
        row[column::STRANDED] = seen.stranded as f32;
        row[column::FINISHED] = seen.complete.map_or(f32::NAN, |at| at.minutes() as f32);
        row[column::COST] = (cost(figures) - base.paid()).units() as f32;
    }
}

/// Answers from which first-load time on a new order can be taken. None if nothing was finished before it was stopped.
///
/// # Errors
/// In words, if no plant makes the mix or reaches the site, or the time asked for has passed.
pub fn take_order(
    scenario: &Scenario,
    question: &TripQuestion,
    asked: &OrderQuestion,
    watch: Watch<'_>,
) -> Result<Option<OrderAnswer>, String> {
    if asked.first <= question.at {
        return Err(format!(
            "the first load would be due at {}, which is not after the moment asked about, {}",
            asked.first, question.at
        ));
    }
    let day = asked.first.day();
    let over = Millis::midnight(day + 1).min(Millis::midnight(i64::from(scenario.period.days)));
    let firsts: Vec<Millis> = (0..TIMES as i64)
        .map(|step| asked.first + STEP * step)
        .take_while(|first| *first + duration(&asked.new) < over)
        .collect();
    if firsts.is_empty() {
        return Err("the pour would not end on its day".into());
    }
    let changes = changes(scenario, asked, over);
    let as_asked = firsts.iter().map(|first| (asked.new.clone(), *first));
    let changed = changes
        .iter()
        .map(|change| (change.of(&asked.new), asked.first));
    let offers: Vec<(NewOrder, Millis)> = as_asked.chain(changed).collect();
    let edited = offered(scenario, &offers);
    let plan = Plan::new(&edited);
    let first_id = scenario.orders.len();
    let id = OrderId::new(first_id);
    if !plan.can_serve(id) {
        return Err(format!(
            "no plant makes the mix \"{}\" and has a way to the site",
            asked.new.mix
        ));
    }
    let base = Base::start(&plan, &edited, question)?;
    let night = Millis::midnight(day + 1) + Millis::HOUR * 4;
    let until = base.account().max(night);
    let run = |times: &[usize], trials: std::ops::Range<u64>| {
        let ids = times.iter().map(|at| Some(OrderId::new(first_id + at)));
        let trial = OrderTrial {
            base: &base,
            cases: std::iter::once(None).chain(ids).collect(),
            until,
        };
        montecarlo::run(&trial, trials, question.threads, watch)
    };
    let rows = run(&[], 0..USUAL);
    if rows.is_empty() {
        return Ok(None);
    }
    let worst = |column| {
        quantile(rows.values(0, column), NO_WORSE)
            .unwrap_or(0.0)
            .ceil()
    };
    let limit = DayLimit {
        late: worst(column::OTHERS_LATE) + f64::from(asked.accepted),
        stranded: worst(column::STRANDED),
    };
    let all: Vec<usize> = (0..firsts.len()).collect();
    let rows = run(&all, USUAL..USUAL + SEARCH);
    if rows.is_empty() {
        return Ok(None);
    }
    let mut times: Vec<FirstLoad> = all
        .iter()
        .map(|at| first_load(&rows, 1 + at, firsts[*at], limit, question, false))
        .collect();
    let chosen = chosen(&times, question.probability);
    let from = USUAL + SEARCH;
    let rows = run(&chosen, from..from + question.trials);
    if rows.is_empty() {
        return Ok(None);
    }
    for (case, at) in chosen.iter().enumerate() {
        times[*at] = first_load(&rows, 1 + case, firsts[*at], limit, question, true);
    }
    let holds = |time: &FirstLoad| time.is_final && time.both.at_least >= question.probability;
    let mut instead = Vec::new();
    if !holds(&times[0]) {
        let able = |change: &Change| match change {
            Change::Plant(plant) => plan.makers(id).contains(plant),
            _ => true,
        };
        let kept: Vec<usize> = (0..changes.len())
            .filter(|at| able(&changes[*at]))
            .collect();
        let ids: Vec<usize> = kept.iter().map(|at| firsts.len() + at).collect();
        let from = from + question.trials;
        let rows = run(&ids, from..from + question.trials.min(INSTEAD));
        for (case, at) in kept.iter().enumerate().filter(|_| !rows.is_empty()) {
            let found = first_load(&rows, 1 + case, asked.first, limit, question, true);
            instead.push((changes[*at], found));
        }
    }
    Ok(Some(OrderAnswer {
        asked: asked.clone(),
        instead,
        limit,
        first_that_holds: times.iter().position(holds),
        late_without: Estimate::of(
            &Summary::of(rows.values(0, column::OTHERS_LATE)),
            question.level,
        ),
        trials: rows.len() as u64,
        searched: USUAL + SEARCH * firsts.len() as u64,
        stopped: (rows.len() as u64) < question.trials,
        times,
    }))
}

impl Change {
    /// The order so changed.
    fn of(self, new: &NewOrder) -> NewOrder {
        let mut new = new.clone();
        match self {
            Self::Volume(volume) => new.volume = volume,
            Self::Spacing(spacing) => new.spacing = spacing,
            Self::Plant(plant) => new.plants = vec![plant],
        }
        new
    }
}

/// What else is tried for the time asked for: three quarters, half and a quarter of it in whole loads, half as far apart again and
/// twice as far, each plant alone.
fn changes(scenario: &Scenario, asked: &OrderQuestion, over: Millis) -> Vec<Change> {
    let new = &asked.new;
    let loads = new.volume.loads_of(new.load.max(Volume(1)));
    let mut changes: Vec<Change> = Vec::new();
    for quarters in [3, 2, 1] {
        let fewer = Change::Volume(Volume(new.load.0 * (loads * quarters / 4)));
        if loads * quarters / 4 > 0 && !changes.contains(&fewer) {
            changes.push(fewer);
        }
    }
    for halves in [3, 2 + 2] {
        let wider = Change::Spacing(Millis(new.spacing.0 * halves / 2));
        if loads > 1 && asked.first + duration(&wider.of(new)) < over {
            changes.push(wider);
        }
    }
    if scenario.plants.len() > 1 {
        changes.extend((0..scenario.plants.len()).map(|plant| Change::Plant(PlantId::new(plant))));
    }
    changes
}

/// How long the loads of an order come, one spacing after the other.
fn duration(new: &NewOrder) -> Millis {
    let loads = new.volume.loads_of(new.load.max(Volume(1)));
    new.spacing * (loads - 1).max(0)
}

/// The time asked for, and the earliest that may hold by the search; if hardly any may, the best.
fn chosen(times: &[FirstLoad], probability: f64) -> Vec<usize> {
    let mut chosen = vec![0];
    let may = |at: &usize| times[*at].both.interval.high >= probability;
    chosen.extend((1..times.len()).filter(may).take(IN_FINAL - 1));
    let mut best: Vec<usize> = (1..times.len()).collect();
    best.sort_by(|a, b| {
        let share = |at: &usize| times[*at].both.share();
        share(b).total_cmp(&share(a)).then(a.cmp(b))
    });
    for at in best {
        if chosen.len() < IN_FINAL.min(3) && !chosen.contains(&at) {
            chosen.push(at);
        }
    }
    chosen.sort_unstable();
    chosen
}

fn first_load(
    rows: &Rows,
    case: usize,
    first: Millis,
    limit: DayLimit,
    question: &TripQuestion,
    is_final: bool,
) -> FirstLoad {
    let level = question.level;
    let trials = rows.len() as u64;
    let values = |column| rows.values(case, column);
    let more = |column| -> Vec<f64> {
        values(column)
            .zip(rows.values(0, column))
            .map(|(with, without)| with - without)
            .collect()
    };
    let (late, stranded) = (more(column::OTHERS_LATE), more(column::STRANDED));
    let holds: Vec<bool> = values(column::SERVED).map(|served| served > 0.5).collect();
    let rest: Vec<bool> = values(column::OTHERS_LATE)
        .zip(values(column::STRANDED))
        .map(|(late, stranded)| late <= limit.late && stranded <= limit.stranded)
        .collect();
    let chance = |of: &mut dyn Iterator<Item = bool>| {
        Chance::of(of.filter(|yes| *yes).count() as u64, trials, level)
    };
    let estimate = |values: &[f64]| Estimate::of(&Summary::of(values.iter().copied()), level);
    FirstLoad {
        first,
        trials,
        is_final,
        holds: chance(&mut holds.iter().copied()),
        rest_holds: chance(&mut rest.iter().copied()),
        both: chance(&mut holds.iter().zip(&rest).map(|(a, b)| *a && *b)),
        more_late: estimate(&late),
        more_stranded: estimate(&stranded),
        cost_more: estimate(&more(column::COST)),
        finished: Spanning::of(values(column::FINISHED).collect::<Vec<_>>().into_iter()),
    }
}
