//! The sheet of minutes between places.

use super::columns::{cell, minutes_of};
use super::sheet::{Cell, Sheet};
use crate::scenario::decode::number_in_cell;
use crate::scenario::tree::{Field, Kind, Node};

/// The minutes between places: places down, plants across, a column for each band of the day where all ways of a plant have the same.
pub(super) fn minutes(node: &Node) -> Option<Sheet> {
    let Kind::Fields(plants) = &node.kind else {
        return None;
    };
    let mut places: Vec<&str> = Vec::new();
    let mut columns: Vec<(String, Vec<(&str, Cell)>)> = Vec::new();
    for plant in plants {
        let Kind::Fields(ways) = &plant.value.kind else {
            return None;
        };
        for way in ways {
            if !places.contains(&way.key.as_str()) {
                places.push(&way.key);
            }
        }
        let banded: Vec<(&str, Vec<(u32, f64)>)> = ways
            .iter()
            .filter_map(|way| Some((way.key.as_str(), steps(&way.value)?)))
            .collect();
        let times = |steps: &[(u32, f64)]| steps.iter().map(|step| step.0).collect::<Vec<_>>();
        let same = banded
            .windows(2)
            .all(|two| times(&two[0].1) == times(&two[1].1));
        let all_day = |way: &&Field| !same || steps(&way.value).is_none();
        let whole: Vec<(&str, Cell)> = ways
            .iter()
            .filter(all_day)
            .map(|way| (way.key.as_str(), cell("minutes", "", &way.value)))
            .collect();
        if !whole.is_empty() || banded.is_empty() {
            columns.push((plant.key.clone(), whole));
        }
        let Some((_, first)) = banded.first().filter(|_| same) else {
            continue;
        };
        let last = first.len() - 1;
        for (at, (from, _)) in first.iter().enumerate() {
            // Outside of all bands the quickest hold anyway.
            let quickest = |steps: &[(u32, f64)]| {
                let least = steps.iter().map(|step| step.1);
                steps[at].1 == least.fold(f64::INFINITY, f64::min)
            };
            if (at == 0 || at == last)
                && last > 0
                && banded.iter().all(|(_, steps)| quickest(steps))
            {
                continue;
            }
            let to = first.get(at + 1).map_or(1_440, |next| next.0);
            let clock = |minutes: u32| format!("{:02}:{:02}", minutes / 60, minutes % 60);
            let values = banded.iter();
            columns.push((
                format!("{} {}-{}", plant.key, clock(*from), clock(to)),
                values
                    .map(|(place, steps)| (*place, Cell::Number(steps[at].1)))
                    .collect(),
            ));
        }
    }
    let note = "Minutes from this plant to the place of the row on the empty road; (18, 22) for out and back. A heading may carry a band of \
                the day, \"North 05:00-07:00\": outside of all bands the quickest hold.";
    let mut heads: Vec<(&str, &str, f64)> = vec![(
        "Place",
        "Sites, and plants for the way between plants, each pair once.",
        24.0,
    )];
    heads.extend(
        columns
            .iter()
            .map(|(heading, _)| (heading.as_str(), note, 14.0_f64.max(heading.len() as f64))),
    );
    let mut sheet = Sheet::new(&heads);
    for place in places {
        let mut row = vec![Cell::Text(place.to_owned())];
        row.extend(columns.iter().map(|(_, ways)| {
            let way = ways.iter().find(|(to, _)| *to == place);
            way.map_or(Cell::Blank, |(_, cell)| cell.clone())
        }));
        sheet.row(row);
    }
    Some(sheet)
}

/// `[("05:00", 12), ("07:00", 17)]`, minutes since midnight.
fn steps(node: &Node) -> Option<Vec<(u32, f64)>> {
    let Kind::List(items) = &node.kind else {
        return None;
    };
    let step = |item: &Node| {
        let Kind::List(parts) = &item.kind else {
            return None;
        };
        let [time, minutes] = &parts[..] else {
            return None;
        };
        let minutes = number_in_cell(minutes)?;
        Some((minutes_of(time.text()?)?, minutes))
    };
    items.iter().map(step).collect()
}
