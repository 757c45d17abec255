//! The bytes of a file that a user names: as many as a file of its kind can have, so that one without an end is refused and not read until
//! the memory is full.

use std::fs::File;
use std::io::{self, BufReader, Cursor, ErrorKind, Read};
use std::path::Path;
use zip::ZipArchive;

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

/// Opens a file whose reader takes as much of it as its own beginning says, and no more.
///
/// # Errors
/// There is none, or it cannot be read.
pub(crate) fn open(path: &Path) -> io::Result<BufReader<File>> {
    Ok(BufReader::new(File::open(path)?))
}

/// The most that a packed file may hold, in MiB.
pub const LARGEST_UNPACKED_MIB: u64 = 256;

/// Whether a packed file (ZIP) holds no more than [`LARGEST_UNPACKED_MIB`], and no more texts are announced in it than there can be. It is
/// unpacked for that and thrown away: what a file says of its own size is not believed. One that is none is for its reader to refuse.
///
/// # Errors
/// It holds more, or announces more.
pub(crate) fn check_packed(bytes: &[u8]) -> Result<(), String> {
    let Ok(mut packed) = ZipArchive::new(Cursor::new(bytes)) else {
        return Ok(());
    };
    let mut left = LARGEST_UNPACKED_MIB << 20;
    for at in 0..packed.len() {
        let Ok(part) = packed.by_index(at) else {
            continue;
        };
        let mut part = part.take(left + 1);
        let mut head = Vec::new();
        // What cannot be unpacked is not read later, either.
        let _ = part.by_ref().take(HEAD).read_to_end(&mut head);
        let _ = io::copy(&mut part, &mut io::sink());
        let unpacked = left + 1 - part.limit();
        if announced(&head).is_some_and(|texts| texts > unpacked) {
            return Err("it announces more texts than it can hold".to_owned());
        }
        left = left.checked_sub(unpacked).ok_or_else(|| {
            format!(
                "more than {LARGEST_UNPACKED_MIB} MiB are packed in it, the most that is read of a workbook (plantday help limits)"
            )
        })?;
    }
    Ok(())
}

/// Of each part so many bytes are looked at for what it announces.
const HEAD: u64 = 64 << 10;

/// How many texts the list of shared texts says that it has (ECMA-376 part 1, 18.4.9): its reader makes room for them at once.
fn announced(head: &[u8]) -> Option<u64> {
    let head = String::from_utf8_lossy(head);
    let (_, list) = head.split_once("<sst").or(head.split_once(":sst"))?;
    let list = list.split_once('>').map_or(list, |(list, _)| list);
    let (_, count) = list.split_once("uniqueCount")?;
    let digits = count.trim_start_matches([' ', '\t', '\r', '\n', '=', '"', '\'', '+']);
    let end = digits
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(digits.len());
    // More digits than a number has are more than anything.
    (end > 0).then(|| digits[..end].parse().unwrap_or(u64::MAX))
}

fn too_large() -> String {
    format!(
        "it has more than {LARGEST_MIB} MiB, the most that is read of one file (plantday help limits)"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;
    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    /// A file of so many MiB of nothing, packed into a thousandth of it.
    fn packed(mib: u64) -> Vec<u8> {
        let mut file = ZipWriter::new(Cursor::new(Vec::new()));
        let options = SimpleFileOptions::default();
        file.start_file("a", options).expect("it is in memory");
        let nothing = vec![0; 1 << 20];
        for _ in 0..mib {
            file.write_all(&nothing).expect("it is in memory");
        }
        file.finish().expect("it is in memory").into_inner()
    }

    #[test]
    fn a_small_file_in_which_much_is_packed_is_refused() {
        assert!(packed(257).len() < 1 << 20);
        let refused = check_packed(&packed(257)).expect_err("it is too much");
        assert!(refused.contains("256 MiB"), "{refused}");
        assert_eq!(check_packed(&packed(256)), Ok(()));
        assert_eq!(check_packed(b"PK and no more"), Ok(()));
    }
}
