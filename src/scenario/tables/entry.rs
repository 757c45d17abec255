//! The rows of a table as the entries of a list.

use super::band;
use super::grid::Grid;
use super::matrix::Known;
use crate::scenario::decode::date_in;
use crate::scenario::problem::{Problem, Problems, within};
use crate::scenario::tree::{Field, Kind, Node};
use std::collections::BTreeMap;

/// Rows as entries: `headings` is the field of each column. A heading with dots stands for a field in blocks: `yard.warning`.
pub(super) fn entries(
    list: &str,
    grid: &Grid,
    headings: &[Option<String>],
    problems: &Problems,
) -> Kind {
    let rows = grid.rows();
    if list == "orders" {
        dated(grid, headings, problems);
    }
    let mut entries: Vec<Node> = rows.map(|row| entry(list, grid, row, headings)).collect();
    let has_names = headings.iter().flatten().any(|key| key == "name");
    if list == "orders" && !has_names {
        name_by_site(&mut entries);
        problems.note(format!(
            "{}: orders have no names and are called by their sites",
            grid.source.name
        ));
    }
    Kind::List(entries)
}

/// Orders without names are called by what is written of their sites, the second of a name `… (2)`.
fn name_by_site(orders: &mut [Node]) {
    let mut times: BTreeMap<String, u32> = BTreeMap::new();
    for order in orders {
        let Kind::Fields(fields) = &mut order.kind else {
            continue;
        };
        let Some(site) = fields.iter().find(|field| field.key == "site") else {
            continue;
        };
        let Some(text) = site.value.text() else {
            continue;
        };
        let so_far = times.entry(text.to_owned()).or_default();
        *so_far += 1;
        let name = match so_far {
            1 => text.to_owned(),
            again => format!("{text} ({again})"),
        };
        let mut named = site.clone();
        named.key = "name".to_owned();
        named.value.kind = Kind::Text(name);
        fields.insert(0, named);
    }
}

/// One row as an entry.
pub(super) fn entry(list: &str, grid: &Grid, row: usize, headings: &[Option<String>]) -> Node {
    let there = |(column, heading): &(usize, &Option<String>)| {
        heading.is_some() && grid.text(row, *column).is_some()
    };
    // Room for as many as there are: a table may have a million rows.
    let count = headings.iter().enumerate().filter(there).count();
    let mut fields: Vec<Field> = Vec::with_capacity(count);
    for (column, heading) in headings.iter().enumerate() {
        let Some(key) = heading else { continue };
        let Some(mut value) = grid.node(row, column) else {
            continue;
        };
        match (list, key.as_str()) {
            (_, "class") => plain_class(&mut value),
            ("plants", "hours") => plain_hours(&mut value),
            _ => {}
        }
        let mut place = &mut fields;
        let mut names = key.split('.');
        let last = names.next_back().unwrap_or(key);
        for name in names {
            place = inner(place, name, grid, (row, column));
        }
        place.push(Field {
            key: last.to_owned(),
            key_span: grid.heading_span(column),
            value,
        });
    }
    if list == "orders" {
        day_of_first(&mut fields);
    }
    Node {
        span: grid.row_span(row),
        kind: Kind::Fields(fields),
    }
}

/// A first load that has its date beside the time, `6/8/2026 7:30 AM`: the date is the order's day, unless another is written.
fn day_of_first(fields: &mut Vec<Field>) {
    let Some(first) = fields.iter().position(|field| field.key == "first") else {
        return;
    };
    let Kind::Cell { text, comma } = &fields[first].value.kind else {
        return;
    };
    let parts = text.split_once([' ', 'T']);
    let Some((date, time)) = parts.and_then(|(date, time)| {
        let day = date_in(date)?;
        Some((day, (date.to_owned(), time.trim().to_owned())))
    }) else {
        return;
    };
    let (date_text, time, comma) = (time.0, time.1, *comma);
    let written = fields.iter().find(|field| field.key == "day");
    match written {
        Some(day) if day.value.text().and_then(date_in) != Some(date) => return,
        Some(_) => {}
        None => {
            let mut day = fields[first].clone();
            day.key = "day".to_owned();
            day.value.kind = Kind::Cell {
                text: date_text,
                comma,
            };
            fields.push(day);
        }
    }
    fields[first].value.kind = Kind::Cell { text: time, comma };
}

/// The fields of a block within an entry.
fn inner<'a>(
    fields: &'a mut Vec<Field>,
    name: &str,
    grid: &Grid,
    (row, column): (usize, usize),
) -> &'a mut Vec<Field> {
    let known = fields
        .iter()
        .position(|field| field.key == name && matches!(field.value.kind, Kind::Fields(_)));
    let at = known.unwrap_or_else(|| {
        fields.push(Field {
            key: name.to_owned(),
            key_span: grid.heading_span(column),
            value: Node {
                span: grid.row_span(row),
                kind: Kind::Fields(Vec::new()),
            },
        });
        fields.len() - 1
    });
    match &mut fields[at].value.kind {
        Kind::Fields(inside) => inside,
        _ => unreachable!("it is a block"),
    }
}

/// `CDL B`, `Class B` and `B` are one class.
fn plain_class(value: &mut Node) {
    let Kind::Cell { text, .. } = &mut value.kind else {
        return;
    };
    let words = text.split(|c: char| !c.is_alphanumeric());
    let said: Vec<&str> = words
        .filter(|word| {
            let word = word.to_lowercase();
            !["", "class", "cdl", "license", "licence"].contains(&word.as_str())
        })
        .collect();
    if let [class] = said[..] {
        *text = class.to_owned();
    }
}

/// `05:00-18:00`, every day the same, is a span of opening hours.
fn plain_hours(value: &mut Node) {
    let Kind::Cell { text, .. } = &value.kind else {
        return;
    };
    let Some(("", band)) = band::behind(text) else {
        return;
    };
    let time = |key: &str, minutes: u32| Field {
        key: key.to_owned(),
        key_span: value.span.clone(),
        value: Node {
            span: value.span.clone(),
            kind: Kind::Text(format!("{:02}:{:02}", minutes / 60, minutes % 60)),
        },
    };
    let spans = band.within_day().into_iter().map(|(from, to)| Node {
        span: value.span.clone(),
        kind: Kind::Fields(vec![time("open", from), time("close", to)]),
    });
    value.kind = Kind::List(spans.collect());
}

/// Where some orders have a date, one without has not that of the first day.
fn dated(grid: &Grid, headings: &[Option<String>], problems: &Problems) {
    let day = |heading: &Option<String>| heading.as_deref() == Some("day");
    let Some(column) = headings.iter().position(day) else {
        return;
    };
    let date = |row: usize| grid.text(row, column).and_then(date_in);
    if !grid.rows().any(|row| date(row).is_some()) {
        return;
    }
    for row in grid.rows().filter(|row| grid.text(*row, column).is_none()) {
        let title = "this row has no date, and others have one";
        problems.add::<()>(
            Problem::new(grid.row_span(row), title).label("expected the date of the order"),
        );
    }
}

/// Sites by the one known name that stands in what is written: `Mill lane footings` is at `Mill lane`. Gives how many it was so for.
pub(super) fn sites_within(orders: &mut Kind, known: &Known) -> usize {
    let Kind::List(items) = orders else {
        return 0;
    };
    let fields = items.iter_mut().filter_map(|item| match &mut item.kind {
        Kind::Fields(fields) => Some(fields),
        _ => None,
    });
    let sites = fields.flat_map(|fields| fields.iter_mut().filter(|field| field.key == "site"));
    let mut count = 0;
    for site in sites {
        let Kind::Cell { text, .. } = &mut site.value.kind else {
            continue;
        };
        if known.sites.iter().any(|name| name == text) {
            continue;
        }
        if let Some(name) = within(text, known.sites.iter().map(String::as_str)) {
            *text = name.to_owned();
            count += 1;
        }
    }
    count
}
