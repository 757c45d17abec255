//! What a load costs as a company grows: one command, one table.
//!
//! ```text
//! cargo bench --bench growth [-- --quick]
//! ```
//!
//! Companies of 10 to 1,000 trucks with 1 to 20 plants, on a table of minutes and on a network of roads, all with four loads a truck a
//! day over five days, under three rules: trucks stay at home; trucks are lent if that saves ten minutes, to those who will be home in
//! time; trucks stay at home and go home early. The table has the microseconds a load of a warm world with its figures. A cost that
//! grows with the trucks or with the order book shows as a column that rises. The machine may be shared; nothing here is asserted.

#[path = "growth/company.rs"]
mod company;

use company::{Company, RULES};
use plantday::engine::Luck;
use plantday::observe::{Figures, figure};
use plantday::plant::{Plan, World};
use plantday::scenario;
use std::time::{Duration, Instant};

/// Trucks and plants.
const SIZES: [(usize, usize); 6] = [
    (10, 1),
    (30, 3),
    (100, 3),
    (100, 10),
    (300, 10),
    (1_000, 20),
];

fn main() {
    let quick = std::env::args().any(|argument| argument == "--quick");
    let (sizes, at_least) = match quick {
        true => (&SIZES[..2], Duration::ZERO),
        false => (&SIZES[..], Duration::from_secs(1)),
    };
    print!("{:>6}{:>8}{:>9}{:>9}", "trucks", "plants", "roads", "loads");
    RULES.iter().for_each(|rule| print!("{rule:>24}"));
    println!("   µs a load");
    for network in [false, true] {
        for (trucks, plants) in sizes {
            let company = Company {
                trucks: *trucks,
                plants: *plants,
                network,
            };
            let roads = if network { "network" } else { "table" };
            let played = play(&company, at_least);
            let loads = played.first().map_or(0.0, |first| first.loads);
            print!("{trucks:>6}{plants:>8}{roads:>9}{loads:>9.0}");
            for one in played {
                print!("{:>24.2}", one.micros_a_load);
            }
            println!();
        }
    }
}

/// What replications under one rule came to.
struct Played {
    /// Loads of a replication.
    loads: f64,
    micros_a_load: f64,
}

/// Plays a company under each rule: once to warm up, then for this time, once at least.
fn play(company: &Company, at_least: Duration) -> Vec<Played> {
    let scenario = match scenario::parse("company", &company.scenario()) {
        Ok(scenario) => scenario,
        Err(problems) => panic!("{problems}"),
    };
    let plan = Plan::new(&scenario);
    let mut world = World::new(&plan);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut row = vec![0.0; figures.width()];
    let mut replication = |rule, number| {
        figures.begin();
        world.run(rule, Luck::new(1, number), &mut figures);
        figures.row(&mut row);
        f64::from(row[figure::LOADS])
    };
    let rules = 0..RULES.len();
    let played = rules.map(|rule| {
        replication(rule, 0);
        let start = Instant::now();
        let (mut loads, mut replications) = (0.0, 0);
        while replications == 0 || start.elapsed() < at_least {
            replications += 1;
            loads += replication(rule, replications);
        }
        Played {
            loads: loads / replications as f64,
            micros_a_load: start.elapsed().as_secs_f64() * 1e6 / loads,
        }
    });
    played.collect()
}
