//! Between which departures a trip by the usual traffic takes the same.

use super::link::Link;
use super::ways::Ways;
use super::{Network, WEEK};
use crate::roads::Haul;
use crate::roads::memo::Steady;
use crate::roads::traffic::ends_well_before;
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
        let (way, mut slack) = self.same_way(ways, (from, to, haul), depart);
        let walk = Crossing {
            haul,
            luck,
            weighs: true,
        };
        let trip = self.walk(way, depart, |_, link, at| {
            self.cross_steadily(link, walk, at, &mut slack)
        });
        Steady {
            from: depart - slack.earlier,
            to: depart + slack.later,
            trip,
        }
    }

    /// The way that is taken, and how much earlier or later the same is.
    fn same_way<'a>(
        &self,
        ways: &'a Ways,
        (from, to, haul): (PlaceId, PlaceId, Haul),
        depart: Millis,
    ) -> (&'a [u32], Slack) {
        let into_week = (depart + self.offset).0.rem_euclid(WEEK.0);
        let (this, next) = ways.at(from.at(), to.at(), (into_week / Millis::HOUR.0) as usize);
        if !ways.differ(from.at(), to.at()) {
            return (ways.links(this), Slack::ANY);
        }
        let into_hour = Millis(into_week % Millis::HOUR.0);
        let mut slack = Slack {
            earlier: into_hour,
            later: Millis::HOUR - into_hour - Millis(1),
        };
        if this == next {
            return (ways.links(this), slack);
        }
        let walk = Crossing {
            haul,
            luck: self.mean_luck,
            weighs: false,
        };
        let mut compared = |way| {
            self.walk(ways.links(way), depart, |_, link, at| {
                self.cross_steadily(link, walk, at, &mut slack)
            })
        };
        let quicker = if compared(next) < compared(this) {
            next
        } else {
            this
        };
        (ways.links(quicker), slack)
    }

    /// When a truck that comes to a link is at its end; narrows `slack` to how much earlier or later it may come and take as long: at
    /// no gate that is closed, as long in a weigh station (where that counts), and over the whole link before the traffic changes.
    #[inline]
    fn cross_steadily(
        &self,
        link: &Link,
        how: Crossing,
        enter: Millis,
        slack: &mut Slack,
    ) -> Millis {
        match (!slack.is_none())
            .then(|| self.in_one_piece(link, how, enter))
            .flatten()
        {
            Some((end, here)) => {
                *slack = slack.and(here);
                end
            }
            None => {
                *slack = Slack::NONE;
                if how.weighs {
                    self.usual(link, how.haul, enter, how.luck, |_, _| {})
                } else {
                    self.compared(link, how.haul, enter)
                }
            }
        }
    }

    /// The same of a link that nothing changes on under way; none where something does. The time is to the millisecond what driving it
    /// piece by piece gives.
    #[inline]
    fn in_one_piece(
        &self,
        link: &Link,
        Crossing { haul, luck, weighs }: Crossing,
        mut at: Millis,
    ) -> Option<(Millis, Slack)> {
        let mut slack = Slack::ANY;
        let closed = &link.closed[haul as usize];
        if !closed.is_empty() {
            let (inside, since, lasts) = closed.around(at);
            if inside {
                return None;
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
                false => return None,
            };
            slack = slack.and(Slack {
                earlier,
                later: lasts - Millis(1),
            });
            if inside {
                at += *lost;
            }
        }
        let (since, factor, lasts) = match link.profile {
            Some(profile) => self.profiles[profile as usize].around(at),
            None => (Millis::NEVER, 1.0, Millis::NEVER),
        };
        let takes = link.free[haul as usize] * luck * (factor * link.mean_incident_factor());
        if !ends_well_before(takes, lasts.0 as f64) {
            return None;
        }
        if link.profile.is_some() {
            // a millionth and two milliseconds more than any rounding of the crossing itself
            let later = lasts - Millis((takes * (1.0 + 1e-6)) as i64) - Millis(2);
            if later < Millis::ZERO {
                return None;
            }
            slack = slack.and(Slack {
                earlier: since,
                later,
            });
        }
        Some((at + Millis((takes + 0.5) as i64), slack))
    }
}

/// How a link is crossed.
#[derive(Clone, Copy, Debug)]
struct Crossing {
    haul: Haul,
    luck: f64,
    /// Whether weigh stations take time.
    weighs: bool,
}
