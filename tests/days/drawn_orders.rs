//! Orders drawn day by day.

use crate::day;

use day::{figures, lines, loads, scenario};
use plantday::engine::{Count, Luck};
use plantday::observe::figure;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::parse;
use plantday::units::Millis;

const DAY: &str = r#"(
    name: "drawn",
    period: (days: 2),
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A", at: (0, 0))],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    drawn: [(name: "W", site: "A", per_day: Poisson(3), first: ("07:00", "09:00"), volume_yd3: Uniform(2, 20), spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow), (name: "Q", belief: StraightLine, choose: LongestIdle)],
)"#;

/// What was drawn: name, minutes later than the earliest, yd³.
#[derive(Default)]
struct Books(Vec<(usize, f64, f64)>);

impl Observer for Books {
    fn event(&mut self, _: Millis, event: &Event) {
        if let Event::Drawn {
            order,
            volume,
            later,
            ..
        } = *event
        {
            self.0.push((order.at(), later.minutes(), volume.yd3()));
        }
    }
}

/// The orders by name that a text has under a rule in each of so many replications.
fn books(text: &str, rule: usize, replications: u64) -> Vec<Vec<(String, f64, f64)>> {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut world = World::new(&plan);
    (0..replications)
        .map(|replication| {
            let mut books = Books::default();
            world.run(rule, Luck::new(11, replication), &mut books);
            let named = |(at, later, yd3): (usize, f64, f64)| {
                (scenario.orders[at].name.clone(), later, yd3)
            };
            books.0.into_iter().map(named).collect()
        })
        .collect()
}

/// One order of 20 yd³ at 07:00 every day is the day on paper of an order written out.
#[test]
fn a_certain_order_is_like_one_written_out() {
    let text = DAY
        .replace("period: (days: 2),", "")
        .replace("Poisson(3)", "1")
        .replace("(\"07:00\", \"09:00\")", "(\"07:00\", \"07:00\")")
        .replace("Uniform(2, 20)", "20");
    assert_eq!(
        loads(&text),
        "\
W Mon 1 1 T1 06:30 06:36 06:40 07:00 +0 07:00 07:10 07:15
W Mon 1 2 T2 07:00 07:06 07:10 07:30 +0 07:30 07:40 07:45
"
    );
    assert_eq!(
        lines(&text, &["is ordered"]),
        "00:00 W Mon 1 is ordered: 20 yd³ from 07:00\n"
    );
    // Room for more of them, and for larger ones, changes nothing: what a day does not have was never ordered.
    let roomy = text.replace("per_day: 1,", "per_day: 1, at_most: 4, most_yd3: 60,");
    assert_eq!(loads(&roomy), loads(&text));
    let base = [
        figure::ORDERED_YD3,
        figure::PLACED_YD3,
        figure::CANCELLED_YD3,
        figure::LEFT_YD3,
        figure::SERVED_SHARE,
    ];
    assert_eq!(figures(&roomy, &base), [20.0, 20.0, 0.0, 0.0, 1.0]);
}

/// A Poisson count of mean m has variance m, and its sample variance over n a variance of about (m + 2 m²) / n (fourth central
/// moment m + 3 m²; e.g. Ross, Introduction to Probability Models). A time even over 120 minutes has mean 60. The orders of two
/// days are independent.
#[test]
fn the_number_of_orders_is_poisson() {
    let (n, mean) = (4_000, 3.0);
    let books = books(DAY, 0, n);
    let count = |day: &str| -> Vec<f64> {
        let of_day = |orders: &Vec<(String, f64, f64)>| {
            orders.iter().filter(|order| order.0.contains(day)).count() as f64
        };
        books.iter().map(of_day).collect()
    };
    let n = n as f64;
    let average = |values: &[f64]| values.iter().sum::<f64>() / n;
    let (monday, tuesday) = (count(" Mon "), count(" Tue "));
    for counts in [&monday, &tuesday] {
        let found = average(counts);
        let squares: Vec<f64> = counts
            .iter()
            .map(|count| (count - found) * (count - found))
            .collect();
        let variance = average(&squares) * n / (n - 1.0);
        assert!(
            (found - mean).abs() <= 3.5 * (mean / n).sqrt(),
            "mean {found}"
        );
        assert!(
            (variance - mean).abs() <= 3.5 * ((mean + 2.0 * mean * mean) / n).sqrt(),
            "variance {variance}"
        );
    }
    let products: Vec<f64> = monday
        .iter()
        .zip(&tuesday)
        .map(|(a, b)| (a - mean) * (b - mean))
        .collect();
    assert!(average(&products).abs() <= 3.5 * mean / n.sqrt());
    let times: Vec<f64> = books.iter().flatten().map(|order| order.1).collect();
    let volumes: Vec<f64> = books.iter().flatten().map(|order| order.2).collect();
    let all = times.len() as f64;
    // Minutes 0 to 120 equally likely: variance (121² − 1) / 12.
    let time = times.iter().sum::<f64>() / all;
    assert!(
        (time - 60.0).abs() <= 3.5 * (14_640.0_f64 / 12.0 / all).sqrt(),
        "{time}"
    );
    // Even from 2 to 20 yd³, but for the half yards.
    let volume = volumes.iter().sum::<f64>() / all;
    assert!(
        (volume - 11.0).abs() <= 3.5 * (18.0 * 18.0 / 12.0 / all).sqrt(),
        "{volume}"
    );
    assert!(
        volumes
            .iter()
            .all(|yd3| (2.0..=20.0).contains(yd3) && (yd3 * 2.0).fract() == 0.0)
    );
}

/// All rules meet the same orders; another list or another number on one day moves nothing of the others.
#[test]
fn draws_belong_to_the_list_the_day_and_the_number() {
    let plain = books(DAY, 0, 50);
    assert_eq!(books(DAY, 1, 50), plain);
    let only = |books: &[Vec<(String, f64, f64)>], word: &str| -> Vec<(String, f64, f64)> {
        books
            .iter()
            .flatten()
            .filter(|order| order.0.starts_with(word))
            .cloned()
            .collect()
    };
    let monday = DAY.replace(
        "site: \"A\", per_day",
        "site: \"A\", days: [Monday], per_day",
    );
    assert_eq!(only(&books(&monday, 0, 50), "W"), only(&plain, "W Mon"));
    let another = DAY.replace(
        "drawn: [",
        "drawn: [(name: \"V\", site: \"A\", per_day: 2, first: (\"06:00\", \"09:00\"), volume_yd3: 5, spacing_min: 10), ",
    );
    assert_eq!(only(&books(&another, 0, 50), "W"), only(&plain, "W"));
    // More orders on average: those that were there stay as they are.
    let more = only(&books(&DAY.replace("Poisson(3)", "Poisson(5)"), 0, 50), "W");
    assert!(only(&plain, "W").iter().all(|order| more.contains(order)));
}

/// All but a millionth of the days have at most so many: P(N = k) = e⁻³ 3ᵏ / k!, added up (e.g. Ross, as above).
#[test]
fn the_room_for_orders_is_a_quantile() {
    assert_eq!(Count::Poisson { mean: 0.0 }.most(), 0);
    let mut chance = (-3.0_f64).exp();
    let mut sum = chance;
    let mut most = 0;
    while sum < 1.0 - 1e-6 {
        most += 1;
        chance *= 3.0 / f64::from(most);
        sum += chance;
    }
    assert_eq!(Count::Poisson { mean: 3.0 }.most(), most);
}

#[test]
fn everything_wrong_is_said_at_once() {
    let wrong = DAY
        .replace("(\"07:00\", \"09:00\")", "(\"09:00\", \"07:00\")")
        .replace("Poisson(3)", "Poisson(3000)")
        .replace("spacing_min: 30", "spacing_mins: 30");
    let faults = parse("day.ron", &wrong)
        .expect_err("three problems")
        .to_string();
    for said in ["expected a time not before", "orders a day", "spacing_min"] {
        assert!(faults.contains(said), "{said} in\n{faults}");
    }
}
