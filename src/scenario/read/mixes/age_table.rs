//! The name of a table of age limits.

use crate::concrete::AgeTable;
use crate::scenario::decode::{name, spanned};
use crate::scenario::problem::{Problem, Problems, listed, nearest};
use crate::scenario::tree::Node;

/// Names by which tables were called before they were called by what they say.
const FORMER: [(&str, AgeTable); 8] = [
    ("caltrans", AgeTable::Retarder120),
    ("florida", AgeTable::Retarder90),
    ("ohio_village", AgeTable::WarmAir60),
    ("hong_kong", AgeTable::Minutes105),
    ("texas", AgeTable::Air90To45),
    ("north_carolina", AgeTable::Air60To30),
    ("illinois", AgeTable::MildAir60),
    ("washington", AgeTable::CoolConcrete105),
];

/// A table by its name.
pub(in crate::scenario::read) fn age_table(node: &Node, problems: &Problems) -> Option<AgeTable> {
    let all = AgeTable::ALL.map(AgeTable::name);
    if node.is_asked() {
        let names = all.map(|name| format!("{name:?}"));
        problems.outline().value(names.join(" or "));
        return None;
    }
    let written = spanned(name)(node, problems)?;
    let found = AgeTable::ALL
        .into_iter()
        .find(|table| table.name() == written.value);
    if found.is_some() {
        return found;
    }
    if let Some((former, table)) = FORMER.iter().find(|(name, _)| *name == written.value) {
        let (now, span) = (format!("{:?}", table.name()), written.span);
        return problems.add(
            Problem::new(
                span.clone(),
                format!("the table of age limits {former:?} has another name"),
            )
            .label(format!("expected {now}"))
            .replace(span, &*now, format!("the same table is now called {now}")),
        );
    }
    let title = format!("unknown table of age limits {:?}", written.value);
    let mut problem =
        Problem::new(written.span.clone(), title).label(format!("expected one of {}", listed(all)));
    if let Some(near) = nearest(&written.value, all) {
        let text = format!("{near:?}");
        problem = problem.replace(
            written.span,
            text,
            format!("a similar one exists: {near:?}"),
        );
    }
    problems.add(problem)
}
