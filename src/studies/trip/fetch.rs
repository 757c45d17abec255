//! Who fetches a stranded driver?

use super::super::{Chance, Estimate};
use super::TripQuestion;
use super::base::{Base, Forks, cost};
use super::fate::Spanning;
use crate::montecarlo::{self, Rows, Trial, Watch};
use crate::observe::{Figures, RescueWatch};
use crate::plant::Rescue;
use crate::scenario::Scenario;
use crate::statistics::Summary;
use crate::units::{DriverId, Millis};

/// Trials that all who could go get.
const SEARCH: u64 = 30;
/// Ways home in the final answer, beside the rest.
const IN_FINAL: usize = 6;

/// One way home.
#[derive(Clone, Debug)]
pub struct WayHome {
    /// Which.
    pub rescue: Rescue,
    /// When the stranded driver is home and released, minutes since midnight before the first day.
    pub home: Option<Spanning>,
    /// When whoever helps is back, the same.
    pub helper_back: Option<Spanning>,
    /// The stranded driver cannot be called at the next planned report.
    pub driver_day_lost: Chance,
    /// How many minutes late the driver reports then, where that is possible.
    pub reported_late: Option<Spanning>,
    /// The helping driver of the own fleet cannot be called at the next planned report.
    pub helper_day_lost: Option<Chance>,
    /// What all plants pay more than if the driver rests out.
    pub cost_more: Estimate,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct FetchAnswer {
    /// Who is stranded.
    pub driver: DriverId,
    /// Where: a name.
    pub place: String,
    /// When the driver is next planned to report.
    pub next_report: Option<Millis>,
    /// Ways home that can be gone, the one with the earliest home first; resting out is always among them.
    pub ways: Vec<WayHome>,
    /// Helpers of the list who cannot go: not on call long enough, out, short of hours or licence, nobody to drive the car.
    pub cannot: Vec<String>,
    /// Trials of the final answer that were run.
    pub trials: u64,
    /// Trials of the search, all ways together.
    pub searched: u64,
    /// Whether it was interrupted.
    pub stopped: bool,
}

mod column {
    pub(super) const DONE: usize = 0;
    pub(super) const HOME: usize = 1;
    pub(super) const HELPER: usize = 2;
    pub(super) const DAY_LOST: usize = 3;
    pub(super) const LATE: usize = 4;
    pub(super) const HELPER_LOST: usize = 5;
    pub(super) const COST: usize = 6;
    pub(super) const COUNT: usize = 7;
}

struct FetchTrial<'b, 'p> {
    base: &'b Base<'p>,
    driver: DriverId,
    ways: Vec<Rescue>,
    until: Millis,
}

impl<'p> Trial for FetchTrial<'_, 'p> {
    type Worker = (Forks<'p>, Figures<'p>, RescueWatch);

    fn worker(&self) -> Self::Worker {
        (
            Forks::new(self.base.plan),
            self.base.figures.clone(),
            RescueWatch::default(),
        )
    }

    fn cases(&self) -> usize {
        self.ways.len()
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
        let world = forks.with(base, base.luck(4, trial));
        figures.clone_from(&base.figures);
        watch.begin(self.driver);
        let mut observer = (&mut *figures, &mut *watch);
        let done = world.force_rescue(self.driver, self.ways[case], &mut observer);
        world.go_on_to(self.until, &mut observer);
        let seen = watch.seen();
        let yes = |yes: bool| f32::from(u8::from(yes));
        let minutes = |at: Option<Millis>| at.map_or(f32::NAN, |at| at.minutes() as f32);
        row[column::DONE] = yes(done);
        row[column::HOME] = minutes(seen.home);
        row[column::HELPER] = minutes(seen.helper_back);
        row[column::DAY_LOST] = yes(seen.days_lost.contains(&self.driver));
        row[column::LATE] = minutes(seen.reported_late);
        if let Rescue::Driver(helper) = self.ways[case] {
            row[column::HELPER_LOST] = yes(seen.days_lost.contains(&helper));
        }
        row[column::COST] = (cost(figures) - base.paid()).units() as f32;
    }
}

/// Answers who fetches a stranded driver. None if nothing was finished before it was stopped.
///
/// # Errors
/// In words, if the driver is not stranded at that moment.
pub fn who_fetches(
    scenario: &Scenario,
    question: &TripQuestion,
    driver: DriverId,
    watch: Watch<'_>,
) -> Result<Option<FetchAnswer>, String> {
    let plan = crate::plant::Plan::new(scenario);
    let base = Base::start(&plan, scenario, question)?;
    let now = base.moment.driver(driver);
    if base.moment.world().stranded_beside(driver).is_none() {
        return Err(not_stranded(&base, scenario, driver));
    }
    let next_report = now.due;
    let until = next_report
        .map_or(Millis::ZERO, |report| {
            report + scenario.company.latest_report + Millis::MINUTE
        })
        .max(base.at() + Millis::HOUR * 16);
    let run = |ways: &[Rescue], trials: std::ops::Range<u64>| {
        let trial = FetchTrial {
            base: &base,
            driver,
            ways: ways.to_vec(),
            until,
        };
        montecarlo::run(&trial, trials, question.threads, watch)
    };
    let helpers = (0..scenario.helpers.len() as u32)
        .flat_map(|helper| [Rescue::Helper(helper), Rescue::DriverOnly(helper)]);
    let own = (0..scenario.drivers.len())
        .map(DriverId::new)
        .filter(|other| *other != driver && base.moment.driver(*other).free)
        .map(Rescue::Driver);
    let all: Vec<Rescue> = std::iter::once(Rescue::RestOut)
        .chain(helpers)
        .chain(own)
        .chain([Rescue::Later])
        .collect();
    let rows = run(&all, 0..SEARCH);
    if rows.is_empty() {
        return Ok(None);
    }
    let done = |at: usize| rows.values(at, column::DONE).all(|done| done > 0.5);
    let home = |at: usize| {
        Summary::of(rows.values(at, column::HOME))
            .mean()
            .unwrap_or(f64::INFINITY)
    };
    let mut able: Vec<usize> = (1..all.len()).filter(|at| done(*at)).collect();
    able.sort_by(|a, b| home(*a).total_cmp(&home(*b)).then(a.cmp(b)));
    able.truncate(IN_FINAL);
    let ways: Vec<Rescue> = std::iter::once(0).chain(able).map(|at| all[at]).collect();
    let goes = |wanted: Rescue| (1..all.len()).any(|at| all[at] == wanted && done(at));
    let cannot = (0..scenario.helpers.len() as u32)
        .filter(|helper| !goes(Rescue::Helper(*helper)) && !goes(Rescue::DriverOnly(*helper)))
        .map(|helper| scenario.helpers[helper as usize].name.clone())
        .collect();
    let searched = SEARCH * all.len() as u64;
    let rows = run(&ways, SEARCH..SEARCH + question.trials);
    if rows.is_empty() {
        return Ok(None);
    }
    let mut ways: Vec<WayHome> = ways
        .iter()
        .enumerate()
        .map(|(case, rescue)| way_home(&rows, case, *rescue, question.level))
        .collect();
    let middle = |way: &WayHome| way.home.map_or(f64::INFINITY, |home| home.middle);
    ways.sort_by(|a, b| middle(a).total_cmp(&middle(b)));
    Ok(Some(FetchAnswer {
        driver,
        place: now
            .place
            .map_or(String::new(), |place| scenario.place_name(place).to_owned()),
        next_report,
        ways,
        cannot,
        trials: rows.len() as u64,
        searched,
        stopped: (rows.len() as u64) < question.trials,
    }))
}

fn way_home(rows: &Rows, case: usize, rescue: Rescue, level: f64) -> WayHome {
    let values = |column| rows.values(case, column);
    let span = |column| Spanning::of(values(column).collect::<Vec<_>>().into_iter());
    let chance = |column| {
        let times = values(column).filter(|value| *value > 0.5).count() as u64;
        Chance::of(times, rows.len() as u64, level)
    };
    let more = values(column::COST)
        .zip(rows.values(0, column::COST))
        .map(|(this, rest)| this - rest);
    WayHome {
        rescue,
        home: span(column::HOME),
        helper_back: span(column::HELPER),
        driver_day_lost: chance(column::DAY_LOST),
        reported_late: span(column::LATE),
        helper_day_lost: matches!(rescue, Rescue::Driver(_)).then(|| chance(column::HELPER_LOST)),
        cost_more: Estimate::of(&Summary::of(more), level),
    }
}

fn not_stranded(base: &Base<'_>, scenario: &Scenario, driver: DriverId) -> String {
    let stranded: Vec<String> = (0..scenario.drivers.len())
        .map(DriverId::new)
        .filter(|other| base.moment.world().stranded_beside(*other).is_some())
        .map(|other| format!("\"{}\"", scenario.drivers[other.at()].name))
        .collect();
    let who = if stranded.is_empty() {
        "nobody is".to_owned()
    } else {
        format!("stranded then: {}", stranded.join(", "))
    };
    format!(
        "driver \"{}\" is not stranded at that moment of that day; {who}\n  plantday replay shows who is stranded when",
        scenario.drivers[driver.at()].name
    )
}
