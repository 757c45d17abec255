//! A stranded driver from a moment on: when all are home, and who cannot work at the next planned report.

use crate::plant::{Event, Observer};
use crate::units::{DriverId, Millis};

/// What has been seen so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RescueSeen {
    /// When the driver was home and released.
    pub home: Option<Millis>,
    /// When whoever helped was back.
    pub helper_back: Option<Millis>,
    /// Drivers who could not be called on a day.
    pub days_lost: Vec<DriverId>,
    /// How much later than planned the driver reported next.
    pub reported_late: Option<Millis>,
}

/// Watches them. Kept warm: [`RescueWatch::begin`] before each trial.
#[derive(Clone, Debug, Default)]
pub struct RescueWatch {
    driver: Option<DriverId>,
    helper: Option<DriverId>,
    away: bool,
    seen: RescueSeen,
}

impl RescueWatch {
    /// Forgets the last trial.
    pub fn begin(&mut self, driver: DriverId) {
        self.driver = Some(driver);
        self.helper = None;
        self.away = true;
        self.seen.days_lost.clear();
        (self.seen.home, self.seen.helper_back) = (None, None);
        self.seen.reported_late = None;
    }

    /// What has been seen so far.
    pub fn seen(&self) -> &RescueSeen {
        &self.seen
    }
}

impl Observer for RescueWatch {
    const EACH_REFUSAL: bool = false;

    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::HelperSent { driver, takes, .. } if Some(driver) == self.driver => {
                self.seen.helper_back = Some(at + takes);
            }
            Event::OwnDriverSent { helper, driver, .. } if Some(driver) == self.driver => {
                self.helper = Some(helper);
            }
            Event::StrandedHome { driver, .. } if Some(driver) == self.driver => {
                self.away = false;
                if self.helper.is_some() {
                    self.seen.helper_back = Some(at);
                }
            }
            Event::Released { driver, .. } if Some(driver) == self.driver && !self.away => {
                self.seen.home = self.seen.home.or(Some(at));
            }
            Event::DriverDayLost { driver } if !self.seen.days_lost.contains(&driver) => {
                self.seen.days_lost.push(driver);
            }
            Event::ReportedLate { driver, late } if Some(driver) == self.driver => {
                self.seen.reported_late = Some(late);
            }
            _ => {}
        }
    }
}
