//! What a rule saves where inputs are known by a spread only: one sentence, the drawn worlds, luck and assumptions apart.

use crate::engine::Spread;
use crate::observe::Better as FigureBetter;
use crate::report::answer::{Answer, Block, Cell, Column, Form, Part, Table};
use crate::report::chart::differences::{self, Better, Difference, Differences};
use crate::report::compare::{ends, gained, listed};
use crate::report::figure::unit;
use crate::report::number::{Unit, level, number};
use crate::report::period::{noun, per, the_same};
use crate::scenario::assume::Assumption;
use crate::scenario::{Input, InputKind};
use crate::statistics::Interval;
use crate::studies::{DrawnWorld, Holds, UnderAssumptions};
use serde_json::{Value, json};

/// The name of the table of averages.
const AVERAGES: &str = "assumed_averages";
/// The name of the table of drawn worlds.
const DRAWN: &str = "assumed";
/// Drawn worlds that a page shows.
const PAGE: usize = 40;

const HEADING: &str = "If these inputs are known by a spread only";

/// Sentences, tables and the chart.
pub(super) fn add(found: &Holds, drawn: &UnderAssumptions, to: &mut Answer) {
    let decision = decision(found, drawn);
    let rows = rows(found, drawn);
    to.tables.push(averages(found, drawn, &rows));
    to.tables.push(worlds(found, drawn));
    to.say(decision.clone());
    to.screen.push(Block::Heading(HEADING.into()));
    to.screen.push(Block::Table(AVERAGES));
    if let Some(sentence) = shares(found, drawn) {
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

/// `With loads misread between 1% and 4%: "X" saves $… a week against today's "Y" ($… to $…, luck and assumptions together; luck alone
/// $… to $…); it saves in 19 of 20 drawn worlds.`
fn decision(found: &Holds, drawn: &UnderAssumptions) -> String {
    let assumed = &found.assumed;
    let with = format!("With {}", all_known(&drawn.assumptions));
    let rule = &assumed.rules[drawn.rule].name;
    let Some(table) = &drawn.table else {
        return format!("{with}: too few drawn worlds or runs to tell what \"{rule}\" saves.");
    };
    let todays = if assumed.base_is_today && drawn.against == assumed.base {
        "today's "
    } else {
        ""
    };
    let against = &assumed.rules[drawn.against].name;
    let mean = difference(found, table.mean());
    let both = difference_interval(found, table.luck_and_worlds(assumed.level));
    let luck = difference_interval(found, table.luck(assumed.level));
    let column = assumed.judged_by();
    let (saves, of) = (drawn.saves(), drawn.worlds.len());
    let in_all = match saves == of {
        true => format!("in all {of} drawn worlds"),
        false => format!("in {saves} of {of} drawn worlds"),
    };
    let better = match unit(column) {
        Unit::Money if column.better != FigureBetter::More => "saves",
        _ => "is better",
    };
    let barred = match drawn.barred() {
        0 => String::new(),
        1 => "; in one it could not be recommended".into(),
        many => format!("; in {many} it could not be recommended"),
    };
    format!(
        "{with}: \"{rule}\" {} against {todays}\"{against}\" ({}, luck and assumptions together; luck alone {}); it {better} {in_all}{barred}.",
        gained(column, mean, both, assumed.days),
        ends(column, mean, both),
        ends(column, mean, luck),
    )
}

/// Each by [`known`], and once of what the times are.
fn all_known(assumptions: &[Assumption]) -> String {
    let mut each: Vec<String> = assumptions.iter().map(known).collect();
    let times = |one: &Assumption| one.input.kind() == InputKind::Times;
    if let Some(last) = assumptions.iter().rposition(times) {
        each[last] += " what is written";
    }
    listed(&each, "and")
}

/// `"X" saves $… a week ($… to $…, luck and assumptions together)`
fn in_short(found: &Holds, drawn: &UnderAssumptions) -> String {
    let rule = &found.assumed.rules[drawn.rule].name;
    let Some(table) = &drawn.table else {
        return format!("What \"{rule}\" saves cannot be told");
    };
    let mean = difference(found, table.mean());
    let both = difference_interval(found, table.luck_and_worlds(found.assumed.level));
    let column = found.assumed.judged_by();
    format!(
        "\"{rule}\" {} ({}, luck and assumptions together)",
        gained(column, mean, both, found.assumed.days),
        ends(column, mean, both)
    )
}

/// `loads misread between 1% and 4%`; of a spread without ends, nine in ten of its values.
fn known(one: &Assumption) -> String {
    let words = one.input.words();
    let show = |value: f64| value_words(one.input, value);
    let sampler = one.spread.sampler();
    let without_ends = matches!(
        one.spread,
        Spread::Normal { .. }
            | Spread::Lognormal { .. }
            | Spread::Gamma { .. }
            | Spread::Exponential { .. }
            | Spread::Weibull { .. }
    );
    let (mostly, [low, high]) = match without_ends {
        true => ("mostly ", [0.05, 0.95].map(|share| sampler.at(share))),
        false => ("", [0.0, 1.0].map(|share| sampler.at(share))),
    };
    let of = match one.input.kind() {
        InputKind::Times => " times",
        InputKind::Share | InputKind::Minutes => "",
    };
    if low == high {
        return format!("{words} at {}{of}", show(low));
    }
    format!(
        "{words} {mostly}between {} and {}{of}",
        show(low),
        show(high)
    )
}

/// `4%`, `1.15`, `60 min`.
fn value_words(input: Input, value: f64) -> String {
    let trimmed = |text: String| match text.contains('.') {
        true => text.trim_end_matches('0').trim_end_matches('.').to_owned(),
        false => text,
    };
    match input.kind() {
        InputKind::Times => trimmed(number(value, 2)),
        InputKind::Share => format!("{}%", trimmed(number(value * 100.0, 1))),
        InputKind::Minutes => format!("{} min", trimmed(number(value, 1))),
    }
}

/// Where the uncertainty comes from, and what more runs would do.
fn shares(found: &Holds, drawn: &UnderAssumptions) -> Option<String> {
    let table = drawn.table.as_ref()?;
    let percent = |share: f64| Unit::Share.show(share, 0);
    let Some(share) = table.share_of_worlds() else {
        return Some("Neither luck nor the assumptions change it.".into());
    };
    let advice = match share {
        _ if share > 0.5 => "more runs would narrow it little; knowing these inputs better would",
        _ => "more runs would narrow it",
    };
    let not_shown = match table.luck_and_worlds(found.assumed.level).excludes_zero() {
        true => "",
        false => "Luck and assumptions together, it is not shown which of the two is better. ",
    };
    let one = table.share_of_worlds_in_one().unwrap_or_default();
    Some(format!(
        "{not_shown}Of that uncertainty {} comes from the assumptions and {} from the luck of the days: {advice}. Of how single {}s differ, \
         the assumptions make {}.",
        percent(share),
        percent(1.0 - share),
        noun(found.assumed.days),
        percent(one),
    ))
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

/// `against today's a week`.
fn heading(found: &Holds, drawn: &UnderAssumptions) -> String {
    let assumed = &found.assumed;
    let against = if assumed.base_is_today && drawn.against == assumed.base {
        "today's".to_owned()
    } else {
        format!("\"{}\"", assumed.rules[drawn.against].name)
    };
    format!("against {against} {}", per(assumed.days))
}

fn input_columns(drawn: &UnderAssumptions) -> impl Iterator<Item = Column> + '_ {
    drawn.assumptions.iter().map(|one| {
        let words = match one.input.kind() {
            InputKind::Times => format!("{}, times", one.input.words()),
            InputKind::Share | InputKind::Minutes => one.input.words().to_owned(),
        };
        Column::new(words)
            .brief(one.input.name().replace('_', " "))
            .key(one.input.name())
    })
}

fn input_cells<'a>(
    drawn: &'a UnderAssumptions,
    values: Option<&'a [f64]>,
) -> impl Iterator<Item = Cell> + 'a {
    drawn.assumptions.iter().enumerate().map(move |(at, one)| {
        values.map_or(Cell::Blank, |values| {
            Cell::worded(value_words(one.input, values[at]), Some(values[at]))
        })
    })
}

fn estimate(found: &Holds, mean: Option<f64>, interval: Interval) -> Cell {
    let unit = unit(found.assumed.judged_by());
    Cell::Estimate {
        value: mean,
        interval,
        at_least: None,
        form: Form::new(unit, unit.decimals(interval.half_width())).signed(),
    }
}

/// As written, on average over the drawn worlds, and the two at the ends.
fn averages(found: &Holds, drawn: &UnderAssumptions, lines: &[Line<'_>]) -> Table {
    let mut columns = vec![Column::new("").left().key("what")];
    columns.extend(input_columns(drawn));
    columns.push(
        Column::new(heading(found, drawn))
            .key("difference")
            .part("low", Part::Low)
            .part("high", Part::High),
    );
    let mut table = Table::new(AVERAGES, columns);
    for line in lines {
        let mut cells = vec![Cell::from(line.words.as_str())];
        cells.extend(input_cells(drawn, line.values));
        cells.push(estimate(found, Some(line.mean), line.interval));
        table.row(cells);
    }
    table
}

/// One line for each drawn world. What is saved stands in files: above zero is better.
fn worlds(found: &Holds, drawn: &UnderAssumptions) -> Table {
    let mut columns = vec![Column::new("world").key("drawn")];
    columns.extend(input_columns(drawn));
    columns.extend([
        Column::file("saving"),
        Column::new(heading(found, drawn))
            .key("difference")
            .part("low", Part::Low)
            .part("high", Part::High),
        Column::new("the rule").left().key("standing"),
    ]);
    let mut table = Table::new(DRAWN, columns);
    for (nth, world) in drawn.worlds.iter().enumerate() {
        let mut cells = vec![Cell::count(nth as u64 + 1)];
        cells.extend(input_cells(drawn, Some(&world.values)));
        let mean = world.saving.map(|saving| difference(found, saving));
        cells.extend([
            Cell::from(world.saving),
            estimate(found, mean, difference_interval(found, world.interval)),
            standing(world).into(),
        ]);
        table.row(cells).page(nth < PAGE).screen(false);
    }
    table
}

/// How the rule stands in a drawn world beside the one that it is set against.
fn standing(world: &DrawnWorld) -> &'static str {
    match world {
        DrawnWorld {
            barred: Some(_), ..
        } => "could not be recommended",
        world if world.interval.low > 0.0 => "better",
        world if world.interval.high < 0.0 => "worse",
        _ => "not told apart",
    }
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
            name: crate::report::plain_text::capital(&format!("{}{inputs}", line.words)),
            mean: Some(line.mean),
            interval: line.interval,
            begins: None,
        }
    });
    differences::svg(&Differences {
        title: in_short(found, drawn),
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

/// What the JSON has of it; savings are above zero where the rule is better:
///
/// ```text
/// {"inputs": [{"input", "words", "spread", "written"}], "against", "asked", "saving", "low", "high", "luck_low", "luck_high",
///  "share_from_assumptions", "share_from_assumptions_in_one", "var_assumptions", "var_luck", "var_rest",   // variances of one replication
///  "saves_in", "shown_to_lose_in", "barred_in", "worlds": [{"values", "saving", "low", "high", "standing"}]}
/// ```
pub(super) fn json(found: &Holds, drawn: &UnderAssumptions) -> Value {
    let finite = |interval: Interval| interval.is_bounded().then_some(interval);
    let table = drawn.table.as_ref();
    let level = found.assumed.level;
    let both = table.and_then(|table| finite(table.luck_and_worlds(level)));
    let luck = table.and_then(|table| finite(table.luck(level)));
    let inputs = drawn.assumptions.iter().zip(&drawn.written);
    let inputs = inputs.map(|(one, written)| {
        json!({
            "input": one.input.name(),
            "words": one.input.words(),
            "spread": one.text,
            "written": written,
        })
    });
    let worlds = drawn.worlds.iter().map(|world| {
        let sure = finite(world.interval);
        json!({
            "values": world.values,
            "saving": world.saving,
            "low": sure.map(|i| i.low),
            "high": sure.map(|i| i.high),
            "standing": standing(world),
        })
    });
    json!({
        "inputs": inputs.collect::<Vec<_>>(),
        "against": found.assumed.rules[drawn.against].name,
        "asked": drawn.asked,
        "saving": table.map(|table| table.mean()),
        "low": both.map(|i| i.low),
        "high": both.map(|i| i.high),
        "luck_low": luck.map(|i| i.low),
        "luck_high": luck.map(|i| i.high),
        "share_from_assumptions": table.and_then(|table| table.share_of_worlds()),
        "share_from_assumptions_in_one": table.and_then(|table| table.share_of_worlds_in_one()),
        "var_assumptions": table.map(|table| table.var_worlds()),
        "var_luck": table.map(|table| table.var_replications()),
        "var_rest": table.map(|table| table.var_rest()),
        "saves_in": drawn.saves(),
        "shown_to_lose_in": drawn.shown_to_lose(),
        "barred_in": drawn.barred(),
        "worlds": worlds.collect::<Vec<_>>(),
    })
}
