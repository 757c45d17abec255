//! What a dispatcher sees: slices that the world keeps current, nothing of the future.

use super::{Legs, Refusal};
use crate::concrete::OrderAge;
use crate::engine::Spread;
use crate::hours::{Clocks, RuleBook, RuleSet};
use crate::roads::RoadsNow;
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

/// What is believed of the length of a stage: linear in the volume, with a variance.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct StageBelief {
    /// Mean minutes whatever the volume.
    pub fixed_min: f64,
    /// Mean minutes for each yd³.
    pub per_yd3_min: f64,
    /// Standard deviation over mean.
    pub cv: f64,
}

impl StageBelief {
    /// Of minutes that are drawn from a spread.
    pub fn of(spread: &Spread) -> Self {
        Self {
            fixed_min: spread.mean(),
            per_yd3_min: 0.0,
            cv: spread.cv(),
        }
    }

    /// Of (fixed + per yd³ × volume) × luck.
    pub fn scaled(fixed_min: f64, per_yd3_min: f64, luck: &Spread) -> Self {
        Self {
            fixed_min: fixed_min * luck.mean(),
            per_yd3_min: per_yd3_min * luck.mean(),
            cv: luck.cv(),
        }
    }

    /// With so many minutes more.
    pub fn and_minutes(self, minutes: f64) -> Self {
        Self {
            fixed_min: self.fixed_min + minutes,
            ..self
        }
    }

    /// Mean length for a volume.
    #[inline]
    pub fn mean(&self, volume: Volume) -> Millis {
        Millis::from_minutes(self.fixed_min + self.per_yd3_min * volume.yd3())
    }

    /// Variance of the length, minutes².
    #[inline]
    pub fn variance(&self, volume: Volume) -> f64 {
        let sd = self.cv * (self.fixed_min + self.per_yd3_min * volume.yd3());
        sd * sd
    }
}

/// A plant as the dispatcher sees it.
#[derive(Clone, Copy, Debug)]
pub struct PlantView {
    /// Where it is.
    pub place: PlaceId,
    /// From when it is open: in the past if it is open now, [`Millis::NEVER`] if it does not open again.
    pub opens: Millis,
    /// When it closes after `opens`; [`Millis::NEVER`] if it is always open.
    pub closes: Millis,
    /// Until when its bays are believed busy with trucks that are to load before, where the dispatcher counts them; else in the past.
    pub bays_free: Millis,
    /// Loading, pull-in included.
    pub loading: StageBelief,
    /// Rack.
    pub rack: StageBelief,
}

/// A load that a truck has given up, as its driver could not take it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GivenUp {
    /// When.
    pub at: Millis,
    /// The truck.
    pub truck: TruckId,
    /// The order and the number of the load in it.
    pub load: (OrderId, u32),
    /// The plant at which it was to be loaded.
    pub plant: PlantId,
    /// Why.
    pub why: Refusal,
}

/// A truck with a driver on duty that can be promised.
#[derive(Clone, Copy, Debug)]
pub struct TruckView {
    /// Its home plant.
    pub home: PlantId,
    /// Where it stands or is heading.
    pub place: PlaceId,
    /// When it is believed free there: in the past if it stands idle.
    pub free_at: Millis,
    /// Since when it has stood idle; the same as `free_at` for a truck on its way.
    pub idle_since: Millis,
    /// When its driver reported.
    pub report: Millis,
    /// Its driver.
    pub driver: DriverId,
    /// The driver's rule book.
    pub rule_book: RuleBook,
    /// Its driver's place among all by seniority, 0 first.
    pub seniority: u32,
    /// From when its driver starts no load, by the company's limit.
    pub no_load_from: Millis,
    /// From when its driver starts no load because somebody takes the truck over.
    pub relieved: Millis,
    /// When its driver is to be back at home at the latest, by the company's limit.
    pub finish_by: Millis,
    /// The most that it can carry: rated capacity, or what the legal weight less no margin allows.
    pub capacity: Volume,
    /// The most that the legal gross weight allows for each pound kept free: lb of concrete, [`f64::INFINITY`] without a limit.
    pub payload_lb: f64,
}

/// What a load asks for.
#[derive(Clone, Copy, Debug)]
pub struct Ask<'a> {
    /// Its order and its number in it; none where nobody is promised for it.
    pub load: Option<(OrderId, u32)>,
    /// Where it goes.
    pub site: PlaceId,
    /// When it should be on site.
    pub target: Millis,
    /// How late it may come.
    pub late: Millis,
    /// The volume it asks with.
    pub volume: Volume,
    /// What a yd³ of it weighs, lb.
    pub lb_per_yd3: f64,
    /// The plants that make its mix.
    pub makers: &'a [PlantId],
    /// The one that its order names as the usual one.
    pub usual: Option<PlantId>,
    /// The stay on site, positioning to chute wash.
    pub stay: StageBelief,
    /// The nearest place from the site where a truck may lawfully stand.
    pub parking: PlaceId,
    /// Whether its mix has a retarder.
    pub retarder: bool,
    /// What its order says of its age.
    pub age: OrderAge,
    /// Whether this load is one of the share for which the rule's gates are overridden.
    pub overrides: bool,
}

/// The trucks that can be promised, by home plant.
#[derive(Clone, Copy, Debug)]
pub struct ByHome<'a> {
    /// Of each plant, those whose home it is.
    pub offered: &'a [Vec<TruckId>],
    /// How many of those stand at another plant, or are on their way to one.
    pub elsewhere: &'a [u32],
}

/// All that the dispatcher sees when a load asks.
#[derive(Clone, Debug)]
pub struct View<'a> {
    /// The moment.
    pub now: Millis,
    /// The trucks that can be promised.
    pub offered: &'a [TruckId],
    /// The same by home plant; none where not all are offered that can be promised.
    pub by_home: Option<ByHome<'a>>,
    /// What trucks have given up at this moment, and are not promised again in it.
    pub given_up: &'a [GivenUp],
    /// All trucks that can be promised, whether they are offered for this load or not.
    pub free: &'a [TruckId],
    /// Every truck, by id; only the free ones are current.
    pub trucks: &'a [TruckView],
    /// Every plant, by id.
    pub plants: &'a [PlantView],
    /// How much warmer the day is than written, °F; 0 where nothing turns on it.
    pub warmer_f: f64,
    /// The roads at that moment.
    pub roads: RoadsNow<'a>,
    /// Drives over them that the load has been reckoned with.
    pub legs: Legs,
    /// The clocks of every driver, by id; current to the driver's last change of status.
    pub clocks: &'a [Clocks],
    /// The rule books of those clocks.
    pub rule_sets: &'a [RuleSet],
    /// What a driver who is back at home usually still has to do before the release.
    pub home_work: Millis,
}
