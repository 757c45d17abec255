//! An answer tells what it was made from: the program's version, the scenario's file and the checksum of its content, and nothing
//! that differs from call to call.

use assert_cmd::cargo::cargo_bin_cmd;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const STARTER: &str = include_str!("../../scenarios/starter.ron");
const WEEK: &str = include_str!("../../scenarios/estuary_week.ron");

fn fine(folder: &Path, arguments: &[&str]) -> String {
    let mut command = cargo_bin_cmd!("plantday");
    let output = command.current_dir(folder).args(arguments).output();
    let output = output.expect("the program runs");
    let error = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(0), "{arguments:?}: {error}");
    String::from_utf8(output.stdout).expect("output is UTF-8")
}

/// The checksum by another program.
#[cfg(unix)]
fn sha256sum(file: &Path) -> String {
    for (program, arguments) in [("sha256sum", &[][..]), ("shasum", &["-a", "256"])] {
        let mut command = std::process::Command::new(program);
        if let Ok(output) = command.args(arguments).arg(file).output() {
            let said = String::from_utf8(output.stdout).expect("text");
            return said.split(' ').next().expect("a checksum").to_owned();
        }
    }
    panic!("neither sha256sum nor shasum is there");
}

#[cfg(unix)]
#[test]
fn page_and_json_name_the_file_and_the_checksum_that_another_program_finds() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::create_dir(path.join("deeper")).expect("a folder");
    // A mark of the encoding and foreign letters count as the bytes that they are.
    let text = format!("\u{feff}// für heute\r\n{STARTER}");
    fs::write(path.join("my day.ron"), &text).expect("written");
    fs::write(path.join("deeper").join("my day.ron"), &text).expect("written");
    let sum = sha256sum(&path.join("my day.ron"));
    let compare = |file: &str, out: &str| {
        let arguments = ["compare", file, "-n", "2", "--json", "--out", out];
        let said: Value = serde_json::from_str(&fine(path, &arguments)).expect("JSON");
        let page = |name: &str| fs::read_to_string(path.join(out).join(name)).expect("a page");
        (said, page("report.html"), page("worst-day.html"))
    };
    let (said, page, worst) = compare("my day.ron", "one");
    let expected = json!({
        "plantday": env!("CARGO_PKG_VERSION"),
        "scenario_file": "my day.ron",
        "built_in": false,
        "sha256": sum,
    });
    assert_eq!(said["made_from"], expected);
    for page in [&page, &worst] {
        assert!(page.contains("in the file <code>my day.ron</code>"));
        assert!(page.contains(&format!("SHA-256 checksum being <code>{sum}</code>")));
        assert!(page.contains(&format!("plantday {}", env!("CARGO_PKG_VERSION"))));
    }
    // The same content in another folder, and at another time: the same bytes.
    let again = compare("deeper/my day.ron", "two");
    assert_eq!(again, (said, page.clone(), worst));
    // A letter of a comment less is another file.
    fs::write(
        path.join("my day.ron"),
        text.replacen("für heute", "für heut", 1),
    )
    .expect("written");
    let (changed, ..) = compare("my day.ron", "three");
    assert_eq!(changed["made_from"]["scenario_file"], "my day.ron");
    assert_ne!(changed["made_from"]["sha256"], sum.as_str());
}

#[cfg(unix)]
#[test]
fn the_built_in_week_says_that_it_is_built_in() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("week.ron"), WEEK).expect("written");
    let sum = sha256sum(&path.join("week.ron"));
    fine(
        path,
        &["replay", "-n", "1", "--replication", "0", "--out", "out"],
    );
    let json = fs::read_to_string(path.join("out/replay.json")).expect("the JSON");
    let json: Value = serde_json::from_str(&json).expect("JSON");
    let made = &json["made_from"];
    assert_eq!(
        (&made["built_in"], &made["scenario_file"], &made["sha256"]),
        (&json!(true), &Value::Null, &json!(sum))
    );
    let page = fs::read_to_string(path.join("out/replay.html")).expect("the page");
    assert!(page.contains("the built-in scenario") && page.contains(&sum));
}

/// An answer about no scenario tells the version alone; a file's name is text.
#[test]
fn an_answer_about_no_scenario_names_none_and_hostile_names_stay_text() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let said: Value = serde_json::from_str(&fine(path, &["sources", "--json"])).expect("JSON");
    let expected = json!({
        "plantday": env!("CARGO_PKG_VERSION"), "scenario_file": null, "built_in": null, "sha256": null,
    });
    assert_eq!(said["made_from"], expected);
    #[cfg(unix)]
    {
        let name = "<img src=x>.ron";
        fs::write(path.join(name), STARTER).expect("written");
        fine(path, &["sources", name, "--out", "out"]);
        let page = fs::read_to_string(path.join("out/report.html")).expect("the page");
        assert!(page.contains("&lt;img src=x&gt;.ron") && !page.contains("<img"));
    }
}
