//! What `compare` says beside its decision: who comes next, what gets worse, and how many real days it would take to see the difference.

use assert_cmd::cargo::cargo_bin_cmd;
use serde_json::Value;
use std::collections::BTreeMap;
use std::fs;
use tempfile::TempDir;

/// On the built-in day, recomputed from `figures.csv` by the textbook: two samples of n days each tell two means apart at 95 % once
/// their difference is 1.96 standard errors, n = 1.96² (s₁² + s₂²) ÷ d² (any textbook of statistics; here from memory).
#[test]
fn the_next_best_and_the_real_days_follow_from_the_figures() {
    let folder = TempDir::new().expect("a folder");
    let day = folder.path().join("day.ron");
    fs::write(&day, include_str!("../../scenarios/estuary_day.ron")).expect("a file");
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .args(["compare", "day.ron", "-n", "150", "--out", "o"])
        .output()
        .expect("the program runs");
    let text = String::from_utf8(output.stdout).expect("output is UTF-8");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut costs: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    let mut order = Vec::new();
    let mut table =
        csv::Reader::from_path(folder.path().join("o/figures.csv")).expect("figures.csv");
    let headings = table.headers().expect("headings").clone();
    let place = |name: &str| headings.iter().position(|h| h == name).expect("a heading");
    for row in table.records() {
        let row = row.expect("a row");
        let rule = row[place("rule")].to_owned();
        if !order.contains(&rule) {
            order.push(rule.clone());
        }
        let cost = row[place("cost")].parse().expect("a number");
        costs.entry(rule).or_default().push(cost);
    }
    let mean = |rule: &str| costs[rule].iter().sum::<f64>() / costs[rule].len() as f64;
    let variance = |rule: &str| {
        let m = mean(rule);
        let squares = costs[rule].iter().map(|c| (c - m) * (c - m));
        squares.sum::<f64>() / (costs[rule].len() - 1) as f64
    };
    let mut by_cost = order.clone();
    by_cost.sort_by(|a, b| mean(a).total_cmp(&mean(b)));
    let (best, next, today) = (&by_cost[0], &by_cost[1], &order[0]);
    assert!(text.contains(&format!("Run \"{best}\"")), "{text}");
    if next != today {
        assert!(text.contains(&format!("Next best: \"{next}\"")), "{text}");
    }
    let difference = mean(best) - mean(today);
    let days =
        1.959_964 * 1.959_964 * (variance(best) + variance(today)) / (difference * difference);
    let said = format!("about {} under each rule", days.ceil().max(2.0));
    assert!(text.contains(&said), "{said} in {text}");
}

/// Two loads due at once. "Near" sends both from the near plant, one after the other; "Both, early" sends one from each, ten minutes early:
/// nothing is late, each truck waits ten minutes on site, and the far driver's miles are paid for. Without the ten minutes nothing waits.
#[test]
fn what_gets_worse_is_said() {
    const DAY: &str = r#"(
        name: "paper day", rule_book: "none", company: (promise_horizon_min: 0),
        plants: [(name: "P", loading: Constant(6), rack: Constant(4)), (name: "Q", loading: Constant(6), rack: Constant(4))],
        sites: [(name: "A")],
        roads: (minutes: { "P": { "A": (20, 20), "Q": (30, 30) }, "Q": { "A": (50, 50) } }),
        trucks: [(name: "T", home: "P"), (name: "U", home: "Q")],
        drivers: [(name: "D", trucks: "T", report: "05:30"), (name: "E", trucks: "U", report: "05:30")],
        orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 20, spacing_min: 0, late_min: 0,
            outlets: [(rate_yd3_min: 1, places: 2)], position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
        yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
        rules: [
            (name: "Near", today: true, belief: FreeFlow, plants: NearestFirst(late_min: 600)),
            (name: "Both, early", belief: FreeFlow, plants: Any, early_min: 10),
        ],
    )"#;
    let said = |day: &str| {
        let folder = TempDir::new().expect("a folder");
        fs::write(folder.path().join("day.ron"), day).expect("a file");
        let output = cargo_bin_cmd!("plantday")
            .current_dir(folder.path())
            .args(["compare", "day.ron", "-n", "12", "--json"])
            .output()
            .expect("the program runs");
        let json: Value = serde_json::from_slice(&output.stdout).expect("JSON");
        json["sentences"].to_string()
    };
    let early = said(DAY);
    let expected =
        "What gets worse under \\\"Both, early\\\", a day: wait on site, min +10.0; cash paid +$";
    assert!(early.contains(expected), "{early}");
    let on_time = said(&DAY.replace("early_min: 10", "early_min: 0"));
    assert!(!on_time.contains("wait on site"), "{on_time}");
}
