//! Luck and assumptions apart: a table by hand, and normal worlds whose variances are known.

use plantday::statistics::{Correlation, Interval, TwoWay};
use rand::rngs::ChaCha8Rng;
use rand::{RngExt, SeedableRng};
use rand_distr::{Distribution, StandardNormal};

#[track_caller]
fn close(got: f64, expected: f64) {
    assert!(
        (got - expected).abs() < 1e-12,
        "got {got}, expected {expected}"
    );
}

/// Two worlds, three replications. Means of the worlds 2 and 4, of the replications 2, 3.5 and 3.5, of all 3.
///
/// ```text
/// squares of the worlds        3 (1 + 1)                  = 6     ÷ 1 = 6
/// squares of the replications  2 (1 + 0.25 + 0.25)        = 3     ÷ 2 = 1.5
/// rest: 0, -0.5, 0.5 and 0, 0.5, -0.5                     = 1     ÷ 2 = 0.5
/// ```
#[test]
fn a_table_by_hand() {
    let rows = [vec![1.0, 2.0, 3.0], vec![3.0, 5.0, 4.0]];
    let table = TwoWay::of(&rows).expect("a table");
    close(table.mean(), 3.0);
    close(table.var_worlds(), (6.0 - 0.5) / 3.0);
    close(table.var_replications(), (1.5 - 0.5) / 2.0);
    close(table.var_rest(), 0.5);
    // Of one replication: 11/6 of 11/6 + 1/2 + 1/2; of the average: luck is 1.5 ÷ (2 · 3), the worlds 11/6 · 3/2.
    close(
        table.share_of_worlds_in_one().expect("a share"),
        11.0 / 17.0,
    );
    close(table.share_of_worlds().expect("a share"), 2.75 / 3.0);
    // A blank takes its replication away in all worlds.
    let blank = [vec![1.0, 7.0, 2.0, 3.0], vec![3.0, f64::NAN, 5.0, 4.0]];
    assert_eq!(TwoWay::of(&blank), Some(table));
}

/// Worlds that are all the same have no variance of their own, and the interval is that of luck alone; where luck does nothing, all is the
/// worlds'. One world or one replication tells nothing.
#[test]
fn one_of_the_two_alone() {
    let luck = TwoWay::of(&[vec![1.0, 4.0, 2.0], vec![1.0, 4.0, 2.0]]).expect("a table");
    assert_eq!(luck.var_worlds(), 0.0);
    assert_eq!(luck.share_of_worlds(), Some(0.0));
    assert_eq!(luck.luck_and_worlds(0.95), luck.luck(0.95));
    let worlds = TwoWay::of(&[vec![1.0, 1.0], vec![3.0, 3.0], vec![2.0, 2.0]]).expect("a table");
    assert_eq!(worlds.luck(0.95), Interval::around(2.0, 0.0));
    assert_eq!(worlds.share_of_worlds(), Some(1.0));
    // t with 2 degrees of freedom 4.302653 (printed in any table), sd 1, one world more: √(1 + 1/3).
    let both = worlds.luck_and_worlds(0.95);
    assert!((both.half_width() - 4.302653 * (4.0_f64 / 3.0).sqrt()).abs() < 1e-5);
    assert_eq!(TwoWay::of(&[vec![1.0, 2.0]]), None);
    assert_eq!(TwoWay::of(&[vec![1.0], vec![2.0]]), None);
}

/// What is known of a kind of worlds.
struct Known {
    /// A world's true mean.
    world: fn(&mut ChaCha8Rng) -> f64,
    /// Its mean and variance over the worlds.
    mean: f64,
    variance: f64,
    /// Standard deviations of the luck that all worlds share, and of the rest.
    luck: f64,
    rest: f64,
    /// The interval of both may hold at so large a share of the seeds.
    most: f64,
}

fn normal(random: &mut ChaCha8Rng) -> f64 {
    StandardNormal.sample(random)
}

const WORLDS: usize = 20;
const RUNS: usize = 30;
const SEEDS: u64 = 2_000;

/// Mean and standard error over the seeds of a figure that is 0 or 1, or an estimate.
fn over_seeds(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|value| (value - mean).powi(2)).sum();
    (mean, (squares / (n - 1.0) / n).sqrt())
}

fn check(known: &Known) {
    let (mut variances, mut nested, mut both, mut alone) = (vec![], vec![], vec![], vec![]);
    for seed in 0..SEEDS {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        let true_means: Vec<f64> = (0..WORLDS).map(|_| (known.world)(&mut random)).collect();
        let luck: Vec<f64> = (0..RUNS)
            .map(|_| known.luck * normal(&mut random))
            .collect();
        let rows: Vec<Vec<f64>> = true_means
            .iter()
            .map(|mean| {
                let value = |luck: &f64| mean + luck + known.rest * normal(&mut random);
                luck.iter().map(value).collect()
            })
            .collect();
        let table = TwoWay::of(&rows).expect("a table");
        variances.push(table.var_worlds());
        let means = rows.iter().map(|row| row.iter().sum::<f64>() / RUNS as f64);
        let means: Vec<f64> = means.collect();
        let mean = means.iter().sum::<f64>() / WORLDS as f64;
        let of_means: f64 = means.iter().map(|world| (world - mean).powi(2)).sum();
        let within: f64 = rows
            .iter()
            .zip(&means)
            .flat_map(|(row, mean)| row.iter().map(move |value| (value - mean).powi(2)))
            .sum();
        let within = within / (WORLDS * (RUNS - 1)) as f64;
        nested.push(of_means / (WORLDS - 1) as f64 - within / RUNS as f64);
        // One more world of the kind, and the worlds that were drawn.
        let another = (known.world)(&mut random);
        both.push(f64::from(u8::from(
            table.luck_and_worlds(0.95).contains(another),
        )));
        let drawn = true_means.iter().sum::<f64>() / WORLDS as f64;
        alone.push(f64::from(u8::from(table.luck(0.95).contains(drawn))));
        assert!((table.mean() - known.mean).abs() < 12.0);
    }
    let (mean, error) = over_seeds(&variances);
    assert!(
        (mean - known.variance).abs() < 4.0 * error,
        "variance {mean} ± {error}, expected {}",
        known.variance
    );
    // Taking the spread within a world for the noise of its mean is wrong by the luck that the worlds share, var b ÷ n.
    let (mean, error) = over_seeds(&nested);
    let expected = known.variance - known.luck.powi(2) / RUNS as f64;
    assert!(
        (mean - expected).abs() < 4.0 * error,
        "{mean} ± {error}, {expected}"
    );
    for (what, seen, most) in [("both", &both, known.most), ("alone", &alone, 0.985)] {
        let (share, _) = over_seeds(seen);
        if std::env::var_os("SHOW_AGREEMENT").is_some() {
            println!("{what} {share:.4}");
        }
        // The interval of luck allows for one run more like the farthest out, and is a little wider than t.
        assert!((0.935..=most).contains(&share), "{what}: {share}");
    }
}

/// The mean is the input, normal; the luck normal.
#[test]
fn of_normal_worlds_it_covers_as_often_as_it_says() {
    check(&Known {
        world: |random| 10.0 + 2.0 * normal(random),
        mean: 10.0,
        variance: 4.0,
        luck: 6.0,
        rest: 3.0,
        most: 0.985,
    });
}

/// The mean is the input, anything between 0 and 12 equally likely: variance 144 ÷ 12. Twice its standard deviation
/// reaches beyond its ends, so that the interval of both holds more often than it says.
#[test]
fn of_uniform_worlds_it_covers_as_often_as_it_says() {
    check(&Known {
        world: |random| 12.0 * random.random::<f64>(),
        mean: 6.0,
        variance: 12.0,
        luck: 15.0,
        rest: 4.0,
        most: 1.0,
    });
}

/// The input does not matter: the estimate is 0 on average, and both intervals hold as often as they say.
#[test]
fn of_worlds_that_are_all_alike_luck_is_all() {
    check(&Known {
        world: |_| 10.0,
        mean: 10.0,
        variance: 0.0,
        luck: 6.0,
        rest: 3.0,
        most: 0.985,
    });
}

/// By hand: 8 ÷ √(10 · 10) = 0.8, t = 0.8 √3 ÷ 0.6 = 2.31, not above 3.18, Student's value at 95 % with 3 degrees of freedom; and
/// 12 ÷ √(10 · 14.8), t = 10.4, above.
#[test]
fn a_correlation_by_hand() {
    let of = |second: [f64; 5]| {
        let pairs: Vec<(f64, f64)> = [1.0, 2.0, 3.0, 4.0, 5.0].into_iter().zip(second).collect();
        Correlation::of(&pairs, 0.95, 1)
    };
    let some = of([2.0, 1.0, 4.0, 3.0, 5.0]).expect("it spreads");
    close(some.coefficient, 0.8);
    assert!(!some.told);
    let much = of([1.0, 2.0, 3.0, 4.0, 6.0]).expect("it spreads");
    close(much.coefficient, 12.0 / 148.0_f64.sqrt());
    assert!(much.told);
    let line = of([-1.0, -2.0, -3.0, -4.0, -5.0]).expect("it spreads");
    assert_eq!(
        line,
        Correlation {
            coefficient: -1.0,
            told: true
        }
    );
    assert_eq!(of([2.0; 5]), None);
    assert_eq!(Correlation::of(&[(1.0, 2.0), (2.0, 5.0)], 0.95, 1), None);
}

/// Of values that have nothing to do with each other it is told in one of twenty, in one of forty where two are looked at.
#[test]
fn a_correlation_is_told_of_nothing_as_seldom_as_it_says() {
    for (comparisons, least, most) in [(1, 0.035, 0.065), (2, 0.014, 0.036)] {
        let told = (0..SEEDS).filter(|seed| {
            let mut random = ChaCha8Rng::seed_from_u64(*seed);
            let pairs: Vec<(f64, f64)> = (0..WORLDS)
                .map(|_| (random.random::<f64>(), normal(&mut random)))
                .collect();
            Correlation::of(&pairs, 0.95, comparisons)
                .expect("it spreads")
                .told
        });
        let share = told.count() as f64 / SEEDS as f64;
        assert!((least..=most).contains(&share), "{comparisons}: {share}");
    }
}
