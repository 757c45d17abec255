//! For how long drivers are called in, and how many one after the other: a pour that takes longer than one may work is poured by
//! several, who hand the trucks over at the plant.

use crate::scenario::edit::fleet::usual_shift;
use crate::scenario::{LoadOnPaper, Scenario};
use crate::units::Millis;

/// What is kept free before a driver's hours end, beyond the round trip that is under way: common practice, no source.
const KEPT: Millis = Millis(30 * Millis::MINUTE.0);

/// The tours of drivers who are called in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tours {
    /// So many drivers one after the other on each truck.
    pub(super) tours: u32,
    /// How long each works.
    pub(super) tour: Millis,
    /// So long before the end of a tour that is taken over no load is started any more.
    pub(super) last_load: Millis,
}

impl Tours {
    /// For so many trucks, the first of them called so long before its load is on site.
    pub(super) fn of(scenario: &Scenario, load: &LoadOnPaper, trucks: u32, before: Millis) -> Self {
        let every = load
            .every()
            .max(Millis(load.round_trip().0 / i64::from(trucks)));
        let work = before + every * (load.loads - 1) + load.on_site + load.back;
        let work = work.min(Millis::midnight(i64::from(scenario.period.days)));
        let usual = usual_shift(scenario, load.plant);
        // A truck that waits for its turn goes round as often as its turn comes.
        let round = load.round_trip().max(every * i64::from(trucks));
        let most = longest_tour(scenario, load, round);
        if work <= usual.max(most) {
            return Self {
                tour: work.max(usual),
                ..Self::one(work)
            };
        }
        Self::shared(work, round, most)
    }

    /// For so much work on one truck, in rounds of such a length.
    pub(super) fn for_work(
        scenario: &Scenario,
        load: &LoadOnPaper,
        work: Millis,
        round: Millis,
    ) -> Self {
        let most = longest_tour(scenario, load, round);
        if work <= most {
            return Self::one(work);
        }
        let shared = Self::shared(work, round, most);
        // All of them come at once, and trucks one after the other: whoever has the hours for one round more begins it.
        let one_more = shared.tour + round <= most;
        Self {
            last_load: if one_more {
                Millis::ZERO
            } else {
                shared.last_load
            },
            ..shared
        }
    }

    fn one(work: Millis) -> Self {
        Self {
            tours: 1,
            tour: work,
            last_load: Millis::ZERO,
        }
    }

    /// Several drivers, none of whom works longer than the longest tour.
    fn shared(work: Millis, round: Millis, most: Millis) -> Self {
        // Whole rounds, so that a truck is back when its next driver comes.
        let rounds = |tours: i64| (work.0 + tours * round.0 - 1).div_euclid(tours * round.0);
        let fit = (most.0 / round.0).max(1);
        let tours = (2..).find(|tours| rounds(*tours) <= fit).unwrap_or(2);
        Self {
            tours: tours as u32,
            tour: round * rounds(tours),
            last_load: Millis(round.0 / 2),
        }
    }
}

/// How long a driver may work and still be back within the duty window, the hours on duty and those of driving.
fn longest_tour(scenario: &Scenario, load: &LoadOnPaper, round: Millis) -> Millis {
    let Some(rules) = scenario.rule_book.of(&scenario.rule_sets) else {
        return Millis::NEVER;
    };
    let length = |limit: &Option<crate::hours::Limit>| limit.as_ref().map(|limit| limit.length);
    let driving = (load.out + load.back).0 as f64 / round.0 as f64;
    let by_driving =
        length(&rules.driving).map(|limit| Millis((limit.0 as f64 / driving.max(0.01)) as i64));
    let limits = [length(&rules.window), length(&rules.on_duty), by_driving];
    let least = limits.into_iter().flatten().min();
    least.map_or(Millis::NEVER, |limit| {
        limit - KEPT - Millis::from_minutes(scenario.yard.post_trip.mean())
    })
}
