//! Workbooks: bytes of the file, and parts within a file that is sound.

use super::corpus::{IN_TABLES, SCENARIOS};
use super::mutate::{flip, spoiled};
use super::{Attack, Outcome, in_folder, played, read_in_bounds};
use plantday::scenario::{self, as_workbook, past_tickets};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use rand::seq::IndexedRandom;
use std::io::{Cursor, Read, Write};
use std::path::Path;
use tempfile::TempDir;
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

const OF_OTHERS: [&[u8]; 5] = [
    include_bytes!("../../data/tables/odd.xlsx"),
    include_bytes!("../../data/tables/epoch1904.xlsx"),
    include_bytes!("../../data/tables/cached.xlsx"),
    include_bytes!("../../data/tables/saved.xlsx"),
    include_bytes!("../../data/tables/yard.xlsx"),
];

/// The parts of a workbook by their names.
type Parts = Vec<(String, Vec<u8>)>;

pub(super) fn unpacked(book: &[u8]) -> Parts {
    let mut archive = ZipArchive::new(Cursor::new(book)).expect("it is a workbook");
    (0..archive.len())
        .map(|at| {
            let mut part = archive.by_index(at).expect("it is there");
            let mut bytes = Vec::new();
            part.read_to_end(&mut bytes).expect("it can be unpacked");
            (part.name().expect("a name").into_owned(), bytes)
        })
        .collect()
}

pub(super) fn packed(parts: &Parts) -> Vec<u8> {
    let mut file = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        let options = SimpleFileOptions::default();
        file.start_file(name.as_str(), options)
            .expect("it is in memory");
        file.write_all(bytes).expect("it is in memory");
    }
    file.finish().expect("it is in memory").into_inner()
}

/// Markup that a sheet may hold and nobody expects.
const MARKUP: [&str; 24] = [
    "r=\"XFD1048576\"",
    "r=\"A0\"",
    "r=\"ZZZZZZ1\"",
    "r=\"A99999999999\"",
    "t=\"s\"",
    "t=\"e\"",
    "t=\"b\"",
    "t=\"d\"",
    "t=\"inlineStr\"",
    "<v>-1</v>",
    "<v>99999999</v>",
    "<v>1e308</v>",
    "<v>NaN</v>",
    "<v>2958466</v>",
    "<v>-0.5</v>",
    "<f>1+1</f>",
    "<f t=\"shared\" si=\"0\" ref=\"A1:XFD1048576\">A1</f>",
    "<mergeCell ref=\"A1:XFD1048576\"/>",
    "<mergeCell ref=\"B2:A1\"/>",
    "<dimension ref=\"A1:XFD1048576\"/>",
    "s=\"4000000000\"",
    "&amp;&lt;&#0;",
    "<!DOCTYPE a [<!ENTITY b \"c\">]>",
    "hidden=\"1\"",
];

fn spoil(rng: &mut ChaCha8Rng, books: &[(Vec<u8>, Parts)]) -> Vec<u8> {
    let (book, parts) = books.choose(rng).expect("there are some");
    if rng.random_bool(0.15) {
        let mut bytes = book.clone();
        flip(rng, &mut bytes);
        if rng.random_bool(0.2) {
            bytes.truncate(rng.random_range(0..bytes.len()));
        }
        return bytes;
    }
    let mut parts = parts.clone();
    // Sheets and what they refer to, mostly.
    let read: Vec<usize> = (0..parts.len())
        .filter(|at| {
            ["sheet", "sharedStrings", "styles", "workbook"]
                .iter()
                .any(|part| parts[*at].0.contains(part))
        })
        .collect();
    let at = *read.choose(rng).expect("there are some");
    match rng.random_range(0..20) {
        0 => drop(parts.remove(at)),
        1 => {
            let other = *read.choose(rng).expect("there are some");
            parts[at].1 = parts[other].1.clone();
        }
        2 => flip(rng, &mut parts[at].1),
        3..=8 => {
            // In place of something between two signs of markup.
            let text = String::from_utf8_lossy(&parts[at].1).into_owned();
            let cuts: Vec<usize> = text
                .char_indices()
                .filter(|(_, sign)| "<> ".contains(*sign))
                .map(|(at, _)| at)
                .collect();
            let from = rng.random_range(0..cuts.len());
            let to = (from + rng.random_range(0..3)).min(cuts.len() - 1);
            let by = MARKUP.choose(rng).expect("some");
            parts[at].1 = format!("{}{by}{}", &text[..cuts[from]], &text[cuts[to]..]).into_bytes();
        }
        _ => {
            let text = String::from_utf8_lossy(&parts[at].1).into_owned();
            parts[at].1 = spoiled(rng, &text, &[]);
        }
    }
    packed(&parts)
}

/// Scenarios written as workbooks, and tables of other programs read as tickets.
#[test]
fn workbooks() {
    let folder = TempDir::new().expect("a folder");
    for (name, text) in IN_TABLES {
        in_folder(folder.path(), name, text.as_bytes());
    }
    let written = |text: &str, within: Option<&Path>| {
        as_workbook("day.ron", text, within, &[])
            .map_or_else(|faults| panic!("{faults}"), |book| book.bytes)
    };
    let shown = [
        "estuary_day",
        "hot_week",
        "metric_day",
        "starter",
        "night_mat",
    ];
    let shown = SCENARIOS.iter().filter(|(name, _)| shown.contains(name));
    let mut books: Vec<Vec<u8>> = shown.map(|(_, text)| written(text, None)).collect();
    books.push(written(IN_TABLES[0].1, Some(folder.path())));
    books.extend(OF_OTHERS.map(<[u8]>::to_vec));
    let books: Vec<(Vec<u8>, Parts)> = books
        .into_iter()
        .map(|book| {
            let parts = unpacked(&book);
            (book, parts)
        })
        .collect();
    Attack {
        reader: "workbook",
        short: 1_200,
        spoil: &|rng| spoil(rng, &books),
        read: &|bytes| {
            let path = in_folder(folder.path(), "spoiled.xlsx", bytes);
            let read = read_in_bounds(|| scenario::read(&path));
            let mut outcome = Outcome::of_file(read, |scenario| played::wrong(&scenario, false));
            let read = past_tickets::parse("june.xlsx", bytes.to_vec(), None);
            let tickets = Outcome::of(read, |_| None);
            outcome.wrong = outcome.wrong.or(tickets.wrong);
            outcome
        },
    }
    .run();
}
