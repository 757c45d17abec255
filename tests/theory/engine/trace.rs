//! A simulation by hand: Banks, Carson, Nelson, Nicol, Discrete-Event System Simulation, dump trucks (tables of the
//! published slides to t = 24, continued by hand; final utilisations 0.32 and 1.00 from memory).
//!
//! Six trucks, two loaders, one scale. At t = 0 truck 1 is on the scale, 2 and 3 are being loaded, 4 to 6 queue.

use plantday::engine::{Calendar, Class, TimeIntegral};
use plantday::units::Millis;
use std::collections::VecDeque;

#[derive(Clone, Copy)]
enum Command {
    EndLoading(u32),
    EndWeighing(u32),
    BackAtLoaders(u32),
}

const LOADERS: usize = 2;
/// One class for all: of two commands at the same moment the one scheduled first comes first.
const CLASS: Class = Class(0);

struct Yard {
    calendar: Calendar<Command>,
    loading: std::vec::IntoIter<i64>,
    weighing: std::vec::IntoIter<i64>,
    travel: std::vec::IntoIter<i64>,
    loader_queue: VecDeque<u32>,
    scale_queue: VecDeque<u32>,
    loaders_busy: TimeIntegral,
    scale_busy: TimeIntegral,
}

impl Yard {
    fn schedule(&mut self, now: Millis, delay: i64, command: Command) {
        self.calendar.schedule(now + Millis(delay), CLASS, command);
    }

    fn load(&mut self, now: Millis) {
        while self.loaders_busy.level() < LOADERS as u32 {
            let Some(truck) = self.loader_queue.pop_front() else {
                return;
            };
            let time = self.loading.next().expect("a loading time");
            self.loaders_busy.add(now, 1);
            self.schedule(now, time, Command::EndLoading(truck));
        }
    }

    fn weigh(&mut self, now: Millis) {
        if self.scale_busy.level() == 0
            && let Some(truck) = self.scale_queue.pop_front()
        {
            let time = self.weighing.next().expect("a weighing time");
            self.scale_busy.add(now, 1);
            self.schedule(now, time, Command::EndWeighing(truck));
        }
    }

    fn carry_out(&mut self, now: Millis, command: Command) {
        match command {
            Command::EndLoading(truck) => {
                self.loaders_busy.add(now, -1);
                self.scale_queue.push_back(truck);
            }
            Command::EndWeighing(truck) => {
                self.scale_busy.add(now, -1);
                let time = self.travel.next().expect("a travel time");
                self.schedule(now, time, Command::BackAtLoaders(truck));
            }
            Command::BackAtLoaders(truck) => self.loader_queue.push_back(truck),
        }
        self.load(now);
        self.weigh(now);
    }

    /// t, queue and service at the loaders, queue and service at the scale, busy time of both so far.
    fn row(&self, now: Millis) -> [i64; 7] {
        [
            now.0,
            self.loader_queue.len() as i64,
            i64::from(self.loaders_busy.level()),
            self.scale_queue.len() as i64,
            i64::from(self.scale_busy.level()),
            self.loaders_busy.total(now) as i64,
            self.scale_busy.total(now) as i64,
        ]
    }
}

#[test]
fn dump_trucks_as_worked_by_hand() {
    let busy = || TimeIntegral::new(Millis::ZERO, Millis(1000));
    let mut yard = Yard {
        calendar: Calendar::new(),
        loading: vec![10, 5, 5, 10, 15, 10, 10].into_iter(),
        weighing: vec![12, 12, 12, 16, 12, 16].into_iter(),
        travel: vec![60, 100, 40, 40, 80].into_iter(),
        loader_queue: (2..=6).collect(),
        scale_queue: VecDeque::from([1]),
        loaders_busy: busy(),
        scale_busy: busy(),
    };
    yard.load(Millis::ZERO);
    yard.weigh(Millis::ZERO);
    let mut rows = vec![yard.row(Millis::ZERO)];
    while let Some((now, command)) = yard.calendar.pop() {
        yard.carry_out(now, command);
        rows.push(yard.row(now));
        if now == Millis(76) {
            break;
        }
    }
    let by_hand = [
        [0, 3, 2, 0, 1, 0, 0],
        [5, 2, 2, 1, 1, 10, 5],
        [10, 1, 2, 2, 1, 20, 10],
        [10, 0, 2, 3, 1, 20, 10],
        [12, 0, 2, 2, 1, 24, 12],
        [20, 0, 1, 3, 1, 40, 20],
        [24, 0, 1, 2, 1, 44, 24],
        [25, 0, 0, 3, 1, 45, 25],
        [36, 0, 0, 2, 1, 45, 36],
        [52, 0, 0, 1, 1, 45, 52],
        [64, 0, 0, 0, 1, 45, 64],
        [72, 0, 1, 0, 1, 45, 72],
        [76, 0, 2, 0, 1, 49, 76],
    ];
    assert_eq!(rows, by_hand);
    let utilisation = yard.loaders_busy.mean(Millis(76)) / LOADERS as f64;
    assert!((utilisation - 49.0 / 152.0).abs() < 1e-12);
    assert_eq!(yard.scale_busy.mean(Millis(76)), 1.0);
}
