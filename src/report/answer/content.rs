//! What a file beside the page holds.

use crate::report::files::Fill;
use std::borrow::Cow;
use std::fmt;
use std::io::{self, Write};
use std::sync::Arc;

/// Its bytes, or what writes them: a table of every replication may be larger than memory.
#[derive(Clone)]
pub enum Content {
    /// The bytes.
    Bytes(Vec<u8>),
    /// A table that is written when it is wanted.
    Table {
        /// How many cells it has.
        cells: usize,
        /// Writes it as CSV: the same bytes each time.
        write: Arc<Writes>,
    },
}

/// Writes the bytes of a file.
type Writes = dyn Fn(&mut dyn Write) -> io::Result<()> + Send + Sync;

impl Content {
    /// All of it.
    ///
    /// # Panics
    /// If it cannot be written even into memory.
    pub fn bytes(&self) -> Cow<'_, [u8]> {
        match self {
            Self::Bytes(bytes) => bytes.into(),
            Self::Table { write, .. } => {
                let mut bytes = Vec::new();
                write(&mut bytes).expect("writing to memory does not fail");
                bytes.into()
            }
        }
    }
}

impl From<Vec<u8>> for Content {
    fn from(bytes: Vec<u8>) -> Self {
        Self::Bytes(bytes)
    }
}

impl Fill for Cow<'_, Content> {
    fn fill(&self, to: &mut dyn Write) -> io::Result<()> {
        match self.as_ref() {
            Content::Bytes(bytes) => to.write_all(bytes),
            Content::Table { write, .. } => write(to),
        }
    }
}

impl fmt::Debug for Content {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Bytes(bytes) => write!(to, "{} bytes", bytes.len()),
            Self::Table { cells, .. } => write!(to, "a table of {cells} cells"),
        }
    }
}
