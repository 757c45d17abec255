//! What became of every load of one replication, late or not: with it the same load is looked at under two rules.

use crate::plant::{Event, Observer, Plan};
use crate::units::{Millis, OrderId, PlantId, TruckId};

/// A load that its site has taken, and that is judged by its lateness.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Delivery {
    /// Its order.
    pub order: OrderId,
    /// Its number in the order, from 0.
    pub number: u32,
    /// The truck that brought it.
    pub truck: TruckId,
    /// Where it was loaded.
    pub plant: PlantId,
    /// When it was due on site.
    pub due: Millis,
    /// When it came on site.
    pub came: Millis,
    /// How late that was, at least 0.
    pub late: Millis,
    /// Whether that is more than its order tolerates.
    pub is_late: bool,
    /// When its discharge had ended; none if it had not within the replication.
    pub placed: Option<Millis>,
}

/// Keeps the deliveries of one replication.
#[derive(Clone, Debug)]
pub struct Deliveries {
    /// Loads taken, in the order in which their discharge began.
    pub loads: Vec<Delivery>,
    /// When a discharge ended, in order: also of loads that are not judged, or came after the end of their order's day.
    pub placed: Vec<Millis>,
    /// Orders that were turned down when they were called in.
    pub turned_down: Vec<OrderId>,
    /// By truck: where it was promised to load last, when its load was due, and which of the loads it discharges.
    trucks: Vec<(PlantId, Millis, Option<usize>)>,
}

impl Deliveries {
    /// For one run of this plan.
    pub fn new(plan: &Plan) -> Self {
        let trucks = plan.trucks.iter();
        Self {
            loads: Vec::new(),
            placed: Vec::new(),
            turned_down: Vec::new(),
            trucks: trucks.map(|one| (one.home, Millis::ZERO, None)).collect(),
        }
    }
}

impl Observer for Deliveries {
    const EACH_REFUSAL: bool = false;

    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Promised { truck, plant, .. } => self.trucks[truck.at()].0 = plant,
            Event::SiteReached { truck, due, .. } => self.trucks[truck.at()].1 = due,
            Event::Taken {
                order,
                number,
                truck,
                came,
                lateness,
            } => {
                let (plant, due, discharges) = &mut self.trucks[truck.at()];
                *discharges = Some(self.loads.len());
                self.loads.push(Delivery {
                    order,
                    number,
                    truck,
                    plant: *plant,
                    due: *due,
                    came,
                    late: lateness.late(),
                    is_late: lateness.is_late(),
                    placed: None,
                });
            }
            Event::DischargeEnded { truck, .. } => {
                self.placed.push(at);
                if let Some(load) = self.trucks[truck.at()].2.take() {
                    self.loads[load].placed = Some(at);
                }
            }
            Event::Declined { order, .. } => self.turned_down.push(order),
            _ => {}
        }
    }
}
