//! Standard error. Who cannot hear is told nothing: a device that is full or closed there is no reason to lose an answer.

use std::fmt::Display;
use std::io::Write;

/// Says a line.
pub(crate) fn say(line: impl Display) {
    say_as_is(&format!("{line}\n"));
}

/// Says a text that ends its lines itself.
pub(crate) fn say_as_is(text: &str) {
    let mut stderr = anstream::stderr();
    let _ = stderr
        .write_all(text.as_bytes())
        .and_then(|()| stderr.flush());
}
