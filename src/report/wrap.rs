//! Lines of a width.

/// Lines of at most `width` characters, the first behind `mark`, the others indented. Breaks at blanks, and within a word that is longer than a line.
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
pub(super) fn words(text: &str) -> Vec<String> {
    const UNITS: [&str; 17] = [
        "%", "min", "h", "yd³", "lb", "mph", "miles", "in", "°F", "m³", "kg", "km", "km/h", "mm",
        "°C", "MPa", "L",
    ];
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
