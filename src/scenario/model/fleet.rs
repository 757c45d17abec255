//! Trucks, their drivers, and the helpers who fetch them.

use super::Period;
use crate::concrete::AxleLayout;
use crate::engine::Spread;
use crate::hours::RuleBook;
use crate::scenario::licence::{History, Licence, Need};
use crate::units::{Cents, Millis, PlantId, TruckId, Volume, Weekday};

/// `(name: "N", count?: 1, home: "Plant", capacity_yd3?: 10, empty_lb?: 28000, legal_gross_lb?: 69000, axles?: [ … ],
/// breakdowns?: (mean_h_between: 400, minutes: Lognormal(mean: 75, cv: 0.8)))`: with a count above 1 the trucks are called N1,
/// N2 … `axles` from front to back, `(at_ft: 0, empty_lb: 12000, share: 0.2)`: feet behind the first, what it bears of the empty
/// truck, and its share of the concrete's weight; then `empty_lb` is their sum. Also
/// `needs?: (class?: B, endorsements?: ["…"], bars?: ["…"])`.
#[derive(Clone, Debug, PartialEq)]
pub struct Truck {
    /// Name, unique among trucks.
    pub name: String,
    /// Home plant.
    pub home: PlantId,
    /// Rated capacity, more than 0, at most 20 yd³.
    pub capacity: Volume,
    /// Empty weight, lb.
    pub empty_lb: f64,
    /// Legal gross weight, lb; None: weight is not looked at.
    pub legal_gross_lb: Option<f64>,
    /// Breakdowns on the road, by hours driven. None: it never breaks down.
    pub breakdowns: Option<Breakdowns>,
    /// Axles, which cut a load to the largest that axle limits and the bridge formula allow. None: only gross weight counts.
    pub axles: Option<AxleLayout>,
    /// What its driver's licence must allow. None: anybody may drive it.
    pub needs: Option<Need>,
}

impl Truck {
    /// The most concrete that it may carry by law, lb; [`f64::INFINITY`] where weight is not looked at.
    pub fn payload_lb(&self) -> f64 {
        let gross = self
            .legal_gross_lb
            .map_or(f64::INFINITY, |gross| gross - self.empty_lb);
        match &self.axles {
            Some(axles) => axles
                .largest_legal(self.legal_gross_lb)
                .payload_lb
                .min(gross),
            None => gross,
        }
    }
}

/// ```text
/// (mean_h_between: 400, minutes: Lognormal(mean: 75, cv: 0.8), call_min?: 5, drum_turns_share?: 0.8, empty_min?: 45, out_days?: 3)
/// ```
/// The truck stands where it is until it is repaired. Once its driver has called, the desk reckons with what a repair that has lasted so
/// long lasts on average. A load that is believed to be too old by then, or to keep the driver too long, is given up: another goes at once.
/// Where the drum still turns the concrete is stabilized and comes back with the truck; else it is emptied beside the road while it is
/// young enough, or sets.
#[derive(Clone, Debug, PartialEq)]
pub struct Breakdowns {
    /// Mean hours driven between two, more than 0.
    pub mean_h_between: f64,
    /// Minutes of a repair.
    pub minutes: Spread,
    /// From the breakdown until the desk hears of it.
    pub call: Millis,
    /// Share of breakdowns, 0 to 1, in which the drum still turns.
    pub drum_turns: f64,
    /// From giving a load up until a drum that does not turn is emptied.
    pub empty: Millis,
    /// Days for which a truck is out in whose drum a load has set, that of the breakdown included, 0 to 365.
    pub out_days: u32,
}

/// `(name: "Dn", count?: …, trucks: "N", report: "06:00", stagger_min?: 0, shift_h?: 10, days?: [Monday, …],
/// seniority?: 3, pay_per_h?: 28.5, guaranteed_h?: 8, hauler_per_h?: 110, hauler_least_h?: 4, care?: 1, rule_book?: …, class?: B, endorsements?: ["…"], restrictions?: ["…"], history?: ( … ))`: `trucks`
/// names a truck or a group; the drivers get its trucks in turn (count left out: one driver each); the i-th reports
/// i × stagger after the first. With a count above 1 the drivers are called Dn1, Dn2 …
#[derive(Clone, Debug, PartialEq)]
pub struct Driver {
    /// Name, unique among drivers.
    pub name: String,
    /// The truck driven. Two drivers of one truck must not be planned at the same time.
    pub truck: TruckId,
    /// Report time since midnight.
    pub report: Millis,
    /// Planned length of the duty tour, more than 0; afterwards the driver is sent home when next idle.
    pub shift: Millis,
    /// Weekdays worked.
    pub days: Vec<Weekday>,
    /// How carefully tickets are read, as a share of the habit of the house, 0 to 1.
    pub care: f64,
    /// The hours-of-service limits kept.
    pub rule_book: RuleBook,
    /// The licence. None: the right one.
    pub licence: Option<Licence>,
    /// The days before the period.
    pub history: History,
    /// Moments at which the driver is called in, since midnight before the first day, increasing, in place of `report` and
    /// `days`. None: as the roster says. Not written in a file: studies of staffing set it.
    pub calls: Option<Vec<Millis>>,
    /// When somebody takes the truck over, since midnight before the first day: the driver starts no load later, and hands over at the
    /// plant without washing the drum out. None: nobody does. Not written in a file: the study of a pour sets it.
    pub relieved: Option<Millis>,
    /// Seniority, 1 to 9,999, 1 the most senior. None: after all who have one. Equals in the order written.
    pub seniority: Option<u32>,
    /// What an hour is paid. None: as `money` says for all.
    pub pay_per_h: Option<Cents>,
    /// The least that is paid for in a day on which a tour of the driver begins, 0 to 24 h. None: `guaranteed_day_h` of `money`.
    pub guaranteed_day: Option<Millis>,
    /// The price of a hired hauler. None: an own driver, on the payroll.
    pub hauler: Option<Hauler>,
}

/// `hauler_per_h: 110, hauler_least_h?: 4`: the driver is hired by the hour and brings the truck. The hours on duty of a day are paid
/// at one price, truck and fuel included, and no fewer than the least; so is a call that is taken back on the day. There is no payroll
/// tax on it, no overtime, no premium, no guaranteed week; the truck's hours, fuel and wear are the hauler's own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hauler {
    /// An hour of driver and truck.
    pub per_h: Cents,
    /// The least that a day on which the hauler is called is paid for, 0 to 24 h.
    pub least: Millis,
}

impl Driver {
    /// Planned report times over a period.
    pub fn reports(&self, period: &Period) -> Vec<Millis> {
        let times = self.reports_by_day(period);
        times.into_iter().map(|(_, at)| at).collect()
    }

    /// Planned reports over a period: the day that each belongs to, and its time.
    pub fn reports_by_day(&self, period: &Period) -> Vec<(i64, Millis)> {
        let rostered = || {
            (0..i64::from(period.days))
                .filter(|day| self.days.contains(&period.first_day.after(*day)))
                .map(|day| (day, Millis::midnight(day) + self.report))
                .collect()
        };
        let last = i64::from(period.days) - 1;
        let called = |calls: &Vec<Millis>| {
            let day = |at: &Millis| at.day().clamp(0, last);
            calls.iter().map(|at| (day(at), *at)).collect()
        };
        self.calls.as_ref().map_or_else(rostered, called)
    }
}

/// `(name: "…", at: "Plant", from: "06:00", to: "22:00", days?: [Monday, …], rule_book?: "none", class?: B, endorsements?: ["…"],
/// restrictions?: ["…"], history?: ( … ))`: somebody with a car, on call in these hours; fetches a stranded driver, and drives
/// the truck home if licence and hours allow it. Licence left out: the right one. Rule book left out: within the law for any trip.
/// On duty all the time on call, whatever else the helper's own work is. Who may not drive the truck may still drive the car.
#[derive(Clone, Debug, PartialEq)]
pub struct Helper {
    /// Name, unique among helpers.
    pub name: String,
    /// Where the helper starts.
    pub at: PlantId,
    /// On call from, since midnight.
    pub from: Millis,
    /// On call until, since midnight, after `from`.
    pub to: Millis,
    /// Weekdays on call.
    pub days: Vec<Weekday>,
    /// The hours-of-service limits kept.
    pub rule_book: RuleBook,
    /// The licence. None: the right one.
    pub licence: Option<Licence>,
    /// The days before the period.
    pub history: History,
}
