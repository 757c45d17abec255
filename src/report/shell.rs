//! Commands for the reader to run again.

use super::plain_text::one_line;
use crate::scenario::Scenario;
use crate::studies::Price;

/// A name as one argument of a command line: in double quotes, or in single ones if it holds what a shell would read in
/// double quotes.
pub(crate) fn quoted(name: &str) -> String {
    let name = one_line(name);
    if name.contains(['"', '$', '`', '\\', '!']) {
        format!("'{}'", name.replace('\'', r"'\''"))
    } else {
        format!("\"{name}\"")
    }
}

/// A path or another word as one argument of a command line, quoted where it must be.
pub(crate) fn argument(word: &str) -> String {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || "./-_+,:=@%".contains(c);
    match !word.is_empty() && word.chars().all(is_plain) {
        true => word.to_owned(),
        false => quoted(word),
    }
}

/// The beginning of a command line: `FILE` stands for the scenario's file, if it has one.
pub(crate) fn command(name: &str, scenario: &Scenario) -> String {
    let file = match scenario.origin.file {
        None => "",
        Some(_) => " FILE",
    };
    format!("plantday {name}{file}")
}

/// The command that plays one replication again.
pub(super) fn replay(scenario: &Scenario, rule: &str, replication: u64, seed: u64) -> String {
    format!(
        "{} --rule {} --replication {replication} --seed {seed}",
        command("replay", scenario),
        quoted(rule)
    )
}

/// The command that changes one thing at a time on the same days.
pub(super) fn causes(
    scenario: &Scenario,
    rule: &str,
    prices: &[Price],
    (replications, seed): (u64, u64),
) -> String {
    let prices: Vec<String> = prices
        .iter()
        .map(|price| {
            let Price { of, amount, every } = price;
            format!(" --price {of}={amount}{}", every.word())
        })
        .collect();
    format!(
        "{} --rule {}{} --replications {replications} --seed {seed}",
        command("causes", scenario),
        quoted(rule),
        prices.join("")
    )
}

/// The command that takes the difference of two rules apart.
pub(super) fn habits(
    scenario: &Scenario,
    (from, to): (&str, &str),
    replications: u64,
    seed: u64,
) -> String {
    format!(
        "{} --from {} --to {} --replications {replications} --seed {seed}",
        command("habits", scenario),
        quoted(from),
        quoted(to)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// POSIX.1-2017, Shell Command Language, 2.2 Quoting.
    #[test]
    fn names_stay_one_argument() {
        assert_eq!(quoted("Nearest, by map"), "\"Nearest, by map\"");
        assert_eq!(quoted("a \"b\" $c"), "'a \"b\" $c'");
        assert_eq!(quoted("it's $5"), r"'it'\''s $5'");
    }
}
