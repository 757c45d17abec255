//! Where plants and sites stand on the schematic map.

use crate::scenario::Scenario;
use crate::studies::Replay;
use std::f64::consts::PI;

/// Width and height of the map, in units of its own.
pub(super) const SIZE: (f64, f64) = (1000.0, 640.0);
/// Kept free for names and trucks around a place: left and right, above, below.
const MARGINS: (f64, f64, f64) = (90.0, 60.0, 90.0);
/// Places stand no nearer to each other, if there is room.
const APART: f64 = 135.0;

/// The position of every place by id, y downwards; none for a site that no order uses.
pub(super) fn positions(answer: &Replay, scenario: &Scenario) -> Vec<Option<(f64, f64)>> {
    let plants = scenario.plants.len();
    let used = |place: usize| {
        let sites = || answer.sites.iter().flatten();
        place < plants || sites().any(|site| site.at() == place)
    };
    let shown: Vec<usize> = (0..plants + scenario.sites.len())
        .filter(|place| used(*place))
        .collect();
    let at = |place: usize| match place.checked_sub(plants) {
        None => scenario.plants[place].at,
        Some(site) => scenario.sites[site].at,
    };
    let nowhere = shown.iter().all(|place| at(*place) == (0.0, 0.0));
    let farthest = answer.minutes_from_first.iter().flatten();
    let farthest = farthest.copied().fold(1.0, f64::max);
    let mut points: Vec<(f64, f64)> = shown
        .iter()
        .enumerate()
        .map(|(nth, place)| {
            let (east, north) = if nowhere {
                let minutes = answer.minutes_from_first[*place].unwrap_or(1.2 * farthest);
                around(nth, minutes)
            } else {
                at(*place)
            };
            (east, -north)
        })
        .collect();
    fit(&mut points);
    part(&mut points);
    let mut positions = vec![None; plants + scenario.sites.len()];
    for (place, point) in shown.iter().zip(points) {
        positions[*place] = Some(point);
    }
    positions
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

    #[test]
    fn north_is_not_squeezed_against_east() {
        let mut points = vec![(0.0, 0.0), (10.0, 0.0), (0.0, 5.0)];
        fit(&mut points);
        let east = points[1].0 - points[0].0;
        let north = points[2].1 - points[0].1;
        assert!((east - 2.0 * north).abs() < 1e-9);
    }
}
