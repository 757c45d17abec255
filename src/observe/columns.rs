//! The figures of a replication: what each column of a row means.

use super::figure_unit::FigureUnit;
use crate::hours::RuleBook;
use crate::scenario::Scenario;
use crate::units::measure;

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

/// What a scenario must have for a figure to be looked at: without it, the figure is blank or zero in every replication, and says
/// nothing of what could happen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Needs {
    /// Nothing special.
    Nothing,
    /// Mixes, with which the concrete in the drums is computed.
    Mixes,
    /// A driver whose hours are limited.
    Limits,
    /// Loads that may be too wet: mixes, or a share of loads misread at the rack.
    WetLoads,
    /// A limit of the concrete's age.
    Age,
    /// Loads that may be too wet, or too old.
    Rejections,
    /// Trucks that may break down.
    Breakdowns,
    /// The same; elsewhere it is left out of files.
    GivenUp,
    /// Drivers who may not come.
    NoShows,
    /// A weigh station, and trucks that may be heavy.
    WeighStation,
    /// Sites that may send concrete back.
    Returns,
}

impl Needs {
    /// What this scenario lacks of it, as `this scenario has …`; none if nothing.
    pub fn lacking(self, scenario: &Scenario) -> Option<&'static str> {
        let mixes = scenario.concrete.material.is_some();
        let wet = mixes || scenario.concrete.rack.is_some();
        let own_age = scenario
            .orders
            .iter()
            .any(|order| order.age.limit.is_some());
        let age = mixes || own_age || scenario.concrete.age_limit.is_some();
        let (has, without) = match self {
            Self::Nothing => return None,
            Self::Mixes => (mixes, "no concrete described (`mixes` in `concrete`)"),
            Self::Limits => (
                scenario
                    .drivers
                    .iter()
                    .any(|driver| driver.rule_book != RuleBook::Unlimited),
                "no limit to any driver's hours (`rule_book: \"none\"`)",
            ),
            Self::WetLoads => (
                wet,
                "no load that may be too wet (`rack` or `mixes` in `concrete`)",
            ),
            Self::Age => (
                age,
                "no limit to the concrete's age (`age_limit_min` in `concrete`)",
            ),
            Self::Rejections => (
                wet || age,
                "no load that may be rejected (`age_limit_min`, `rack` or `mixes` in `concrete`)",
            ),
            Self::Breakdowns | Self::GivenUp => (
                scenario
                    .trucks
                    .iter()
                    .any(|truck| truck.breakdowns.is_some()),
                "no truck that may break down (`breakdowns` in `trucks`)",
            ),
            Self::NoShows => (
                scenario.changes.no_show > 0.0,
                "no driver who may not come (`no_show` in `changes`)",
            ),
            Self::WeighStation => {
                let network = scenario.roads.network.as_ref();
                let station = network.is_some_and(|network| {
                    let mut links = network.links.iter();
                    links.any(|link| link.weigh_station.is_some())
                });
                (
                    station && scenario.weighing.is_some(),
                    "no weigh station that weighs trucks (`weigh_station` in `roads`, `weighing`)",
                )
            }
            Self::Returns => (
                scenario.changes.returned > 0.0,
                "no concrete that is sent back (`returned` in `changes`)",
            ),
        };
        (!has).then_some(without)
    }
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
    /// What it needs from the scenario.
    pub needs: Needs,
    /// What this scenario lacks of that, as `this scenario has …`: the figure is then not looked at. None if nothing.
    pub lacks: Option<&'static str>,
}

impl Column {
    /// Whether files have it: what a scenario must have for it is too seldom to list it everywhere.
    pub fn is_told(&self) -> bool {
        self.lacks.is_none() || self.needs != Needs::GivenUp
    }
}

/// A figure as it is declared.
pub(super) struct Declared {
    pub(super) key: &'static str,
    pub(super) label: &'static str,
    pub(super) unit: FigureUnit,
    decimals: usize,
    better: Better,
    pub(super) needs: Needs,
}

/// Declares the figures once: a constant for each position, and the list. A line has the constant, the name in files, the words for
/// people (the unit is not said again in them: what is counted reads on after a number, what is measured after `of`), the unit, the
/// decimals, the better direction, and what the scenario must have for it.
macro_rules! figures {
    ($($(#[$doc:meta])* $name:ident, $key:literal, $label:literal, $unit:ident, $decimals:literal, $better:ident, $needs:ident;)*) => {
        /// Positions of the figures in a row; queue figures follow.
        pub mod figure {
            // One name serves the position and the constant.
            #[allow(non_camel_case_types, clippy::upper_case_acronyms)]
            enum Position { $($name),* }
            $($(#[$doc])* pub const $name: usize = Position::$name as usize;)*
            /// How many there are.
            pub const COUNT: usize = [$(Position::$name as usize),*].len();
        }
        pub(super) const FIGURES: [Declared; figure::COUNT] = [$(Declared {
            key: $key,
            label: $label,
            unit: FigureUnit::$unit,
            decimals: $decimals,
            better: Better::$better,
            needs: Needs::$needs,
        }),*];
    };
}

figures! {
    /// Cash, lost sales and priced trouble of the period. Hours of trucks that are owned anyway are not in it.
    COST, "cost", "cost with lost sales", Money, 0, Less, Nothing;
    /// Cash and lost sales: what is really paid, and what is really not earned.
    CASH, "cash", "cash and lost sales", Money, 0, Less, Nothing;
    /// What is really paid.
    CASH_PAID, "cash_paid", "cash paid", Money, 0, Less, Nothing;
    /// The sale price of what customers ordered and nobody placed.
    LOST_SALES, "lost_sales", "lost sales", Money, 0, Less, Nothing;
    /// Trouble at the scenario's prices.
    TROUBLE, "trouble", "priced trouble", Money, 0, Less, Nothing;
    /// Hours of the trucks with a driver on duty, at their price.
    TRUCK_HOURS_COST, "truck_hours_cost", "truck hours", Money, 0, Neither, Nothing;
    /// Cash, priced trouble and truck hours per yd³ placed; blank if none was.
    COST_PER_YD3, "cost_per_yd3", "cost per yd³", MoneyPerYd3, 2, Less, Nothing;
    /// Loads discharged on site (in the measured span, if the scenario has one).
    LOADS, "loads", "loads delivered", Count, 1, More, Nothing;
    /// Loads later than tolerated, undelivered ones included.
    LATE_LOADS, "late_loads", "late loads", Count, 2, Less, Nothing;
    /// Loads whose lateness is judged, undelivered ones included: of them some are late.
    LOADS_DUE, "loads_due", "loads due", Count, 1, Neither, Nothing;
    /// Late loads over all loads that are judged.
    LATE_SHARE, "late_share", "share of loads late", Share, 1, Less, Nothing;
    /// Mean minutes late over the loads that came on site.
    LATE_MIN, "late_min", "lateness per load", Minutes, 1, Less, Nothing;
    /// Orders whose first load was late.
    FIRST_LATE, "first_loads_late", "first loads late", Count, 2, Less, Nothing;
    /// Loads not on site by the end of their order's day.
    UNDELIVERED, "undelivered_loads", "undelivered loads", Count, 2, Less, Nothing;
    /// Orders complete, with all loads within tolerance, over all orders.
    SERVED_SHARE, "served_share", "orders served", Share, 1, More, Nothing;
    /// Pours finished later than agreed, or not at all.
    POURS_LATE, "pours_late", "pours finished late", Count, 2, Less, Nothing;
    /// Pauses of pours beyond what is tolerated.
    GAPS, "gaps", "gaps in pours", Count, 2, Less, Nothing;
    /// Minutes of pauses beyond what is tolerated.
    GAP_MIN, "gap_min", "time in gaps of pours", Minutes, 1, Less, Nothing;
    /// Minutes between first and last discharge with none running.
    CREW_WAIT_MIN, "crew_wait_min", "crew standing time", Minutes, 0, Less, Nothing;
    /// Drivers stranded, once per driver day.
    STRANDED, "stranded", "drivers stranded", Count, 3, Less, Limits;
    /// Minutes driven beyond the limit.
    VIOLATION_MIN, "violation_min", "driving past the limit", Minutes, 2, Less, Limits;
    /// Smallest clock left at the end of a driver's last drive; blank if nobody under a limit drove.
    MARGIN_MIN, "margin_min", "least legal time left", Minutes, 0, More, Limits;
    /// Driver days lost because rest ended too late.
    DAYS_LOST, "driver_days_lost", "driver days lost", Count, 3, Less, Nothing;
    /// Loads lost with a full drum because the driver was out of hours.
    LOADS_LOST, "loads_lost", "loads dumped, driver out of hours", Count, 3, Less, Nothing;
    /// Loads rejected on site.
    REJECTED, "rejected", "loads rejected", Count, 2, Less, Rejections;
    /// Loads made again, at the rack or after a rejection.
    REBATCHED, "rebatched", "loads rebatched", Count, 2, Less, Nothing;
    /// Loads dried up.
    DRY_UPS, "dry_ups", "wet loads stiffened", Count, 2, Less, WetLoads;
    /// Stranded drivers whom a helper fetched.
    FETCHED, "fetched", "stranded drivers picked up", Count, 3, Neither, Limits;
    /// Driver days on which the driver did not come.
    NO_SHOWS, "no_shows", "no-shows", Count, 2, Neither, NoShows;
    /// Promises broken before loading.
    BROKEN, "promises_broken", "promises broken", Count, 2, Less, Nothing;
    /// Candidates refused because of hours: legal, company's and rule's gates.
    REFUSED_HOURS, "refused_hours", "trucks refused for hours", Count, 0, Neither, Nothing;
    /// Candidates refused because the plant was closed.
    REFUSED_CLOSED, "refused_closed", "trucks refused, plant closed", Count, 0, Neither, Nothing;
    /// Candidates refused for other reasons: no way, weight, not lent.
    REFUSED_OTHER, "refused_other", "trucks refused, other reasons", Count, 0, Neither, Nothing;
    /// Volume ordered.
    ORDERED_YD3, "ordered_yd3", "concrete ordered", Yd3, 1, Neither, Nothing;
    /// Volume cancelled.
    CANCELLED_YD3, "cancelled_yd3", "concrete cancelled", Yd3, 1, Neither, Nothing;
    /// Volume batched.
    BATCHED_YD3, "batched_yd3", "concrete batched", Yd3, 1, Neither, Nothing;
    /// Volume placed.
    PLACED_YD3, "placed_yd3", "concrete delivered", Yd3, 1, More, Nothing;
    /// Volume dumped.
    DUMPED_YD3, "dumped_yd3", "concrete dumped", Yd3, 2, Less, Nothing;
    /// Volume ordered and never sent.
    LEFT_YD3, "left_yd3", "concrete never sent", Yd3, 1, Less, Nothing;
    /// Volume of orders refused when they were called in.
    REFUSED_YD3, "refused_yd3", "concrete of refused orders", Yd3, 1, Less, Nothing;
    /// Orders taken for a later time than asked for.
    ORDERS_MOVED, "orders_moved", "orders moved", Count, 2, Less, Nothing;
    /// Minutes by which they were moved.
    MOVED_MIN, "moved_min", "time by which orders were moved", Minutes, 0, Less, Nothing;
    /// Loads that came late against what the customer asked for first, undelivered ones included.
    LATE_ON_FIRST_WISH, "late_on_first_wish", "loads late on the time first asked for", Count, 2, Less, Nothing;
    /// Pours begun and not finished.
    POURS_BROKEN, "pours_broken", "pours broken off", Count, 3, Less, Nothing;
    /// Paid hours.
    PAID_H, "paid_h", "paid time", Hours, 1, Less, Nothing;
    /// Paid hours that nobody works: short shifts, guaranteed hours, show-up pay.
    UNWORKED_H, "unworked_h", "time paid and not worked", Hours, 1, Less, Nothing;
    /// Overtime hours.
    OVERTIME_H, "overtime_h", "overtime", Hours, 1, Less, Nothing;
    /// Overtime over paid hours.
    OVERTIME_SHARE, "overtime_share", "share of paid time in overtime", Share, 1, Less, Nothing;
    /// Volume placed over paid hours.
    YD3_PER_PAID_H, "yd3_per_paid_h", "concrete delivered per paid hour", Yd3, 2, More, Nothing;
    /// Productive over paid minutes.
    TRUCK_USE, "truck_use", "share of paid time at work", Share, 1, More, Nothing;
    /// Mean wait for a bay, per load.
    BAY_WAIT_MIN, "bay_wait_min", "wait for a bay", Minutes, 1, Less, Nothing;
    /// Mean wait on site for a place, per load.
    SITE_WAIT_MIN, "site_wait_min", "wait on site", Minutes, 1, Less, Nothing;
    /// Loads that had to wait outside of their site.
    OUTSIDE, "waited_outside", "loads waiting outside the site", Count, 1, Less, Nothing;
    /// Volume that was not needed and came back, and was not reused.
    RETURNED_YD3, "returned_yd3", "concrete brought back, not needed", Yd3, 2, Less, Returns;
    /// Breakdowns of trucks on the road.
    BREAKDOWNS, "breakdowns", "breakdowns", Count, 2, Less, Breakdowns;
    /// Loads given up on the way, as their trucks had broken down.
    GIVEN_UP, "loads_given_up", "loads given up, truck broken down", Count, 3, Less, GivenUp;
    /// Of these the loads that set in the drum.
    DRUMS_SET, "drums_set_on_road", "loads set in a drum, truck broken down", Count, 3, Less, GivenUp;
    /// Trucks found heavy at a weigh station.
    FOUND_HEAVY, "found_heavy", "trucks overweight at the scale", Count, 2, Less, WeighStation;
    /// What customers pay.
    REVENUE, "revenue", "revenue", Money, 0, More, Nothing;
    /// Revenue less what is really paid.
    MARGIN, "margin", "revenue less cash paid", Money, 0, More, Nothing;
    /// Loads found too wet at the rack, most of which are dried up.
    WET_AT_RACK, "wet_at_rack", "loads found too wet at the slump rack", Count, 2, Less, Mixes;
    /// Loads found too wet on site, and rejected.
    WET_ON_SITE, "wet_on_site", "loads rejected, too wet", Count, 3, Less, WetLoads;
    /// Loads rejected on site because they were too stiff.
    STIFF, "rejected_stiff", "loads rejected, too stiff", Count, 3, Less, Mixes;
    /// Loads rejected on site because of their air.
    AIR, "rejected_air", "loads rejected, air out of range", Count, 3, Less, Mixes;
    /// Loads rejected on site because of age or revolutions.
    OLD, "rejected_old", "loads rejected, too old or turned too often", Count, 3, Less, Age;
    /// Loads rejected on site because they were of another mix.
    WRONG_MIX, "rejected_wrong_mix", "loads rejected, wrong mix", Count, 3, Less, Mixes;
    /// Loads that got water in the yard.
    WATERED, "watered", "loads watered in the plant yard", Count, 2, Neither, Mixes;
    /// Loads that got water on site.
    RETEMPERED, "retempered", "loads retempered", Count, 2, Less, Mixes;
    /// Cement of dry-ups.
    CEMENT_LB, "dry_up_cement_lb", "cement added to stiffen wet loads", Lb, 0, Less, Mixes;
    /// Fine aggregate of dry-ups.
    FINE_LB, "dry_up_fine_lb", "sand added to stiffen wet loads", Lb, 0, Less, Mixes;
    /// Material of dry-ups, part of the cost.
    DRY_UP_COST, "dry_up_cost", "material added to stiffen wet loads", Money, 0, Less, Mixes;
    /// Volume of parts of loads dumped for dry-ups, beside whole loads.
    PARTS_DUMPED_YD3, "parts_dumped_yd3", "parts of loads dumped", Yd3, 2, Less, Mixes;
    /// Loads placed whose strength the added water has taken below the specified one.
    BELOW_STRENGTH, "below_strength", "loads below strength, by added water", Count, 2, Less, Mixes;
    /// Mean strength that the water took from those; blank without one.
    PSI_LOST, "psi_lost", "strength lost by those to added water", Psi, 0, Less, Mixes;
    /// Loads that weigh more with their truck than the law allows.
    HEAVY, "heavy_loads", "overweight loads", Count, 2, Less, Mixes;
    /// Minutes driven beyond the driving limit.
    VIOLATION_DRIVING_MIN, "violation_driving_min", "driving past the driving limit", Minutes, 2, Less, Limits;
    /// Minutes driven after the window's end.
    VIOLATION_WINDOW_MIN, "violation_window_min", "driving past the duty window", Minutes, 2, Less, Limits;
    /// Minutes driven beyond the limit of time on duty.
    VIOLATION_ON_DUTY_MIN, "violation_on_duty_min", "driving past the hours on duty", Minutes, 2, Less, Limits;
    /// Minutes driven without a break that was due.
    VIOLATION_BREAK_MIN, "violation_break_min", "driving with a break due", Minutes, 2, Less, Limits;
    /// Minutes driven beyond the weekly hours.
    VIOLATION_WEEK_MIN, "violation_week_min", "driving past the weekly hours", Minutes, 2, Less, Limits;
    /// Margin at the end of a tour's last drive that 5 % of tours do not reach; blank if nobody under a limit drove.
    MARGIN_WORST_MIN, "margin_worst_5_percent_min", "time left in the worst 5% of shifts", Minutes, 0, More, Limits;
    /// Reports later than planned, for want of rest or weekly hours.
    LATE_REPORTS, "late_reports", "late starts, rest or weekly hours short", Count, 2, Less, Nothing;
    /// Once-a-week longer windows used.
    LONG_DAYS, "long_days", "longer windows used", Count, 2, Neither, Limits;
    /// Stranded: the way home did not fit when the load left the plant.
    STRANDED_LOADED_LATE, "stranded_loaded_late", "drivers stranded, loaded too late", Count, 3, Less, Limits;
    /// Stranded: the same, from a plant that is not the truck's home.
    STRANDED_LENT, "stranded_lent", "drivers stranded, loaned too far from home", Count, 3, Less, Limits;
    /// Stranded: the way out took longer than believed.
    STRANDED_TRAFFIC, "stranded_traffic", "drivers stranded, traffic", Count, 3, Less, Limits;
    /// Stranded: the site took longer than believed.
    STRANDED_SITE, "stranded_site", "drivers stranded, the site took long", Count, 3, Less, Limits;
    /// Stranded: the driver began with less than a whole day on the clocks.
    STRANDED_SHORT, "stranded_clock_short", "drivers stranded, few hours left that morning", Count, 3, Less, Limits;
    /// Stranded at a plant of the own, after a lend.
    STRANDED_AT_PLANT, "stranded_at_plant", "drivers stranded at another plant", Count, 3, Less, Limits;
    /// Mean hours until a stranded driver was home; blank if nobody was stranded.
    STRANDED_HOME_H, "stranded_home_h", "time until stranded drivers were home", Hours, 1, Less, Limits;
    /// Minutes by which helpers were there earlier because a stranding was foreseen.
    FORESEEN_MIN, "foreseen_min", "time saved by sending help early", Minutes, 0, Neither, Limits;
    /// Stranded drivers fetched by drivers of the own fleet.
    FETCHED_OWN, "fetched_by_own", "stranded drivers picked up by own drivers", Count, 3, Neither, Limits;
    /// Full drums out of hours that somebody else brought to an end.
    FULL_RELIEVED, "full_drums_relieved", "full drums out of hours, another driver took over", Count, 3, Neither, Nothing;
    /// Full drums out of hours that a stabiliser kept.
    FULL_STABILISED, "full_drums_stabilised", "full drums out of hours, kept by a stabilizer", Count, 3, Less, Nothing;
    /// Full drums out of hours in which the load set.
    FULL_SET, "full_drums_set", "full drums out of hours, set hard", Count, 3, Less, Nothing;
    /// Driver days for which the driver was not called.
    NOT_CALLED, "drivers_not_called", "drivers not called in", Count, 2, Neither, Nothing;
    /// Driver days for which the driver was called, and told again not to come.
    CALLED_OFF, "drivers_called_off", "drivers called off", Count, 2, Less, Nothing;
    /// Drivers stranded with a load for which a gate was overridden or the driver overruled.
    STRANDED_OVERRIDDEN, "stranded_overridden", "drivers stranded, hours check skipped or objection ignored", Count, 3, Less, Limits;
    /// Orders refused when they were called in.
    DECLINED, "orders_refused", "orders refused", Count, 2, Less, Nothing;
    /// Hours for which plants were kept open beyond their posted hours.
    KEPT_OPEN_H, "kept_open_h", "time kept open beyond posted hours", Hours, 1, Neither, Nothing;
    /// Loads redirected to another order.
    REDIRECTED, "redirected", "loads redirected", Count, 2, Neither, Nothing;
    /// Stranded drivers who rest out away from home.
    RESTED_OUT, "rested_out", "drivers staying overnight with the truck", Count, 3, Less, Limits;
    /// Volume that came back and went under another load: batched and got rid of so much less.
    REUSED_YD3, "reused_yd3", "concrete brought back and reused", Yd3, 2, More, Returns;
    /// Loads found too wet, at the rack or on site, mostly by water for HRWR that the meter did not see.
    WET_BY_HRWR, "wet_by_unseen_hrwr", "wet loads, HRWR not seen by the meter", Count, 2, Less, Mixes;
    /// The same, by other water added: to taste.
    WET_BY_WATER, "wet_by_added_water", "wet loads, water added to taste", Count, 2, Less, Mixes;
    /// The same, by more water on the aggregates than believed.
    WET_BY_MOISTURE, "wet_by_moisture", "wet loads, aggregate moisture", Count, 2, Less, Mixes;
    /// The same, by concrete cooler, or with more air, than the plant reckoned with.
    WET_BY_COOL, "wet_by_cool_concrete", "wet loads, cooler concrete or more air", Count, 2, Less, Mixes;
    /// The same, by an error of the meter or the cone.
    WET_BY_READING, "wet_by_reading", "wet loads, error of the reading", Count, 2, Less, Mixes;
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
    let _spoken = measure::speak(scenario.measures);
    let mut columns: Vec<Column> = FIGURES
        .iter()
        .map(|figure| Column {
            key: measure::key(figure.key).0.into_owned(),
            label: measure::said(figure.label).into_owned(),
            unit: figure.unit,
            decimals: match figure.unit.quantity() {
                Some(quantity) => quantity.decimals(figure.decimals),
                None => figure.decimals,
            },
            better: figure.better,
            needs: figure.needs,
            lacks: figure.needs.lacking(scenario),
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
                needs: Needs::Nothing,
                lacks: None,
            });
        }
    }
    columns
}
