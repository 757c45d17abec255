//! Prices, and what customers pay.

use crate::units::{Cents, Millis, Rate, Volume, Weekday};

/// Prices in whole units of the scenario's currency, all 0 or more:
///
/// ```text
/// (pay_per_h?: 27, overtime_after_h?: 8, overtime_factor?: 1.5, truck_per_duty_h?: 25, truck_per_driven_h?: 30,
///  crew_per_open_h?: 110, material_per_yd3?: 105, dumped_per_yd3?: 40, payroll_tax?: 0.0765,
///  late_per_load?: 50, late_per_min?: 2, first_late_per_min?: 4, gap_per_min?: 5, broken_pour?: 1500, early_per_min?: 0.25,
///  outside_per_load?: 15, below_strength?: 500, moved_per_min?: 1, moved_lost_share?: 0.05,
///  undelivered_per_yd3?: 180, stranded?: 400, lodging?: 0, helper_per_h?: 55,
///  overtime_after_week_h?: 40, second_overtime?: (after_h: 12, factor: 2), call_out_min_h?: 4,     // left out: none
///  guaranteed_day_h?: 6, guaranteed_week_h?: 40, show_up?: (share?: 0.5, least_h?: 2, most_h?: 4), // left out: none
///  workweek?: Monday,
///  night?: (from: "20:00", to: "05:00", per_h: 2.5), weekend?: (days?: [Saturday, Sunday], factor: 1.25),
///  truck_per_mile?: 0, miles_at_mph?: 30, per_washout?: 0, found_heavy?: 0, drum_stabilized?: 100, drum_emptied?: 1500, drum_chipped_out?: 5000, returned_per_yd3?: 40, pump_standby_per_h?: 0, site_crew_per_h?: 0,
///  revenue?: (per_yd3?: 170, prices?: {"air": 182}, unloading_min_per_yd3?: 7, unloading_per_min?: 2.5, short_load_under_yd3?: 5, short_load?: 90))
/// ```
/// A driver's hour earns the highest factor that applies to it, once. A tour belongs to the day on which it began, and to that
/// day's workweek: seven days from `workweek` on, fixed and recurring (29 CFR 778.105). Hours that are overtime by the day do not
/// count towards the week's, whether in the period or before it (`history` of a driver). Hours that are paid and not worked are
/// paid at the plain rate and count towards no overtime (29 CFR 778.218 to 778.220).
#[derive(Clone, Debug, PartialEq)]
pub struct Money {
    /// A driver's paid hour.
    pub pay_per_h: Cents,
    /// Hours of duty in tours that began on one day after which an hour is overtime.
    pub overtime_after: Millis,
    /// Factor on an overtime hour, 1 or more.
    pub overtime_factor: f64,
    /// A truck's hour with a driver on duty.
    pub truck_per_duty_h: Cents,
    /// A truck's driven hour on top: fuel, tyres, wear.
    pub truck_per_driven_h: Cents,
    /// A plant's crew, per open hour.
    pub crew_per_open_h: Cents,
    /// Material of a batched yd³.
    pub material_per_yd3: Rate,
    /// Getting rid of a yd³ that is not placed.
    pub dumped_per_yd3: Rate,
    /// The employer's taxes on a dollar of pay.
    pub payroll_tax: f64,
    /// A late load.
    pub late_per_load: Cents,
    /// A minute of a late load beyond the order's tolerance, the first load of an order left out.
    pub late_per_min: Cents,
    /// The same of an order's first load, for which crew and pump stand and wait.
    pub first_late_per_min: Cents,
    /// A minute of a gap in a running pour, beyond what the order tolerates: cold joints.
    pub gap_per_min: Cents,
    /// A pour that is begun and not finished: joint, pump, crew, claim. What was not placed is a lost sale besides.
    pub broken_pour: Cents,
    /// A minute by which a load comes earlier than the order's tolerance before it can be taken; its truck and driver are paid apart from
    /// it.
    pub early_per_min: Cents,
    /// A truck that waits on the street because its site has no room.
    pub outside_per_load: Cents,
    /// A load placed whose strength the added water has taken below the specified one.
    pub below_strength: Cents,
    /// A minute by which an order is taken for a later time than asked for.
    pub moved_per_min: Cents,
    /// Share of customers who go elsewhere when their order is moved: that share of its price is a lost sale.
    pub moved_lost_share: f64,
    /// Goodwill lost with a yd³ not delivered on its order's day. The sale itself is counted apart, where it is lost for good.
    pub undelivered_per_yd3: Rate,
    /// A stranded driver: trouble and lost goodwill. Hours, helpers and beds are paid apart from it.
    pub stranded: Cents,
    /// A bed for a driver who rests out away from home.
    pub lodging: Cents,
    /// A helper's hour, car included.
    pub helper_per_h: Cents,
    /// Hours in a week, those that are overtime by the day left out, after which an hour is overtime. None: no such limit.
    pub overtime_after_week: Option<Millis>,
    /// Hours of a day after which an hour earns another factor. None: no second step.
    pub second_overtime: Option<(Millis, f64)>,
    /// The least that a tour is paid for, at the plain rate.
    pub call_out: Millis,
    /// The least that a driver is paid for in a day on which one of the driver's tours begins, 0 to 24 h, unless the driver's own
    /// `guaranteed_h` says otherwise.
    pub guaranteed_day: Millis,
    /// The least that a driver is paid for in a workweek, 0 to 168 h, but no more than the roster gives: a driver who is rostered for
    /// fewer hours has those. A week that is only partly in the period counts by its rostered days that are, and a day on which the
    /// driver does not come is left out.
    pub guaranteed_week: Millis,
    /// What a driver is paid for who comes and is sent home early, or whose call is taken back. None: nothing.
    pub show_up: Option<ShowUp>,
    /// Weekday on which the workweek begins.
    pub workweek: Weekday,
    /// What an hour of the night earns on top. None: nothing.
    pub night: Option<Night>,
    /// What hours of tours that began on some weekdays earn. None: no more than on others.
    pub weekend: Option<Weekend>,
    /// A truck's driven mile.
    pub truck_per_mile: Rate,
    /// On a table of minutes: the speed that makes free-flow minutes miles, miles an hour, 1 to 100. A network knows its miles.
    pub miles_at_mph: f64,
    /// A washout of the drum at the end of a tour.
    pub per_washout: Cents,
    /// A truck found heavy at a weigh station.
    pub found_heavy: Cents,
    /// Stabilizer for the load of a truck that has broken down, so that it comes back with the truck.
    pub drum_stabilized: Cents,
    /// Emptying the drum of a truck that has broken down, beside the road.
    pub drum_emptied: Cents,
    /// A load that has set in the drum of a truck that has broken down: towing and chipping out.
    pub drum_chipped_out: Cents,
    /// Doing something with a yd³ that comes back and is not reused: blocks, reclaiming, disposal.
    pub returned_per_yd3: Rate,
    /// An hour in which a pour with a pump stands still between its first and its last discharge.
    pub pump_standby_per_h: Cents,
    /// An hour in which the crew of any pour stands still between its first and its last discharge.
    pub site_crew_per_h: Cents,
    /// What customers pay.
    pub revenue: Revenue,
}

/// `(share?: 0.5, least_h?: 2, most_h?: 4)`: 8 CCR 11090(5)(A).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShowUp {
    /// Share of the planned tour that is paid for at least, 0 to 1.
    pub share: f64,
    /// No less than this, 0 to 24 h.
    pub least: Millis,
    /// No more than this, `least` to 24 h.
    pub most: Millis,
}

impl ShowUp {
    /// What is paid for at least, of a planned tour.
    pub fn of(&self, shift: Millis) -> Millis {
        Millis::from_hours(shift.hours() * self.share).clamp(self.least, self.most)
    }
}

/// `(from: "20:00", to: "05:00", per_h: 2.5)`
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Night {
    /// Begins, since midnight.
    pub from: Millis,
    /// Ends, since midnight; on the next day if before `from`.
    pub to: Millis,
    /// What an hour within earns on top of everything.
    pub per_h: Cents,
}

/// `(days?: [Saturday, Sunday], factor: 1.25)`
#[derive(Clone, Debug, PartialEq)]
pub struct Weekend {
    /// Weekdays on which a tour begins that earns the factor.
    pub days: Vec<Weekday>,
    /// Factor on every hour of it that earns no higher one, 1 to 10.
    pub factor: f64,
}

/// ```text
/// (per_yd3?: 170, prices?: {"air": 182}, unloading_min_per_yd3?: 7, unloading_per_min?: 0, short_load_under_yd3?: 0, short_load?: 0)
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Revenue {
    /// Price of a yd³ placed.
    pub per_yd3: Rate,
    /// Mixes with a price of their own for a yd³.
    pub prices: Vec<(String, Rate)>,
    /// Minutes for each yd³ that a load may take on site, from its arrival (or when it is due, if that is later) to the end
    /// of its discharge. One producer's published terms: 7; 5 is also usual (common practice, no source).
    pub unloading_min_per_yd3: f64,
    /// A minute beyond.
    pub unloading_per_min: Cents,
    /// A complete order of less than this pays `short_load`, once; what a rule cuts an order into does not matter.
    pub short_load_under: Volume,
    /// See there.
    pub short_load: Cents,
}

impl Revenue {
    /// The price of a yd³ of a mix.
    pub fn of_mix(&self, mix: &str) -> Rate {
        let own = self.prices.iter().find(|(name, _)| name == mix);
        own.map_or(self.per_yd3, |(_, price)| *price)
    }
}
