//! The lowest point of a function of two numbers, where its equations are not known.

/// Nelder and Mead's search (Computer Journal 7, 1965) from a start, with steps of this length to begin with.
pub(super) fn lowest(f: impl Fn([f64; 2]) -> f64, start: [f64; 2], step: f64) -> [f64; 2] {
    let at = |point: [f64; 2]| (f(point), point);
    let mut corners = [
        at(start),
        at([start[0] + step, start[1]]),
        at([start[0], start[1] + step]),
    ];
    for _ in 0..200 {
        corners.sort_by(|a, b| a.0.total_cmp(&b.0));
        let [best, middle, worst] = corners;
        let size = (0..2)
            .map(|i| {
                (worst.1[i] - best.1[i])
                    .abs()
                    .max((middle.1[i] - best.1[i]).abs())
            })
            .fold(0.0, f64::max);
        if size < 1e-9 || (size < 1e-5 && worst.0 - best.0 < 1e-9) {
            break;
        }
        let centre = [
            (best.1[0] + middle.1[0]) / 2.0,
            (best.1[1] + middle.1[1]) / 2.0,
        ];
        let along = |t: f64| {
            at([
                centre[0] + t * (worst.1[0] - centre[0]),
                centre[1] + t * (worst.1[1] - centre[1]),
            ])
        };
        let reflected = along(-1.0);
        let next = if reflected.0 < best.0 {
            let farther = along(-2.0);
            if farther.0 < reflected.0 {
                farther
            } else {
                reflected
            }
        } else if reflected.0 < middle.0 {
            reflected
        } else {
            let nearer = if reflected.0 < worst.0 {
                along(-0.5)
            } else {
                along(0.5)
            };
            if nearer.0 >= worst.0.min(reflected.0) {
                for corner in &mut corners[1..] {
                    let half = |i: usize| (corner.1[i] + best.1[i]) / 2.0;
                    *corner = at([half(0), half(1)]);
                }
                continue;
            }
            nearer
        };
        corners[2] = next;
    }
    corners.sort_by(|a, b| a.0.total_cmp(&b.0));
    corners[0].1
}
