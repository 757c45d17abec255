//! What the recommendation hangs on in prices: everything that happens is left as it is, and a part of the cost is in proportion to its
//! price (see `break_even`).

use super::{StaffAnswer, StaffResult, Study, changed};
use crate::observe::CostPart;
use crate::statistics::{Estimate, Interval};

/// A price that somebody sets, and by which staffings differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StaffPrice {
    /// An hour of pay, with its taxes.
    Pay,
    /// What a hire costs beyond the hours.
    Hire,
    /// An hour of a hired hauler.
    Hauler,
}

/// What is recommended where a price is another.
#[derive(Clone, Debug)]
pub struct PriceChange {
    /// Which price.
    pub price: StaffPrice,
    /// How many times what it is.
    pub times: f64,
    /// Position of the staffing that is then recommended.
    pub best: usize,
    /// What it then saves against today's, per period; none where it is today's.
    pub saving: Option<Estimate>,
}

/// So much more and less is looked at.
const TIMES: [f64; 2] = [0.9, 1.1];

impl StaffResult {
    /// What of the cost of each replication is in proportion to a price.
    fn priced(&self, price: StaffPrice) -> Vec<f64> {
        match price {
            StaffPrice::Pay => self.pays.clone(),
            StaffPrice::Hire => vec![self.hire; self.costs.len()],
            StaffPrice::Hauler => self.bills.clone(),
        }
    }

    /// The costs of the replications with this price so many times what it is.
    fn costs_at(&self, price: StaffPrice, times: f64) -> Vec<f64> {
        let priced = self.priced(price);
        let costs = self.costs.iter().zip(priced);
        costs
            .map(|(cost, part)| cost + (times - 1.0) * part)
            .collect()
    }
}

impl Study<'_> {
    /// What is recommended with each price 10% lower and higher: among the staffings of the final answer, by the same rule.
    pub(super) fn price_changes(
        &self,
        results: &[StaffResult],
        today: &StaffResult,
    ) -> Vec<PriceChange> {
        let good: Vec<usize> = (0..results.len())
            .filter(|at| results[*at].is_final && results[*at].meets)
            .collect();
        let moves = |price: &StaffPrice| {
            let mut all = good.iter().map(|at| results[*at].priced(*price));
            all.any(|priced| priced.iter().any(|part| *part != 0.0))
        };
        let prices = [StaffPrice::Pay, StaffPrice::Hire, StaffPrice::Hauler];
        let mut changes = Vec::new();
        for price in prices.into_iter().filter(moves) {
            for times in TIMES {
                let costs = |at: usize| results[at].costs_at(price, times);
                let mean = |at: usize| Estimate::of_values(&costs(at), self.question.level).mean;
                let means: Vec<(usize, f64)> = good
                    .iter()
                    .filter_map(|at| Some((*at, mean(*at)?)))
                    .collect();
                let least = means
                    .iter()
                    .map(|(_, mean)| *mean)
                    .fold(f64::INFINITY, f64::min);
                let within = least + self.indifference();
                let equal = means.into_iter().filter(|(_, mean)| *mean <= within);
                let now = today.staffing;
                let Some((best, _)) =
                    equal.min_by_key(|(at, _)| changed(results[*at].staffing, now))
                else {
                    continue;
                };
                let pairs = today.costs_at(price, times).into_iter().zip(costs(best));
                let saved: Vec<f64> = pairs.map(|(now, then)| now - then).collect();
                let differs = results[best].staffing != now;
                let saving = differs.then(|| Estimate::of_values(&saved, self.question.level));
                changes.push(PriceChange {
                    price,
                    times,
                    best,
                    saving,
                });
            }
        }
        changes
    }
}

/// Parts of the cost whose price somebody sets or agrees, and that head counts, starts and tours move. What concrete costs to make or
/// get rid of, taxes by law, fines, and what mishaps cost that no staffing causes, are left out.
const PRICED: [CostPart; 13] = [
    CostPart::Pay,
    CostPart::Overtime,
    CostPart::Unworked,
    CostPart::Haulers,
    CostPart::Driving,
    CostPart::Crews,
    CostPart::LostSales,
    CostPart::Late,
    CostPart::Gaps,
    CostPart::BrokenPours,
    CostPart::Undelivered,
    CostPart::Stranded,
    CostPart::Standby,
];

impl StaffAnswer {
    /// Which prices turn the recommendation against today's staffing round, everything that happens left as it is: each part of the
    /// cost in which the two differ and whose price somebody sets, what the recommended one saves in it, and how many times its price
    /// the two would cost the same; from 0 to 5 times, the nearest to 1 first.
    pub fn turning_points(&self) -> Vec<(CostPart, f64, f64)> {
        let (Some(best), Some(today)) = (self.best.map(|at| &self.results[at]), self.todays())
        else {
            return Vec::new();
        };
        let (Some(now), Some(then)) = (today.cost.mean, best.cost.mean) else {
            return Vec::new();
        };
        let turns = |part: CostPart| {
            let saved = today.parts[part as usize] - best.parts[part as usize];
            let times = 1.0 - (now - then) / saved;
            let counted = saved.abs() > 0.005;
            (counted && (0.0..=5.0).contains(&times)).then_some((part, saved, times))
        };
        let mut points: Vec<_> = PRICED.into_iter().filter_map(turns).collect();
        points.sort_by(|one, other| (one.2 - 1.0).abs().total_cmp(&(other.2 - 1.0).abs()));
        points
    }

    /// What one hire more may cost a week beyond the hours paid before it no longer pays, with its interval.
    pub fn break_even(&self) -> Option<(f64, Interval)> {
        let (cost, interval) = self.more.as_ref()?.cost;
        let weeks = self.weeks();
        let asked = self.question.hire_per_week.unwrap_or(0.0);
        let turned = interval.negated();
        let interval = Interval {
            low: turned.low / weeks + asked,
            high: turned.high / weeks + asked,
        };
        Some((-cost / weeks + asked, interval))
    }
}
