//! The answers of `trip`, drawn.
