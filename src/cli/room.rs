//! Whether there is room for a run: said before it begins where it takes much.

use crate::scenario::Scenario;
use crate::studies::memory;
use std::fs;

/// Bytes of which no word is said.
const LITTLE: f64 = 500e6;

/// That a run takes much memory, and whether there is less; none if it takes little.
pub(super) fn word(scenario: &Scenario, rows: u64) -> Option<String> {
    let needed = memory(scenario, rows);
    if needed < LITTLE {
        return None;
    }
    let gigabytes = |bytes: f64| format!("{:.1} GB", bytes / 1e9);
    let left = match free() {
        Some(free) if free < needed => format!(
            "; only {} are free here: expected fewer orders, days or replications, or a machine with more",
            gigabytes(free)
        ),
        _ => String::new(),
    };
    Some(format!(
        "A run with its report takes about {} of memory{left}",
        gigabytes(needed)
    ))
}

/// Bytes that may still be had, where the system tells.
fn free() -> Option<f64> {
    let line = |file: &str, name: &str| {
        let text = fs::read_to_string(file).ok()?;
        let line = text.lines().find(|line| line.starts_with(name))?;
        let mut words = line[name.len()..].split_whitespace();
        words.next()?.parse::<f64>().ok()
    };
    let of_machine = line("/proc/meminfo", "MemAvailable:").map(|kib| kib * 1024.0);
    let allowed = line("/proc/self/limits", "Max address space");
    of_machine.into_iter().chain(allowed).reduce(f64::min)
}
