//! Small readers that turn a node of the tree into a value or take down what is wrong with it.
//!
//! A reader is any `Fn(&Node, &Problems) -> Option<T>`: nothing means that a problem has been taken down, and reading
//! goes on with what is left, so that a file shows all its problems at once.

mod cell;
mod choice;
mod clock;
mod date;
mod fields;
mod limits;
mod list;
mod names;
mod scalar;
mod shown;
mod spread;

pub(in crate::scenario) use cell::{
    at as all_at, number as number_in_cell, time as time_in_cell, value as value_in_cell,
};
pub use choice::{Contents, one_of, variant, variant_or};
pub use clock::{call, moment, moment_of, stamp_of, time_of_day, weekday, weekdays};
pub use date::{date, date_in, days_between, later, weekday_of};
pub use fields::Fields;
pub use limits::Limits;
pub use list::{entries, list, pair};
pub use names::Names;
pub(in crate::scenario) use scalar::unprintable;
pub use scalar::{Spanned, flag, name, number, prose, spanned, whole};
pub use shown::Shown;
pub use spread::{factors, kinds, minutes, parts_of_loads, shares, volumes};

use super::problem::{Problem, Problems, visible};
use super::tree::{Kind, Node};

/// Takes down that a value is of the wrong kind: `expected` is what should stand there, in a few words.
pub fn wrong_kind<T>(node: &Node, expected: &str, problems: &Problems) -> Option<T> {
    found_instead(node, expected, expected, problems)
}

/// The same with more said at the place: the range, the valid names.
fn found_instead<T>(
    node: &Node,
    expected: &str,
    at_the_place: &str,
    problems: &Problems,
) -> Option<T> {
    if node.is_asked() {
        problems.outline().value(at_the_place);
        return None;
    }
    let problem = Problem::new(
        node.span.clone(),
        format!("expected {expected}, found {}", described(node)),
    )
    .label(format!("expected {at_the_place}"));
    match node.kind {
        // Why it cannot be read has been told.
        Kind::Unread => problems.add_consequence(problem),
        _ => problems.add(problem),
    }
}

/// With its article: "a plant", "an order".
fn a(what: &str) -> String {
    format!(
        "{} {what}",
        if what.starts_with(['a', 'e', 'i', 'o']) {
            "an"
        } else {
            "a"
        }
    )
}

/// What stands at a node, in a few words.
fn described(node: &Node) -> String {
    match &node.kind {
        Kind::Nothing => "`None`".to_owned(),
        Kind::Bool(value) => format!("`{value}`"),
        Kind::Number { value, whole } => {
            whole.map_or_else(|| format!("{value}"), |whole| format!("{whole}"))
        }
        Kind::Text(text) | Kind::Cell { text, .. } => quoted(text),
        Kind::Tag(name) => format!("`{}`", shortened(name)),
        Kind::Tagged(tag, _) => format!("`{}( … )`", shortened(&tag.name)),
        Kind::Fields(_) => "a block `( … )`".to_owned(),
        Kind::List(_) => "a list".to_owned(),
        Kind::Unread => "a table that cannot be read".to_owned(),
        Kind::Asked => "nothing".to_owned(),
        Kind::Other(what) => (*what).to_owned(),
    }
}

/// A text in quotes, for a title: control characters made visible, cut where it gets long.
fn quoted(text: &str) -> String {
    format!("\"{}\"", shortened(text))
}

fn shortened(text: &str) -> String {
    visible(text, 60)
}
