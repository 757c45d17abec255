//! What the program understood of a scenario, in plain words, so that its writer can see whether that is what was meant.

mod concrete;
mod doubts;
mod fleet;
mod orders;
mod places;
mod round_trip;
mod rules;
mod setting;
mod words;

use crate::plant::Plan;
use crate::report::plain_text::one_line;
use crate::scenario::Scenario;
use std::fmt::Write;

/// The summary laid out for this many columns, headings in bold. To be printed through `anstream`.
pub fn text(scenario: &Scenario, width: u16) -> String {
    let plan = Plan::new(scenario);
    let mut page = Page::new(width);
    page.line(&scenario.name);
    if !scenario.about.is_empty() {
        page.line(&scenario.about);
    }
    page.heading("Days and hours");
    setting::days_and_hours(scenario, &mut page);
    page.heading("Rules");
    rules::rules(scenario, &mut page);
    page.heading("Plants");
    places::plants(scenario, &mut page);
    page.heading("Roads");
    places::roads(scenario, plan.roads(), &mut page);
    page.heading("Fleet");
    fleet::fleet(scenario, &mut page);
    page.heading("Orders");
    orders::orders(scenario, &mut page);
    concrete::concrete(scenario, &mut page);
    page.heading("Money");
    setting::money(scenario, &mut page);
    page.heading("Legal but doubtful");
    let doubts = doubts::of(scenario, &plan);
    if doubts.is_empty() {
        page.line("nothing found");
    }
    for doubt in doubts {
        page.item(&doubt);
    }
    page.text
}

/// The text under construction.
struct Page {
    text: String,
    width: u16,
}

impl Page {
    fn new(width: u16) -> Self {
        Self {
            text: String::new(),
            width,
        }
    }

    fn heading(&mut self, heading: &str) {
        let bold = anstyle::Style::new().bold();
        let _ = writeln!(self.text, "\n{bold}{heading}{bold:#}");
    }

    /// One statement; what does not fit on the line continues indented.
    fn line(&mut self, statement: &str) {
        self.wrapped("", statement);
    }

    /// One entry of a list.
    fn item(&mut self, statement: &str) {
        self.wrapped("- ", statement);
    }

    fn table(&mut self, table: &crate::report::table::Table) {
        self.text.push_str(&table.render(self.width));
    }

    fn wrapped(&mut self, mark: &str, statement: &str) {
        for line in wrap(mark, &one_line(statement), usize::from(self.width)) {
            let _ = writeln!(self.text, "{line}");
        }
    }
}

/// Breaks at blanks, and within a word that is longer than a line.
pub(super) fn wrap(mark: &str, text: &str, width: usize) -> Vec<String> {
    const INDENT: &str = "  ";
    let mut lines = Vec::new();
    let mut line = mark.to_owned();
    let mut length = mark.chars().count();
    let mut begun = false;
    for word in words(text) {
        let mut rest: Vec<char> = word.chars().collect();
        if begun && length + 1 + rest.len() > width {
            lines.push(std::mem::replace(&mut line, INDENT.to_owned()));
            (length, begun) = (INDENT.len(), false);
        }
        if begun {
            line.push(' ');
            length += 1;
        }
        while length + rest.len() > width {
            let beyond = rest.split_off(width - length);
            line.extend(rest);
            lines.push(std::mem::replace(&mut line, INDENT.to_owned()));
            (length, rest) = (INDENT.len(), beyond);
        }
        length += rest.len();
        line.extend(rest);
        begun = true;
    }
    lines.push(line);
    lines
}

/// The words of a text; a number and its unit are one.
fn words(text: &str) -> Vec<String> {
    const UNITS: [&str; 9] = ["%", "min", "h", "yd³", "lb", "mph", "miles", "in", "°F"];
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let unit = word.trim_end_matches([',', ';', '.', ':', ')']);
        match words.last_mut() {
            Some(last)
                if *last == "×"
                    || UNITS.contains(&unit) && last.ends_with(|c: char| c.is_ascii_digit()) =>
            {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::wrap;

    #[test]
    fn lines_break_at_blanks_and_in_endless_words() {
        assert_eq!(
            wrap("- ", "one two three four", 12),
            ["- one two", "  three four"]
        );
        assert_eq!(wrap("", "abcdefghij", 6), ["abcdef", "  ghij"]);
        assert_eq!(wrap("- ", "", 6), ["- "]);
        assert_eq!(wrap("", "in 70 % of", 6), ["in", "  70 %", "  of"]);
    }
}
