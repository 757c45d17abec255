//! Fair shares against games whose shares are known.

use plantday::engine::{Entity, Luck};
use plantday::statistics::{Parts, Shapley};
use plantday::units::Purpose;

/// Runways of 1, 2, 4 and 7: a set of airplanes costs the longest that one of them needs.
const RUNWAYS: [f64; 4] = [1.0, 2.0, 4.0, 7.0];

fn airport(set: Parts) -> f64 {
    let needed = RUNWAYS.iter().enumerate();
    let needed = needed.filter(|(plane, _)| set & (1 << plane) != 0);
    needed.map(|(_, cost)| *cost).fold(0.0, f64::max)
}

/// S. C. Littlechild, G. Owen, A simple expression for the Shapley value in a special case, Management Science 20 (1973), pp. 370-372
/// (from memory): each further stretch of runway is paid in equal parts by those who need it. 1/4; + 1/3; + 2/2; + 3/1.
const PAID: [f64; 4] = [0.25, 0.25 + 1.0 / 3.0, 1.25 + 1.0 / 3.0, 4.25 + 1.0 / 3.0];

/// A game without any pattern: the shares are the mean of what each part adds over all orders, counted one by one.
#[test]
fn counting_sets_is_counting_orders() {
    let luck = Luck::new(5, 0);
    let value = |set: Parts| {
        let block = luck.block(Purpose::AddedDecisions, Entity::named("game"), set, 0);
        block.uniform(0)
    };
    let parts = 5;
    let (mut sums, mut orders) = (vec![0.0; parts], 0.0);
    let mut open: Vec<Vec<usize>> = vec![Vec::new()];
    while let Some(order) = open.pop() {
        if order.len() == parts {
            orders += 1.0;
            let mut set = 0;
            for part in order {
                let before = value(set);
                set |= (1 as Parts) << part;
                sums[part] += value(set) - before;
            }
            continue;
        }
        for part in (0..parts).filter(|part| !order.contains(part)) {
            open.push([order.as_slice(), &[part]].concat());
        }
    }
    assert_eq!(orders, 120.0);
    let shapley = Shapley::exact(parts);
    let shares = shapley.shares(value);
    for (share, sum) in shares.iter().zip(sums) {
        assert!((share - sum / orders).abs() < 1e-12);
    }
    let whole = value(shapley.whole()) - value(0);
    assert!((shares.iter().sum::<f64>() - whole).abs() < 1e-12);
}

/// Drawn orders always add up to the whole; the shares come as near as the scatter of the pairs says; only sets on the way are valued.
#[test]
fn drawn_orders_stand_for_all() {
    let mut random = Luck::new(3, 0).stream(Purpose::AddedDecisions, Entity::named("orders"), 0);
    let shapley = Shapley::sampled(4, 400, &mut random);
    assert_eq!(shapley.orders(), Some(800));
    let shares = shapley.shares(airport);
    assert!((shares.iter().sum::<f64>() - 7.0).abs() < 1e-9);
    let pairs = shapley.shares_by_pair(airport);
    for (part, paid) in PAID.into_iter().enumerate() {
        let values: Vec<f64> = pairs.iter().map(|shares| shares[part]).collect();
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let variance = values.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / (n - 1.0);
        assert!((mean - shares[part]).abs() < 1e-9);
        assert!((mean - paid).abs() <= 3.5 * (variance / n).sqrt() + 1e-12);
    }
    let few = Shapley::sampled(12, 2, &mut random);
    assert!(few.sets().len() <= 4 * 11 + 2, "{}", few.sets().len());
    assert!(few.sets().contains(&0) && few.sets().contains(&few.whole()));
}
