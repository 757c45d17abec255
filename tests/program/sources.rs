//! `plantday sources`: every default with its source, and in a scenario whose value holds.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::scenario::defaults::{Value, Whose, all};
use plantday::scenario::{Scenario, parse};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const DAY: &str = include_str!("../../scenarios/estuary_day.ron");

fn plantday(folder: &Path, arguments: &[&str]) -> String {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    let said = String::from_utf8(output.stderr).expect("messages are UTF-8");
    assert_eq!(output.status.code(), Some(0), "{arguments:?}: {said}");
    String::from_utf8(output.stdout).expect("output is UTF-8")
}

fn scenario(text: &str) -> Scenario {
    parse("day.ron", text).unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn the_list_names_every_default_and_its_source() {
    let folder = TempDir::new().expect("a folder");
    let said = plantday(folder.path(), &["sources"]);
    let whole = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for line in [
        "- drivers' paid hour (money.pay_per_h): $27.00 an hour; estimate, from memory of national wage statistics",
        "- loading (plants.loading): 1.5 min and 0.4 min a yd³; 5 to 10 min a truck from start to finish: trade handbooks",
        "- check and rinse at the slump rack (plants.rack): 2 to 10 min, most often 5; estimate, no source; use your own (3 to 10 min)",
        "- late load (money.late_per_load): $50.00 a load; estimate, no source; use your own",
        "- loads whose slump is misread (concrete.rack.misread): 4% of loads; estimate, no source; use your own",
        "- driving window after reporting (rule_book): 14 h; 14 hours, 10 h off before: 49 CFR 395.3(a)(2)",
    ] {
        assert!(whole.contains(line), "no {line:?} in\n{said}");
    }
    assert!(
        said.lines().all(|line| line.chars().count() <= 100),
        "{said}"
    );
    let table = plantday(folder.path(), &["sources", "--csv"]);
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    let fields: Vec<String> = rows
        .records()
        .map(|row| row.expect("a row")[0].to_owned())
        .collect();
    assert_eq!(fields.len(), all().count());
    assert!(fields.contains(&"money.pay_per_h".to_owned()));
    let estimates = all().filter(|entry| entry.about().source.is_estimate());
    assert_eq!(
        estimates.count(),
        table.matches("estimate, ").count(),
        "each estimate says that it is one"
    );
}

#[test]
fn of_a_scenario_it_says_whose_value_holds() {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), DAY).expect("a file");
    let said = plantday(folder.path(), &["sources", "day.ron"]);
    let whole = said.split_whitespace().collect::<Vec<_>>().join(" ");
    for line in [
        "drivers' paid hour (money.pay_per_h): $27.00 an hour; yours",
        "material of a batched yd³ (money.material_per_yd3): $105 a yd³; default: estimate, no source; use your own",
        "Not counted, as nothing is written: ",
    ] {
        assert!(whole.contains(line), "no {line:?} in\n{said}");
    }
    let json = plantday(
        folder.path(),
        &["sources", "day.ron", "--json", "--out", "list"],
    );
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    let rows = json["tables"]["sources"].as_array().expect("rows");
    let of = |field: &str| rows.iter().find(|row| row["field"] == field).expect(field);
    assert_eq!(of("money.pay_per_h")["whose"], "yours");
    assert_eq!(of("money.material_per_yd3")["whose"], "default");
    assert_eq!(of("concrete.tickets.read")["whose"], "not used");
    let page = fs::read_to_string(folder.path().join("list/report.html")).expect("a page");
    assert!(page.contains("money.material_per_yd3"), "{page}");
}

/// What is written where the default would stand changes nothing but whose value it is.
#[test]
fn a_default_that_is_written_is_the_same_and_yours() {
    let without = DAY.replace("pay_per_h: 27, ", "");
    let [written, left_out] = [DAY, &without].map(scenario);
    assert_ne!(DAY, without);
    assert_eq!(written.money, left_out.money);
    let whose = |scenario: &Scenario, path: &str| scenario.marks.of(path).map(|mark| mark.whose());
    assert_eq!(whose(&written, "money.pay_per_h"), Some(Whose::Yours));
    assert_eq!(whose(&left_out, "money.pay_per_h"), Some(Whose::Default));
    // Only the ferry ramp says something of parking, and no mixes are described.
    assert_eq!(whose(&written, "sites.parking"), Some(Whose::Both));
    assert_eq!(whose(&written, "concrete.meter.sd_in"), None);
    // A block that is left out is one whose fields are all left out.
    let mark = written.marks.of("yard.post_trip");
    let mark = mark.expect("every scenario has a yard");
    assert_eq!((mark.written, mark.left_out), (0, 1));
    assert!(matches!(mark.values[0], Value::Spread(_)));
}
