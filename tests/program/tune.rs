//! `tune` and `compare --until-sure` as programs. No published source: these are the project's own promises; the statistics
//! beneath are checked in `statistics.rs` and `selection.rs`.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::dispatch::{Habit, Lend, Parameter};
use plantday::montecarlo;
use plantday::observe::figure;
use plantday::scenario::parse;
use plantday::studies::{Block, RuleTrial};
use serde_json::Value;
use std::fs;
use tempfile::TempDir;

const DAY: &str = include_str!("../../scenarios/estuary_day.ron");

/// Exit code, standard output, standard error of the program on the worked day.
fn run(folder: &TempDir, arguments: &[&str]) -> (Option<i32>, String, String) {
    fs::write(folder.path().join("day.ron"), DAY).expect("a file");
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .args(arguments)
        .output()
        .expect("the program runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (
        output.status.code(),
        text(&output.stdout),
        text(&output.stderr),
    )
}

const RULE: &str = "Soonest, home in time";

fn tune(folder: &TempDir, more: &[&str]) -> (Option<i32>, String, String) {
    let start = [
        "tune", "day.ron", "--rule", RULE, "--search", "10", "-n", "20",
    ];
    run(folder, &[&start[..], more].concat())
}

/// An edit changes its own number and nothing else.
#[test]
fn edits_of_a_rule_read_back_and_touch_nothing_else() {
    let scenario = parse("day.ron", DAY).expect("the worked day is fine");
    for rule in &scenario.rules {
        for parameter in Parameter::ALL {
            let (low, high) = parameter.range();
            let edited = parameter.set(rule.clone(), (low + high) / 2.0);
            assert_eq!(parameter.of(&edited), Some((low + high) / 2.0));
            for other in Parameter::ALL
                .into_iter()
                .filter(|other| *other != parameter)
            {
                assert_eq!(
                    other.of(&edited),
                    other.of(rule),
                    "{parameter:?} changed {other:?}"
                );
            }
            if let Some(value) = parameter.of(rule) {
                let back = parameter.set(edited, value);
                for each in Parameter::ALL {
                    assert_eq!(each.of(&back), each.of(rule));
                }
            }
        }
    }
}

#[test]
fn a_tuned_rule_is_the_same_on_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let vary = [
        "--vary",
        "early_min=0,20",
        "--vary",
        "gates.HomeWithin.probability=0.8,0.95",
    ];
    let call = |threads: &str, out: &str| {
        tune(
            &folder,
            &[&vary[..], &["--json", "--threads", threads, "--out", out]].concat(),
        )
    };
    let (one, two) = (call("1", "one"), call("3", "two"));
    assert_eq!(one.0, Some(0), "{}", one.2);
    assert_eq!(one.1, two.1);
    for file in ["tune.html", "surface.csv", "final.csv", "surface.svg"] {
        let read = |out: &str| fs::read(folder.path().join(out).join(file)).expect("a file");
        assert_eq!(read("one"), read("two"), "{file}");
    }
    let json: Value = serde_json::from_str(&one.1).expect("JSON");
    assert_eq!(
        json["surface"].as_array().expect("a list").len(),
        5,
        "four and the rule as written"
    );
    assert_eq!(
        (&json["searched"], &json["decided_on"]),
        (&10.into(), &20.into())
    );
    let chosen = json["final"].as_array().expect("a list").iter();
    let cheapest = chosen
        .map(|f| f["judged"]["mean"].as_f64().expect("a mean"))
        .fold(f64::INFINITY, f64::min);
    let best = json["final"]
        .as_array()
        .expect("a list")
        .iter()
        .find(|f| f["setting"] == json["chosen"]);
    assert_eq!(
        best.expect("the chosen one is a finalist")["judged"]["mean"],
        cheapest
    );
}

#[test]
fn a_target_out_of_reach_is_exit_code_one() {
    let folder = TempDir::new().expect("a folder");
    let (code, text, _) = tune(&folder, &["--vary", "early_min=0,5", "--target", "cost=-1"]);
    assert_eq!(code, Some(1), "{text}");
    assert!(
        text.contains("No setting of \"Soonest, home in time\" can be shown to meet"),
        "{text}"
    );
}

#[test]
fn wrong_arguments_of_tune_are_named() {
    let folder = TempDir::new().expect("a folder");
    for (more, said) in [
        (&["--vary", "early=0,5"][..], "did you mean \"early_min\"?"),
        (&["--vary", "early=0,5"], "gates.HomeWithin.probability"),
        (&["--vary", "early_min"], "names no values"),
        (
            &["--vary", "early_min=0,five"],
            "\"five\" in \"early_min=0,five\" is no number",
        ),
        (
            &["--vary", "gates.HomeWithin.probability=2"],
            "expected 0.5 to 0.999",
        ),
        (
            &["--vary", "early_min=1", "--vary", "early_min=2"],
            "varied twice",
        ),
        (
            &["--vary", "early_min=1", "--target", "late_share"],
            "has no bound",
        ),
        (
            &["--vary", "early_min=1", "--target", "late_shar=1"],
            "did you mean \"late_share\"?",
        ),
        (
            &["--vary", "early_min=1", "--confidence", "1"],
            "0.5 to 0.999",
        ),
        (
            &["--vary", "early_min=1", "--indifference", "0"],
            "above zero",
        ),
    ] {
        let (code, _, error) = tune(&folder, more);
        assert_eq!(code, Some(2), "{more:?}");
        assert!(error.contains(said), "{more:?}: {error}");
        assert!(!folder.path().join("plantday-out").exists(), "{more:?}");
    }
}

#[test]
fn compare_goes_on_until_it_is_sure_or_says_what_it_takes() {
    let folder = TempDir::new().expect("a folder");
    let call = |more: &[&str]| {
        let (code, text, error) = run(
            &folder,
            &[&["compare", "day.ron", "-n", "20", "--json"][..], more].concat(),
        );
        assert_eq!(code, Some(0), "{error}");
        (serde_json::from_str::<Value>(&text).expect("JSON"), text)
    };
    let sure = ["--until-sure", "--indifference", "400"];
    let (one, text) = call(&[&sure[..], &["--threads", "1"]].concat());
    assert_eq!(text, call(&[&sure[..], &["--threads", "3"]].concat()).1);
    assert_eq!(one["selection"]["finished"], true);
    assert_eq!(one["selection"]["left"], one["decision"]["rules"]);
    // The figures are those of a plain run: the selection shares no replication with them.
    let (plain, _) = call(&[]);
    assert_eq!(plain["rules"], one["rules"]);
    assert!(plain["selection"].is_null());
    let (short, _) = call(&[
        "--until-sure",
        "--indifference",
        "0.01",
        "--max-replications",
        "51",
    ]);
    assert_eq!(short["selection"]["finished"], false);
    assert!(short["selection"]["at_most"].as_u64() > Some(51));
    let said = short["sentences"].as_array().expect("sentences");
    assert!(
        said.iter()
            .any(|text| text.as_str().expect("a text").starts_with("Not sure yet")),
        "{said:?}"
    );
    let (precise, _) = call(&["--precision", "600", "--max-replications", "300"]);
    assert!(precise["precision"]["reached"].as_f64() <= Some(600.0));
    let (code, _, error) = run(&folder, &["compare", "day.ron", "--indifference", "5"]);
    assert_eq!(code, Some(2));
    assert!(error.contains("--until-sure"), "{error}");
}

/// A setting that is the rule as written, or that changes nothing, is no recommendation.
#[test]
fn what_is_written_already_is_left_alone() {
    let folder = TempDir::new().expect("a folder");
    let call = |vary: &str| {
        let arguments = [
            "tune",
            "day.ron",
            "--rule",
            "Longest idle, 11 hours",
            "--search",
            "10",
            "-n",
            "20",
            "--vary",
            vary,
        ];
        let (code, text, error) = run(&folder, &[&arguments[..], &["--json"]].concat());
        assert_eq!(code, Some(0), "{error}");
        serde_json::from_str::<Value>(&text).expect("JSON")
    };
    for vary in [
        "gates.LastLoadBy.hours=11,10.9",
        "gates.HomeWithin.probability=0.5",
        "spacing_factor=1",
    ] {
        let answer = call(vary);
        let said = answer["decision"].as_str().expect("a text");
        assert!(
            said.starts_with("Leave \"Longest idle, 11 hours\" as it stands"),
            "{said}"
        );
        assert!(answer["chosen"].is_null(), "{vary}");
        let as_good = answer["as_good"].as_array().expect("a list");
        assert!(!as_good.is_empty(), "{vary}");
        let notes = answer["notes"].to_string();
        assert!(
            notes.contains("The same cost with lost sales in every run"),
            "{notes}"
        );
        assert!(!notes.contains("is as good"), "{notes}");
    }
}

/// Stagger and spacing change the day.
#[test]
fn spacing_and_stagger_are_searched() {
    let folder = TempDir::new().expect("a folder");
    let vary = [
        "--vary",
        "spacing_factor=1,1.5",
        "--vary",
        "shift.Staggered.minutes=0,30",
        "--json",
    ];
    let (code, text, error) = tune(&folder, &vary);
    assert_eq!(code, Some(0), "{error}");
    let answer: Value = serde_json::from_str(&text).expect("JSON");
    let mean = |place: usize| {
        answer["surface"][place]["judged"]["mean"]
            .as_f64()
            .expect("a mean")
    };
    let all = [mean(0), mean(1), mean(2), mean(3)];
    for (n, one) in all.iter().enumerate() {
        for other in &all[..n] {
            assert_ne!(one, other, "{all:?}");
        }
    }
}

/// Clopper & Pearson, Biometrika 26, 1934: none in n leaves 1 − (1 − level)^(1/n). Two finalists with one target: 2.5 % are split in
/// two, 1.25 % for each bound; ln 0.0125 = −4.3820. None in 50 leaves 1 − e^(−4.3820/50) = 0.0839. At most 0.001 takes 4.3820 / 0.0010005 =
/// 4,380 replications, at most 0.05 takes 4.3820 / 0.051293 = 85.4, so 86.
#[test]
fn none_seen_is_not_never() {
    let folder = TempDir::new().expect("a folder");
    let call = |target: &str| {
        let arguments = [
            "tune",
            "day.ron",
            "--rule",
            "Longest idle, 11 hours",
            "--vary",
            "early_min=10",
            "--search",
            "10",
            "-n",
            "50",
            "--json",
            "--target",
            target,
        ];
        let (code, text, error) = run(&folder, &arguments);
        let answer: Value = serde_json::from_str(&text).unwrap_or_else(|_| panic!("{error}"));
        (code, answer)
    };
    let (code, answer) = call("stranded=0");
    assert_eq!(code, Some(1));
    let last = &answer["final"][0];
    assert_eq!(last["targets"]["stranded"]["mean"], 0.0);
    assert_eq!(last["meets"], false);
    assert_eq!(last["never_missed"]["stranded"], true);
    let bound = last["bounds"]["stranded"].as_f64().expect("a bound");
    assert!((bound - 0.0839).abs() < 5e-5, "{bound}");
    let notes = answer["notes"].to_string();
    assert!(
        notes.contains(
            "No number of runs shows exactly 0; --target stranded=0.001 takes 4,380 runs"
        ),
        "{notes}"
    );
    let (code, answer) = call("stranded=0.05");
    assert_eq!(code, Some(1));
    let notes = answer["notes"].to_string();
    assert!(
        notes.contains("86 runs without one would show 0.05"),
        "{notes}"
    );
    let (code, answer) = call("stranded=0.1");
    assert_eq!(code, Some(0), "{answer}");
    assert_eq!(answer["final"][0]["meets"], true);
}

#[test]
fn what_a_scenario_cannot_show_is_refused_before_the_run() {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("plain.ron"), TWINS).expect("a file");
    for (arguments, said) in [
        (
            &["compare", "plain.ron", "--judge", "wet_at_rack"][..],
            "`mixes` in `concrete`",
        ),
        (
            &[
                "tune",
                "plain.ron",
                "--rule",
                "A",
                "--vary",
                "early_min=1",
                "--target",
                "below_strength=1",
            ],
            "`mixes` in `concrete`",
        ),
        (
            &[
                "tune",
                "plain.ron",
                "--rule",
                "A",
                "--vary",
                "yard.read_after.Minutes=5",
            ],
            "changes nothing here",
        ),
    ] {
        let (code, text, error) = run(&folder, arguments);
        assert_eq!(code, Some(2), "{arguments:?}: {text}");
        assert!(error.contains(said), "{arguments:?}: {error}");
    }
    assert!(!folder.path().join("plantday-out").exists());
}

#[test]
fn options_of_compare_that_would_do_nothing_are_refused() {
    let folder = TempDir::new().expect("a folder");
    for (more, said) in [
        (
            &["--max-replications", "10", "-n", "20"][..],
            "neither is given",
        ),
        (
            &["--until-sure", "--max-replications", "5"],
            "expected 50 at least",
        ),
        (
            &[
                "--precision",
                "0.0001",
                "-n",
                "300",
                "--max-replications",
                "200",
            ],
            "less than the 300 --replications",
        ),
        (
            &["--until-sure", "--rule", "Longest idle, 11 hours"],
            "there is only one",
        ),
    ] {
        let (code, _, error) = run(&folder, &[&["compare", "day.ron"][..], more].concat());
        assert_eq!(code, Some(2), "{more:?}");
        assert!(error.contains(said), "{more:?}: {error}");
    }
}

/// One plant, one order, and rules with names that a shell or a list of rules would take apart; the first two are alike.
const TWINS: &str = r#"(
    name: "twins",
    rule_book: "none",
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")])],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30)],
    rules: [(name: "A"), (name: "B; \"it's $5\""), (name: "C", early_min: 20)],
)"#;

/// The recipe of a report, as a POSIX shell reads it.
#[cfg(unix)]
fn recipe(folder: &TempDir, out: &str) -> Vec<String> {
    let page = fs::read_to_string(folder.path().join(out).join("report.html")).expect("a page");
    let from = page.rfind("plantday compare").expect("a recipe");
    let line = &page[from..from + page[from..].find('<').expect("an end")];
    let line = line
        .replace("&quot;", "\"")
        .replace("&#39;", "'")
        .replace("&lt;", "<")
        .replace("&gt;", ">")
        .replace("&amp;", "&");
    let output = std::process::Command::new("sh")
        .args(["-c", &format!("printf '%s\\n' {line}")])
        .output()
        .expect("a shell");
    let words = String::from_utf8(output.stdout).expect("text");
    words.lines().map(str::to_owned).collect()
}

/// The recipe, run, gives the same report again.
#[cfg(unix)]
#[test]
fn the_recipe_gives_the_answer_again() {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("plain.ron"), TWINS).expect("a file");
    for asked in [
        &["-n", "20", "--precision", "30", "--until-sure"][..],
        &["-n", "20", "--max-replications", "60", "--precision", "0.7"],
        &["-n", "10", "--rule", "B; \"it's $5\"", "--rule", "C"],
        &["-n", "10", "--rules", "C;A", "--confidence", "0.9"],
    ] {
        let first = [&["compare", "plain.ron", "--out", "one"][..], asked].concat();
        let (code, _, error) = run(&folder, &first);
        assert_eq!(code, Some(0), "{error}");
        let words = recipe(&folder, "one");
        assert_eq!(words[..3], ["plantday", "compare", "FILE"]);
        for option in asked.iter().filter(|word| word.starts_with("--pre")) {
            assert!(words.iter().any(|word| word == option), "{words:?}");
        }
        let mut again: Vec<&str> = words[1..].iter().map(String::as_str).collect();
        again[1] = "plain.ron";
        again.extend(["--out", "two"]);
        let (code, _, error) = run(&folder, &again);
        assert_eq!(code, Some(0), "{words:?}: {error}");
        for file in ["report.html", "figures.csv"] {
            let read = |out: &str| fs::read(folder.path().join(out).join(file)).expect("a file");
            assert_eq!(read("one"), read("two"), "{file} of {words:?}");
        }
    }
}

/// The built-in week has no file.
#[cfg(unix)]
#[test]
fn the_recipe_of_the_built_in_week_names_no_file() {
    let folder = TempDir::new().expect("a folder");
    let (code, _, error) = run(&folder, &["compare", "-n", "2", "--out", "one"]);
    assert_eq!(code, Some(0), "{error}");
    assert_eq!(
        recipe(&folder, "one")[..3],
        ["plantday", "compare", "--replications"]
    );
    let page = fs::read_to_string(folder.path().join("one/report.html")).expect("a page");
    assert!(!page.contains("FILE"));
}

/// Where nothing can be told, more replications tell nothing.
#[test]
fn rules_that_do_the_same_are_said_to_do_the_same() {
    let folder = TempDir::new().expect("a folder");
    let cancelled = TWINS.replace("rules: [", "changes: (cancelled: 1), rules: [");
    fs::write(folder.path().join("plain.ron"), TWINS).expect("a file");
    fs::write(folder.path().join("cancelled.ron"), cancelled).expect("a file");
    let call = |more: &[&str]| {
        let arguments = [&["compare", "-n", "20", "--json"][..], more].concat();
        let (code, text, error) = run(&folder, &arguments);
        assert_eq!(code, Some(0), "{error}");
        let answer: Value = serde_json::from_str(&text).expect("JSON");
        answer["decision"]["sentence"]
            .as_str()
            .expect("a text")
            .to_owned()
    };
    let twins = ["plain.ron", "--rule", "A", "--rule", "B; \"it's $5\""];
    assert_eq!(
        call(&twins),
        "Today's \"A\" and \"B; \"it's $5\"\": no difference between them was seen on cost with lost sales in any of 20 simulated days."
    );
    let sure = call(&[&twins[..], &["--until-sure"]].concat());
    assert!(sure.starts_with("Keep today's \"A\""), "{sure}");
    for more in [
        &["plain.ron", "--judge", "undelivered_loads"][..],
        &["cancelled.ron"],
    ] {
        let said = call(more);
        assert!(
            said.contains("no difference between them was seen"),
            "{said}"
        );
        assert!(!said.contains("more may tell"), "{said}");
    }
    let said = call(&["cancelled.ron", "--judge", "cost_per_yd3"]);
    assert_eq!(
        said,
        "Nothing to judge by: cost per yd³ has no value in any of 20 simulated days."
    );
}

/// Whole decisions are searched like numbers: as the scenario's rules take them, or as written in the option. What a setting came to is
/// what the rule with that decision of the other comes to by itself in the same replications.
#[test]
fn whole_decisions_are_searched() {
    let folder = TempDir::new().expect("a folder");
    let vary = [
        "--vary",
        "belief",
        "--vary",
        "lend=Never,IfSaves(minutes: 10)",
        "--json",
    ];
    let (code, text, error) = tune(&folder, &vary);
    assert_eq!(code, Some(0), "{error}");
    let answer: Value = serde_json::from_str(&text).expect("JSON");
    let recipe = answer["recipe"].as_str().expect("a text");
    assert!(
        recipe.contains("--vary belief --vary \"lend=Never,IfSaves(minutes: 10)\""),
        "{recipe}"
    );

    let scenario = parse("day.ron", DAY).expect("the worked day is fine");
    let rule = scenario.rules.iter().find(|rule| rule.name == RULE);
    let rule = rule.expect("the rule");
    let surface = answer["surface"].as_array().expect("a list");
    let mut beliefs = 0;
    for other in &scenario.rules {
        let written = format!("as \"{}\"", other.name);
        let setting = surface.iter().find(|setting| {
            setting["setting"]["belief"] == written.as_str()
                && setting["setting"]["lend"] == "Never"
        });
        // A rule that believes as one before it is not tried again.
        let Some(setting) = setting else { continue };
        beliefs += 1;
        let mut alone = scenario.clone();
        let mut mixed = Habit::mixed(rule, other, &[Habit::Belief]);
        mixed.lend = Lend::Never;
        alone.rules = vec![mixed];
        let trial = RuleTrial::new(&alone, vec![0], 1);
        let rows = montecarlo::run(&&trial, Block::Search.first(10), None, Watch::default());
        let mean = rows.values(0, figure::COST).sum::<f64>() / 10.0;
        let told = setting["judged"]["mean"].as_f64().expect("a number");
        assert!((mean - told).abs() < 1e-6 * mean, "{mean}, {told}");
    }
    assert!(beliefs > 1);

    for (wrong, told) in [
        ("lend=Nevr", "a similar one exists: `Never`"),
        ("lend=IfSaves(minutes: -3)", "--vary lend"),
        ("lent", "did you mean \"lend\"?"),
        ("early_min", "names no values"),
    ] {
        let (code, _, error) = tune(&folder, &["--vary", wrong]);
        assert_eq!(code, Some(2), "{error}");
        assert!(error.contains(told), "{error}");
    }
}

/// What a desk that passes over drivers costs is shown, and never recommended, whatever it saves.
#[test]
fn passing_over_a_driver_is_never_recommended() {
    let folder = TempDir::new().expect("a folder");
    let vary = ["--vary", "drivers_word=Heard,Overruled", "--json"];
    let (_, text, _) = tune(&folder, &vary);
    let answer: Value = serde_json::from_str(&text).expect("JSON");
    let surface = answer["surface"].as_array().expect("a list");
    let all = surface.iter();
    let tried = all.filter(|setting| setting["setting"]["drivers_word"] == "Overruled");
    assert_eq!(tried.count(), 1);
    let last = answer["final"].as_array().expect("a list");
    let mut last = last.iter();
    assert!(last.all(|finalist| finalist["setting"]["drivers_word"] != "Overruled"));
    assert!(
        answer["notes"]
            .to_string()
            .contains("never a recommendation")
    );
}
