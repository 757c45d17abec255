//! The `plantday` program: parse, call, exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    plantday::run()
}
