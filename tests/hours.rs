//! Hours of service: the worked cases of `tests/data/hours_cases.json`, each with its source beside it, and the clocks that are
//! carried along against the same clocks from their definitions.

#[path = "hours/cases.rs"]
mod cases;
#[path = "hours/exceptions.rs"]
mod exceptions;
#[path = "hours/properties.rs"]
mod properties;
