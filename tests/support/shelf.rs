//! A shelf in memory on which the runs of a study are kept, and what stood on it each time: what a kill at that moment leaves.

use plantday::montecarlo::{Broken, KeptRun, Reader, Shelf, write};
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use std::sync::Mutex;

/// Files of runs by their numbers.
pub(crate) type Standing = BTreeMap<u64, Vec<u8>>;

#[derive(Default)]
pub(crate) struct Memory {
    standing: Mutex<Standing>,
    times: Mutex<Vec<Standing>>,
    taken_up: Mutex<u64>,
    refused: Mutex<Vec<u64>>,
}

impl Memory {
    pub(crate) fn of(standing: Standing) -> Self {
        Self {
            standing: Mutex::new(standing),
            ..Self::default()
        }
    }

    /// What stood there each time that something was kept.
    pub(crate) fn times(self) -> Vec<Standing> {
        self.times.into_inner().expect("nobody holds it")
    }

    /// How many runs were taken up, but for those that were of no use.
    pub(crate) fn taken_up(&self) -> u64 {
        *self.taken_up.lock().expect("nobody holds it") - self.refused().len() as u64
    }

    /// The runs that were of no use.
    pub(crate) fn refused(&self) -> Vec<u64> {
        self.refused.lock().expect("nobody holds it").clone()
    }
}

impl Shelf for Memory {
    fn kept(&self, number: u64) -> Option<Reader<Box<dyn Read>>> {
        let standing = self.standing.lock().expect("nobody holds it");
        let file: Box<dyn Read> = Box::new(Cursor::new(standing.get(&number)?.clone()));
        *self.taken_up.lock().expect("nobody holds it") += 1;
        Some(Reader::open(file).expect("it is whole"))
    }

    fn keep(&self, runs: &[KeptRun]) {
        let mut standing = self.standing.lock().expect("nobody holds it");
        for run in runs {
            let mut file = Vec::new();
            write(&mut file, "", &run.rows, &run.sums).expect("it is memory");
            standing.insert(run.number, file);
        }
        let mut times = self.times.lock().expect("nobody holds it");
        times.push(standing.clone());
    }

    fn refuse(&self, number: u64, _: &Broken) {
        self.refused.lock().expect("nobody holds it").push(number);
    }
}
