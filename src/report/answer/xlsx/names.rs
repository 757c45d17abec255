//! Names of sheets: unique, short, without what a sheet's name may not have.

/// Most characters that a sheet's name may have.
const LONGEST: usize = 31;

/// The names that are taken, in small letters: spreadsheet programs do not tell large ones apart.
#[derive(Debug)]
pub(super) struct Names {
    taken: Vec<String>,
}

impl Default for Names {
    fn default() -> Self {
        // Kept by one of the programs for itself.
        Self {
            taken: vec!["history".into()],
        }
    }
}

impl Names {
    /// `side-by-side` becomes `Side by side`; a second one `Side by side 2`.
    pub(super) fn unique(&mut self, name: &str) -> String {
        let plain: String = name
            .chars()
            .map(|c| match c {
                '[' | ']' | ':' | '*' | '?' | '/' | '\\' | '\'' | '-' | '_' => ' ',
                c if c.is_control() => ' ',
                c => c,
            })
            .collect();
        let plain = crate::report::plain_text::capital(plain.trim());
        let plain = if plain.is_empty() { "Table" } else { &plain };
        let mut number = 1;
        loop {
            let end = match number {
                1 => String::new(),
                number => format!(" {number}"),
            };
            let room = LONGEST - end.len();
            let start: String = plain.chars().take(room).collect();
            let name = format!("{}{end}", start.trim_end());
            let small = name.to_lowercase();
            if !self.taken.contains(&small) {
                self.taken.push(small);
                return name;
            }
            number += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Names;

    /// Rule: Microsoft, "Rename a worksheet": at most 31 characters, none of / \ ? * : [ ], no apostrophe at an end, not "History", and
    /// no name twice.
    #[test]
    fn names_are_allowed_and_unique() {
        let mut names = Names::default();
        let mut name = |text: &str| names.unique(text);
        assert_eq!(name("side-by-side"), "Side by side");
        assert_eq!(name("Side_By side"), "Side By side 2");
        assert_eq!(name("history"), "History 2");
        assert_eq!(name("'a[b]:*?/\\c'"), "A b      c");
        assert_eq!(name("\t"), "Table");
        let long = "a rule with a name that is longer than a sheet's";
        let first = name(long);
        let second = name(long);
        assert_eq!(first, "A rule with a name that is long");
        assert_eq!(second, "A rule with a name that is lo 2");
        assert_eq!(name(&"é".repeat(40)).chars().count(), 31);
    }
}
