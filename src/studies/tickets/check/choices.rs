//! Which plant and truck took which load: as the tickets show, and as the rule chooses in simulated periods.
//!
//! Luck decides which truck is free when, so that a rule does not even choose the same twice from period to period. How often it does is the
//! yardstick: recorded choices that come from the rule agree with simulated ones as often as those do among themselves.

use crate::scenario::past_tickets::Ticket;
use crate::statistics::{Interval, Summary, t_critical};
use std::collections::{BTreeMap, BTreeSet};

/// Each load's plant and truck, by its key; what is not told or not known is nothing.
pub(super) type Choices = BTreeMap<u32, (Option<u32>, Option<u32>)>;

/// The names that recorded tickets tell, numbered.
#[derive(Debug)]
pub(super) struct Names {
    loads: BTreeMap<(String, u32), u32>,
    plants: BTreeMap<String, u32>,
    trucks: BTreeMap<String, u32>,
    /// Whether tickets number the loads of an order: else they are numbered as they came.
    numbered: bool,
}

impl Names {
    pub(super) fn of(tickets: &[&Ticket]) -> Self {
        let numbers = |names: BTreeSet<String>| -> BTreeMap<String, u32> {
            names.into_iter().zip(0..).collect()
        };
        let plants = tickets.iter().filter_map(|ticket| ticket.plant.clone());
        let trucks = tickets.iter().filter_map(|ticket| ticket.truck.clone());
        let numbered = tickets.iter().any(|ticket| ticket.load.is_some());
        let most = match numbered {
            true => tickets.iter().filter_map(|ticket| ticket.load).max(),
            false => Some(tickets.len() as u32),
        };
        let groups: BTreeSet<String> = tickets.iter().filter_map(|ticket| group(ticket)).collect();
        let most = most.unwrap_or(0).min(1_000);
        let loads = groups
            .into_iter()
            .flat_map(|group| (1..=most).map(move |number| (group.clone(), number)));
        Self {
            loads: loads.zip(0..).collect(),
            plants: numbers(plants.collect()),
            trucks: numbers(trucks.collect()),
            numbered,
        }
    }

    /// The choices of a period. Of a load that was made again the last counts.
    pub(super) fn choices(&self, tickets: &[Ticket]) -> Choices {
        let mut sorted: Vec<&Ticket> = tickets.iter().collect();
        sorted.sort_by_key(|ticket| ticket.first());
        let mut came: BTreeMap<String, u32> = BTreeMap::new();
        let mut choices = Choices::new();
        for ticket in sorted {
            let Some(group) = group(ticket) else { continue };
            let number = match self.numbered {
                true => ticket.load,
                false => {
                    let number = came.entry(group.clone()).or_default();
                    *number += 1;
                    Some(*number)
                }
            };
            let Some(key) = number.and_then(|number| self.loads.get(&(group, number))) else {
                continue;
            };
            let of = |names: &BTreeMap<String, u32>, name: &Option<String>| {
                // A plant or truck that no recorded ticket names is another than all of those.
                name.as_ref()
                    .map(|name| names.get(name).copied().unwrap_or(u32::MAX))
            };
            choices.insert(
                *key,
                (
                    of(&self.plants, &ticket.plant),
                    of(&self.trucks, &ticket.truck),
                ),
            );
        }
        choices
    }
}

/// The order, or where tickets name none the site.
fn group(ticket: &Ticket) -> Option<String> {
    ticket.order.clone().or_else(|| ticket.site.clone())
}

/// How often recorded and simulated choices agree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chosen {
    /// Share of the recorded loads that a simulated period gives to the same, on the mean.
    pub recorded: f64,
    /// The same of the loads of a simulated period.
    pub simulated: f64,
    /// Recorded less simulated.
    pub interval: Interval,
}

impl Chosen {
    /// Whether the tickets show other choices than the rule's.
    pub fn differ(&self) -> bool {
        self.interval.excludes_zero() && self.recorded < self.simulated
    }
}

/// The choices of the desk.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Desk {
    /// Recorded loads that are found again in simulated periods.
    pub loads: usize,
    /// By plant; none: tickets do not tell it.
    pub plant: Option<Chosen>,
    /// By truck.
    pub truck: Option<Chosen>,
}

/// With so many other simulated periods each is compared.
const OTHERS: usize = 20;

type Of = fn(&(Option<u32>, Option<u32>)) -> Option<u32>;

impl Desk {
    pub(super) fn of(recorded: &[Choices], simulated: &[Choices], level: f64) -> Option<Self> {
        let known = |choices: &Choices| {
            let again = |key: &u32| simulated.iter().any(|one| one.contains_key(key));
            choices.keys().filter(|key| again(key)).count()
        };
        let loads = recorded.iter().map(known).sum();
        if loads == 0 {
            return None;
        }
        let chosen = |of: Of| {
            let with = |one: &Choices, others: &mut dyn Iterator<Item = &Choices>| {
                let shares = others.filter_map(|other| agreement(one, other, of));
                Summary::of(shares).mean()
            };
            let ours = recorded
                .iter()
                .filter_map(|one| with(one, &mut simulated.iter()));
            let ours = Summary::of(ours.collect::<Vec<f64>>());
            let theirs = simulated.iter().enumerate().filter_map(|(nth, one)| {
                let others = (1..=OTHERS.min(simulated.len() - 1))
                    .map(|step| &simulated[(nth + step) % simulated.len()]);
                with(one, &mut others.into_iter())
            });
            let theirs = Summary::of(theirs.collect::<Vec<f64>>());
            let (mean, usual) = (ours.mean()?, theirs.mean()?);
            let (m, n) = (ours.n() as f64, theirs.n() as f64);
            let reach = t_critical(level, (n - 1.0).max(1.0));
            let half = theirs.sd()? * reach * (1.0 / m + 1.0 / n).sqrt();
            Some(Chosen {
                recorded: mean,
                simulated: usual,
                interval: Interval::around(mean - usual, half),
            })
        };
        Some(Self {
            loads,
            plant: chosen(|one| one.0),
            truck: chosen(|one| one.1),
        })
    }
}

/// The share of the loads of both for which they have the same; none if they have none in common.
fn agreement(one: &Choices, other: &Choices, of: Of) -> Option<f64> {
    let both = one.iter().filter_map(|(key, ours)| {
        let theirs = of(other.get(key)?)?;
        Some(of(ours)? == theirs)
    });
    let (mut all, mut same) = (0_u32, 0_u32);
    for agrees in both {
        all += 1;
        same += u32::from(agrees);
    }
    (all > 0).then(|| f64::from(same) / f64::from(all))
}
