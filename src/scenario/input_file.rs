//! The bytes of a file that a user names: as many as a file of its kind can have, so that one without an end is refused and not read until
//! the memory is full.

use std::fs::File;
use std::io::{self, ErrorKind, Read};
use std::path::Path;

/// The most that is read of one file, in MiB.
pub const LARGEST_MIB: u64 = 64;

/// Reads a file whole.
///
/// # Errors
/// It cannot be read; it is larger than [`LARGEST_MIB`]: [`ErrorKind::FileTooLarge`].
pub(crate) fn read(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    // What the system says of the size is not believed: of a device it is nothing.
    let most = LARGEST_MIB << 20;
    File::open(path)?.take(most + 1).read_to_end(&mut bytes)?;
    match bytes.len() as u64 > most {
        true => Err(io::Error::new(ErrorKind::FileTooLarge, too_large())),
        false => Ok(bytes),
    }
}

fn too_large() -> String {
    format!(
        "it has more than {LARGEST_MIB} MiB, the most that is read of one file (plantday help limits)"
    )
}
