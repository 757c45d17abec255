//! Whether the recommended staffing stands where the world is not as assumed: the scenario's own worlds, and one surprise at a time, each
//! on the same days with the staffing that it is to replace.

use super::{StaffResult, Staffing, Study, runner_up, staffed};
use crate::scenario::{Input, Otherwise, Scenario, Surprise};
use crate::statistics::Estimate;

/// Surprises that are tried, the scenario's own worlds apart.
const SURPRISES: usize = 16;
/// Replications of each world, at most.
const REPLICATIONS: u64 = 60;

/// How the recommendation stands in a world.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// It is cheaper, or it alone meets the service targets.
    Stands,
    /// Both meet the targets, and neither is shown to be cheaper.
    TooClose,
    /// Both meet the targets, and the other is cheaper.
    OtherCheaper,
    /// It misses the targets, which the other meets.
    MissesAlone,
    /// Both miss the targets.
    BothMiss,
}

/// One world.
#[derive(Clone, Debug)]
pub struct StaffedWorld {
    /// What is otherwise.
    pub otherwise: Otherwise,
    /// What the recommendation costs less than the other staffing, per period; below zero more.
    pub saving: Estimate,
    /// The recommendation there.
    pub best: StaffResult,
    /// The other there.
    pub other: StaffResult,
    /// How it stands.
    pub stands: Stands,
}

impl StaffedWorld {
    /// Whether the decision stands: it is not shown to be wrong.
    pub fn holds(&self) -> bool {
        matches!(self.stands, Stands::Stands | Stands::TooClose)
    }
}

/// The recommendation in changed worlds.
#[derive(Clone, Debug)]
pub struct Sensitive {
    /// What it is compared with: today's staffing, or the runner-up where today's is recommended.
    pub against: Staffing,
    /// The world as assumed.
    pub as_assumed: StaffedWorld,
    /// The user's own worlds as they are written, then those in which it does not stand, then the others, the smallest saving first.
    pub worlds: Vec<StaffedWorld>,
    /// Worlds that do not apply, and why.
    pub not_applying: Vec<(Otherwise, &'static str)>,
    /// Worlds that were not tried, as the study was stopped before.
    pub left: usize,
    /// Replications of each world.
    pub replications: u64,
}

impl Sensitive {
    /// In how many changed worlds it stands.
    pub fn held(&self) -> usize {
        self.worlds.iter().filter(|world| world.holds()).count()
    }
}

/// What a staffing hangs on more than others: orders, times, who comes, prices of people and of service.
fn surprises(scenario: &Scenario) -> Vec<Surprise> {
    use Input as I;
    let mut all = vec![
        Surprise::Times(I::LatePrice, 0.5),
        Surprise::Times(I::LatePrice, 2.0),
        Surprise::Times(I::Pay, 0.9),
        Surprise::Times(I::Pay, 1.1),
        Surprise::Times(I::Goodwill, 0.5),
        Surprise::Times(I::Goodwill, 2.0),
        Surprise::Times(I::NoShows, 2.0),
    ];
    for one in Surprise::few(scenario) {
        if !all.contains(&one) {
            all.push(one);
        }
    }
    all.truncate(SURPRISES);
    all
}

impl Study<'_> {
    /// The recommendation at a position, on the first days of the final answer; none where there is nothing to compare it with, or it
    /// was interrupted.
    pub(super) fn sensitive(
        &self,
        results: &[StaffResult],
        best: usize,
        today: Staffing,
        from: u64,
    ) -> Option<Sensitive> {
        let chosen = results[best].staffing;
        let against = match chosen == today {
            true => runner_up(results, &[chosen])?.staffing,
            false => today,
        };
        let own = self.scenario.worlds.iter().cloned().map(Otherwise::Own);
        let usual = surprises(self.scenario);
        let usual = usual.into_iter().map(Otherwise::Surprise);
        let pair = [against, chosen];
        let scenarios = pair.map(|one| staffed(self.scenario, self.question.rule, one));
        let replications = self.question.replications.min(REPLICATIONS);
        let run = |otherwise: Otherwise, scenarios: Vec<Scenario>| {
            let found = self.run_staffed(scenarios, &pair, from..from + replications, true)?;
            let [other, best]: [StaffResult; 2] = found.try_into().ok()?;
            let saving = self.saved(&other, &best);
            Some(StaffedWorld {
                stands: stands(&saving, other.meets, best.meets),
                otherwise,
                saving,
                best,
                other,
            })
        };
        let as_assumed = run(Otherwise::Nothing, scenarios.to_vec())?;
        let (mut worlds, mut not_applying, mut left) = (Vec::new(), Vec::new(), 0);
        for otherwise in own.chain(usual) {
            // What happens to drivers and trucks happens to each staffing.
            let edited = scenarios.iter().map(|one| otherwise.apply(one));
            match edited.collect::<Result<Vec<Scenario>, _>>() {
                Err(why) => not_applying.push((otherwise, why)),
                Ok(edited) => match run(otherwise, edited) {
                    Some(world) => worlds.push(world),
                    None => left += 1,
                },
            }
        }
        let saved = |world: &StaffedWorld| world.saving.mean.unwrap_or(f64::INFINITY);
        worlds.sort_by(|one, other| {
            let own = |world: &StaffedWorld| world.otherwise.is_own();
            match (own(one), own(other)) {
                (true, true) => std::cmp::Ordering::Equal,
                (false, false) => one
                    .holds()
                    .cmp(&other.holds())
                    .then(saved(one).total_cmp(&saved(other))),
                (one, other) => other.cmp(&one),
            }
        });
        Some(Sensitive {
            against,
            as_assumed,
            worlds,
            not_applying,
            left,
            replications,
        })
    }
}

fn stands(saving: &Estimate, other_meets: bool, best_meets: bool) -> Stands {
    match (best_meets, other_meets) {
        (false, true) => Stands::MissesAlone,
        (false, false) => Stands::BothMiss,
        (true, false) => Stands::Stands,
        (true, true) if saving.interval.low > 0.0 => Stands::Stands,
        (true, true) if saving.interval.high < 0.0 => Stands::OtherCheaper,
        (true, true) => Stands::TooClose,
    }
}
