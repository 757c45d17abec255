//! Studies that were broken off and go on: the same bytes as one run that never was, wherever they were broken off and on any number of
//! threads; and what is of another question, or not whole, is refused.
//! No published source: these are the project's own promises. Each study that goes on stands beside one that was never broken off.

use crate::called::{STARTER, broken_off, fine, plantday, refused, standing, starter};
use crate::shelf::{Memory, Standing};
use plantday::dispatch::Parameter;
use plantday::observe::figure;
use plantday::report::answer::Answer;
use plantday::report::{
    best, causes, compare, fleet, habits, holds, replay, staff, tickets, tomorrow, tune,
};
use plantday::scenario::assume;
use plantday::scenario::past_tickets;
use plantday::scenario::season::Season;
use plantday::scenario::{Scenario, Surprise};
use plantday::studies::{self, Target, Vary};
use plantday::units::{Millis, OrderId};
use plantday::{Journal, Watch};
use std::fs;
use std::num::NonZeroUsize;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::Duration;
use tempfile::TempDir;

type Threads = Option<NonZeroUsize>;

fn day() -> Scenario {
    plantday::parse("day.ron", STARTER).expect("it is fine")
}

/// What a study tells, on the screen and in its file for programs, which has all numbers.
fn told(answer: &Answer) -> String {
    format!("{}\n{}", answer.terminal(100), answer.json())
}

fn goes_on(ask: impl Fn(Threads, Watch<'_>) -> Answer) -> usize {
    goes_on_telling(|threads, watch| told(&ask(threads, watch)))
}

/// Asks a study; then again as it would go on had it been killed each time that something was kept: from some of these times, on other
/// threads. Gives how many runs its last time had.
fn goes_on_telling(ask: impl Fn(Threads, Watch<'_>) -> String) -> usize {
    let whole = ask(None, Watch::default());
    let never = AtomicBool::new(false);
    let shelf = Memory::default();
    let journal = Journal::new(&shelf, Duration::ZERO, &never);
    let kept = ask(
        NonZeroUsize::new(2),
        Watch::default().keeping(Some(&journal)),
    );
    assert!(kept == whole, "nothing was broken off");
    let times = shelf.times();
    assert!(times.len() > 1, "it was kept {} times", times.len());
    let last = times.len() - 1;
    for (nth, threads) in [(0, 7), (last / 3, 1), (2 * last / 3, 3), (last, 2)] {
        let shelf = Memory::of(times[nth].clone());
        let journal = Journal::new(&shelf, Duration::from_secs(3_600), &never);
        let watch = Watch::default().keeping(Some(&journal));
        let again = ask(NonZeroUsize::new(threads), watch);
        assert!(again == whole, "from time {nth} of {last}");
        assert_eq!(shelf.taken_up() as usize, times[nth].len());
    }
    times[last].len()
}

/// With a precision that 20 days do not have, and a selection of the best rule.
#[test]
fn a_comparison_goes_on() {
    let scenario = Arc::new(day());
    let runs = goes_on(|threads, watch| {
        let question = studies::Question {
            replications: 20,
            threads,
            until: studies::Until {
                sure_within: Some(200.0),
                precision: Some(60.0),
                most: 60,
            },
            ..studies::Question::default()
        };
        let found = studies::compare(&scenario, &question, watch).expect("it is not stopped");
        let found = Arc::new(found);
        assert!(found.replications() > 40, "{}", found.replications());
        let worst = Arc::new(studies::worst_of(&scenario, &found));
        compare::answer(&found, &worst, &scenario)
    });
    assert!(runs > 1, "the selection has runs of its own");
}

#[test]
fn causes_go_on() {
    let scenario = day();
    let runs = goes_on(|threads, watch| {
        let question = studies::CounterfactualsQuestion {
            rule: scenario.todays_rule(),
            replications: 12,
            threads,
            ..studies::CounterfactualsQuestion::default()
        };
        let found = studies::counterfactuals(&scenario, &question, watch);
        causes::answer(&found.expect("it is not stopped"), &scenario)
    });
    assert_eq!(runs, 2, "the changes, and the rule alone");
}

#[test]
fn habits_go_on() {
    let scenario = day();
    let runs = goes_on(|threads, watch| {
        let question = studies::HabitsQuestion {
            replications: 8,
            threads,
            ..studies::HabitsQuestion::default()
        };
        let found = studies::habits(&scenario, &question, watch);
        habits::answer(&found.expect("it is not stopped"), &scenario)
    });
    assert_eq!(runs, 1);
}

/// What is tried next depends on what was found.
#[test]
fn the_search_for_the_best_rule_goes_on() {
    let scenario = day();
    let runs = goes_on(|threads, watch| {
        let question = studies::BestQuestion {
            // Which no rule meets, so that other ways to meet it are tried.
            targets: vec![Target {
                column: figure::LATE_SHARE,
                bound: 1e-6,
            }],
            search: 6,
            last: 12,
            threads,
            ..studies::BestQuestion::default()
        };
        let found = studies::best(&scenario, &question, watch).expect("it is not stopped");
        best::answer(&found, &scenario, String::new())
    });
    assert!(runs > 3, "{runs} runs");
}

#[test]
fn changed_and_drawn_worlds_go_on() {
    let scenario = day();
    let spread = ["traffic=Triangular(0.9, 1, 1.3)".to_owned()];
    let runs = goes_on(|threads, watch| {
        let question = studies::HoldsQuestion {
            compare: studies::Question {
                replications: 5,
                threads,
                ..studies::Question::default()
            },
            surprises: Surprise::usual(&scenario),
            assumptions: assume::read(&spread, &scenario).expect("a spread"),
            outer: 2,
            ..studies::HoldsQuestion::default()
        };
        let found = studies::holds(&scenario, &question, watch).expect("it is not stopped");
        holds::answer(&found, &scenario)
    });
    assert!(runs > 6, "{runs} runs");
}

#[test]
fn the_search_for_a_setting_goes_on() {
    let scenario = day();
    let runs = goes_on(|threads, watch| {
        let question = studies::Tuning {
            rule: 1,
            vary: vec![Vary::Number {
                parameter: Parameter::ALL[0],
                values: vec![Parameter::ALL[0].range().0, Parameter::ALL[0].range().1],
            }],
            targets: vec![Target {
                column: figure::LATE_SHARE,
                bound: 1e-6,
            }],
            search: 10,
            last: 20,
            threads,
            ..studies::Tuning::default()
        };
        let found = studies::tune(&scenario, &question, watch).expect("it is not stopped");
        tune::answer(&found, &scenario, String::new())
    });
    assert_eq!(runs, 3, "the search, the finalists, and what else could");
}

/// Sums of the pour go on with its rows.
#[test]
fn the_search_for_a_fleet_goes_on() {
    let scenario = day();
    let runs = goes_on(|threads, watch| {
        let question = studies::FleetQuestion {
            order: OrderId::new(1),
            trucks: 2..=5,
            spacings: vec![Millis::from_minutes(18.0), Millis::from_minutes(25.0)],
            breakdown: true,
            rule: scenario.todays_rule(),
            target: 0.5,
            replications: 12,
            threads,
            ..studies::FleetQuestion::default()
        };
        let found = studies::fleet(&scenario, &question, watch).expect("it can be asked");
        fleet::answer(&found.expect("it is not stopped"), &scenario, String::new())
    });
    assert!(runs > 5, "{runs} runs");
}

#[test]
fn the_staffing_case_goes_on() {
    let scenario = day();
    let season = |weeks: f64, orders: f64| Season {
        name: None,
        weeks,
        orders,
    };
    let runs = goes_on(|threads, watch| {
        let question = studies::StaffQuestion {
            drivers: vec![9, 11],
            growth: vec![10.0],
            seasons: vec![season(30.0, 1.0), season(22.0, 0.7)],
            holds: true,
            late_share: 0.9,
            undelivered: 0.9,
            rule: scenario.todays_rule(),
            replications: 5,
            threads,
            ..studies::StaffQuestion::default()
        };
        let found = studies::staff(&scenario, &question, watch).expect("it is not stopped");
        staff::answer(&found, None, &scenario, String::new())
    });
    assert!(runs > 6, "{runs} runs");
}

#[test]
fn the_search_for_the_worst_run_and_one_day_go_on() {
    let scenario = Arc::new(day());
    goes_on(|threads, watch| {
        let question = studies::replay::Question {
            replications: 30,
            threads,
            ..studies::replay::Question::default()
        };
        let found = studies::replay(&scenario, &question, watch).expect("it is not stopped");
        replay::answer(&Arc::new(found), &scenario)
    });
    let runs = goes_on(|threads, watch| {
        let question = studies::BoardQuestion {
            rule: scenario.todays_rule(),
            replications: 20,
            threads,
            ..studies::BoardQuestion::default()
        };
        let found = studies::tomorrow(&scenario, &question, watch).expect("it is not stopped");
        tomorrow::answer(&found, &scenario)
    });
    assert_eq!(runs, 2, "as planned, and the changes");
}

/// Who was chosen in each period goes on with its rows.
#[test]
fn a_check_against_past_tickets_goes_on() {
    let scenario = day();
    let of = studies::tickets::TicketsOf {
        rule: 0,
        replications: 0..8,
        seed: 11,
    };
    let table = tickets::table(
        &studies::tickets::written(&scenario, &of),
        scenario.period.first_date,
    );
    let past = past_tickets::parse("t.csv", table, None).expect("tickets");
    let runs = goes_on(|threads, watch| {
        let question = studies::tickets::CheckQuestion {
            rule: 0,
            replications: 20,
            level: 0.95,
            seed: 1,
            threads,
        };
        let found = studies::tickets::check(&scenario, &past, &question, watch);
        tickets::check(&found.expect("it is not stopped"), &past, &scenario)
    });
    assert_eq!(runs, 1);
}

#[test]
fn a_calibration_goes_on() {
    let scenario = day();
    let runs = goes_on_telling(|threads, watch| {
        let question = studies::TripQuestion {
            rule: scenario.todays_rule(),
            trials: 4,
            threads,
            ..studies::TripQuestion::default()
        };
        let found = plantday::calibrate(&scenario, &question, 12, watch).expect("it can be asked");
        format!("{:?}", found.expect("it is not stopped"))
    });
    assert_eq!(runs, 1);
}

#[test]
fn what_answers_at_once_is_not_gone_on_with() {
    let folder = starter();
    for (call, only) in [
        (&["trip", "day.ron", "--last-loads"][..], "--calibrate"),
        (&["tickets", "tickets.csv"], "--check"),
    ] {
        let error = refused(folder.path(), &[call, &["--resume"]].concat());
        assert!(error.contains(only), "{error}");
    }
}

/// Stopped by hand after so many replications, a search sums up in runs of its own, of which none is kept; what was kept goes on.
#[test]
fn what_sums_up_a_stopped_study_is_not_gone_on_with() {
    let scenario = day();
    let question = studies::CounterfactualsQuestion {
        rule: scenario.todays_rule(),
        replications: 40,
        threads: NonZeroUsize::new(2),
        ..studies::CounterfactualsQuestion::default()
    };
    let ask = |watch: Watch<'_>| studies::counterfactuals(&scenario, &question, watch);
    let stop = AtomicBool::new(false);
    let told = AtomicU64::new(0);
    let progress = |_| {
        if told.fetch_add(1, Ordering::Relaxed) == 15 {
            stop.store(true, Ordering::Relaxed);
        }
    };
    let shelf = Memory::default();
    let journal = Journal::new(&shelf, Duration::from_secs(3_600), &stop);
    let stopped = ask(Watch::new(&progress, &stop).keeping(Some(&journal)));
    let done = stopped.expect("something is done").rows.len();
    assert!((15..40).contains(&done), "{done}");
    journal.keep_all();
    let times: Vec<Standing> = shelf.times();
    let numbers: Vec<u64> = times.iter().flat_map(|time| time.keys().copied()).collect();
    assert_eq!(numbers, [1]);
    let shelf = Memory::of(times[0].clone());
    let never = AtomicBool::new(false);
    let journal = Journal::new(&shelf, Duration::from_secs(3_600), &never);
    let json = |found: Option<studies::Counterfactuals>| {
        self::told(&causes::answer(
            &found.expect("it is not stopped"),
            &scenario,
        ))
    };
    let went_on = json(ask(Watch::default().keeping(Some(&journal))));
    assert!(went_on == json(ask(Watch::default())));
    assert_eq!(shelf.taken_up(), 1);
}

/// Breaks a study off by Ctrl-C, goes on with it, kills it, and goes on to the end: the screen and every file are those of one run. `call`
/// has its replications last.
#[cfg(unix)]
fn broken_off_and_killed(call: &[&str], replications: u64) {
    use std::process::{Command, Stdio};
    let folder = starter();
    let path = folder.path();
    let study = call[0];
    let left = format!("out/{study}-so-far.plantday");
    let out = [call, &["--out", "out"]].concat();
    let count = broken_off(path, &out, replications, &left);
    let asked = [&out[..], &["-n", &count]].concat();
    let mut killed = Command::new(assert_cmd::cargo::cargo_bin!("plantday"))
        .current_dir(path)
        .args(&asked)
        .args(["--resume", "--threads", "1"])
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts");
    std::thread::sleep(Duration::from_millis(150));
    let _ = killed.kill();
    killed.wait().expect("it ends");
    // Whoever was too quick for it has left nothing, and begins anew.
    let is_left = path.join(&left).exists();
    let (code, told, said) = plantday(path, &[&asked[..], &["--resume"]].concat());
    assert_eq!(said.contains("Going on after "), is_left, "{said}");
    let one = [call, &["-n", &count, "--out", "one"]].concat();
    let (code_of_one, told_of_one, error) = plantday(path, &one);
    assert!(code == code_of_one && told == told_of_one, "{error}");
    assert!(standing(&path.join("out")) == standing(&path.join("one")));
}

#[cfg(unix)]
#[test]
fn studies_that_are_broken_off_and_killed_go_on() {
    broken_off_and_killed(&["causes", "day.ron"], 400);
    broken_off_and_killed(&["best", "day.ron", "--search", "150"], 1_000);
    broken_off_and_killed(&["holds", "day.ron"], 150);
}

#[cfg(unix)]
#[test]
fn further_studies_that_are_broken_off_and_killed_go_on() {
    let trucks = ["--order", "Deck", "--trucks-to", "6"];
    broken_off_and_killed(&[&["fleet", "day.ron"][..], &trucks].concat(), 800);
    broken_off_and_killed(&["staff", "day.ron"], 120);
    let vary = ["--rule", "By the hour", "--vary", "early_min=0,10"];
    broken_off_and_killed(&[&["tune", "day.ron"][..], &vary].concat(), 4_000);
}

/// Of another question or another day nothing is gone on from, nor from what is not whole; and what is kept stays.
#[cfg(unix)]
#[test]
fn another_question_or_a_damaged_file_is_refused() {
    let folder = starter();
    let path = folder.path();
    let left = "out/habits-so-far.plantday";
    let call = ["habits", "day.ron", "--out", "out"];
    let count = broken_off(path, &call, 300, left);
    let asked = [&call[..], &["-n", &count]].concat();
    let resumed = |also: &[&str]| refused(path, &[&asked[..], also, &["--resume"]].concat());
    let kept = fs::read(path.join(left)).expect("what was done");
    let more = format!("{count}0");
    let other = [&call[..], &["-n", &more, "--resume"]].concat();
    for (error, told) in [
        (resumed(&["--seed", "2"]), "--seed was 1, now 2"),
        (
            resumed(&["--to", "By the hour"]),
            "--to was not given, now \"By the hour\"",
        ),
        (resumed(&["--orders", "9"]), "--orders was 8, now 9"),
        (refused(path, &other), "--replications was "),
    ] {
        assert!(
            error.contains("there is no going on from out/habits-so-far.plantday: "),
            "{error}"
        );
        assert!(error.contains(told), "{told}: {error}");
    }
    let changed = STARTER.replacen("volume_yd3: ", "volume_yd3: 1", 1);
    fs::write(path.join("day.ron"), changed).expect("written");
    assert!(resumed(&[]).contains("the scenario has changed: the checksum"));
    fs::write(path.join("day.ron"), STARTER).expect("written");
    // Cut off or changed anywhere; multiples of the golden ratio fall evenly over the file.
    for step in 0..12_usize {
        let at = ((step as f64 * 0.618_034).fract() * kept.len() as f64) as usize;
        fs::write(path.join(left), &kept[..at]).expect("written");
        resumed(&[]);
        let mut changed = kept.clone();
        changed[at] ^= 1 << (step % 8);
        fs::write(path.join(left), changed).expect("written");
        resumed(&[]);
    }
    fs::write(path.join(left), [&kept[..], b"and more"].concat()).expect("written");
    assert!(resumed(&[]).contains("it is no file in which plantday has kept"));
    fs::write(path.join(left), &kept).expect("written");

    // Begun anew it says that there was something.
    let few = [&call[..], &["-n", "4"]].concat();
    let (told, said) = fine(path, &few);
    assert!(
        said.contains("out/habits-so-far.plantday holds what an earlier run had done"),
        "{said}"
    );
    let one = ["habits", "day.ron", "-n", "4", "--out", "one"];
    assert_eq!(told, fine(path, &one).0);
    assert!(standing(&path.join("out")) == standing(&path.join("one")));
    let (_, said) = fine(path, &[&few[..], &["--resume"]].concat());
    assert!(
        said.contains("There is no out/habits-so-far.plantday to go on from"),
        "{said}"
    );
}

/// What changes no run is no other question.
#[cfg(unix)]
#[test]
fn threads_and_how_it_is_told_may_be_others() {
    let folder: TempDir = starter();
    let path: &Path = folder.path();
    let call = ["habits", "day.ron", "--out", "out"];
    let count = broken_off(path, &call, 300, "out/habits-so-far.plantday");
    let asked = [&call[..], &["-n", &count, "--json", "--threads", "3"]].concat();
    let (told, said) = fine(path, &[&asked[..], &["--resume", "--xlsx"]].concat());
    assert!(said.contains("Going on after "), "{said}");
    let one = ["habits", "day.ron", "--json", "--out", "one", "-n", &count];
    assert_eq!(told, fine(path, &one).0);
}
