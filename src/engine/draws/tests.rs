use super::*;
use std::collections::HashSet;

const PURPOSE: Purpose = Purpose::EmptyTrip;

/// 100,000 blocks at neighbouring addresses share no pair of words (expected shared pairs by chance: 1e-28).
#[test]
fn neighbouring_addresses_share_nothing() {
    let mut seen = HashSet::new();
    let mut single = HashSet::new();
    for seed in 0..5 {
        for replication in 0..5 {
            let luck = Luck::new(seed, replication);
            for entity in 0..10 {
                let entity = Entity::named(&format!("order {entity}"));
                for index in 0..40 {
                    for attempt in 0..5 {
                        for purpose in [Purpose::Load, Purpose::DriverDay] {
                            let block = luck.block(purpose, entity, index, attempt);
                            let [a, b, c, d] = block.words;
                            assert!(seen.insert((a, b)) && seen.insert((c, d)));
                            single.extend([a, b, c, d]);
                        }
                    }
                }
            }
        }
    }
    assert_eq!(seen.len(), 200_000);
    assert_eq!(single.len(), 400_000, "no word comes twice");
}

/// With a seed that is added to the replication, these would be the same days.
#[test]
fn seed_and_replication_do_not_add_up() {
    let block =
        |seed, replication| Luck::new(seed, replication).block(PURPOSE, Entity::named("a"), 0, 0);
    assert_ne!(block(1, 10), block(11, 0));
    assert_ne!(block(1, 10), block(10, 1));
    assert_ne!(block(0, 0), block(0, 1));
    let keys: HashSet<_> = (0..400)
        .flat_map(|seed| (0..400).map(move |replication| Luck::new(seed, replication).key))
        .collect();
    assert_eq!(keys.len(), 160_000);
    let halves: HashSet<_> = keys.iter().map(|key| key[1]).collect();
    assert_eq!(
        halves.len(),
        160_000,
        "seed and replication never cancel out"
    );
}

#[test]
fn forks_differ_from_their_origin_and_from_each_other() {
    let luck = Luck::new(7, 0);
    let mut keys = HashSet::from([luck.key]);
    for fork in 0..20 {
        for ask in 0..20 {
            for trial in 0..20 {
                assert!(keys.insert(luck.fork([fork, ask, trial]).key));
            }
        }
    }
    assert_eq!(luck.fork([1, 2, 3]), luck.fork([1, 2, 3]));
}

/// The same numbers on every platform and in every version: changing these changes everybody's results.
#[test]
fn addresses_keep_their_numbers() {
    assert_eq!(Entity::named("").0, mix(0xCBF2_9CE4_8422_2325));
    // FNV-1a of "a" and "foobar" as its authors publish them (Fowler, Noll, Vo: test vectors).
    assert_eq!(Entity::named("a").0, mix(0xAF63_DC4C_8601_EC8C));
    assert_eq!(Entity::named("foobar").0, mix(0x8594_4171_F739_67E8));
    // SplitMix64 started at 0 gives this first: mix of the golden ratio (Steele, Lea, Flood; Vigna's reference code).
    assert_eq!(mix(0x9E37_79B9_7F4A_7C15), 0xE220_A839_7B1D_CDAF);
}

#[test]
fn uniforms_stay_strictly_inside() {
    let lowest = Block { words: [0; 4] };
    let highest = Block {
        words: [u64::MAX; 4],
    };
    for lane in 0..8 {
        assert_eq!(lowest.uniform(lane), 0.5_f64.powi(33));
        assert_eq!(highest.uniform(lane), 1.0 - 0.5_f64.powi(33));
    }
    for lane in 0..4 {
        assert_eq!(lowest.wide(lane), 0.5_f64.powi(53));
        assert_eq!(highest.wide(lane), 1.0 - 0.5_f64.powi(53));
    }
}

#[test]
fn lanes_are_the_halves_of_the_words() {
    let block = Block {
        words: [1 << 32, 2, 0, 0],
    };
    let step = 1.0 / 4_294_967_296.0;
    assert_eq!(block.uniform(0), 0.5 * step);
    assert_eq!(block.uniform(1), 1.5 * step);
    assert_eq!(block.uniform(2), 2.5 * step);
}

/// One draw per replication, entity, index and lane: whatever is counted along, the numbers must look uniform.
fn draws() -> Vec<f64> {
    let mut draws = Vec::new();
    for replication in 0..50 {
        let luck = Luck::new(20_260_101, replication);
        for entity in 0..20 {
            let entity = Entity::named(&format!("truck {entity}"));
            for index in 0..125 {
                let block = luck.block(PURPOSE, entity, index, 0);
                draws.extend((0..8).map(|lane| block.uniform(lane)));
            }
        }
    }
    draws
}

/// Pearson's chi-square over 1,000 bins at a false-alarm rate of 1e-6 (both sides).
#[test]
fn uniform_over_bins() {
    let draws = draws();
    let mut bins = [0_u32; 1000];
    for draw in &draws {
        bins[(draw * 1000.0) as usize] += 1;
    }
    let expected = draws.len() as f64 / 1000.0;
    let deviation = |count: &u32| (f64::from(*count) - expected).powi(2) / expected;
    let statistic: f64 = bins.iter().map(deviation).sum();
    use statrs::distribution::{ChiSquared, ContinuousCDF};
    let law = ChiSquared::new(999.0).unwrap();
    let (low, high) = (law.inverse_cdf(5e-7), law.inverse_cdf(1.0 - 5e-7));
    assert!(low < statistic && statistic < high, "{statistic}");
}

/// Correlation with the next lane, the same lane of the next index, the next entity and the next replication: each is
/// normal with variance 1/n; 5 standard errors are a false-alarm rate of 6e-7 each.
#[test]
fn no_correlation_between_neighbours() {
    let draws = draws();
    for lag in [1, 2, 7, 8, 1000, 20_000] {
        let pairs = draws.iter().zip(&draws[lag..]);
        let products = pairs.map(|(a, b)| 12.0 * (a - 0.5) * (b - 0.5));
        let count = (draws.len() - lag) as f64;
        let z = products.sum::<f64>() / count.sqrt();
        assert!(z.abs() < 5.0, "lag {lag}: {z}");
    }
}

/// As a generator of `rand`, an address gives the lanes of its blocks one after another.
#[test]
fn a_stream_is_the_lanes_in_order() {
    use rand::{Rng, RngExt};
    let luck = Luck::new(3, 1);
    let entity = Entity::named("order 7");
    let mut stream = luck.stream(PURPOSE, entity, 5);
    for attempt in 0..3 {
        let block = luck.block(PURPOSE, entity, 5, attempt);
        for lane in 0..8 {
            assert_eq!(stream.next_u32(), block.bits(lane));
        }
    }
    let block = luck.block(PURPOSE, entity, 5, 0);
    let mut stream = luck.stream(PURPOSE, entity, 5);
    assert_eq!(stream.next_u64(), block.words[0]);
    let mut bytes = [0; 12];
    stream.fill(&mut bytes);
    assert_eq!(bytes[..8], block.words[1].to_le_bytes());
    assert_eq!(bytes[8..], block.words[2].to_le_bytes()[..4]);
}
