//! `plantday completions`: what each shell itself makes of the script.

use assert_cmd::cargo::cargo_bin_cmd;
use std::process::Command;

fn script(shell: &str) -> String {
    let mut command = cargo_bin_cmd!("plantday");
    let output = command.args(["completions", shell]).output();
    let output = output.expect("the program runs");
    assert_eq!(output.status.code(), Some(0), "{shell}");
    String::from_utf8(output.stdout).expect("a script is text")
}

#[test]
fn every_shell_gets_a_script_that_names_commands_and_options() {
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        let script = script(shell);
        for word in ["compare", "completions", "until-sure", "rule-book"] {
            assert!(script.contains(word), "{word} for {shell}");
        }
        assert_eq!(script, self::script(shell));
    }
    let mut command = cargo_bin_cmd!("plantday");
    let output = command.args(["completions", "bsh"]).output();
    let output = output.expect("the program runs");
    let error = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2));
    assert!(error.contains("bash") && error.contains("fish"), "{error}");
}

/// The shell itself completes: a command, an option of it, and the choices of that.
#[cfg(unix)]
#[test]
fn bash_completes_a_command_an_option_and_its_choices() {
    let complete = |words: &[&str]| {
        let last = words.len() - 1;
        let ask = format!(
            "{}\nCOMP_WORDS=({}); COMP_CWORD={last}; _plantday plantday '{}' '{}'; echo \"${{COMPREPLY[*]}}\"",
            script("bash"),
            words.join(" "),
            words[last],
            words[last - 1],
        );
        let output = Command::new("bash").args(["-c", &ask]).output();
        let output = output.expect("bash runs");
        let error = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success() && error.is_empty(), "{error}");
        String::from_utf8(output.stdout)
            .expect("text")
            .trim()
            .to_owned()
    };
    assert_eq!(complete(&["plantday", "comp"]), "compare completions");
    assert_eq!(
        complete(&["plantday", "compare", "--until"]),
        "--until-sure"
    );
    assert_eq!(
        complete(&["plantday", "replay", "--worst", "stra"]),
        "strandings"
    );
    let mut parses = Command::new("bash");
    let parses = parses.args(["-n", "-c", &script("bash")]).output();
    let parses = parses.expect("bash runs");
    assert!(parses.status.success() && parses.stderr.is_empty());
}
