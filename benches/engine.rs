//! The parts of the engine: what a command in the calendar and a draw cost.
//!
//! ```text
//! cargo bench --bench engine
//! ```

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use plantday::engine::{Calendar, Class, Entity, Luck, Spread};
use plantday::units::{Millis, Purpose};
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::hint::black_box;

/// Pop the next command and schedule another, with so many pending; the standard library's heap beside it.
fn calendar(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("pop and schedule");
    for pending in [24, 100] {
        group.bench_function(format!("calendar, {pending} pending"), |bencher| {
            let mut calendar = Calendar::new();
            for k in 0..pending {
                calendar.schedule(Millis(k * 977 % 5_000), Class(0), k as u32);
            }
            bencher.iter(|| {
                let (at, command) = calendar.pop().expect("one is scheduled for each popped");
                let later = Millis(at.0 + i64::from(command.wrapping_mul(2_654_435_761) >> 20));
                calendar.schedule(later, Class(command as u8 & 3), command.wrapping_add(1));
                if later.0 > 4_000_000_000 {
                    calendar.clear(); // the calendar holds 49 days
                    for k in 0..pending {
                        calendar.schedule(Millis(k * 977 % 5_000), Class(0), k as u32);
                    }
                }
            });
        });
        group.bench_function(format!("standard heap, {pending} pending"), |bencher| {
            let mut sequence = 0_u64;
            let mut heap: BinaryHeap<Reverse<(i64, u8, u64, u32)>> = (0..pending)
                .map(|k| Reverse((k * 977 % 5_000, 0, k as u64, k as u32)))
                .collect();
            bencher.iter(|| {
                let Reverse((at, _, _, command)) =
                    heap.pop().expect("one is pushed for each popped");
                sequence += 1;
                let later = at + i64::from(command.wrapping_mul(2_654_435_761) >> 20);
                heap.push(Reverse((
                    later,
                    command as u8 & 3,
                    sequence,
                    command.wrapping_add(1),
                )));
            });
        });
    }
    group.finish();
}

/// A block of draws, and one number out of each spread.
fn draws(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("draws");
    let luck = Luck::new(1, 0);
    let mut index = 0;
    group.bench_function("block", |bencher| {
        bencher.iter(|| {
            index += 1;
            luck.block(Purpose::Load, Entity(7), index, 0)
        });
    });
    let spreads = [
        (
            "uniform",
            Spread::Uniform {
                low: 2.0,
                high: 5.0,
            },
        ),
        (
            "triangular",
            Spread::Triangular {
                low: 2.0,
                mode: 5.0,
                high: 10.0,
            },
        ),
        ("normal", Spread::Normal { mean: 6.0, sd: 2.0 }),
        ("lognormal", Spread::Lognormal { mean: 6.0, cv: 0.3 }),
        (
            "gamma",
            Spread::Gamma {
                mean: 12.0,
                cv: 0.5,
            },
        ),
        ("exponential", Spread::Exponential { mean: 6.0 }),
    ];
    for (name, spread) in spreads {
        let sampler = spread.sampler();
        group.bench_function(name, |bencher| {
            let mut index = 0;
            bencher.iter_batched(
                || {
                    index += 1;
                    luck.block(Purpose::Load, Entity(7), index, 0).uniform(0)
                },
                |u| sampler.at(black_box(u)),
                BatchSize::SmallInput,
            );
        });
    }
    group.finish();
}

criterion_group!(parts, calendar, draws);
criterion_main!(parts);
