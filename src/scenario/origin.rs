//! What a scenario was read from.

use std::fmt::Write;
use std::path::Path;

use sha2::{Digest, Sha256};

/// The file of a scenario, so that an answer can tell from which input it comes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Origin {
    /// The file's name without its folder; none: the scenario is the built-in one.
    pub file: Option<String>,
    /// SHA-256 of its bytes (FIPS 180-4) and of what stands in its tables, 64 hexadecimal digits.
    pub sha256: String,
}

impl Origin {
    /// The origin of a scenario that was read from this file: its text, and what stands in each of its tables.
    pub(super) fn of(file: &str, texts: &[&str]) -> Self {
        let name = Path::new(file).file_name();
        let name = name.map_or(file.into(), |name| name.to_string_lossy());
        let mut sha256 = String::with_capacity(64);
        let mut digest = Sha256::new();
        texts.iter().for_each(|text| digest.update(text));
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
}
