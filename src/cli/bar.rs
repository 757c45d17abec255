//! Progress on standard error: a bar with the time left on a terminal, and anywhere a word beforehand if it will take long; and what
//! becomes of it when the user breaks it off.

use crate::montecarlo::Progress;
use crate::report::stderr::say;
use indicatif::{HumanDuration, ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle};
use std::fmt;
use std::io::IsTerminal;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::{Arc, Mutex, OnceLock};
use std::time::{Duration, Instant};

/// What a bar counts one replication as: one may take long.
const PARTS: u64 = 1_000;

/// A bar with the time left, drawn only on a terminal.
pub(super) struct Bar {
    bar: ProgressBar,
    /// Replications that are done: parts of several under way come to no whole one.
    done: Arc<AtomicU64>,
    farthest: AtomicU64,
    /// What was done before, at the last piece of work.
    begun_with: AtomicU64,
    forecast: Mutex<Forecast>,
}

/// What is said when a run is stopped whose answer tells what was done.
pub(super) const SUMMED_UP: &str =
    "stopping: what is done is summed up and shown; Ctrl-C again leaves at once";

/// What is said when a run is stopped that gives no answer.
pub(super) const KEPT: &str = "stopping: what is done is kept; Ctrl-C again leaves at once";

/// The bar that is shown, for who has a line to say beside it.
static SHOWN: OnceLock<ProgressBar> = OnceLock::new();

impl Bar {
    pub(super) fn new(what: &str) -> Self {
        let bar = ProgressBar::with_draw_target(None, target());
        let done = Arc::new(AtomicU64::new(0));
        let so_far = Arc::clone(&done);
        let whole = move |state: &ProgressState, to: &mut dyn fmt::Write| {
            let (done, total) = (so_far.load(Ordering::Relaxed), state.len().unwrap_or(0));
            let _ = write!(to, "{done} of {}", total / PARTS);
        };
        let left = |state: &ProgressState, to: &mut dyn fmt::Write| {
            let _ = match state.pos() {
                0 => write!(to, "it is not known yet how long"),
                all if Some(all) == state.len() => write!(to, "summing up"),
                _ => write!(to, "{:#} left", HumanDuration(state.eta())),
            };
        };
        let style = ProgressStyle::with_template("{bar:32} {whole} {msg}, {left}");
        let style = style.expect("the template is valid");
        bar.set_style(style.with_key("whole", whole).with_key("left", left));
        bar.set_message(what.to_owned());
        let _ = SHOWN.set(bar.clone());
        Self {
            bar,
            done,
            farthest: AtomicU64::new(0),
            begun_with: AtomicU64::new(0),
            forecast: Mutex::new(Forecast::new()),
        }
    }

    pub(super) fn show(&self, progress: Progress) {
        let at = progress.done * PARTS + progress.under_way;
        // Whoever finds it taken knows that somebody looks.
        if let Ok(mut forecast) = self.forecast.try_lock()
            && let Some(word) = forecast.word(progress, Instant::now())
        {
            self.bar.suspend(|| say(word));
        }
        if self.bar.is_hidden() {
            return;
        }
        self.bar.set_length(progress.total * PARTS);
        self.done.store(progress.done, Ordering::Relaxed);
        let farthest = self.farthest.fetch_max(at, Ordering::Relaxed);
        let begun_with = progress.begun_with * PARTS;
        if begun_with > self.begun_with.fetch_max(begun_with, Ordering::Relaxed) {
            self.bar.set_position(begun_with);
            self.bar.reset_eta();
        }
        if farthest == 0 {
            // Making a scenario ready takes a while as well, once; no replication will take it again.
            self.bar.reset_eta();
        }
        // Calls overtake each other by a few; one that falls back far tells of another piece of work.
        if at >= farthest {
            self.bar.set_position(at);
        } else if at < farthest / 2 {
            self.farthest.store(at, Ordering::Relaxed);
            self.begun_with.store(begun_with, Ordering::Relaxed);
            self.bar.set_position(at);
        }
    }

    pub(super) fn clear(&self) {
        self.bar.finish_and_clear();
    }
}

fn target() -> ProgressDrawTarget {
    match std::io::stderr().is_terminal() {
        true => ProgressDrawTarget::stderr_with_hz(10),
        false => ProgressDrawTarget::hidden(),
    }
}

/// Says on a terminal what is being done, of which it is not known how far it is; until it is finished.
pub(super) fn waiting(what: &str) -> ProgressBar {
    let bar = ProgressBar::with_draw_target(None, target());
    let style = ProgressStyle::with_template("{spinner} {msg}, {elapsed}");
    bar.set_style(style.expect("the template is valid"));
    bar.set_message(what.to_owned());
    bar.enable_steady_tick(Duration::from_millis(200));
    bar
}

/// Looks at how fast work goes, and says once, if that is so, that it will take long.
struct Forecast {
    began: Instant,
    /// What was done before it began.
    from: u64,
    at: u64,
    told: bool,
}

impl Forecast {
    /// After so long the pace is known well enough.
    const KNOWN: Duration = Duration::from_secs(10);
    /// What takes no longer than this needs no word.
    const LONG: Duration = Duration::from_secs(180);

    fn new() -> Self {
        Self {
            began: Instant::now(),
            from: 0,
            at: 0,
            told: false,
        }
    }

    /// What is to be said when it is so far now.
    fn word(&mut self, progress: Progress, now: Instant) -> Option<String> {
        let at = progress.done * PARTS + progress.under_way;
        let (all, begun_with) = (progress.total * PARTS, progress.begun_with * PARTS);
        // Another piece of work, or what was done before.
        if at < self.at / 2 || begun_with > self.from {
            (self.began, self.from) = (now, begun_with);
        }
        self.at = at;
        let taken = now.saturating_duration_since(self.began);
        if self.told || taken < Self::KNOWN || at <= self.from || at > all {
            return None;
        }
        let left = taken.as_secs_f64() * (all - at) as f64 / (at - self.from) as f64;
        let left = Duration::try_from_secs_f64(left).unwrap_or(Duration::MAX);
        if left <= Self::LONG {
            return None;
        }
        self.told = true;
        let words = HumanDuration(left);
        Some(format!(
            "This takes about {words} more, as it goes now; Ctrl-C ends it with what is done until then"
        ))
    }
}

static STOP: AtomicBool = AtomicBool::new(false);

/// A flag that the first Ctrl-C sets, or the signal TERM; the second leaves at once.
pub(super) fn stop_on_interrupt(word: &'static str) -> &'static AtomicBool {
    let handler = move || {
        if STOP.swap(true, Ordering::SeqCst) {
            std::process::exit(i32::from(super::INTERRUPTED));
        }
        let word = || say(word);
        match SHOWN.get() {
            Some(bar) => bar.suspend(word),
            None => word(),
        }
    };
    // Without a handler Ctrl-C ends the program the usual way: less kind, not wrong.
    let _ = ctrlc::set_handler(handler);
    &STOP
}

#[cfg(test)]
mod tests {
    use super::*;

    /// So far of 1,000 replications.
    fn progress(begun_with: u64, done: u64) -> Progress {
        Progress {
            done,
            total: 1_000,
            under_way: 0,
            begun_with,
        }
    }

    fn words(steps: &[(u64, u64)]) -> Vec<String> {
        let mut forecast = Forecast::new();
        let began = forecast.began;
        let step = |(seconds, at): &(u64, u64)| {
            forecast.word(progress(0, *at), began + Duration::from_secs(*seconds))
        };
        steps.iter().filter_map(step).collect()
    }

    #[test]
    fn what_takes_long_is_said_once_as_soon_as_the_pace_is_known() {
        // 10 of 1,000 parts in 10 s: 990 s more.
        let said = words(&[(1, 1), (9, 9), (10, 10), (11, 11), (12, 12)]);
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(said[0].contains("about 17 minutes more"), "{said:?}");
        // 60 parts in 10 s: 157 s more.
        assert_eq!(words(&[(10, 60), (11, 66), (100, 600)]), [""; 0]);
    }

    #[test]
    fn the_pace_of_a_run_that_goes_on_is_its_own() {
        // 900 of 1,000 parts were done before; 5 more in 10 s: 190 s more.
        let mut forecast = Forecast::new();
        let began = forecast.began;
        assert_eq!(forecast.word(progress(900, 900), began), None);
        let later = began + Duration::from_secs(10);
        let said = forecast.word(progress(900, 905), later).unwrap();
        assert!(said.contains("about 3 minutes more"), "{said}");
    }

    #[test]
    fn a_second_piece_of_work_has_a_pace_of_its_own() {
        // The first is done after 100 s; the second has 50 of 1,000 parts after 10 s of its own, then 60 after 30 s.
        let quick = [(100, 1_000), (101, 1), (111, 100)];
        assert_eq!(words(&quick), [""; 0]);
        let slow = [(100, 1_000), (101, 1), (131, 60)];
        assert_eq!(words(&slow).len(), 1);
    }
}
