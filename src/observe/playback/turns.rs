//! One truck ends what it does and does something else, there or elsewhere.

use super::{Doing, Now, Playback, Stint};
use crate::units::{Millis, PlaceId, TruckId};

impl Playback<'_> {
    /// Ends what the truck does at `at`, with a drive to `heading` if that is elsewhere.
    pub(super) fn end(&mut self, truck: TruckId, at: Millis, heading: PlaceId) {
        let Some(now) = self.now[truck.at()] else {
            return;
        };
        if now.from < at {
            self.stints.push(Stint {
                truck,
                doing: now.doing,
                from: now.from,
                to: at,
                place: self.place[truck.at()],
                heading,
                load: now.load,
            });
        }
        self.place[truck.at()] = heading;
    }

    /// From `at` on the truck does something else where it is.
    pub(super) fn turn(&mut self, truck: TruckId, at: Millis, doing: Doing) {
        self.end(truck, at, self.place[truck.at()]);
        match &mut self.now[truck.at()] {
            Some(now) => (now.doing, now.from) = (doing, at),
            none => {
                *none = Some(Now {
                    doing,
                    from: at,
                    load: None,
                    promised: None,
                });
            }
        }
    }

    /// A drive without a load for a site has ended: told only now.
    pub(super) fn drove(&mut self, truck: TruckId, at: Millis, took: Millis, for_load: bool) {
        let Some(now) = self.now[truck.at()] else {
            return;
        };
        // Back from a site a truck heads for its home plant; on an errand, to where it is promised. If it turns out that it
        // only drove to park, that is told next.
        let heading = match now.promised {
            Some(plant) if !for_load => plant,
            _ => self.home(truck),
        };
        self.turn(truck, (at - took).max(now.from), Doing::DrivingBack);
        self.end(truck, at, heading);
        if let Some(now) = &mut self.now[truck.at()] {
            (now.doing, now.from) = (Doing::Free, at);
        }
    }

    /// The drive that has just ended led here.
    pub(super) fn correct(&mut self, truck: TruckId, at: Millis, place: PlaceId) {
        if self.place[truck.at()] == place {
            return;
        }
        self.place[truck.at()] = place;
        let last = self.stints.iter_mut().rev().find(|s| s.truck == truck);
        if let Some(last) = last.filter(|s| s.to == at && s.doing == Doing::DrivingBack) {
            last.heading = place;
        }
    }
}
