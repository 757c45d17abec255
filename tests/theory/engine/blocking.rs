//! Two stations in a ring with little room: who has been served stays on the server until the next station has room.

use super::{SEED, exponential};
use crate::agreement::Check;
use crate::uniforms::Uniforms;
use plantday::engine::{Calendar, Class, Luck, Sampler, TimeIntegral};
use plantday::units::Millis;

const ROOM: [u32; 2] = [7, 5];
const SERVICE: [f64; 2] = [2.0, 0.9];
const UNIT: f64 = 5_000.0;
const FROM: Millis = Millis(50_000_000);
const END: Millis = Millis(2_050_000_000);

struct Ring {
    /// Holds the station that finishes a service.
    calendar: Calendar<usize>,
    service: [Sampler; 2],
    draws: [Uniforms; 2],
    present: [TimeIntegral; 2],
    blocked: [TimeIntegral; 2],
    moves: u32,
}

impl Ring {
    fn serve(&mut self, now: Millis, station: usize) {
        let time = self.service[station].at(self.draws[station].draw());
        let at = now + Millis((time * UNIT + 0.5) as i64);
        self.calendar.schedule(at, Class(0), station);
    }

    /// Passes one customer on, if there is room; that makes room here, so a customer blocked there may follow.
    fn pass_on(&mut self, now: Millis, station: usize) {
        let next = 1 - station;
        if self.present[next].level() == ROOM[next] {
            self.blocked[station].set(now, 1);
            return;
        }
        self.blocked[station].set(now, 0);
        self.present[station].add(now, -1);
        self.present[next].add(now, 1);
        self.moves += u32::from(station == 0 && now >= FROM);
        if self.present[next].level() == 1 {
            self.serve(now, next);
        }
        if self.present[station].level() > 0 {
            self.serve(now, station);
        }
        if self.blocked[next].level() == 1 {
            self.pass_on(now, next);
        }
    }
}

fn figures(replication: u64) -> Vec<f64> {
    let luck = Luck::new(SEED, replication);
    let integral = |level| {
        let mut integral = TimeIntegral::new(FROM, END);
        integral.set(Millis::ZERO, level);
        integral
    };
    let mut ring = Ring {
        calendar: Calendar::new(),
        service: SERVICE.map(|mean| exponential(mean).sampler()),
        draws: ["first", "second"].map(|name| Uniforms::new(luck, name, false)),
        present: [integral(5), integral(5)],
        blocked: [integral(0), integral(0)],
        moves: 0,
    };
    ring.serve(Millis::ZERO, 0);
    ring.serve(Millis::ZERO, 1);
    while ring.calendar.peek_time().is_some_and(|at| at < END) {
        let (now, station) = ring.calendar.pop().expect("somebody is always served");
        ring.pass_on(now, station);
    }
    vec![
        ring.present[0].mean(END),
        ring.present[1].mean(END),
        f64::from(ring.moves) / ((END - FROM).0 as f64 / UNIT),
        ring.blocked[0].mean(END),
        ring.blocked[1].mean(END),
    ]
}

/// Bolch, Greiner, de Meer, Trivedi, Queueing Networks and Markov Chains (1998), example 10.19, which prints the
/// approximations 6.73 and 3.27; exact here, from the five states of the chain.
#[test]
fn blocking_after_service() {
    let expected = [
        ("L 1", 6.738_454_37),
        ("L 2", 3.261_545_63),
        ("X", 0.488_511_282),
        ("blocked 1", 0.022_977_435_8),
        ("blocked 2", 0.560_339_846),
    ];
    Check::new("Q40 blocking", 56, &expected).run(figures);
}
