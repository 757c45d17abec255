//! A file without a name that holds figures: it is gone with the process, however that ends.

use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::PathBuf;
use std::sync::{Mutex, MutexGuard, PoisonError};

const BYTES: usize = size_of::<f32>();

/// The file.
#[derive(Debug)]
pub(super) struct Aside(Mutex<Open>);

#[derive(Debug)]
struct Open {
    file: File,
    /// The part whose rows were asked for last, row by row: rows are mostly asked for one after the other.
    rows: Option<(u64, Vec<f32>)>,
}

impl Aside {
    /// An empty one.
    ///
    /// # Errors
    /// No file can be made in the system's folder for what is to last longer, nor in that for what is not.
    pub(super) fn new() -> io::Result<Self> {
        // On many systems the usual folder is memory.
        let lasting = PathBuf::from("/var/tmp");
        let file = match std::env::var_os("TMPDIR") {
            None if lasting.is_dir() => {
                tempfile::tempfile_in(lasting).or_else(|_| tempfile::tempfile())
            }
            _ => tempfile::tempfile(),
        }?;
        Ok(Self(Mutex::new(Open { file, rows: None })))
    }

    fn open(&self) -> MutexGuard<'_, Open> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Puts rows of so many figures aside, and says where they are. They are laid down figure by figure.
    ///
    /// # Errors
    /// The disk is full.
    pub(super) fn put(&self, rows: &[f32], columns: usize) -> io::Result<u64> {
        let mut bytes = Vec::with_capacity(rows.len() * BYTES);
        for column in 0..columns {
            let values = rows.iter().skip(column).step_by(columns);
            bytes.extend(values.flat_map(|value| value.to_le_bytes()));
        }
        let mut open = self.open();
        let at = open.file.seek(SeekFrom::End(0))?;
        open.file.write_all(&bytes)?;
        Ok(at)
    }

    /// One figure of the so many rows that were put aside there.
    ///
    /// # Errors
    /// The file cannot be read.
    pub(super) fn column(&self, (at, count): (u64, usize), column: usize) -> io::Result<Vec<f32>> {
        self.open()
            .read(at + (column * count * BYTES) as u64, count)
    }

    /// One of those rows.
    ///
    /// # Errors
    /// The file cannot be read.
    pub(super) fn row(
        &self,
        (at, count): (u64, usize),
        columns: usize,
        nth: usize,
    ) -> io::Result<Vec<f32>> {
        let mut open = self.open();
        if open.rows.as_ref().is_none_or(|known| known.0 != at) {
            open.rows = Some((at, open.read_rows((at, count), columns)?));
        }
        let rows = open.rows.as_ref().map_or(&[][..], |known| &known.1);
        Ok(rows[nth * columns..(nth + 1) * columns].to_vec())
    }

    /// All of those rows, row by row.
    ///
    /// # Errors
    /// The file cannot be read.
    pub(super) fn rows(&self, place: (u64, usize), columns: usize) -> io::Result<Vec<f32>> {
        self.open().read_rows(place, columns)
    }
}

impl Open {
    fn read_rows(&mut self, (at, count): (u64, usize), columns: usize) -> io::Result<Vec<f32>> {
        let by_column = self.read(at, count * columns)?;
        let mut rows = vec![0.0; by_column.len()];
        for (place, value) in by_column.into_iter().enumerate() {
            rows[place % count * columns + place / count] = value;
        }
        Ok(rows)
    }

    fn read(&mut self, at: u64, count: usize) -> io::Result<Vec<f32>> {
        let mut bytes = vec![0; count * BYTES];
        self.file.seek(SeekFrom::Start(at))?;
        self.file.read_exact(&mut bytes)?;
        let values = bytes.as_chunks::<BYTES>().0.iter();
        Ok(values.map(|bytes| f32::from_le_bytes(*bytes)).collect())
    }
}
