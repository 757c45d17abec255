//! The company, its yards and what changes from day to day.

use super::Source::{Off, Practice, Published};
use super::defaults;
use crate::engine::Spread;
use crate::units::Millis;

defaults! {
    WINDOW_H: f64 = 14.0, "scenario.rule_book", "h", "driving window after reporting",
        Published("14 hours, 10 h off before: 49 CFR 395.3(a)(2)");
    REST_H: f64 = 10.0, "rule_book.rest_hours", "h", "off duty between two shifts",
        Published("49 CFR 395.3(a)(1)");

    NO_LOAD_AFTER: () = (), "company.no_load_after_h", "h", "company's latest start of loading after reporting", Off;
    FINISH_WITHIN: () = (), "company.finish_within_h", "h", "company's longest shift", Off;
    DAYS_IN_ROW: () = (), "company.most_days_in_row", "days", "company's most days in a row", Off;
    DRIVER_CAUTION: f64 = 0.8, "company.driver_caution", "share of trips",
        "how sure of the drive a driver wants to be before leaving", Practice("");
    PROMISE_HORIZON_MIN: f64 = 20.0, "company.promise_horizon_min", "min",
        "how long before its return a truck is given its next load", Practice("");
    LATEST_REPORT_H: f64 = 4.0, "company.latest_report_h", "h",
        "latest start for a driver who is still resting", Practice("");
    CALL_TIME: Millis = Millis(17 * 3_600_000), "company.call_time", "the day before",
        "when drivers are called in for the next day, where the rule calls them", Practice("");
    CALL_OFF: bool = false, "company.call_off", "", "drivers whose work is canceled by midnight are called off", Off;
    LEAST_WEEK_H: f64 = 1.0, "company.least_week_h", "h", "weekly hours left that a driver is still called in for", Practice("");
    STRANDED_DRIVE_CAR: bool = true, "company.stranded_drive_car", "",
        "the stranded driver may drive the helper's car home", Practice("");
    ORDER_OPEN_H: f64 = 3.0, "company.order_open_h", "h",
        "how long after its last load is due an order is still delivered, if that is past midnight", Practice("");
    RELIEF: bool = false, "company.relief", "", "a free driver takes over a loaded truck whose driver is out of hours", Off;
    STABILIZER_H: f64 = 0.0, "company.stabiliser_h", "h", "how long a stabilizer keeps a stranded load", Off;
    DRUM_CLEANING_MIN: f64 = 180.0, "company.drum_cleaning_min", "min", "cleaning a drum in which a load has set", Practice("");

    PRE_TRIP: Spread = Spread::Lognormal { mean: 15.7, cv: 0.3 }, "yard.pre_trip", "min", "from reporting to the first load",
        Published("15 min as a target, 21 observed: \"Driving down cost\", Concrete Construction");
    WASHOUT: Spread = Spread::Triangular { low: 10.0, mode: 15.0, high: 30.0 }, "yard.washout", "min",
        "drum washout at the end of the day", Practice("drums are washed daily, normally at the plant");
    POST_TRIP: Spread = Spread::Constant(10.0), "yard.post_trip", "min", "from washout to off duty", Practice("");

    NO_SHOW: f64 = 0.0, "changes.no_show", "share of driver days", "drivers who do not come", Off;
    ABSENT: f64 = 0.0, "changes.absent", "share of driver days", "drivers who are off, as planned: sick, leave", Off;
    EMPTY_SEATS: f64 = 0.0, "changes.empty_seats", "share of drivers", "seats without a driver for the whole period", Off;
    RAIN: f64 = 0.0, "changes.rain", "share of days", "days with rain", Off;
    RAIN_SLOWS: f64 = 1.0, "changes.rain_slows", "times the usual minutes", "drives on rainy days", Off;
    CANCELLED: f64 = 0.0, "changes.cancelled", "share of orders", "orders canceled on the day", Off;
    NOT_READY: f64 = 0.0, "changes.not_ready", "share of orders", "sites not ready in time", Off;
    NOT_READY_MIN: Spread = Spread::Lognormal { mean: 35.0, cv: 0.6 }, "changes.not_ready_min", "min",
        "how much later a site is ready", Practice("");
    PHONES_AHEAD: f64 = 0.0, "changes.phones_ahead", "share of sites that are not ready",
        "sites that telephone by how much later they are ready, and move their order", Off;
    PHONES_AHEAD_MIN: f64 = 60.0, "changes.phones_ahead_min", "min",
        "how long before the first load is due they telephone", Practice("");
    PACE: () = (), "changes.pace", "times the usual minutes", "slower and faster crews", Off;
    HOLD: f64 = 0.0, "changes.hold", "share of orders", "pours that stop for a while", Off;
    HOLD_MIN: Spread = Spread::Lognormal { mean: 25.0, cv: 0.6 }, "changes.hold_min", "min", "how long a pour stops", Practice("");
    RETURNED: f64 = 0.0, "changes.returned", "share of orders", "orders that need less than ordered", Off;
    RETURNED_YD3: Spread = Spread::Triangular { low: 0.2, mode: 0.5, high: 2.0 }, "changes.returned_yd3", "yd³",
        "concrete that comes back", Practice("about 3% of all volume comes back, rejected loads included");
    BALANCE: f64 = 0.0, "changes.balance", "share of orders", "orders that call in a balance", Off;
    BALANCE_YD3: Spread = Spread::Triangular { low: 1.0, mode: 3.0, high: 8.0 }, "changes.balance_yd3", "yd³",
        "balance called in", Practice("one producer allows 12% to 15% of the order");
}
