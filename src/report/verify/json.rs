//! The study's own part of the JSON.

use crate::report::answer::Answer;
use crate::studies::verify::{FALSE_ALARM, Verified};

/// ```text
/// {"checks", "agree", "all_agree", "thorough", "seed", "confidence_of_each_interval", "chance_of_a_false_alarm"}
/// ```
pub(super) fn own(answer: &mut Answer, found: &Verified) {
    answer.own("checks", found.checks.len());
    answer.own("agree", found.agreeing());
    answer.own("all_agree", found.all_agree());
    answer.own("thorough", found.question.thorough);
    answer.own("seed", found.question.seed);
    answer.own("confidence_of_each_interval", found.level);
    answer.own("chance_of_a_false_alarm", found.level.map(|_| FALSE_ALARM));
}
