//! Groups of trucks and drivers: how many, and what each of them is called.

use crate::scenario::decode::{Limits, Spanned, whole};
use crate::scenario::problem::{Problem, Problems};
use crate::scenario::tree::Node;

pub(super) fn alone() -> Spanned<usize> {
    Spanned {
        value: 1,
        span: 0..0,
    }
}

pub(super) fn group(
    what: &'static str,
    most: usize,
) -> impl Fn(&Node, &Problems) -> Option<Spanned<usize>> {
    move |node, problems| {
        let count = whole(Limits::between(what, 1.0, most as f64))(node, problems)?;
        Some(Spanned {
            value: count as usize,
            span: node.span.clone(),
        })
    }
}

/// The names of a group: the name itself for one, with 1, 2 … behind it for more.
pub(super) fn written_out(
    name: &Spanned<String>,
    count: &Spanned<usize>,
    so_far: usize,
    most: usize,
    what: &str,
    problems: &Problems,
) -> Option<Vec<Spanned<String>>> {
    if so_far + count.value > most {
        let span = if count.value > 1 {
            count.span.clone()
        } else {
            name.span.clone()
        };
        return problems.add(
            Problem::new(
                span,
                format!("with these there are {} {what}s", so_far + count.value),
            )
            .label(format!("expected at most {most} {what}s in all")),
        );
    }
    let one = |value: String| Spanned {
        value,
        span: name.span.clone(),
    };
    Some(match count.value {
        1 => vec![name.clone()],
        many => (1..=many)
            .map(|at| one(format!("{}{at}", name.value)))
            .collect(),
    })
}
