//! The answers of `trip`, drawn. Each question makes a [`Shown`] of its answer; terminal, page and files are the same for all.

mod calibration;
mod fetch;
mod load;
mod order;
mod shown;
mod words;

pub use shown::{Asked, Shown};

use super::files::{self, FileError};
use crate::studies::trip::{Calibration, FetchAnswer, LoadAnswer, OrderAnswer};
use std::path::{Path, PathBuf};

/// An answer to one of the questions.
#[derive(Clone, Debug)]
pub enum TripAnswer {
    /// May this load go?
    Load(Box<LoadAnswer>),
    /// Can we take this order?
    Order(OrderAnswer),
    /// Who fetches a stranded driver?
    Fetch(FetchAnswer),
    /// Does what is foretold come true?
    Calibration(Calibration),
}

impl TripAnswer {
    /// Whether what was asked is possible with the chance asked for.
    pub fn is_yes(&self) -> bool {
        use crate::studies::trip::LoadVerdict;
        match self {
            Self::Load(load) => load.verdict == LoadVerdict::Yes,
            Self::Order(order) => order.first_that_holds.is_some(),
            Self::Fetch(_) | Self::Calibration(_) => true,
        }
    }

    /// Whether it was interrupted.
    pub fn stopped(&self) -> bool {
        match self {
            Self::Load(load) => load.stopped,
            Self::Order(order) => order.stopped,
            Self::Fetch(fetch) => fetch.stopped,
            Self::Calibration(found) => found.stopped,
        }
    }

    /// What is shown of it.
    pub fn shown(&self, asked: &Asked<'_>) -> Shown {
        match self {
            Self::Load(load) => load::shown(load, asked),
            Self::Order(order) => order::shown(order, asked),
            Self::Fetch(fetch) => fetch::shown(fetch, asked),
            Self::Calibration(found) => calibration::shown(found, asked),
        }
    }
}

/// Writes every file of an answer into a folder and returns their paths.
///
/// # Errors
/// The first file that could not be written.
pub fn write(shown: &Shown, asked: &Asked<'_>, folder: &Path) -> Result<Vec<PathBuf>, FileError> {
    files::create_folder(folder)?;
    shown
        .files(asked)
        .into_iter()
        .map(|(name, content)| {
            let path = folder.join(name);
            files::write(&path, &content).map(|()| path)
        })
        .collect()
}
