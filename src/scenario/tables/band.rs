//! A band of the day as people write it over a column: `5-7`, `07:00-09:00`, `5–7 AM`, `9 AM to 3 PM`, behind the name of a place.

/// From when to when, minutes since midnight; the end may lie beyond midnight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Band {
    pub(super) from: u32,
    pub(super) to: u32,
    /// Whether it may as well be twelve hours later: `3-6`, without AM or PM.
    either_half: bool,
}

const NOON: u32 = 720;
const DAY: u32 = 1_440;

impl Band {
    /// The same after another band of the same row: `9-3` and then `3-6` is the afternoon.
    pub(super) fn after(self, before: Option<Self>) -> Self {
        match before {
            Some(before)
                if self.either_half
                    && before.to > NOON
                    && self.from < before.to
                    && self.from + NOON >= before.to =>
            {
                Self {
                    from: self.from + NOON,
                    to: self.to + NOON,
                    either_half: false,
                }
            }
            _ => self,
        }
    }

    /// Its parts within one day.
    pub(super) fn within_day(self) -> Vec<(u32, u32)> {
        if self.to <= DAY {
            return vec![(self.from, self.to)];
        }
        vec![(0, self.to - DAY), (self.from, DAY)]
    }
}

/// What stands before the band at the end of a heading, and the band; none if it ends in none.
pub(super) fn behind(heading: &str) -> Option<(&str, Band)> {
    let heading = heading.trim().trim_end_matches([')', ']']).trim_end();
    // The longest end that is a band: `9 AM to 3 PM` rather than nothing of it.
    let starts = heading.char_indices().filter(|(at, c)| {
        c.is_ascii_digit() && !heading[..*at].ends_with(|c: char| c.is_alphanumeric() || c == ':')
    });
    for (at, _) in starts {
        if let Some(band) = band(&heading[at..]) {
            let name = heading[..at].trim_end_matches(|c: char| !c.is_alphanumeric() && c != '.');
            return Some((name, band));
        }
    }
    None
}

/// `5-7` and its like.
fn band(text: &str) -> Option<Band> {
    let text = text.to_lowercase().replace('.', "");
    let (from, to) = ["-", "\u{2013}", "\u{2014}", " to ", " until "]
        .iter()
        .find_map(|between| text.split_once(between))?;
    let (from, from_half) = clock(from.trim())?;
    let (to, to_half) = clock(to.trim().trim_end_matches('h').trim())?;
    let marked = |minutes: u32, half: Option<u32>| match half {
        Some(half) => (minutes <= NOON + 59).then(|| minutes % NOON + half),
        None => (minutes <= DAY).then_some(minutes),
    };
    let mut end = marked(to, to_half)?;
    let mut start = match (from_half, to_half) {
        // `5-7 AM`, `3-6 PM`, and `11-1 PM`, which begins before noon.
        (None, Some(half)) if from <= NOON + 59 => {
            let start = from % NOON + half;
            if start >= end && half == NOON {
                from % NOON
            } else {
                start
            }
        }
        _ => marked(from, from_half)?,
    };
    let bare = from_half.is_none() && to_half.is_none();
    let morning = bare && start <= NOON && end <= NOON;
    if morning && end <= start {
        end += NOON; // `9-3`
    }
    if end <= start {
        end += DAY; // `18-5`
    }
    if start == DAY {
        start = 0;
        end -= DAY;
    }
    Some(Band {
        from: start,
        to: end,
        either_half: morning && !text.contains(':') && !text.starts_with('0'),
    })
}

/// Minutes since midnight, and what AM or PM adds.
fn clock(text: &str) -> Option<(u32, Option<u32>)> {
    let (digits, half) = [
        ("am", Some(0)),
        ("pm", Some(NOON)),
        ("a", Some(0)),
        ("p", Some(NOON)),
        ("h", None),
    ]
    .iter()
    .find_map(|(end, half)| Some((text.strip_suffix(end)?.trim_end(), *half)))
    .unwrap_or((text, None));
    let (hour, minute) = match digits.split_once(':') {
        Some((hour, minute)) => (hour, minute),
        // `0700`
        None if digits.len() == 4 && digits.is_ascii() => digits.split_at(2),
        None => (digits, "00"),
    };
    let number = |text: &str| {
        (matches!(text.len(), 1 | 2) && text.bytes().all(|b| b.is_ascii_digit()))
            .then(|| text.parse::<u32>().ok())
            .flatten()
    };
    let (hour, minute) = (number(hour)?, number(minute)?);
    (hour <= 24 && minute < 60).then_some((hour * 60 + minute, half))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Clock times of both habits (24 hours, and AM and PM, noon being 12 PM); worked out by hand.
    #[test]
    fn bands_as_people_write_them() {
        for (heading, expected) in [
            ("Hill 5-7", Some(("Hill", 300, 420))),
            ("Hill 07:00-09:00", Some(("Hill", 420, 540))),
            ("Hill 5\u{2013}7 AM", Some(("Hill", 300, 420))),
            ("Hill (3 - 6 p.m.)", Some(("Hill", 900, 1080))),
            ("Old pier, 9 AM to 3 PM", Some(("Old pier", 540, 900))),
            ("North 11-1 PM", Some(("North", 660, 780))),
            ("North 9-3", Some(("North", 540, 900))),
            ("North 18-5", Some(("North", 1080, 1740))),
            ("North 0600-0730", Some(("North", 360, 450))),
            ("Plant 2 15-18", Some(("Plant 2", 900, 1080))),
            ("5-7", Some(("", 300, 420))),
            ("Hill", None),
            ("Pier 5", None),
            ("Lot 40-77", None),
        ] {
            let found = behind(heading);
            let found = found.map(|(name, band)| (name, band.from, band.to));
            assert_eq!(found, expected, "{heading}");
        }
    }

    #[test]
    fn a_band_without_a_half_goes_on_from_the_last() {
        let band = |text| behind(text).expect("a band").1;
        let afternoon = band("3-6").after(Some(band("9-3")));
        assert_eq!((afternoon.from, afternoon.to), (900, 1080));
        let marked = band("03:00-06:00").after(Some(band("9-3")));
        assert_eq!((marked.from, marked.to), (180, 360));
    }
}
