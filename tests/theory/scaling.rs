//! Places laid out by their distances: a plane is given back, road distances between European cities come out as another program has
//! them, and the result is the same however the input is turned.

use plantday::statistics::scaling::{POOR_STRESS, classical, known_pairs, layout, stress};

fn distances(points: &[(f64, f64)]) -> Vec<Vec<f64>> {
    let apart = |a: &(f64, f64), b: &(f64, f64)| (a.0 - b.0).hypot(a.1 - b.1);
    let row = |a| points.iter().map(|b| apart(a, b)).collect();
    points.iter().map(row).collect()
}

fn known(distances: &[Vec<f64>]) -> Vec<Vec<Option<f64>>> {
    let row = |row: &Vec<f64>| row.iter().copied().map(Some).collect();
    distances.iter().map(row).collect()
}

/// Road kilometres between 21 European cities, below the diagonal: the data set `eurodist` of R, after The Cambridge Encyclopaedia (from
/// memory; that the coordinates below come out of them shows that both are remembered rightly).
const EURODIST: [&[f64]; 19] = [
    &[3313.0],
    &[2963.0, 1318.0],
    &[3175.0, 1326.0, 204.0],
    &[3339.0, 1294.0, 583.0, 460.0],
    &[2762.0, 1498.0, 206.0, 409.0, 785.0],
    &[3276.0, 2218.0, 966.0, 1136.0, 1545.0, 760.0],
    &[2610.0, 803.0, 677.0, 747.0, 853.0, 1662.0, 1418.0],
    &[
        4485.0, 1172.0, 2256.0, 2224.0, 2047.0, 2436.0, 3196.0, 1975.0,
    ],
    &[
        2977.0, 2018.0, 597.0, 714.0, 1115.0, 460.0, 460.0, 1118.0, 2897.0,
    ],
    &[
        3030.0, 1490.0, 172.0, 330.0, 731.0, 269.0, 269.0, 895.0, 2428.0, 550.0,
    ],
    &[
        4532.0, 1305.0, 2084.0, 2052.0, 1827.0, 2290.0, 2971.0, 1936.0, 676.0, 2671.0, 2280.0,
    ],
    &[
        2753.0, 645.0, 690.0, 739.0, 789.0, 714.0, 1458.0, 158.0, 1817.0, 1159.0, 863.0, 1178.0,
    ],
    &[
        3949.0, 636.0, 1558.0, 1550.0, 1347.0, 1764.0, 2498.0, 1439.0, 698.0, 2198.0, 1730.0,
        668.0, 1281.0,
    ],
    &[
        2865.0, 521.0, 1011.0, 1059.0, 1101.0, 1035.0, 1778.0, 425.0, 1693.0, 1479.0, 1183.0,
        1762.0, 320.0, 1157.0,
    ],
    &[
        2282.0, 1014.0, 925.0, 1077.0, 1209.0, 911.0, 1537.0, 328.0, 2185.0, 1238.0, 1098.0,
        2250.0, 328.0, 1724.0, 618.0,
    ],
    &[
        2179.0, 1365.0, 747.0, 977.0, 1160.0, 583.0, 1104.0, 591.0, 2565.0, 805.0, 851.0, 2507.0,
        724.0, 2010.0, 1109.0, 331.0,
    ],
    &[
        3000.0, 1033.0, 285.0, 280.0, 340.0, 465.0, 1176.0, 513.0, 1971.0, 877.0, 457.0, 1799.0,
        471.0, 1273.0, 792.0, 856.0, 821.0,
    ],
    &[
        817.0, 1460.0, 1511.0, 1662.0, 1794.0, 1497.0, 2050.0, 995.0, 2631.0, 1751.0, 1683.0,
        2700.0, 1048.0, 2097.0, 1011.0, 586.0, 946.0, 1476.0,
    ],
    &[
        3927.0, 2868.0, 1616.0, 1786.0, 2196.0, 1403.0, 650.0, 2068.0, 3886.0, 949.0, 1500.0,
        3231.0, 2108.0, 3188.0, 2428.0, 2187.0, 1754.0, 1827.0, 2707.0,
    ],
];

/// The first points of R's `cmdscale(eurodist)`, from Athens on (from memory).
const CMDSCALE: [(f64, f64); 7] = [
    (2290.27468, 1798.8029),
    (-825.38279, 546.8115),
    (59.18334, -367.08135),
    (-82.845973, -429.91466),
    (-352.499435, -290.90843),
    (293.689633, -405.31194),
    (681.931545, -1108.64478),
];

fn eurodist() -> Vec<Vec<f64>> {
    let mut all = vec![vec![0.0; 21]; 21];
    for (at, row) in EURODIST.iter().enumerate() {
        for (to, km) in row.iter().enumerate() {
            all[at + 1][to] = *km;
            all[to][at + 1] = *km;
        }
    }
    let vienna = [
        1991.0, 1802.0, 1175.0, 1381.0, 1588.0, 937.0, 1455.0, 1019.0, 2974.0, 1155.0, 1205.0,
        2937.0, 1157.0, 2409.0, 1363.0, 898.0, 428.0, 1249.0, 1209.0, 2105.0,
    ];
    for (to, km) in vienna.into_iter().enumerate() {
        all[20][to] = km;
        all[to][20] = km;
    }
    all
}

#[test]
fn classical_scaling_is_that_of_another_program() {
    let points = classical(&eurodist());
    // Which way round an axis points is free: R has Athens on the right and below.
    let turn = |(x, y): (f64, f64)| (-x, -y);
    for (seen, there) in points.iter().zip(CMDSCALE) {
        let seen = turn(*seen);
        let off = (seen.0 - there.0).hypot(seen.1 - there.1);
        assert!(off < 0.01, "{seen:?} {there:?}");
    }
}

/// Majorization goes on from there and never makes the stress greater.
#[test]
fn majorization_fits_better_than_it_began() {
    let all = known(&eurodist());
    let begun = stress(&all, &classical(&eurodist()));
    let fitted = stress(&all, &layout(&all).expect("connected"));
    assert!(
        fitted < 0.95 * begun && fitted < POOR_STRESS,
        "{begun} {fitted}"
    );
    // No point can be moved a little so that it fits better.
    let points = layout(&all).expect("connected");
    for at in 0..points.len() {
        for (dx, dy) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
            let mut moved = points.clone();
            moved[at] = (moved[at].0 + dx, moved[at].1 + dy);
            assert!(raw(&all, &moved) > raw(&all, &points), "{at}");
        }
    }
}

/// The sum of squares that majorization makes least.
fn raw(known: &[Vec<Option<f64>>], points: &[(f64, f64)]) -> f64 {
    let seen = distances(points);
    let pairs = known.iter().flatten().zip(seen.iter().flatten());
    pairs
        .map(|(asked, seen)| asked.map_or(0.0, |asked| (asked - seen).powi(2)))
        .sum()
}

const PLANE: [(f64, f64); 7] = [
    (0.0, 0.0),
    (31.0, 4.0),
    (12.0, 25.0),
    (5.0, 14.0),
    (22.0, -9.0),
    (40.0, 18.0),
    (17.0, 3.0),
];

/// Distances of a plane give it back up to where it lies and how it is turned (Torgerson 1952): all distances are as they were.
#[test]
fn a_plane_is_given_back() {
    let asked = distances(&PLANE);
    for points in [
        classical(&asked),
        layout(&known(&asked)).expect("connected"),
    ] {
        let seen = distances(&points);
        for (a, b) in asked.iter().flatten().zip(seen.iter().flatten()) {
            assert!((a - b).abs() < 1e-6, "{a} {b}");
        }
    }
    assert!(stress(&known(&asked), &PLANE) < 1e-7);
}

/// Between sites no minutes are known. Three plants are enough to say where each site lies: the unknown distances come out too.
#[test]
fn pairs_that_are_not_known_have_no_weight() {
    let asked = distances(&PLANE);
    let mut some = known(&asked);
    for (i, row) in some.iter_mut().enumerate().skip(3) {
        for j in (3..7).filter(|j| *j != i) {
            row[j] = None;
        }
    }
    assert_eq!(known_pairs(&some), 3 + 3 * 4);
    let points = layout(&some).expect("connected");
    assert!(stress(&some, &points) < 1e-4, "{}", stress(&some, &points));
    let seen = distances(&points);
    for (a, b) in asked.iter().flatten().zip(seen.iter().flatten()) {
        assert!((a - b).abs() < 0.05, "{a} {b}");
    }
    let mut apart = some;
    for (i, row) in apart.iter_mut().enumerate() {
        for (j, cell) in row.iter_mut().enumerate() {
            if (i == 6) != (j == 6) {
                *cell = None;
            }
        }
    }
    assert!(layout(&apart).is_none(), "a place that nothing is known of");
}

/// However the plane lay before, it comes out the same way round; the same input gives the same bits.
#[test]
fn it_comes_out_the_same_way_round() {
    let turned: Vec<(f64, f64)> = PLANE.iter().map(|(x, y)| (3.0 - y, x + 8.0)).collect();
    let one = layout(&known(&distances(&PLANE))).expect("connected");
    let other = layout(&known(&distances(&turned))).expect("connected");
    for (a, b) in one.iter().zip(&other) {
        assert!((a.0 - b.0).hypot(a.1 - b.1) < 1e-6, "{a:?} {b:?}");
    }
    assert_eq!(layout(&known(&eurodist())), layout(&known(&eurodist())));
    assert!(one[0].0 < 0.0 && one[0].1 < 0.0);
}

/// Distances 3, 4, 5 are asked; the points, all on a line, have 3, 4, 7. With the best scale a, which is 60 / 50 for the asked ones, the
/// squares left are 74 - 60² / 50, of 74: the points are off by the root of 1 - (9 + 16 + 35)² / (50 × 74).
#[test]
fn stress_on_paper() {
    let asked = vec![
        vec![Some(0.0), Some(3.0), Some(5.0)],
        vec![Some(3.0), Some(0.0), Some(4.0)],
        vec![Some(5.0), Some(4.0), Some(0.0)],
    ];
    let line = [(0.0, 0.0), (3.0, 0.0), (7.0, 0.0)];
    let by_hand = (1.0_f64 - 60.0 * 60.0 / (50.0 * 74.0)).sqrt();
    assert!((stress(&asked, &line) - by_hand).abs() < 1e-12);
    // Twice as large is as good a picture.
    let large = line.map(|(x, y)| (2.0 * x, 2.0 * y));
    assert!((stress(&asked, &large) - by_hand).abs() < 1e-12);
}
