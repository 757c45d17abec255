//! A rule made ready for use: beliefs bound to the roads, hours turned into milliseconds.

use super::{
    Additions, AfterDischarge, Choose, DriversWord, Gate, Lend, LoadSize, Override, PlantHours,
    Plants, Prices, Redirect, Retrieval, Rule, Send, SendHome, Sequence, Shift, YardPractice,
};
use crate::concrete::{KnownAge, MIXING_RPM};
use crate::engine::normal_quantile;
use crate::roads::{Believed, Roads};
use crate::units::Millis;

/// What a policy needs beside its rule.
#[derive(Clone, Debug)]
pub struct PolicyData<'a> {
    /// The roads.
    pub roads: &'a Roads,
    /// The age limit that sites hold loads to. None: no limit.
    pub age_limit: Option<KnownAge>,
    /// The scenario's prices.
    pub prices: Prices,
    /// The share of trips that a driver's own judgement covers.
    pub driver_caution: f64,
    /// Whether concrete is computed: only then is a slump read.
    pub slump_read: bool,
}

/// A rule made ready for use.
#[derive(Clone, Debug)]
pub struct Policy {
    /// What the dispatcher believes of trips.
    pub belief: Believed,
    /// How long trips usually are at the hour: what beliefs are measured by.
    pub usual: Believed,
    /// What a driver, who knows the hour, reckons with before a leg.
    pub driver_belief: Believed,
    /// The age limit that sites hold loads to. None: no limit.
    pub age_limit: Option<KnownAge>,
    /// When loads are sent.
    pub send: Send,
    /// Multiple of the ordered spacing at which loads are sent.
    pub spacing_factor: f64,
    /// By how much every load is sent earlier.
    pub early: Millis,
    /// Allowance for the wait for a bay.
    pub bay_wait: Millis,
    /// See [`Rule::bay_queue_seen`].
    pub bay_queue_seen: bool,
    /// Which waiting load is first.
    pub sequence: Sequence,
    /// How candidates are ranked.
    pub choose: Choose,
    /// Which plants may serve a load.
    pub plants: Plants,
    /// The last load since report: the smallest of such gates.
    pub last_load: Option<Millis>,
    /// Standard normal quantile of the probability of being home in time: the largest of such gates.
    pub home_z: Option<f64>,
    /// Minutes kept on every clock when home: the largest of such gates.
    pub keep: Option<Millis>,
    /// The least left on the clocks of who is kept in reserve: the largest of such gates.
    pub reserve: Option<Millis>,
    /// Whether the once-a-week longer window is used.
    pub long_day: bool,
    /// Coefficient of variation of a trip, for the home gate.
    pub trip_cv: f64,
    /// Lending.
    pub lend: Lend,
    /// How orders are cut.
    pub load_size: LoadSize,
    /// Room kept free, thousandths of yd³ inside.
    pub room_kept: crate::units::Volume,
    /// Pounds kept below the legal gross.
    pub weight_margin_lb: f64,
    /// Whether tickets carry the warning.
    pub warning: bool,
    /// What is done when a driver is stranded.
    pub retrieval: Retrieval,
    /// What is done in the yard.
    pub yard: YardPractice,
    /// How long the rule has every driver wait at the rack before the reading; zero where it says nothing, or no slump is read.
    /// Who waits longer, heeding a ticket, is not known beforehand.
    pub reads_after: Millis,
    /// When drivers report.
    pub shift: Shift,
    /// When drivers without work are sent home.
    pub send_home: SendHome,
    /// What a choice by cost turns on.
    pub prices: Prices,
    /// Where an empty truck heads for.
    pub after_discharge: AfterDischarge,
    /// When the rule's own gates are overridden.
    pub override_gates: Override,
    /// What becomes of a driver's word that the way home does not fit.
    pub drivers_word: DriversWord,
    /// What becomes of orders that are added to the day.
    pub additions: Additions,
    /// How long plants are open.
    pub plant_hours: PlantHours,
    /// What a loaded truck does whose site is not ready.
    pub redirect: Redirect,
}

impl Policy {
    /// Makes a rule ready.
    pub fn new(rule: &Rule, data: &PolicyData<'_>) -> Self {
        let mut last_load = None;
        let mut home_z: Option<f64> = None;
        let mut keep: Option<Millis> = None;
        let mut reserve: Option<Millis> = None;
        for gate in &rule.gates {
            match *gate {
                Gate::LastLoadBy { hours } => {
                    let limit = Millis::from_hours(hours);
                    last_load = Some(last_load.map_or(limit, |other: Millis| other.min(limit)));
                }
                Gate::HomeWithin { probability } => {
                    let z = normal_quantile(probability);
                    home_z = Some(home_z.map_or(z, |other| other.max(z)));
                }
                Gate::KeepMinutes { minutes } => {
                    keep = keep.max(Some(Millis::from_minutes(minutes)))
                }
                Gate::Reserve { hours } => reserve = reserve.max(Some(Millis::from_hours(hours))),
            }
        }
        let caution = crate::roads::Belief::TimeOfDay {
            quantile: Some(data.driver_caution),
        };
        Self {
            belief: data.roads.believe(rule.belief),
            usual: data
                .roads
                .believe(crate::roads::Belief::TimeOfDay { quantile: None }),
            driver_belief: data.roads.believe(caution),
            age_limit: data.age_limit.clone(),
            send: rule.send,
            spacing_factor: rule.spacing_factor,
            early: Millis::from_minutes(rule.early_min),
            bay_wait: Millis::from_minutes(rule.bay_wait_min),
            bay_queue_seen: rule.bay_queue_seen,
            sequence: rule.sequence,
            choose: rule.choose,
            plants: rule.plants,
            last_load,
            home_z,
            keep,
            reserve,
            long_day: rule.long_day,
            trip_cv: data.roads.cv(),
            lend: rule.lend,
            load_size: rule.load_size,
            room_kept: crate::units::Volume::from_yd3(rule.room_kept_yd3),
            weight_margin_lb: rule.weight_margin_lb,
            warning: rule.yard.warns(),
            retrieval: rule.retrieval,
            yard: rule.yard,
            reads_after: match rule.yard.read_after {
                Some(after) if data.slump_read => Millis::from_minutes(after.minutes(MIXING_RPM)),
                _ => Millis::ZERO,
            },
            shift: rule.shift,
            send_home: rule.send_home,
            prices: data.prices,
            after_discharge: rule.after_discharge,
            override_gates: rule.override_gates,
            drivers_word: rule.drivers_word,
            additions: rule.additions,
            plant_hours: rule.plant_hours,
            redirect: rule.redirect,
        }
    }
}
