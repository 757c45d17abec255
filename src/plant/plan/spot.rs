//! Spots made ready: outlets, stages on site, what is believed of a stay, and the nearest lawful parking.

use super::length::Length;
use crate::dispatch::{HrwrAt, Policy, StageBelief};
use crate::roads::{Haul, Roads};
use crate::scenario::{Destination, Scenario, StayTimes};
use crate::units::{Millis, OrderId, PlaceId, Volume};

/// A spot made ready: where loads of one order are taken.
#[derive(Clone, Debug)]
pub struct SpotPlan {
    /// Its order.
    pub order: OrderId,
    /// Its place.
    pub place: PlaceId,
    /// The nearest place where a truck may lawfully stand.
    pub parking: PlaceId,
    /// Places at each outlet.
    pub outlet_places: Vec<u32>,
    /// Outlets with a place for a truck each, summed over the places.
    pub places: u32,
    pub(in crate::plant) rates: Vec<Length>,
    pub(in crate::plant) position: Length,
    pub(in crate::plant) chute_wash: Length,
    pub(in crate::plant) room: u32,
    /// What is believed of a load's stay where its HRWR went in at the plant, positioning to chute wash.
    pub(in crate::plant) usual_stay: StageBelief,
    /// The same where HRWR goes in on site.
    pub(in crate::plant) stay_with_hrwr: StageBelief,
    pub(in crate::plant) discharge: StageBelief,
    /// Share of the loads up to and with this spot, for drawn destinations.
    pub(in crate::plant) cumulative_share: f64,
}

pub(super) fn spot_plan(
    scenario: &Scenario,
    roads: &Roads,
    order: OrderId,
    to: &Destination,
    (mixing_min, cumulative_share): (f64, f64),
) -> SpotPlan {
    let StayTimes {
        position,
        discharge,
        discharge_luck,
        chute_wash,
    } = &to.times;
    let rates = to.outlets.iter().map(|outlet| match discharge {
        Some(spread) => Length::minutes(spread),
        None => Length::new(0.0, 1.0 / outlet.rate_yd3_min, discharge_luck),
    });
    SpotPlan {
        order,
        place: to.site,
        parking: parking(scenario, roads, to.site),
        outlet_places: to.outlets.iter().map(|outlet| outlet.places).collect(),
        places: to.outlets.iter().map(|outlet| outlet.places).sum(),
        rates: rates.collect(),
        position: Length::minutes(position),
        chute_wash: Length::minutes(chute_wash),
        room: to.waiting_room.unwrap_or(u32::MAX),
        usual_stay: to.mean_stay(position.mean()),
        // HRWR is mixed in while the truck takes its place.
        stay_with_hrwr: to.mean_stay(position.mean().max(mixing_min)),
        discharge: to.mean_discharge(),
        cumulative_share,
    }
}

impl SpotPlan {
    /// The mean time of the chute wash, which takes up no place.
    pub(in crate::plant) fn wash(&self, volume: Volume) -> Millis {
        self.chute_wash.mean(volume)
    }

    /// What is believed of the stay of a load that is at once given a place, positioning to chute wash.
    pub(in crate::plant) fn stay(&self, policy: &Policy) -> StageBelief {
        match policy.yard.hrwr {
            HrwrAt::AtPlant => self.usual_stay,
            HrwrAt::OnSite => self.stay_with_hrwr,
        }
    }
}

/// The nearest place from a site where a truck may lawfully stand: the site itself, else by free flow.
fn parking(scenario: &Scenario, roads: &Roads, site: PlaceId) -> PlaceId {
    let plants = scenario.plants.len();
    let lawful =
        |place: PlaceId| place.at() < plants || scenario.sites[place.at() - plants].parking;
    if lawful(site) {
        return site;
    }
    (0..plants + scenario.sites.len())
        .map(PlaceId::new)
        .filter(|place| lawful(*place))
        .min_by_key(|place| roads.free_flow(site, *place, Haul::Empty))
        .unwrap_or(site)
}
