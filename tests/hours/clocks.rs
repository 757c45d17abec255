//! Hours of service: the worked examples of `plantday verify`, and the clocks that are
//! carried along against the same clocks from their definitions.

mod carried;
mod cases;
mod claims;
mod exceptions;
mod history;
mod properties;
