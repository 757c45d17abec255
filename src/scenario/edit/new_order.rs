//! An order that the desk is asked for, at several first-load times: one of them at most is taken.

use crate::concrete::OrderAge;
use crate::scenario::{Destination, Order, Outlet, Scenario, StayTimes, defaults};
use crate::units::{Millis, PlaceId, PlantId, Rate, Volume};

/// What is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct NewOrder {
    /// Where: position in the scenario's sites.
    pub site: usize,
    /// How much, more than 0.
    pub volume: Volume,
    /// Which mix; a plant makes it.
    pub mix: String,
    /// Between two loads.
    pub spacing: Millis,
    /// Load size.
    pub load: Volume,
    /// How fast the site unloads, yd³ a minute, more than 0.
    pub rate_yd3_min: f64,
    /// The only plants that may serve it. Empty: all that make the mix.
    pub plants: Vec<PlantId>,
}

/// One load of 10 yd³ of the standard mix.
impl Default for NewOrder {
    fn default() -> Self {
        Self {
            site: 0,
            volume: Volume::from_yd3(10.0),
            mix: "standard".into(),
            spacing: Millis::from_minutes(15.0),
            load: Volume::from_yd3(10.0),
            rate_yd3_min: 1.0,
            plants: Vec::new(),
        }
    }
}

/// The scenario with each of these orders at its time, last in its list. Nobody has ordered any of them until a study takes
/// one; all have the same name, so that each meets the same luck.
pub fn offered(scenario: &Scenario, offers: &[(NewOrder, Millis)]) -> Scenario {
    let mut edited = scenario.clone();
    edited
        .orders
        .extend(offers.iter().map(|(new, first)| Order {
            balance_yd3: None,
            slot: None,
            name: "the new order".into(),
            customer: None,
            first: *first,
            volume: new.volume,
            load: new.load,
            spacing: new.spacing,
            mix: new.mix.clone(),
            late: Millis::from_minutes(defaults::LATE_MIN.value),
            gap: Millis::from_minutes(defaults::GAP_MIN.value).max(new.spacing),
            setup: Millis::ZERO,
            chance: 0.0,
            called: Millis::ZERO,
            outdoor: false,
            pump: false,
            age: OrderAge::USUAL,
            age_waived: None,
            stabilizer_per_yd3: Rate::ZERO,
            finish_by: None,
            usual_plant: None,
            plants: new.plants.clone(),
            stay: Destination {
                site: PlaceId::new(scenario.plants.len() + new.site),
                share: 1.0,
                outlets: vec![Outlet {
                    rate_yd3_min: new.rate_yd3_min,
                    places: defaults::OUTLET_PLACES.value,
                }],
                waiting_room: None,
                times: StayTimes {
                    position: defaults::POSITION.value.clone(),
                    discharge: None,
                    discharge_luck: defaults::DISCHARGE_LUCK.value.clone(),
                    chute_wash: defaults::CHUTE_WASH.value.clone(),
                },
            },
        }));
    edited
}
