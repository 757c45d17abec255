//! Where every default of a scenario comes from, and in a scenario whose value holds.

use super::answer::{Answer, Block, Cell, Column, Section, Table};
use super::assumptions::CAUTIONS;
use super::number::{Unit, money, number};
use crate::engine::Spread;
use crate::scenario::Scenario;
use crate::scenario::defaults::{self, About, Entry, Mark, Source, Value, Whose};
use crate::units::measure::{self, Measures};

/// The parts of a scenario, by the first name of a path: table on the page, heading, blocks.
const PARTS: [(&str, &str, &[&str]); 7] = [
    (
        "company",
        "Company, plant yards and what changes from day to day",
        &["scenario", "rule_book", "company", "yard", "changes"],
    ),
    ("plants", "Plants", &["plants"]),
    ("roads", "Roads", &["roads"]),
    (
        "fleet",
        "Trucks and drivers",
        &["trucks", "drivers", "weighing"],
    ),
    ("orders", "Orders and sites", &["orders", "sites"]),
    ("concrete", "Concrete", &["concrete"]),
    ("money", "Money", &["money"]),
];

/// All defaults; with a scenario, what holds in it.
pub fn answer(scenario: Option<&Scenario>, recipe: String) -> Answer {
    let _spoken = measure::speak(scenario.map_or(Measures::US, |scenario| scenario.measures));
    let rows: Vec<Row> = defaults::all()
        .map(|entry| Row::of(entry, scenario))
        .collect();
    let title = scenario.map_or("Defaults of a scenario", |scenario| &scenario.name);
    let mut answer = Answer::bare(
        "sources",
        title,
        decision(&rows, scenario.is_some()),
        recipe,
    );
    answer.about =
        "What stands where a scenario leaves a field out, and where it comes from".into();
    answer.cautions = CAUTIONS.map(str::to_owned).to_vec();
    answer.origin = scenario.map(|scenario| scenario.origin.clone());
    answer.notes = notes(scenario.is_some());
    for (name, heading, blocks) in PARTS {
        let here = |row: &&Row| blocks.contains(&row.part()) && row.is_shown();
        let shown: Vec<&Row> = rows.iter().filter(here).collect();
        if shown.is_empty() {
            continue;
        }
        answer.screen.push(Block::Heading(heading.into()));
        let lines = shown.iter().map(|row| row.line());
        answer.screen.push(Block::List(lines.collect()));
        let table = looked_at(name, &shown, scenario.is_some());
        let blocks = vec![Block::Table(table.name)];
        answer.sections.push(Section::new(heading, blocks));
        answer.tables.push(table);
    }
    if scenario.is_some() {
        let off = rows.iter().filter(|row| row.is_off());
        let off: Vec<String> = off.map(|row| told(row.about.name)).collect();
        if !off.is_empty() {
            let text = format!("Not counted, as nothing is written: {}.", off.join("; "));
            answer.screen.push(Block::Text(text.clone()));
            answer.section("Not counted", vec![Block::Text(text)]);
        }
    }
    answer.tables.push(filed(&rows));
    answer
}

/// One default, and what holds.
struct Row<'a> {
    about: &'static About,
    usual: String,
    mark: Option<&'a Mark>,
    scenario: bool,
}

impl<'a> Row<'a> {
    fn of(entry: &'static dyn Entry, scenario: Option<&'a Scenario>) -> Self {
        let about = entry.about();
        Self {
            about,
            usual: value(about, &entry.value()),
            mark: scenario.and_then(|scenario| scenario.marks.of(about.path)),
            scenario: scenario.is_some(),
        }
    }

    fn part(&self) -> &'static str {
        self.about.path.split('.').next().unwrap_or_default()
    }

    /// Whether nothing is written and so nothing happens.
    fn is_off(&self) -> bool {
        self.about.source == Source::Off
            && self.mark.is_some_and(|mark| mark.whose() == Whose::Default)
    }

    /// Whether the scenario has a use for it; without one, always.
    fn is_shown(&self) -> bool {
        !self.scenario || (self.mark.is_some() && !self.is_off())
    }

    /// What holds; without a scenario the default.
    fn here(&self) -> String {
        self.mark
            .map_or(self.usual.clone(), |mark| here(self.about, mark))
    }

    /// `money.pay_per_h`; a field of the scenario itself has no block.
    fn path(&self) -> String {
        let path = self.about.path.trim_start_matches("scenario.");
        match path.rsplit_once('.') {
            Some((block, key)) => format!("{block}.{}", measure::key(key).0),
            None => measure::key(path).0.into_owned(),
        }
    }

    fn whose(&self) -> &'static str {
        match (self.mark, self.scenario) {
            (Some(mark), _) => whose(mark.whose()),
            (None, true) => "not used",
            (None, false) => "default",
        }
    }

    /// Where the default comes from.
    fn source(&self) -> String {
        told(&self.about.source.to_string())
    }

    /// `drivers' paid hour (money.pay_per_h): $27.00 an hour, yours`.
    fn line(&self) -> String {
        let source = match self.mark.map(Mark::whose) {
            Some(Whose::Yours) => "yours".to_owned(),
            Some(Whose::Default) => format!("default: {}", self.source()),
            Some(Whose::Both) => format!("partly yours; default {}: {}", self.usual, self.source()),
            None => self.source(),
        };
        format!(
            "{} ({}): {}; {source}",
            told(self.about.name),
            self.path(),
            self.here()
        )
    }
}

fn decision(rows: &[Row<'_>], scenario: bool) -> String {
    let count = |which: &dyn Fn(&Row) -> bool| rows.iter().filter(|row| which(row)).count();
    if !scenario {
        return format!(
            "{} defaults: {} from a published source, {} estimates without one (use your own), {} that count for nothing unless you write them.",
            rows.len(),
            count(&|row| row.about.source.is_published()),
            count(&|row| row.about.source.is_estimate()),
            count(&|row| row.about.source == Source::Off),
        );
    }
    let stands = |row: &Row| row.mark.is_some_and(|mark| mark.left_out > 0) && !row.is_off();
    format!(
        "{} values are your own, {} are defaults; {} of the defaults are estimates without a source: use your own.",
        count(&|row| row.mark.is_some_and(|mark| mark.written > 0)),
        count(&stands),
        count(&|row| stands(row) && row.about.source.is_estimate()),
    )
}

fn notes(scenario: bool) -> Vec<String> {
    let mut notes = vec![
        "The name in brackets is where a scenario writes the value: block and field.".to_owned(),
        "An estimate without a source is common practice at best. Your own tickets, payroll and invoices know better.".to_owned(),
    ];
    if scenario {
        notes.push("Yours: the scenario writes it. Default: it is left out. Partly yours: written for some plants, trucks or orders.".to_owned());
    }
    notes
}

/// A part of the scenario for the page.
fn looked_at(name: &'static str, rows: &[&Row<'_>], scenario: bool) -> Table {
    let columns = vec![
        Column::new("what").left(),
        Column::new(if scenario { "here" } else { "default" }).left(),
        Column::new("whose").left(),
        Column::new("where the default comes from").left(),
        Column::new("field").left(),
    ];
    let mut table = Table::new(name, columns);
    for row in rows {
        table.row([
            told(row.about.name).into(),
            row.here().into(),
            row.whose().into(),
            row.source().into(),
            row.path().into(),
        ]);
    }
    table
}

/// `sources.csv`: every default.
fn filed(rows: &[Row<'_>]) -> Table {
    let keys = [
        "field",
        "what",
        "default",
        "here",
        "whose",
        "has_source",
        "source",
    ];
    let mut table = Table::new("sources", keys.map(Column::file).to_vec());
    for row in rows {
        table.row([
            Cell::from(row.path()),
            told(row.about.name).into(),
            row.usual.clone().into(),
            row.mark.map_or(Cell::Blank, |_| row.here().into()),
            row.whose().into(),
            Cell::yes(row.about.source.is_published()),
            row.source().into(),
        ]);
    }
    table
}

/// `yours`, `default`.
pub(super) fn whose(whose: Whose) -> &'static str {
    match whose {
        Whose::Yours => "yours",
        Whose::Default => "default",
        Whose::Both => "partly yours",
    }
}

/// What holds of a field: `$27.00 an hour`, `12 to 40 min`.
pub(super) fn here(about: &About, mark: &Mark) -> String {
    let numbers = |value: &Value| matches!(value, Value::Number(_) | Value::Money(_));
    if let (Some((low, high)), true) = (mark.range, mark.values.iter().all(numbers))
        && low < high
    {
        let wrap = match mark.values[0] {
            Value::Money(_) => Value::Money,
            _ => Value::Number,
        };
        let low = value(about, &wrap(low));
        let high = value(about, &wrap(high));
        let unit = |text: &str| text.find([' ', '%']).map(|at| text[at..].to_owned());
        return match (unit(&low), unit(&high)) {
            (Some(one), Some(other)) if one == other => {
                format!("{} to {high}", low.trim_end_matches(&one))
            }
            _ => format!("{low} to {high}"),
        };
    }
    let shown = mark.values.iter().take(3).map(|one| value(about, one));
    let mut text = shown.collect::<Vec<_>>().join(" or ");
    if mark.more || mark.values.len() > 3 {
        text += " …";
    }
    text
}

/// A text of the list of defaults, in the units of the scenario.
pub(super) fn told(text: &str) -> String {
    measure::said(text).into_owned()
}

/// A value with its unit.
pub(super) fn value(about: &About, value: &Value) -> String {
    let quantity = measure::in_si(about.key()).map(|(_, quantity)| quantity);
    let here = |us: f64| quantity.map_or(us, |quantity| measure::rounded(quantity, us, 3));
    let unit = &*measure::said(about.unit);
    match value {
        Value::Number(value) => in_unit(unit, here(*value)),
        Value::Money(units) => format!("{} {unit}", money(here(*units))),
        Value::Yes(yes) => if *yes { "yes" } else { "no" }.into(),
        Value::Words(words) => words.clone(),
        Value::Nothing => "none".into(),
        Value::Written => "as written".into(),
        Value::Spread(spread) if measure::is_si() && quantity.is_some() => {
            spread_in(unit, &spread.times(here(1.0)))
        }
        Value::Spread(spread) => spread_in(unit, spread),
    }
}

fn in_unit(unit: &str, value: f64) -> String {
    match unit {
        "" => plain(value),
        "bays" | "trucks" | "days" | "revolutions" if value == 1.0 => {
            format!("1 {}", unit.trim_end_matches('s'))
        }
        _ if unit.starts_with("times") && value == 1.0 => "no difference".into(),
        _ if unit.starts_with('%') => format!("{}{unit}", plain(value)),
        _ => match (unit.strip_prefix("share "), unit.strip_prefix("$ ")) {
            (Some(of), _) => format!("{}% {of}", plain(100.0 * value)),
            (_, Some(per)) => format!("{} {per}", Unit::Money.show(value, 2)),
            _ => format!("{} {unit}", plain(value)),
        },
    }
}

fn spread_in(unit: &str, spread: &Spread) -> String {
    let varies = || format!("varies by {}%", plain(libm::round(100.0 * spread.cv())));
    match spread {
        Spread::Constant(value) if unit.starts_with("times") && *value == 1.0 => "never".into(),
        Spread::Constant(value) => in_unit(unit, *value),
        Spread::Triangular { low, mode, high } => format!(
            "{} to {}, most often {}",
            plain(*low),
            in_unit(unit, *high),
            plain(*mode)
        ),
        Spread::Uniform { low, high } => format!("{} to {}", plain(*low), in_unit(unit, *high)),
        _ if unit.starts_with("times") && (spread.mean() - 1.0).abs() < 1e-9 => varies(),
        _ => format!("{} on average, {}", in_unit(unit, spread.mean()), varies()),
    }
}

/// As many decimals as there are, at most four.
fn plain(value: f64) -> String {
    let text = number(value, 4);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text.is_empty() {
        "0".into()
    } else {
        text.to_owned()
    }
}
