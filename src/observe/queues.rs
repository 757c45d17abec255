//! Queues: bays, racks of limited room, and sites; time averages over the measured span.

use super::columns::QUEUE_FIGURES;
use crate::engine::TimeIntegral;
use crate::plant::Plan;
use crate::scenario::Scenario;
use crate::units::{Millis, PlantId, SpotId};

/// One queue: waiting, present and busy over time, and what passed through.
#[derive(Clone, Debug)]
struct Queue {
    servers: u32,
    /// How many wait, are present, are served.
    levels: TimeIntegral<3>,
    entered: u32,
    wait: Millis,
    left: u32,
}

impl Queue {
    fn new(plan: &Plan, servers: u32) -> Self {
        let (from, to) = plan.measure;
        Self {
            servers,
            levels: TimeIntegral::together(from, to),
            entered: 0,
            wait: Millis::ZERO,
            left: 0,
        }
    }

    fn row(&self, span: (Millis, Millis), row: &mut [f32]) {
        let end = span.1;
        let hours = (span.1 - span.0).hours();
        let wait = if self.entered == 0 {
            0.0
        } else {
            self.wait.minutes() / f64::from(self.entered)
        };
        let [waiting, present, busy] = self.levels.means(end);
        let figures = [
            f64::from(self.left) / hours,
            waiting,
            present,
            busy / f64::from(self.servers),
            wait,
        ];
        for (figure, value) in row.iter_mut().zip(figures) {
            *figure = value as f32;
        }
    }
}

/// Names of the queues, in the order of their figures.
pub(super) fn names(scenario: &Scenario) -> Vec<String> {
    let mut names: Vec<String> = scenario
        .plants
        .iter()
        .map(|plant| format!("{} bays", plant.name))
        .collect();
    let limited = scenario
        .plants
        .iter()
        .filter(|plant| plant.rack_places.is_some());
    names.extend(limited.map(|plant| format!("{} rack", plant.name)));
    if !scenario.orders.is_empty() {
        names.push("sites of orders".into());
    }
    for endless in &scenario.endless {
        for destination in &endless.destinations {
            names.push(format!(
                "{} at {}",
                endless.name,
                scenario.place_name(destination.site)
            ));
        }
    }
    names
}

/// All queues of a plan.
#[derive(Clone, Debug)]
pub(super) struct Queues {
    queues: Vec<Queue>,
    rack_of_plant: Vec<Option<u32>>,
    site_of_spot: Vec<u32>,
    span: (Millis, Millis),
    counted: (Millis, Millis),
}

impl Queues {
    pub(super) fn new(plan: &Plan) -> Self {
        let mut queues: Vec<Queue> = plan
            .plants
            .iter()
            .map(|plant| Queue::new(plan, plant.bays))
            .collect();
        let mut rack_of_plant = Vec::new();
        for plant in &plan.plants {
            let limited = plant.rack_places < u32::MAX;
            rack_of_plant.push(limited.then_some(queues.len() as u32));
            if limited {
                queues.push(Queue::new(plan, plant.rack_places));
            }
        }
        let ordered = |spot: &&crate::plant::SpotPlan| !plan.orders[spot.order.at()].endless;
        let outlets: usize = plan
            .spots
            .iter()
            .filter(ordered)
            .map(|spot| spot.outlet_places.len())
            .sum();
        let shared = queues.len() as u32;
        if outlets > 0 {
            queues.push(Queue::new(plan, outlets as u32));
        }
        let mut site_of_spot = Vec::new();
        for spot in &plan.spots {
            if plan.orders[spot.order.at()].endless {
                site_of_spot.push(queues.len() as u32);
                queues.push(Queue::new(plan, spot.outlet_places.len() as u32));
            } else {
                site_of_spot.push(shared);
            }
        }
        Self {
            queues,
            rack_of_plant,
            site_of_spot,
            span: plan.measure,
            counted: plan.counted,
        }
    }

    pub(super) fn begin(&mut self) {
        let fresh = TimeIntegral::together(self.span.0, self.span.1);
        for queue in &mut self.queues {
            queue.levels = fresh;
            queue.entered = 0;
            queue.wait = Millis::ZERO;
            queue.left = 0;
        }
    }

    /// Whether what happens now counts. A moment between two spans belongs to the later one, as for the time averages.
    #[inline]
    pub(super) fn counts(&self, at: Millis) -> bool {
        at >= self.counted.0 && at < self.counted.1
    }

    #[inline]
    pub(super) fn bay(&self, plant: PlantId) -> usize {
        plant.at()
    }

    #[inline]
    pub(super) fn rack(&self, plant: PlantId) -> Option<usize> {
        self.rack_of_plant[plant.at()].map(|queue| queue as usize)
    }

    #[inline]
    pub(super) fn site(&self, spot: SpotId) -> usize {
        self.site_of_spot[spot.at()] as usize
    }

    #[inline]
    pub(super) fn join(&mut self, queue: usize, at: Millis) {
        self.queues[queue].levels.change(at, [1, 1, 0]);
    }

    #[inline]
    pub(super) fn quit(&mut self, queue: usize, at: Millis) {
        self.queues[queue].levels.change(at, [-1, -1, 0]);
    }

    /// Somebody leaves who had a place and was not served.
    pub(super) fn turn_away(&mut self, queue: usize, at: Millis) {
        self.queues[queue].levels.change(at, [0, -1, 0]);
    }

    #[inline]
    pub(super) fn enter(&mut self, queue: usize, at: Millis, waited: Millis) {
        let counts = self.counts(at);
        let queue = &mut self.queues[queue];
        queue.levels.change(at, [-1, 0, 0]);
        if counts {
            queue.entered += 1;
            queue.wait += waited;
        }
    }

    #[inline]
    pub(super) fn begin_service(&mut self, queue: usize, at: Millis) {
        self.queues[queue].levels.change(at, [0, 0, 1]);
    }

    #[inline]
    pub(super) fn leave(&mut self, queue: usize, at: Millis) {
        let counts = self.counts(at);
        let queue = &mut self.queues[queue];
        queue.levels.change(at, [0, -1, -1]);
        if counts {
            queue.left += 1;
        }
    }

    /// Mean wait for a bay over all plants, minutes.
    pub(super) fn bay_wait_min(&self) -> f64 {
        let bays = &self.queues[..self.rack_of_plant.len()];
        mean_wait(bays)
    }

    /// Mean wait on site over all sites, minutes.
    pub(super) fn site_wait_min(&self) -> f64 {
        let first = self.rack_of_plant.len() + self.rack_of_plant.iter().flatten().count();
        mean_wait(&self.queues[first..])
    }

    pub(super) fn rows(&self, row: &mut [f32]) {
        for (queue, figures) in self.queues.iter().zip(row.chunks_mut(QUEUE_FIGURES.len())) {
            queue.row(self.span, figures);
        }
    }

    pub(super) fn width(&self) -> usize {
        self.queues.len() * QUEUE_FIGURES.len()
    }
}

fn mean_wait(queues: &[Queue]) -> f64 {
    let entered: u32 = queues.iter().map(|queue| queue.entered).sum();
    let wait: Millis = queues.iter().map(|queue| queue.wait).sum();
    if entered == 0 {
        0.0
    } else {
        wait.minutes() / f64::from(entered)
    }
}
