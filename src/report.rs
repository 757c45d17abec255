//! Draws results: tables, charts, files. Computes none.

pub mod answer;
mod assumptions;
pub mod causes;
pub mod chart;
pub mod compare;
pub mod csv_text;
mod day;
mod document;
mod figure;
pub mod files;
pub mod fleet;
mod fonts;
pub mod guide;
pub mod hours;
pub mod number;
mod plain_text;
pub mod problems;
pub mod replay;
mod rule_book;
pub(crate) mod shell;
pub mod sources;
pub mod staff;
pub mod summary;
pub mod table;
pub mod trip;
pub mod tune;
mod wrap;
