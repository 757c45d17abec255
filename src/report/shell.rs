//! Commands for the reader to run again.

use super::plain_text::one_line;

/// A name as one argument of a command line: in double quotes, or in single ones if it holds what a shell would read in
/// double quotes.
pub(super) fn quoted(name: &str) -> String {
    let name = one_line(name);
    if name.contains(['"', '$', '`', '\\', '!']) {
        format!("'{}'", name.replace('\'', r"'\''"))
    } else {
        format!("\"{name}\"")
    }
}

/// The command that plays one replication again.
pub(super) fn replay(rule: &str, replication: u64, seed: u64) -> String {
    format!(
        "plantday replay FILE --rule {} --replication {replication} --seed {seed}",
        quoted(rule)
    )
}

/// The command that changes one thing at a time on the same days.
pub(super) fn causes(rule: &str, replications: u64, seed: u64) -> String {
    format!(
        "plantday causes FILE --rule {} --replications {replications} --seed {seed}",
        quoted(rule)
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
