//! Texts: scenarios, tables, rule books, logs, histories, states, tickets, seasons, doubted inputs.

use super::corpus::{self, HISTORY, IN_TABLES, LOG, LOGS, SCENARIOS, SEASONS, TICKETS};
use super::mutate::spoiled;
use super::{Attack, Outcome, in_folder, played, read_in_bounds, unseemly};
use plantday::hours::RuleSet;
use plantday::report::answer::Answer;
use plantday::scenario::duty_log::{Asked, DutyLogs};
use plantday::scenario::local_time::Zone;
use plantday::scenario::problem::line_column;
use plantday::scenario::{
    self, assume, day_state, duty_log, made_of, past_tickets, rule_book, season,
};
use plantday::studies::trip::last_loads;
use plantday::studies::{self, TripQuestion};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use rand::seq::IndexedRandom;
use std::num::NonZeroUsize;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

fn texts<'a>(of: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    of.into_iter().map(str::to_owned).collect()
}

/// Spoils one of these.
fn one_of(corpus: &[String]) -> impl Fn(&mut ChaCha8Rng) -> Vec<u8> + Sync + '_ {
    move |rng| {
        let text = corpus.choose(rng).expect("there are some");
        spoiled(rng, text, corpus)
    }
}

/// Whether this is one of the few whose whole answer is asked for.
fn seldom(bytes: &[u8], every: usize) -> bool {
    bytes.iter().map(|byte| usize::from(*byte)).sum::<usize>() % every == 0
}

/// A text that is read from memory, or from a file if it is none.
fn text_or_file(
    bytes: &[u8],
    folder: &Path,
    of_text: &dyn Fn(&str) -> Outcome,
    of_file: &dyn Fn(&Path) -> Outcome,
) -> Outcome {
    match std::str::from_utf8(bytes) {
        Ok(text) => of_text(text),
        Err(_) => of_file(&in_folder(folder, "spoiled", bytes)),
    }
}

/// What is unseemly in an answer, on a narrow screen and a wide one.
fn of_answer(answer: &Answer) -> Option<String> {
    let screens = [answer.terminal(40), answer.terminal(120)];
    screens.iter().find_map(|screen| unseemly(screen, &[]))
}

/// What is unseemly in how a log is judged by a rule book.
fn judged(log: &DutyLogs, book: &RuleSet) -> Option<String> {
    let review = studies::hours(log, book, None, &|_| ());
    of_answer(&plantday::report::hours::answer(&review, String::new()))
}

#[test]
fn scenarios() {
    let folder = TempDir::new().expect("a folder");
    let corpus = texts(SCENARIOS.map(|(_, text)| text));
    Attack {
        reader: "scenario",
        short: 2_500,
        spoil: &one_of(&corpus),
        read: &|bytes| {
            let play = |scenario| played::wrong(&scenario, seldom(bytes, 16));
            text_or_file(
                bytes,
                folder.path(),
                &|text| Outcome::of(read_in_bounds(|| scenario::parse("day.ron", text)), play),
                &|path| Outcome::of_file(read_in_bounds(|| scenario::read(path)), play),
            )
        },
    }
    .run();
}

/// Spoils one of the files of a scenario in tables, from this one on: its number, and what then stands in it.
fn one_of_tables(from: usize) -> impl Fn(&mut ChaCha8Rng) -> Vec<u8> + Sync {
    let corpus = texts(IN_TABLES[from..].iter().map(|(_, text)| *text));
    move |rng| {
        let which = rng.random_range(from..IN_TABLES.len());
        let mut bytes = vec![which as u8];
        bytes.extend(spoiled(rng, IN_TABLES[which].1, &corpus));
        bytes
    }
}

/// All its files in a folder, one of them so spoiled.
fn with_tables(folder: &Path, spoiled: &[u8]) -> [PathBuf; IN_TABLES.len()] {
    let (which, spoiled) = spoiled.split_first().expect("a number stands before it");
    std::array::from_fn(|number| {
        let (name, text) = IN_TABLES[number];
        let is_spoiled = number == usize::from(*which);
        let bytes = if is_spoiled { spoiled } else { text.as_bytes() };
        in_folder(folder, name, bytes)
    })
}

/// A scenario whose lists stand in tables.
#[test]
fn scenarios_in_tables() {
    let folder = TempDir::new().expect("a folder");
    Attack {
        reader: "tables",
        short: 2_500,
        spoil: &one_of_tables(0),
        read: &|bytes| {
            let [path, ..] = with_tables(folder.path(), bytes);
            let read = read_in_bounds(|| scenario::read(&path));
            Outcome::of_file(read, |scenario| played::wrong(&scenario, seldom(bytes, 16)))
        },
    }
    .run();
}

/// The same tables, of which a scenario is made: what is made is one.
#[test]
fn scenarios_made_of_tables() {
    let folder = TempDir::new().expect("a folder");
    Attack {
        reader: "made of tables",
        short: 1_500,
        spoil: &one_of_tables(1),
        read: &|bytes| {
            let [_, tables @ ..] = with_tables(folder.path(), bytes);
            let made = match read_in_bounds(|| made_of(&tables, folder.path())) {
                Err(why) => return Outcome::refused(unseemly(&why, &[])),
                Ok(made) => made,
            };
            let path = in_folder(folder.path(), "made.ron", made.text.as_bytes());
            // What is wrong in a table is told when the scenario is read; it is read as far as that.
            let play = |scenario| played::wrong(&scenario, false);
            Outcome::of_file(scenario::read(&path), play)
        },
    }
    .run();
}

#[test]
fn rule_books() {
    let folder = TempDir::new().expect("a folder");
    let corpus = corpus::rule_books();
    let log = duty_log::parse("log.csv", LOG, &Default::default()).expect("it is good");
    Attack {
        reader: "rule book",
        short: 4_000,
        spoil: &one_of(&corpus),
        read: &|bytes| {
            let judge = |book| judged(&log, &book);
            text_or_file(
                bytes,
                folder.path(),
                &|text| Outcome::of(read_in_bounds(|| rule_book::parse("book.ron", text)), judge),
                &|path| Outcome::of_file(read_in_bounds(|| rule_book::read(path)), judge),
            )
        },
    }
    .run();
}

#[test]
fn duty_logs() {
    let folder = TempDir::new().expect("a folder");
    let corpus = texts(LOGS);
    let book = plantday::hours::built_in("us_property_2020").expect("it is built in");
    let zone = Zone::named("America/New_York").expect("there is such a zone");
    Attack {
        reader: "duty log",
        short: 5_000,
        spoil: &one_of(&corpus),
        read: &|bytes| {
            let known = duty_log::Known {
                zone: seldom(bytes, 3).then(|| zone.clone()),
                may_go_on: !seldom(bytes, 4),
            };
            let judge = |log| judged(&log, &book);
            text_or_file(
                bytes,
                folder.path(),
                &|text| {
                    Outcome::of(
                        read_in_bounds(|| duty_log::parse("log.csv", text, &known)),
                        judge,
                    )
                },
                &|path| {
                    Outcome::of_file(read_in_bounds(|| duty_log::read(path, None, &known)), judge)
                },
            )
        },
    }
    .run();
}

#[test]
fn histories() {
    let folder = TempDir::new().expect("a folder");
    let log = in_folder(folder.path(), "log.csv", LOG.as_bytes());
    let corpus = texts([
        HISTORY,
        "driver;date;hours;exception\nB. Tern;2026-02-24;11;long_day\n",
    ]);
    let book = plantday::hours::built_in("ca_federal_south60").expect("it is built in");
    Attack {
        reader: "history",
        short: 3_000,
        spoil: &one_of(&corpus),
        read: &|bytes| {
            let path = in_folder(folder.path(), "history.csv", bytes);
            let read = read_in_bounds(|| duty_log::read(&log, Some(&path), &Default::default()));
            Outcome::of_file(read, |log| judged(&log, &book))
        },
    }
    .run();
}

#[test]
fn states() {
    let folder = TempDir::new().expect("a folder");
    let (scenario, corpus) = corpus::states();
    Attack {
        reader: "state",
        short: 2_500,
        spoil: &one_of(&corpus),
        read: &|bytes| {
            let table = !bytes.starts_with(b"//");
            let path = in_folder(
                folder.path(),
                if table { "now.csv" } else { "now.ron" },
                bytes,
            );
            let read = read_in_bounds(|| day_state::read(&path, &scenario));
            Outcome::of_file(read, |state| {
                if !seldom(bytes, 16) {
                    return None;
                }
                let question = TripQuestion {
                    at: state.at,
                    state: Some(state),
                    trials: 2,
                    most_runs: 2,
                    threads: NonZeroUsize::new(1),
                    ..TripQuestion::default()
                };
                let driver = plantday::units::DriverId(0);
                let found = last_loads(
                    &scenario,
                    &question,
                    Some(driver),
                    plantday::Watch::default(),
                );
                found.err().and_then(|why| unseemly(&why, &[]))
            })
        },
    }
    .run();
}

#[test]
fn tickets() {
    let corpus = texts(TICKETS);
    Attack {
        reader: "tickets",
        short: 4_000,
        spoil: &one_of(&corpus),
        read: &|bytes| {
            let read = read_in_bounds(|| past_tickets::parse("june.csv", bytes.to_vec(), None));
            Outcome::of(read, |tickets| {
                let question = studies::tickets::TicketsQuestion {
                    least: 4,
                    ..Default::default()
                };
                let found = studies::tickets::fit_tickets(&tickets, &question);
                let answer = plantday::report::tickets::fits(&found, &tickets, None, String::new());
                of_answer(&answer)
            })
        },
    }
    .run();
}

#[test]
fn seasons() {
    let folder = TempDir::new().expect("a folder");
    let corpus = texts(
        SEASONS
            .into_iter()
            .chain(["12x0.7,26x1,14x1.15", "52X1", "12×0.7,40×1.1"]),
    );
    Attack {
        reader: "seasons",
        short: 5_000,
        spoil: &one_of(&corpus),
        read: &|bytes| {
            let nothing = |_| None;
            let table = |path: &Path| {
                let written = path.display().to_string();
                Outcome::of_file(read_in_bounds(|| season::read(&written)), nothing)
            };
            match std::str::from_utf8(bytes) {
                Ok(text) if !text.contains('\n') => Outcome::of(season::list(text), nothing),
                _ => table(&in_folder(folder.path(), "season.csv", bytes)),
            }
        },
    }
    .run();
}

#[test]
fn doubted_inputs() {
    let scenario = corpus::states().0;
    let corpus = texts([
        "misread=Uniform(0.01, 0.04)",
        "traffic=Triangular(0.9, 1, 1.4)",
        "not_ready=Uniform(0.05, 0.2)",
    ]);
    // No system hands a longer argument over.
    let spoil = |rng: &mut ChaCha8Rng| {
        let mut bytes = one_of(&corpus)(rng);
        bytes.truncate(128 << 10);
        bytes
    };
    Attack {
        reader: "doubted inputs",
        short: 5_000,
        spoil: &spoil,
        read: &|bytes| {
            let text = String::from_utf8_lossy(bytes).into_owned();
            let times = Asked::read(&text);
            drop(times);
            let lines: Vec<String> = text.split('\n').map(str::to_owned).collect();
            Outcome::of(read_in_bounds(|| assume::read(&lines, &scenario)), |_| None)
        },
    }
    .run();
}

#[test]
fn a_mark_at_the_start_of_a_file_is_no_character_and_one_within_is() {
    for (text, offset, place) in [
        ("ab", 1, (1, 2)),
        ("\u{feff}ab", 3, (1, 1)),
        ("\u{feff}ab", 4, (1, 2)),
        ("\u{feff}a\nb\u{feff}c", 9, (2, 3)),
        ("a\u{feff}b", 4, (1, 3)),
    ] {
        assert_eq!(line_column(text, offset), place, "{text:?}");
    }
}
