//! The numbers of a rule that can be searched, each with its name as a scenario writes it, its range, and a pure edit.

use super::{Gate, Lend, Plants, ReadAfter, Rule, Shift};
use crate::roads::Belief;
use crate::units::measure::{self, Quantity};

/// One number of a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parameter {
    /// `early_min`.
    Early,
    /// `bay_wait_min`.
    BayWait,
    /// `gates.LastLoadBy.hours`.
    LastLoadBy,
    /// `gates.HomeWithin.probability`.
    HomeWithin,
    /// `lend.IfSaves.minutes`.
    LendIfSaves,
    /// `plants.NearestFirst.late_min`.
    NearestFirst,
    /// `belief.TimeOfDay.quantile`.
    BeliefQuantile,
    /// `room_kept_yd3`.
    RoomKept,
    /// `weight_margin_lb`.
    WeightMargin,
    /// `spacing_factor`.
    SpacingFactor,
    /// `shift.Staggered.minutes`.
    Stagger,
    /// `yard.read_after.Minutes`.
    ReadAfter,
}

impl Parameter {
    /// All of them.
    pub const ALL: [Self; 12] = [
        Self::Early,
        Self::BayWait,
        Self::LastLoadBy,
        Self::HomeWithin,
        Self::LendIfSaves,
        Self::NearestFirst,
        Self::BeliefQuantile,
        Self::RoomKept,
        Self::WeightMargin,
        Self::SpacingFactor,
        Self::Stagger,
        Self::ReadAfter,
    ];

    /// Name, as the scenario writes it: field, choice and number, joined by dots.
    pub fn name(self) -> &'static str {
        match self {
            Self::Early => "early_min",
            Self::BayWait => "bay_wait_min",
            Self::LastLoadBy => "gates.LastLoadBy.hours",
            Self::HomeWithin => "gates.HomeWithin.probability",
            Self::LendIfSaves => "lend.IfSaves.minutes",
            Self::NearestFirst => "plants.NearestFirst.late_min",
            Self::BeliefQuantile => "belief.TimeOfDay.quantile",
            Self::RoomKept => "room_kept_yd3",
            Self::WeightMargin => "weight_margin_lb",
            Self::SpacingFactor => "spacing_factor",
            Self::Stagger => "shift.Staggered.minutes",
            Self::ReadAfter => "yard.read_after.Minutes",
        }
    }

    /// What it measures, if that is another number in SI.
    pub fn quantity(self) -> Option<Quantity> {
        measure::in_si(self.name()).map(|(_, quantity)| quantity)
    }

    /// A value of it in the units that are spoken.
    pub fn told(self, value: f64) -> f64 {
        self.quantity()
            .map_or(value, |quantity| measure::rounded(quantity, value, 6))
    }

    /// What it is, for people.
    pub fn label(self) -> &'static str {
        match self {
            Self::Early => "time sent early",
            Self::BayWait => "time allowed for the bay",
            Self::LastLoadBy => "last-load cutoff",
            Self::HomeWithin => "chance of getting home legally that is asked for",
            Self::LendIfSaves => "time that a loan between plants must save",
            Self::NearestFirst => "lateness up to which the nearest plant comes first",
            Self::BeliefQuantile => "share of trips within the expected time",
            Self::RoomKept => "room kept in the drum",
            Self::WeightMargin => "weight kept below the limit",
            Self::SpacingFactor => "load spacing in place of the ordered",
            Self::Stagger => "time between two reports",
            Self::ReadAfter => "wait at the slump rack before the reading",
        }
    }

    /// A value of it as people read it: `9 h`, `0.9`.
    pub fn shown(self, value: f64) -> String {
        match self {
            Self::Early
            | Self::BayWait
            | Self::LendIfSaves
            | Self::NearestFirst
            | Self::Stagger
            | Self::ReadAfter => format!("{value} min"),
            Self::LastLoadBy => format!("{value} h"),
            Self::RoomKept => measure::plainly(Quantity::Volume, value, 3),
            Self::WeightMargin => measure::plainly(Quantity::Weight, value, 1),
            Self::SpacingFactor => format!("{value} times"),
            Self::HomeWithin | Self::BeliefQuantile => value.to_string(),
        }
    }

    /// Smallest and largest value that a rule may have.
    pub fn range(self) -> (f64, f64) {
        match self {
            Self::Early | Self::BayWait => (0.0, 240.0),
            Self::LastLoadBy => (0.001, 672.0),
            Self::HomeWithin => (0.5, 0.999),
            Self::LendIfSaves | Self::NearestFirst => (0.0, 1_440.0),
            Self::BeliefQuantile => (0.05, 0.99),
            Self::RoomKept => (0.0, 3.0),
            Self::WeightMargin => (0.0, 20_000.0),
            Self::SpacingFactor => (0.5, 2.0),
            Self::Stagger => (0.0, 240.0),
            Self::ReadAfter => (0.0, 60.0),
        }
    }

    /// Its value in a rule; none if the rule has made another choice.
    pub fn of(self, rule: &Rule) -> Option<f64> {
        match self {
            Self::Early => Some(rule.early_min),
            Self::BayWait => Some(rule.bay_wait_min),
            Self::RoomKept => Some(rule.room_kept_yd3),
            Self::WeightMargin => Some(rule.weight_margin_lb),
            Self::SpacingFactor => Some(rule.spacing_factor),
            Self::Stagger => match rule.shift {
                Shift::Staggered { minutes } => minutes,
                Shift::Rostered | Shift::Matched { .. } => None,
            },
            Self::ReadAfter => match rule.yard.read_after {
                Some(ReadAfter::Minutes(minutes)) => Some(minutes),
                Some(ReadAfter::Revolutions(_)) | None => None,
            },
            // Of several gates of a kind the strictest counts.
            Self::LastLoadBy => rule
                .gates
                .iter()
                .filter_map(|gate| match gate {
                    Gate::LastLoadBy { hours } => Some(*hours),
                    _ => None,
                })
                .reduce(f64::min),
            Self::HomeWithin => rule
                .gates
                .iter()
                .filter_map(|gate| match gate {
                    Gate::HomeWithin { probability } => Some(*probability),
                    _ => None,
                })
                .reduce(f64::max),
            Self::LendIfSaves => match rule.lend {
                Lend::IfSaves { minutes } => Some(minutes),
                Lend::Never | Lend::Always => None,
            },
            Self::NearestFirst => match rule.plants {
                Plants::NearestFirst { late_min } => Some(late_min),
                Plants::Any | Plants::UsualFirst { .. } => None,
            },
            Self::BeliefQuantile => match rule.belief {
                Belief::TimeOfDay { quantile } => quantile,
                _ => None,
            },
        }
    }

    /// The rule with this number changed; where it had made another choice, it makes this one (a gate is added). The number
    /// is taken as it is: whoever asks keeps to the [range](Self::range).
    pub fn set(self, mut rule: Rule, value: f64) -> Rule {
        match self {
            Self::Early => rule.early_min = value,
            Self::BayWait => rule.bay_wait_min = value,
            Self::RoomKept => rule.room_kept_yd3 = value,
            Self::WeightMargin => rule.weight_margin_lb = value,
            Self::SpacingFactor => rule.spacing_factor = value,
            Self::Stagger => {
                rule.shift = Shift::Staggered {
                    minutes: Some(value),
                };
            }
            Self::ReadAfter => rule.yard.read_after = Some(ReadAfter::Minutes(value)),
            Self::LastLoadBy => {
                rule.gates
                    .retain(|gate| !matches!(gate, Gate::LastLoadBy { .. }));
                rule.gates.push(Gate::LastLoadBy { hours: value });
            }
            Self::HomeWithin => {
                rule.gates
                    .retain(|gate| !matches!(gate, Gate::HomeWithin { .. }));
                rule.gates.push(Gate::HomeWithin { probability: value });
            }
            Self::LendIfSaves => rule.lend = Lend::IfSaves { minutes: value },
            Self::NearestFirst => rule.plants = Plants::NearestFirst { late_min: value },
            Self::BeliefQuantile => {
                rule.belief = Belief::TimeOfDay {
                    quantile: Some(value),
                };
            }
        }
        rule
    }
}
