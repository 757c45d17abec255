//! Past tickets: as a table, and what is found of them.

mod charts;
mod check;
mod fits;
mod here;
mod parts;
mod sentences;
mod spread_text;
mod table;

pub use check::answer as check;
pub use fits::answer as fits;
pub use table::table;
