//! Spoils a text: tokens, lines, columns and bytes are swapped, dropped, doubled and replaced by hostile ones.

use rand::rngs::ChaCha8Rng;
use rand::seq::IndexedRandom;
use rand::{Rng, RngExt};
use std::ops::Range;

/// What may stand in a file and nobody expects.
const HOSTILE: [&str; 87] = [
    "",
    "0",
    "-0",
    "-0.0",
    "-1",
    "1",
    "0.5",
    "1e308",
    "-1e308",
    "1e-320",
    "1e9",
    "NaN",
    "nan",
    "inf",
    "-inf",
    "Infinity",
    "9223372036854775807",
    "9223372036854775808",
    "18446744073709551616",
    "99999999999999999999999999999",
    "0.00000000001",
    "1_000",
    "0x7f",
    "1,5",
    "1.5.2",
    "+3",
    "\"\"",
    "\" \"",
    "\"a\\u{0}b\"",
    "\"2026-02-29\"",
    "\"2028-02-29\"",
    "2026-02-29T05:00",
    "2026-03-08T02:30",
    "2026-11-01T01:30",
    "2026-11-01T01:30-05:00",
    "9999-12-31",
    "0000-00-00",
    "-9999-01-01T00:00",
    "2/29/2026",
    "24:00",
    "\"24:00\"",
    "\"25:00\"",
    "\"-1:00\"",
    "\"23:59 +1\"",
    "\"00:00 +28\"",
    "\"5:00 PM\"",
    "\"12:60\"",
    "=1+1",
    "\"=1+1\"",
    "@SUM(A1)",
    "🚚",
    "\"🚚\u{200d}🚚\"",
    "\u{202e}",
    "\"\u{5d0}\u{5e0}\"",
    "\u{feff}",
    "\r\n",
    "\r",
    "\0",
    "\u{1b}[2J",
    "\u{2028}",
    "None",
    "Some(1)",
    "true",
    "false",
    "()",
    "[]",
    "{}",
    "(",
    ")",
    "[",
    "]",
    "{",
    "}",
    "\"",
    "'",
    "//",
    "/*",
    "r#\"",
    "#",
    ",",
    ";",
    ":",
    "Table(\"orders.csv\")",
    "Uniform(0, 1e308)",
    "Lognormal(mean: 1e300, cv: 1e300)",
    "Triangular(0, 0, 0)",
    "Poisson(1e6)",
];

/// Of longer texts only this much is read: what is enormous has tests of its own.
const LONGEST: usize = 2 << 20;

/// A text spoiled in a few ways; `others` are what pieces are taken from.
pub(super) fn spoiled(rng: &mut ChaCha8Rng, text: &str, others: &[String]) -> Vec<u8> {
    let mut text = text.to_owned();
    // One change mostly: with many nothing gets past the first problem.
    let changes = *[1, 1, 1, 1, 2, 2, 3, 8].choose(rng).expect("some");
    for _ in 0..changes {
        text = once(rng, text, others);
    }
    let mut bytes = text.into_bytes();
    match rng.random_range(0..60) {
        0 => bytes.truncate(rng.random_range(0..bytes.len().max(1))),
        1 | 2 => flip(rng, &mut bytes),
        3 => bytes.splice(0..0, [0xEF, 0xBB, 0xBF]).for_each(drop),
        4 => {
            let text = String::from_utf8_lossy(&bytes).into_owned();
            bytes = [0xFF, 0xFE]
                .into_iter()
                .chain(text.encode_utf16().flat_map(u16::to_le_bytes))
                .collect();
        }
        _ => {}
    }
    bytes.truncate(LONGEST);
    bytes
}

/// Some bits of some bytes.
pub(super) fn flip(rng: &mut ChaCha8Rng, bytes: &mut [u8]) {
    for _ in 0..rng.random_range(1..=4) {
        if !bytes.is_empty() {
            let at = rng.random_range(0..bytes.len());
            bytes[at] ^= 1 << rng.random_range(0..8);
        }
    }
}

fn once(rng: &mut ChaCha8Rng, text: String, others: &[String]) -> String {
    let tokens = tokens(&text);
    let (Some(one), Some(other)) = (tokens.choose(rng), tokens.choose(rng)) else {
        return hostile(rng);
    };
    let put = |at: &Range<usize>, by: &str| format!("{}{by}{}", &text[..at.start], &text[at.end..]);
    match rng.random_range(0..100) {
        0..=29 => put(one, &hostile(rng)),
        30..=49 => put(one, &text[other.clone()]),
        50..=66 => match tokens
            .iter()
            .filter(|at| text[(*at).clone()].parse::<f64>().is_ok())
            .collect::<Vec<_>>()
            .choose(rng)
        {
            Some(number) => put(number, &turned(rng, &text[(*number).clone()])),
            None => put(one, &hostile(rng)),
        },
        67..=72 => put(one, ""),
        73..=77 => put(&(one.end..one.end), &text[one.clone()]),
        78..=82 => {
            let (first, second) = if one.start < other.start {
                (one, other)
            } else {
                (other, one)
            };
            let swapped = put(second, &text[first.clone()]);
            format!(
                "{}{}{}",
                &swapped[..first.start],
                &text[second.clone()],
                &swapped[first.end..]
            )
        }
        83..=85 => match others.choose(rng) {
            Some(file) => {
                let theirs = self::tokens(file);
                theirs
                    .choose(rng)
                    .map_or(text.clone(), |token| put(one, &file[token.clone()]))
            }
            None => text,
        },
        86..=89 => lines(rng, &text),
        90..=94 => columns(rng, &text),
        95 => text.replace('\n', "\r\n"),
        96 => match others.choose(rng) {
            Some(file) => format!("{text}{file}"),
            None => format!("{text}{text}"),
        },
        97 => put(&(one.end..one.end), &long(rng)),
        98 => text[..one.start].to_owned(),
        _ => text[one.start..].to_owned(),
    }
}

/// Lines dropped, doubled, swapped, repeated.
fn lines(rng: &mut ChaCha8Rng, text: &str) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    let (one, other) = (
        rng.random_range(0..lines.len()),
        rng.random_range(0..lines.len()),
    );
    match rng.random_range(0..4) {
        0 => drop(lines.remove(one)),
        1 => lines.insert(other, lines[one]),
        2 => lines.swap(one, other),
        _ => lines.splice(one..one, vec![lines[one]; 300]).for_each(drop),
    }
    lines.join("\n")
}

/// Columns of a table dropped, doubled, swapped; its cells parted by something else.
fn columns(rng: &mut ChaCha8Rng, text: &str) -> String {
    let width = text
        .lines()
        .next()
        .map_or(1, |line| line.split(',').count());
    let (one, other) = (rng.random_range(0..width), rng.random_range(0..width));
    let (how, between) = (
        rng.random_range(0..4),
        *[",", ";", "\t", ",,"].choose(rng).expect("some"),
    );
    let change = |line: &str| {
        let mut cells: Vec<&str> = line.split(',').collect();
        if cells.len() > one.max(other) {
            match how {
                0 => drop(cells.remove(one)),
                1 => cells.insert(other, cells[one]),
                2 => cells.swap(one, other),
                _ => return cells.join(between),
            }
        }
        cells.join(",")
    };
    text.lines().map(change).collect::<Vec<_>>().join("\n")
}

/// A number made another.
fn turned(rng: &mut ChaCha8Rng, number: &str) -> String {
    let value: f64 = number.parse().expect("it is one");
    let other = match rng.random_range(0..9) {
        0 => value * 10.0,
        1 => value / 10.0,
        2 => -value,
        3 => value + 1.0,
        4 => value - 1.0,
        5 => value * 1e6,
        6 => value * 2.0,
        7 => value / 2.0,
        _ => 0.0,
    };
    other.to_string()
}

fn hostile(rng: &mut ChaCha8Rng) -> String {
    match rng.random_range(0..40) {
        0 => long(rng),
        1 => format!("{:?}", "Quay ".repeat(rng.random_range(1..2_000))),
        2 => rng.next_u64().to_string(),
        _ => (*HOSTILE.choose(rng).expect("some")).to_owned(),
    }
}

/// Something very long or very deep.
fn long(rng: &mut ChaCha8Rng) -> String {
    let piece = *[
        "[", "(", "{", "a", "9", "(a:", "[[]", "\"", "a,", "\n", "/*", "Uniform(", "-", "\u{301}",
        "1,", "\\",
    ]
    .choose(rng)
    .expect("some");
    piece.repeat(*[30, 300, 5_000, 100_000].choose(rng).expect("some") / piece.len())
}

/// Words and numbers, texts in quotes, signs; comments are none.
pub(super) fn tokens(text: &str) -> Vec<Range<usize>> {
    let bytes = text.as_bytes();
    let is_word = |byte: u8| {
        byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'.' | b'-' | b'+') || byte >= 0x80
    };
    let (mut tokens, mut at) = (Vec::new(), 0);
    while at < bytes.len() {
        let from = at;
        at += 1;
        match bytes[from] {
            byte if byte.is_ascii_whitespace() => continue,
            b'/' if bytes.get(at) == Some(&b'/') => {
                at = text[from..]
                    .find('\n')
                    .map_or(bytes.len(), |end| from + end);
                continue;
            }
            b'"' => {
                while at < bytes.len() && bytes[at] != b'"' && bytes[at] != b'\n' {
                    at += if bytes[at] == b'\\' { 2 } else { 1 };
                }
                at = text.ceil_char_boundary((at + 1).min(bytes.len()));
            }
            byte if is_word(byte) => {
                while at < bytes.len() && is_word(bytes[at]) {
                    at += 1;
                }
            }
            _ => {}
        }
        tokens.push(from..at);
    }
    tokens
}
