//! The figures of one replication, made from its events.

use super::clock_figures::ClockFigures;
use super::columns::figure;
use super::material::MaterialSums;
use super::pours::Pours;
use super::profile::CostPart;
use super::queues::Queues;
use super::wages::Wages;
use crate::concrete::ReturnedFate;
use crate::dispatch::Refusal;
use crate::plant::{Event, Observer, Plan};
use crate::scenario::Money;
use crate::units::{Cents, Millis, Volume};

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
}

/// What is only added up.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    loads: u32,
    stranded: u32,
    rested_out: u32,
    days_lost: u32,
    not_called: u32,
    redirected: u32,
    declined: u32,
    loads_lost: u32,
    rejected: u32,
    made_again: u32,
    dry_ups: u32,
    fetched: u32,
    no_shows: u32,
    cancelled: Volume,
    never_ordered: Volume,
    balance: Volume,
    helpers: Millis,
    broken: u32,
    outside: u32,
    refused_hours: u32,
    refused_closed: u32,
    refused_other: u32,
    batched: Volume,
    placed: Volume,
    dumped: Volume,
    left: Volume,
    violation: Millis,
    miles: f64,
    washouts: u32,
    breakdowns: u32,
    heavy: u32,
    returned: Volume,
    /// Of what came back.
    reused: Volume,
    /// Unloading minutes beyond the allowance.
    unloading_beyond: f64,
    short_orders: u32,
    driven: Millis,
    productive: Millis,
    crew_stayed: Millis,
    kept_open: Millis,
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
            wages: Wages::new(plan.first_day, plan.driver_count()),
            unloading: vec![Millis::ZERO; plan.trucks.len()],
            material: MaterialSums::default(),
            margins: vec![Millis::NEVER; plan.driver_count()],
            smallest_margin: Millis::NEVER,
            clocks: ClockFigures::default(),
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
    }

    /// The margins of the replication's tours under a limit, smallest first.
    pub fn tour_margins(&self) -> &[Millis] {
        self.clocks.margins()
    }

    /// The costs of the replication by part.
    pub fn cost_parts(&self) -> [Cents; CostPart::ALL.len()] {
        let (sums, money, pours) = (&self.sums, self.money, &self.pours);
        CostPart::ALL.map(|part| match part {
            CostPart::Pay => self.wages.regular_pay(money),
            CostPart::Overtime => self.wages.overtime_pay(money),
            CostPart::Trucks => {
                money.truck_per_duty_h.times(self.wages.duty().hours())
                    + money.truck_per_driven_h.times(sums.driven.hours())
                    + money.truck_per_mile.times(sums.miles)
            }
            CostPart::Crews => money
                .crew_per_open_h
                .times(self.crew_hours + sums.crew_stayed.hours()),
            CostPart::Material => {
                money.material_per_yd3.times(sums.batched.yd3())
                    + self.material.cost(self.plan.corrections())
            }
            CostPart::Dumped => {
                let dumped = sums.dumped + self.material.parts_dumped();
                money.dumped_per_yd3.times(dumped.yd3())
                    + money
                        .returned_per_yd3
                        .times((sums.returned - sums.reused).yd3())
            }
            CostPart::Late => {
                money.late_per_load.times(f64::from(pours.late))
                    + money.late_per_min.times(pours.beyond.minutes())
            }
            CostPart::Undelivered => money
                .undelivered_per_yd3
                .times(pours.undelivered_volume.yd3()),
            CostPart::Stranded => {
                money.stranded.times(f64::from(sums.stranded))
                    + money.helper_per_h.times(sums.helpers.hours())
            }
            CostPart::Lodging => money.lodging.times(f64::from(sums.rested_out)),
            CostPart::Fines => money.found_heavy.times(f64::from(sums.heavy)),
            CostPart::Washouts => money.per_washout.times(f64::from(sums.washouts)),
            CostPart::Standby => {
                money.pump_standby_per_h.times(pours.pump_pause.hours())
                    + money.site_crew_per_h.times(pours.pause.hours())
            }
        })
    }

    /// What customers pay. None: the scenario does not say.
    pub fn revenue(&self) -> Option<Cents> {
        let sums = &self.sums;
        self.money.revenue.map(|revenue| {
            revenue.per_yd3.times(sums.placed.yd3())
                + revenue.unloading_per_min.times(sums.unloading_beyond)
                + revenue.short_load.times(f64::from(sums.short_orders))
        })
    }

    fn refused(&mut self, reason: Refusal) {
        match reason {
            Refusal::PlantClosed => self.sums.refused_closed += 1,
            Refusal::NoWay | Refusal::NotLent | Refusal::Weight => self.sums.refused_other += 1,
            _ if reason.is_of_hours() => self.sums.refused_hours += 1,
            _ => {}
        }
    }

    /// Writes the figures of the replication into a row of [`Figures::width`] columns. A figure that does not exist (cost
    /// per yd³ without a yd³, margin without a limit) is not a number.
    pub fn row(&self, row: &mut [f32]) {
        let (sums, pours) = (&self.sums, &self.pours);
        let (figures, queues) = row.split_at_mut(figure::COUNT);
        self.queues.rows(queues);
        let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { f64::NAN };
        let cost = self.cost_parts().into_iter().sum::<Cents>().units();
        let mut set = |figure: usize, value: f64| figures[figure] = value as f32;
        set(figure::COST, cost);
        set(figure::COST_PER_YD3, share(cost, sums.placed.yd3()));
        set(figure::LOADS, sums.loads.into());
        set(figure::LATE_LOADS, pours.late.into());
        set(
            figure::LATE_SHARE,
            share(pours.late.into(), pours.judged.into()),
        );
        set(
            figure::LATE_MIN,
            share(pours.late_arrived.minutes(), pours.arrived.into()),
        );
        set(figure::FIRST_LATE, pours.first_late.into());
        set(figure::UNDELIVERED, pours.undelivered.into());
        set(
            figure::SERVED_SHARE,
            share(pours.served() as f64, pours.orders() as f64),
        );
        set(figure::POURS_LATE, pours.finished_late(self.plan) as f64);
        set(figure::GAPS, pours.gaps.into());
        set(figure::GAP_MIN, pours.gap.minutes());
        set(figure::CREW_WAIT_MIN, pours.pause.minutes());
        set(figure::STRANDED, sums.stranded.into());
        set(figure::VIOLATION_MIN, sums.violation.minutes());
        let margin = if self.smallest_margin == Millis::NEVER {
            f64::NAN
        } else {
            self.smallest_margin.minutes()
        };
        set(figure::MARGIN_MIN, margin);
        set(figure::DAYS_LOST, sums.days_lost.into());
        set(figure::LOADS_LOST, sums.loads_lost.into());
        set(figure::REJECTED, sums.rejected.into());
        set(figure::REBATCHED, sums.made_again.into());
        set(figure::DRY_UPS, sums.dry_ups.into());
        set(figure::FETCHED, sums.fetched.into());
        set(figure::NO_SHOWS, sums.no_shows.into());
        set(figure::BROKEN, sums.broken.into());
        set(figure::REFUSED_HOURS, sums.refused_hours.into());
        set(figure::REFUSED_CLOSED, sums.refused_closed.into());
        set(figure::REFUSED_OTHER, sums.refused_other.into());
        let ordered = self.ordered - sums.never_ordered + sums.balance;
        set(figure::ORDERED_YD3, ordered.yd3());
        set(figure::CANCELLED_YD3, sums.cancelled.yd3());
        set(figure::BATCHED_YD3, sums.batched.yd3());
        set(figure::PLACED_YD3, sums.placed.yd3());
        set(figure::DUMPED_YD3, sums.dumped.yd3());
        set(figure::LEFT_YD3, sums.left.yd3());
        let paid = self.wages.paid();
        set(figure::PAID_H, paid.hours());
        set(figure::OVERTIME_H, self.wages.overtime().hours());
        set(
            figure::TRUCK_USE,
            share(sums.productive.minutes(), paid.minutes()),
        );
        set(figure::BAY_WAIT_MIN, self.queues.bay_wait_min());
        set(figure::SITE_WAIT_MIN, self.queues.site_wait_min());
        set(figure::OUTSIDE, sums.outside.into());
        set(figure::RETURNED_YD3, (sums.returned - sums.reused).yd3());
        set(figure::BREAKDOWNS, sums.breakdowns.into());
        set(figure::FOUND_HEAVY, sums.heavy.into());
        let revenue = self.revenue().map_or(f64::NAN, Cents::units);
        set(figure::REVENUE, revenue);
        set(figure::MARGIN, revenue - cost);
        self.material.row(self.plan.corrections(), &mut set);
        self.clocks.row(&mut set);
        set(figure::NOT_CALLED, sums.not_called.into());
        set(figure::KEPT_OPEN_H, sums.kept_open.hours());
        set(figure::REDIRECTED, sums.redirected.into());
        set(figure::DECLINED, sums.declined.into());
        set(figure::RESTED_OUT, sums.rested_out.into());
        set(figure::REUSED_YD3, sums.reused.yd3());
    }

    fn released(&mut self, driver: usize, at: Millis, tour: Millis) {
        self.wages.tour(self.money, driver, at, tour);
        self.smallest_margin = self.smallest_margin.min(self.margins[driver]);
        if self.margins[driver] < Millis::NEVER {
            self.clocks.margin(self.margins[driver]);
        }
        self.margins[driver] = Millis::NEVER;
    }
}

impl Observer for Figures<'_> {
    // Every call names its event: inlined, only that arm is left, without a jump that the processor cannot predict.
    #[inline(always)]
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Duty { .. }
            | Event::LongDayAllowed { .. }
            | Event::Reported { .. }
            | Event::Asked { .. }
            | Event::Promised { .. } => {}
            Event::Released { driver, tour, .. } => self.released(driver.at(), at, tour),
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
            Event::NoShow { .. } => self.sums.no_shows += 1,
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
                self.sums.declined += 1;
                self.sums.never_ordered += volume;
            }
            Event::Moved { order, by } => self.pours.moved(order, by),
            Event::PlantDown { .. } | Event::PlantUp { .. } => {}
            Event::Refused { reason, .. } => self.refused(reason),
            Event::PromiseBroken { .. } => self.sums.broken += 1,
            Event::BayJoined { plant, .. } => self.queues.join(self.queues.bay(plant), at),
            Event::BayQuit { plant, .. } => self.queues.quit(self.queues.bay(plant), at),
            Event::BayEntered { plant, waited, .. } => {
                let bay = self.queues.bay(plant);
                self.queues.enter(bay, at, waited);
                self.queues.begin_service(bay, at);
            }
            Event::BayLeft {
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
            Event::Emptied { .. } => {}
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
                self.sums.driven += took - broken - held;
                self.sums.breakdowns += u32::from(broken > Millis::ZERO);
                self.sums.heavy += u32::from(held > Millis::ZERO);
                self.sums.miles += miles;
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
            Event::DischargeBegun { order, spot, .. } => {
                self.queues.begin_service(self.queues.site(spot), at);
                self.pours.discharge_begun(self.plan, order, at);
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
                self.pours.discharge_ended(order, at, complete);
                self.sums.placed += volume;
                self.sums.productive += took;
                if let Some(revenue) = &self.money.revenue {
                    let stood = (at - self.unloading[truck.at()]).minutes();
                    let allowed = revenue.unloading_min_per_yd3 * volume.yd3();
                    self.sums.unloading_beyond += (stood - allowed).max(0.0);
                    let ordered = self.booked[order.at()];
                    let short = complete && ordered < revenue.short_load_under;
                    self.sums.short_orders += u32::from(short);
                }
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
            Event::LeftOver { volume, .. } => self.sums.left += volume,
            Event::CrewStayed { time, .. } => self.sums.crew_stayed += time,
            Event::KeptOpen { time, .. } => {
                self.sums.crew_stayed += time;
                self.sums.kept_open += time;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::Luck;
    use crate::observe::columns;
    use crate::plant::World;
    use crate::scenario;

    /// A row is written whole: what stands in it before is in it no more, in no column.
    #[test]
    fn every_figure_is_set() {
        // Not a number that no arithmetic makes.
        let untouched = f32::from_bits(0x7fc0_1234);
        for text in [
            include_str!("../../scenarios/shuttle_day.ron"),
            include_str!("../../scenarios/yard_study.ron"),
        ] {
            let scenario = scenario::parse("test", text).expect("a shipped scenario");
            let plan = Plan::new(&scenario);
            let mut figures = Figures::new(&plan, &scenario.money);
            figures.begin();
            World::new(&plan).run(0, Luck::new(1, 0), &mut figures);
            let mut row = vec![untouched; figures.width()];
            figures.row(&mut row);
            for (column, value) in columns(&scenario).iter().zip(&row) {
                let key = &column.key;
                assert_ne!(value.to_bits(), untouched.to_bits(), "{key} is never set");
                let lacks = column.needs.lacking(&scenario).is_some();
                assert!(
                    !lacks || value.is_nan(),
                    "{key} has a value without what it needs"
                );
            }
        }
    }
}
