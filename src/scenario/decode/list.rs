//! Lists, and maps whose keys are names.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use super::super::problem::{Problem, Problems};
use super::super::tree::{Field, Kind, Node};
use super::{cell, wrong_kind};

/// `[item, item]` with so many items, each read by `reader`; `item` names one of them. Gives nothing if any item is wrong,
/// after reading all of them.
pub fn list<T>(
    many: RangeInclusive<usize>,
    item: &'static str,
    mut reader: impl FnMut(&Node, &Problems) -> Option<T>,
) -> impl FnMut(&Node, &Problems) -> Option<Vec<T>> {
    move |node, problems| {
        if node.is_asked() {
            problems.outline().list(item, many.clone());
            reader(node, problems);
            return None;
        }
        let in_cell: Vec<Node>;
        let items: &[Node] = match &node.kind {
            Kind::List(items) => items,
            // `standard; pump` in one cell.
            Kind::Cell { text, comma } => {
                let parts = cell::parts(text, *comma).into_iter();
                in_cell = parts
                    .map(|part| cell::value(part, &node.span, *comma))
                    .collect();
                &in_cell
            }
            // One alone: `LastLoadBy(hours: 11)`.
            Kind::Tagged(..) if problems.in_table(&node.span) => std::slice::from_ref(node),
            // `()` is a block without fields and a list without items alike.
            Kind::Fields(fields) if fields.is_empty() => &[],
            _ => return wrong_kind(node, &format!("a list `[ … ]` of {item}s"), problems),
        };
        let (least, most) = (*many.start(), *many.end());
        if items.is_empty() && least > 0 {
            return problems.add(
                Problem::new(node.span.clone(), format!("there is no {item}")).label(format!(
                    "expected at least {least} {item}{}",
                    if least == 1 { "" } else { "s" }
                )),
            );
        }
        if !many.contains(&items.len()) {
            let expected = if items.len() < least {
                format!("at least {least}")
            } else {
                format!("at most {most}")
            };
            return problems.add(
                Problem::new(
                    node.span.clone(),
                    format!("there are {} {item}s", items.len()),
                )
                .label(format!("expected {expected} {item}s")),
            );
        }
        let read: Vec<T> = items
            .iter()
            .filter_map(|item| reader(item, problems))
            .collect();
        (read.len() == items.len()).then_some(read)
    }
}

/// The entries of `{ "name": value }`, each key once; `expected` says what the map holds.
pub fn entries<'a>(node: &'a Node, expected: &str, problems: &Problems) -> Option<&'a [Field]> {
    let Kind::Fields(fields) = &node.kind else {
        return wrong_kind(node, expected, problems);
    };
    let mut seen = BTreeMap::new();
    for field in fields {
        if let Some(first) = seen.insert(field.key.as_str(), &field.key_span) {
            problems.add::<()>(
                Problem::new(
                    field.key_span.clone(),
                    format!("`{}` stands twice", super::shortened(&field.key)),
                )
                .label("expected each name once")
                .also(first.clone(), "first here"),
            );
        }
    }
    Some(fields)
}

/// The two values of `(a, b)`; `expected` says what they are.
pub fn pair<'a>(
    node: &'a Node,
    expected: &str,
    problems: &Problems,
) -> Option<(&'a Node, &'a Node)> {
    match &node.kind {
        Kind::List(items) => match items.as_slice() {
            [first, second] => Some((first, second)),
            _ => problems.add(
                Problem::new(node.span.clone(), format!("{} values", items.len()))
                    .label(format!("expected {expected}")),
            ),
        },
        _ => wrong_kind(node, expected, problems),
    }
}
