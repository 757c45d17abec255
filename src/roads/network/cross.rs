//! A way walked link by link: past closed gates and weigh stations, through traffic that changes under way.

use super::Network;
use super::link::Link;
use crate::roads::Haul;
use crate::roads::delays::Delay;
use crate::roads::traffic::ends_well_before;
use crate::units::Millis;

impl Network {
    /// From one link to the next.
    #[inline]
    pub(super) fn walk(
        &self,
        way: &[u32],
        depart: Millis,
        mut cross: impl FnMut(usize, &Link, Millis) -> Millis,
    ) -> Millis {
        let mut at = depart;
        for link in way {
            at = cross(*link as usize, &self.links[*link as usize], at);
        }
        at - depart
    }

    /// When a truck that comes to a link is at its end, as is usual at the hour.
    #[inline]
    pub(super) fn usual(
        &self,
        link: &Link,
        haul: Haul,
        enter: Millis,
        luck: f64,
        tell: impl FnMut(Delay, Millis),
    ) -> Millis {
        let incidents = link.mean_incident_factor();
        self.cross(link, haul, enter, luck, tell, |_| {
            (1.0, incidents, Millis::NEVER)
        })
    }

    /// When a truck that comes to a link would be at its end if no weigh station took time: by this ways are compared. Nobody takes
    /// another way for a weigh station's minutes; whoever drives it, and whoever reckons with it, loses them.
    #[inline]
    pub(super) fn compared(&self, link: &Link, haul: Haul, enter: Millis) -> Millis {
        if link.free[haul as usize].is_infinite() {
            return Millis::NEVER;
        }
        let at = link.closed[haul as usize].after(enter);
        self.drive_piecewise(
            link,
            haul,
            at,
            self.mean_luck,
            |_, _| {},
            |_| (1.0, link.mean_incident_factor(), Millis::NEVER),
        )
    }

    /// When a truck that comes to a link is at its end: past a closed gate and a weigh station, then driven piece by piece.
    /// `extra` has the factors of the day and of an incident beside that of the profile, and until when they hold; `tell` hears
    /// what holds the truck up.
    #[inline]
    pub(super) fn cross(
        &self,
        link: &Link,
        haul: Haul,
        enter: Millis,
        luck: f64,
        mut tell: impl FnMut(Delay, Millis),
        extra: impl Fn(Millis) -> (f64, f64, Millis),
    ) -> Millis {
        let mut at = link.closed[haul as usize].after(enter);
        tell(Delay::Closed, at - enter);
        if let Some((open, lost)) = &link.weigh_station {
            let weighed = match open.since_last(at) {
                None => *lost,
                Some(closed) => (*lost - closed).max(Millis::ZERO),
            };
            at += weighed;
            tell(Delay::Weighed, weighed);
        }
        self.drive_piecewise(link, haul, at, luck, tell, extra)
    }

    /// When a truck that drives on from here is at the link's end.
    #[inline]
    fn drive_piecewise(
        &self,
        link: &Link,
        haul: Haul,
        mut at: Millis,
        luck: f64,
        mut tell: impl FnMut(Delay, Millis),
        extra: impl Fn(Millis) -> (f64, f64, Millis),
    ) -> Millis {
        let mut left = link.free[haul as usize] * luck;
        loop {
            let (usual, end) = match link.profile {
                Some(profile) => self.profiles[profile as usize].piece(at),
                None => (1.0, Millis::NEVER),
            };
            let (day, incident, until) = extra(at);
            let factor = usual * (day * incident);
            let end = end.min(until);
            let span = (end - at).0 as f64;
            let slowed = left * factor;
            let whole = || span / factor;
            let without = factor / incident;
            if ends_well_before(slowed, span) || left <= whole() {
                let took = Millis((slowed + 0.5) as i64);
                tell(Delay::Incident, beyond(took, left * without));
                return at + took;
            }
            let whole = whole();
            tell(Delay::Incident, beyond(end - at, whole * without));
            left -= whole;
            at = end;
        }
    }
}

/// What a stretch took beyond the milliseconds that it takes without an incident.
fn beyond(took: Millis, without: f64) -> Millis {
    took - Millis((without + 0.5) as i64)
}
