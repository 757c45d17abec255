//! Licences, needs of trucks, and the days before the period: the fields that drivers and helpers share.

use super::super::decode::{Fields, Limits, flag, list, name, number, one_of, whole};
use super::super::problem::{Problem, Problems};
use super::super::tree::Node;
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
    let class = fields.maybe("class", one_of("licence class", &CLASSES));
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
    let history = fields.optional("history", history, History::default());
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

fn history(node: &Node, problems: &Problems) -> Option<History> {
    let usual = History::default();
    let mut fields = Fields::of(node, "history", problems)?;
    let hours = number(Limits::between("hours on duty", 0.0, 24.0));
    let written = fields.place("hours").is_some();
    let hours = fields.optional("hours", list(0..=13, "day", hours), Vec::new());
    let worked_yesterday = hours.first().is_some_and(|hours| *hours > 0.0);
    let released = Limits::between("hours before the first midnight", 0.0, 336.0);
    let span = fields.place("released_h_before");
    let released_before = fields.maybe("released_h_before", number(released));
    let released_before = released_before.unwrap_or_else(|| {
        let days = hours.iter().take_while(|hours| **hours == 0.0).count();
        match (written, days == hours.len()) {
            // The evening of the last day worked.
            (true, false) => 24.0 * days as f64 + 6.0,
            _ => usual.released_before.hours(),
        }
    });
    if let Some(span) = span.filter(|_| worked_yesterday && released_before > 24.0) {
        problems.add::<()>(
            Problem::new(span, "released before the day that was worked last")
                .label("expected at most 24 h: the first of `hours` is yesterday's"),
        );
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
