//! `plantday man`: a page for each command, which says of it what `--help` says, and which a reader of man pages takes.

use assert_cmd::cargo::cargo_bin_cmd;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

fn plantday(folder: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let mut command = cargo_bin_cmd!("plantday");
    let output = command.current_dir(folder).args(arguments).output();
    let output = output.expect("the program runs");
    (
        output.status.code(),
        String::from_utf8(output.stdout).expect("output is UTF-8"),
        String::from_utf8(output.stderr).expect("messages are UTF-8"),
    )
}

/// The long options that a text names.
fn options(text: &str) -> BTreeSet<&str> {
    let words = text.split(|c: char| !(c.is_ascii_lowercase() || c == '-'));
    words
        .filter(|word| word.len() > 3 && word.starts_with("--"))
        .collect()
}

/// What a reader of man pages shows, if there is one; else the page without its own marks.
fn shown(page: &Path) -> String {
    let text = fs::read_to_string(page).expect("a page");
    for (program, arguments) in [
        ("mandoc", &["-T", "utf8", "-W", "error"][..]),
        (
            "groff",
            &["-K", "utf8", "-man", "-T", "utf8", "-ww", "-P", "-cbou"],
        ),
    ] {
        let Ok(output) = Command::new(program).args(arguments).arg(page).output() else {
            continue;
        };
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(
            output.status.success() && said.is_empty(),
            "{program}: {said}"
        );
        let mut plain = String::new();
        for letter in String::from_utf8_lossy(&output.stdout).chars() {
            // Bold and underlined letters are struck over on paper.
            match letter {
                '\u{8}' => _ = plain.pop(),
                '‐' | '−' => plain.push('-'),
                letter => plain.push(letter),
            }
        }
        return plain;
    }
    let marks = ["\\fB", "\\fI", "\\fR", "\\-"];
    let bare =
        |text: String, mark: &&str| text.replace(mark, if *mark == "\\-" { "-" } else { "" });
    marks.iter().fold(text, bare)
}

#[test]
fn every_command_has_a_page_with_every_option_of_its_help() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let (code, said, error) = plantday(path, &["man", "pages"]);
    assert_eq!(code, Some(0), "{error}");
    let (_, help, _) = plantday(path, &["--help"]);
    let list = help.split("Commands:").nth(1).expect("the commands");
    let list = list.split("\n\n").next().expect("a list");
    // A command's line is indented by two blanks, what is said of it by more.
    let commands: Vec<&str> = list
        .lines()
        .filter_map(|line| line.strip_prefix("  ")?.split(' ').next())
        .filter(|word| !word.is_empty())
        .collect();
    assert!(commands.len() >= 17, "{commands:?}");
    assert!(
        said.starts_with(&format!("{} man pages", commands.len() + 1)),
        "{said}"
    );
    let mut names = vec!["plantday.1".to_owned()];
    names.extend(
        commands
            .iter()
            .map(|command| format!("plantday-{command}.1")),
    );
    names.sort();
    let entries = fs::read_dir(path.join("pages")).expect("the folder");
    let mut written: Vec<String> = entries
        .map(|entry| entry.expect("an entry").file_name())
        .map(|name| name.to_string_lossy().into_owned())
        .collect();
    written.sort();
    assert_eq!(written, names);

    let mut told = 0;
    for command in &commands {
        let page = path.join("pages").join(format!("plantday-{command}.1"));
        let text = fs::read_to_string(&page).expect("a page");
        let title = format!(
            ".TH plantday-{command} 1 \" \" \"plantday {}\"",
            env!("CARGO_PKG_VERSION")
        );
        assert!(text.contains(&title), "{text}");
        let (_, help, _) = plantday(path, &[command, "--help"]);
        let (help, shown) = (options(&help), shown(&page));
        let shown = options(&shown);
        assert!(help.is_subset(&shown), "{command}: {help:?}\n{shown:?}");
        told += help.len();
    }
    assert!(told > 100, "only {told} options");
    let first = fs::read_to_string(path.join("pages/plantday.1")).expect("a page");
    for command in &commands {
        assert!(
            first
                .replace('\\', "")
                .contains(&format!("plantday-{command}(1)"))
        );
    }
}

#[test]
fn other_pages_stay_and_older_ones_are_replaced_when_told_to() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("other.1"), "other").expect("written");
    fs::write(path.join("plantday-trip.1"), "old").expect("written");
    let (code, out, error) = plantday(path, &["man", "."]);
    assert_eq!((code, out.as_str()), (Some(2), ""));
    assert!(
        error.contains("plantday-trip.1 exists already; --force replaces it"),
        "{error}"
    );
    assert!(!path.join("plantday.1").exists(), "nothing is written then");
    assert_eq!(plantday(path, &["man", ".", "--force"]).0, Some(0));
    assert_ne!(
        fs::read(path.join("plantday-trip.1")).expect("a page"),
        b"old"
    );
    assert_eq!(fs::read(path.join("other.1")).expect("a page"), b"other");
}
