//! A year of seasons: the same staffings in weeks with more or fewer of the book's orders. Drivers are hired for the whole year, and
//! every season has its own luck, so that what the seasons cost adds up as independent sums do.

use super::{StaffResult, Staffing, Study, changed, runner_up};
use crate::observe::{columns, figure};
use crate::scenario::Scenario;
use crate::scenario::edit::roster;
use crate::scenario::season::Season;
use crate::statistics::Estimate;
use crate::studies::until::default_indifference;

/// Steps of the first ladder of head counts, from that of the lowest season to that of the highest.
const LADDER: u32 = 8;
/// Times that the ladder goes on upwards where none of its head counts seems to meet the targets in every season.
const HIGHER: usize = 3;
/// Head counts of the ladder that go into the final answer.
const FINALISTS: usize = 2;

/// A staffing kept all year.
#[derive(Clone, Debug)]
pub struct StaffedYear {
    /// Which.
    pub staffing: Staffing,
    /// A period of each season; hires are in the cost.
    pub seasons: Vec<StaffResult>,
    /// What it costs less than today's in a period of each season, on the same days; below zero more.
    pub savings: Vec<Estimate>,
    /// All weeks.
    pub cost: Estimate,
    /// What all weeks cost less than under today's.
    pub saving: Estimate,
    /// What of the cost of all weeks is for drivers more than today; below zero for fewer.
    pub hire: f64,
}

impl StaffedYear {
    /// Whether the bounds meet the service targets in every season.
    pub fn meets(&self) -> bool {
        self.seasons.iter().all(|season| season.meets)
    }
}

/// A head count in every season, from the search.
#[derive(Clone, Debug)]
pub struct HeadCount {
    /// With the starts and the overtime of the ladder.
    pub staffing: Staffing,
    /// All weeks.
    pub cost: Estimate,
    /// A period of each season.
    pub seasons: Vec<StaffResult>,
    /// Whether its means are within the service targets, season by season.
    pub seems: Vec<bool>,
}

/// The cheapest head count of a season alone.
#[derive(Clone, Copy, Debug)]
pub struct SeasonBest {
    /// How many drivers.
    pub drivers: u32,
    /// What a period of the season costs less with them than with the drivers of the whole year, on the same days.
    pub saves: Option<Estimate>,
    /// Whether more, or fewer, were not tried.
    pub at_end: bool,
}

/// The year.
#[derive(Clone, Debug)]
pub struct Year {
    /// Its seasons.
    pub seasons: Vec<Season>,
    /// How many periods each season has.
    pub periods: Vec<f64>,
    /// How many orders that are not drawn the book of each season has, and the scenario's.
    pub orders: (Vec<usize>, usize),
    /// What was recommended for the book's own days, if anything was.
    pub of_period: Option<Staffing>,
    /// Today's first, then that, its runner-up, and the best of the ladder; each once.
    pub staffings: Vec<StaffedYear>,
    /// Position of the one that meets the targets in every season and costs the least, or so little more that it does not matter, and
    /// changes least; none if none does.
    pub best: Option<usize>,
    /// Every head count that was tried, fewest first.
    pub ladder: Vec<HeadCount>,
    /// The best head count of each season alone; none where none tried seems to meet the targets.
    pub alone: Vec<Option<SeasonBest>>,
}

impl Year {
    /// All weeks.
    pub fn weeks(&self) -> f64 {
        self.seasons.iter().map(|season| season.weeks).sum()
    }

    /// The staffing that is the best over the year.
    pub fn decided(&self) -> Option<Staffing> {
        self.best.map(|at| self.staffings[at].staffing)
    }

    /// What is told of a staffing, if it was run in every season.
    pub fn of(&self, staffing: Staffing) -> Option<&StaffedYear> {
        self.staffings.iter().find(|one| one.staffing == staffing)
    }

    /// Cost or saving of all weeks from those of a period of each season.
    fn sum(periods: &[f64], seasons: impl Iterator<Item = Estimate>) -> Estimate {
        let parts: Vec<(f64, Estimate)> = periods.iter().copied().zip(seasons).collect();
        Estimate::sum_of(&parts)
    }
}

/// The scenario in one season, and where its replications begin.
struct Weeks {
    scenario: Scenario,
    from: u64,
}

impl Study<'_> {
    /// The seasons of the question, from replication `next` on; none if there are none, or it was interrupted.
    pub(super) fn year(
        &self,
        results: &[StaffResult],
        best: Option<usize>,
        today: Staffing,
        next: u64,
    ) -> Option<Year> {
        let seasons = &self.question.seasons;
        if seasons.is_empty() {
            return None;
        }
        let searched = self.searched();
        let weeks: Vec<Weeks> = seasons
            .iter()
            .zip(0..)
            .map(|(season, nth)| Weeks {
                scenario: roster::with_growth(self.scenario, (season.orders - 1.0) * 100.0),
                from: next + nth * (searched + self.question.replications),
            })
            .collect();
        let of_a_period = super::weeks(self.scenario.period.days);
        let periods: Vec<f64> = seasons.iter().map(|one| one.weeks / of_a_period).collect();
        let chosen = self.chosen(results, best)?;
        let mut ladder = self.ladder(chosen, today, &weeks, &periods)?;
        ladder.sort_by_key(|one| one.staffing.drivers);

        let runner_up = runner_up(results, &[today, chosen]);
        let mut finalists: Vec<&HeadCount> = ladder.iter().collect();
        finalists.sort_by(|one, other| merit(one).partial_cmp(&merit(other)).expect("costs"));
        let mut asked = vec![today];
        let all = [Some(chosen), runner_up.map(|one| one.staffing)];
        let all = all.into_iter().flatten();
        for staffing in all.chain(finalists.iter().take(FINALISTS).map(|one| one.staffing)) {
            if !asked.contains(&staffing) {
                asked.push(staffing);
            }
        }
        let mut runs = Vec::new();
        for one in &weeks {
            let from = one.from + searched;
            let fresh = from..from + self.question.replications;
            runs.push(self.run(&one.scenario, &asked, fresh, true)?);
        }
        let staffings: Vec<StaffedYear> = (0..asked.len())
            .map(|at| self.staffed_year(&runs, at, &periods))
            .collect();
        let decided = self.best_of_year(&staffings, today, &periods);
        let kept = decided.map_or(chosen, |at| staffings[at].staffing);
        let alone = (0..weeks.len())
            .map(|nth| self.alone(&ladder, kept, nth))
            .collect();
        let written = |scenario: &Scenario| {
            let orders = scenario.orders.iter();
            orders.filter(|order| order.slot.is_none()).count()
        };
        Some(Year {
            seasons: seasons.clone(),
            orders: (
                weeks.iter().map(|one| written(&one.scenario)).collect(),
                written(self.scenario),
            ),
            periods,
            of_period: best.map(|at| results[at].staffing),
            staffings,
            best: decided,
            ladder,
            alone,
        })
    }

    /// Whose starts and overtime the ladder has: those of the recommendation, or else of what has the fewest late loads.
    fn chosen(&self, results: &[StaffResult], best: Option<usize>) -> Option<Staffing> {
        let late = |result: &&StaffResult| result.late_share.mean.unwrap_or(1.0);
        let finals = results.iter().filter(|result| result.is_final);
        let nearest = finals.min_by(|one, other| late(one).total_cmp(&late(other)));
        let result = best.map(|at| &results[at]).or(nearest)?;
        Some(result.staffing)
    }

    /// Head counts from that of the lowest season to that of the highest, then in ever smaller steps around the best of each season and
    /// of the year.
    fn ladder(
        &self,
        chosen: Staffing,
        today: Staffing,
        weeks: &[Weeks],
        periods: &[f64],
    ) -> Option<Vec<HeadCount>> {
        let shares = || self.question.seasons.iter().map(|season| season.orders);
        let of = |share: f64| f64::from(chosen.drivers) * share;
        let margin = (chosen.drivers / 20).max(1);
        let low = of(shares().fold(1.0, f64::min)).floor() as u32;
        let low = low.saturating_sub(margin).max(1);
        let high = of(shares().fold(1.0, f64::max)).ceil() as u32 + margin;
        let mut step = (high - low).div_ceil(LADDER).max(1);
        let down = (0..).map(|nth| chosen.drivers.checked_sub(nth * step));
        let down = down.map_while(|drivers| drivers.filter(|drivers| *drivers >= low));
        let up = (1..).map(|nth| chosen.drivers + nth * step);
        let up = up.take_while(|drivers| *drivers <= high);
        let mut ladder = Vec::new();
        let first: Vec<u32> = down.chain(up).chain([today.drivers]).collect();
        self.climb(&mut ladder, &first, chosen, weeks, periods)?;
        for _ in 0..HIGHER {
            if ladder
                .iter()
                .any(|one| one.seems.iter().all(|seems| *seems))
            {
                break;
            }
            let most = ladder.iter().map(|one| one.staffing.drivers).max()?;
            self.climb(&mut ladder, &[most + step], chosen, weeks, periods)?;
        }
        while step > 1 {
            step = step.div_ceil(2);
            let mut beside = Vec::new();
            let of_seasons = (0..weeks.len()).filter_map(|nth| cheapest(&ladder, nth));
            let of_year = ladder
                .iter()
                .min_by(|one, other| merit(one).partial_cmp(&merit(other)).expect("costs"));
            for one in of_seasons.chain(of_year) {
                let drivers = one.staffing.drivers;
                beside.extend([drivers.saturating_sub(step).max(1), drivers + step]);
            }
            self.climb(&mut ladder, &beside, chosen, weeks, periods)?;
        }
        Some(ladder)
    }

    /// Adds head counts to the ladder.
    fn climb(
        &self,
        ladder: &mut Vec<HeadCount>,
        drivers: &[u32],
        like: Staffing,
        weeks: &[Weeks],
        periods: &[f64],
    ) -> Option<()> {
        let mut asked: Vec<Staffing> = Vec::new();
        for drivers in drivers {
            let staffing = Staffing {
                drivers: *drivers,
                ..like
            };
            let known = ladder.iter().any(|one| one.staffing == staffing);
            if !known && !asked.contains(&staffing) {
                asked.push(staffing);
            }
        }
        if asked.is_empty() {
            return Some(());
        }
        let mut columns: Vec<Vec<StaffResult>> = vec![Vec::new(); asked.len()];
        for one in weeks {
            let replications = one.from..one.from + self.searched();
            let found = self.run(&one.scenario, &asked, replications, false)?;
            for (column, result) in columns.iter_mut().zip(found) {
                column.push(result);
            }
        }
        ladder.extend(
            asked
                .into_iter()
                .zip(columns)
                .map(|(staffing, seasons)| HeadCount {
                    staffing,
                    cost: Year::sum(periods, seasons.iter().map(|season| season.cost)),
                    seems: seasons.iter().map(|season| self.seems(season)).collect(),
                    seasons,
                }),
        );
        Some(())
    }

    fn staffed_year(&self, runs: &[Vec<StaffResult>], at: usize, periods: &[f64]) -> StaffedYear {
        let seasons: Vec<StaffResult> = runs.iter().map(|run| run[at].clone()).collect();
        let savings: Vec<Estimate> = runs
            .iter()
            .map(|run| self.saved(&run[0], &run[at]))
            .collect();
        let hires = seasons.iter().zip(periods);
        StaffedYear {
            staffing: seasons[0].staffing,
            cost: Year::sum(periods, seasons.iter().map(|season| season.cost)),
            saving: Year::sum(periods, savings.iter().copied()),
            hire: hires.map(|(season, periods)| periods * season.hire).sum(),
            seasons,
            savings,
        }
    }

    fn best_of_year(
        &self,
        staffings: &[StaffedYear],
        today: Staffing,
        periods: &[f64],
    ) -> Option<usize> {
        let cost = |at: &usize| staffings[*at].cost.mean.unwrap_or(f64::INFINITY);
        let meeting = (0..staffings.len()).filter(|at| staffings[*at].meets());
        let meeting: Vec<usize> = meeting.collect();
        let least = meeting.iter().map(cost).fold(f64::INFINITY, f64::min);
        let column = &columns(self.scenario)[figure::COST];
        let of_a_period = default_indifference(column, self.scenario.period.days);
        let within = least + of_a_period * periods.iter().sum::<f64>();
        let mut equal = meeting;
        equal.retain(|at| cost(at) <= within);
        equal
            .into_iter()
            .min_by_key(|at| changed(staffings[*at].staffing, today))
    }

    /// The best head count of a season alone, against the drivers who are kept all year.
    fn alone(&self, ladder: &[HeadCount], kept: Staffing, nth: usize) -> Option<SeasonBest> {
        let best = cheapest(ladder, nth)?;
        let all_year = ladder.iter().find(|one| one.staffing == kept);
        let ends = [ladder.first()?, ladder.last()?].map(|one| one.staffing.drivers);
        let drivers = best.staffing.drivers;
        Some(SeasonBest {
            drivers,
            saves: all_year.map(|one| self.saved(&one.seasons[nth], &best.seasons[nth])),
            at_end: drivers > 1 && ends.contains(&drivers),
        })
    }
}

/// What costs a head count has over the year, after how often it seems to miss the targets.
fn merit(one: &HeadCount) -> (usize, f64) {
    let missed = one.seems.iter().filter(|seems| !**seems).count();
    (missed, one.cost.mean.unwrap_or(f64::INFINITY))
}

/// The cheapest of a season whose means are within the targets.
fn cheapest(ladder: &[HeadCount], nth: usize) -> Option<&HeadCount> {
    let cost = |one: &&HeadCount| one.seasons[nth].cost.mean.unwrap_or(f64::INFINITY);
    ladder
        .iter()
        .filter(|one| one.seems[nth])
        .min_by(|one, other| cost(one).total_cmp(&cost(other)))
}
