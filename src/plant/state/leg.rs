//! A truck's drives: the present one, and what its load is weighed by on it.

use crate::units::Millis;

/// A truck's present drive, and what it has driven.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::plant) struct Leg {
    /// Miles of the present drive; 0 where they cost nothing.
    pub(in crate::plant) miles: f64,
    /// How much of the present drive it stands broken down.
    pub(in crate::plant) broken: Millis,
    /// How much of the present drive it is held because it was found heavy.
    pub(in crate::plant) held: Millis,
    /// Whether it goes round a weigh station.
    pub(in crate::plant) goes_round: bool,
    /// How much longer the way round takes than the quickest way would have taken; below zero if that way was held up.
    pub(in crate::plant) longer: Millis,
    /// Driven in the replication, breakdowns left out.
    pub(in crate::plant) driven: Millis,
    /// At how much driven it breaks down next.
    pub(in crate::plant) breaks_at: Millis,
    /// At which share of the drive that begins it breaks down, whatever it has driven; 0: at none.
    pub(in crate::plant) breaks_in: f64,
    /// Breakdowns so far.
    pub(in crate::plant) breakdowns: u32,
    /// When it stops, broken down: on the present drive, or the last on which it does; and when it is repaired.
    pub(in crate::plant) stops: Millis,
    pub(in crate::plant) repaired: Millis,
    /// When the desk hears of that, or looks at its load again.
    pub(in crate::plant) look_at: Millis,
    /// When it is to be repaired, as the desk has been told; none: it reckons.
    pub(in crate::plant) told: Option<Millis>,
    /// Whether the drum turns, as the desk has been told.
    pub(in crate::plant) drum_turns: Option<bool>,
    /// When it comes on site, or was to with a load that has been given up.
    pub(in crate::plant) arrives: Millis,
    /// What share of its way back it need not drive, as it has turned round before its site.
    pub(in crate::plant) short: f64,
    /// What its load is weighed by.
    pub(in crate::plant) on_scale: OnScale,
}

/// A load on its way, for who weighs it.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::plant) struct OnScale {
    /// The day on which it left its plant, whose weight the empty truck keeps.
    pub(in crate::plant) day: u32,
    /// What the concrete weighed then, lb.
    pub(in crate::plant) lb: f64,
    /// How often it has been found heavy.
    pub(in crate::plant) found: u32,
}

impl OnScale {
    /// The last time that it was found heavy has not happened yet.
    pub(in crate::plant) fn weigh_again(&mut self) {
        self.found = self.found.saturating_sub(1);
    }
}
