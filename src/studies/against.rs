//! `replay --against`: the same replication under two rules, and which loads it goes otherwise with.
//!
//! Orders, breakdowns, traffic and the luck of each load are drawn at addresses of which no rule is part, so both meet the same
//! days.

use super::replay::{Question, played};
use crate::montecarlo::Watch;
use crate::observe::Delivery;
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::{Millis, OrderId};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// One replication under two rules.
#[derive(Clone, Debug)]
pub struct Against {
    /// The replication under the first rule, which has chosen it, and under the second.
    pub sides: [Replay; 2],
    /// Loads that are late, never come or are turned down under one rule at least, and not by the same minutes under both: the
    /// greatest difference first.
    pub differing: Vec<Differing>,
    /// Of the others, those that came by another truck, from another plant or at another time.
    pub otherwise: usize,
    /// Of the others, those with which everything went alike.
    pub alike: usize,
}

/// A load with which it goes otherwise under the two rules.
#[derive(Clone, Copy, Debug)]
pub struct Differing {
    /// Its order.
    pub order: OrderId,
    /// Its number in the order, from 0; one that was never promised a truck has the next that its order would have given.
    pub number: u32,
    /// What became of it under each rule.
    pub fates: [Fate; 2],
}

/// What became of a load under a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// Its site took it.
    Came(Delivery),
    /// It was not on site by the end of its order's day.
    Never {
        /// Its place among those of the replay.
        place: usize,
        /// When it was due.
        due: Millis,
        /// How late it was by then, at least 0.
        late: Millis,
    },
    /// Its order was turned down when it was called in.
    TurnedDown,
    /// The order has no such load under this rule, such as when its loads are larger.
    Absent,
}

impl Fate {
    /// When it was due; none if there is no such load.
    pub fn due(&self) -> Option<Millis> {
        match self {
            Self::Came(load) => Some(load.due),
            Self::Never { due, .. } => Some(*due),
            Self::TurnedDown | Self::Absent => None,
        }
    }

    /// How late it came, or was by the end of its day; none if there is no such load.
    pub fn late(&self) -> Option<Millis> {
        match self {
            Self::Came(load) => Some(load.late),
            Self::Never { late, .. } => Some(*late),
            Self::TurnedDown | Self::Absent => None,
        }
    }

    /// The same in whole minutes, as it is shown; 0 if there is no such load.
    fn whole_minutes(&self) -> i64 {
        self.late().map_or(0, |late| late.minutes().round() as i64)
    }

    fn is_trouble(&self) -> bool {
        match self {
            Self::Came(load) => load.is_late,
            Self::Never { .. } | Self::TurnedDown => true,
            Self::Absent => false,
        }
    }

    fn is_told_apart_from(&self, other: &Self) -> bool {
        std::mem::discriminant(self) != std::mem::discriminant(other)
            || self.whole_minutes() != other.whole_minutes()
    }

    /// Whether it came by the same truck at the same moment, or missed its day alike.
    fn is_like(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Came(one), Self::Came(other)) => one == other,
            _ => !self.is_told_apart_from(other),
        }
    }
}

impl Differing {
    /// By how much it is later under the first rule than under the second; below zero: earlier. What is not there is not late.
    pub fn difference(&self) -> Millis {
        let late = |fate: &Fate| fate.late().unwrap_or_default();
        late(&self.fates[0]) - late(&self.fates[1])
    }

    /// When it was due under the first rule that has it.
    pub fn due(&self) -> Millis {
        let mut dues = self.fates.iter().filter_map(Fate::due);
        dues.next().unwrap_or_default()
    }
}

/// Plays one replication under the question's rule and under another (positions in the scenario's list). Stops looking for the
/// worst when it is stopped, as [`replay`](super::replay()).
pub fn against(
    scenario: &Scenario,
    question: &Question,
    other: usize,
    watch: Watch<'_>,
) -> Option<Against> {
    let both = played(scenario, &[question.rule, other], question, watch)?;
    let sides: [Replay; 2] = both.try_into().expect("two rules were played");
    let fates = sides.each_ref().map(fates);
    let mut loads: Vec<(OrderId, u32)> = fates.iter().flat_map(BTreeMap::keys).copied().collect();
    loads.sort_unstable();
    loads.dedup();
    let (mut differing, mut otherwise, mut alike) = (Vec::new(), 0, 0);
    for load in loads {
        let fate = |side: usize| {
            let turned_down = sides[side].turned_down.contains(&load.0);
            let missing = if turned_down {
                Fate::TurnedDown
            } else {
                Fate::Absent
            };
            fates[side].get(&load).copied().unwrap_or(missing)
        };
        let pair = [fate(0), fate(1)];
        if pair.iter().any(Fate::is_trouble) && pair[0].is_told_apart_from(&pair[1]) {
            differing.push(Differing {
                order: load.0,
                number: load.1,
                fates: pair,
            });
        } else if pair[0].is_like(&pair[1]) {
            alike += 1;
        } else {
            otherwise += 1;
        }
    }
    differing.sort_by_key(|load| {
        let most = Reverse(load.difference().0.abs());
        (most, load.due(), load.order, load.number)
    });
    Some(Against {
        sides,
        differing,
        otherwise,
        alike,
    })
}

/// Every load of a replication by order and number.
fn fates(replay: &Replay) -> BTreeMap<(OrderId, u32), Fate> {
    let delivered = replay.delivered.iter();
    let mut fates: BTreeMap<_, _> = delivered
        .map(|load| ((load.order, load.number), Fate::Came(*load)))
        .collect();
    let all = || replay.never.iter().enumerate();
    for (place, never) in all().filter(|(_, never)| never.number.is_some()) {
        let key = (never.order, never.number.unwrap_or_default());
        fates.insert(key, missing(replay, place));
    }
    // What was never promised a truck was told in the order in which it was due.
    for (place, never) in all().filter(|(_, never)| never.number.is_none()) {
        let known = fates.range((never.order, 0)..=(never.order, u32::MAX));
        let next = known.last().map_or(0, |((_, number), _)| number + 1);
        fates.insert((never.order, next), missing(replay, place));
    }
    fates
}

fn missing(replay: &Replay, place: usize) -> Fate {
    let never = &replay.never[place];
    Fate::Never {
        place,
        due: never.due,
        late: never.late,
    }
}

impl Against {
    /// Whether the two rules decide alike from the first event to the last.
    pub fn nothing_differs(&self) -> bool {
        self.sides[0].happenings == self.sides[1].happenings
    }

    /// How many of the differing loads are later under a side, 0 or 1; of those that both have.
    pub fn later_under(&self, side: usize) -> usize {
        let both = |load: &&Differing| load.fates.iter().all(|fate| fate.late().is_some());
        let later = |load: &&Differing| match side {
            0 => load.difference() > Millis::ZERO,
            _ => load.difference() < Millis::ZERO,
        };
        self.differing.iter().filter(both).filter(later).count()
    }

    /// How many loads are not there under a side because their order was turned down.
    pub fn turned_down(&self, side: usize) -> usize {
        let turned_down = |load: &&Differing| load.fates[side] == Fate::TurnedDown;
        self.differing.iter().filter(turned_down).count()
    }
}
