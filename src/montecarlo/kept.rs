//! The file of what a run has done so far, or of a share of one: what was asked, rows of replications, and sums over exactly these.
//!
//! One or several such files may stand in one, each after the other.
//!
//! A line of text that says what it is, a line of text for whoever asked, five whole numbers of eight bytes (first replication, how many,
//! cases, figures of a row, bytes of the sums), and a checksum of all this; then the figures, four bytes each, replication by
//! replication, the sums, and a checksum of the whole. All numbers are little-endian, checksums SHA-256 (FIPS 180-4).

use super::rows::Rows;
use sha2::{Digest, Sha256};
use std::io::{self, BufWriter, ErrorKind, Read, Write};
use std::ops::Range;

/// The first line. What is written otherwise gets another number.
const FIRST_LINE: &[u8] = b"plantday: what a run has done, form 1\n";

/// Bytes that the second line has at most.
const LONGEST_HEAD: u64 = 1 << 20;

/// Figures that are written or read at once.
const AT_ONCE: usize = 1 << 16;

/// Why there is nothing to be had from a file.
#[derive(Debug, thiserror::Error)]
pub enum Broken {
    /// It begins otherwise.
    #[error("it is no file in which plantday has kept what a run has done")]
    Foreign,
    /// It ends too soon, or a checksum is wrong.
    #[error("it is damaged: its end is missing, or something in it was changed")]
    Damaged,
    /// The system does not let it be read.
    #[error("it cannot be read: {0}")]
    Unreadable(io::Error),
}

impl From<io::Error> for Broken {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            ErrorKind::UnexpectedEof => Self::Damaged,
            _ => Self::Unreadable(error),
        }
    }
}

/// Passes bytes on and sums them up.
struct Summed<T> {
    to: T,
    sum: Sha256,
}

impl<W: Write> Summed<W> {
    fn put(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.sum.update(bytes);
        self.to.write_all(bytes)
    }

    /// The checksum of all that was written before.
    fn put_sum(&mut self) -> io::Result<()> {
        let sum = self.sum.clone().finalize();
        self.put(&sum)
    }
}

impl<R: Read> Summed<R> {
    fn take(&mut self, bytes: &mut [u8]) -> Result<(), Broken> {
        self.to.read_exact(bytes)?;
        self.sum.update(bytes);
        Ok(())
    }

    fn take_sum(&mut self) -> Result<(), Broken> {
        let expected = self.sum.clone().finalize();
        let mut found = [0; 32];
        self.take(&mut found)?;
        match found[..] == expected[..] {
            true => Ok(()),
            false => Err(Broken::Damaged),
        }
    }
}

/// Writes such a file. `head` is one line, without its end.
///
/// # Errors
/// It cannot be written there.
pub fn write(to: &mut dyn Write, head: &str, rows: &Rows, sums: &[u8]) -> io::Result<()> {
    let mut to = Summed {
        to: BufWriter::new(to),
        sum: Sha256::new(),
    };
    to.put(FIRST_LINE)?;
    to.put(head.as_bytes())?;
    to.put(b"\n")?;
    for number in [
        rows.replications().start,
        rows.len() as u64,
        rows.cases() as u64,
        rows.width() as u64,
        sums.len() as u64,
    ] {
        to.put(&number.to_le_bytes())?;
    }
    to.put_sum()?;
    for block in rows.blocks() {
        for figures in block.chunks(AT_ONCE) {
            let bytes = figures.iter().flat_map(|figure| figure.to_le_bytes());
            to.put(&bytes.collect::<Vec<u8>>())?;
        }
    }
    to.put(sums)?;
    to.put_sum()?;
    to.to.flush()
}

/// Such a file whose beginning has been read.
#[derive(Debug)]
pub struct Reader<R> {
    from: Summed<R>,
    head: String,
    replications: Range<u64>,
    cases: u64,
    width: u64,
    sums: u64,
}

impl<T> std::fmt::Debug for Summed<T> {
    fn fmt(&self, to: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        to.write_str("a file being summed up")
    }
}

impl<R: Read> Reader<R> {
    /// Reads the beginning.
    ///
    /// # Errors
    /// It is no such file, or the beginning is damaged.
    pub fn open(from: R) -> Result<Self, Broken> {
        let mut from = Summed {
            to: from,
            sum: Sha256::new(),
        };
        let mut first = vec![0; FIRST_LINE.len()];
        match from.take(&mut first) {
            Ok(()) if first == FIRST_LINE => {}
            Ok(()) | Err(Broken::Damaged) => return Err(Broken::Foreign),
            Err(error) => return Err(error),
        }
        let mut head = Vec::new();
        loop {
            let mut byte = [0];
            from.take(&mut byte)?;
            match byte {
                [b'\n'] => break,
                [byte] => head.push(byte),
            }
            if head.len() as u64 > LONGEST_HEAD {
                return Err(Broken::Damaged);
            }
        }
        let mut number = || {
            let mut bytes = [0; 8];
            from.take(&mut bytes)?;
            Ok::<u64, Broken>(u64::from_le_bytes(bytes))
        };
        let (first, count) = (number()?, number()?);
        let (cases, width, sums) = (number()?, number()?, number()?);
        from.take_sum()?;
        let end = first.checked_add(count).ok_or(Broken::Damaged)?;
        Ok(Self {
            from,
            head: String::from_utf8(head).map_err(|_| Broken::Damaged)?,
            replications: first..end,
            cases,
            width,
            sums,
        })
    }

    /// The line for whoever asked.
    pub fn head(&self) -> &str {
        &self.head
    }

    /// The replications whose rows it holds.
    pub fn replications(&self) -> Range<u64> {
        self.replications.clone()
    }

    /// How many cases and figures its rows have.
    pub fn shape(&self) -> (u64, u64) {
        (self.cases, self.width)
    }

    /// Adds its rows to those of a run of these replications, which they follow, and gives the sums.
    ///
    /// # Errors
    /// It is damaged; some of the rows may be added then.
    ///
    /// # Panics
    /// If its rows do not follow, go beyond the run, or have other cases or figures.
    pub fn read(mut self, rows: &mut Rows, of: &Range<u64>) -> Result<Vec<u8>, Broken> {
        let shape = (rows.cases() as u64, rows.width() as u64);
        assert_eq!(shape, self.shape(), "rows of the same trial");
        assert_eq!(rows.replications().end, self.replications.start);
        let count = self.replications.end - self.replications.start;
        let from = &mut self.from;
        let mut broken = None;
        let mut bytes = Vec::new();
        let read = rows.read_in(count, of, |figures| {
            for figures in figures.chunks_mut(AT_ONCE) {
                bytes.resize(size_of_val(figures), 0);
                if let Err(error) = from.take(&mut bytes) {
                    broken = Some(error);
                    return Err(ErrorKind::Other.into());
                }
                let each = bytes.as_chunks::<4>().0.iter();
                for (figure, bytes) in figures.iter_mut().zip(each) {
                    *figure = f32::from_le_bytes(*bytes);
                }
            }
            Ok(())
        });
        if let Some(broken) = broken {
            return Err(broken);
        }
        read?;
        self.end()
    }

    /// Reads it to its end, to see whether it is whole, and keeps nothing. Nothing may follow.
    ///
    /// # Errors
    /// It is damaged.
    pub fn check(self) -> Result<(), Broken> {
        match self.skip()?.read(&mut [0])? {
            0 => Ok(()),
            _ => Err(Broken::Damaged),
        }
    }

    /// Reads it to its end, to see whether it is whole, and gives back what follows.
    ///
    /// # Errors
    /// It is damaged.
    pub fn skip(mut self) -> Result<R, Broken> {
        let count = self.replications.end - self.replications.start;
        let figures = (count.checked_mul(self.cases)).and_then(|rows| rows.checked_mul(self.width));
        let mut left = figures
            .and_then(|figures| figures.checked_mul(size_of::<f32>() as u64))
            .ok_or(Broken::Damaged)?;
        let mut bytes = vec![0; AT_ONCE];
        while left > 0 {
            let now = usize::try_from(left).unwrap_or(AT_ONCE).min(AT_ONCE);
            self.from.take(&mut bytes[..now])?;
            left -= now as u64;
        }
        self.end()?;
        Ok(self.from.to)
    }

    /// The sums, and the checksum after them.
    fn end(&mut self) -> Result<Vec<u8>, Broken> {
        let mut sums = Vec::new();
        let from = &mut self.from.to;
        from.by_ref().take(self.sums).read_to_end(&mut sums)?;
        if sums.len() as u64 != self.sums {
            return Err(Broken::Damaged);
        }
        self.from.sum.update(&sums);
        self.from.take_sum()?;
        Ok(sums)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rows() -> Rows {
        let (all, mut next) = (7..207, 0.5);
        let mut rows = Rows::new(3, 5, all.start);
        let told = rows.read_in(120, &all, |figures| {
            for figure in figures {
                next += 1.25;
                *figure = next;
            }
            Ok(())
        });
        told.expect("nothing is read");
        rows
    }

    fn file() -> Vec<u8> {
        let mut file = Vec::new();
        write(&mut file, "{\"asked\": 1}", &rows(), b"all sums").expect("it is memory");
        file
    }

    /// All that is in a file.
    fn read(file: &[u8]) -> Result<(String, Rows, Vec<u8>), Broken> {
        Reader::open(file)?.check()?;
        let reader = Reader::open(file)?;
        let (head, mut rows) = (reader.head().to_owned(), Rows::new(3, 5, 7));
        assert_eq!((reader.replications(), reader.shape()), (7..127, (3, 5)));
        let sums = reader.read(&mut rows, &(7..207))?;
        Ok((head, rows, sums))
    }

    #[test]
    fn what_was_written_is_read() {
        let (head, found, sums) = read(&file()).expect("it is whole");
        assert_eq!(head, "{\"asked\": 1}");
        assert!(found == rows());
        assert_eq!(sums, b"all sums");
    }

    #[test]
    fn several_may_stand_in_one() {
        let (one, other) = (file(), file());
        let all = [&one[..], &other].concat();
        let rest = Reader::open(&all[..]).and_then(Reader::skip);
        let rest = rest.expect("the first is whole");
        assert_eq!(rest.len(), other.len());
        assert!(read(rest).is_ok());
        assert!(matches!(read(&all), Err(Broken::Damaged)), "one is meant");
    }

    #[test]
    fn another_file_is_told_from_a_damaged_one() {
        for foreign in [&b""[..], b"plantday", b"rule,cost\n1,2\n", &[0; 99]] {
            assert!(matches!(read(foreign), Err(Broken::Foreign)), "{foreign:?}");
        }
    }

    #[test]
    fn a_file_cut_off_anywhere_is_refused() {
        let file = file();
        for length in 0..file.len() {
            assert!(read(&file[..length]).is_err(), "cut off at {length}");
        }
        let longer = [&file[..], b"x"].concat();
        assert!(matches!(read(&longer), Err(Broken::Damaged)));
    }

    proptest! {
        #[test]
        fn a_file_with_anything_changed_is_refused(at in any::<proptest::sample::Index>(), by in 1u8..) {
            let mut file = file();
            let at = at.index(file.len());
            file[at] ^= by;
            prop_assert!(read(&file).is_err(), "byte {at} changed by {by}");
        }
    }
}
