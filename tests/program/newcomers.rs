//! What someone is told who has never written a scenario: a table, curly quotes, an empty file, a name that is nearly right.

use assert_cmd::cargo::cargo_bin_cmd;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const STARTER: &str = include_str!("../../scenarios/starter.ron");

/// What `check` says of a file that it refuses.
fn refused(folder: &Path, file: &str) -> String {
    let mut command = cargo_bin_cmd!("plantday");
    let output = command.current_dir(folder).args(["check", file]).output();
    let output = output.expect("the program runs");
    let error = String::from_utf8(output.stderr).expect("messages are UTF-8");
    assert_eq!(output.status.code(), Some(2), "{error}");
    assert!(output.stdout.is_empty() && !error.contains("panicked"));
    error
}

/// What `check` says of this text.
fn told(text: &str) -> String {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), text).expect("written");
    refused(folder.path(), "day.ron")
}

/// The places of the problems in a message: line and column.
fn places(error: &str) -> Vec<&str> {
    let at = error
        .lines()
        .filter_map(|line| line.split_once("--> day.ron:"));
    at.map(|(_, place)| place.trim()).collect()
}

fn fine(text: &str) {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), text).expect("written");
    let mut command = cargo_bin_cmd!("plantday");
    let output = command
        .current_dir(folder.path())
        .args(["check", "day.ron"]);
    let output = output.output().expect("the program runs");
    let error = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "{error}");
}

#[test]
fn a_table_is_called_one_and_the_way_to_a_scenario_is_told() {
    for table in [
        "order,site,volume\nFloor,Warehouse,120\n",
        "\u{feff}\r\norder;site;volume\r\nFloor;Warehouse;120\r\n",
        "order\tsite\nFloor\t\"Ware\thouse\"\n",
        "order,Spacing (min)\nFloor,15\n",
    ] {
        let error = told(table);
        assert!(
            error.contains("this looks like a table, not like a scenario"),
            "{error}"
        );
        assert!(error.contains("a scenario looks like `(name: "), "{error}");
        assert!(error.contains("`plantday new FILE` writes"), "{error}");
        assert!(!error.contains("plantday hours"), "{error}");
        assert_eq!(places(&error).len(), 1, "{error}");
    }
    let log = told("driver,status,start,end\nD. Heron,on,2026-03-02T05:30,2026-03-02T06:00\n");
    assert!(
        log.contains("a driver's log is read by `plantday hours`"),
        "{log}"
    );
    // A letter with a comma is none, nor is a scenario that has lost its bracket.
    for other in [
        "Dear dispatcher,\nplease",
        STARTER
            .trim_start_matches(|c| c != '(')
            .trim_start_matches('('),
    ] {
        let error = told(other);
        assert!(!error.contains("table"), "{error}");
    }
}

#[test]
fn an_empty_file_is_told_where_a_scenario_comes_from() {
    for empty in ["", "\u{feff}", " \r\n\t\n"] {
        let error = told(empty);
        assert!(error.contains("the file is empty"), "{error}");
        assert!(error.contains("`plantday new FILE` writes"), "{error}");
    }
}

/// Every curly quote at its place, with the text as it should be; the one with straight quotes is fine.
#[test]
fn curly_quotes_are_shown_all_at_once_with_straight_ones() {
    let text = STARTER
        .replace("name: \"My plants\"", "name: “My plants”")
        .replace("\"Warehouse\", at", "‘Warehouse’, at")
        .replace("\"Houses\", at", "\"Houses”, at")
        .replace("name: \"Floor\"", "name: „Floor“")
        .replace("name: \"Deck\"", "name: “Pat’s deck\"");
    let error = told(&text);
    // Lines and columns counted by hand in the starter.
    assert_eq!(
        places(&error),
        ["8:11", "20:16", "22:16", "41:16", "43:16"],
        "{error}"
    );
    for (around, straight) in [
        ("My plants", "\"My plants\""),
        ("Warehouse", "\"Warehouse\""),
        ("Houses", "\"Houses\""),
        ("Floor", "\"Floor\""),
        ("Pat’s deck", "\"Pat’s deck\""),
    ] {
        assert!(
            error.contains(&format!("curly quotes around `{around}`")),
            "{error}"
        );
        assert!(error.contains(straight), "{error}");
    }
    fine(STARTER);
}

#[test]
fn curly_quotes_are_letters_within_a_text_and_in_a_comment() {
    let letters = STARTER
        .replace(
            "name: \"My plants\"",
            "name: \"The “big” plants\", // “all”, ‘both’",
        )
        .replace("A starter:", "A “starter”:");
    fine(&letters);
    // Something else is wrong: that is told, and no quotes.
    let error = told(&letters.replace("bays: 2,", "bays: 2"));
    assert_eq!(places(&error), ["15:13"], "{error}");
    assert!(!error.contains("curly"), "{error}");
    // Something else is wrong before them: both are told.
    let both = STARTER
        .replace("bays: 2,", "bays: 2")
        .replace("name: \"Floor\"", "name: “Floor”");
    assert_eq!(places(&told(&both)), ["15:13", "41:16"]);
    // One that stands alone.
    let error = told(&STARTER.replace("bays: 2,", "bays: ”2,"));
    assert_eq!(places(&error), ["14:19"], "{error}");
    assert!(error.contains("`”` is a curly quote"), "{error}");
}

#[test]
fn a_missing_file_is_told_the_one_that_is_meant() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::create_dir(path.join("plans")).expect("a folder");
    for file in ["monday.ron", "notes.txt", "plans/tuesday.ron"] {
        fs::write(path.join(file), STARTER).expect("written");
    }
    for (written, meant) in [
        ("mondya.ron", "monday.ron"),
        ("monday", "monday.ron"),
        ("Monday.csv", "monday.ron"),
        ("plans/tusday.ron", "plans/tuesday.ron"),
    ] {
        let error = refused(path, written);
        let hint = format!("did you mean \"{meant}\"?");
        assert!(
            error.contains("cannot read") && error.contains(&hint),
            "{error}"
        );
    }
    for (written, words) in [
        ("week.ron", ""),
        ("plan/tuesday.ron", "there is no folder plan"),
    ] {
        let error = refused(path, written);
        assert!(
            error.contains("cannot read") && !error.contains("did you mean"),
            "{error}"
        );
        assert!(error.contains(words), "{error}");
    }
}

/// Words that people use for a field are told its name: common practice, no source.
#[test]
fn a_word_that_people_use_is_told_the_field_that_it_stands_for() {
    for (from, to, word, field) in [
        ("plants:", "money: (wage: 31), plants:", "wage", "pay_per_h"),
        ("volume_yd3: ", "yd3: ", "yd3", "volume_yd3"),
        ("report: ", "wage: 31, report: ", "wage", "pay_per_h"),
        ("report: ", "licence: B, report: ", "licence", "class"),
        ("report: ", "License: B, report: ", "License", "class"),
        ("home: ", "license: B, home: ", "license", "needs"),
    ] {
        assert!(STARTER.contains(from), "the starter has {from:?}");
        let error = told(&STARTER.replacen(from, to, 1));
        assert!(
            error.contains(&format!("unknown field `{word}`")),
            "{error}"
        );
        let hint = format!("`{word}` is called `{field}` here");
        assert!(error.contains(&hint), "{hint}: {error}");
        // The one that is meant is not missing besides.
        assert!(!error.contains("is missing"), "{error}");
        assert_eq!(places(&error).len(), 1, "{error}");
    }
    // A field's own name misspelt is told as before.
    let error = told(&STARTER.replacen("volume_yd3: ", "volme_yd3: ", 1));
    assert!(
        error.contains("a field with a similar name exists: `volume_yd3`"),
        "{error}"
    );
}
