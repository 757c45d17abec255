//! The tickets of one replication, as a yard would have written them: one for each load that was batched.

use crate::plant::{Event, Observer, Plan};
use crate::scenario::Scenario;
use crate::scenario::past_tickets::{Stamp, Ticket};
use crate::units::{DriverId, Millis, OrderId, PlaceId, PlantId, TruckId, Volume};

/// What a truck is known to do.
#[derive(Clone, Debug, Default)]
struct Now {
    driver: Option<DriverId>,
    /// The load that it was promised to last, until it is batched: order, number, plant.
    promised: Option<(OrderId, u32, PlantId)>,
    /// Its ticket that is not closed, by position.
    open: Option<usize>,
    /// Its load is sent on to another site, of which it is told next.
    sent_on: bool,
    /// It drives to another plant than its own, which is known when it joins the queue there.
    elsewhere: bool,
    /// The last ticket closed at a plant that is not known yet.
    came: Option<usize>,
}

/// Keeps the tickets of one replication.
#[derive(Clone, Debug)]
pub struct TicketBook<'s> {
    scenario: &'s Scenario,
    plan: &'s Plan,
    trucks: Vec<Now>,
    /// In the order in which the loads were batched.
    pub tickets: Vec<Ticket>,
}

impl<'s> TicketBook<'s> {
    /// For one run of the scenario, of which this is the plan.
    pub fn new(scenario: &'s Scenario, plan: &'s Plan) -> Self {
        Self {
            scenario,
            plan,
            trucks: vec![Now::default(); plan.trucks.len()],
            tickets: Vec::new(),
        }
    }

    fn plant(&self, id: PlantId) -> Option<String> {
        Some(self.scenario.plants[id.at()].name.clone())
    }

    fn place(&self, id: PlaceId) -> Option<String> {
        Some(self.scenario.place_name(id).to_owned())
    }

    fn driver(&self, id: DriverId) -> Option<String> {
        Some(self.scenario.drivers[id.at()].name.clone())
    }

    /// The ticket that a truck works on.
    fn open(&mut self, truck: TruckId) -> Option<&mut Ticket> {
        let open = self.trucks[truck.at()].open?;
        Some(&mut self.tickets[open])
    }

    fn stamp(&mut self, truck: TruckId, stamp: Stamp, at: Millis) {
        if let Some(ticket) = self.open(truck) {
            ticket.times[stamp as usize] = Some(at);
        }
    }

    fn order(&self, id: OrderId) -> (Option<String>, Option<String>, Option<PlaceId>) {
        let name = Some(self.scenario.order_name(id).to_owned());
        match id.at().checked_sub(self.scenario.orders.len()) {
            None => {
                let order = &self.scenario.orders[id.at()];
                (name, Some(order.mix.clone()), Some(order.stay.site))
            }
            Some(endless) => (name, Some(self.scenario.endless[endless].mix.clone()), None),
        }
    }

    fn batched(&mut self, at: Millis, truck: TruckId, loading: Millis, volume: Volume) {
        // A load that goes back into the bay has its ticket.
        let Some((order, number, plant)) = self.trucks[truck.at()].promised.take() else {
            return;
        };
        let (order, mix, site) = self.order(order);
        let driver = self.trucks[truck.at()].driver;
        let mut ticket = Ticket {
            plant: self.plant(plant),
            truck: Some(self.scenario.trucks[truck.at()].name.clone()),
            driver: driver.and_then(|driver| self.driver(driver)),
            site: site.and_then(|site| self.place(site)),
            order,
            load: Some(number + 1),
            mix,
            yd3: Some(volume.yd3()),
            ..Ticket::default()
        };
        ticket.times[Stamp::Ticketed as usize] = Some(at - loading);
        ticket.times[Stamp::Loaded as usize] = Some(at);
        self.trucks[truck.at()].open = Some(self.tickets.len());
        self.tickets.push(ticket);
    }

    fn drove(
        &mut self,
        at: Millis,
        took: Millis,
        (truck, driver): (TruckId, DriverId),
        for_load: bool,
    ) {
        let name = self.driver(driver);
        let home = self.plant(self.plan.trucks[truck.at()].home);
        let elsewhere = std::mem::take(&mut self.trucks[truck.at()].elsewhere);
        let open = self.trucks[truck.at()].open;
        let Some(ticket) = self.open(truck) else {
            return;
        };
        if ticket.times[Stamp::LeftSite as usize].is_none() {
            // Out; of a load that is sent on, the first drive.
            ticket.times[Stamp::LeftPlant as usize].get_or_insert(at - took);
            ticket.driver = name;
            return;
        }
        // Fetched or towed home is no way back that anybody plans with.
        if for_load {
            ticket.times[Stamp::BackAtPlant as usize] = Some(at);
            if !elsewhere {
                ticket.back_at = home;
            } else {
                self.trucks[truck.at()].came = open;
            }
        }
        self.trucks[truck.at()].open = None;
    }
}

impl Observer for TicketBook<'_> {
    const EACH_REFUSAL: bool = false;
    // Where a truck drives to is told only with plans.
    const PLANS: bool = true;

    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Reported { driver, truck } => self.trucks[truck.at()].driver = Some(driver),
            Event::Promised {
                order,
                number,
                truck,
                plant,
                ..
            } => {
                if std::mem::take(&mut self.trucks[truck.at()].sent_on) {
                    let (order, mix, site) = self.order(order);
                    let site = site.and_then(|site| self.place(site));
                    if let Some(ticket) = self.open(truck) {
                        (ticket.order, ticket.mix, ticket.site) = (order, mix, site);
                        ticket.load = Some(number + 1);
                    }
                } else {
                    self.trucks[truck.at()].promised = Some((order, number, plant));
                }
            }
            Event::PromiseBroken { truck, .. } => self.trucks[truck.at()].promised = None,
            Event::Redirected { truck, .. } => self.trucks[truck.at()].sent_on = true,
            Event::BayJoined { truck, plant } => {
                let plant = self.plant(plant);
                if let Some(came) = self.trucks[truck.at()].came.take() {
                    self.tickets[came].back_at = plant;
                }
            }
            Event::BayLeft {
                truck,
                loading,
                volume,
                ..
            } => self.batched(at, truck, loading, volume),
            Event::Departed { truck, errand, .. } => {
                self.trucks[truck.at()].elsewhere = errand == crate::plant::Errand::OtherPlant;
            }
            Event::Drove {
                driver,
                truck,
                took,
                for_load,
                ..
            } => self.drove(at, took, (truck, driver), for_load),
            Event::SiteReached { spot, truck, .. } => {
                let site = self.place(self.plan.spots[spot.at()].place);
                if let Some(ticket) = self.open(truck) {
                    ticket.site = site;
                    ticket.times[Stamp::OnSite as usize] = Some(at);
                }
            }
            Event::DischargeBegun { truck, .. } => self.stamp(truck, Stamp::UnloadStart, at),
            Event::DischargeEnded { truck, volume, .. } => {
                if let Some(ticket) = self.open(truck) {
                    ticket.placed_yd3 = Some(volume.yd3());
                    ticket.times[Stamp::UnloadEnd as usize] = Some(at);
                }
            }
            Event::SiteLeft { truck, .. } => self.stamp(truck, Stamp::LeftSite, at),
            Event::Rejected { truck, spot, .. } => match spot {
                Some(_) => self.stamp(truck, Stamp::LeftSite, at),
                None => self.trucks[truck.at()].open = None,
            },
            Event::LoadLost { truck, .. } | Event::GivenUp { truck, .. } => {
                self.trucks[truck.at()].open = None
            }
            _ => {}
        }
    }
}
