//! Money by hand: a week of one driver, every hour counted once.

use plantday::engine::Luck;
use plantday::observe::{CostPart, Figures, figure};
use plantday::plant::{Plan, World};
use plantday::scenario::{self, Scenario};

/// One truck, everything constant: loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18, a round trip of 63 min;
/// washout 12, post-trip 8. The driver reports at 05:30; the loads of a day are due at 07:00 and every 64 min after that. With k
/// loads the truck leaves the site at 07:15 + (k − 1) × 64 min, is home 18 min later, and the driver is released after another
/// 20: a tour of 143 + (k − 1) × 64 min.
///
/// | day | loads | tour  | plain | overtime by day | beyond 12 h | by week |
/// |-----|-------|-------|-------|-----------------|-------------|---------|
/// | Mon | 7     |  8:47 | 8:00  | 0:47            |             |         |
/// | Tue | 9     | 10:55 | 8:00  | 2:55            |             |         |
/// | Wed | 11    | 13:03 | 8:00  | 4:00            | 1:03        |         |
/// | Thu | 7     |  8:47 | 8:00  | 0:47            |             |         |
/// | Fri | 9     | 10:55 | 8:00  | 2:55            |             |         |
/// | Sat | 3     |  4:31 |       |                 |             | 4:31    |
/// | sum | 46    | 56:58 | 40:00 | 11:24           | 1:03        | 4:31    |
///
/// Overtime after 8 h a day and after 40 h a week at one and a half, after 12 h a day at twice the rate (the form of several
/// states' rules; California: over 8 h at 1.5, over 12 h at 2; federal law: over 40 h a week at 1.5). Saturday's premium of a
/// quarter is less than its overtime: each hour earns the highest factor, once.
const WEEK: &str = r#"(
    name: "paper week",
    period: (first_day: Monday, days: 6),
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "20:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30", shift_h: 14)],
    orders: [ORDERS],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    money: (
        pay_per_h: 30, overtime_after_h: 8, overtime_factor: 1.5, second_overtime: (after_h: 12, factor: 2),
        overtime_after_week_h: 40, call_out_min_h: 6, night: (from: "20:00", to: "06:00", per_h: 2),
        weekend: (factor: 1.25), truck_per_duty_h: 0, truck_per_driven_h: 0, truck_per_mile: 2, miles_at_mph: 30,
        crew_per_open_h: 0, material_per_yd3: 0, per_washout: 20, pump_standby_per_h: 60,
        revenue: (per_yd3: 150, unloading_min_per_yd3: 0.5, unloading_per_min: 2, short_load_under_yd3: 40, short_load: 90),
    ),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

fn week() -> String {
    let orders: String = [7, 9, 11, 7, 9, 3]
        .iter()
        .enumerate()
        .map(|(day, loads)| {
            format!(
                "(name: \"W{day}\", site: \"A\", day: {}, first: \"07:00\", volume_yd3: {}, spacing_min: 64, pump: true, \
                 position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), ",
                day + 1,
                loads * 10
            )
        })
        .collect();
    WEEK.replace("ORDERS", &orders)
}

fn scenario(text: &str) -> Scenario {
    scenario::parse("week", text).unwrap_or_else(|faults| panic!("{faults}"))
}

#[test]
fn a_driver_week_by_hand() {
    let scenario = scenario(&week());
    let plan = Plan::new(&scenario);
    let mut figures = Figures::new(&plan, &scenario.money);
    figures.begin();
    World::new(&plan).run(0, Luck::new(1, 0), &mut figures);
    let parts = figures.cost_parts();
    let part = |part: CostPart| {
        let at = CostPart::ALL.iter().position(|other| *other == part);
        parts[at.expect("a part")].units()
    };
    // 40 h at $30; half an hour of six nights at $2.
    assert_eq!(part(CostPart::Pay), 1200.0 + 6.0);
    // 1 h 29 of Saturday's six paid hours.
    assert_eq!(part(CostPart::Unworked), 44.5);
    // 11 h 24 and Saturday's 4 h 31 at $45, 1 h 03 at $60.
    assert_eq!(part(CostPart::Overtime), 513.0 + 203.25 + 63.0);
    // 46 loads, 10 miles out and 9 back, $2 a mile.
    assert_eq!(part(CostPart::Driving), 1748.0);
    // 6.2% and 1.45% of all pay, $2,029.75: the employer's share, 26 USC 3111.
    assert_eq!(part(CostPart::PayrollTax), 155.28);
    assert_eq!(part(CostPart::Washouts), 120.0);
    // Between two of the loads of a day the pump stands for 54 min: 40 times, at $60 an hour.
    assert_eq!(part(CostPart::Standby), 2160.0);

    let mut row = vec![0.0; figures.width()];
    figures.row(&mut row);
    let cost: f64 = parts.iter().map(|part| part.units()).sum();
    let all = 6057.75 + 155.28;
    assert!((cost - all).abs() < 1e-9, "no other cost: {cost}");
    let close = |at: usize, expected: f64| {
        assert!(
            (f64::from(row[at]) - expected).abs() < 0.01,
            "{at}: {} {expected}",
            row[at]
        );
    };
    close(figure::COST, all);
    close(figure::CASH_PAID, all - 2160.0);
    close(figure::TROUBLE, 2160.0);
    close(figure::LOST_SALES, 0.0);
    close(figure::PAID_H, 58.45);
    close(figure::OVERTIME_H, 11.4 + 1.05 + 4.0 + 31.0 / 60.0);
    // 460 yd³ at $150; each load stands 5 min longer than half a minute for each yd³ allows; Saturday's 30 yd³ are a short order.
    close(figure::REVENUE, 69_000.0 + 46.0 * 10.0 + 90.0);
    close(figure::MARGIN, 69_550.0 - (all - 2160.0));
}
