//! What a file beside the page holds.

use crate::report::csv_text;
use crate::report::files::Fill;
use std::borrow::Cow;
use std::fmt;
use std::io::{self, Write};
use std::sync::Arc;

/// Its bytes, or what writes them when they are wanted: the answer has been told by then, and memory holds one large file at a time.
#[derive(Clone)]
pub enum Content {
    /// The bytes.
    Bytes(Vec<u8>),
    /// A table as CSV.
    Table {
        /// How many cells it has.
        cells: usize,
        /// Writes it.
        write: Arc<Writes>,
    },
    /// A page.
    Page(Arc<Writes>),
}

/// Writes the bytes of a file: the same each time.
type Writes = dyn Fn(&mut dyn Write) -> io::Result<()> + Send + Sync;

impl Content {
    /// A table of so many cells that is written when it is wanted.
    pub(in crate::report) fn table(
        cells: usize,
        write: impl Fn(&mut dyn Write) -> io::Result<()> + Send + Sync + 'static,
    ) -> Self {
        let write = Arc::new(write);
        Self::Table { cells, write }
    }

    /// A page that is made when it is wanted.
    pub(in crate::report) fn page(text: impl Fn() -> String + Send + Sync + 'static) -> Self {
        Self::Page(Arc::new(move |to| to.write_all(text().as_bytes())))
    }

    /// All of it.
    ///
    /// # Panics
    /// If it cannot be written even into memory.
    pub fn bytes(&self) -> Cow<'_, [u8]> {
        match self {
            Self::Bytes(bytes) => bytes.into(),
            Self::Table { write, .. } | Self::Page(write) => {
                let mut bytes = Vec::new();
                write(&mut bytes).expect("writing to memory does not fail");
                bytes.into()
            }
        }
    }

    /// How many cells it has at most, if it is a table.
    pub(super) fn cells(&self) -> usize {
        match self {
            Self::Bytes(bytes) => csv_text::cells(bytes),
            Self::Table { cells, .. } => *cells,
            Self::Page(_) => 0,
        }
    }
}

impl From<Vec<u8>> for Content {
    fn from(bytes: Vec<u8>) -> Self {
        Self::Bytes(bytes)
    }
}

impl Fill for Content {
    fn fill(&self, to: &mut dyn Write) -> io::Result<()> {
        match self {
            Self::Bytes(bytes) => to.write_all(bytes),
            Self::Table { write, .. } | Self::Page(write) => write(to),
        }
    }
}

impl fmt::Debug for Content {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Bytes(bytes) => write!(to, "{} bytes", bytes.len()),
            Self::Table { cells, .. } => write!(to, "a table of {cells} cells"),
            Self::Page(_) => write!(to, "a page"),
        }
    }
}
