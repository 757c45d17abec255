//! One load on paper: the means of its stages, its round trip on an empty road without a wait, how close together loads can
//! follow each other, and how many trucks that makes.

use super::{Batcher, Destination, Order, Plant, Scenario, Stage};
use crate::dispatch::StageBelief;
use crate::roads::{Haul, Roads};
use crate::units::{Millis, PlantId, Volume};

impl Stage {
    /// Its mean by volume.
    pub fn mean(&self) -> StageBelief {
        match self {
            Self::Minutes(spread) => StageBelief::of(spread),
            Self::PerYard {
                fixed_min,
                min_per_yd3,
                luck,
            } => StageBelief::scaled(*fixed_min, *min_per_yd3, luck),
        }
    }
}

impl Plant {
    /// Loading, pull-in included.
    pub fn mean_loading(&self) -> StageBelief {
        self.loading.mean().and_minutes(self.pull_in_min)
    }

    /// Loading of 10 yd³ without pull-in, the load that loading times are told for, minutes.
    pub fn loading_10_yd3_min(&self) -> f64 {
        self.loading.mean().mean(Volume::from_yd3(10.0)).minutes()
    }

    /// The time between two loads of this size that bays, batcher and rack can keep up. A bay is taken from pulling in to the end
    /// of loading; a shared batcher loads one truck at a time, whatever the bays.
    pub fn least_spacing(&self, load: Volume) -> Millis {
        let each = |span: Millis, places: u32| span.minutes() / f64::from(places.max(1));
        let bays = each(self.mean_loading().mean(load), self.bays);
        let batcher = match self.batcher {
            Batcher::PerBay => 0.0,
            Batcher::Shared => self.loading.mean().mean(load).minutes(),
        };
        let rack = self.rack_places.map_or(0.0, |places| {
            each(StageBelief::of(&self.rack).mean(load), places)
        });
        Millis::from_minutes(bays.max(batcher).max(rack))
    }
}

impl Destination {
    /// Discharge of a load at an outlet. Outlets that are kept busy take loads in proportion to their rates, so that the mean load
    /// takes its volume over the mean of the rates, not the mean over the outlets of volume over rate, nor the quickest.
    pub fn mean_discharge(&self) -> StageBelief {
        match &self.times.discharge {
            Some(spread) => StageBelief::of(spread),
            None => {
                let rates = self.outlets.iter().map(|outlet| outlet.rate_yd3_min);
                let mean_rate = rates.sum::<f64>() / self.outlets.len() as f64;
                let luck = &self.times.discharge_luck;
                StageBelief {
                    fixed_min: 0.0,
                    per_yd3_min: luck.mean() / mean_rate,
                    cv: luck.cv(),
                }
            }
        }
    }

    /// The stay of a load that is at once given a place, with so many minutes before its discharge: from taking the place to the
    /// end of chute wash.
    pub fn mean_stay(&self, before_discharge_min: f64) -> StageBelief {
        self.mean_discharge()
            .and_minutes(before_discharge_min)
            .and_minutes(self.times.chute_wash.mean())
    }

    /// The time between two loads of this size that the outlets together can keep up. At each, one load flows at a time, and a
    /// place is taken from positioning to the end of discharge.
    pub fn least_spacing(&self, load: Volume) -> Millis {
        let position = self.times.position.mean();
        let loads_a_minute = self.outlets.iter().map(|outlet| {
            let flow = match &self.times.discharge {
                Some(spread) => spread.mean(),
                None => load.yd3() / outlet.rate_yd3_min * self.times.discharge_luck.mean(),
            };
            1.0 / flow.max((position + flow) / f64::from(outlet.places))
        });
        Millis::from_minutes(1.0 / loads_a_minute.sum::<f64>())
    }
}

impl Scenario {
    /// The plants that make a mix, among those allowed if any are named.
    pub fn makers<'a>(
        &'a self,
        mix: &'a str,
        allowed: &'a [PlantId],
    ) -> impl Iterator<Item = PlantId> + Clone + 'a {
        (0..self.plants.len())
            .map(PlantId::new)
            .filter(move |plant| self.plants[plant.at()].makes(mix))
            .filter(move |plant| allowed.is_empty() || allowed.contains(plant))
    }
}

/// A load of an order from one plant, on paper: every stage at its mean, roads empty, nothing waited for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadOnPaper {
    /// The plant.
    pub plant: PlantId,
    /// Loading, pull-in included.
    pub loading: Millis,
    /// Rack.
    pub rack: Millis,
    /// Loaded trip.
    pub out: Millis,
    /// Position and discharge, a part of `on_site`.
    pub unloading: Millis,
    /// Position, discharge and chute wash.
    pub on_site: Millis,
    /// Empty trip; a day where no way leads back.
    pub back: Millis,
    /// Time between two loads as ordered.
    pub spacing: Millis,
    /// Time between two loads that the plant can keep up.
    pub least_at_plant: Millis,
    /// Time between two loads that the site can keep up.
    pub least_on_site: Millis,
    /// Loads of the order.
    pub loads: i64,
}

impl LoadOnPaper {
    /// From this plant; none without a way there.
    pub fn of(scenario: &Scenario, roads: &Roads, order: &Order, plant: PlantId) -> Option<Self> {
        let place = scenario.plant_place(plant);
        let stay = &order.stay;
        let out = roads.free_flow(place, stay.site, Haul::Loaded);
        let back = roads.free_flow(stay.site, place, Haul::Empty);
        let made_at = &scenario.plants[plant.at()];
        let position = stay.times.position.mean();
        (out < Millis::NEVER).then(|| Self {
            plant,
            loading: made_at.mean_loading().mean(order.load),
            rack: StageBelief::of(&made_at.rack).mean(order.load),
            out,
            unloading: stay.mean_discharge().and_minutes(position).mean(order.load),
            on_site: stay.mean_stay(position).mean(order.load),
            back: back.min(Millis::DAY),
            spacing: order.spacing,
            least_at_plant: made_at.least_spacing(order.load),
            least_on_site: stay.least_spacing(order.load),
            loads: order.volume.loads_of(order.load),
        })
    }

    /// With loads from these plants too, which bring the least spacing down.
    pub fn helped_by(self, scenario: &Scenario, order: &Order, others: &[PlantId]) -> Self {
        let others = others.iter().map(|plant| &scenario.plants[plant.at()]);
        let spacings = others.map(|plant| plant.least_spacing(order.load));
        let loads_a_minute = spacings
            .chain([self.least_at_plant])
            .map(|spacing| 1.0 / spacing.minutes());
        Self {
            least_at_plant: Millis::from_minutes(1.0 / loads_a_minute.sum::<f64>()),
            ..self
        }
    }

    /// From every plant that may make it and has a way to it.
    pub fn all<'a>(
        scenario: &'a Scenario,
        roads: &'a Roads,
        order: &'a Order,
    ) -> impl Iterator<Item = Self> + 'a {
        scenario
            .makers(&order.mix, &order.plants)
            .filter_map(move |plant| Self::of(scenario, roads, order, plant))
    }

    /// From the plant with the shortest way to the site, where a desk counts the load; among equals the first.
    pub fn nearest(scenario: &Scenario, roads: &Roads, order: &Order) -> Option<Self> {
        Self::all(scenario, roads, order).min_by_key(Self::nearness)
    }

    /// From the plant with the shortest round trip: a bound, where it is said what cannot be. A plant further away may load or
    /// check so much faster that it is this one.
    pub fn shortest(scenario: &Scenario, roads: &Roads, order: &Order) -> Option<Self> {
        Self::all(scenario, roads, order).min_by_key(Self::round_trip)
    }

    /// What is less from a plant that counts as nearer: the way to the site, among equals the place in the list.
    pub fn nearness(&self) -> (Millis, PlantId) {
        (self.out, self.plant)
    }

    /// Loading to loading.
    pub fn round_trip(&self) -> Millis {
        self.lead() + self.on_site + self.back
    }

    /// From the beginning of loading until it is on site.
    pub fn lead(&self) -> Millis {
        self.loading + self.rack + self.out
    }

    /// Time between two loads that can be kept up: as ordered, or what the plant or the site takes if that is longer. More
    /// trucks than go round in that time only wait for the bay or the pump.
    pub fn every(&self) -> Millis {
        self.spacing
            .max(self.least_at_plant)
            .max(self.least_on_site)
    }

    /// Trucks that the order keeps under way at once: round trip ÷ time between two loads, and no more than there are loads.
    pub fn trucks_busy(&self) -> f64 {
        let loads = self.loads as f64;
        match self.every() {
            Millis::ZERO => loads,
            every => (self.round_trip().0 as f64 / every.0 as f64).min(loads),
        }
    }

    /// The same in whole trucks, rounded up.
    pub fn trucks(&self) -> u32 {
        // Of whole numbers below 2^53: a quotient that is whole is exact.
        self.trucks_busy().ceil() as u32
    }
}
