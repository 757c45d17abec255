//! Between which departures a trip by the usual traffic takes the same.

use super::link::Link;
use super::ways::Ways;
use super::{Network, WEEK};
use crate::roads::Haul;
use crate::roads::memo::Steady;
use crate::units::{Millis, PlaceId};

/// How much earlier or later something may begin that goes just as it does now. Ends that cannot be told to the millisecond are
/// drawn in.
#[derive(Clone, Copy, Debug)]
struct Slack {
    earlier: Millis,
    later: Millis,
}

impl Slack {
    const NONE: Self = Self {
        earlier: Millis::ZERO,
        later: Millis::ZERO,
    };
    const ANY: Self = Self {
        earlier: Millis::NEVER,
        later: Millis::NEVER,
    };

    fn is_none(self) -> bool {
        self.earlier == Millis::ZERO && self.later == Millis::ZERO
    }

    fn and(self, other: Self) -> Self {
        Self {
            earlier: self.earlier.min(other.earlier),
            later: self.later.min(other.later),
        }
    }
}

impl Network {
    /// How long the trip takes that departs then, by the usual traffic with this luck, and which other departures take as long.
    pub(super) fn steady_trip(
        &self,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        depart: Millis,
        luck: f64,
    ) -> Steady {
        let ways = &self.ways[haul as usize];
        let mut slack = self.same_way(ways, (from, to, haul), depart);
        let way = self.way(from, to, haul, depart);
        let trip = self.walk(way, depart, |_, link, at| {
            if !slack.is_none() {
                slack = slack.and(self.same_crossing(link, haul, at, luck, true));
            }
            self.usual(link, haul, at, luck, |_, _| {})
        });
        Steady {
            from: depart - slack.earlier,
            to: depart + slack.later,
            trip,
        }
    }

    /// How much earlier or later the same of two ways is taken.
    fn same_way(
        &self,
        ways: &Ways,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        depart: Millis,
    ) -> Slack {
        if !ways.differ(from.at(), to.at()) {
            return Slack::ANY;
        }
        let into_week = (depart + self.offset).0.rem_euclid(WEEK.0);
        let into_hour = Millis(into_week % Millis::HOUR.0);
        let mut slack = Slack {
            earlier: into_hour,
            later: Millis::HOUR - into_hour - Millis(1),
        };
        let (this, next) = ways.at(from.at(), to.at(), (into_week / Millis::HOUR.0) as usize);
        if this != next {
            for way in [this, next] {
                self.walk(ways.links(way), depart, |_, link, at| {
                    if !slack.is_none() {
                        slack =
                            slack.and(self.same_crossing(link, haul, at, self.mean_luck, false));
                    }
                    self.compared(link, haul, at)
                });
            }
        }
        slack
    }

    /// How much earlier or later a truck may come to a link and take as long over it: at no gate that is closed, as long in a weigh
    /// station (where that counts), and over the whole link before the traffic changes.
    fn same_crossing(
        &self,
        link: &Link,
        haul: Haul,
        mut at: Millis,
        luck: f64,
        weighs: bool,
    ) -> Slack {
        let mut slack = Slack::ANY;
        let closed = &link.closed[haul as usize];
        if !closed.is_empty() {
            let (inside, since, lasts) = closed.around(at);
            if inside {
                return Slack::NONE;
            }
            slack = Slack {
                earlier: since,
                later: lasts - Millis(1),
            };
        }
        if let (Some((open, lost)), true) = (&link.weigh_station, weighs) {
            let (inside, since, lasts) = open.around(at);
            let earlier = match inside {
                true => since,
                false if since >= *lost => since - *lost,
                false => return Slack::NONE,
            };
            slack = slack.and(Slack {
                earlier,
                later: lasts - Millis(1),
            });
            if inside {
                at += *lost;
            }
        }
        let Some(profile) = link.profile else {
            return slack;
        };
        let (since, factor, lasts) = self.profiles[profile as usize].around(at);
        let takes = link.free[haul as usize] * luck * factor * link.mean_incident_factor();
        // a millionth and two milliseconds more than any rounding of the crossing itself
        let later = lasts - Millis((takes * (1.0 + 1e-6)) as i64) - Millis(2);
        if later < Millis::ZERO {
            return Slack::NONE;
        }
        slack.and(Slack {
            earlier: since,
            later,
        })
    }
}
