//! The figures of all replications in one flat table.

use std::ops::Range;

/// One row of four-byte figures per replication and case, replication by replication.
///
/// The replications are consecutive, so that an interrupted run is a whole shorter run.
#[derive(Clone, Debug, PartialEq)]
pub struct Rows {
    cases: usize,
    width: usize,
    first: u64,
    data: Vec<f32>,
}

impl Rows {
    /// Room for these replications, all figures zero.
    pub(super) fn zeroed(cases: usize, width: usize, replications: Range<u64>) -> Self {
        assert!(cases > 0 && width > 0, "a study has cases and figures");
        let count = usize::try_from(replications.end.saturating_sub(replications.start))
            .expect("as many replications as memory can hold");
        Self {
            cases,
            width,
            first: replications.start,
            data: vec![0.0; count * cases * width],
        }
    }

    /// The rows of each replication in turn, to be written: first case first.
    pub(super) fn by_replication(&mut self) -> impl Iterator<Item = (u64, &mut [f32])> + Send {
        (self.first..).zip(self.data.chunks_exact_mut(self.cases * self.width))
    }

    /// Drops all but the first `count` replications.
    pub(super) fn keep(&mut self, count: u64) {
        let count = usize::try_from(count).unwrap_or(usize::MAX);
        self.data
            .truncate(count.saturating_mul(self.cases * self.width));
        self.data.shrink_to_fit();
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
        self.data.len() / (self.cases * self.width)
    }

    /// Whether there are none, as after an interruption before the first was done.
    pub fn is_empty(&self) -> bool {
        self.data.is_empty()
    }

    /// The figures of one case in one replication, which is counted as it was asked for, not from the first one here.
    ///
    /// # Panics
    /// If the case or the replication is not here.
    pub fn row(&self, case: usize, replication: u64) -> &[f32] {
        assert!(case < self.cases, "case {case} of {}", self.cases);
        assert!(
            self.replications().contains(&replication),
            "replication {replication} is not in {:?}",
            self.replications()
        );
        let start = ((replication - self.first) as usize * self.cases + case) * self.width;
        &self.data[start..start + self.width]
    }

    /// One figure of one case over all replications, in their order.
    ///
    /// # Panics
    /// If the case or the column is not here.
    pub fn values(&self, case: usize, column: usize) -> impl ExactSizeIterator<Item = f64> + '_ {
        assert!(case < self.cases, "case {case} of {}", self.cases);
        assert!(column < self.width, "column {column} of {}", self.width);
        let at = case * self.width + column;
        self.data
            .chunks_exact(self.cases * self.width)
            .map(move |replication| f64::from(replication[at]))
    }

    /// Adds the replications that follow these.
    ///
    /// # Panics
    /// If they do not follow, or have other cases or figures.
    pub fn extend(&mut self, more: Self) {
        assert_eq!(
            (self.cases, self.width, self.replications().end),
            (more.cases, more.width, more.first),
            "only the next replications of the same study can follow"
        );
        self.data.extend(more.data);
    }
}
