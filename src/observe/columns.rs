//! The figures of a replication: what each column of a row means.

use super::figure_unit::FigureUnit;
use crate::scenario::Scenario;

/// Which direction of a figure is the better one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// Less is better.
    Less,
    /// More is better.
    More,
    /// Neither: it only describes.
    Neither,
}

/// One figure of a row.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Name in files.
    pub key: String,
    /// Name for people.
    pub label: String,
    /// What it is counted in.
    pub unit: FigureUnit,
    /// Decimals that make sense on a screen.
    pub decimals: usize,
    /// Which direction is better.
    pub better: Better,
}

/// Declares the figures once: a constant for each position, and the list.
macro_rules! figures {
    ($($(#[$doc:meta])* $name:ident, $key:literal, $label:literal, $unit:ident, $decimals:literal, $better:ident;)*) => {
        /// Positions of the figures in a row; queue figures follow.
        pub mod figure {
            // One name serves the position and the constant.
            #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
            enum Position { $($name),* }
            $($(#[$doc])* pub const $name: usize = Position::$name as usize;)*
            /// How many there are.
            pub const COUNT: usize = [$(Position::$name as usize),*].len();
        }
        const FIGURES: [(&str, &str, FigureUnit, usize, Better); figure::COUNT] =
            [$(($key, $label, FigureUnit::$unit, $decimals, Better::$better)),*];
    };
}

figures! {
    /// All costs of the period, penalties included.
    COST, "cost", "cost", Money, 0, Less;
    /// Cost per yd³ placed; blank if none was.
    COST_PER_YD3, "cost_per_yd3", "cost per yd³", MoneyPerYd3, 2, Less;
    /// Loads discharged on site (in the measured span, if the scenario has one).
    LOADS, "loads", "loads placed", Count, 1, More;
    /// Loads later than tolerated, undelivered ones included.
    LATE_LOADS, "late_loads", "late loads", Count, 2, Less;
    /// Late loads over all loads that are judged.
    LATE_SHARE, "late_share", "share of loads late", Share, 1, Less;
    /// Mean minutes late over the loads that came on site.
    LATE_MIN, "late_min", "minutes late per load", Minutes, 1, Less;
    /// Orders whose first load was late.
    FIRST_LATE, "first_loads_late", "first loads late", Count, 2, Less;
    /// Loads not on site by the end of their order's day.
    UNDELIVERED, "undelivered_loads", "undelivered loads", Count, 2, Less;
    /// Orders complete, with all loads within tolerance, over all orders.
    SERVED_SHARE, "served_share", "orders served", Share, 1, More;
    /// Pours finished later than agreed, or not at all.
    POURS_LATE, "pours_late", "pours finished late", Count, 2, Less;
    /// Pauses of pours beyond what is tolerated.
    GAPS, "gaps", "gaps in pours", Count, 2, Less;
    /// Minutes of pauses beyond what is tolerated.
    GAP_MIN, "gap_min", "minutes of gap", Minutes, 1, Less;
    /// Minutes between first and last discharge with none running.
    CREW_WAIT_MIN, "crew_wait_min", "crews waiting on site", Minutes, 0, Less;
    /// Drivers stranded, once per driver day.
    STRANDED, "stranded", "drivers stranded", Count, 3, Less;
    /// Minutes driven beyond the limit.
    VIOLATION_MIN, "violation_min", "minutes driven past the limit", Minutes, 2, Less;
    /// Smallest clock left at the end of a driver's last drive; blank without a limit.
    MARGIN_MIN, "margin_min", "closest to the limit", Minutes, 0, More;
    /// Driver days lost because rest ended too late.
    DAYS_LOST, "driver_days_lost", "driver days lost", Count, 3, Less;
    /// Loads lost with a full drum because the driver was out of hours.
    LOADS_LOST, "loads_lost", "loads lost, driver out of hours", Count, 3, Less;
    /// Loads rejected on site.
    REJECTED, "rejected", "loads rejected", Count, 2, Less;
    /// Loads made again, at the rack or after a rejection.
    REBATCHED, "rebatched", "loads made again", Count, 2, Less;
    /// Loads dried up.
    DRY_UPS, "dry_ups", "dry-ups", Count, 2, Less;
    /// Stranded drivers whom a helper fetched.
    FETCHED, "fetched", "stranded drivers fetched", Count, 3, Neither;
    /// Driver days on which the driver did not come.
    NO_SHOWS, "no_shows", "no-shows", Count, 2, Neither;
    /// Promises broken before loading.
    BROKEN, "promises_broken", "promises broken", Count, 2, Less;
    /// Candidates refused because of hours: legal, company's and rule's gates.
    REFUSED_HOURS, "refused_hours", "refused for hours", Count, 0, Neither;
    /// Candidates refused because the plant was closed.
    REFUSED_CLOSED, "refused_closed", "refused, plant closed", Count, 0, Neither;
    /// Candidates refused for other reasons: no way, weight, not lent.
    REFUSED_OTHER, "refused_other", "refused, other reasons", Count, 0, Neither;
    /// Volume ordered.
    ORDERED_YD3, "ordered_yd3", "ordered", Yd3, 1, Neither;
    /// Volume cancelled.
    CANCELLED_YD3, "cancelled_yd3", "cancelled", Yd3, 1, Neither;
    /// Volume batched.
    BATCHED_YD3, "batched_yd3", "batched", Yd3, 1, Neither;
    /// Volume placed.
    PLACED_YD3, "placed_yd3", "placed", Yd3, 1, More;
    /// Volume dumped.
    DUMPED_YD3, "dumped_yd3", "dumped", Yd3, 2, Less;
    /// Volume ordered and never sent.
    LEFT_YD3, "left_yd3", "left over", Yd3, 1, Less;
    /// Paid hours.
    PAID_H, "paid_h", "paid hours", Hours, 1, Less;
    /// Overtime hours.
    OVERTIME_H, "overtime_h", "overtime", Hours, 1, Less;
    /// Productive over paid minutes.
    TRUCK_USE, "truck_use", "truck use", Share, 1, More;
    /// Mean wait for a bay, per load.
    BAY_WAIT_MIN, "bay_wait_min", "wait for a bay", Minutes, 1, Less;
    /// Mean wait on site for a place, per load.
    SITE_WAIT_MIN, "site_wait_min", "wait on site", Minutes, 1, Less;
    /// Loads that had to wait outside of their site.
    OUTSIDE, "waited_outside", "loads waiting outside the site", Count, 1, Less;
    /// Volume that was not needed and came back, and was not reused.
    RETURNED_YD3, "returned_yd3", "came back unneeded", Yd3, 2, Less;
    /// Breakdowns of trucks on the road.
    BREAKDOWNS, "breakdowns", "breakdowns", Count, 2, Less;
    /// Trucks found heavy at a weigh station.
    FOUND_HEAVY, "found_heavy", "trucks found heavy", Count, 2, Less;
    /// What customers pay; blank without prices for them.
    REVENUE, "revenue", "revenue", Money, 0, More;
    /// Revenue less all costs; blank without revenue.
    MARGIN, "margin", "revenue less cost", Money, 0, More;
    /// Loads found too wet at the rack. This and what follows: blank where the scenario describes no mixes.
    WET_AT_RACK, "wet_at_rack", "loads found too wet at the rack", Count, 2, Less;
    /// Loads found too wet on site, and rejected.
    WET_ON_SITE, "wet_on_site", "rejected, too wet", Count, 3, Less;
    /// Loads rejected on site because they were too stiff.
    STIFF, "rejected_stiff", "rejected, too stiff", Count, 3, Less;
    /// Loads rejected on site because of their air.
    AIR, "rejected_air", "rejected, air", Count, 3, Less;
    /// Loads rejected on site because of age or revolutions.
    OLD, "rejected_old", "rejected, time or revolutions", Count, 3, Less;
    /// Loads rejected on site because they were of another mix.
    WRONG_MIX, "rejected_wrong_mix", "rejected, wrong mix", Count, 3, Less;
    /// Loads that got water in the yard.
    WATERED, "watered", "loads watered in the yard", Count, 2, Neither;
    /// Loads that got water on site.
    RETEMPERED, "retempered", "loads retempered", Count, 2, Less;
    /// Cement of dry-ups.
    CEMENT_LB, "dry_up_cement_lb", "cement of dry-ups", Lb, 0, Less;
    /// Fine aggregate of dry-ups.
    FINE_LB, "dry_up_fine_lb", "fine aggregate of dry-ups", Lb, 0, Less;
    /// Material of dry-ups, part of the cost.
    DRY_UP_COST, "dry_up_cost", "material of dry-ups", Money, 0, Less;
    /// Volume of parts of loads dumped for dry-ups, beside whole loads.
    PARTS_DUMPED_YD3, "parts_dumped_yd3", "parts of loads dumped", Yd3, 2, Less;
    /// Loads placed whose strength the added water has taken below the specified one.
    BELOW_STRENGTH, "below_strength", "loads below strength, by water", Count, 2, Less;
    /// Mean strength that the water took from those; blank without one.
    PSI_LOST, "psi_lost", "strength lost to water by those", Psi, 0, Less;
    /// Loads that weigh more with their truck than the law allows.
    HEAVY, "heavy_loads", "loads over the legal weight", Count, 2, Less;
    /// Minutes driven beyond the driving limit.
    VIOLATION_DRIVING_MIN, "violation_driving_min", "minutes past the driving limit", Minutes, 2, Less;
    /// Minutes driven after the window's end.
    VIOLATION_WINDOW_MIN, "violation_window_min", "minutes past the window", Minutes, 2, Less;
    /// Minutes driven beyond the limit of time on duty.
    VIOLATION_ON_DUTY_MIN, "violation_on_duty_min", "minutes past the hours on duty", Minutes, 2, Less;
    /// Minutes driven without a break that was due.
    VIOLATION_BREAK_MIN, "violation_break_min", "minutes driven with a break due", Minutes, 2, Less;
    /// Minutes driven beyond the weekly hours.
    VIOLATION_WEEK_MIN, "violation_week_min", "minutes past the weekly hours", Minutes, 2, Less;
    /// Margin at the end of a tour's last drive that 5 % of tours do not reach; blank without a limit.
    MARGIN_WORST_MIN, "margin_worst_5_percent_min", "margin of the worst 5 % of tours", Minutes, 0, More;
    /// Reports later than planned, for want of rest or weekly hours.
    LATE_REPORTS, "late_reports", "late reports", Count, 2, Less;
    /// Once-a-week longer windows used.
    LONG_DAYS, "long_days", "longer windows used", Count, 2, Neither;
    /// Stranded: the way home did not fit when the load left the plant.
    STRANDED_LOADED_LATE, "stranded_loaded_late", "stranded, loaded too late", Count, 3, Less;
    /// Stranded: the same, from a plant that is not the truck's home.
    STRANDED_LENT, "stranded_lent", "stranded, lent too far", Count, 3, Less;
    /// Stranded: the way out took longer than believed.
    STRANDED_TRAFFIC, "stranded_traffic", "stranded, traffic", Count, 3, Less;
    /// Stranded: the site took longer than believed.
    STRANDED_SITE, "stranded_site", "stranded, the site took long", Count, 3, Less;
    /// Stranded: the driver began with less than a whole day on the clocks.
    STRANDED_SHORT, "stranded_clock_short", "stranded, few hours left that morning", Count, 3, Less;
    /// Stranded at a plant of the own, after a lend.
    STRANDED_AT_PLANT, "stranded_at_plant", "stranded at another plant", Count, 3, Less;
    /// Mean hours until a stranded driver was home; blank if nobody was stranded.
    STRANDED_HOME_H, "stranded_home_h", "hours until the stranded got home", Hours, 1, Less;
    /// Minutes by which helpers were there earlier because a stranding was foreseen.
    FORESEEN_MIN, "foreseen_min", "minutes gained by foreseeing", Minutes, 0, Neither;
    /// Stranded drivers fetched by drivers of the own fleet.
    FETCHED_OWN, "fetched_by_own", "fetched by own drivers", Count, 3, Neither;
    /// Full drums out of hours that somebody else brought to an end.
    FULL_RELIEVED, "full_drums_relieved", "full drums out of hours, relieved", Count, 3, Neither;
    /// Full drums out of hours that a stabiliser kept.
    FULL_STABILISED, "full_drums_stabilised", "full drums out of hours, stabilised", Count, 3, Less;
    /// Full drums out of hours in which the load set.
    FULL_SET, "full_drums_set", "full drums out of hours, set", Count, 3, Less;
    /// Driver days for which the driver was not called.
    NOT_CALLED, "drivers_not_called", "drivers not called", Count, 2, Neither;
    /// Drivers stranded with a load for which a gate was overridden or the driver overruled.
    STRANDED_OVERRIDDEN, "stranded_overridden", "stranded, gate overridden or driver overruled", Count, 3, Less;
    /// Orders refused when they were called in.
    DECLINED, "orders_refused", "orders refused", Count, 2, Less;
    /// Hours for which plants were kept open beyond their posted hours.
    KEPT_OPEN_H, "kept_open_h", "plants kept open", Hours, 1, Neither;
    /// Loads redirected to another order.
    REDIRECTED, "redirected", "loads redirected", Count, 2, Neither;
    /// Stranded drivers who rest out away from home.
    RESTED_OUT, "rested_out", "drivers who rest out", Count, 3, Less;
    /// Volume that came back and went under another load: batched and got rid of so much less.
    REUSED_YD3, "reused_yd3", "came back and reused", Yd3, 2, More;
    /// Loads found too wet, at the rack or on site, mostly by water for HRWR that the meter did not see. Blank, as the causes that
    /// follow, where the scenario describes no mixes.
    WET_BY_HRWR, "wet_by_unseen_hrwr", "wet loads, by HRWR unseen by the meter", Count, 2, Less;
    /// The same, by other water added: to taste.
    WET_BY_WATER, "wet_by_added_water", "wet loads, by water to taste", Count, 2, Less;
    /// The same, by more water on the aggregates than believed.
    WET_BY_MOISTURE, "wet_by_moisture", "wet loads, by aggregate moisture", Count, 2, Less;
    /// The same, by concrete cooler than the plant reckoned with.
    WET_BY_COOL, "wet_by_cool_concrete", "wet loads, by cooler concrete", Count, 2, Less;
    /// The same, by an error of the meter or the cone.
    WET_BY_READING, "wet_by_reading", "wet loads, by an error of the reading", Count, 2, Less;
}

/// The figures of each queue, in this order.
pub(super) const QUEUE_FIGURES: [(&str, &str, FigureUnit, usize); 5] = [
    ("throughput_per_h", "throughput", FigureUnit::PerHour, 2),
    ("mean_waiting", "trucks waiting", FigureUnit::Count, 2),
    ("mean_present", "trucks present", FigureUnit::Count, 2),
    ("busy_share", "busy", FigureUnit::Share, 1),
    ("mean_wait_min", "mean wait", FigureUnit::Minutes, 1),
];

/// Every column of a row of this scenario: the figures, then five for each queue.
pub fn columns(scenario: &Scenario) -> Vec<Column> {
    let mut columns: Vec<Column> = FIGURES
        .iter()
        .map(|(key, label, unit, decimals, better)| Column {
            key: (*key).into(),
            label: (*label).into(),
            unit: *unit,
            decimals: *decimals,
            better: *better,
        })
        .collect();
    for queue in super::queues::names(scenario) {
        for (key, label, unit, decimals) in QUEUE_FIGURES {
            columns.push(Column {
                key: format!("{queue}: {key}"),
                label: format!("{queue}: {label}"),
                unit,
                decimals,
                better: Better::Neither,
            });
        }
    }
    columns
}
