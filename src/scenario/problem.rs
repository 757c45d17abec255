//! What is wrong in a text, where, and what would be right. Plain data; drawing it is a report's work.

use std::borrow::Cow;
use std::cell::{Cell, RefCell, RefMut};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::sync::Arc;

use super::defaults::Marks;
use super::outline::Outline;
use super::tree::Span;
use crate::units::measure;

/// One thing that is wrong, at its place in the text.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// The bytes that are wrong.
    pub span: Span,
    /// What is wrong, with the offending words.
    pub title: String,
    /// Said at the place itself: what was expected there.
    pub label: String,
    /// Other places that explain it.
    pub also: Vec<(Span, String)>,
    /// What else helps: the valid names, the way out.
    pub help: Vec<String>,
    /// A text that would be right, if one is near enough to be worth saying.
    pub suggestion: Option<Replacement>,
}

/// A change that would put a problem right.
#[derive(Clone, Debug, PartialEq)]
pub struct Replacement {
    /// What to replace.
    pub span: Span,
    /// By what.
    pub text: String,
    /// Why: "a field with a similar name exists: `bays`".
    pub why: String,
}

impl Problem {
    /// A problem at a place.
    pub fn new(span: Span, title: impl Into<String>) -> Self {
        Self {
            span,
            title: title.into(),
            label: String::new(),
            also: Vec::new(),
            help: Vec::new(),
            suggestion: None,
        }
    }

    /// With what is said at the place.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// With another place that explains it.
    #[must_use]
    pub fn also(mut self, span: Span, label: impl Into<String>) -> Self {
        self.also.push((span, label.into()));
        self
    }

    /// With a line of help.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help.push(help.into());
        self
    }

    /// With a change that would put it right.
    #[must_use]
    pub fn replace(mut self, span: Span, text: impl Into<String>, why: impl Into<String>) -> Self {
        self.suggestion = Some(Replacement {
            span,
            text: text.into(),
            why: why.into(),
        });
        self
    }
}

/// A text that places are of: a scenario's, or a table that it takes a list from. All texts of a scenario stand one after the other, so
/// that a place tells of which it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Source {
    /// Where it comes from: the path as the user gave it, with the sheet of a workbook.
    pub name: String,
    /// The text; of a sheet its rows, a line each.
    pub text: String,
    /// Where it begins among all texts.
    start: usize,
    /// The cells of a table, in the order of their places.
    pub(super) cells: Vec<TableCell>,
    /// Whether cells have names of letters and numbers.
    sheet: bool,
}

/// Where a cell of a table stands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct TableCell {
    /// Its first byte among all texts.
    pub(super) start: usize,
    /// From 1.
    pub(super) row: usize,
    /// From 0.
    pub(super) column: usize,
    /// What stands over its column: one text for all cells below it.
    pub(super) heading: Arc<str>,
}

impl Source {
    fn new(name: &str, text: &str, start: usize, sheet: bool) -> Self {
        Self {
            name: name.to_owned(),
            text: text.to_owned(),
            start,
            cells: Vec::new(),
            sheet,
        }
    }

    /// The scenario itself.
    pub(super) fn text(name: &str, text: &str) -> Self {
        Self::new(name, text, 0, false)
    }

    /// A table in a text file.
    pub(super) fn table(name: &str, text: &str, start: usize) -> Self {
        Self::new(name, text, start, false)
    }

    /// A sheet of a workbook.
    pub(super) fn sheet(name: &str, text: &str, start: usize) -> Self {
        Self::new(name, text, start, true)
    }

    /// Where it begins among all texts.
    pub(super) fn start(&self) -> usize {
        self.start
    }

    /// Where it ends among all texts.
    pub(super) fn end(&self) -> usize {
        self.start + self.text.len()
    }

    /// The cell that a place is in, as people find it: `row 7, column "First load"`, in a sheet `cell D7, column "First load"`.
    fn cell(&self, place: usize) -> Option<String> {
        let after = self.cells.partition_point(|cell| cell.start <= place);
        let cell = self.cells.get(after.checked_sub(1)?)?;
        let row = if self.sheet {
            format!("cell {}{}", letters(cell.column), cell.row)
        } else {
            format!("row {}", cell.row)
        };
        let heading = match visible(&cell.heading, 60) {
            heading if heading.is_empty() => String::new(),
            heading => format!(", column \"{heading}\""),
        };
        Some(format!("{row}{heading}"))
    }

    /// What stands over the column of a place.
    pub(super) fn heading(&self, place: usize) -> Option<&str> {
        let after = self.cells.partition_point(|cell| cell.start <= place);
        let cell = self.cells.get(after.checked_sub(1)?)?;
        Some(&cell.heading)
    }
}

/// The letters of a column: A to Z, AA, AB, …
fn letters(column: usize) -> String {
    let mut letters = Vec::new();
    let mut left = column + 1;
    while left > 0 {
        left -= 1;
        letters.push(char::from(b'A' + (left % 26) as u8));
        left /= 26;
    }
    letters.into_iter().rev().collect()
}

/// A text with everything that is wrong in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Faults {
    /// Where the text comes from: the path as the user gave it.
    pub name: String,
    /// The text that the spans of the problems refer to.
    pub text: String,
    /// The tables that it takes lists from: a place beyond the text is in one of them.
    pub tables: Vec<Source>,
    /// The problems in the order of the text, at least one.
    pub problems: Vec<Problem>,
    /// How many more there are that were only counted.
    pub more: usize,
}

impl Faults {
    /// A problem as one of the text that it is in: that text's name, the text, and the problem with places in it. The cell of a table
    /// and places in other texts are said in its help.
    pub fn told(&self, problem: &Problem) -> (&str, &str, Problem) {
        let of = |place: usize| self.tables.iter().rev().find(|table| place >= table.start);
        let Some(table) = of(problem.span.start) else {
            let mut told = problem.clone();
            told.also.retain(|(span, _)| of(span.start).is_none());
            told.help.extend(self.elsewhere(problem, None));
            return (&self.name, &self.text, told);
        };
        let here = |span: &Span| {
            span.start.saturating_sub(table.start)..span.end.saturating_sub(table.start)
        };
        let mut told = problem.clone();
        told.span = here(&problem.span);
        told.also = problem
            .also
            .iter()
            .filter(|(span, _)| of(span.start).is_some_and(|of| of.start == table.start))
            .map(|(span, label)| (here(span), label.clone()))
            .collect();
        if let Some(suggestion) = &mut told.suggestion {
            suggestion.span = here(&suggestion.span);
        }
        told.help.extend(table.cell(problem.span.start));
        told.help.extend(self.elsewhere(problem, Some(table)));
        (&table.name, &table.text, told)
    }

    /// What stands in another text than the problem.
    fn elsewhere(&self, problem: &Problem, table: Option<&Source>) -> Vec<String> {
        let start = |place: usize| {
            let table = self.tables.iter().rev().find(|table| place >= table.start);
            table.map(|table| table.start)
        };
        let here = table.map(|table| table.start);
        let others = problem.also.iter();
        let others = others.filter(|(span, _)| start(span.start) != here);
        others
            .map(|(span, label)| {
                let at = start(span.start)
                    .and_then(|start| self.tables.iter().find(|table| table.start == start));
                let (name, text, place) = match at {
                    Some(table) => (&table.name, &table.text, span.start - table.start),
                    None => (&self.name, &self.text, span.start),
                };
                let (line, column) = line_column(text, place);
                format!("{label}: {name}, line {line}, column {column}")
            })
            .collect()
    }
}

impl fmt::Display for Faults {
    /// One line a problem, `file:line:column: what is wrong (what was expected)`, for logs and tests.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, problem) in self.problems.iter().enumerate() {
            let (name, text, told) = self.told(problem);
            let (line, column) = line_column(text, told.span.start);
            let newline = if at == 0 { "" } else { "\n" };
            write!(
                f,
                "{newline}{name}:{line}:{column}: {} ({})",
                problem.title, problem.label
            )?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}

/// Collects problems while reading goes on, and which defaults stood.
#[derive(Debug, Default)]
pub struct Problems {
    found: RefCell<Vec<Problem>>,
    consequences: RefCell<Vec<Problem>>,
    more: Cell<usize>,
    marks: RefCell<Marks>,
    outline: Outline,
    /// Where tables begin among all texts; none: there is no table.
    tables_from: Cell<Option<usize>>,
    /// Places of the headings of columns that no field is named for.
    ignored: RefCell<BTreeSet<usize>>,
    /// Tables in which what no field is named for is a problem.
    strict: RefCell<Vec<Span>>,
    /// What is to be told of how tables were read.
    notes: RefCell<Vec<String>>,
    /// Names of fields as they are in US units: the same few stand in every entry of a list.
    us_keys: RefCell<BTreeMap<String, Option<Cow<'static, str>>>>,
}

impl Problems {
    /// So many are kept; further ones are only counted, as a file of another kind can hold a million.
    const KEPT: usize = 1_000;
    /// So many get a nearest name, several times what is drawn: to compare each of a million with thousands of names takes
    /// minutes.
    const HINTED: usize = 100;

    /// None yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes one down. Gives nothing, to stand where a value was wanted.
    pub fn add<T>(&self, problem: Problem) -> Option<T> {
        let mut found = self.found.borrow_mut();
        if found.len() < Self::KEPT {
            found.push(problem);
        } else {
            self.more.set(self.more.get() + 1);
        }
        None
    }

    /// Takes several down.
    pub fn add_all<T>(&self, problems: impl IntoIterator<Item = Problem>) -> Option<T> {
        for problem in problems {
            self.add::<()>(problem);
        }
        None
    }

    /// Takes one down that most likely comes from another, such as the use of a name whose definition cannot be read. It
    /// is shown only if no other is found.
    pub fn add_consequence<T>(&self, problem: Problem) -> Option<T> {
        let mut consequences = self.consequences.borrow_mut();
        if consequences.len() < Self::KEPT {
            consequences.push(problem);
        }
        None
    }

    /// [`measure::us_key`], worked out once for each name.
    pub(super) fn us_key(&self, key: &str) -> Option<Cow<'static, str>> {
        if let Some(known) = self.us_keys.borrow().get(key) {
            return known.clone();
        }
        let us = measure::us_key(key);
        self.us_keys.borrow_mut().insert(key.to_owned(), us.clone());
        us
    }

    /// Whether a further problem is still worth the search for a nearest name.
    pub fn deserve_hints(&self) -> bool {
        self.found.borrow().len() + self.consequences.borrow().len() < Self::HINTED
    }

    /// From here on places are in tables.
    pub(super) fn tables_from(&self, place: usize) {
        self.tables_from.set(Some(place));
    }

    /// Takes down that a field of a table is read by nobody; false if the place is in none, so that this is a problem.
    pub fn ignore(&self, place: &Span) -> bool {
        let strict = self.strict.borrow();
        let is_remark =
            self.in_table(place) && !strict.iter().any(|table| table.contains(&place.start));
        if is_remark {
            self.ignored.borrow_mut().insert(place.start);
        }
        is_remark
    }

    /// Whether the heading at this place is one that no field is named for.
    pub(super) fn is_ignored(&self, heading: &Span) -> bool {
        self.ignored.borrow().contains(&heading.start)
    }

    /// Whether a place is in a table.
    pub(super) fn in_table(&self, place: &Span) -> bool {
        let from = self.tables_from.get();
        from.is_some_and(|from| place.start >= from)
    }

    /// In this table what no field is named for is a problem.
    pub(super) fn strict(&self, table: &Source) {
        self.strict.borrow_mut().push(table.start..table.end());
    }

    /// Takes down what is to be told of how a table was read.
    pub(super) fn note(&self, note: String) {
        let mut notes = self.notes.borrow_mut();
        if !notes.contains(&note) {
            notes.push(note);
        }
    }

    /// What is to be told of how tables were read.
    pub(super) fn notes(&self) -> Vec<String> {
        self.notes.borrow().clone()
    }

    /// The columns that no field is named for, wherever their table is used: table and heading.
    pub(super) fn ignored(&self, sources: &[Source]) -> Vec<(String, String)> {
        let ignored = self.ignored.borrow();
        let each = ignored.iter().filter_map(|place| {
            let source = sources.iter().rev().find(|source| *place >= source.start)?;
            Some((source.name.clone(), source.heading(*place)?.to_owned()))
        });
        let mut times: BTreeMap<(String, String), usize> = BTreeMap::new();
        for column in each {
            *times.entry(column).or_default() += 1;
        }
        let uses = |table: &str| sources.iter().filter(|source| source.name == table).count();
        let nowhere = times
            .into_iter()
            .filter(|((table, _), times)| *times >= uses(table));
        nowhere.map(|(column, _)| column).collect()
    }

    /// Which defaults stood so far, to be added to.
    pub(super) fn marks(&self) -> RefMut<'_, Marks> {
        self.marks.borrow_mut()
    }

    /// Where readers tell what they take, if they are asked.
    pub(super) fn outline(&self) -> &Outline {
        &self.outline
    }

    /// Whether nothing is wrong so far.
    pub fn is_empty(&self) -> bool {
        self.found.borrow().is_empty() && self.consequences.borrow().is_empty()
    }

    /// All of them in the order of the text that they are about.
    pub fn into_faults(self, name: &str, text: &str) -> Faults {
        let mut problems = self.found.into_inner();
        if problems.is_empty() {
            problems = self.consequences.into_inner();
        }
        problems.sort_by_key(|problem| (problem.span.start, problem.span.end));
        Faults {
            name: name.to_owned(),
            text: text.to_owned(),
            tables: Vec::new(),
            problems,
            more: self.more.get(),
        }
    }
}

/// Line and column of a byte, both from 1, the column in characters.
pub fn line_column(text: &str, offset: usize) -> (usize, usize) {
    let before = &text[..text.floor_char_boundary(offset)];
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    let line = before.bytes().filter(|&byte| byte == b'\n').count() + 1;
    // A mark at the start of the file says how it is encoded and is no character of its first line.
    let mark = usize::from(start == 0 && before.starts_with('\u{feff}'));
    let column = before[start..].chars().count() - mark + 1;
    (line, column)
}

/// The closest of the valid names, if close enough to be worth saying. Of equally close ones the first.
pub fn nearest<'a>(word: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if word.len() > 200 {
        return None; // comparing takes the product of the lengths, and no name is that long
    }
    let word = word.to_lowercase();
    names
        .into_iter()
        .map(|name| {
            let lower = name.to_lowercase();
            (
                strsim::damerau_levenshtein(&word, &lower),
                strsim::jaro_winkler(&word, &lower),
                name,
            )
        })
        .filter(|(edits, likeness, name)| {
            let length = name.chars().count();
            *edits < length.max(1) && (*edits <= 1 + length / 4 || *likeness > 0.88)
        })
        .min_by(|a, b| a.0.cmp(&b.0).then(b.1.total_cmp(&a.1)))
        .map(|(_, _, name)| name)
}

/// The one of the valid names that stands in a longer text as whole words, whatever its capitals: that at the beginning, else the only
/// one. Of names of which one holds the other the longer.
pub fn within<'a>(text: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if text.len() > 400 {
        return None;
    }
    let words = |text: &str| -> Vec<String> {
        let lower = text.to_lowercase();
        let words = lower.split(|c: char| !c.is_alphanumeric());
        let words = words.filter(|word| !word.is_empty());
        words.map(str::to_owned).collect()
    };
    let text = words(text);
    let mut found: Vec<(usize, Vec<String>, &str)> = Vec::new();
    for name in names {
        let name_words = words(name);
        let at = text.windows(name_words.len().max(1));
        let at = at.into_iter().position(|window| window == name_words);
        if let Some(at) = at {
            found.push((at, name_words, name));
        }
    }
    let holds = |long: &(usize, Vec<String>, &str), short: &(usize, Vec<String>, &str)| {
        long.1.len() > short.1.len() && (long.0..long.0 + long.1.len()).contains(&short.0)
    };
    let outer: Vec<_> = found
        .iter()
        .filter(|name| !found.iter().any(|other| holds(other, name)))
        .collect();
    match outer[..] {
        [(_, _, only)] => Some(only),
        _ => outer.iter().find(|name| name.0 == 0).map(|name| name.2),
    }
}

/// Whether two different names are so nearly the same that one is most likely the other, misspelt: they differ in capitals, blanks
/// and signs only, or in a letter or two of one word. Names that differ in a digit or in a short word, such as a grade or a letter,
/// are two names.
pub fn misspelt(one: &str, other: &str) -> bool {
    let (length, apart) = (one.len().max(other.len()), one.len().abs_diff(other.len()));
    // The length alone tells most pairs apart, and names can be many.
    if one == other || length > 200 || apart > 3 + length / 8 {
        return false;
    }
    let [one, other] = [one, other].map(str::to_lowercase);
    let words = |name: &str| -> Vec<String> {
        let words = name.split(|c: char| !c.is_alphanumeric());
        let words = words.filter(|word| !word.is_empty());
        words.map(str::to_owned).collect()
    };
    let (ones, others) = (words(&one), words(&other));
    if ones.concat() == others.concat() {
        return true;
    }
    let mut differing = ones.iter().zip(&others).filter(|(one, other)| one != other);
    let (Some((one, other)), None) = (differing.next(), differing.next()) else {
        return false;
    };
    let longest = one.chars().count().max(other.chars().count());
    let digits = |word: &str| -> String { word.chars().filter(|c| c.is_numeric()).collect() };
    ones.len() == others.len()
        && longest >= 5
        && digits(one) == digits(other)
        && strsim::damerau_levenshtein(one, other) <= 1 + longest / 8
}

/// Names as a list in a sentence; a long one is cut, as nobody reads two hundred.
pub fn listed<S: AsRef<str>>(names: impl IntoIterator<Item = S>) -> String {
    const SHOWN: usize = 24;
    let names: Vec<S> = names.into_iter().collect();
    let mut text = names
        .iter()
        .take(SHOWN)
        .map(AsRef::as_ref)
        .collect::<Vec<_>>()
        .join(", ");
    if names.len() > SHOWN {
        text += &format!(" and {} more", names.len() - SHOWN);
    }
    text
}

/// At most `most` characters of a text, control characters made visible.
pub(super) fn visible(text: &str, most: usize) -> String {
    let mut shown = String::new();
    for letter in text.chars().take(most) {
        if letter.is_control() || breaks_line(letter) || turns_writing(letter) {
            shown.extend(letter.escape_debug());
        } else {
            shown.push(letter);
        }
    }
    if text.chars().nth(most).is_some() {
        shown.push('…');
    }
    shown
}

/// The separators of lines and of paragraphs, which a terminal may take for the end of a line.
pub(super) fn breaks_line(c: char) -> bool {
    matches!(c, '\u{2028}' | '\u{2029}')
}

/// The marks that turn the direction of writing (Unicode Standard Annex #9, 2.1 to 2.6): with them a text can look like
/// another one. Letters of scripts that are written from right to left need none.
pub(crate) fn turns_writing(c: char) -> bool {
    matches!(c, '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{200E}' | '\u{200F}' | '\u{061C}')
}

#[cfg(test)]
mod tests {
    use super::{misspelt, within};

    #[test]
    fn a_name_within_a_longer_text() {
        let names = ["Mill", "Mill lane", "Quarry row", "Bypass"];
        for (text, found) in [
            ("Mill lane footings", Some("Mill lane")),
            ("footings, MILL LANE", Some("Mill lane")),
            ("Quarry row lot 4 (by the bypass)", Some("Quarry row")),
            ("pump for quarry row and bypass", None),
            ("Millstone", None),
            ("the Mill", Some("Mill")),
            ("", None),
        ] {
            assert_eq!(within(text, names), found, "{text}");
        }
    }

    #[test]
    fn letters_of_one_word_are_misspelt_and_grades_are_not() {
        for (one, other) in [
            ("standard", "standart"),
            ("standard", "standrad"),
            ("standard", "Standard"),
            ("pump mix", "pump-mix"),
            ("pump mix", "pumpmix"),
            ("marine 4000", "marien 4000"),
            ("pump", "pumps"),
        ] {
            assert!(misspelt(one, other), "{one} {other}");
            assert!(misspelt(other, one), "{one} {other}");
        }
        for (one, other) in [
            ("standard", "standard"),
            ("M30", "M35"),
            ("marine 4000", "marine 4500"),
            ("mix A", "mix B"),
            ("type I", "type II"),
            ("flow", "slow"),
            ("standard", "marine"),
            ("standard", "standard pump"),
        ] {
            assert!(!misspelt(one, other), "{one} {other}");
            assert!(!misspelt(other, one), "{one} {other}");
        }
    }
}
