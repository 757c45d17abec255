//! Hours of service: the worked cases of `tests/data/hours_cases.json`, each with its source beside it, and the clocks that are
//! carried along against the same clocks from their definitions.

mod cases;
mod exceptions;
mod properties;
