//! Points of a plane whose distances come near to given ones: multidimensional scaling.
//!
//! It begins with classical scaling (W. S. Torgerson, "Multidimensional scaling: I. Theory and method", Psychometrika 17, 1952) of the
//! distances along the shortest chains, and goes on by stress majorization, one point after the other (J. de Leeuw 1977; E. R. Gansner,
//! Y. Koren and S. North, "Graph drawing by stress majorization", 2004, "localized"), in which a pair that is not known has no weight.
//! Nothing is drawn by chance, and the result is turned so that it does not depend on how the machine finds it: its long axis lies
//! along x, and the first point that is off an axis stands on the left of it, or above.

/// From this stress on a picture is poor (J. B. Kruskal, "Multidimensional scaling by optimizing goodness of fit to a nonmetric
/// hypothesis", Psychometrika 29, 1964: 20% poor, 10% fair, 5% good, 2.5% excellent, 0 perfect).
pub const POOR_STRESS: f64 = 0.20;

/// Operations that a layout may cost: it bounds the rounds where there are many points.
const WORK: usize = 400_000_000;
/// Rounds end when none of them moves a point by more than this share of the spread.
const STILL: f64 = 1e-12;

/// Points whose distances come nearest to those that are known, `[one][other]`, the same both ways; none if a point has no known
/// distance to any other along any chain. The known ones are 0 or more.
pub fn layout(known: &[Vec<Option<f64>>]) -> Option<Vec<(f64, f64)>> {
    let mut points = classical(&along_chains(known)?);
    majorize(known, &mut points);
    turn(&mut points);
    Some(points)
}

/// Classical scaling of distances that are all known, on its two largest axes; turned as [`layout`] is.
pub fn classical(distances: &[Vec<f64>]) -> Vec<(f64, f64)> {
    let n = distances.len();
    let square = |i: usize, j: usize| distances[i][j] * distances[i][j];
    let rows: Vec<f64> = (0..n)
        .map(|i| (0..n).map(|j| square(i, j)).sum::<f64>() / n as f64)
        .collect();
    let all = rows.iter().sum::<f64>() / n as f64;
    let centered: Vec<Vec<f64>> = (0..n)
        .map(|i| {
            let row = (0..n).map(|j| -0.5 * (square(i, j) - rows[i] - rows[j] + all));
            row.collect()
        })
        .collect();
    let mut points: Vec<(f64, f64)> = largest_axes(&centered);
    turn(&mut points);
    points
}

/// Kruskal's stress (his formula 1) of points against the known distances, which are first scaled to fit best: the distances of the
/// points are off by so much of themselves, in the root mean square. 0 without any pair.
pub fn stress(known: &[Vec<Option<f64>>], points: &[(f64, f64)]) -> f64 {
    let (mut both, mut asked, mut seen) = (0.0, 0.0, 0.0);
    for_each_pair(known, |i, j, asked_here| {
        let here = distance(points[i], points[j]);
        both += here * asked_here;
        asked += asked_here * asked_here;
        seen += here * here;
    });
    if asked == 0.0 || seen == 0.0 {
        return if asked == seen { 0.0 } else { 1.0 };
    }
    libm::sqrt((1.0 - both * both / (asked * seen)).max(0.0))
}

/// How many pairs are known.
pub fn known_pairs(known: &[Vec<Option<f64>>]) -> usize {
    let mut pairs = 0;
    for_each_pair(known, |_, _, _| pairs += 1);
    pairs
}

fn for_each_pair(known: &[Vec<Option<f64>>], mut look: impl FnMut(usize, usize, f64)) {
    for (i, row) in known.iter().enumerate() {
        for (j, asked) in row.iter().enumerate().skip(i + 1) {
            if let Some(asked) = asked {
                look(i, j, *asked);
            }
        }
    }
}

fn distance(a: (f64, f64), b: (f64, f64)) -> f64 {
    libm::hypot(a.0 - b.0, a.1 - b.1)
}

/// All distances along the shortest chain of known ones (Floyd and Warshall); none if some points are not connected.
fn along_chains(known: &[Vec<Option<f64>>]) -> Option<Vec<Vec<f64>>> {
    let n = known.len();
    let mut all: Vec<Vec<f64>> = (0..n)
        .map(|i| {
            let row = (0..n).map(|j| match i == j {
                true => 0.0,
                false => known[i][j].unwrap_or(f64::INFINITY),
            });
            row.collect()
        })
        .collect();
    for through in 0..n {
        let row = all[through].clone();
        for from in &mut all {
            let so_far = from[through];
            for (known, rest) in from.iter_mut().zip(&row) {
                *known = known.min(so_far + rest);
            }
        }
    }
    let connected = all.iter().flatten().all(|distance| distance.is_finite());
    connected.then_some(all)
}

/// The two eigenvectors with the largest eigenvalues, times their roots, by orthogonal iteration. The matrix is shifted so that no
/// negative eigenvalue is the largest in size.
fn largest_axes(matrix: &[Vec<f64>]) -> Vec<(f64, f64)> {
    let n = matrix.len();
    let sums = matrix.iter().map(|row| row.iter().map(|x| x.abs()).sum());
    let shift = sums.fold(0.0, f64::max) / 2.0;
    let times = |vector: &[f64]| -> Vec<f64> {
        let row = |row: &Vec<f64>| row.iter().zip(vector).map(|(a, b)| a * b).sum::<f64>();
        let shifted = matrix.iter().zip(vector);
        shifted.map(|(of, x)| row(of) + shift * x).collect()
    };
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let unit = |vector: &mut Vec<f64>| {
        let length = libm::sqrt(dot(vector, vector));
        if length > 0.0 {
            vector.iter_mut().for_each(|x| *x /= length);
        }
    };
    // Any start that is not the answer by symmetry.
    let mut axes: [Vec<f64>; 2] = [0.5, 1.5].map(|phase| {
        let wave = |i: usize| libm::sin(phase + 2.4 * phase * i as f64);
        let mut axis = (0..n).map(wave).collect();
        unit(&mut axis);
        axis
    });
    let rounds = (WORK / (2 * n * n).max(1)).clamp(20, 20_000);
    for _ in 0..rounds {
        let [first, second] = &axes;
        let mut next = [times(first), times(second)];
        unit(&mut next[0]);
        let along = dot(&next[0], &next[1]);
        let (first, second) = next.split_at_mut(1);
        for (x, other) in second[0].iter_mut().zip(&first[0]) {
            *x -= along * other;
        }
        unit(&mut next[1]);
        let moved = |at: usize| {
            let pairs = axes[at].iter().zip(&next[at]);
            pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
        };
        let still = moved(0).max(moved(1)) < STILL;
        axes = next;
        if still {
            break;
        }
    }
    let length = |axis: &Vec<f64>| {
        let eigenvalue = dot(axis, &times(axis)) - shift;
        libm::sqrt(eigenvalue.max(0.0))
    };
    let (x, y) = (length(&axes[0]), length(&axes[1]));
    let [first, second] = axes;
    let both = first.into_iter().zip(second);
    both.map(|(a, b)| (x * a, y * b)).collect()
}

/// Moves each point to where its own distances are met best, in turn: no move makes the stress greater.
fn majorize(known: &[Vec<Option<f64>>], points: &mut [(f64, f64)]) {
    let n = points.len();
    let reach = points.iter().map(|p| libm::hypot(p.0, p.1));
    let reach = reach.fold(0.0, f64::max);
    let rounds = (WORK / (n * n).max(1) / 4).clamp(20, 5_000);
    for _ in 0..rounds {
        let mut moved: f64 = 0.0;
        for i in 0..n {
            let here = points[i];
            let (mut sum, mut pairs) = ((0.0, 0.0), 0.0);
            for (j, asked) in known[i].iter().enumerate() {
                let Some(asked) = asked.filter(|_| j != i) else {
                    continue;
                };
                let there = points[j];
                let apart = distance(here, there);
                let share = if apart > 0.0 { asked / apart } else { 0.0 };
                sum.0 += there.0 + share * (here.0 - there.0);
                sum.1 += there.1 + share * (here.1 - there.1);
                pairs += 1.0;
            }
            if pairs > 0.0 {
                points[i] = (sum.0 / pairs, sum.1 / pairs);
                moved = moved.max(distance(here, points[i]));
            }
        }
        if moved <= STILL * reach {
            break;
        }
    }
}

/// Around their middle, with the long axis along x, and of the two ways round on each axis the one with the first point below 0.
fn turn(points: &mut [(f64, f64)]) {
    let n = points.len() as f64;
    let middle = points.iter().fold((0.0, 0.0), |sum, point| {
        (sum.0 + point.0 / n, sum.1 + point.1 / n)
    });
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for point in points.iter_mut() {
        *point = (point.0 - middle.0, point.1 - middle.1);
        xx += point.0 * point.0;
        xy += point.0 * point.1;
        yy += point.1 * point.1;
    }
    let angle = 0.5 * libm::atan2(2.0 * xy, xx - yy);
    let (cos, sin) = (libm::cos(angle), libm::sin(angle));
    for point in points.iter_mut() {
        *point = (cos * point.0 + sin * point.1, cos * point.1 - sin * point.0);
    }
    // What lies on an axis but for rounding decides nothing.
    let off = 1e-6 * libm::sqrt((xx + yy) / n.max(1.0));
    let flip = |axis: fn(&(f64, f64)) -> f64| {
        let first = points.iter().map(axis).find(|value| value.abs() > off);
        if first > Some(0.0) { -1.0 } else { 1.0 }
    };
    let (x, y) = (flip(|point| point.0), flip(|point| point.1));
    for point in points {
        *point = (x * point.0, y * point.1);
    }
}
