//! How the library compares with loops written by hand, on the shuttle day: one command, one table.
//!
//! ```text
//! cargo bench --bench ratios [-- --quick]
//! ```
//!
//! Four ways through the same model, counted per load so that engines with more or fewer commands compare fairly:
//! the public library with its figures, the public library without an observer, a bare hand-written loop over the standard
//! library's heap, and the floor: the same heap traffic and the same number of draws, without a model. The rounds are
//! interleaved and the ratios are medians over rounds, since the machine may be shared. Nothing here is asserted.

#[path = "ratios/bare.rs"]
mod bare;
#[path = "ratios/fast_random.rs"]
mod fast_random;
#[path = "ratios/floor.rs"]
mod floor;

use plantday::engine::Luck;
use plantday::observe::{Figures, figure};
use plantday::plant::{Plan, World};
use plantday::scenario::{self, Money};
use std::hint::black_box;
use std::ops::Range;
use std::time::Instant;

const SCENARIO: &str = include_str!("../scenarios/shuttle_day.ron");

/// Loads of a day, about: what the floor is played for.
const LOADS_A_DAY: u64 = 245;

/// One way through the model: its name, and a function that plays some days from a first one on. It returns the loads, or
/// nothing where the way before it has played the same days.
struct Way<'a> {
    name: &'static str,
    play: Box<dyn FnMut(u64, u64) -> Option<f64> + 'a>,
}

fn main() {
    let quick = std::env::args().any(|argument| argument == "--quick");
    let (rounds, days) = if quick { (3, 40) } else { (15, 400) };
    let scenario = match scenario::parse("shuttle_day.ron", SCENARIO) {
        Ok(scenario) => scenario,
        Err(problems) => panic!("{problems}"),
    };
    let plan = Plan::new(&scenario);
    let mut heard = Library::new(&plan, &scenario.money);
    let mut silent = World::new(&plan);
    let mut bare = bare::Shuttle::new();
    let mut ways = [
        Way {
            name: "library, with figures",
            play: Box::new(|first, days| Some(heard.play(1, first..first + days).loads)),
        },
        Way {
            name: "library, no observer",
            play: Box::new(|first, days| {
                for day in first..first + days {
                    silent.run(0, Luck::new(1, day), &mut ());
                }
                None
            }),
        },
        Way {
            name: "bare loop",
            play: Box::new(|first, days| Some(play_bare(&mut bare, first..first + days).loads)),
        },
        Way {
            name: "floor",
            play: Box::new(|first, days| {
                black_box(floor::play(first, days * LOADS_A_DAY));
                Some((days * LOADS_A_DAY) as f64)
            }),
        },
    ];
    let names = ways.each_ref().map(|way| way.name);
    let times = measure(&mut ways, rounds, days);
    drop(ways);

    let check = if quick { 200 } else { 2_000 };
    let library = heard.play(2, 0..check);
    let by_hand = play_bare(&mut bare, 1_000_000..1_000_000 + check);
    let commands = [
        library.commands_per_load(),
        library.commands_per_load(),
        by_hand.commands_per_load(),
        floor::COMMANDS as f64,
    ];
    println!(
        "{:<24}{:>10}{:>14}{:>18}",
        "shuttle day", "ns/load", "× bare loop", "commands/load"
    );
    for ((name, own), commands) in names.iter().zip(&times).zip(commands) {
        let ratios = own.iter().zip(&times[2]).map(|(time, bare)| time / bare);
        let (time, ratio) = (median(own.iter().copied()), median(ratios));
        println!("{name:<24}{time:>10.0}{ratio:>14.2}{commands:>18.2}");
    }
    println!(
        "\nloads a day: library {:.2}, bare loop {:.2} ({check} days each)",
        library.loads / check as f64,
        by_hand.loads / check as f64
    );
}

/// Nanoseconds per load of each way in each round. The ways take turns, and a first round only warms up.
fn measure(ways: &mut [Way<'_>], rounds: u64, days: u64) -> Vec<Vec<f64>> {
    let mut times = vec![Vec::new(); ways.len()];
    for round in 0..=rounds {
        let mut loads = 0.0;
        for (way, times) in ways.iter_mut().zip(&mut times) {
            let start = Instant::now();
            let played = (way.play)(round * days, days);
            let elapsed = start.elapsed().as_nanos() as f64;
            loads = played.unwrap_or(loads);
            if round > 0 {
                times.push(elapsed / loads);
            }
        }
    }
    times
}

/// What some days came to.
struct Played {
    loads: f64,
    commands: u64,
}

impl Played {
    fn commands_per_load(&self) -> f64 {
        self.commands as f64 / self.loads
    }
}

/// The public library, with its figures.
struct Library<'p> {
    world: World<'p>,
    figures: Figures<'p>,
    row: Vec<f32>,
}

impl<'p> Library<'p> {
    fn new(plan: &'p Plan, money: &'p Money) -> Self {
        let figures = Figures::new(plan, money);
        Self {
            world: World::new(plan),
            row: vec![0.0; figures.width()],
            figures,
        }
    }

    fn play(&mut self, seed: u64, days: Range<u64>) -> Played {
        let (mut loads, mut commands) = (0.0, 0);
        for day in days {
            self.figures.begin();
            commands += self.world.run(0, Luck::new(seed, day), &mut self.figures);
            self.figures.row(&mut self.row);
            loads += f64::from(self.row[figure::LOADS]);
        }
        Played { loads, commands }
    }
}

fn play_bare(shuttle: &mut bare::Shuttle, days: Range<u64>) -> Played {
    let (mut loads, mut commands) = (0, 0);
    for seed in days {
        let day = shuttle.day(seed);
        loads += day.loads;
        commands += day.commands;
    }
    Played {
        loads: loads as f64,
        commands,
    }
}

fn median(values: impl Iterator<Item = f64>) -> f64 {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
