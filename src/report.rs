//! Draws results: tables, charts, files. Computes none.

pub mod chart;
pub mod compare;
pub mod csv_text;
pub mod files;
pub mod fleet;
pub mod hours;
pub mod number;
mod plain_text;
pub mod problems;
pub mod staff;
pub mod summary;
pub mod table;
mod wrap;
