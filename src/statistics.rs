//! Intervals, paired differences, proportions: pure functions over per-replication values.
//!
//! The replications of a study are the sample: one value per replication, in the order of the replications. Loads of one
//! replication share its luck and are never treated as independent. A value that is not a number stands for a blank (a
//! cost per yd³ in a replication that placed nothing): it is left out and counted.

mod best;
mod correlation;
mod cover;
mod interval;
mod kim_nelson;
mod mean;
mod paired;
mod proportion;
mod quantile;
mod run_length;
pub mod scaling;
mod shapley;
mod statement;
mod student;
mod sum;
mod summary;
mod surprise;
mod tally;
mod two_way;

pub use best::{Selection, Verdict, mcb_intervals};
pub use correlation::Correlation;
pub use cover::fewest_for;
pub use interval::Interval;
pub use kim_nelson::{Elimination, KimNelson, KimNelsonConstants};
pub use mean::mean_interval;
pub use paired::Paired;
pub use proportion::{
    Chance, chance_difference, share_at_least, share_at_most, share_between, trials_without_event,
    wilson,
};
pub use quantile::{Ranks, quantile, quantile_interval, quantile_of_sorted};
pub use run_length::replications_for_error;
pub use shapley::{Parts, Shapley};
pub use statement::{AFFECTED_FOR_A_MEAN, Contrast, Statement};
pub use student::{normal_quantile, t_critical, t_quantile};
pub use summary::{Estimate, Summary};
pub use surprise::surprise;
pub use tally::{PairTally, Tally};
pub use two_way::TwoWay;
