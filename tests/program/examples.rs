//! Every command that the README, `--help` and `plantday help TOPIC` show is run as it is written there, parsed out of the text that
//! people read, beside the shipped scenarios. It ends as documented: with 0, or with 1 where the text says what 1 means.
//!
//! A shell does what a test does not: what is written behind `>`, `#` or `&&` is left out, a line that ends with `\` goes on, `~` is the
//! folder of the test, and what a scheduler tells a task is that of the third of sixteen.

use crate::from_tables::{MINUTES, ORDERS, ROSTER};
use crate::tickets::KNOWN;
use assert_cmd::cargo::cargo_bin_cmd;
use rust_xlsxwriter::Workbook;
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const README: &str = include_str!("../../README.md");

/// Commands that take longer than about five seconds as written get fewer runs here, and nothing else is written otherwise. The first
/// whose words a command has; a count that the command has itself is replaced.
const FEWER: [(&str, &str); 18] = [
    ("compare --until-sure", "-n 4 --max-replications 50"),
    ("compare --precision", "-n 4 --max-replications 8"),
    ("compare scenarios/estuary_day.ron", "-n 200"),
    ("compare scenarios/yard_study.ron", "-n 40"),
    ("compare --part", "-n 16"),
    ("compare", "-n 10"),
    ("replay --tomorrow", "-n 10"),
    ("replay --worst", "-n 60"),
    ("causes", "-n 3"),
    ("habits", "-n 3"),
    ("best", "-n 2 --search 2"),
    ("holds --assume", "-n 2 --outer 4"),
    ("holds", "-n 2"),
    ("tune", "-n 5 --search 5"),
    ("fleet", "-n 60"),
    ("staff scenarios/growing_book.ron", "-n 10"),
    ("staff", "-n 5"),
    ("verify", "--family statistics"),
];

/// What a word in capitals stands for, by command.
const STANDS_FOR: [(&str, &str, &str); 15] = [
    ("new", "FILE", "mine.ron"),
    ("check", "FILE", "mine.ron"),
    ("sources", "FILE", "mine.ron"),
    ("tickets", "FILE", "june.csv"),
    ("tickets", "SCENARIO", "mine.ron"),
    ("replay", "SCENARIO", "mine.ron"),
    ("replay", "FILE", "again.csv"),
    ("hours", "LOG.csv", "scenarios/duty_log.csv"),
    ("hours", "NAME", "us_property_2020"),
    ("help", "DECISION", "choose"),
    ("help", "BLOCK", "orders"),
    ("help", "FIELD", "orders.outlets"),
    ("tune", "NAME", "Empty road, lend on call"),
    ("tune", "PARAMETER=V,V", "early_min=0,10"),
    ("man", "DIR", "pages"),
];

/// One command as it is written: its words after `plantday`.
type Written = Vec<String>;

fn said(arguments: &[&str]) -> String {
    let mut command = cargo_bin_cmd!("plantday");
    let output = command.args(arguments).output().expect("the program runs");
    assert!(output.status.success(), "{arguments:?}");
    String::from_utf8(output.stdout).expect("output is UTF-8")
}

/// Names at the beginning of the lines of a list below a heading.
fn listed(text: &str, heading: &str) -> Vec<String> {
    let (_, list) = text.split_once(heading).expect(heading);
    let lines = list.lines().skip(1).take_while(|line| !line.is_empty());
    let entries = lines.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = entries.filter_map(|line| line.split_whitespace().next());
    names.map(str::to_owned).collect()
}

/// The words of a line that a shell would take as arguments.
fn words(line: &str) -> Written {
    let (mut words, mut word, mut quoted) = (Vec::new(), None, false);
    for letter in line.chars() {
        match letter {
            '"' => {
                quoted = !quoted;
                word.get_or_insert_with(String::new);
            }
            '#' | '>' | '&' if !quoted && word.is_none() => break,
            '\\' if !quoted => {}
            ' ' if !quoted => words.extend(word.take()),
            other => word.get_or_insert_with(String::new).push(other),
        }
    }
    assert!(!quoted, "a quotation mark is missing: {line}");
    words.extend(word);
    words
}

/// Lines with a command each: a line of its own that begins with `plantday`, with what was wrapped to the lines below it.
fn command_lines(text: &str) -> Vec<Written> {
    let mut lines: Vec<String> = Vec::new();
    let mut goes_on = false;
    for line in text.lines() {
        let trimmed = line.trim();
        match trimmed.strip_prefix("plantday ") {
            Some(command) if line.starts_with("  ") => {
                // In a list of commands, what each tells stands in a column of its own.
                let (command, column) = command.split_once("   ").unwrap_or((command, ""));
                lines.push(command.to_owned());
                goes_on = column.is_empty();
            }
            _ if goes_on && line.starts_with("  ") && !trimmed.is_empty() => {
                let last = lines.last_mut().expect("it goes on");
                *last += " ";
                *last += trimmed;
            }
            _ => goes_on = false,
        }
    }
    lines.iter().map(|line| words(line)).collect()
}

/// Whether a word in a sentence is still part of the command before it.
fn belongs(word: &str, before: &str, command: &str) -> bool {
    let capitals = word.len() > 1
        && word.chars().all(|letter| !letter.is_lowercase())
        && word.starts_with(char::is_uppercase);
    let file = word
        .trim_end_matches(['.', ',', ';', ':', ')', '"'])
        .rsplit_once('.')
        .is_some_and(|(_, end)| matches!(end, "ron" | "csv" | "xlsx"));
    let value = before.starts_with('-')
        && (word.starts_with(|first: char| first.is_ascii_digit()) || word.contains('='));
    let topic = command == "help" && before == "help" && word.starts_with(char::is_lowercase);
    word.starts_with("--") || word.starts_with('"') || capitals || file || value || topic
}

/// Commands in the midst of sentences, as far as their arguments go; those without any only name a command.
fn in_sentences(text: &str, commands: &[String]) -> Vec<Written> {
    let text = text.split_whitespace().collect::<Vec<_>>();
    let mut found = Vec::new();
    for (at, pair) in text.windows(2).enumerate() {
        let [plantday, name] = pair else { continue };
        if plantday.trim_start_matches(['"', '(', '`']) != "plantday"
            || !commands.iter().any(|known| known == name)
        {
            continue;
        }
        let (mut command, mut open) = (vec![(*name).to_owned()], false);
        for word in &text[at + 2..] {
            let before = command.last().expect("its name");
            if !open && !belongs(word, before, name) {
                break;
            }
            let bare = word.trim_end_matches(['.', ',', ';', ':', ')', '"', '`']);
            let ends_quote = word.trim_end_matches(['.', ',']).ends_with('"');
            if open {
                let last = command.last_mut().expect("it is open");
                *last += " ";
                *last += word.split('"').next().unwrap_or_default();
                open = !ends_quote;
            } else if let Some(begun) = word.strip_prefix('"') {
                command.push(begun.split('"').next().unwrap_or_default().to_owned());
                open = !begun.contains('"');
            } else {
                command.push(bare.to_owned());
            }
            if !open
                && word.len() > bare.len()
                && !(word.starts_with('"') || word.ends_with('"') && word.contains(")\""))
            {
                break;
            }
        }
        assert!(!open, "a quotation mark is missing: {command:?}");
        if command.len() > 1 {
            found.push(command);
        }
    }
    found
}

fn has_words(command: &[String], words: &str) -> bool {
    words
        .split(' ')
        .all(|word| command.iter().any(|other| other == word))
}

/// The arguments with which a command is run, and whether the program runs it just as it is written.
fn arguments(written: &[String], folder: &Path) -> (Written, bool) {
    let home = format!("{}/", folder.display());
    let name = &written[0];
    let meant = |word: &String| {
        let stands = STANDS_FOR
            .iter()
            .find(|(command, capitals, _)| name == command && word == capitals);
        let told = |word: &str| {
            let word = word.replace("$SLURM_ARRAY_TASK_ID", "3");
            word.replace("$SLURM_CPUS_PER_TASK", "2")
        };
        stands.map_or_else(
            || told(&word.replace("~/", &home)),
            |(_, _, what)| (*what).to_owned(),
        )
    };
    let mut arguments: Written = written.iter().map(meant).collect();
    if arguments.iter().any(|word| word == "--help") {
        return (arguments, true);
    }
    let Some((_, fewer)) = FEWER.iter().find(|(of, _)| has_words(written, of)) else {
        return (arguments, true);
    };
    let replaced = |word: &str| {
        let options = fewer.split(' ').filter(|word| word.starts_with('-'));
        options.into_iter().any(|option| option == word) || word == "--replications"
    };
    while let Some(at) = arguments.iter().position(|word| replaced(word)) {
        arguments.drain(at..at + 2);
    }
    arguments.extend(fewer.split(' ').map(str::to_owned));
    (arguments, false)
}

/// A folder with the shipped scenarios and the files that a text speaks of, but for what its own commands write.
fn folder(commands: &[Written]) -> TempDir {
    let folder = TempDir::new().expect("a folder");
    let at = folder.path();
    let shipped = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    copy(&shipped, &at.join("scenarios"));
    let made = commands.iter().any(|command| command[0] == "new");
    let of_tickets = commands.iter().any(|command| command[0] == "tickets");
    if !made {
        let text = if of_tickets {
            KNOWN
        } else {
            include_str!("../../scenarios/starter.ron")
        };
        fs::write(at.join("mine.ron"), text).expect("written");
    }
    if of_tickets {
        let mut command = cargo_bin_cmd!("plantday");
        let replay =
            "replay mine.ron --replication 0 -n 1 --out r --tickets june.csv --ticket-runs 6";
        let output = command
            .current_dir(at)
            .args(replay.split(' '))
            .output()
            .expect("it runs");
        assert!(
            output.status.success(),
            "{}",
            String::from_utf8_lossy(&output.stderr)
        );
        let tickets = fs::read_to_string(at.join("june.csv")).expect("tickets");
        workbook(&at.join("june.xlsx"), &tickets);
    }
    if commands.iter().any(|command| command[0] == "join") && commands.len() == 1 {
        let mut command = cargo_bin_cmd!("plantday");
        let part = "compare mine.ron -n 10 --part 1/1 --out parts";
        let output = command.current_dir(at).args(part.split(' ')).output();
        assert!(output.expect("it runs").status.success());
    }
    fs::write(at.join("orders.csv"), ORDERS).expect("written");
    fs::write(at.join("roster.csv"), ROSTER).expect("written");
    workbook(&at.join("minutes.xlsx"), MINUTES);
    folder
}

/// A folder with all that is in it.
fn copy(from: &Path, to: &Path) {
    fs::create_dir(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder") {
        let path = entry.expect("an entry").path();
        let at = to.join(path.file_name().expect("a name"));
        if path.is_dir() {
            copy(&path, &at);
        } else {
            fs::copy(&path, at).expect("copied");
        }
    }
}

/// A table of text as the only sheet of a workbook.
fn workbook(path: &Path, table: &str) {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (row, line) in table.lines().enumerate() {
        for (column, cell) in line.split(',').enumerate() {
            sheet
                .write_string(row as u32, column as u16, cell.trim_matches('"'))
                .expect("a cell");
        }
    }
    book.save(path).expect("a file");
}

/// Runs the commands of a text one after the other; what of them does not end as it should. `promised`: what runs just as it is written
/// ends with 0, whatever 1 would mean.
fn faults(commands: &[Written], promised: bool) -> Vec<String> {
    let folder = folder(commands);
    let mut faults = Vec::new();
    for written in commands {
        let (arguments, as_written) = arguments(written, folder.path());
        let mut command = cargo_bin_cmd!("plantday");
        let command = command
            .current_dir(folder.path())
            .env("HOME", folder.path())
            .args(&arguments);
        let output = command.output().expect("the program runs");
        let told = ["--help", "tickets"].map(|more| match more {
            "tickets" if written[0] == more => said(&["help", "tickets"]),
            "--help" if written[0] != "help" => said(&[&written[0], more]),
            _ => String::new(),
        });
        let may_fail =
            told.iter().any(|text| text.contains("Exit code 1")) && !(promised && as_written);
        let fine = match output.status.code() {
            Some(0) => true,
            Some(1) => may_fail,
            _ => false,
        };
        // Some write files alone, and say where on standard error.
        if !fine || output.stdout.is_empty() && output.stderr.is_empty() {
            let error = String::from_utf8_lossy(&output.stderr);
            faults.push(format!(
                "{arguments:?} ended with {:?}: {error}",
                output.status.code()
            ));
        }
    }
    faults
}

fn none(faults: Vec<String>) {
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn those_of_the_readme() {
    let blocks = README.split("```console\n").skip(1);
    let lines = blocks.flat_map(|block| block.split("```").next().expect("an end").lines());
    let commands: Vec<Written> = lines
        .filter(|line| *line != "$ cargo test --release               # every check")
        .filter(|line| !line.starts_with("# "))
        .map(|line| {
            let plantday = ["$ plantday ", "$ cargo run --release -- "];
            let command = plantday.iter().find_map(|shell| line.strip_prefix(shell));
            words(command.unwrap_or_else(|| panic!("what is {line:?}?")))
        })
        .collect();
    assert!(commands.len() >= 20, "{commands:?}");
    // Apart from each other they take half the time.
    let half = commands
        .iter()
        .position(|command| command[0] == "habits")
        .expect("there is one");
    let [one, other] = std::thread::scope(|scope| {
        let parts = [&commands[..half], &commands[half..]];
        let runs = parts.map(|part| scope.spawn(move || faults(part, true)));
        runs.map(|run| run.join().expect("it runs"))
    });
    none([one, other].concat());
}

#[test]
fn those_of_the_help_of_every_command() {
    let commands = listed(&said(&["--help"]), "Commands:");
    assert!(commands.len() >= 18, "{commands:?}");
    let mut examples = 0;
    for command in &commands {
        let help = said(&[command, "--help"]);
        let written = command_lines(&help);
        examples += written.len();
        assert_eq!(written.is_empty(), !help.contains("Example"), "{help}");
        assert!(
            written.iter().all(|example| example[0] == *command),
            "{written:?}"
        );
        none(faults(&written, false));
    }
    assert!(examples >= 20, "{examples}");
}

#[test]
fn those_of_the_topics_of_help() {
    let commands = listed(&said(&["--help"]), "Commands:");
    let topics = listed(&said(&["help"]), "Topics");
    assert!(topics.len() >= 10, "{topics:?}");
    let mut all: Vec<Written> = Vec::new();
    for topic in &topics {
        let text = said(&["help", topic]);
        let mut written = command_lines(&text);
        let sentences = text.lines().filter(|line| {
            !line.trim_start().starts_with("plantday ") || !line.starts_with("    ")
        });
        for command in in_sentences(&sentences.collect::<Vec<_>>().join("\n"), &commands) {
            if !written.contains(&command) {
                written.push(command);
            }
        }
        none(faults(&written, false));
        all.extend(written);
    }
    assert!(all.len() >= 25, "{all:?}");
    // What stands in the midst of a sentence, in quotation marks of its own or with spreads as values, is found whole.
    for whole in [
        "holds|--assume|misread=Uniform(0.01, 0.04)|--assume|traffic=Triangular(0.9, 1, 1.3)",
        "hours|LOG.csv|--rule-book|NAME",
        "compare|--precision|200",
        "help|rules|DECISION",
    ] {
        assert!(
            all.iter().any(|command| command.join("|") == whole),
            "{whole}: {all:?}"
        );
    }
}
