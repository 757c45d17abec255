//! What is read from tickets: stages from one time to another, and the legs that a scenario has numbers for.

use super::model::{Observation, Shape};
use crate::scenario::past_tickets::{Stamp, Ticket};
use crate::units::Millis;
use std::collections::{BTreeMap, BTreeSet};

/// A stage: from one time of a ticket to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// Ticketed to loaded.
    Loading,
    /// Loaded to leaving the plant.
    Yard,
    /// Plant to site.
    Out,
    /// On site until unloading begins.
    SiteWait,
    /// Unloading.
    Unloading,
    /// From the end of unloading until the truck leaves.
    AfterUnloading,
    /// Site to plant.
    Back,
    /// Ticketed to back at the plant.
    Round,
}

impl Stage {
    /// All, in the order of a load.
    pub const ALL: [Self; 8] = [
        Self::Loading,
        Self::Yard,
        Self::Out,
        Self::SiteWait,
        Self::Unloading,
        Self::AfterUnloading,
        Self::Back,
        Self::Round,
    ];

    fn ends(self) -> (Stamp, Stamp) {
        match self {
            Self::Loading => (Stamp::Ticketed, Stamp::Loaded),
            Self::Yard => (Stamp::Loaded, Stamp::LeftPlant),
            Self::Out => (Stamp::LeftPlant, Stamp::OnSite),
            Self::SiteWait => (Stamp::OnSite, Stamp::UnloadStart),
            Self::Unloading => (Stamp::UnloadStart, Stamp::UnloadEnd),
            Self::AfterUnloading => (Stamp::UnloadEnd, Stamp::LeftSite),
            Self::Back => (Stamp::LeftSite, Stamp::BackAtPlant),
            Self::Round => (Stamp::Ticketed, Stamp::BackAtPlant),
        }
    }

    /// How many minutes it took on a ticket that tells both its times.
    pub fn minutes(self, ticket: &Ticket) -> Option<f64> {
        let (from, to) = self.ends();
        Some((ticket.at(to)? - ticket.at(from)?).minutes())
    }
}

/// A leg that a scenario has numbers for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Leg {
    /// Loading, by plant and volume.
    Loading,
    /// Slump rack and what else holds a truck in the yard, by plant.
    Yard,
    /// Travel, out and back, by pair of places and hour of the day.
    Travel,
    /// Pulling up: from arrival to the beginning of unloading where no truck was before.
    Position,
    /// Unloading, by volume.
    Unloading,
    /// Chute wash and what else holds a truck on site after unloading.
    Wash,
}

/// What tickets tell of a leg at one plant, or of all.
#[derive(Clone, Debug)]
pub(super) struct LegPart {
    pub(super) plant: Option<String>,
    pub(super) shape: Shape,
    pub(super) told: Vec<Observation>,
    /// Names of the groups that observations are of.
    pub(super) groups: Vec<Vec<String>>,
    pub(super) missing: usize,
    pub(super) no_length: usize,
    /// Whether times are whole minutes.
    pub(super) whole_minutes: bool,
}

impl LegPart {
    /// On how many days.
    pub(super) fn days(&self) -> usize {
        let days: BTreeSet<i64> = self.told.iter().map(|told| told.depart.day()).collect();
        days.len()
    }
}

impl Leg {
    /// All, in the order of a load.
    pub const ALL: [Self; 6] = [
        Self::Loading,
        Self::Yard,
        Self::Travel,
        Self::Position,
        Self::Unloading,
        Self::Wash,
    ];

    /// What these tickets tell of it.
    pub(super) fn parts(
        self,
        tickets: &[Ticket],
        whole_minutes: bool,
        least: usize,
    ) -> Vec<LegPart> {
        let mut parts = match self {
            Self::Loading => by_plant(tickets, Shape::PerYard, |t| {
                at(t, Stage::Loading, t.yd3.filter(|yd3| *yd3 > 0.0)?)
            }),
            Self::Yard => by_plant(tickets, Shape::Plain, |t| at(t, Stage::Yard, 1.0)),
            Self::Travel => vec![travel(tickets)],
            Self::Position => vec![position(tickets)],
            Self::Unloading => vec![unloading(tickets, least)],
            Self::Wash => vec![together(tickets, |t| at(t, Stage::AfterUnloading, 1.0))],
        };
        for part in &mut parts {
            part.whole_minutes = whole_minutes;
            if !whole_minutes && part.told.iter().any(|told| told.minutes > 0.0) {
                let before = part.told.len();
                part.told.retain(|told| told.minutes > 0.0);
                part.no_length = before - part.told.len();
            }
            // A single size tells no fixed part.
            let sizes = part.told.iter().map(|told| (told.yd3 * 1e3) as i64);
            if part.shape == Shape::PerYard && sizes.collect::<BTreeSet<_>>().len() < 2 {
                part.shape = Shape::Plain;
            }
        }
        parts
    }
}

fn at(ticket: &Ticket, stage: Stage, yd3: f64) -> Option<Observation> {
    Some(Observation {
        group: 0,
        yd3,
        depart: ticket.at(stage.ends().0)?,
        minutes: stage.minutes(ticket)?,
    })
}

fn together(tickets: &[Ticket], told: impl Fn(&Ticket) -> Option<Observation>) -> LegPart {
    let all: Vec<Observation> = tickets.iter().filter_map(&told).collect();
    LegPart {
        plant: None,
        shape: Shape::Plain,
        missing: tickets.len() - all.len(),
        told: all,
        groups: vec![Vec::new()],
        no_length: 0,
        whole_minutes: false,
    }
}

fn by_plant(
    tickets: &[Ticket],
    shape: Shape,
    told: impl Fn(&Ticket) -> Option<Observation>,
) -> Vec<LegPart> {
    let mut plants: BTreeMap<Option<&str>, Vec<&Ticket>> = BTreeMap::new();
    for ticket in tickets {
        plants
            .entry(ticket.plant.as_deref())
            .or_default()
            .push(ticket);
    }
    let part = |(plant, tickets): (Option<&str>, Vec<&Ticket>)| {
        let all: Vec<Observation> = tickets.iter().filter_map(|ticket| told(ticket)).collect();
        LegPart {
            plant: plant.map(str::to_owned),
            shape,
            missing: tickets.len() - all.len(),
            told: all,
            groups: vec![Vec::new()],
            no_length: 0,
            whole_minutes: false,
        }
    };
    plants.into_iter().map(part).collect()
}

/// Numbers groups in the order of their names.
fn grouped(shape: Shape, all: usize, mut named: Vec<(Vec<String>, Observation)>) -> LegPart {
    let names: BTreeSet<Vec<String>> = named.iter().map(|(name, _)| name.clone()).collect();
    let groups: Vec<Vec<String>> = names.into_iter().collect();
    for (name, told) in &mut named {
        told.group = groups.binary_search(name).unwrap_or_default();
    }
    LegPart {
        plant: None,
        shape,
        missing: all - named.len(),
        told: named.into_iter().map(|(_, told)| told).collect(),
        groups,
        no_length: 0,
        whole_minutes: false,
    }
}

/// Ways out and back: each ticket may tell two.
fn travel(tickets: &[Ticket]) -> LegPart {
    let out = tickets.iter().filter_map(|t| {
        let way = vec![t.plant.clone()?, t.site.clone()?];
        Some((way, at(t, Stage::Out, 1.0)?))
    });
    let back = tickets.iter().filter_map(|t| {
        // A ticket that does not tell where its truck came back to is of a truck that came back to where it was loaded.
        let to = t.back_at.clone().or(t.plant.clone())?;
        Some((vec![t.site.clone()?, to], at(t, Stage::Back, 1.0)?))
    });
    let named: Vec<_> = out.chain(back).collect();
    grouped(Shape::Travel, 2 * tickets.len(), named)
}

/// Of loads that came when no other truck was on their site, and that were not the first of their order on that day: those may have
/// waited for the site. What is left is the time that pulling up takes.
fn position(tickets: &[Ticket]) -> LegPart {
    let mut sites: BTreeMap<&str, Vec<&Ticket>> = BTreeMap::new();
    for ticket in tickets {
        if let (Some(site), Some(_)) = (&ticket.site, ticket.at(Stamp::OnSite)) {
            sites.entry(site).or_default().push(ticket);
        }
    }
    let mut told = Vec::new();
    for (_, mut loads) in sites {
        loads.sort_by_key(|ticket| ticket.at(Stamp::OnSite));
        let mut begun: BTreeSet<(Option<&str>, i64)> = BTreeSet::new();
        let mut busy_until = Millis(i64::MIN);
        for ticket in loads {
            let Some(came) = ticket.at(Stamp::OnSite) else {
                continue;
            };
            let first = begun.insert((ticket.order.as_deref(), came.day()));
            if !first && busy_until <= came {
                told.extend(at(ticket, Stage::SiteWait, 1.0));
            }
            // Who does not tell when it was done may have stood there for hours.
            let gone = ticket.at(Stamp::UnloadEnd).or(ticket.at(Stamp::LeftSite));
            busy_until = busy_until.max(gone.unwrap_or(came + Millis::HOUR * 2));
        }
    }
    LegPart {
        plant: None,
        shape: Shape::Plain,
        missing: tickets.len() - told.len(),
        told,
        groups: vec![Vec::new()],
        no_length: 0,
        whole_minutes: false,
    }
}

/// By order where it has enough tickets, else by site.
fn unloading(tickets: &[Ticket], least: usize) -> LegPart {
    let all: Vec<(&Ticket, Observation)> = tickets
        .iter()
        .filter_map(|t| {
            let yd3 = t.placed().filter(|yd3| *yd3 > 0.0)?;
            Some((t, at(t, Stage::Unloading, yd3)?))
        })
        .collect();
    let mut of_order: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    let key = |t: &Ticket| Some((t.order.clone()?, t.site.clone().unwrap_or_default()));
    for (ticket, _) in &all {
        if let Some(order) = &ticket.order {
            let site = ticket.site.as_deref().unwrap_or_default();
            *of_order.entry((order, site)).or_default() += 1;
        }
    }
    let named = all.iter().map(|(ticket, told)| {
        let enough = key(ticket).filter(|(order, site)| {
            let times = of_order.get(&(order.as_str(), site.as_str()));
            times.is_some_and(|times| *times >= least)
        });
        let name = match enough {
            Some((order, site)) => vec![site, order],
            None => vec![ticket.site.clone().unwrap_or_default()],
        };
        (name, *told)
    });
    let named: Vec<_> = named.collect();
    grouped(Shape::Rate, tickets.len(), named)
}
