//! Sites, and how they take the loads of an order.

use crate::engine::Spread;
use crate::units::PlaceId;

/// `(name: "…", at?: (0.0, 0.0), parking?: true)`
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Name, unique among plants and sites.
    pub name: String,
    /// Miles east and north of the map's corner.
    pub at: (f64, f64),
    /// Whether that is written. One place alone may leave it out and be the middle of the map.
    pub is_mapped: bool,
    /// Whether a truck may lawfully stand here overnight.
    pub parking: bool,
}

/// A site and how it takes the loads of one order.
#[derive(Clone, Debug, PartialEq)]
pub struct Destination {
    /// The site's place.
    pub site: PlaceId,
    /// Share of the loads where destinations are drawn, more than 0.
    pub share: f64,
    /// `outlets?: [(rate_yd3_min: 1.0, places?: 1)]`
    pub outlets: Vec<Outlet>,
    /// Trucks that may wait on site for a place beyond those at the outlets. None: no limit. The rest wait outside.
    pub waiting_room: Option<u32>,
    /// How long each step lasts.
    pub times: StayTimes,
}

/// `position?: Lognormal(mean: 3.4, cv: 0.5), discharge_luck?: Lognormal(mean: 1, cv: 0.4), discharge?: spread of minutes,
/// chute_wash?: Triangular(3, 5, 10)`
#[derive(Clone, Debug, PartialEq)]
pub struct StayTimes {
    /// Minutes from the wait to the outlet.
    pub position: Spread,
    /// Minutes at the outlet in place of volume ÷ rate; None: the formula holds.
    pub discharge: Option<Spread>,
    /// Factor on volume ÷ rate.
    pub discharge_luck: Spread,
    /// Minutes of the chute wash, aside of the outlet.
    pub chute_wash: Spread,
}

/// `(rate_yd3_min: 1.0, places?: 1)`: a pump or chute that takes concrete.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outlet {
    /// yd³ a minute, more than 0.
    pub rate_yd3_min: f64,
    /// Trucks that can stand at it, 1 to 10; a second saves changeover, not flow.
    pub places: u32,
}
