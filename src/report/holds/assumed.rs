//! What a rule saves where inputs are known by a spread only: one sentence, the drawn worlds, luck and assumptions apart.

mod json;
mod sentences;
mod tables;

pub(super) use json::json;

use crate::observe::Better as FigureBetter;
use crate::report::answer::{Answer, Block};
use crate::report::chart::differences::{self, Better, Difference, Differences};
use crate::report::figure::unit;
use crate::report::number::level;
use crate::report::period::{per, the_same};
use crate::report::plain_text::capital;
use crate::statistics::Interval;
use crate::studies::{DrawnWorld, Holds, UnderAssumptions};
use sentences::value_words;
use tables::{AVERAGES, DRAWN};

const HEADING: &str = "If these inputs are known by a spread only";

/// Sentences, tables and the chart.
pub(super) fn add(found: &Holds, drawn: &UnderAssumptions, to: &mut Answer) {
    let decision = sentences::decision(found, drawn);
    let rows = rows(found, drawn);
    to.tables.push(tables::averages(found, drawn, &rows));
    to.tables.push(tables::worlds(found, drawn));
    to.say(decision.clone());
    to.screen.push(Block::Heading(HEADING.into()));
    to.screen.push(Block::Table(AVERAGES));
    if let Some(sentence) = sentences::shares(found, drawn) {
        to.say(sentence);
    }
    to.screen
        .push(Block::Heading("If one thing is otherwise".into()));
    to.add_chart(
        "assumed",
        HEADING,
        decision,
        chart(found, drawn, &rows),
        AVERAGES,
    );
    to.section("", vec![Block::Table(AVERAGES)]);
    to.section("The drawn worlds", vec![Block::Table(DRAWN)]);
    to.notes.push(format!(
        "Assumptions: {} worlds are drawn from the spreads, and each is run on {}. Luck alone is the {} interval of the average over the drawn \
         worlds. Luck and assumptions together is that of the true average in one more world so drawn, which the real one is if the spreads \
         say what you know of it: two-way random effects, Student's t with Satterthwaite's degrees of freedom. It stays as wide as the \
         assumptions make it, however many runs are added.",
        drawn.worlds.len(),
        the_same(found.assumed.replications(), found.assumed.days),
        level(found.assumed.level),
    ));
}

/// A saving as a difference in the figure that rules are ranked by.
fn difference(found: &Holds, saving: f64) -> f64 {
    match found.assumed.judged_by().better {
        FigureBetter::More => saving,
        _ => -saving,
    }
}

fn difference_interval(found: &Holds, saving: Interval) -> Interval {
    match found.assumed.judged_by().better {
        FigureBetter::More => saving,
        _ => saving.negated(),
    }
}

/// A line of the table of averages and of the chart: what it is, the inputs' values, the difference.
struct Line<'a> {
    words: String,
    values: Option<&'a [f64]>,
    mean: f64,
    interval: Interval,
}

fn rows<'a>(found: &Holds, drawn: &'a UnderAssumptions) -> Vec<Line<'a>> {
    let line = |words: &str, values, saving: f64, interval| Line {
        words: words.to_owned(),
        values,
        mean: difference(found, saving),
        interval: difference_interval(found, interval),
    };
    let mut lines = Vec::new();
    if let Some(saving) = drawn.as_assumed {
        let written = Some(drawn.written.as_slice());
        lines.push(line(
            "as written",
            written,
            saving,
            drawn.as_assumed_interval,
        ));
    }
    if let Some(table) = &drawn.table {
        let (luck, both) = (
            table.luck(found.assumed.level),
            table.luck_and_worlds(found.assumed.level),
        );
        lines.push(line("drawn worlds: luck alone", None, table.mean(), luck));
        let words = "drawn worlds: both together";
        lines.push(line(words, None, table.mean(), both));
    }
    let told = drawn
        .worlds
        .iter()
        .filter_map(|world| Some((world, world.saving?)));
    let one = |words: &str, (world, saving): (&'a DrawnWorld, f64)| {
        line(words, Some(&world.values), saving, world.interval)
    };
    if let Some(worst) = told.clone().min_by(|a, b| a.1.total_cmp(&b.1)) {
        lines.push(one("worst drawn world", worst));
    }
    if let Some(best) = told.max_by(|a, b| a.1.total_cmp(&b.1)) {
        lines.push(one("best drawn world", best));
    }
    lines
}

fn chart(found: &Holds, drawn: &UnderAssumptions, lines: &[Line<'_>]) -> String {
    let assumed = &found.assumed;
    let column = assumed.judged_by();
    let rows = lines.iter().map(|line| {
        let inputs = line.values.filter(|_| line.words != "as written");
        let inputs = inputs.map_or_else(String::new, |values| {
            let each = drawn.assumptions.iter().zip(values);
            let each = each.map(|(one, value)| {
                format!("{} {}", one.input.words(), value_words(one.input, *value))
            });
            format!(": {}", each.collect::<Vec<_>>().join(", "))
        });
        Difference {
            name: capital(&format!("{}{inputs}", line.words)),
            mean: Some(line.mean),
            interval: line.interval,
            begins: None,
        }
    });
    differences::svg(&Differences {
        title: sentences::in_short(found, drawn),
        subtitle: format!(
            "\"{}\" against \"{}\"; bars: {} intervals, of luck alone but where both are named",
            assumed.rules[drawn.rule].name,
            assumed.rules[drawn.against].name,
            level(assumed.level)
        ),
        baseline: if assumed.base_is_today && drawn.against == assumed.base {
            "today".into()
        } else {
            assumed.rules[drawn.against].name.clone()
        },
        axis: format!("{} {}", column.label, per(assumed.days)),
        unit: unit(column),
        better: if column.better == FigureBetter::More {
            Better::Higher
        } else {
            Better::Lower
        },
        rows: rows.collect(),
    })
}
