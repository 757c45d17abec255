//! Minutes between places: a matrix, or a list of pairs.

use super::grid::Grid;
use crate::scenario::tree::{Field, Kind, Node};

/// `{ "from": { "to": minutes } }` of a table. With the headings from, to, minutes (and back) a row is a pair. Else places stand down the
/// first column and plants across; the other way round if only the first column holds names of plants.
pub(super) fn minutes(grid: &Grid, plants: &[String]) -> Kind {
    let headings: Vec<String> = grid.headings().map(str::to_lowercase).collect();
    let column = |name: &str| headings.iter().position(|heading| heading == name);
    let mut map = Map(Vec::new());
    if let (Some(from), Some(to), Some(minutes)) = (column("from"), column("to"), column("minutes"))
    {
        for row in grid.rows() {
            let (Some(from), Some(to)) = (grid.node(row, from), grid.node(row, to)) else {
                continue;
            };
            let there = grid.node(row, minutes);
            let back = column("back").and_then(|column| grid.node(row, column));
            let value = match (there, back) {
                (Some(there), Some(back)) => Node {
                    span: grid.row_span(row),
                    kind: Kind::List(vec![there, back]),
                },
                (Some(there), None) => there,
                (None, _) => continue,
            };
            map.add(&from, &to, value);
        }
        return map.into_kind();
    }
    let is_plant = |name: &str| plants.iter().any(|plant| plant == name);
    let across = grid.headings().skip(1).any(is_plant);
    let down = grid
        .rows()
        .any(|row| grid.text(row, 0).is_some_and(is_plant));
    let turned = down && !across;
    let columns = grid.headings().len();
    for row in grid.rows() {
        let Some(place) = grid.node(row, 0) else {
            continue;
        };
        for column in 1..columns {
            let Some(value) = grid.node(row, column) else {
                continue;
            };
            let Some(other) = grid.heading(column) else {
                continue;
            };
            // A plant's way to itself is none.
            if place.text() == other.text() {
                continue;
            }
            if turned {
                map.add(&place, &other, value);
            } else {
                map.add(&other, &place, value);
            }
        }
    }
    map.into_kind()
}

struct Map(Vec<Field>);

impl Map {
    fn add(&mut self, from: &Node, to: &Node, value: Node) {
        let key = |node: &Node| node.text().unwrap_or_default().to_owned();
        let place = self.0.iter().position(|field| field.key == key(from));
        let place = place.unwrap_or_else(|| {
            self.0.push(Field {
                key: key(from),
                key_span: from.span.clone(),
                value: Node {
                    span: from.span.clone(),
                    kind: Kind::Fields(Vec::new()),
                },
            });
            self.0.len() - 1
        });
        if let Kind::Fields(fields) = &mut self.0[place].value.kind {
            fields.push(Field {
                key: key(to),
                key_span: to.span.clone(),
                value,
            });
        }
    }

    fn into_kind(self) -> Kind {
        Kind::Fields(self.0)
    }
}
