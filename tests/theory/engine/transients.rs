//! Short runs that never settle: first delays of an empty queue, rates that change during the day.

use super::{SEED, exponential};
use crate::agreement::Check;
use crate::uniforms::Uniforms;
use plantday::engine::{Calendar, Class, Luck, Sampler, Spread};
use plantday::units::Millis;
use std::collections::VecDeque;

/// Runs to a replication: its figures are their means.
const RUNS: u64 = 2_000;
const UNIT: f64 = 10_000.0;

const FINISH: Class = Class(0);
const ARRIVE: Class = Class(1);
const LOOK: Class = Class(3);

fn span(time: f64) -> Millis {
    Millis((time * UNIT + 0.5) as i64)
}

/// The means of `figures` over the runs of one replication.
fn batch(replication: u64, mut figures: impl FnMut(Luck) -> Vec<f64>) -> Vec<f64> {
    let mut sums = Vec::new();
    for run in 0..RUNS {
        let found = figures(Luck::new(SEED, replication * RUNS + run));
        sums.resize(found.len(), 0.0);
        sums.iter_mut()
            .zip(found)
            .for_each(|(sum, figure)| *sum += figure);
    }
    sums.iter().map(|sum| sum / RUNS as f64).collect()
}

#[derive(Clone, Copy)]
enum Command {
    Arrive,
    Finish,
    Look,
}

/// Waits of the first 25 customers of a single server, from empty.
fn first_delays(
    calendar: &mut Calendar<Command>,
    gap: &Sampler,
    service: &Sampler,
    luck: Luck,
) -> [f64; 25] {
    let mut gaps = Uniforms::new(luck, "gaps", false);
    let mut services = Uniforms::new(luck, "services", false);
    let mut delays = [0.0; 25];
    let (mut came, mut started) = (0, 0);
    let mut queue = VecDeque::new();
    let mut busy = false;
    calendar.clear();
    calendar.schedule(Millis::ZERO, ARRIVE, Command::Arrive);
    while let Some((now, command)) = calendar.pop() {
        match command {
            Command::Finish => busy = false,
            _ => {
                queue.push_back(now);
                came += 1;
                if came < delays.len() {
                    calendar.schedule(now + span(gap.at(gaps.draw())), ARRIVE, Command::Arrive);
                }
            }
        }
        if !busy && let Some(since) = queue.pop_front() {
            busy = true;
            delays[started] = (now - since).0 as f64 / UNIT;
            started += 1;
            let time = service.at(services.draw());
            calendar.schedule(now + span(time), FINISH, Command::Finish);
        }
    }
    delays
}

/// Law, Simulation Modeling and Analysis, ch. 9: mean delay of the first 25 customers, 2.12 (from memory); exact from
/// the embedded chain.
#[test]
fn first_25_delays() {
    let (gap, service) = (exponential(1.0).sampler(), exponential(0.9).sampler());
    let expected = [
        ("mean of 25", 2.124_489_35),
        ("customer 2", 0.426_315_789),
        ("customer 25", 3.300_508_62),
    ];
    Check::new("Q53 first delays", 170, &expected).run(|replication| {
        let mut calendar = Calendar::new();
        batch(replication, |luck| {
            let delays = first_delays(&mut calendar, &gap, &service, luck);
            vec![delays.iter().sum::<f64>() / 25.0, delays[1], delays[24]]
        })
    });
}

/// Poisson arrivals whose rate changes with time.
struct Day<'a> {
    rate: &'a dyn Fn(f64) -> f64,
    highest_rate: f64,
    servers: u32,
    service: Sampler,
    /// When the number present is looked at, in order; the last ends the run.
    looks: &'a [f64],
}

impl Day<'_> {
    /// Numbers present at each look, then the number that came.
    fn run(&self, calendar: &mut Calendar<Command>, luck: Luck) -> Vec<f64> {
        let gap = exponential(1.0 / self.highest_rate).sampler();
        let mut gaps = Uniforms::new(luck, "gaps", false);
        let mut thinning = Uniforms::new(luck, "thinning", false);
        let mut services = Uniforms::new(luck, "services", false);
        let mut figures = Vec::with_capacity(self.looks.len() + 1);
        let (mut present, mut busy, mut came) = (0_u32, 0_u32, 0_u32);
        calendar.clear();
        for &look in self.looks {
            calendar.schedule(span(look), LOOK, Command::Look);
        }
        calendar.schedule(span(gap.at(gaps.draw())), ARRIVE, Command::Arrive);
        while let Some((now, command)) = calendar.pop() {
            match command {
                Command::Arrive => {
                    // Thinning: Lewis and Shedler (1979).
                    let rate = (self.rate)(now.0 as f64 / UNIT);
                    if thinning.draw() * self.highest_rate < rate {
                        present += 1;
                        came += 1;
                    }
                    calendar.schedule(now + span(gap.at(gaps.draw())), ARRIVE, Command::Arrive);
                }
                Command::Finish => {
                    present -= 1;
                    busy -= 1;
                }
                Command::Look => {
                    figures.push(f64::from(present));
                    if figures.len() == self.looks.len() {
                        break;
                    }
                }
            }
            while busy < self.servers.min(present) {
                busy += 1;
                let time = self.service.at(services.draw());
                calendar.schedule(now + span(time), FINISH, Command::Finish);
            }
        }
        figures.push(f64::from(came));
        figures
    }
}

/// The rate of the first piece that has not ended.
fn piecewise(pieces: &'static [(f64, f64)]) -> impl Fn(f64) -> f64 {
    move |time| {
        let piece = pieces.iter().find(|&&(end, _)| time < end);
        piece.map_or(0.0, |&(_, rate)| rate)
    }
}

/// M(t)/M/c, computed numerically (matrix exponential, 150 states).
#[test]
fn rush_hours() {
    let q54 = Day {
        rate: &piecewise(&[(60.0, 0.05), (180.0, 0.15), (300.0, 0.08)]),
        highest_rate: 0.15,
        servers: 1,
        service: exponential(8.0).sampler(),
        looks: &[60.0, 120.0, 180.0, 240.0, 300.0],
    };
    // The chance to be idle at 60 is compared too; the later ones are small and would need a million days.
    let expected = [
        ("N(60)", 0.607_887_463),
        ("N(120)", 3.819_399_52),
        ("N(180)", 5.999_152_23),
        ("N(240)", 4.379_561_8),
        ("N(300)", 3.420_553),
        ("arrivals", 30.6),
        ("idle at 60", 0.613_883_302),
    ];
    let mut calendar = Calendar::new();
    Check::new("Q54 M(t)/M/1", 150, &expected).run(|replication| {
        let mut calendar = calendar.clone();
        batch(replication, |luck| {
            let mut figures = q54.run(&mut calendar, luck);
            figures.push(f64::from(figures[0] == 0.0));
            figures
        })
    });
    let q55 = Day {
        rate: &piecewise(&[(60.0, 0.1), (150.0, 0.35), (300.0, 0.15)]),
        highest_rate: 0.35,
        servers: 2,
        service: exponential(8.0).sampler(),
        looks: &[60.0, 150.0, 200.0, 300.0],
    };
    let expected = [
        ("N(60)", 0.935_638_618),
        ("N(150)", 11.936_730_4),
        ("N(200)", 7.865_324_78),
        ("N(300)", 3.663_509_18),
        ("arrivals", 0.1 * 60.0 + 0.35 * 90.0 + 0.15 * 150.0),
    ];
    calendar.clear();
    Check::new("Q55 M(t)/M/2", 100, &expected).run(|replication| {
        let mut calendar = calendar.clone();
        batch(replication, |luck| q55.run(&mut calendar, luck))
    });
}

/// M(t)/G/∞ with a sinusoidal rate: the number present is Poisson with a known mean (Eick, Massey and Whitt,
/// Management Science 39 (1993) 241-252, from memory). One wave, 14 mean stays, passes
/// before the first look.
#[test]
fn a_wave_of_arrivals() {
    let wave = |time: f64| 0.5 + 0.3 * (std::f64::consts::TAU * time / 480.0).sin();
    let q56 = Day {
        rate: &wave,
        highest_rate: 0.8,
        servers: u32::MAX,
        service: Spread::Exponential { mean: 35.0 }.sampler(),
        looks: &[600.0, 720.0, 840.0, 960.0],
    };
    let expected = [
        ("N(120)", 26.1784),
        ("N(240)", 21.475_999_7),
        ("N(360)", 8.821_599_99),
        ("N(480)", 13.524_000_3),
    ];
    Check::new("Q56 M(t)/G/inf", 11, &expected).run(|replication| {
        let mut calendar = Calendar::new();
        batch(replication, |luck| q56.run(&mut calendar, luck))
    });
}
