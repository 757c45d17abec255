//! Starts exchanged on a call-in sheet so that nobody is called who may still be resting.

use super::CallIn;
use crate::units::Millis;
use std::collections::VecDeque;

/// Drivers exchange starts that lie no farther apart: nobody of the night shift is called for the morning.
const APART: Millis = Millis(6 * Millis::HOUR.0);

/// Who still rests at the time called for takes a later start of the same plant from somebody who has rested by then, with as few
/// exchanges as can be; whom no exchange helps is called for the end of the rest, in whole quarters of an hour.
pub fn exchange_starts(called: &mut [CallIn]) {
    let starts: Vec<Millis> = called.iter().map(|call| call.report).collect();
    let rested = |driver: usize, start: usize| {
        let call = &called[driver];
        let near = (starts[start] - starts[driver]).0.abs() <= APART.0;
        let rested = call
            .earliest
            .is_none_or(|earliest| earliest <= starts[start]);
        near && rested && call.plant == called[start].plant
    };
    // By start, who takes it: everybody keeps their own who has rested by then.
    let mut takes: Vec<Option<usize>> = (0..starts.len())
        .map(|at| Some(at).filter(|at| rested(*at, *at)))
        .collect();
    for driver in (0..starts.len()).filter(|at| !rested(*at, *at)) {
        give_start(driver, &mut takes, rested);
    }
    let mut given: Vec<Option<Millis>> = vec![None; starts.len()];
    for (start, driver) in takes.iter().enumerate() {
        if let Some(driver) = driver {
            given[*driver] = Some(starts[start]);
        }
    }
    for (call, given) in called.iter_mut().zip(given) {
        let rests = || call.earliest.map(quarter_up).filter(|at| *at > call.report);
        let report = given.or_else(rests).unwrap_or(call.report);
        if report != call.report {
            call.planned = Some(call.report);
            call.report = report;
        }
    }
}

/// Gives a driver a start, along the shortest chain of drivers who each pass on what they have (augmenting paths, as in J. E. Hopcroft
/// and R. M. Karp, SIAM Journal on Computing 2, 1973, pp. 225-231).
fn give_start(driver: usize, takes: &mut [Option<usize>], can: impl Fn(usize, usize) -> bool) {
    let mut from: Vec<Option<usize>> = vec![None; takes.len()];
    let mut queue = VecDeque::from([driver]);
    while let Some(asks) = queue.pop_front() {
        for start in 0..takes.len() {
            if from[start].is_some() || !can(asks, start) {
                continue;
            }
            from[start] = Some(asks);
            match takes[start] {
                Some(holder) => queue.push_back(holder),
                None => {
                    let mut free = start;
                    while let Some(asks) = from[free] {
                        let held = takes.iter().position(|taker| *taker == Some(asks));
                        takes[free] = Some(asks);
                        match held {
                            Some(held) => free = held,
                            None => return,
                        }
                    }
                    return;
                }
            }
        }
    }
}

fn quarter_up(at: Millis) -> Millis {
    let quarter = 15 * Millis::MINUTE.0;
    Millis((at.0 + quarter - 1).div_euclid(quarter) * quarter)
}
