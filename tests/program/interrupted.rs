//! A run that is broken off shows what was done until then, which the same number of replications gives again; and what a run needs is
//! said before it begins.

use assert_cmd::cargo::cargo_bin_cmd;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const STARTER: &str = include_str!("../../scenarios/starter.ron");

fn said(folder: &Path, arguments: &[&str]) -> (Option<i32>, String) {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    let text = String::from_utf8(output.stdout).expect("output is UTF-8");
    (output.status.code(), text)
}

/// Ctrl-C is the signal INT; TERM is what a system sends that shuts down.
#[cfg(unix)]
#[test]
fn a_signal_ends_a_run_and_what_was_done_is_told() {
    use std::process::{Command, Stdio};
    use std::time::Duration;
    for signal in ["INT", "TERM"] {
        let folder = TempDir::new().expect("a folder");
        let path = folder.path();
        fs::write(path.join("day.ron"), STARTER).expect("written");
        let run = Command::new(assert_cmd::cargo::cargo_bin!("plantday"))
            .current_dir(path)
            .args(["compare", "day.ron", "-n", "1000000", "--out", "out"])
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("it starts");
        std::thread::sleep(Duration::from_secs(3));
        let mut kill = Command::new("kill");
        kill.args(["-s", signal, &run.id().to_string()]);
        assert!(kill.status().expect("it runs").success());
        let ended = run.wait_with_output().expect("it ends");
        let error = String::from_utf8_lossy(&ended.stderr);
        assert_eq!(ended.status.code(), Some(130), "{signal}: {error}");
        assert!(
            error.contains("stopping: what is done is summed up and shown"),
            "{error}"
        );
        assert!(error.contains("The report is out/report.html"), "{error}");
        let json = |out: &str| {
            let text = fs::read_to_string(path.join(out).join("compare.json")).expect("the answer");
            serde_json::from_str::<serde_json::Value>(&text).expect("JSON")
        };
        let broken_off = json("out");
        let done = broken_off["replications"].as_u64().expect("a number");
        assert!((1..1_000_000).contains(&done), "{done}");
        let (code, _) = said(
            path,
            &[
                "compare",
                "day.ron",
                "-n",
                &done.to_string(),
                "--out",
                "whole",
            ],
        );
        assert_eq!(code, Some(0));
        let figures =
            |out: &str| fs::read(path.join(out).join("figures.csv")).expect("the figures");
        assert!(figures("out") == figures("whole"), "{signal} after {done}");
    }
}

/// 25,000 orders: pages of everything that trucks do for them fill the better part of a gigabyte.
#[test]
fn a_run_that_takes_much_memory_says_so() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let order = |number: u32| {
        format!(
            "(name: \"Step {number}\", site: \"Houses\", first: \"13:30\", volume_yd3: 6, spacing_min: 30),\n"
        )
    };
    let many: String = (0..25_000).map(order).collect();
    let text = STARTER.replacen("orders: [", &format!("orders: [{many}"), 1);
    fs::write(path.join("large.ron"), text).expect("written");
    fs::write(path.join("day.ron"), STARTER).expect("written");
    let (code, text) = said(path, &["check", "large.ron"]);
    assert_eq!(code, Some(0), "{text}");
    assert!(text.contains("takes about 0.8 GB of memory"), "{text}");
    let (code, text) = said(path, &["check", "day.ron"]);
    assert_eq!((code, text.contains("memory")), (Some(0), false), "{text}");
}

/// A day on which a pour is sized, broken off two replications before its end, beside its twin that is not: the last of what is asked, one
/// kind of trouble left out at a time, is not all there.
#[test]
fn a_search_that_is_broken_off_in_its_last_steps_says_so() {
    use plantday::{FleetQuestion, OrderId, Watch, fleet};
    use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
    let scenario = plantday::parse("day.ron", STARTER).expect("it is fine");
    let question = FleetQuestion {
        order: OrderId::new(1),
        trucks: 3..=4,
        rule: scenario.todays_rule(),
        target: 0.5,
        replications: 12,
        threads: std::num::NonZeroUsize::new(1),
        ..FleetQuestion::default()
    };
    let ask = |most: u64| {
        let (told, stop) = (AtomicU64::new(0), AtomicBool::new(false));
        let progress = |_| {
            if told.fetch_add(1, Ordering::Relaxed) + 1 == most {
                stop.store(true, Ordering::Relaxed);
            }
        };
        let found = fleet(&scenario, &question, Watch::new(&progress, &stop));
        let found = found.expect("it can be asked").expect("something is done");
        (found.stopped, told.load(Ordering::Relaxed))
    };
    let (stopped, all) = ask(u64::MAX);
    assert!(!stopped);
    assert_eq!(ask(all - 2), (true, all - 2));
}
