//! The milestones of every load, and what made the late ones late.
//!
//! A load that is to be on site when the site is ready has to start loading by `ready` less what the desk reckons with for
//! loading, rack and trip. Ask, promise, joining the queue and the bay are measured against that moment, the end of the rack
//! and the arrival against what was reckoned with from there on. What a milestone is later than the one before it belongs to
//! the step between them; time recovered cancels the oldest excess first. So the parts add up to the minutes late.

use crate::engine::Luck;
use crate::plant::{Event, Observer, Plan, Reckoned, Trip};
use crate::roads::RoadState;
use crate::units::{Millis, OrderId, PlantId, SpotId, TruckId, Volume};
use std::collections::BTreeMap;

/// A step of a load's life that can make it late.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// An earlier truck or batch of the same load had failed.
    Failed,
    /// The desk asked for a truck too late.
    Asked,
    /// No truck could be promised.
    NoTruck,
    /// The truck promised was not at the plant yet.
    Coming,
    /// The queue for a bay.
    BayQueue,
    /// Loading and rack took longer than reckoned with.
    AtPlant,
    /// The trip took longer than reckoned with.
    Road,
}

impl Cause {
    /// Name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Failed => "failed",
            Self::Asked => "asked_late",
            Self::NoTruck => "no_truck",
            Self::Coming => "truck_coming",
            Self::BayQueue => "bay_queue",
            Self::AtPlant => "bay_and_rack",
            Self::Road => "road",
        }
    }
}

/// A load that came late beyond its order's tolerance.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LateLoad {
    /// Its order.
    pub order: OrderId,
    /// Its number in the order, from 0.
    pub number: u32,
    /// The truck that brought it.
    pub truck: TruckId,
    /// Where it was loaded.
    pub plant: PlantId,
    /// When it came on site.
    pub at: Millis,
    /// How late.
    pub late: Millis,
    /// What it is made of: adds up to `late`, each more than zero, in the order of a load's life.
    pub parts: Vec<(Cause, Millis)>,
}

/// A load that was not on site by the end of its order's day.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Never {
    /// Its order.
    pub order: OrderId,
    /// Its volume.
    pub volume: Volume,
    /// When it was given up.
    pub at: Millis,
    /// How late it was by then.
    pub late: Millis,
}

/// A load from its ask to its arrival.
#[derive(Clone, Copy, Debug)]
struct Course {
    order: OrderId,
    number: u32,
    plant: PlantId,
    volume: Volume,
    again: bool,
    asked: Millis,
    promised: Millis,
    joined: Option<Millis>,
    in_bay: Option<Millis>,
    left: Millis,
}

/// Keeps the late loads of one replication.
#[derive(Clone, Debug)]
pub struct Milestones<'p> {
    plan: &'p Plan,
    rule: usize,
    roads: RoadState,
    /// Loads that came late, in the order of their arrival.
    pub late: Vec<LateLoad>,
    /// Loads that did not come by the end of their day.
    pub never: Vec<Never>,
    asked: Vec<Option<Millis>>,
    under_way: Vec<Option<Course>>,
    failed: BTreeMap<(OrderId, u32), Millis>,
}

impl<'p> Milestones<'p> {
    /// For a run of this plan under the rule at this position, with this luck.
    pub fn new(plan: &'p Plan, rule: usize, luck: Luck) -> Self {
        Self {
            plan,
            rule,
            roads: plan.road_state(luck),
            late: Vec::new(),
            never: Vec::new(),
            asked: vec![None; plan.orders.len()],
            under_way: vec![None; plan.trucks.len()],
            failed: BTreeMap::new(),
        }
    }

    fn failed(&mut self, at: Millis, truck: TruckId) {
        if let Some(course) = self.under_way[truck.at()].take() {
            self.failed.insert((course.order, course.number), at);
        }
    }

    fn course(&mut self, truck: TruckId) -> Option<&mut Course> {
        self.under_way[truck.at()].as_mut()
    }

    fn arrived(
        &mut self,
        at: Millis,
        truck: TruckId,
        spot: SpotId,
        times: (Millis, Millis),
        judged: bool,
    ) {
        let Some(course) = self.under_way[truck.at()] else {
            return;
        };
        let (due, ready) = times;
        if !judged || at - ready <= self.plan.orders[course.order.at()].late {
            return;
        }
        let load = Trip {
            plant: course.plant,
            spot,
            volume: course.volume,
            now: course.promised,
            due,
        };
        let reckoned = self.plan.reckoned(self.rule, &self.roads, &load);
        self.late.push(LateLoad {
            order: course.order,
            number: course.number,
            truck,
            plant: course.plant,
            at,
            late: at - ready,
            parts: parts(&course, at, ready, reckoned),
        });
    }
}

fn parts(course: &Course, at: Millis, ready: Millis, reckoned: Reckoned) -> Vec<(Cause, Millis)> {
    let start = ready - reckoned.trip - reckoned.at_plant;
    let first = if course.again {
        Cause::Failed
    } else {
        Cause::Asked
    };
    let joined = course.joined.unwrap_or(course.promised);
    let milestones = [
        (first, course.asked - start),
        (Cause::NoTruck, course.promised - start),
        (Cause::Coming, joined - start),
        (Cause::BayQueue, course.in_bay.unwrap_or(joined) - start),
        (Cause::AtPlant, course.left - start - reckoned.at_plant),
        (Cause::Road, at - ready),
    ];
    split(&milestones)
}

/// Splits the last deviation among the steps; the parts are more than zero and add up to it.
fn split(milestones: &[(Cause, Millis)]) -> Vec<(Cause, Millis)> {
    let mut parts: Vec<(Cause, Millis)> = Vec::new();
    let mut behind = Millis::ZERO;
    for (cause, deviation) in milestones {
        let now_behind = (*deviation).max(Millis::ZERO);
        if now_behind > behind {
            parts.push((*cause, now_behind - behind));
        }
        let mut recovered = (behind - now_behind).max(Millis::ZERO);
        for (_, part) in &mut parts {
            let cancelled = recovered.min(*part);
            *part = *part - cancelled;
            recovered = recovered - cancelled;
        }
        behind = now_behind;
    }
    parts.retain(|(_, part)| *part > Millis::ZERO);
    parts
}

impl Observer for Milestones<'_> {
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Asked { order } => {
                self.asked[order.at()].get_or_insert(at);
            }
            Event::Promised {
                order,
                number,
                truck,
                plant,
                volume,
                ..
            } => {
                let asked = self.asked[order.at()].take().unwrap_or(at);
                let failed = self.failed.get(&(order, number)).copied();
                self.under_way[truck.at()] = Some(Course {
                    order,
                    number,
                    plant,
                    volume,
                    again: failed.is_some(),
                    asked: failed.map_or(asked, |failed| failed.max(asked)),
                    promised: at,
                    joined: None,
                    in_bay: None,
                    left: at,
                });
            }
            Event::BayJoined { truck, .. } => {
                if let Some(course) = self.course(truck) {
                    course.joined.get_or_insert(at);
                }
            }
            Event::BayEntered { truck, .. } => {
                if let Some(course) = self.course(truck) {
                    course.in_bay.get_or_insert(at);
                }
            }
            Event::RackLeft { truck, .. } => {
                if let Some(course) = self.course(truck) {
                    course.left = at;
                }
            }
            Event::PromiseBroken { truck, .. } | Event::LoadLost { truck, .. } => {
                self.failed(at, truck);
            }
            Event::Rejected { truck, .. } => {
                // A load that is turned away on site has not come.
                if let Some(course) = self.under_way[truck.at()] {
                    let same = |late: &LateLoad| {
                        (late.order, late.number) == (course.order, course.number)
                    };
                    self.late.retain(|late| !same(late));
                }
                self.failed(at, truck);
            }
            Event::SiteReached {
                spot,
                truck,
                due,
                ready,
                judged,
                ..
            } => self.arrived(at, truck, spot, (due, ready), judged),
            Event::DischargeBegun { truck, .. } => self.under_way[truck.at()] = None,
            Event::Undelivered {
                order,
                volume,
                late,
                ..
            } => self.never.push(Never {
                order,
                volume,
                at,
                late,
            }),
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn split_minutes(deviations: [i64; 4]) -> Vec<(Cause, i64)> {
        let causes = [Cause::Asked, Cause::NoTruck, Cause::BayQueue, Cause::Road];
        let milestones: Vec<_> = causes
            .into_iter()
            .zip(deviations.map(|minutes| Millis::MINUTE * minutes))
            .collect();
        split(&milestones)
            .into_iter()
            .map(|(cause, part)| (cause, part.0 / Millis::MINUTE.0))
            .collect()
    }

    /// Worked out on paper: no source outside the project's own definition.
    #[test]
    fn parts_add_up_and_time_recovered_cancels_the_oldest() {
        use Cause::{Asked, BayQueue, NoTruck, Road};
        // Asked 10 min early; the truck comes 4 min late, the queue adds 9, the road 11.
        assert_eq!(
            split_minutes([-10, 4, 13, 24]),
            [(NoTruck, 4), (BayQueue, 9), (Road, 11)]
        );
        // Time in hand is used up before anything counts.
        assert_eq!(split_minutes([-10, -6, -1, 20]), [(Road, 20)]);
        // 5 min recovered at the bay cancel the ask's 3 and 2 of the truck's.
        assert_eq!(split_minutes([3, 10, 5, 16]), [(NoTruck, 5), (Road, 11)]);
        assert_eq!(split_minutes([3, 10, -2, 6]), [(Road, 6)]);
        assert_eq!(split_minutes([7, 7, 7, 7]), [(Asked, 7)]);
    }
}
