//! Days on which drivers are off, as planned: sick and on leave, or because the seat is empty.
//!
//! Drawn when the period begins, and known from then on: a look ahead keeps them, and nobody reckons with a driver who is off.

use super::event::{Event, Observer};
use super::world::World;
use crate::units::{DriverId, Purpose};

impl World<'_> {
    /// Draws who is off when.
    pub(super) fn plan_days_off<O: Observer>(&mut self, observer: &mut O) {
        let changes = &self.plan.changes;
        if changes.absent <= 0.0 && changes.empty_seats <= 0.0 {
            return;
        }
        let plan = self.plan;
        for (at, driver) in plan.drivers.iter().enumerate() {
            if driver.pay.hauler.is_some() {
                continue; // somebody else is sent
            }
            let draw = |purpose: Purpose, day: u32| {
                let luck = self.day.luck.block(purpose, driver.entity, day, 0);
                luck.uniform(0)
            };
            let empty = draw(Purpose::EmptySeat, 0) < changes.empty_seats;
            let mut off = 0_u32;
            // A period has at most 28 days.
            for (nth, day) in driver.report_days.iter().enumerate().take(32) {
                if empty || draw(Purpose::DayOff, u32::from(*day)) < changes.absent {
                    off |= 1 << nth;
                    let (driver, day) = (DriverId::new(at), i64::from(*day));
                    self.tell(observer, Event::DayOff { driver, day });
                }
            }
            self.day.drivers[at].off = off;
        }
    }

    /// Whether a driver is off on the day of this report.
    pub(super) fn is_off(&self, id: DriverId, nth: u16) -> bool {
        self.day.drivers[id.at()].is_off(nth)
    }
}
