//! Minutes between places: a matrix, or a list of pairs, with one value a pair or one for each band of the day.

use super::band::{self, Band};
use super::grid::Grid;
use crate::scenario::decode;
use crate::scenario::problem::{Problem, Problems};
use crate::scenario::tree::{Field, Kind, Node, Span};
use std::collections::HashMap;

/// The names of the places that minutes are between.
#[derive(Debug, Default)]
pub(super) struct Known {
    pub(super) plants: Vec<String>,
    pub(super) sites: Vec<String>,
}

impl Known {
    fn plant(&self, name: &str) -> bool {
        self.plants.iter().any(|plant| plant == name)
    }

    /// Whether this may stand over a column of minutes.
    pub(super) fn is_heading(&self, text: &str) -> bool {
        let (name, band) = self.split(text);
        let lower = name.to_lowercase();
        ["from", "to", "minutes"].contains(&lower.as_str())
            || name.is_empty() && band.is_some()
            || self.plant(name)
            || self.sites.iter().any(|site| site == name)
    }

    /// The place and the band that a heading carries: `Hill 5-7`. What is itself the name of a place carries none.
    pub(super) fn split<'a>(&self, heading: &'a str) -> (&'a str, Option<Band>) {
        if self.plant(heading) || self.sites.iter().any(|site| site == heading) {
            return (heading, None);
        }
        match band::behind(heading) {
            Some((name, band)) => (name, Some(band)),
            None => (heading, None),
        }
    }
}

/// `{ "from": { "to": minutes } }` of a table. With the headings from and to a row is a pair, with its minutes (and back) or a column for
/// each band. Else places stand down the first column and plants across; the other way round if only the first column holds names of
/// plants.
pub(super) fn minutes(grid: &Grid, known: &Known, problems: &Problems) -> Kind {
    let mut map = Map::default();
    let headings: Vec<String> = grid.headings().map(str::to_lowercase).collect();
    let column = |name: &str| headings.iter().position(|heading| heading == name);
    if let (Some(from), Some(to)) = (column("from"), column("to")) {
        pairs(grid, (from, to), &mut map);
    } else {
        matrix(grid, known, &mut map);
    }
    map.into_kind(problems)
}

fn pairs(grid: &Grid, (from_column, to_column): (usize, usize), map: &mut Map) {
    let mut columns = Vec::new();
    let mut before = [None; 2];
    for (column, heading) in grid.headings().enumerate() {
        let heading = heading.to_lowercase();
        let (name, band) = match band::behind(&heading) {
            Some((name, band)) => (name, Some(band)),
            None => (heading.as_str(), None),
        };
        let back = match (name, band) {
            ("minutes" | "min" | "out", _) | ("", Some(_)) => false,
            ("back", _) => true,
            _ => continue,
        };
        let band = band.map(|band| band.after(before[usize::from(back)]));
        before[usize::from(back)] = band.or(before[usize::from(back)]);
        columns.push((column, back, band));
    }
    let has_back = columns.iter().any(|(_, back, _)| *back);
    for row in grid.rows() {
        let (Some(from), Some(to)) = (grid.node(row, from_column), grid.node(row, to_column))
        else {
            continue;
        };
        let pair = map.pair(&from, &to);
        for (column, back, band) in &columns {
            let Some(value) = grid.node(row, *column) else {
                continue;
            };
            pair.way(*back && has_back).push((*band, value));
        }
    }
}

fn matrix(grid: &Grid, known: &Known, map: &mut Map) {
    let plant = |heading: &str| known.plant(known.split(heading).0);
    let across = grid.headings().skip(1).filter(|heading| plant(heading));
    let down = grid.rows().filter_map(|row| grid.text(row, 0));
    let turned = down.filter(|place| plant(place)).count() > across.count();
    let columns = grid.headings().len();
    for row in grid.rows() {
        let Some(place) = grid.node(row, 0) else {
            continue;
        };
        for column in 1..columns {
            let (Some(value), Some(other)) = (grid.node(row, column), grid.heading(column)) else {
                continue;
            };
            let (from, to) = if turned {
                (&place, &other)
            } else {
                (&other, &place)
            };
            let (name, band) = known.split(from.text().unwrap_or_default());
            let from = Node {
                span: from.span.clone(),
                kind: Kind::Text(name.to_owned()),
            };
            // A plant's way to itself is none.
            if Some(name) == to.text() {
                continue;
            }
            let way = map.pair(&from, to).way(false);
            let before = way.last().and_then(|(band, _)| *band);
            way.push((band.map(|band| band.after(before)), value));
        }
    }
}

/// Values and the bands they hold in, in the order of the table.
type Way = Vec<(Option<Band>, Node)>;

struct Pair {
    to: String,
    to_span: Span,
    out: Way,
    back: Way,
}

impl Pair {
    fn way(&mut self, back: bool) -> &mut Way {
        if back { &mut self.back } else { &mut self.out }
    }
}

#[derive(Default)]
struct Map {
    rows: Vec<(String, Span, Vec<Pair>)>,
    /// Where a row, and in it a pair, stands: a table can have many.
    places: HashMap<String, usize>,
    pairs: HashMap<(usize, usize, String), usize>,
}

impl Map {
    fn pair(&mut self, from: &Node, to: &Node) -> &mut Pair {
        let key = |node: &Node| node.text().unwrap_or_default().to_owned();
        let (from_key, to_key) = (key(from), key(to));
        let place = *self.places.entry(from_key).or_insert_with_key(|name| {
            self.rows
                .push((name.clone(), from.span.clone(), Vec::new()));
            self.rows.len() - 1
        });
        let pairs = &mut self.rows[place].2;
        // Of one row: what stands in two rows is told as written twice.
        let at = self.pairs.entry((place, to.span.start, to_key));
        let at = *at.or_insert_with_key(|(.., to_key)| {
            pairs.push(Pair {
                to: to_key.clone(),
                to_span: to.span.clone(),
                out: Vec::new(),
                back: Vec::new(),
            });
            pairs.len() - 1
        });
        &mut pairs[at]
    }

    fn into_kind(self, problems: &Problems) -> Kind {
        let row = |(key, key_span, pairs): (String, Span, Vec<Pair>)| {
            let mut fields = Vec::new();
            for pair in pairs {
                let (out, back) = (value(pair.out, problems), value(pair.back, problems));
                let value = match (out, back) {
                    (Some(out), Some(back)) => Node {
                        span: out.span.clone(),
                        kind: Kind::List(vec![out, back]),
                    },
                    (Some(out), None) => out,
                    (None, _) => continue,
                };
                fields.push(Field {
                    key: pair.to,
                    key_span: pair.to_span,
                    value,
                });
            }
            Field {
                key,
                key_span: key_span.clone(),
                value: Node {
                    span: key_span,
                    kind: Kind::Fields(fields),
                },
            }
        };
        Kind::Fields(self.rows.into_iter().map(row).collect())
    }
}

/// One value, or steps `[("05:00", 12), …]` of bands; between bands the value without one holds, else the quickest.
fn value(way: Way, problems: &Problems) -> Option<Node> {
    let mut banded: Vec<(u32, u32, Node)> = Vec::new();
    let mut always = None;
    for (band, node) in way {
        match band {
            Some(band) => banded.extend(
                band.within_day()
                    .into_iter()
                    .map(|(from, to)| (from, to, node.clone())),
            ),
            None if always.is_some() => {
                return problems.add(
                    Problem::new(node.span, "the minutes of this pair are written already")
                        .label("expected one value, or one for each band of the day"),
                );
            }
            None => always = Some(node),
        }
    }
    if banded.is_empty() {
        return always;
    }
    banded.sort_by_key(|(from, ..)| *from);
    if let Some(two) = banded.windows(2).find(|two| two[1].0 < two[0].1) {
        let later = two[1].2.span.clone();
        return problems.add(
            Problem::new(
                later,
                "this band of the day overlaps another of the same pair",
            )
            .label("expected bands one after the other: 5-7, 7-9, 9-15")
            .also(two[0].2.span.clone(), "the other one"),
        );
    }
    let least = |node: &&Node| decode::number_in_cell(node).unwrap_or(f64::INFINITY);
    let quickest = banded
        .iter()
        .map(|(_, _, node)| node)
        .min_by(|a, b| least(a).total_cmp(&least(b)));
    let between = always.or_else(|| quickest.cloned())?;
    let mut steps: Vec<(u32, Node)> = Vec::new();
    let mut until = 0;
    for (from, to, node) in banded {
        if from > until {
            steps.push((until, between.clone()));
        }
        steps.push((from, node));
        until = to;
    }
    if until < 1_440 {
        steps.push((until, between));
    }
    let span = steps[0].1.span.clone();
    let step = |(from, node): (u32, Node)| {
        let time = Node {
            span: node.span.clone(),
            kind: Kind::Text(format!("{:02}:{:02}", from / 60, from % 60)),
        };
        Node {
            span: node.span.clone(),
            kind: Kind::List(vec![time, node]),
        }
    };
    Some(Node {
        span,
        kind: Kind::List(steps.into_iter().map(step).collect()),
    })
}
