//! What is said about the option: what was understood, what is wrong, what is doubtful.

use super::day::scenario_problems;
use super::with;
use assert_cmd::cargo::cargo_bin_cmd;
use std::fs;
use tempfile::TempDir;

fn summary(text: &str) -> String {
    let folder = TempDir::new().expect("a folder");
    fs::write(folder.path().join("day.ron"), text).expect("a file");
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder.path())
        .args(["check", "day.ron", "--summary"])
        .output()
        .expect("the program runs");
    let said = String::from_utf8(output.stdout).expect("output is UTF-8");
    // Wrapped lines made whole again.
    said.replace("\n  ", " ")
}

#[track_caller]
fn says(concrete: &str, sentence: &str) {
    let said = summary(&with(concrete));
    assert!(said.contains(sentence), "{sentence:?} is not in\n{said}");
}

#[test]
fn the_summary_says_what_is_reused() {
    says(
        "age_limit_min: 90, reuse: ()",
        "Concrete: at most 90 min from batching to the end of unloading; what comes back is reused under the truck's next load if \
         that is of the same mix, up to 45 min old and 50% of that load, where the purchaser permits it\n",
    );
    let nothing = summary(&with("age_limit_min: 90"));
    assert!(!nothing.contains("reused"), "{nothing}");
    assert!(nothing.contains("nothing found"), "{nothing}");
}

#[test]
fn values_that_cannot_be() {
    let wrong = |concrete: &str, problem: &str| {
        let said = scenario_problems(&with(concrete));
        assert_eq!(said.trim_end(), format!("test:5:{problem}"));
    };
    wrong(
        "reuse: (age_limit_min: 0)",
        "60: 0 is out of range (expected minutes, more than 0, at most 1,440)",
    );
    wrong(
        "reuse: (share: 1)",
        "52: 1 is out of range (expected share of the next load, more than 0, at most 0.9)",
    );
    wrong(
        "reuse: (age_limit_mins: 45)",
        "45: unknown field `age_limit_mins` in a reuse block (expected a field of a reuse block)",
    );
}

/// From batching to the end of discharge a load takes 6 + 4 + 20 + 10 = 40 min on the empty road: on concrete of 51 min it is 91.
#[test]
fn limits_that_do_not_fit_together_are_doubted() {
    says(
        "age_limit_min: 90, reuse: (age_limit_min: 90)",
        "- Returned concrete is reused up to 90 min old, and the age limit of the load on top of it is 90 min: such a load is turned \
         away on site\n",
    );
    says(
        "age_limit_min: 90, reuse: (age_limit_min: 51)",
        "- Returned concrete is reused up to 51 min old, and the quickest load takes 40 min from batching to the end of unloading on \
         the empty road: more than the age limit of 90 min together\n",
    );
    let fits = summary(&with("age_limit_min: 90, reuse: (age_limit_min: 50)"));
    assert!(fits.contains("nothing found"), "{fits}");
    let text = with("reuse: ()").replace("returned: 1, ", "");
    let said = summary(&text);
    assert!(
        said.contains(
            "- Returned concrete is reused, and none comes back without `returned` in `changes`\n"
        ),
        "{said}"
    );
}
