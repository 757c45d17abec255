//! The pour as planned: when each of its loads is loaded and back if it comes at the spacing that can be kept up, at the traffic that is
//! usual at its hour, without a wait.

use crate::engine::Luck;
use crate::plant::Plan;
use crate::roads::{Belief, Haul, RoadState};
use crate::scenario::{LoadOnPaper, Order, Scenario};
use crate::units::{Millis, PlaceId};

/// Trips as they are believed before the day.
pub(super) struct Trips<'a> {
    plan: &'a Plan,
    state: RoadState,
}

impl<'a> Trips<'a> {
    pub(super) fn new(plan: &'a Plan) -> Self {
        let mut state = RoadState::default();
        let days = plan.days.max(1) as usize;
        plan.roads().refresh(&mut state, Luck::new(0, 0), days);
        Self { plan, state }
    }

    pub(super) fn believed(
        &self,
        belief: Belief,
        (from, to): (PlaceId, PlaceId),
        haul: Haul,
        depart: Millis,
    ) -> Millis {
        let roads = self.plan.roads();
        let now = roads.at(&self.state, Millis::ZERO);
        let depart = depart.max(Millis::ZERO);
        now.believed(roads.believe(belief), from, to, haul, depart)
    }
}

/// From the beginning of loading until the truck is back, load by load.
pub(super) struct Timetable(Vec<(Millis, Millis)>);

impl Timetable {
    /// With trips that this share of such trips stay within; none: as they are on average.
    pub(super) fn of(
        scenario: &Scenario,
        trips: &Trips<'_>,
        order: &Order,
        load: &LoadOnPaper,
        quantile: Option<f64>,
    ) -> Self {
        let belief = Belief::TimeOfDay { quantile };
        let (plant, site) = (scenario.plant_place(load.plant), order.stay.site);
        let times = |nth: i64| {
            let due = order.first + load.every() * nth;
            let out = |depart| trips.believed(belief, (plant, site), Haul::Loaded, depart);
            // The hour of departure is that of a trip which is itself believed for the hour.
            let depart = due - out(due - load.out);
            let from = due - out(depart) - load.rack - load.loading;
            let leaves = due + load.on_site;
            (
                from,
                leaves + trips.believed(belief, (site, plant), Haul::Empty, leaves),
            )
        };
        Self((0..load.loads).map(times).collect())
    }

    /// Trucks under way at once at most from a moment until before another. A truck that is back can be loaded at once.
    pub(super) fn most(&self, from: Millis, to: Millis) -> u32 {
        let at = |now: Millis| {
            let under_way = self
                .0
                .iter()
                .filter(|(out, back)| *out <= now && now < *back);
            under_way.count() as u32
        };
        let begin = self.0.iter().map(|(out, _)| *out);
        let moments = begin.filter(|out| from <= *out && *out < to);
        moments.chain([from]).map(at).max().unwrap_or(0)
    }

    /// Mean round trip of the loads whose loading begins from a moment until before another; none without one.
    pub(super) fn round_trip(&self, from: Millis, to: Millis) -> Option<Millis> {
        let begun = || self.0.iter().filter(|(out, _)| from <= *out && *out < to);
        let sum: i64 = begun().map(|(out, back)| (*back - *out).0).sum();
        let loads = begun().count() as i64;
        (loads > 0).then(|| Millis(sum / loads))
    }

    /// When the last load begins loading.
    pub(super) fn last_begun(&self) -> Millis {
        self.0
            .iter()
            .map(|(out, _)| *out)
            .max()
            .unwrap_or(Millis::ZERO)
    }

    /// When the last truck is back.
    pub(super) fn over(&self) -> Millis {
        self.0
            .iter()
            .map(|(_, back)| *back)
            .max()
            .unwrap_or(Millis::ZERO)
    }
}
