//! Where plants and sites stand on the schematic map, and what that means: no position is made up and passed off as true.

use crate::report::number::Unit;
use crate::scenario::Scenario;
use crate::statistics::scaling::{self, POOR_STRESS};
use crate::studies::Replay;
use std::f64::consts::PI;

/// Width and height of the map, in units of its own.
pub(super) const SIZE: (f64, f64) = (1000.0, 640.0);
/// Kept free for names and trucks around a place: left and right, above, below.
const MARGINS: (f64, f64, f64) = (90.0, 60.0, 90.0);
/// Places stand no nearer to each other, if there is room.
const APART: f64 = 135.0;

/// Where places stand, and what can be said of it.
pub(super) struct Map {
    /// By id, y downwards; none for a site that no order uses.
    pub(super) places: Vec<Option<(f64, f64)>>,
    /// What their positions mean, in one or two sentences.
    pub(super) said: String,
    /// Whether a narrow window may stretch it from north to south: not if distances mean something.
    pub(super) stretches: bool,
}

/// The map: by the coordinates of the places, else by their minutes, else only a list.
pub(super) fn of(answer: &Replay, scenario: &Scenario) -> Map {
    let plants = scenario.plants.len();
    let used = |place: usize| {
        let sites = || answer.sites.iter().flatten();
        place < plants || sites().any(|site| site.at() == place)
    };
    let shown: Vec<usize> = (0..plants + scenario.sites.len())
        .filter(|place| used(*place))
        .collect();
    let at = |place: usize| match place.checked_sub(plants) {
        None => (scenario.plants[place].at, scenario.plants[place].is_mapped),
        Some(site) => (scenario.sites[site].at, scenario.sites[site].is_mapped),
    };
    let unmapped = shown.iter().filter(|place| !at(**place).1).count();
    // One alone is the middle of the map. Nothing can be said of a map whose places all lie on one spot.
    let is_mapped = unmapped < shown.len().min(2);
    let (points, said) = if is_mapped {
        let mut points: Vec<(f64, f64)> = shown
            .iter()
            .map(|place| at(*place).0)
            .map(|(east, north)| (east, -north))
            .collect();
        fit(&mut points);
        part(&mut points);
        let said = "Places stand where the scenario puts them, moved apart where their names would cover each other.";
        (points, said.to_owned())
    } else {
        let known: Vec<Vec<Option<f64>>> = shown
            .iter()
            .map(|from| {
                let to = shown.iter();
                to.map(|to| answer.minutes[*from][*to]).collect()
            })
            .collect();
        let (points, mut said) = by_minutes(&known, plants);
        if unmapped < shown.len() {
            said = format!(
                "{unmapped} of the {} places have no coordinates in the scenario, so those of the others are left aside. {said}",
                shown.len()
            );
        }
        (points, said)
    };
    let mut places = vec![None; plants + scenario.sites.len()];
    for (place, point) in shown.iter().zip(points) {
        places[*place] = Some(point);
    }
    Map {
        places,
        said,
        stretches: is_mapped,
    }
}

/// Places by the minutes between them, `[one][other]`, as far as they are known; plants come first.
fn by_minutes(known: &[Vec<Option<f64>>], plants: usize) -> (Vec<(f64, f64)>, String) {
    let (places, pairs) = (known.len(), scaling::known_pairs(known));
    // A plane has two numbers for each place, less three for where it lies and how it is turned.
    let needed = (2 * places).saturating_sub(3);
    let spokes = plants == 1 && pairs < needed;
    let points = if spokes {
        // One plant, and nothing known between its sites: any direction is as true.
        let minutes = known[0].iter().enumerate();
        let spoke = |(nth, minutes): (usize, &Option<f64>)| Some(around(nth, (*minutes)?));
        minutes.map(spoke).collect()
    } else {
        scaling::layout(known)
    };
    let Some(mut points) = points else {
        let why = "No map: places have no coordinates, and there are not enough minutes between them to lay them out.";
        return (list(places, plants), format!("{why} {LISTED}"));
    };
    fit(&mut points);
    part(&mut points);
    // Of what is drawn, with the room that names take.
    let stress = scaling::stress(known, &points);
    if stress >= POOR_STRESS {
        let said = format!(
            "No map: places have no coordinates, and laid out by drive minutes their distances would be off by about {}; from {} on such a \
             picture is called poor (Kruskal 1964). {LISTED}",
            Unit::Share.show(stress, 0),
            Unit::Share.show(POOR_STRESS, 0),
        );
        return (list(places, plants), said);
    }
    let off = match stress {
        small if small < 0.005 => "by less than 1%".to_owned(),
        stress => format!("by about {}", Unit::Share.show(stress, 0)),
    };
    let mut said = format!(
        "Laid out by drive minutes on the empty road, for want of coordinates; distances on the map are off {off}."
    );
    if spokes {
        said += " Only the minutes from the plant are known: in which direction a site lies means nothing.";
    } else if pairs == needed && places > 2 {
        said += " No minutes are known between sites: on which side of the plants a site lies means nothing.";
    }
    (points, said)
}

/// What places in a list mean.
const LISTED: &str = "Plants stand on the left and sites beside them, in the order of the scenario: where a place stands means nothing.";

/// Plants in a column on the left, sites in columns beside it.
fn list(places: usize, plants: usize) -> Vec<(f64, f64)> {
    let ((left, right), (top, bottom)) = frame();
    let down = |nth: usize, of: usize| {
        let step = (bottom - top) / of.max(1) as f64;
        libm::round(top + (nth as f64 + 0.5) * step)
    };
    let sites = places - plants;
    let columns = [6, 12, 24, 48]
        .iter()
        .position(|room| sites <= *room)
        .map_or(8, |at| at + 1);
    let rows = sites.div_ceil(columns);
    let across = |column: usize| left + (right - left) * (column + 1) as f64 / columns as f64;
    let of_plants = (0..plants).map(|nth| (left, down(nth, plants)));
    let of_sites = (0..sites).map(|nth| (libm::round(across(nth / rows)), down(nth % rows, rows)));
    of_plants.chain(of_sites).collect()
}

/// At a distance, in a direction that is new for each place: turned by the golden angle from the one before.
fn around(nth: usize, distance: f64) -> (f64, f64) {
    let golden = PI * (3.0 - libm::sqrt(5.0));
    let angle = nth as f64 * golden;
    (distance * libm::cos(angle), distance * libm::sin(angle))
}

/// The corners between which places may stand.
fn frame() -> ((f64, f64), (f64, f64)) {
    let (side, above, below) = MARGINS;
    ((side, SIZE.0 - side), (above, SIZE.1 - below))
}

/// Scales evenly into the frame and centres.
fn fit(points: &mut [(f64, f64)]) {
    let span = |value: fn(&(f64, f64)) -> f64| {
        points
            .iter()
            .map(value)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| {
                (low.min(x), high.max(x))
            })
    };
    let (x, y) = (span(|p| p.0), span(|p| p.1));
    let (left_right, top_bottom) = frame();
    let room = |(low, high): (f64, f64), (from, to): (f64, f64)| {
        if high > low {
            (to - from) / (high - low)
        } else {
            f64::INFINITY
        }
    };
    let scale = room(x, left_right).min(room(y, top_bottom));
    let scale = if scale.is_finite() { scale } else { 0.0 };
    let middle = |(low, high): (f64, f64)| (low + high) / 2.0;
    for point in points {
        point.0 = middle(left_right) + scale * (point.0 - middle(x));
        point.1 = middle(top_bottom) + scale * (point.1 - middle(y));
    }
}

/// Pushes places apart that would cover each other.
fn part(points: &mut [(f64, f64)]) {
    let ((left, right), (top, bottom)) = frame();
    let area = (right - left) * (bottom - top);
    let apart = APART.min(0.8 * libm::sqrt(area / points.len().max(1) as f64));
    for _ in 0..120 {
        for first in 0..points.len() {
            for second in first + 1..points.len() {
                let (a, b) = (points[first], points[second]);
                let (mut dx, mut dy) = (b.0 - a.0, b.1 - a.1);
                let mut distance = libm::sqrt(dx * dx + dy * dy);
                if distance >= apart {
                    continue;
                }
                if distance < 1e-6 {
                    (dx, dy) = around(second, 1.0);
                    distance = 1.0;
                }
                let push = (apart - distance.min(apart)) / 2.0 / distance;
                points[first] = (a.0 - push * dx, a.1 - push * dy);
                points[second] = (b.0 + push * dx, b.1 + push * dy);
            }
        }
        for point in points.iter_mut() {
            point.0 = point.0.clamp(left, right);
            point.1 = point.1.clamp(top, bottom);
        }
    }
    for point in points {
        point.0 = libm::round(point.0);
        point.1 = libm::round(point.1);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_on_one_spot_are_parted_and_stay_on_the_map() {
        let mut points = vec![(3.0, 3.0); 12];
        fit(&mut points);
        part(&mut points);
        for (nth, a) in points.iter().enumerate() {
            assert!((0.0..=SIZE.0).contains(&a.0) && (0.0..=SIZE.1).contains(&a.1));
            for b in &points[nth + 1..] {
                let distance = libm::hypot(a.0 - b.0, a.1 - b.1);
                assert!(distance > 60.0, "{a:?} {b:?}");
            }
        }
    }

    fn between(points: &[(f64, f64)]) -> Vec<Vec<Option<f64>>> {
        let apart = |a: &(f64, f64), b: &(f64, f64)| Some(libm::hypot(a.0 - b.0, a.1 - b.1));
        let row = |a| points.iter().map(|b| apart(a, b)).collect();
        points.iter().map(row).collect()
    }

    /// Where minutes are those of a plane, the map is that plane, as long as no place has to make room for a name.
    #[test]
    fn minutes_of_a_plane_give_it_back_and_say_so() {
        let plane = [
            (0.0, 0.0),
            (40.0, 0.0),
            (20.0, 22.0),
            (3.0, 20.0),
            (38.0, 21.0),
        ];
        let (drawn, said) = by_minutes(&between(&plane), 3);
        assert!(said.contains("off by less than 1%"), "{said}");
        let scale = libm::hypot(drawn[0].0 - drawn[1].0, drawn[0].1 - drawn[1].1) / 40.0;
        for (row, there) in between(&plane).iter().zip(&between(&drawn)) {
            for (minutes, drawn) in row.iter().flatten().zip(there.iter().flatten()) {
                assert!((minutes * scale - drawn).abs() < 2.0, "{minutes} {drawn}");
            }
        }
    }

    /// Six places all 30 min from each other fit on no plane (a regular simplex has five dimensions). For a regular polygon and its
    /// middle the sum can be done by hand; any layout has a stress far above 0.2.
    #[test]
    fn minutes_that_fit_no_plane_give_a_list() {
        let same = |i: usize, j: usize| Some(if i == j { 0.0 } else { 30.0 });
        let known: Vec<Vec<Option<f64>>> = (0..6)
            .map(|i| (0..6).map(|j| same(i, j)).collect())
            .collect();
        let (points, said) = by_minutes(&known, 2);
        assert!(
            said.starts_with("No map:") && said.contains("20%"),
            "{said}"
        );
        assert_eq!(points, list(6, 2));
        assert_eq!(points[0].0, points[1].0);
    }

    /// With one plant the minutes tell how far, never whither.
    #[test]
    fn one_plant_has_spokes() {
        let minutes = |from: usize, to: usize| match (from, to) {
            (0, 0) => Some(0.0),
            (0, site) | (site, 0) => Some(20.0 + site as f64),
            _ => None,
        };
        let row = |from| (0..5).map(|to| minutes(from, to)).collect();
        let known: Vec<Vec<Option<f64>>> = (0..5).map(row).collect();
        let (points, said) = by_minutes(&known, 1);
        assert!(
            said.contains("in which direction a site lies means nothing"),
            "{said}"
        );
        let far =
            |site: usize| libm::hypot(points[site].0 - points[0].0, points[site].1 - points[0].1);
        let scale = far(4) / 24.0;
        assert!((1..5).all(|site| (far(site) - scale * (20.0 + site as f64)).abs() < 2.0));
    }

    #[test]
    fn north_is_not_squeezed_against_east() {
        let mut points = vec![(0.0, 0.0), (10.0, 0.0), (0.0, 5.0)];
        fit(&mut points);
        let east = points[1].0 - points[0].0;
        let north = points[2].1 - points[0].1;
        assert!((east - 2.0 * north).abs() < 1e-9);
    }
}
