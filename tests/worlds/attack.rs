//! Nothing that is thrown at a reader makes it lie or crash. A seeded mutator spoils what is good; what comes back is an answer, or a list
//! of problems with file and place; never a panic, a hang, a stack that overflows, memory beyond the size of what is read.
//!
//! `FUZZ_INPUTS=100000 cargo test --release --test worlds attack::` is a long run: so many inputs for each reader, those of the short
//! run first. An input that fails is told by its reader and number, and written into a file; with `FUZZ_FROM` its number, it comes first.

mod corpus;
mod hostile;
mod mutate;
mod played;
mod texts;
mod tokens;
mod workbooks;

pub(crate) use played::counted_twice;
pub(crate) use tokens::fields_written;

use allocation_counter::measure;
use plantday::report::problems;
use plantday::scenario::ReadError;
use plantday::scenario::problem::{Faults, line_column};
use rand::SeedableRng;
use rand::rngs::ChaCha8Rng;
use std::cell::RefCell;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};
use std::{env, fs, process, thread};

/// Nothing that is as small as these inputs takes so long, on any machine.
const HANGS: Duration = Duration::from_secs(60);
/// In place of a number while an input is made: that may take longer than to read it.
const MAKING: u64 = u64::MAX;
/// What takes longer is kept to be looked at.
const SLOW: Duration = Duration::from_secs(1);
/// The stack that a thread has where nobody says anything else.
const STACK: usize = 2 << 20;
/// What a reader may take at once for every byte that it is given, and besides.
const BYTES_A_BYTE: u64 = 400;
const BYTES_BESIDES: u64 = 24 << 20;
/// Of failures more help nobody.
const TOLD: usize = 8;

/// Which inputs a reader gets: those of a short run, unless the environment says from which on or up to which.
fn inputs(short: u64) -> Range<u64> {
    let asked = |name: &str| {
        let asked = env::var(name).ok();
        asked.map(|asked| asked.parse().expect("the number of an input"))
    };
    asked("FUZZ_FROM").unwrap_or(0)..asked("FUZZ_INPUTS").unwrap_or(short)
}

/// What became of one input.
struct Outcome {
    /// Whether it was taken.
    taken: bool,
    /// What is wrong with how it was answered, if anything is.
    wrong: Option<String>,
}

impl Outcome {
    fn taken(wrong: Option<String>) -> Self {
        Self { taken: true, wrong }
    }

    fn refused(wrong: Option<String>) -> Self {
        let taken = false;
        Self { taken, wrong }
    }

    /// Of a reader that gives problems with their places.
    fn of<T>(read: Result<T, Box<Faults>>, then: impl FnOnce(T) -> Option<String>) -> Self {
        match read {
            Ok(read) => Self::taken(then(read)),
            Err(faults) => Self::refused(wrongly_refused(&faults)),
        }
    }

    /// Of a reader of files.
    fn of_file<T>(read: Result<T, ReadError>, then: impl FnOnce(T) -> Option<String>) -> Self {
        match read {
            Ok(read) => Self::taken(then(read)),
            Err(ReadError::Faults(faults)) => Self::refused(wrongly_refused(&faults)),
            Err(error) => Self::refused(unseemly(&error.to_string(), &[])),
        }
    }
}

/// One reader under attack.
struct Attack<'a> {
    reader: &'a str,
    short: u64,
    /// Spoils an input.
    spoil: &'a (dyn Fn(&mut ChaCha8Rng) -> Vec<u8> + Sync),
    /// Reads it; gives what became of it. What it does after reading it counts to no memory.
    read: &'a (dyn Fn(&[u8]) -> Outcome + Sync),
}

thread_local! {
    /// The most that the reader of this thread took at once.
    static TOOK: RefCell<u64> = const { RefCell::new(0) };
    /// What it is given, as far as that is text.
    static GIVEN: RefCell<String> = const { RefCell::new(String::new()) };
}

/// Calls a reader, and notes how much memory it took at once.
fn read_in_bounds<T>(read: impl FnOnce() -> T) -> T {
    let mut found = None;
    let info = measure(|| found = Some(read()));
    TOOK.with(|took| *took.borrow_mut() = info.bytes_max);
    found.expect("it has been called")
}

impl Attack<'_> {
    fn run(&self) {
        let numbers = inputs(self.short);
        let count = numbers.clone().count() as u64;
        let at = Arc::new(AtomicU64::new(MAKING));
        let began = Instant::now();
        let (failures, taken, most) = thread::scope(|scope| {
            let attacker = thread::Builder::new().stack_size(STACK);
            let there = Arc::clone(&at);
            let attacker = attacker
                .spawn_scoped(scope, move || self.attack(numbers, &there))
                .expect("a thread");
            self.watch(&at, || attacker.is_finished());
            attacker.join().expect("failures are told, not thrown")
        });
        println!(
            "{}: {count} inputs, {taken} taken, at most {:.1} MB at once, {:.0} s",
            self.reader,
            most as f64 / 1e6,
            began.elapsed().as_secs_f64()
        );
        assert!(failures.is_empty(), "{}", failures.join("\n\n"));
        // Where nothing or everything is taken, nothing is under attack.
        let few = count < self.short;
        assert!(
            few || 0 < taken && taken < count,
            "{taken} of {count} are taken"
        );
    }

    fn attack(&self, numbers: Range<u64>, at: &AtomicU64) -> (Vec<String>, u64, u64) {
        let (mut failures, mut taken, mut most) = (Vec::new(), 0, 0);
        let (mut slowest, mut slow) = (Duration::ZERO, 0);
        for number in numbers {
            at.store(MAKING, Ordering::Relaxed);
            let input = self.input(number);
            at.store(number, Ordering::Relaxed);
            let begins = Instant::now();
            TOOK.with(|took| *took.borrow_mut() = 0);
            GIVEN.with(|given| *given.borrow_mut() = String::from_utf8_lossy(&input).into_owned());
            let outcome = catch_unwind(AssertUnwindSafe(|| (self.read)(&input)));
            let took = TOOK.with(|took| *took.borrow());
            most = most.max(took);
            if begins.elapsed() > slowest {
                (slowest, slow) = (begins.elapsed(), number);
                if slowest > SLOW {
                    self.keep(number, &input);
                }
            }
            let bound = BYTES_BESIDES + BYTES_A_BYTE * input.len() as u64;
            let wrong = match outcome {
                Err(panic) => Some(format!("panics: {}", said(&*panic))),
                Ok(_) if took > bound => Some(format!("takes {took} bytes, more than {bound}")),
                Ok(outcome) => {
                    taken += u64::from(outcome.taken);
                    outcome.wrong
                }
            };
            if let Some(wrong) = wrong {
                let path = self.keep(number, &input);
                let (reader, path) = (self.reader, path.display());
                failures.push(format!("{reader}, input {number} ({path}): {wrong}"));
                if failures.len() >= TOLD {
                    break;
                }
            }
        }
        println!(
            "{}: input {slow} took {slowest:.2?}, longer than any other",
            self.reader
        );
        (failures, taken, most)
    }

    /// The input of a number: always the same.
    fn input(&self, number: u64) -> Vec<u8> {
        let name = self.reader.bytes();
        let name = name.fold(7_u64, |sum, byte| {
            sum.wrapping_mul(131).wrapping_add(u64::from(byte))
        });
        let mut rng = ChaCha8Rng::seed_from_u64(name.wrapping_add(number));
        (self.spoil)(&mut rng)
    }

    /// Writes an input into a file.
    fn keep(&self, number: u64, input: &[u8]) -> PathBuf {
        let name = format!("plantday-{}-{number}", self.reader.replace(' ', "-"));
        let path = env::temp_dir().join(name);
        fs::write(&path, input).expect("it can be written");
        path
    }

    /// Ends everything if one input takes too long: a thread cannot be stopped.
    fn watch(&self, at: &AtomicU64, finished: impl Fn() -> bool) {
        let (mut last, mut since) = (0, Instant::now());
        while !finished() {
            thread::sleep(Duration::from_millis(20));
            let now = at.load(Ordering::Relaxed);
            if now != last || now == MAKING {
                (last, since) = (now, Instant::now());
            }
            if since.elapsed() > HANGS {
                let path = self.keep(now, &self.input(now));
                let (reader, path) = (self.reader, path.display());
                eprintln!("{reader}, input {now} ({path}) takes more than {HANGS:?}");
                process::abort();
            }
        }
    }
}

/// What a panic says.
fn said(panic: &(dyn std::any::Any + Send)) -> String {
    let text = panic.downcast_ref::<&str>().map(|text| (*text).to_owned());
    let text = text.or_else(|| panic.downcast_ref::<String>().cloned());
    text.unwrap_or_else(|| "something that is no text".to_owned())
}

/// What is wrong with problems as such: each has its place, and all can be shown.
fn wrongly_refused(faults: &Faults) -> Option<String> {
    if faults.problems.is_empty() {
        return Some("refused without a problem".to_owned());
    }
    let shown = problems::plain(faults);
    // Its line and column are looked for from the start of the text, for each.
    for (number, problem) in faults.problems.iter().take(50).enumerate() {
        let (name, text, told) = faults.told(problem);
        if told.title.is_empty() || told.span.start > text.len() {
            return Some(format!("a problem without a place: {told:?}"));
        }
        let (line, column) = line_column(text, told.span.start);
        let place = format!("{name}:{line}:{column}");
        // A screen has twenty; at the end of a file the last line with something on it is shown.
        let ends = told.span.start >= text.trim_end().len();
        let place = if ends { format!("{name}:") } else { place };
        if number < 20 && !shown.contains(&place) && !text.is_empty() {
            return Some(format!("{place} is not shown:\n{shown}"));
        }
    }
    let written = faults.tables.iter().map(|table| table.text.as_str());
    let written: Vec<&str> = written.chain([faults.text.as_str()]).collect();
    unseemly(&shown, &written).or_else(|| unseemly(&faults.to_string(), &written))
}

/// Words that come from the inside of the program; what stands in what is `written`, or in the whole input, is only shown again.
fn unseemly(told: &str, written: &[&str]) -> Option<String> {
    let inside = [
        "panicked",
        "src/",
        "unwrap",
        "Error {",
        "Err(",
        "Ok(",
        "std::",
        "plantday::",
    ];
    let places = inside
        .iter()
        .flat_map(|word| told.match_indices(word).map(|(at, word)| (at, word.len())));
    let mut around = places.map(|(at, length)| path_around(told, at..at + length));
    let given = |word: &str| GIVEN.with(|given| given.borrow().contains(word));
    let word =
        around.find(|word| !given(word) && !written.iter().any(|text| text.contains(word)))?;
    Some(format!("it says {word:?}:\n{told}"))
}

/// The path that a word is part of, `a::b` or `a/b.c`: written as a whole, or told by the program.
fn path_around(text: &str, word: Range<usize>) -> &str {
    let part = |c: char| c.is_ascii_alphanumeric() || "_:/.".contains(c);
    let before = text[..word.start].trim_end_matches(part).len();
    let after = text[word.end..].len() - text[word.end..].trim_start_matches(part).len();
    &text[before..word.end + after]
}

#[test]
fn what_is_written_may_be_shown_again_and_nothing_else_from_inside() {
    let said = |told: &str, written: &str| unseemly(told, &[written]).is_some();
    assert!(!said("orders.csv:2:1 expected a time", ""));
    assert!(!said("1 | plantday::new", "// plantday::new"));
    assert!(said("1 | plantday::new", ""));
    assert!(said("1 | plantday::new", "// plantday"));
    // One that is written hides no other.
    assert!(said(
        "1 | plantday::new\n2 | plantday::scenario::parse",
        "// plantday::new"
    ));
    assert!(said("panicked at src/main.rs", "// panicked at src/"));
}

/// A folder of its own, and a path in it.
fn in_folder(folder: &Path, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.join(name);
    fs::write(&path, bytes).expect("it can be written");
    path
}
