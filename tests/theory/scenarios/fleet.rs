//! A closed fleet as a scenario, and how its figures are compared with theory.

use crate::agreement::Check;
use plantday::observe::figure;
use plantday::scenario::{Scenario, parse};
use plantday::studies::{Comparison, Question, compare};
use std::cell::RefCell;
use std::num::NonZeroUsize;
use std::sync::atomic::AtomicBool;

const SEED: u64 = 20_261_125;
/// Largest standard error, as a share of the expected value.
const PRECISION: f64 = 0.003;

/// Trucks that go round between a plant and one or more sites. All times in minutes.
pub(crate) struct Fleet {
    pub(crate) trucks: u32,
    pub(crate) bays: u32,
    pub(crate) loading: &'static str,
    /// The rack as a station of one place; none: no time at the rack.
    pub(crate) rack: Option<&'static str>,
    /// Mean minutes out and back.
    pub(crate) road: (f64, f64),
    /// Spread of the factor on a trip.
    pub(crate) luck: &'static str,
    /// Discharge and outlets of each site, to which loads go with equal chances.
    pub(crate) sites: &'static [(&'static str, u32)],
    pub(crate) days: u32,
}

impl Fleet {
    pub(crate) fn text(&self) -> String {
        let Self {
            trucks,
            bays,
            loading,
            road: (out, back),
            luck,
            days,
            ..
        } = self;
        let rack = match self.rack {
            Some(spread) => format!("rack: {spread}, rack_places: 1"),
            None => "rack: Constant(0)".into(),
        };
        let names: Vec<String> = (1..=self.sites.len())
            .map(|n| format!("Site {n}"))
            .collect();
        let sites: String = names
            .iter()
            .map(|name| format!("(name: \"{name}\"), "))
            .collect();
        let roads: String = names
            .iter()
            .map(|name| format!("\"{name}\": ({out}, {back}), "))
            .collect();
        let destinations: String = names
            .iter()
            .zip(self.sites)
            .map(|(name, (discharge, outlets))| {
                let outlets = "(rate_yd3_min: 1), ".repeat(*outlets as usize);
                format!(
                    "(site: \"{name}\", outlets: [{outlets}], position: Constant(0), discharge: {discharge}, \
                     chute_wash: Constant(0)), "
                )
            })
            .collect();
        let hours = days * 24;
        // The first tenth is left out: the fleet starts at the plant all at once.
        let from = f64::from(hours) / 10.0;
        format!(
            r#"(
    name: "closed fleet",
    period: (days: {days}, measure: (from_h: {from}, to_h: {hours})),
    rule_book: "none", concrete: (age_limit_min: None),
    company: (promise_horizon_min: 0),
    plants: [(name: "P", bays: {bays}, bay_queue: FirstCome, loading: {loading}, {rack})],
    sites: [{sites}],
    roads: (minutes: {{ "P": {{ {roads} }} }}, luck: {luck}),
    trucks: [(name: "T", count: {trucks}, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "00:00", shift_h: {hours}, days: [Monday])],
    endless: [(name: "E", to: Drawn, destinations: [{destinations}])],
    yard: (pre_trip: Constant(0), washout: Constant(0), post_trip: Constant(0)),
    rules: [(name: "R", belief: FreeFlow, choose: LongestIdle, early_min: 0, bay_wait_min: 0)],
)"#
        )
    }
}

/// The scenario of a text that must be right.
pub(crate) fn read(text: &str) -> Scenario {
    match parse("test", text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

/// The study that a user would run, on one thread, since the tests run beside each other.
pub(crate) fn study(scenario: &Scenario, replications: u64) -> Comparison {
    let question = Question {
        rules: vec![0],
        judge: figure::COST,
        replications,
        seed: SEED,
        threads: Some(NonZeroUsize::MIN),
        level: 0.95,
        ..Question::default()
    };
    compare(scenario, &question, &|_| {}, &AtomicBool::new(false)).expect("nobody stops it")
}

/// The position of a figure by its name in files.
pub(crate) fn place(comparison: &Comparison, key: &str) -> usize {
    let mut columns = comparison.columns.iter();
    columns
        .position(|column| column.key == key)
        .unwrap_or_else(|| panic!("no figure {key}"))
}

/// A figure by its name in files, a factor that brings it to the unit of the source, and what it should then be.
pub(crate) type Expected = (&'static str, f64, f64);

/// Compares figures of the first rule of a scenario.
pub(crate) fn agree(name: &str, text: &str, replications: u64, expected: &[Expected]) {
    let scenario = read(text);
    let comparison = RefCell::new(study(&scenario, replications));
    let places: Vec<(usize, f64)> = expected
        .iter()
        .map(|(key, factor, _)| (place(&comparison.borrow(), key), *factor))
        .collect();
    let values: Vec<(&str, f64)> = expected
        .iter()
        .map(|(key, _, value)| (*key, *value))
        .collect();
    let check = Check::new(name, replications, &values).precision(PRECISION);
    check.run(|replication| {
        if replication >= comparison.borrow().replications() {
            comparison.replace(study(&scenario, 4 * replications));
        }
        let comparison = comparison.borrow();
        let row = comparison.rows.row(0, replication);
        places
            .iter()
            .map(|(place, factor)| f64::from(row[*place]) * factor)
            .collect()
    });
}
