//! When drivers are called to work, and who is sent home: counts of the trucks that loads need at once.

use super::{SendHome, Shift, TruckView};
use crate::units::Millis;

/// The step in which needs are counted.
pub const HALF_HOUR: Millis = Millis(30 * 60_000);

/// Half hours of a day.
pub const HALF_HOURS: usize = 48;

/// How many trucks are under way at once, by half hour. A truck counts in every half hour that it is under way in.
#[derive(Clone, Debug, Default)]
pub struct Needs {
    start: Millis,
    trucks: Vec<u32>,
    peak: u32,
}

impl Needs {
    /// Nothing needed yet in so many half hours from `start` on.
    pub fn begin(&mut self, start: Millis, half_hours: usize) {
        (self.start, self.peak) = (start, 0);
        self.trucks.clear();
        self.trucks.resize(half_hours, 0);
    }

    /// When the last half hour that is counted is over.
    pub fn end(&self) -> Millis {
        self.start + Millis(HALF_HOUR.0 * self.trucks.len() as i64)
    }

    /// The half hours that something from `from` to `to` touches, as far as they are counted.
    pub fn half_hours(&self, from: Millis, to: Millis) -> std::ops::Range<usize> {
        let last = self.trucks.len() as i64;
        let first = (from - self.start).0.div_euclid(HALF_HOUR.0);
        let end = (to - self.start).0 + HALF_HOUR.0 - 1;
        let end = end.div_euclid(HALF_HOUR.0).max(first + 1);
        first.clamp(0, last) as usize..end.clamp(0, last) as usize
    }

    /// A truck is under way from `from` to `to`.
    pub fn add(&mut self, from: Millis, to: Millis) {
        let half_hours = self.half_hours(from, to);
        for trucks in &mut self.trucks[half_hours] {
            *trucks += 1;
            self.peak = self.peak.max(*trucks);
        }
    }

    /// The most trucks at once.
    pub fn peak(&self) -> u32 {
        self.peak
    }

    /// The trucks of a half hour.
    pub fn of(&self, half_hour: usize) -> u32 {
        self.trucks[half_hour]
    }

    /// Each half hour: when it begins, and the trucks needed.
    pub fn iter(&self) -> impl Iterator<Item = (Millis, u32)> {
        let at = |step: usize| self.start + Millis(HALF_HOUR.0 * step as i64);
        self.trucks
            .iter()
            .enumerate()
            .map(move |(step, trucks)| (at(step), *trucks))
    }
}

/// Staggered report time of the `place`-th (from 0) of so many drivers of a plant who are rostered from `first` to `last`: this
/// many minutes after the one before, else evenly, to the minute.
pub fn staggered(
    minutes: Option<f64>,
    (first, last): (Millis, Millis),
    (place, drivers): (usize, usize),
) -> Millis {
    /// Everybody reports within this time, however many they are.
    const LATEST: Millis = Millis(18 * 3_600_000);
    match minutes {
        Some(minutes) => first + Millis::from_minutes(minutes * place as f64).min(LATEST),
        None => {
            let steps = (drivers as i64 - 1).max(1);
            let at = first + Millis((last - first).0 * place as i64 / steps);
            Millis(at.0.div_euclid(Millis::MINUTE.0) * Millis::MINUTE.0)
        }
    }
}

/// Call times matched to what is needed: whenever in a half hour more trucks are under way than drivers are on duty, the next
/// driver is called to be ready, pre-trip done, when it begins. `calls` gets the call times, in the order of the `shifts` of
/// the drivers; whoever has none is not called.
pub fn matched(
    needs: &Needs,
    spare: u32,
    pre_trip: Millis,
    shifts: impl Iterator<Item = Millis> + Clone,
    calls: &mut Vec<Millis>,
) {
    calls.clear();
    let mut next = shifts.clone();
    for (begins, trucks) in needs.iter().filter(|(_, trucks)| *trucks > 0) {
        let on_duty = calls.iter().zip(shifts.clone());
        let on_duty = on_duty.filter(|(call, shift)| begins < **call + *shift);
        let lacking = (trucks + spare).saturating_sub(on_duty.count() as u32);
        for _ in 0..lacking {
            if next.next().is_none() {
                return;
            }
            calls.push(begins - pre_trip);
        }
    }
}

/// Who of the idle drivers goes home first: the smallest.
pub fn goes_home(send_home: SendHome, truck: &TruckView) -> i64 {
    match send_home {
        SendHome::ShiftEnd | SendHome::FirstInFirstOut { .. } => truck.idle_since.0,
        SendHome::LongestDay { .. } => truck.report.0,
        SendHome::Seniority { .. } => -i64::from(truck.seniority),
    }
}

impl SendHome {
    /// Drivers held in reserve; none where drivers stay to the end of their shift anyhow.
    pub fn hold(self) -> Option<u32> {
        match self {
            Self::ShiftEnd => None,
            Self::FirstInFirstOut { hold }
            | Self::LongestDay { hold }
            | Self::Seniority { hold } => Some(hold),
        }
    }
}

impl Shift {
    /// The choices, in the words of [`word`](Self::word).
    pub const WORDS: [&'static str; 3] = ["rostered", "staggered", "matched"];

    /// In a word, with its number if it has one: `rostered`, `staggered`, `staggered:20`, `matched`, `matched:1`.
    pub fn word(self) -> String {
        match self {
            Self::Rostered => "rostered".into(),
            Self::Staggered { minutes: None } => "staggered".into(),
            Self::Staggered {
                minutes: Some(minutes),
            } => format!("staggered:{minutes}"),
            Self::Matched { spare: 0 } => "matched".into(),
            Self::Matched { spare } => format!("matched:{spare}"),
        }
    }

    /// As a scenario writes it.
    pub fn written(self) -> String {
        match self {
            Self::Rostered => "Rostered".into(),
            Self::Staggered { minutes: None } => "Staggered".into(),
            Self::Staggered {
                minutes: Some(minutes),
            } => format!("Staggered(minutes: {minutes})"),
            Self::Matched { spare: 0 } => "Matched".into(),
            Self::Matched { spare } => format!("Matched(spare: {spare})"),
        }
    }

    /// Spare drivers where calls are matched to the order book.
    pub fn spare(self) -> Option<u32> {
        match self {
            Self::Matched { spare } => Some(spare),
            Self::Rostered | Self::Staggered { .. } => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(minutes: f64) -> Millis {
        Millis::from_minutes(minutes)
    }

    /// On paper: 06:40 to 07:10 touches two half hours, 07:00 to 07:30 one.
    #[test]
    fn a_truck_counts_in_every_half_hour_that_it_is_under_way_in() {
        let mut needs = Needs::default();
        needs.begin(at(360.0), 4);
        needs.add(at(400.0), at(430.0));
        needs.add(at(420.0), at(450.0));
        needs.add(at(0.0), at(361.0));
        needs.add(at(470.0), at(900.0));
        let trucks: Vec<u32> = needs.iter().map(|(_, trucks)| trucks).collect();
        assert_eq!(trucks, [1, 1, 2, 1]);
        assert_eq!(needs.peak(), 2);
    }

    /// Two are needed at 06:00, three at 06:30; shifts of an hour and a half: at 07:30 the first two are gone, and one is left to
    /// be called.
    #[test]
    fn whoever_is_lacking_is_called_as_long_as_there_is_somebody() {
        let mut needs = Needs::default();
        needs.begin(at(360.0), 4);
        for (from, to) in [(360.0, 480.0), (360.0, 480.0), (390.0, 480.0)] {
            needs.add(at(from), at(to));
        }
        let mut calls = Vec::new();
        let shifts = [at(90.0); 4];
        matched(&needs, 0, at(15.0), shifts.into_iter(), &mut calls);
        assert_eq!(calls, [345.0, 345.0, 375.0, 435.0].map(at));
    }
}
