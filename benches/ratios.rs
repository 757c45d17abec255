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
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario;
use plantday::units::Millis;
use std::hint::black_box;
use std::time::Instant;

const SCENARIO: &str = include_str!("../scenarios/shuttle_day.ron");

/// One way through the model: its name, and a function that plays some days and returns the loads.
struct Way<'a> {
    name: &'static str,
    play: Box<dyn FnMut(u64, u64) -> f64 + 'a>,
}

/// Counts events.
#[derive(Default)]
struct Count(u64);

impl Observer for Count {
    fn event(&mut self, _: Millis, _: &Event) {
        self.0 += 1;
    }
}

fn main() {
    let quick = std::env::args().any(|argument| argument == "--quick");
    let (rounds, days) = if quick { (3, 40) } else { (15, 400) };
    let scenario = match scenario::parse("shuttle_day.ron", SCENARIO) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    };
    let plan = Plan::new(&scenario);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut row = vec![0.0; figures.width()];
    let mut world = World::new(&plan);
    let mut silent = World::new(&plan);
    let mut bare = bare::Shuttle::new();
    let mut ways = vec![
        Way {
            name: "library, with figures",
            play: Box::new(|first, days| {
                let mut loads = 0.0;
                for day in first..first + days {
                    figures.begin();
                    world.run(0, Luck::new(1, day), &mut figures);
                    figures.row(&mut row);
                    loads += f64::from(row[figure::LOADS]);
                }
                loads
            }),
        },
        Way {
            name: "library, no observer",
            play: Box::new(|first, days| {
                for day in first..first + days {
                    silent.run(0, Luck::new(1, day), &mut ());
                }
                f64::NAN // the same days as with figures: the same loads
            }),
        },
        Way {
            name: "bare loop",
            play: Box::new(|first, days| {
                (first..first + days)
                    .map(|day| bare.day(day).loads as f64)
                    .sum()
            }),
        },
        Way {
            name: "floor",
            play: Box::new(|first, days| {
                black_box(floor::play(first, days * 245));
                (days * 245) as f64
            }),
        },
    ];

    let mut nanoseconds: Vec<Vec<f64>> = vec![Vec::new(); ways.len()];
    for round in 0..=rounds {
        let mut loads_of_library = 0.0;
        for (way, times) in ways.iter_mut().zip(&mut nanoseconds) {
            let start = Instant::now();
            let mut loads = (way.play)(round * days, days);
            let elapsed = start.elapsed().as_nanos() as f64;
            if loads.is_nan() {
                loads = loads_of_library;
            } else if loads_of_library == 0.0 {
                loads_of_library = loads;
            }
            if round > 0 {
                times.push(elapsed / loads); // the first round only warms up
            }
        }
    }
    let names: Vec<&str> = ways.iter().map(|way| way.name).collect();
    drop(ways);

    let bare_times = nanoseconds[2].clone();
    println!(
        "{:<24}{:>10}{:>18}",
        "shuttle day", "ns/load", "× bare loop"
    );
    for (name, times) in names.iter().zip(&nanoseconds) {
        let ratios = times
            .iter()
            .zip(&bare_times)
            .map(|(time, bare)| time / bare);
        println!(
            "{name:<24}{:>10.0}{:>18.2}",
            median(times.iter().copied()),
            median(ratios)
        );
    }
    let mut count = Count::default();
    World::new(&plan).run(0, Luck::new(1, 0), &mut count);
    let mut figures = Figures::new(&plan, &scenario.money);
    figures.begin();
    World::new(&plan).run(0, Luck::new(1, 0), &mut figures);
    let mut row = vec![0.0; figures.width()];
    figures.row(&mut row);
    let loads = f64::from(row[figure::LOADS]);
    println!(
        "\nevents per load: library {:.1}, bare loop and floor 6 commands",
        count.0 as f64 / loads
    );
    let (library, bare) = agreement(&plan, &scenario, if quick { 200 } else { 2_000 });
    println!("loads a day: library {library:.2}, bare loop {bare:.2}");
}

/// Mean loads a day both ways, to show that both play the same model.
fn agreement(plan: &Plan, scenario: &scenario::Scenario, days: u64) -> (f64, f64) {
    let mut world = World::new(plan);
    let mut figures = Figures::new(plan, &scenario.money);
    let mut row = vec![0.0; figures.width()];
    let mut library = 0.0;
    for day in 0..days {
        figures.begin();
        world.run(0, Luck::new(2, day), &mut figures);
        figures.row(&mut row);
        library += f64::from(row[figure::LOADS]);
    }
    let mut shuttle = bare::Shuttle::new();
    let bare: u64 = (0..days)
        .map(|day| shuttle.day(1_000_000 + day).loads)
        .sum();
    (library / days as f64, bare as f64 / days as f64)
}

fn median(values: impl Iterator<Item = f64>) -> f64 {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}
