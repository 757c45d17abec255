//! A link and its incidents, made ready.

use super::{IncidentData, LinkData, NetworkData};
use crate::engine::{Entity, MeanBeyond, Sampler};
use crate::roads::{Haul, RoadState, Weekly};
use crate::units::Millis;

/// A link made ready.
#[derive(Clone, Debug)]
pub(in crate::roads) struct Link {
    pub(super) from: u32,
    pub(super) to: u32,
    pub(super) miles: f64,
    /// Empty road, ms, by haul; infinite where it may not be taken.
    pub(super) free: [f64; 2],
    pub(super) profile: Option<u32>,
    pub(super) area: Option<u32>,
    /// By haul: lifts, and for loaded trucks also bans.
    pub(super) closed: [Weekly; 2],
    pub(super) weigh_station: Option<(Weekly, Millis)>,
    pub(in crate::roads) incidents: Option<Incidents>,
}

impl Link {
    pub(super) fn new(data: &LinkData, network: &NetworkData) -> Self {
        let closed = [
            data.lifts.and(&data.closed_to_loaded),
            data.lifts.and(&Weekly::default()),
        ];
        let free = Haul::BOTH.map(|haul| {
            let weight = network.truck.weight_lb(haul);
            let legal = data.weight_limit_lb.is_none_or(|limit| weight <= limit)
                && !closed[haul as usize].is_always();
            let mph = network.truck.speed_mph(haul, data.mph, data.grade);
            if legal {
                data.miles / mph * Millis::HOUR.0 as f64
            } else {
                f64::INFINITY
            }
        });
        Self {
            from: data.from as u32,
            to: data.to as u32,
            miles: data.miles,
            free,
            profile: data.profile.map(|profile| profile as u32),
            area: data.area.map(|area| area as u32),
            closed,
            weigh_station: data
                .weigh_station
                .as_ref()
                .filter(|station| !station.open.is_empty())
                .map(|station| (station.open.clone(), Millis::from_minutes(station.minutes))),
            incidents: data
                .incidents
                .as_ref()
                .filter(|incidents| incidents.per_day > 0.0)
                .map(|incidents| Incidents::new(incidents, &data.name)),
        }
    }

    /// When a truck that comes to it is at its end if the road is empty and everything open.
    pub(super) fn empty_road(&self, haul: Haul, at: Millis) -> Millis {
        let free = self.free[haul as usize];
        if free.is_finite() {
            at + Millis((free + 0.5) as i64)
        } else {
            Millis::NEVER
        }
    }

    /// The mean factor of its incidents at a moment taken at random.
    #[inline]
    pub(super) fn mean_incident_factor(&self) -> f64 {
        self.incidents
            .as_ref()
            .map_or(1.0, |incidents| incidents.mean_factor)
    }

    /// Until when an incident is believed to last that is there `now`: as long as such a one still lasts on average after
    /// the time that it has lasted.
    pub(super) fn known(&self, state: &RoadState, position: usize, now: Millis) -> Option<Millis> {
        let kind = self.incidents.as_ref()?;
        let (start, _) = state.next_incident(position, now)?;
        (start <= now).then(|| now + kind.remaining(now - start))
    }
}

/// Incidents made ready.
#[derive(Clone, Debug)]
pub(in crate::roads) struct Incidents {
    pub(in crate::roads) entity: Entity,
    pub(in crate::roads) per_day: f64,
    pub(in crate::roads) minutes: Sampler,
    pub(super) factor: f64,
    /// Mean factor at a moment taken at random.
    pub(super) mean_factor: f64,
    /// How long one lasts that has lasted some minutes.
    mean_beyond: MeanBeyond,
}

impl Incidents {
    fn new(data: &IncidentData, name: &str) -> Self {
        // Whether the link is free of incidents at a moment: that an M/G/∞ queue is empty.
        let load = data.per_day * data.minutes.mean() / (24.0 * 60.0);
        Self {
            entity: Entity::named(name),
            per_day: data.per_day,
            minutes: data.minutes.sampler(),
            factor: data.factor,
            mean_factor: 1.0 - (data.factor - 1.0) * libm::expm1(-load),
            mean_beyond: MeanBeyond::new(&data.minutes),
        }
    }

    /// The mean of what is still to come after this time.
    fn remaining(&self, lasted: Millis) -> Millis {
        Millis::from_minutes(self.mean_beyond.after(lasted.minutes())) - lasted
    }
}
