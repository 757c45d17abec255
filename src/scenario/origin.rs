//! What a scenario was read from.

use std::fmt::Write;
use std::path::Path;

use sha2::{Digest, Sha256};

/// The file of a scenario, so that an answer can tell from which input it comes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Origin {
    /// The file's name without its folder; none: the scenario is the built-in one.
    pub file: Option<String>,
    /// SHA-256 of its bytes (FIPS 180-4), followed by the length and text of each of its tables, 64 hexadecimal digits.
    pub sha256: String,
}

impl Origin {
    /// The origin of a scenario that was read from this file: its text, and what stands in each of its tables.
    pub(super) fn of(file: &str, texts: &[&str]) -> Self {
        let name = Path::new(file).file_name();
        let name = name.map_or(file.into(), |name| name.to_string_lossy());
        let mut sha256 = String::with_capacity(64);
        let mut digest = Sha256::new();
        for (at, text) in texts.iter().enumerate() {
            // With its length, so that no line can move from one file to the next unseen.
            if at > 0 {
                digest.update((text.len() as u64).to_le_bytes());
            }
            digest.update(text);
        }
        for byte in digest.finalize() {
            let _ = write!(sha256, "{byte:02x}");
        }
        Self {
            file: Some(name.into_owned()),
            sha256,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST, examples with intermediate values for FIPS 180-4, SHA-256 of one block.
    #[test]
    fn the_checksum_is_the_one_of_the_standard() {
        let origin = Origin::of("folder/day.ron", &["abc"]);
        assert_eq!(origin.file.as_deref(), Some("day.ron"));
        assert_eq!(
            origin.sha256,
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }

    #[test]
    fn a_line_that_moves_from_one_table_to_the_next_shows() {
        let of = |texts: &[&str]| Origin::of("day.ron", texts).sha256;
        assert_ne!(of(&["a", "one\n", "two\n"]), of(&["a", "one\ntwo\n", ""]));
        assert_ne!(of(&["a", "one\n"]), of(&["aone\n", ""]));
    }
}
