//! Fair shares of a whole among the parts that bring it: L. S. Shapley, A value for n-person games, in Contributions to the Theory of
//! Games II, Annals of Mathematics Studies 28, 1953, pp. 307-317.
//!
//! A part's share is what it adds when it comes, averaged over the orders in which the parts may come. The shares add up to the whole;
//! parts that do the same have the same share; what adds nothing anywhere has none. With many parts some orders stand for all, each
//! with its reverse: J. Castro, D. Gómez, J. Tejada, Polynomial calculation of the Shapley value based on sampling, Computers &
//! Operations Research 36 (2009), pp. 1726-1730.

use rand::Rng;
use rand::seq::SliceRandom;

/// A set of parts, one bit each.
pub type Parts = u32;

/// Which sets must be valued, and how the shares follow from their values.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shapley {
    parts: usize,
    /// The orders that stand for all, each followed by its reverse; empty: all orders, by counting.
    orders: Vec<Vec<usize>>,
}

impl Shapley {
    /// Over all orders of so many parts, 1 to 20: every set is valued, 2 to the power of the parts.
    ///
    /// # Panics
    /// If there is no part or more than 20.
    pub fn exact(parts: usize) -> Self {
        assert!((1..=20).contains(&parts), "{parts} parts");
        Self {
            parts,
            orders: Vec::new(),
        }
    }

    /// Over so many drawn orders, at least 1, and their reverses, of 1 to 32 parts: at most parts − 1 sets are valued for each of them,
    /// besides none and all.
    ///
    /// # Panics
    /// If there is no part, more than 32, or no order.
    pub fn sampled(parts: usize, orders: usize, random: &mut impl Rng) -> Self {
        assert!((1..=32).contains(&parts), "{parts} parts");
        assert!(orders > 0, "no order");
        let mut order: Vec<usize> = (0..parts).collect();
        let mut drawn = Vec::with_capacity(2 * orders);
        for _ in 0..orders {
            order.shuffle(random);
            drawn.push(order.clone());
            drawn.push(order.iter().rev().copied().collect());
        }
        Self {
            parts,
            orders: drawn,
        }
    }

    /// All parts together.
    pub fn whole(&self) -> Parts {
        Parts::MAX >> (Parts::BITS as usize - self.parts)
    }

    /// How many orders stand for all, their reverses included; none: all are counted.
    pub fn orders(&self) -> Option<usize> {
        (!self.orders.is_empty()).then_some(self.orders.len())
    }

    /// The sets that must be valued, in rising order.
    pub fn sets(&self) -> Vec<Parts> {
        if self.orders.is_empty() {
            return (0..=self.whole()).collect();
        }
        let mut sets = vec![0];
        for order in &self.orders {
            let mut set = 0;
            for part in order {
                set |= 1 << part;
                sets.push(set);
            }
        }
        sets.sort_unstable();
        sets.dedup();
        sets
    }

    /// Each part's share of `value(whole) - value(0)`.
    pub fn shares(&self, value: impl Fn(Parts) -> f64) -> Vec<f64> {
        if self.orders.is_empty() {
            return self.by_counting(value);
        }
        let each = 1.0 / self.orders.len() as f64;
        let mut shares = vec![0.0; self.parts];
        for order in &self.orders {
            add(&mut shares, order, each, &value);
        }
        shares
    }

    /// The shares by each drawn order with its reverse, apart: how much they scatter tells how well the drawn orders stand for all.
    /// Empty where all are counted.
    pub fn shares_by_pair(&self, value: impl Fn(Parts) -> f64) -> Vec<Vec<f64>> {
        let pairs = self.orders.chunks_exact(2);
        pairs
            .map(|pair| {
                let mut shares = vec![0.0; self.parts];
                for order in pair {
                    add(&mut shares, order, 0.5, &value);
                }
                shares
            })
            .collect()
    }

    fn by_counting(&self, value: impl Fn(Parts) -> f64) -> Vec<f64> {
        // Of all orders, the share in which just `before` others have come before a part, and just these: before! (n-1-before)! / n!
        let n = self.parts;
        let mut weights = vec![1.0 / n as f64; n];
        for before in 1..n {
            weights[before] = weights[before - 1] * before as f64 / (n - before) as f64;
        }
        let mut shares = vec![0.0; n];
        for set in 0..=self.whole() {
            let (here, size) = (value(set), set.count_ones() as usize);
            for (part, share) in shares.iter_mut().enumerate() {
                if set & (1 << part) == 0 {
                    *share -= weights[size] * here;
                } else {
                    *share += weights[size - 1] * here;
                }
            }
        }
        shares
    }
}

/// What each part adds in this order, times `weight`.
fn add(shares: &mut [f64], order: &[usize], weight: f64, value: &impl Fn(Parts) -> f64) {
    let (mut set, mut before) = (0, value(0));
    for &part in order {
        set |= 1 << part;
        let after = value(set);
        shares[part] += weight * (after - before);
        before = after;
    }
}
