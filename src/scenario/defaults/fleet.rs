//! Trucks and drivers.

use super::Source::{Off, Practice, Published};
use super::defaults;
use crate::concrete::EmptyWeight;
use crate::engine::Spread;

const BOOKED: EmptyWeight = EmptyWeight::BOOKED;

defaults! {
    CAPACITY_YD3: f64 = 10.0, "trucks.capacity_yd3", "yd³", "rated capacity of a truck",
        Published("9 to 11 yd³ is typical: NRMCA, \"Delivery of ready mixed concrete\"");
    EMPTY_LB: f64 = 28_000.0, "trucks.empty_lb", "lb", "empty truck", Practice("26,000 to 30,000 lb are usual");
    LEGAL_GROSS_LB: f64 = 69_000.0, "trucks.legal_gross_lb", "lb", "legal gross weight",
        Practice("axles and state decide: look at the registration and the bridge formula, 23 USC 127");
    BREAKDOWNS: () = (), "trucks.breakdowns", "", "trucks that break down on the road", Off;
    BREAKDOWN_CALL_MIN: f64 = 5.0, "trucks.breakdowns.call_min", "min", "from a breakdown until the driver has called the plant", Practice("");
    DRUM_TURNS_SHARE: f64 = 0.8, "trucks.breakdowns.drum_turns_share", "of them", "breakdowns after which the drum still turns", Practice("");
    BREAKDOWN_EMPTY_MIN: f64 = 45.0, "trucks.breakdowns.empty_min", "min",
        "until a broken-down drum that does not turn is emptied beside the road", Practice("");
    OUT_DAYS: u32 = 3, "trucks.breakdowns.out_days", "days", "truck out of service after a load has set in its drum, that day included",
        Practice("");
    AXLES: () = (), "trucks.axles", "", "axles (left out: only the gross weight counts)", Off;
    NEEDS: () = (), "trucks.needs", "", "license that a truck needs (left out: anybody may drive it)", Off;

    STAGGER_MIN: f64 = 0.0, "drivers.stagger_min", "min", "between the reports of two drivers of a group", Off;
    SHIFT_H: f64 = 10.0, "drivers.shift_h", "h", "planned shift of a driver", Practice("9 to 11 h");
    CARE: f64 = 1.0, "drivers.care", "times the habit of the house", "how carefully a driver reads tickets", Practice("");
    HAULER_LEAST_H: f64 = 4.0, "drivers.hauler_least_h", "h", "least hours paid on a day on which a hired hauler is called", Practice("");
    CLASS: () = (), "drivers.class", "", "license of a driver (left out: the right one)", Off;
    HISTORY: () = (), "drivers.history", "", "hours before the first day (left out: rested, none worked)", Off;

    EMPTY_OVER_LB: f64 = BOOKED.mean_over_lb, "weighing.empty_over_lb", "lb", "empty truck beyond the books, where no truck scale tells", Practice("");
    EMPTY_SD_LB: f64 = BOOKED.sd_lb, "weighing.empty_sd_lb", "lb", "how that differs from day to day (standard deviation)", Practice("");
    HELD: Spread = Spread::Lognormal { mean: 45.0, cv: 0.4 }, "weighing.held", "min", "how long an overweight truck is held", Practice("");
    GOES_ROUND: f64 = 0.0, "weighing.goes_round", "share of loads", "unweighed loads that detour around a weigh station", Off;
}
