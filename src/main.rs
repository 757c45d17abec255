//! The `plantday` program: parse, call, exit code.

fn main() {}
