//! Hours of drivers by what they earn, counted a second time: from the days and weeks of each.

use plantday::plant::Event;
use plantday::scenario::{Driver, Hauler, Scenario};
use plantday::units::Millis;
use std::collections::BTreeMap;

/// Hours of all drivers.
pub(super) struct Hours {
    pub(super) worked: f64,
    pub(super) overtime: f64,
    pub(super) unworked: f64,
    /// Of the hours above those that hired haulers are paid for, and that they work; and what they are paid.
    pub(super) hired: f64,
    pub(super) hired_worked: f64,
    pub(super) hired_pay: f64,
}

/// A day of a driver: hours worked, what each tour lacked of the least, paid show-up hours, whether the driver did not come.
#[derive(Default)]
struct Day {
    worked: f64,
    short: f64,
    came: bool,
    show_up: f64,
    called_off: bool,
    absent: bool,
}

pub(super) fn hours(scenario: &Scenario, tape: &[(Millis, Event)]) -> Hours {
    let mut sum = Hours {
        worked: 0.0,
        overtime: 0.0,
        unworked: 0.0,
        hired: 0.0,
        hired_worked: 0.0,
        hired_pay: 0.0,
    };
    for (id, driver) in scenario.drivers.iter().enumerate() {
        let mut days: BTreeMap<i64, Day> = BTreeMap::new();
        for (at, event) in tape {
            match *event {
                Event::Released { driver, tour, .. } if driver.at() == id => {
                    let day = days.entry((*at - tour).day()).or_default();
                    day.came = true;
                    day.worked += tour.hours();
                    let least = scenario.money.call_out.hours();
                    day.short += (least - tour.hours()).max(0.0);
                }
                Event::CalledOff { driver: off } if off.at() == id => {
                    let day = days.entry(at.day()).or_default();
                    day.show_up += show_up(scenario, driver);
                    day.called_off = true;
                }
                Event::NoShow { driver, day } if driver.at() == id => {
                    days.entry(day).or_default().absent = true;
                }
                Event::DayOff { driver, day } if driver.at() == id => {
                    days.entry(day).or_default().absent = true;
                }
                _ => {}
            }
        }
        match driver.hauler {
            Some(hauler) => of_hauler(hauler, &days, &mut sum),
            None => of_driver(scenario, driver, &days, &mut sum),
        }
    }
    sum
}

/// A day on duty is paid in full and for the least of a day; a call taken back for the least.
fn of_hauler(hauler: Hauler, days: &BTreeMap<i64, Day>, sum: &mut Hours) {
    let least = hauler.least.hours();
    for day in days.values() {
        let on_duty = if day.came { day.worked.max(least) } else { 0.0 };
        let paid = on_duty + if day.called_off { least } else { 0.0 };
        sum.worked += day.worked;
        sum.unworked += paid - day.worked;
        sum.hired += paid;
        sum.hired_worked += day.worked;
        sum.hired_pay += paid * hauler.per_h.units();
    }
}

/// 8 CCR 11090(5)(A), with the numbers of the scenario.
fn show_up(scenario: &Scenario, driver: &Driver) -> f64 {
    scenario.money.show_up.map_or(0.0, |pay| {
        let half = driver.shift.hours() * pay.share;
        half.max(pay.least.hours()).min(pay.most.hours())
    })
}

fn of_driver(scenario: &Scenario, driver: &Driver, days: &BTreeMap<i64, Day>, sum: &mut Hours) {
    let money = &scenario.money;
    let period = i64::from(scenario.period.days);
    let guaranteed_day = driver.guaranteed_day.unwrap_or(money.guaranteed_day);
    let least = guaranteed_day.hours().max(show_up(scenario, driver));
    let rostered = |day: i64| driver.days.contains(&scenario.period.first_day.after(day));
    // The first days of the workweeks that the period, or a way home after it, touches.
    let begins =
        (-6..period + 3).filter(|day| scenario.period.first_day.after(*day) == money.workweek);
    for begin in begins {
        let (mut plain, mut paid, mut unworked) = (0.0, 0.0, 0.0);
        for day in (begin..begin + 7).filter_map(|day| days.get(&day)) {
            let regular = day.worked.min(money.overtime_after.hours());
            sum.overtime += day.worked - regular;
            plain += regular;
            let lacking = if day.came {
                day.short.max(least - day.worked)
            } else {
                0.0
            };
            unworked += lacking + day.show_up;
            paid += day.worked + lacking + day.show_up;
            sum.worked += day.worked;
        }
        if let Some(limit) = money.overtime_after_week {
            let ago = |day: i64| driver.history.hours.get((-1 - day) as usize);
            let before: f64 = (begin..0)
                .filter_map(ago)
                .map(|hours| hours.min(money.overtime_after.hours()))
                .sum();
            let beyond = |hours: f64| (hours - limit.hours()).max(0.0);
            sum.overtime += beyond(before + plain) - beyond(before);
        }
        let here = (begin..begin + 7).filter(|day| (0..period).contains(day));
        let counts = |day: &i64| rostered(*day) && !days.get(day).is_some_and(|day| day.absent);
        let counted = here.filter(counts).count() as f64;
        let of_week = driver.days.len() as f64;
        let guaranteed = money
            .guaranteed_week
            .hours()
            .min(driver.shift.hours() * of_week);
        let owed = guaranteed / of_week * counted;
        sum.unworked += unworked + (owed - paid).max(0.0);
    }
}
