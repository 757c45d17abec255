//! What changes from day to day: mishaps, weather, customers, scales and machines.

use crate::engine::Spread;

/// ```text
/// (no_show?: 0.02, absent?: 0.06, empty_seats?: 0.04, rain?: 0.08, rain_slows?: 1.15, cancelled?: 0.03,
///  not_ready?: 0.1, not_ready_min?: Lognormal(mean: 35, cv: 0.6), phones_ahead?: 0.5, phones_ahead_min?: 60, pace?: Lognormal(mean: 1, cv: 0.15),
///  hold?: 0.05, hold_min?: Lognormal(mean: 25, cv: 0.6), returned?: 0.3, returned_yd3?: Triangular(0.2, 0.5, 2),
///  balance?: 0.1, balance_yd3?: Triangular(1, 3, 8))
/// ```
/// Shares, 0 to 1, all left out: 0. Luck is drawn for each driver and day, each day, each order.
#[derive(Clone, Debug, PartialEq)]
pub struct Changes {
    /// Share of driver days on which the driver does not come.
    pub no_show: f64,
    /// Share of driver days that are planned off: sick, leave, training. Known from the start, so that nobody reckons with the driver
    /// then, and not paid. Drawn for each driver and day; hired haulers send somebody else.
    pub absent: f64,
    /// Share of drivers' seats that are empty for the whole period: somebody has left and nobody has come yet. Drawn for each driver.
    pub empty_seats: f64,
    /// Share of days on which rain cancels all outdoor orders together.
    pub rain: f64,
    /// Share of orders that the customer cancels before the first load.
    pub cancelled: f64,
    /// Share of orders whose site is not ready in time; the desk hears of it when the first load is due, not until when: it reckons
    /// with what such a wait lasts on average that has lasted so long.
    pub not_ready: f64,
    /// How many minutes later it is ready.
    pub not_ready_min: Spread,
    /// Share of the sites that are not ready that say so by telephone: by how much later they will be ready, and their whole order is
    /// moved by that, no fault of the desk. What is on its way by then comes early.
    pub phones_ahead: f64,
    /// How long before the first load is due they do. Who orders later than that says when the site is ready or says nothing.
    pub phones_ahead_min: f64,
    /// Factor on every trip of a rainy day, 1 to 5.
    pub rain_slows: f64,
    /// Factor on every discharge of an order: its crew is slower or faster than its rate says. None: 1.
    pub pace: Option<Spread>,
    /// Share of orders whose pour stops once, after any load but the last: no further truck takes a place for a while, which the
    /// desk reckons with in the same way.
    pub hold: f64,
    /// For how many minutes.
    pub hold_min: Spread,
    /// Share of orders that turn out to need less than was ordered: the rest of the last load goes back.
    pub returned: f64,
    /// How many yd³ go back, at most half of the load.
    pub returned_yd3: Spread,
    /// Share of orders whose site calls in a balance: more than was ordered, once all loads but the last are on site. Nothing of
    /// such an order is returned.
    pub balance: f64,
    /// How many yd³ more, by the half yard.
    pub balance_yd3: Spread,
}

/// `(empty_over_lb?: 500, empty_sd_lb?: 500, held?: Lognormal(mean: 45, cv: 0.4), goes_round?: 0.1)`: trucks of plants without a truck
/// scale weigh more or less than the books say, by as much each day as is drawn; a loaded one that comes to an open weigh station of
/// the network above its legal gross is held there, pays what `money` says, and its load grows older. That is a risk shown, no advice
/// to take it: the remedy is a smaller load or a truck scale. `goes_round` needs a network of roads with a weigh station, and is a
/// habit that costs time: no rule chooses it and the desk does not know of it. The first two are [`Scenario::empty_weight`](super::Scenario::empty_weight).
#[derive(Clone, Debug, PartialEq)]
pub struct Weighing {
    /// For how many minutes a truck found heavy is held.
    pub held: Spread,
    /// Share, 0 to 1, of the loads of plants without a truck scale that go round an open weigh station on their way, if the driver's
    /// hours hold the way round.
    pub goes_round: f64,
}

/// `(mean_h_between: 120, minutes: Lognormal(mean: 35, cv: 0.8))`: the plant stands still, on average once in so many hours of
/// the clock; no loading begins until it is repaired. The desk reckons with what an
/// outage that has lasted so long lasts on average.
#[derive(Clone, Debug, PartialEq)]
pub struct Outages {
    /// Mean hours between two, more than 0.
    pub mean_h_between: f64,
    /// Minutes of one.
    pub minutes: Spread,
}
