//! The figures of all replications in one table: in memory, and from a size on in a file without a name.

mod aside;

use aside::Aside;
use std::borrow::Cow;
use std::io;
use std::ops::Range;
use std::sync::Arc;

/// Rows of more bytes than this are put aside, so that memory does not grow with the replications.
pub const KEPT_IN_MEMORY: usize = 64 << 20;

/// Bytes of what is put aside together: little enough to be held twice, enough that a figure of it is read at once.
const PUT_ASIDE: usize = 4 << 20;

/// Threads have a few of these to do before they wait for each other.
const FEWEST: usize = 64;

/// One row of four-byte figures per replication and case, replication by replication.
///
/// The replications are consecutive, so that an interrupted run is a whole shorter run.
#[derive(Clone, Debug)]
pub struct Rows {
    cases: usize,
    width: usize,
    first: u64,
    parts: Vec<Part>,
}

/// Some of the replications.
#[derive(Clone, Debug)]
struct Part {
    /// Replications before it.
    start: usize,
    count: usize,
    held: Held,
}

#[derive(Clone, Debug)]
enum Held {
    /// Row by row.
    Memory(Arc<Vec<f32>>),
    /// Figure by figure, from a place in a file on.
    Aside(Arc<Aside>, u64),
}

/// Replications that are being run: row by row, all figures zero at first.
#[derive(Debug)]
pub(super) struct Block {
    row: usize,
    first: u64,
    data: Vec<f32>,
}

impl Block {
    /// The rows of each replication in turn, to be written: first case first.
    pub(super) fn by_replication(&mut self) -> impl Iterator<Item = (u64, &mut [f32])> + Send {
        (self.first..).zip(self.data.chunks_exact_mut(self.row))
    }

    /// Drops all but the first `count` replications.
    pub(super) fn keep(&mut self, count: u64) {
        let count = usize::try_from(count).unwrap_or(usize::MAX);
        self.data.truncate(count.saturating_mul(self.row));
        self.data.shrink_to_fit();
    }
}

impl Rows {
    /// None yet, of replications from this one on.
    ///
    /// # Panics
    /// If there are no cases or no figures.
    pub fn new(cases: usize, width: usize, first: u64) -> Self {
        assert!(cases > 0 && width > 0, "a study has cases and figures");
        Self {
            cases,
            width,
            first,
            parts: Vec::new(),
        }
    }

    /// Room for the replications that follow, of these: for all where they stay in memory, else for as many as are put aside together.
    pub(super) fn next_block(&self, replications: &Range<u64>) -> Block {
        let count = |from: u64| {
            usize::try_from(replications.end.saturating_sub(from))
                .expect("as many replications as can be counted")
        };
        let (row, next) = (self.cases * self.width, self.replications().end);
        let in_memory = (KEPT_IN_MEMORY / size_of::<f32>() / row).max(FEWEST);
        let together = match count(replications.start) <= in_memory {
            true => in_memory,
            false => (PUT_ASIDE / size_of::<f32>() / row).max(FEWEST),
        };
        Block {
            row,
            first: next,
            data: vec![0.0; count(next).min(together) * row],
        }
    }

    /// Adds the replications of a block, of a run of these. Where many are run it is put aside; where no file can be had for that it
    /// stays in memory.
    pub(super) fn push(&mut self, block: Block, replications: &Range<u64>) {
        let count = block.data.len() / block.row;
        if count == 0 {
            return;
        }
        let all = (replications.end - replications.start).saturating_mul(block.row as u64);
        let stays = all <= (KEPT_IN_MEMORY / size_of::<f32>()) as u64 || count < FEWEST;
        let before = self.parts.iter().rev().find_map(|part| match &part.held {
            Held::Aside(file, _) => Some(Arc::clone(file)),
            Held::Memory(_) => None,
        });
        let aside = (!stays).then(|| before.or_else(|| Aside::new().ok().map(Arc::new)));
        let put = aside.flatten().and_then(|file| {
            let at = file.put(&block.data, block.row).ok()?;
            Some(Held::Aside(file, at))
        });
        let start = self.len();
        self.parts.push(Part {
            start,
            count,
            held: put.unwrap_or_else(|| Held::Memory(Arc::new(block.data))),
        });
    }

    /// Adds the next so many replications, of a run of these, as they are told by `read`, which fills the rows of some at a time.
    ///
    /// # Errors
    /// As of `read`; those that were read before stay.
    ///
    /// # Panics
    /// If the run has not so many more.
    pub(super) fn read_in(
        &mut self,
        count: u64,
        replications: &Range<u64>,
        mut read: impl FnMut(&mut [f32]) -> io::Result<()>,
    ) -> io::Result<()> {
        let end = self.replications().end + count;
        assert!(end <= replications.end, "{end} of {replications:?}");
        while self.replications().end < end {
            let mut block = self.next_block(replications);
            block.keep(end - self.replications().end);
            read(&mut block.data)?;
            self.push(block, replications);
        }
        Ok(())
    }

    /// All rows in their order, some replications at a time: first case first.
    ///
    /// # Panics
    /// If the file in which they were put aside cannot be read any more.
    pub(super) fn blocks(&self) -> impl Iterator<Item = Cow<'_, [f32]>> {
        let columns = self.cases * self.width;
        self.parts.iter().map(move |part| match &part.held {
            Held::Memory(data) => data.as_slice().into(),
            Held::Aside(file, at) => {
                let rows = file.rows((*at, part.count), columns);
                rows.expect(READABLE).into()
            }
        })
    }

    /// How many cases were run in each replication.
    pub fn cases(&self) -> usize {
        self.cases
    }

    /// How many figures a row has.
    pub fn width(&self) -> usize {
        self.width
    }

    /// The replications that are here.
    pub fn replications(&self) -> Range<u64> {
        self.first..self.first + self.len() as u64
    }

    /// How many replications are here.
    pub fn len(&self) -> usize {
        self.parts.last().map_or(0, |last| last.start + last.count)
    }

    /// Whether there are none, as after an interruption before the first was done.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The figures of one case in one replication, which is counted as it was asked for, not from the first one here.
    ///
    /// # Panics
    /// If the case or the replication is not here, or the file in which it was put aside cannot be read any more.
    pub fn row(&self, case: usize, replication: u64) -> Cow<'_, [f32]> {
        assert!(case < self.cases, "case {case} of {}", self.cases);
        assert!(
            self.replications().contains(&replication),
            "replication {replication} is not in {:?}",
            self.replications()
        );
        let position = (replication - self.first) as usize;
        let part = self.parts.partition_point(|part| part.start <= position) - 1;
        let part = &self.parts[part];
        let nth = position - part.start;
        let within = (nth * self.cases + case) * self.width;
        match &part.held {
            Held::Memory(data) => data[within..within + self.width].into(),
            Held::Aside(file, at) => {
                let columns = self.cases * self.width;
                let row = file.row((*at, part.count), columns, nth);
                let row = row.expect(READABLE);
                row[case * self.width..(case + 1) * self.width]
                    .to_vec()
                    .into()
            }
        }
    }

    /// One figure of one case over all replications, in their order.
    ///
    /// # Panics
    /// If the case or the column is not here, or the file in which it was put aside cannot be read any more.
    pub fn values(&self, case: usize, column: usize) -> impl ExactSizeIterator<Item = f64> + '_ {
        assert!(case < self.cases, "case {case} of {}", self.cases);
        assert!(column < self.width, "column {column} of {}", self.width);
        Values {
            rows: self,
            at: case * self.width + column,
            next: 0,
            part: Vec::new().into_iter(),
            left: self.len(),
        }
    }
}

/// The same replications with the same figures, wherever they are held.
impl PartialEq for Rows {
    fn eq(&self, other: &Self) -> bool {
        let shape = |rows: &Self| (rows.cases, rows.width, rows.replications());
        shape(self) == shape(other)
            && (0..self.cases).all(|case| {
                (0..self.width)
                    .all(|column| self.values(case, column).eq(other.values(case, column)))
            })
    }
}

/// A file without a name is gone only with its disk.
const READABLE: &str = "what was put aside can be read again";

/// One figure of one case, part by part.
struct Values<'r> {
    rows: &'r Rows,
    at: usize,
    next: usize,
    part: std::vec::IntoIter<f32>,
    left: usize,
}

impl Iterator for Values<'_> {
    type Item = f64;

    #[inline]
    fn next(&mut self) -> Option<f64> {
        loop {
            if let Some(value) = self.part.next() {
                self.left -= 1;
                return Some(f64::from(value));
            }
            let part = self.rows.parts.get(self.next)?;
            self.next += 1;
            let columns = self.rows.cases * self.rows.width;
            let values: Vec<f32> = match &part.held {
                Held::Memory(data) => data
                    .iter()
                    .skip(self.at)
                    .step_by(columns)
                    .copied()
                    .collect(),
                Held::Aside(file, at) => file.column((*at, part.count), self.at).expect(READABLE),
            };
            self.part = values.into_iter();
        }
    }

    fn size_hint(&self) -> (usize, Option<usize>) {
        (self.left, Some(self.left))
    }
}

impl ExactSizeIterator for Values<'_> {}

#[cfg(test)]
mod tests {
    use super::*;

    /// Replications whose figures tell their place.
    fn rows(cases: usize, width: usize, replications: Range<u64>, aside: bool) -> Rows {
        let mut rows = Rows::new(cases, width, replications.start);
        // As if there were so many more that they are put aside.
        let all = match aside {
            true => replications.start..replications.start + (1 << 40),
            false => replications.clone(),
        };
        while rows.replications().end < replications.end {
            let mut block = rows.next_block(&all);
            block.keep(replications.end - rows.replications().end);
            for (replication, row) in block.by_replication() {
                for (at, figure) in row.iter_mut().enumerate() {
                    *figure = (replication * 100 + at as u64) as f32;
                }
            }
            rows.push(block, &all);
        }
        rows
    }

    #[test]
    fn what_is_put_aside_is_the_same() {
        let (cases, width, replications) = (3, 7, 5..130_005);
        let aside = rows(cases, width, replications.clone(), true);
        let kept = rows(cases, width, replications.clone(), false);
        assert!(aside.parts.len() > 2);
        let is_aside = |part: &Part| matches!(part.held, Held::Aside(..));
        assert!(aside.parts.iter().all(is_aside));
        assert!(!kept.parts.iter().any(is_aside));
        assert_eq!(aside, kept);
        assert_eq!(aside.values(2, 6).len(), 130_000);
        assert_eq!(
            aside.values(1, 3).nth(129_999),
            Some(13_000_410.0_f32.into())
        );
        for replication in [5, 6, 70_000, 130_004, 6] {
            assert_eq!(aside.row(2, replication), kept.row(2, replication));
            assert_eq!(
                aside.row(2, replication)[1],
                (replication * 100 + 15) as f32
            );
        }
        // All at once, and read in again with more behind.
        let told: Vec<f32> = aside.blocks().flat_map(|block| block.to_vec()).collect();
        let mut told = told.into_iter();
        let mut longer = Rows::new(cases, width, 5);
        let all = 5..130_010;
        let read = longer.read_in(130_000, &all, |figures| {
            figures.fill_with(|| told.next().expect("as many as there are"));
            Ok(())
        });
        read.expect("it is memory");
        assert_eq!((told.next(), &longer), (None, &aside));
        let read = longer.read_in(5, &all, |figures| {
            figures.fill(7.0);
            Ok(())
        });
        read.expect("it is memory");
        assert_eq!(longer.len(), 130_005);
        assert_eq!(longer.row(0, 130_009)[0], 7.0);
        assert_ne!(longer, aside);
    }
}
