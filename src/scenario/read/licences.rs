//! Licences, needs of trucks, and the days before the period: the fields that drivers and helpers share.

use super::super::decode::{Fields, Limits, flag, list, name, number, one_of, whole};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::{Node, Span};
use super::super::{Class, History, Licence, Need};
use super::rule_books::Books;
use crate::hours::RuleBook;
use crate::units::Millis;

const CLASSES: [(&str, Class); 4] = [
    ("Ordinary", Class::Ordinary),
    ("C", Class::C),
    ("B", Class::B),
    ("A", Class::A),
];

/// What drivers and helpers have in common.
#[derive(Clone, Debug)]
pub(super) struct Person {
    pub(super) rule_book: RuleBook,
    pub(super) licence: Option<Licence>,
    pub(super) history: History,
}

/// `rule_book?: …, class?: B, endorsements?: ["…"], restrictions?: ["…"], history?: ( … )`
pub(super) fn person(
    fields: &mut Fields<'_>,
    books: &mut Books,
    usual: RuleBook,
    problems: &Problems,
) -> Person {
    let find = |node: &Node, problems: &Problems| books.find(node, problems);
    let rule_book = fields.optional("rule_book", find, usual);
    let class = fields.off(&defaults::CLASS, one_of("licence class", &CLASSES));
    let names = |what| list(0..=20, what, name);
    let endorsements = fields.optional("endorsements", names("endorsement"), Vec::new());
    let restrictions = fields.optional("restrictions", names("restriction"), Vec::new());
    let unclassed = fields
        .place("endorsements")
        .or(fields.place("restrictions"))
        .filter(|_| fields.place("class").is_none());
    if let Some(span) = unclassed {
        problems.add::<()>(
            Problem::new(span, "a licence without its class")
                .label("expected `class: Ordinary`, `C`, `B` or `A` as well"),
        );
    }
    let day_start = books.day_start(rule_book);
    let past = |node: &Node, problems: &Problems| history(node, day_start, problems);
    let history = fields.off(&defaults::HISTORY, past).unwrap_or_default();
    Person {
        rule_book,
        licence: class.map(|class| Licence {
            class,
            endorsements,
            restrictions,
        }),
        history,
    }
}

/// `(class?: Ordinary | C | B | A, endorsements?: ["…"], bars?: ["…"])`
pub(super) fn need(node: &Node, problems: &Problems) -> Option<Need> {
    let mut fields = Fields::of(node, "need", problems)?;
    let class = one_of("licence class", &CLASSES);
    let class = fields.optional("class", class, Class::Ordinary);
    let names = |what| list(0..=20, what, name);
    let endorsements = fields.optional("endorsements", names("endorsement"), Vec::new());
    let bars = fields.optional("bars", names("restriction"), Vec::new());
    fields.finish();
    Some(Need {
        class,
        endorsements,
        bars,
    })
}

/// The days before the period; `day_start` is when the carrier's day starts.
fn history(node: &Node, day_start: Millis, problems: &Problems) -> Option<History> {
    let usual = History::default();
    let mut fields = Fields::of(node, "history", problems)?;
    let hours = number(Limits::between("hours on duty", 0.0, 24.0));
    let places = fields.place("hours");
    let hours = fields.optional("hours", list(0..=13, "day", hours), Vec::new());
    let released = Limits::between("hours before the first midnight", 0.0, 336.0);
    let span = fields.place("released_h_before");
    let released_before = fields.maybe("released_h_before", number(released));
    let worked = LastWorked::of(&hours, day_start);
    let released_before = released_before.unwrap_or(match &worked {
        // The evening of the last day worked, or later if its hours need it.
        Some(worked) => (24.0 * worked.ago + 6.0).min(worked.latest_before),
        None => usual.released_before.hours(),
    });
    if let (Some(worked), Some(span)) = (&worked, span.or(places)) {
        worked.check(released_before, span, problems);
    }
    let ago = whole(Limits::between("days before the first day", 1.0, 60.0));
    let last_long_day = fields.maybe("last_long_day", ago);
    let ended = fields.maybe("tours_ended_home", |node, problems| {
        list(0..=5, "tour", flag)(node, problems)
    });
    fields.finish();
    let mut tours_ended_home = usual.tours_ended_home;
    for (tour, home) in tours_ended_home.iter_mut().zip(ended.unwrap_or_default()) {
        *tour = home;
    }
    Some(History {
        hours,
        released_before: Millis::from_hours(released_before),
        last_long_day,
        tours_ended_home,
    })
}

/// The last day with hours on duty before the period, in hours before the first midnight.
struct LastWorked {
    /// Days before yesterday.
    ago: f64,
    /// Its hours on duty.
    hours: f64,
    /// When the carrier day began.
    began_before: f64,
    /// When it ended, or the first midnight.
    ended_before: f64,
    /// The longest time before midnight of a release that leaves room for its hours.
    latest_before: f64,
}

impl LastWorked {
    fn of(hours: &[f64], day_start: Millis) -> Option<Self> {
        let ago = hours.iter().position(|hours| *hours > 0.0)?;
        let (hours, ago) = (hours[ago], ago as f64);
        let began_before = 24.0 * (ago + 1.0) - day_start.hours();
        Some(Self {
            ago,
            hours,
            began_before,
            ended_before: (began_before - 24.0).max(0.0),
            latest_before: (began_before - hours).max(0.0),
        })
    }

    /// That a release leaves room for the hours of the day.
    fn check(&self, released: f64, span: Span, problems: &Problems) {
        let hair = 1e-6;
        let (title, label) = if self.hours > self.began_before - self.ended_before + hair {
            (
                format!("{} h on duty do not fit into yesterday", self.hours),
                format!(
                    "expected at most {} h: the carrier's day began so long before midnight",
                    self.began_before
                ),
            )
        } else if released > self.began_before {
            (
                "released before the day that was worked last".to_owned(),
                format!(
                    "expected at most {} h: the first of `hours` is yesterday's",
                    self.latest_before
                ),
            )
        } else if released > self.latest_before + hair {
            (
                format!(
                    "{} h on duty do not fit into the day before this release",
                    self.hours
                ),
                format!("expected at most {} h before midnight", self.latest_before),
            )
        } else if released < self.ended_before - hair {
            (
                "released on a day that is written with 0 hours".to_owned(),
                format!("expected at least {} h before midnight", self.ended_before),
            )
        } else {
            return;
        };
        problems.add::<()>(Problem::new(span, title).label(label));
    }
}
