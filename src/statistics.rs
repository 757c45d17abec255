//! Intervals, paired differences, proportions: pure functions over per-replication values.
