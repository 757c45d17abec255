//! What was planned for a load, told with the promise.

use crate::roads::Delays;
use crate::units::Millis;

/// What was planned for a load, until its truck is back, when its truck was promised. Lengths are means.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LoadPlan {
    /// When it could be taken in the ideal timeline; the desk does not know it.
    pub ready: Millis,
    /// From when the desk knew of the load.
    pub known: Millis,
    /// Whether the rule leaves loads to the nearest plant at first.
    pub nearest_first: bool,
    /// When the rule has it join the bay queue.
    pub send: Millis,
    /// From when the plant is open for it.
    pub opens: Millis,
    /// The rule's allowance for the bay queue.
    pub bay_wait: Millis,
    /// Loading, pull-in included.
    pub loading: Millis,
    /// Rack.
    pub rack: Millis,
    /// The trip as the rule believes it.
    pub believed: Millis,
    /// What is believed to hold it up on the road.
    pub believed_delays: Delays,
    /// The trip as it usually is at the hour.
    pub usual: Millis,
    /// What usually holds it up at the hour.
    pub usual_delays: Delays,
    /// From when the site was to be set up.
    pub site_opens: Millis,
    /// The stay on site.
    pub stay: Millis,
    /// How much of the stay it takes up a place.
    pub place: Millis,
    /// The way back to the truck's home, as it usually is, without standing before bridges or in weigh stations and
    /// without incidents.
    pub back: Millis,
}
