//! What every study is asked beside its question: the seed, and how many threads may work.

use clap::Args;
use std::num::NonZeroUsize;

/// Seed and threads.
#[derive(Debug, Args)]
pub(super) struct Luck {
    /// Seed of all luck: the same seed gives the same answer
    #[arg(long, default_value_t = 1)]
    pub(super) seed: u64,
    /// Threads; the answer does not depend on it [default: all]
    #[arg(long, value_name = "N")]
    pub(super) threads: Option<NonZeroUsize>,
}
