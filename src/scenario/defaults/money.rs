//! Prices.

use super::Source::{Memory, Off, Practice, Published};
use super::defaults;
use crate::units::{Cents, Rate, Weekday};

defaults! {
    PAY_PER_H: Cents = Cents::dollars(27), "money.pay_per_h", "an hour", "drivers' paid hour",
        Memory("national wage statistics, drivers of heavy trucks, May 2023: about $26.9");
    OVERTIME_AFTER_H: f64 = 8.0, "money.overtime_after_h", "h", "hours of a day after which overtime is paid",
        Published("over 8 h a day in Alaska and California; federal law counts 40 h a week, 29 USC 207");
    OVERTIME_FACTOR: f64 = 1.5, "money.overtime_factor", "times the pay", "overtime", Published("29 USC 207");
    OVERTIME_AFTER_WEEK: () = (), "money.overtime_after_week_h", "h", "hours of a week after which overtime is paid", Off;
    SECOND_OVERTIME: () = (), "money.second_overtime", "", "second step of overtime", Off;
    CALL_OUT_H: f64 = 0.0, "money.call_out_min_h", "h", "least hours paid for a shift", Off;
    GUARANTEED_DAY: f64 = 0.0, "money.guaranteed_day_h", "h", "hours that a driver who comes is paid for at least that day", Off;
    GUARANTEED_WEEK: f64 = 0.0, "money.guaranteed_week_h", "h", "hours that a scheduled driver is paid for at least in a week", Off;
    SHOW_UP: () = (), "money.show_up", "", "show-up pay of a driver who is sent home early, or called off", Off;
    SHOW_UP_SHARE: f64 = 0.5, "money.show_up.share", "of the shift", "share of the scheduled shift that show-up pay is for",
        Published("half the usual or scheduled day's work: 8 CCR 11090(5)(A)");
    SHOW_UP_LEAST: f64 = 2.0, "money.show_up.least_h", "h", "least show-up pay", Published("no less than 2 hours: 8 CCR 11090(5)(A)");
    SHOW_UP_MOST: f64 = 4.0, "money.show_up.most_h", "h", "most show-up pay", Published("no more than 4 hours: 8 CCR 11090(5)(A)");
    WORKWEEK: Weekday = Weekday::Monday, "money.workweek", "", "weekday on which the workweek begins",
        Practice("the employer fixes it, any day will do: 29 CFR 778.105");
    NIGHT: () = (), "money.night", "", "night premium", Off;
    WEEKEND: () = (), "money.weekend", "", "weekend premium", Off;
    TRUCK_PER_DUTY_H: Cents = Cents::dollars(25), "money.truck_per_duty_h", "an hour", "truck with a driver on duty",
        Practice("with the driven hour below, under the $91 an hour of general freight in 2024, driver included");
    TRUCK_PER_DRIVEN_H: Cents = Cents::dollars(30), "money.truck_per_driven_h", "an hour", "driven hour on top: fuel, tires, wear", Practice("");
    TRUCK_PER_MILE: Rate = Rate::ZERO, "money.truck_per_mile", "a mile", "driven mile", Off;
    MILES_AT_MPH: f64 = 30.0, "money.miles_at_mph", "miles an hour", "speed that makes miles of a table's minutes",
        Practice("usual hauls run at 30 to 34 miles an hour");
    PER_WASHOUT: Cents = Cents::ZERO, "money.per_washout", "each", "drum washout", Off;
    CREW_PER_OPEN_H: Cents = Cents::dollars(110), "money.crew_per_open_h", "an hour", "crew of an open plant", Practice("");
    MATERIAL_PER_YD3: Rate = Rate::dollars(105), "money.material_per_yd3", "a yd³", "material of a batched yd³", Practice("");
    DUMPED_PER_YD3: Rate = Rate::dollars(40), "money.dumped_per_yd3", "a yd³", "getting rid of a yd³", Practice("");
    RETURNED_PER_YD3: Rate = Rate::dollars(40), "money.returned_per_yd3", "a yd³", "handling a yd³ that comes back", Practice("");
    PAYROLL_TAX: f64 = 0.0765, "money.payroll_tax", "of the pay", "employer's payroll taxes",
        Published("6.2% and 1.45%, 26 USC 3111; unemployment and workers' compensation insurance come on top");
    LATE_PER_LOAD: Cents = Cents::dollars(50), "money.late_per_load", "a load", "late load", Practice("");
    LATE_PER_MIN: Cents = Cents::dollars(2), "money.late_per_min", "a minute", "minute of a late load beyond what is tolerated", Practice("");
    FIRST_LATE_PER_MIN: Cents = Cents::dollars(4), "money.first_late_per_min", "a minute",
        "the same of an order's first load, for which crew and pump wait (left out: twice that)", Practice("");
    GAP_PER_MIN: Cents = Cents::dollars(5), "money.gap_per_min", "a minute", "minute of a gap in a running pour", Practice("");
    BROKEN_POUR: Cents = Cents::dollars(1500), "money.broken_pour", "a pour", "pour begun and not finished, besides what is not sold",
        Practice("");
    EARLY_PER_MIN: Cents = Cents(25), "money.early_per_min", "a minute",
        "minute by which a load comes too early, besides truck and driver", Practice("");
    OUTSIDE_PER_LOAD: Cents = Cents::dollars(15), "money.outside_per_load", "a load", "truck waiting on the street for a full site", Practice("");
    BELOW_STRENGTH: Cents = Cents::dollars(500), "money.below_strength", "a load", "load placed below its strength: cores, talks, claims",
        Practice("");
    MOVED_PER_MIN: Cents = Cents::dollars(1), "money.moved_per_min", "a minute", "minute by which an order is taken later than asked for",
        Practice("");
    MOVED_LOST_SHARE: f64 = 0.05, "money.moved_lost_share", "of them", "customers who go elsewhere when their order is moved",
        Practice("");
    UNDELIVERED_PER_YD3: Rate = Rate::dollars(180), "money.undelivered_per_yd3", "a yd³", "goodwill lost with a yd³ not delivered on its day, besides the sale", Practice("");
    STRANDED: Cents = Cents::dollars(400), "money.stranded", "a driver", "stranded driver, besides hours, helpers and lodging", Practice("");
    LODGING: Cents = Cents::ZERO, "money.lodging", "a night", "lodging of a driver who stays overnight", Off;
    HELPER_PER_H: Cents = Cents::dollars(55), "money.helper_per_h", "an hour", "helper with a car", Practice("");
    FOUND_HEAVY: Cents = Cents::ZERO, "money.found_heavy", "a truck", "overweight truck at a weigh station", Off;
    DRUM_STABILIZED: Cents = Cents::dollars(100), "money.drum_stabilized", "a load", "stabilizer for the load of a truck that has broken down",
        Practice("an extended-set dose for a whole drum");
    DRUM_EMPTIED: Cents = Cents::dollars(1500), "money.drum_emptied", "a drum", "emptying a broken-down drum beside the road", Practice("");
    DRUM_CHIPPED_OUT: Cents = Cents::dollars(5000), "money.drum_chipped_out", "a drum",
        "drum in which a load has set on the road: towing, chipping out", Practice("");
    PUMP_STANDBY: Cents = Cents::ZERO, "money.pump_standby_per_h", "an hour", "pump that stands still during a pour", Off;
    SITE_CREW: Cents = Cents::ZERO, "money.site_crew_per_h", "an hour", "site crew that stands still during a pour", Off;
    SALE_PRICE: Rate = Rate::dollars(170), "money.revenue.per_yd3", "a yd³", "sale price",
        Memory("mean of five listed US producers, 2024: $173");
    UNLOADING_ALLOWANCE: f64 = 7.0, "money.revenue.unloading_min_per_yd3", "min a yd³", "free unloading time",
        Published("70 min for 10 yd³: a US producer's published terms");
    UNLOADING_PER_MIN: Cents = Cents::ZERO, "money.revenue.unloading_per_min", "a minute", "unloading beyond the free time", Off;
    SHORT_LOAD_UNDER: f64 = 0.0, "money.revenue.short_load_under_yd3", "yd³", "orders that pay a short-load fee", Off;
    SHORT_LOAD: Cents = Cents::ZERO, "money.revenue.short_load", "an order", "short-load fee", Off;
}
