//! The figures of one replication, made from its events.

mod money;
mod row;
mod sums;

use self::sums::Sums;
use super::clock_figures::ClockFigures;
use super::columns::figure;
use super::material::MaterialSums;
use super::pours::Pours;
use super::queues::Queues;
use super::wages::Wages;
use super::whom::ForWhom;
use crate::concrete::ReturnedFate;
use crate::dispatch::Refusal;
use crate::plant::{Event, Observer, Plan};
use crate::scenario::Money;
use crate::units::{DriverId, Millis, Volume};

/// Figures of a replication in the making. Kept warm: [`Figures::begin`] before each replication, [`Figures::row`] after.
#[derive(Clone, Debug)]
pub struct Figures<'p> {
    plan: &'p Plan,
    money: &'p Money,
    ordered: Volume,
    /// By order: its volume, as drawn.
    booked: Vec<Volume>,
    crew_hours: f64,
    pours: Pours,
    queues: Queues,
    sums: Sums,
    wages: Wages,
    /// By truck: since when the unloading time of its load runs.
    unloading: Vec<Millis>,
    material: MaterialSums,
    /// By driver: margin at the end of the last drive of the present tour.
    margins: Vec<Millis>,
    smallest_margin: Millis,
    clocks: ClockFigures,
    whom: ForWhom<'p>,
}

impl<'p> Figures<'p> {
    /// For runs of this plan at these prices.
    pub fn new(plan: &'p Plan, money: &'p Money) -> Self {
        let ordered = plan
            .orders
            .iter()
            .filter(|order| !order.endless)
            .map(|order| order.volume)
            .sum();
        let open =
            |span: &(Millis, Millis)| (span.1.min(plan.end) - span.0).max(Millis::ZERO).hours();
        Self {
            plan,
            money,
            ordered,
            booked: plan.orders.iter().map(|order| order.volume).collect(),
            crew_hours: plan
                .plants
                .iter()
                .flat_map(|plant| &plant.open)
                .map(open)
                .sum(),
            pours: Pours::new(plan),
            queues: Queues::new(plan),
            sums: Sums::default(),
            wages: Wages::new(plan, money),
            unloading: vec![Millis::ZERO; plan.trucks.len()],
            material: MaterialSums::default(),
            margins: vec![Millis::NEVER; plan.driver_count()],
            smallest_margin: Millis::NEVER,
            clocks: ClockFigures::default(),
            whom: ForWhom::new(plan),
        }
    }

    /// Number of figures in a row.
    pub fn width(&self) -> usize {
        figure::COUNT + self.queues.width()
    }

    /// Forgets the last replication.
    pub fn begin(&mut self) {
        self.pours.begin();
        self.queues.begin();
        self.sums = Sums::default();
        self.wages.begin();
        self.material = MaterialSums::default();
        self.margins.fill(Millis::NEVER);
        self.smallest_margin = Millis::NEVER;
        self.clocks.begin();
        self.whom.begin();
    }

    /// Some of the figures by order, plant and driver.
    pub fn whom(&self) -> &ForWhom<'p> {
        &self.whom
    }

    /// The margins of the replication's tours under a limit, smallest first.
    pub fn tour_margins(&self) -> &[Millis] {
        self.clocks.margins()
    }

    fn refused(&mut self, reason: Refusal, trucks: u32) {
        match reason {
            Refusal::PlantClosed => self.sums.refused_closed += trucks,
            Refusal::NoWay | Refusal::NotLent | Refusal::Weight => {
                self.sums.refused_other += trucks
            }
            _ if reason.is_of_hours() => self.sums.refused_hours += trucks,
            _ => {}
        }
    }

    fn released(&mut self, id: DriverId, at: Millis, tour: Millis) {
        let driver = id.at();
        let overtime = self.wages.tour(self.money, driver, at, tour);
        self.whom.tour(id, tour, overtime);
        self.smallest_margin = self.smallest_margin.min(self.margins[driver]);
        if self.margins[driver] < Millis::NEVER {
            self.clocks.margin(self.margins[driver]);
        }
        self.margins[driver] = Millis::NEVER;
    }
}

impl Observer for Figures<'_> {
    const EACH_REFUSAL: bool = false;

    // Every call names its event: inlined, only that arm is left, without a jump that the processor cannot predict.
    #[inline(always)]
    fn event(&mut self, at: Millis, event: &Event) {
        self.whom.event(at, event);
        match *event {
            Event::Duty { .. }
            | Event::LongDayAllowed { .. }
            | Event::Reported { .. }
            | Event::Asked { .. }
            | Event::Promised { .. } => {}
            Event::Released { driver, tour, .. } => self.released(driver, at, tour),
            Event::DriverDayLost { .. } => self.sums.days_lost += 1,
            Event::RestsOut { .. } => self.sums.rested_out += 1,
            Event::ReportedLate { .. }
            | Event::StrandedHome { .. }
            | Event::Foreseen { .. }
            | Event::OutOfHoursFull { .. } => self.clocks.event(event, self.plan.plants.len()),
            Event::LongDay { past, .. } => {
                self.sums.violation += past;
                self.clocks.event(event, self.plan.plants.len());
            }
            Event::OwnDriverSent { .. } => {
                self.sums.fetched += 1;
                self.clocks.event(event, self.plan.plants.len());
            }
            Event::CarDriven { takes, .. } | Event::HelperInVain { takes, .. } => {
                self.sums.helpers += takes;
            }
            Event::NotCalled { .. } => self.sums.not_called += 1,
            Event::CalledOff { driver } => {
                self.sums.called_off += 1;
                self.wages.called_off(driver.at(), at.day());
            }
            Event::DayOff { driver, day } => {
                self.sums.days_off += 1;
                self.wages.no_show(driver.at(), day);
            }
            Event::NoShow { driver, day } => {
                self.sums.no_shows += 1;
                self.wages.no_show(driver.at(), day);
            }
            Event::HelperSent { takes, .. } => {
                self.sums.fetched += 1;
                self.sums.helpers += takes;
            }
            Event::Cancelled {
                order,
                volume,
                ordered,
            } => {
                self.pours.cancelled(order);
                if ordered {
                    self.sums.cancelled += volume;
                } else {
                    self.sums.never_ordered += volume;
                }
            }
            Event::Drawn {
                order,
                volume,
                below_largest,
                ..
            } => {
                self.booked[order.at()] = volume;
                self.sums.never_ordered += below_largest;
            }
            Event::BalanceCalled { volume, .. } => self.sums.balance += volume,
            Event::Declined { order, volume } => {
                self.pours.cancelled(order);
                self.pours.lost(order, volume);
                self.sums.declined += 1;
                self.sums.refused_volume += volume;
                self.sums.never_ordered += volume;
            }
            Event::Moved { order, by } => self.pours.moved(order, by),
            Event::SitePhones { order, by } => self.pours.site_moved(order, by),
            Event::PlantDown { .. } | Event::PlantUp { .. } => {}
            Event::Refused { reason, .. } => self.refused(reason, 1),
            Event::RefusedTogether { reason, trucks, .. } => self.refused(reason, trucks),
            Event::PromiseBroken { .. } => self.sums.broken += 1,
            Event::BayJoined { plant, .. } => self.queues.join(self.queues.bay(plant), at),
            Event::BayQuit { plant, .. } => self.queues.quit(self.queues.bay(plant), at),
            Event::BayEntered { plant, waited, .. } => {
                let bay = self.queues.bay(plant);
                self.queues.enter(bay, at, waited);
                self.queues.begin_service(bay, at);
            }
            Event::BayLeft {
                order,
                plant,
                took,
                volume,
                ..
            } => {
                self.queues.leave(self.queues.bay(plant), at);
                if let Some(rack) = self.queues.rack(plant) {
                    self.queues.join(rack, at);
                }
                self.sums.batched += volume;
                let stabilizer = self.plan.orders[order.at()].stabilizer_per_yd3;
                self.sums.stabilizers += stabilizer.times(volume.yd3());
                self.sums.productive += took;
            }
            Event::RackEntered { plant, waited, .. } => {
                if let Some(rack) = self.queues.rack(plant) {
                    self.queues.enter(rack, at, waited);
                    self.queues.begin_service(rack, at);
                }
            }
            Event::RackLeft { plant, took, .. } => {
                if let Some(rack) = self.queues.rack(plant) {
                    self.queues.leave(rack, at);
                }
                self.sums.productive += took;
            }
            Event::DryUp { .. } => self.sums.dry_ups += 1,
            Event::Rejected {
                volume, why, spot, ..
            } => {
                self.sums.rejected += u32::from(spot.is_some());
                self.sums.made_again += 1;
                self.sums.dumped += volume;
                if let Some(spot) = spot {
                    self.material.rejected(why);
                    self.queues.turn_away(self.queues.site(spot), at);
                }
            }
            Event::Material { step, .. } => self.material.step(step),
            Event::Redirected { .. } => self.sums.redirected += 1,
            // What a drive comes to is told when it ends.
            Event::Emptied { .. } | Event::Departed { .. } => {}
            Event::Returned { volume, fate, .. } => {
                if fate == ReturnedFate::Reused {
                    self.sums.reused += volume;
                }
            }
            Event::LoadLost { volume, .. } => {
                self.sums.loads_lost += 1;
                self.sums.dumped += volume;
            }
            Event::Drove {
                driver,
                took,
                for_load,
                limit,
                miles,
                broken,
                held,
                ..
            } => {
                // Fuel and wear of a hired hauler are in the hauler's price.
                if !self.wages.hires(driver.at()) {
                    self.sums.driven += took - broken - held;
                    self.sums.miles += miles;
                }
                self.sums.heavy += u32::from(held > Millis::ZERO);
                if for_load {
                    self.sums.productive += took;
                }
                if limit.by.is_some() {
                    let beyond = limit.passed_by(at).min(took);
                    self.sums.violation += beyond;
                    self.clocks.violation(limit.by, beyond);
                    self.margins[driver.at()] = limit.until - at;
                }
            }
            Event::SiteReached {
                spot,
                truck,
                due,
                outside,
                ..
            } => {
                self.queues.join(self.queues.site(spot), at);
                self.unloading[truck.at()] = at.max(due);
                self.sums.outside += u32::from(outside);
            }
            Event::Taken {
                order,
                number,
                lateness,
                ..
            } => self.pours.taken(order, number == 0, lateness),
            Event::PlaceTaken { spot, waited, .. } => {
                self.queues.enter(self.queues.site(spot), at, waited)
            }
            Event::DischargeBegun { order, spot, truck } => {
                self.queues.begin_service(self.queues.site(spot), at);
                if self.pours.discharge_begun(self.plan, order, at) {
                    self.whom.gap(order, truck);
                }
            }
            Event::DischargeEnded {
                order,
                spot,
                truck,
                took,
                volume,
                returned,
                complete,
                ..
            } => {
                self.sums.returned += returned;
                self.sums.cancelled += returned;
                self.queues.leave(self.queues.site(spot), at);
                self.pours.discharge_ended(order, at, (volume, complete));
                self.sums.placed += volume;
                self.sums.productive += took;
                self.sums.sold += self.plan.orders[order.at()]
                    .price_per_yd3
                    .times(volume.yd3());
                let revenue = &self.money.revenue;
                let stood = (at - self.unloading[truck.at()]).minutes();
                let allowed = revenue.unloading_min_per_yd3 * volume.yd3();
                self.sums.unloading_beyond += (stood - allowed).max(0.0);
                let short = complete && self.booked[order.at()] < revenue.short_load_under;
                self.sums.short_orders += u32::from(short);
                self.sums.loads += u32::from(self.queues.counts(at));
            }
            Event::SiteLeft { washed, .. } => self.sums.productive += washed,
            Event::WashedOut { .. } => self.sums.washouts += 1,
            Event::Stranded { .. } => {
                self.sums.stranded += 1;
                self.clocks.event(event, self.plan.plants.len());
            }
            Event::Undelivered {
                order,
                volume,
                first,
                ..
            } => self.pours.undelivered(order, first, volume),
            Event::LeftOver { order, volume } => {
                self.sums.left += volume;
                self.pours.lost(order, volume);
            }
            Event::CrewStayed { time, .. } => self.sums.crew_stayed += time,
            Event::KeptOpen { time, .. } => {
                self.sums.crew_stayed += time;
                self.sums.kept_open += time;
            }
            Event::BrokeDown { .. } => self.sums.breakdowns += 1,
            Event::GivenUp { volume, .. } => {
                self.sums.given_up += 1;
                self.sums.dumped += volume;
            }
            Event::BrokenDrum { how, .. } => self.sums.broken_drums[how as usize] += 1,
            Event::BreakdownHeard { .. }
            | Event::Repaired { .. }
            | Event::TowedHome { .. }
            | Event::TruckOut { .. } => {}
            // What comes of it is counted where it comes.
            Event::SiteWaits { .. } | Event::SiteGoesOn { .. } => {}
        }
    }
}
