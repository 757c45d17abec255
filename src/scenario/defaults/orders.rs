//! Orders and how their sites take the loads.

use super::Source::{Off, Practice, Published};
use super::defaults;
use crate::engine::Spread;
use crate::units::Volume;

defaults! {
    LOAD: Volume = Volume::thousandths(10_000), "orders.load_yd3", "yd³", "load that an order asks for, or the largest drum",
        Published("median full load 10.0 yd³: NRMCA fleet survey 2017, Concrete inFocus");
    LATE_MIN: f64 = 15.0, "orders.late_min", "min", "how late a load may come",
        Published("± 15 min of schedule: a US producer's published terms");
    GAP_MIN: f64 = 20.0, "orders.gap_min", "min", "pause that a pour tolerates, or its spacing",
        Practice("30 to 45 min to a cold joint in usual weather");
    SETUP_MIN: f64 = 0.0, "orders.setup_min", "min", "set-up on site before the first load", Off;
    CHANCE: f64 = 1.0, "orders.chance", "share of simulated periods", "orders that come only now and then", Off;
    CALLED: () = (), "orders.called", "", "when the desk hears of an order (left out: known from the start)", Off;
    ORDER_AGE_LIMIT: () = (), "orders.age_limit_min", "min", "age limit of an order of its own (left out: that of all)", Off;
    AGE_WAIVED: () = (), "orders.age_waived_share", "share of loads", "loads past the age limit that a site takes if they need no water", Off;
    STABILIZER: () = (), "orders.stabilizer", "", "stabilizer (extended-set admixture) in an order's concrete", Off;
    OUTDOOR: bool = false, "orders.outdoor", "", "rain cancels the order", Off;
    PUMP: bool = false, "orders.pump", "", "a pump stands on site, paid by the hour", Off;
    FINISH_BY: () = (), "orders.finish_by", "", "when a pour was agreed to be finished", Off;

    OUTLET_YD3_MIN: f64 = 1.0, "orders.outlets.rate_yd3_min", "yd³ a minute", "pour rate at an outlet",
        Practice("chute 1 to 2, pump 0.7 to 1.5");
    OUTLET_PLACES: u32 = 1, "orders.outlets.places", "trucks", "truck positions at an outlet", Practice("");
    WAITING_ROOM: () = (), "orders.waiting_room", "trucks", "room for waiting trucks on site (left out: no limit)", Off;
    POSITION: Spread = Spread::Lognormal { mean: 3.4, cv: 0.5 }, "orders.position", "min", "pulling up to unload", Practice("");
    DISCHARGE: () = (), "orders.discharge", "min", "unloading in minutes (left out: volume by the pour rate)", Off;
    DISCHARGE_LUCK: Spread = Spread::Lognormal { mean: 1.0, cv: 0.4 }, "orders.discharge_luck", "times the usual minutes",
        "loads that take longer or shorter to unload", Practice("lognormal fits pours best in UK studies");
    CHUTE_WASH: Spread = Spread::Triangular { low: 3.0, mode: 5.0, high: 10.0 }, "orders.chute_wash", "min", "chute wash on site",
        Practice("5 min is a planning value of the trade");
    PARKING: bool = true, "sites.parking", "", "a truck may stand on site overnight", Practice("");
}
