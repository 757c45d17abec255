//! Checks against what others have published: a line for each family, every check with its source, and how far it is random.

mod json;
mod tables;

use self::tables::{Listed, checks, families};
use super::answer::{Answer, Block};
use super::number::{count, level, number};
use crate::studies::verify::{FALSE_ALARM, Family, Verified, queues};

/// The answer; `recipe` is the command that gives it again.
pub fn answer(found: &Verified, recipe: String) -> Answer {
    let mut answer = Answer::bare("verify", TITLE, decision(found), recipe);
    answer.page_title = TITLE.into();
    answer.about = "Figures of this program against what others have published".into();
    answer.headline.push(answer.about.clone());
    let asked: Vec<Family> = Family::ALL
        .into_iter()
        .filter(|family| found.of(*family).next().is_some())
        .collect();
    answer.show("By family", families(found, &asked));
    answer.say(where_from(found));
    if let Some(sentence) = luck(found) {
        answer.say(sentence);
    }
    for family in asked.iter().copied() {
        let disagree = found.of(family).any(|check| !check.agrees());
        // A screen has room for one family, and for whatever is wrong.
        let shown = asked.len() == 1 || disagree;
        let Listed { table, sources } = checks(found, family, asked.len() == 1);
        let heading = heading(family).to_owned();
        let numbered =
            |(at, (source, _)): (usize, &(String, bool))| format!("[{}] {source}", at + 1);
        if shown {
            answer.screen.push(Block::Heading(heading.clone()));
            answer.screen.push(Block::Table(table.name));
            let on_screen = sources.iter().enumerate().filter(|(_, source)| source.1);
            let notes = on_screen.map(|source| Block::Note(numbered(source)));
            answer.screen.extend(notes);
        }
        let all = sources.iter().enumerate().map(numbered).collect();
        answer.section(heading, vec![Block::Table(table.name), Block::List(all)]);
        answer.tables.push(table);
    }
    if asked.len() > 1 {
        answer.say_on_screen(
            "Every check with its source: --family NAME shows one family here, --out FOLDER and --json have all.",
        );
    }
    if !found.question.thorough {
        answer.say_on_screen(
            "--thorough makes four times the runs of every queue, and tries the clocks on random logs.",
        );
    }
    answer.notes = notes(found);
    answer.cautions = vec![CAUTION.to_owned()];
    json::own(&mut answer, found);
    answer
}

const TITLE: &str = "External checks";

/// Said on the page.
const CAUTION: &str = "A program that agrees with its sources gives no permission: the rules in force at the place and the carrier's own record decide.";

fn heading(family: Family) -> &'static str {
    match family {
        Family::Queues => "Queueing theory through whole scenarios",
        Family::Hours => "Hours-of-service rules through the clocks",
        Family::Material => "Concrete, age limits and weights",
        Family::Statistics => "Tables and procedures of statistics",
        Family::Days => "Days worked out on paper",
    }
}

/// `All 612 checks agree.`
fn decision(found: &Verified) -> String {
    let (all, agree) = (found.checks.len(), found.agreeing());
    if agree == all {
        return format!("All {} checks agree.", count(all as u64));
    }
    let families = Family::ALL.into_iter();
    let wrong: Vec<String> = families
        .filter_map(|family| {
            let wrong = found.of(family).filter(|check| !check.agrees()).count();
            (wrong > 0).then(|| format!("{wrong} of {}", family.name()))
        })
        .collect();
    format!(
        "{} of {} checks DISAGREE: {}.",
        count((all - agree) as u64),
        count(all as u64),
        wrong.join(", ")
    )
}

/// How many expected values are printed in their source, and where the others are from.
fn where_from(found: &Verified) -> String {
    let parts = tables::by_basis(found.checks.iter());
    let words = [
        "printed in the source named",
        "computed by its formula with other software",
        "worked out on paper from a rule or a day",
        "recalled from the source and not looked up again",
    ];
    let some = parts.into_iter().zip(words).filter(|(part, _)| *part > 0);
    let parts: Vec<String> = some
        .map(|(part, words)| format!("{} {words}", count(part as u64)))
        .collect();
    format!("Of the expected values: {}.", parts.join("; "))
}

/// What luck has to do with it.
fn luck(found: &Verified) -> Option<String> {
    let of_each = found.level?;
    let random = found
        .checks
        .iter()
        .filter(|check| check.is_random())
        .count();
    Some(format!(
        "{random} figures are means over random runs. They agree if their interval holds the expected value and reaches no farther than \
         {}% of it to either side. Each interval is at {}%, so that all {random} together hold in {} of 100 seeds, at least, of a program that is right; \
         with this seed the answer is always the same, and --seed takes another.",
        number(100.0 * queues::WIDEST, 2),
        level_of(of_each),
        number(100.0 * (1.0 - FALSE_ALARM), 0),
    ))
}

/// A confidence so near to certainty that one decimal would round it away.
fn level_of(confidence: f64) -> String {
    let text = number(100.0 * confidence, 3);
    match text.as_str() {
        "100.000" => level(confidence).trim_end_matches('%').to_owned(),
        _ => text,
    }
}

fn notes(found: &Verified) -> Vec<String> {
    let mut notes = vec![
        "Behind each case stands the number of its source, listed below the table.".to_owned(),
    ];
    let mut note = |text: &str| notes.push(text.to_owned());
    if found.of(Family::Queues).next().is_some() {
        note(
            "Queues are scenarios like those that users write, run by the same study as plantday compare, and judged by its figures.",
        );
    }
    if found.of(Family::Hours).next().is_some() {
        note(
            "Every hours-of-service clock is asked twice: by its definition from the whole log, and carried along as in a simulated day.",
        );
    }
    if found.question.thorough {
        note(
            "Thorough: four times the runs of every queue, and random logs of two weeks through both forms of the clocks.",
        );
    }
    note(
        "The column within of the files is how far from the expected value a figure still agrees; of a mean over random runs, how far its interval may reach.",
    );
    note(
        "That a figure agrees shows that the program does what the source says, not that a scenario describes your plant: hold it against your own tickets with plantday tickets.",
    );
    notes
}
