//! Causes of late loads, and sums over them: whole numbers that are only added, so that any order of merging gives the same.

use crate::units::Millis;
use serde::{Deserialize, Serialize};

/// What made a load late.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LateCause {
    /// No truck with a driver on duty would have been free in time, had nothing held one up: too few trucks for the plan.
    NoTruck,
    /// Trucks stood there, but their drivers' hours (the law, the company's limit or the rule's gate) did not allow the load; or a driver
    /// had to rest or to take a break before.
    NoHours,
    /// The plant was closed or stood still.
    PlantClosed,
    /// A truck was refused because the rule does not lend it, or because there is no way.
    Refused,
    /// The order, or more of it, was called in too late to send the load in time.
    CalledLate,
    /// The rule aimed at a later time than the site was ready for.
    SentLate,
    /// The rule believed the way to be shorter than it usually is at the hour.
    Belief,
    /// The queue for a bay, beyond the allowance.
    BayQueue,
    /// Loading took longer than on average.
    Loading,
    /// Rack and dry-up, beyond the mean time at the rack.
    Rack,
    /// The drive took longer than is usual at the hour.
    Traffic,
    /// The truck, or the one that would have come, was held on a site before for longer than on average.
    Site,
    /// The load was rejected or lost, and made again.
    MadeAgain,
    /// A lifted bridge, or a road closed for the hour, beyond what the rule believed.
    LiftBridge,
    /// A weigh station, beyond what the rule believed, or held there for weight.
    WeighStation,
    /// An incident on the road, beyond what is usual at the hour.
    Incident,
    /// The truck broke down.
    Breakdown,
    /// A load that nobody weighed went round a weigh station: what that took beyond the quickest way.
    WayRound,
    /// A truck was refused because the load would be too old on site.
    TooOld,
    /// A truck was refused because the law leaves no weight for a load, or the rule's room no volume.
    TooHeavy,
    /// A truck was refused because the rule left the load to a nearer plant.
    NearerPlant,
}

impl LateCause {
    /// All, in the order of their positions.
    pub const ALL: [Self; 21] = [
        Self::NoTruck,
        Self::NoHours,
        Self::PlantClosed,
        Self::Refused,
        Self::CalledLate,
        Self::SentLate,
        Self::Belief,
        Self::BayQueue,
        Self::Loading,
        Self::Rack,
        Self::Traffic,
        Self::Site,
        Self::MadeAgain,
        Self::LiftBridge,
        Self::WeighStation,
        Self::Incident,
        Self::Breakdown,
        Self::WayRound,
        Self::TooOld,
        Self::TooHeavy,
        Self::NearerPlant,
    ];

    /// The name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::NoTruck => "no_truck",
            Self::NoHours => "no_hours",
            Self::PlantClosed => "plant_closed",
            Self::Refused => "refused",
            Self::CalledLate => "called_late",
            Self::SentLate => "sent_late",
            Self::Belief => "belief",
            Self::BayQueue => "bay_queue",
            Self::Loading => "loading",
            Self::Rack => "rack",
            Self::Traffic => "traffic",
            Self::Site => "site",
            Self::MadeAgain => "made_again",
            Self::LiftBridge => "lift_bridge",
            Self::WeighStation => "weigh_station",
            Self::Incident => "incident",
            Self::Breakdown => "breakdown",
            Self::WayRound => "way_round",
            Self::TooOld => "too_old",
            Self::TooHeavy => "too_heavy",
            Self::NearerPlant => "nearer_plant",
        }
    }

    /// The cause in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::NoTruck => "no truck free",
            Self::NoHours => "no driver with hours left",
            Self::PlantClosed => "plant closed or down",
            Self::Refused => "no truck allowed to take it, or no route",
            Self::CalledLate => "called in late",
            Self::SentLate => "the rule sent it late",
            Self::Belief => "drive time underestimated",
            Self::BayQueue => "waiting to load",
            Self::Loading => "slow loading",
            Self::Rack => "slump rack and stiffening",
            Self::Traffic => "traffic heavier than usual",
            Self::Site => "truck held up at its previous job",
            Self::MadeAgain => "rejected or lost load had to be rebatched",
            Self::LiftBridge => "bridge lift or closed road",
            Self::WeighStation => "weigh station",
            Self::Incident => "incident on the road",
            Self::Breakdown => "truck broken down",
            Self::WayRound => "detour around a weigh station",
            Self::TooOld => "would be too old on site",
            Self::TooHeavy => "truck too heavy for a load",
            Self::NearerPlant => "held for the nearest or usual plant",
        }
    }
}

/// Sums over late loads, undelivered ones included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Causes {
    /// Late loads.
    pub loads: u64,
    /// Milliseconds late, by cause.
    pub late: [i64; LateCause::ALL.len()],
    /// Each late load split by its causes in proportion to the time, in millionths of a load.
    pub parts: [i64; LateCause::ALL.len()],
}

/// A late load in millionths.
pub(super) const WHOLE: i64 = 1_000_000;

impl Causes {
    /// Adds other sums.
    pub fn merge(&mut self, other: &Self) {
        self.loads += other.loads;
        for cause in 0..LateCause::ALL.len() {
            self.late[cause] += other.late[cause];
            self.parts[cause] += other.parts[cause];
        }
    }

    /// Share of the late loads that goes to a cause, 0 to 1; 0 if there is no late load.
    pub fn share(&self, cause: LateCause) -> f64 {
        if self.loads == 0 {
            return 0.0;
        }
        self.parts[cause as usize] as f64 / (WHOLE * self.loads as i64) as f64
    }

    /// Late loads that go to a cause.
    pub fn loads_of(&self, cause: LateCause) -> f64 {
        self.parts[cause as usize] as f64 / WHOLE as f64
    }

    /// The causes with a share, the greatest first; equal ones in their order.
    pub fn ranked(&self) -> Vec<LateCause> {
        let mut causes: Vec<LateCause> = LateCause::ALL
            .into_iter()
            .filter(|cause| self.parts[*cause as usize] > 0)
            .collect();
        causes.sort_by_key(|cause| std::cmp::Reverse(self.parts[*cause as usize]));
        causes
    }

    /// Adds a late load with these parts, which add up to more than nothing.
    pub(super) fn book(&mut self, account: &Account) {
        let late = account.late();
        debug_assert!(late > Millis::ZERO);
        self.loads += 1;
        let mut left = WHOLE;
        let mut largest = (Millis::ZERO, 0);
        for (cause, time) in &account.parts {
            let cause = *cause as usize;
            let part = (i128::from(time.0) * i128::from(WHOLE) / i128::from(late.0)) as i64;
            self.late[cause] += time.0;
            self.parts[cause] += part;
            left -= part;
            if *time > largest.0 {
                largest = (*time, cause);
            }
        }
        // What rounding leaves goes to the largest part: a load is a whole.
        self.parts[largest.1] += left;
    }
}

/// Parts of an account that are kept in their order, before a cause that comes again joins the last of its kind: a truck that never
/// gets back on plan would be held up by more things every hour.
const MOST_PARTS: usize = 48;

/// How late a load is so far, and for what. Time recovered cancels the oldest excess first; time in hand is used up before
/// anything counts as excess. At any moment the parts add up to the lateness exactly.
#[derive(Clone, Debug, Default)]
pub(super) struct Account {
    /// Against the ready time; below zero: time in hand.
    level: Millis,
    /// Oldest first, each more than zero.
    parts: Vec<(LateCause, Millis)>,
}

impl Account {
    pub(super) fn clear(&mut self) {
        self.level = Millis::ZERO;
        self.parts.clear();
    }

    /// Becomes the same as another, in the memory that it has.
    pub(super) fn copy_from(&mut self, other: &Self) {
        self.level = other.level;
        self.parts.clear();
        self.parts.extend_from_slice(&other.parts);
    }

    /// How late, at least 0.
    pub(super) fn late(&self) -> Millis {
        self.level.max(Millis::ZERO)
    }

    /// Oldest first, each more than zero; a cause may come more than once.
    pub(super) fn parts(&self) -> &[(LateCause, Millis)] {
        &self.parts
    }

    pub(super) fn level(&self) -> Millis {
        self.level
    }

    /// A stage took this much longer (shorter, below zero) than planned.
    pub(super) fn add(&mut self, cause: LateCause, excess: Millis) {
        if excess == Millis::ZERO {
            return; // as most stages of most loads
        }
        let before = self.late();
        self.level += excess;
        let change = self.late() - before;
        if change > Millis::ZERO {
            // The last one, where it is of the same kind or there is no room for another.
            let near = if self.parts.len() < MOST_PARTS {
                1
            } else {
                self.parts.len()
            };
            let mut last = self.parts.iter_mut().rev().take(near);
            match last.find(|(of, _)| *of == cause) {
                Some((_, time)) => *time += change,
                None => self.parts.push((cause, change)),
            }
        } else if change < Millis::ZERO {
            self.cancel(Millis::ZERO - change);
        }
        debug_assert_eq!(
            self.parts.iter().map(|(_, time)| *time).sum::<Millis>(),
            self.late(),
            "the parts add up to the lateness"
        );
    }

    fn cancel(&mut self, mut recovered: Millis) {
        let mut gone = 0;
        for (_, time) in &mut self.parts {
            let cancelled = recovered.min(*time);
            *time -= cancelled;
            recovered -= cancelled;
            if *time > Millis::ZERO {
                break;
            }
            gone += 1;
        }
        self.parts.drain(..gone);
    }
}
