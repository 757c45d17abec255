//! Hired haulers and planned absence: driver weeks on paper, to the cent.

use crate::{changed, day};

use changed::changed;
use day::{scenario, scenario_problems};
use plantday::engine::Luck;
use plantday::observe::{CostPart, Figures, figure};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::units::Millis;

/// One truck and driver, Monday to Friday from 05:30 on, without luck. Loads are sent at 06:30 and every 64 min after, each is back after
/// 63 min; then 20 min of washing. A day of one load lasts 2 h 23 min, of two 3 h 27 min, of three 4 h 31 min, of four 5 h 35 min: in this
/// week 335 + 143 + 207 + 271 + 335 = 1,291 min. Each load drives 38 min: 14 of them 532.
const WEEK: &str = r#"(
    name: "paper week",
    period: (first_day: Monday, days: 5),
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "20:00")], loading: Constant(6), rack: Constant(4), bays: 2)],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", home: "P", count: 1)],
    drivers: [(name: "D", trucks: "T", report: "05:30", days: [Monday, Tuesday, Wednesday, Thursday, Friday])],
    orders: [MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    money: (pay_per_h: 30, overtime_after_h: 24, payroll_tax: 0, truck_per_driven_h: 30, truck_per_duty_h: 12),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

fn week(changes: &[(&str, &str)]) -> String {
    let mut text = WEEK.to_owned();
    let days = [
        ("MONDAY", 40),
        ("TUESDAY", 10),
        ("WEDNESDAY", 20),
        ("THURSDAY", 30),
        ("FRIDAY", 40),
    ];
    for (day, (word, yd3)) in (1..).zip(days) {
        let order = format!(
            "(name: \"O{day}\", day: {day}, site: \"A\", first: \"07:00\", volume_yd3: {yd3}, spacing_min: 64, position: Constant(0), \
             discharge_luck: Constant(1), chute_wash: Constant(5))"
        );
        text = changed(&text, &[(word, &order)]);
    }
    changed(&text, changes)
}

/// What a replication costs by these parts; the same figures are used twice, so that nothing of the first run is left.
fn parts<const N: usize>(text: &str, parts: [CostPart; N]) -> [f64; N] {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut once = || {
        figures.begin();
        World::new(&plan).run(0, Luck::new(1, 0), &mut figures);
        let costs = figures.cost_parts();
        parts.map(|part| costs[part as usize].units())
    };
    let first = once();
    assert_eq!(once(), first);
    first
}

/// A figure of a replication.
fn figure_of(text: &str, of: usize) -> f64 {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut figures = Figures::new(&plan, &scenario.money);
    figures.begin();
    World::new(&plan).run(0, Luck::new(1, 0), &mut figures);
    let mut row = vec![0.0; figures.width()];
    figures.row(&mut row);
    f64::from(row[of])
}

/// Eight driver weeks. An own driver at $30: 1,291 min are $645.50.
///
/// With 4 guaranteed hours Tuesday lacks 97 min and Wednesday 33: $65 more. With a guaranteed week of 30 h it lacks 8 h 29 min: $254.50.
/// With overtime after 5 h Monday and Friday have 35 min of it: 1,221 min at $30 and 70 at $45.
///
/// A hauler at $90 with at least 4 h: 335 + 240 + 240 + 271 + 335 = 1,421 min, $2,131.50; with no least 1,291 min, $1,936.50; with at least
/// 5 h 335 + 3 × 300 + 335 = 1,570 min, $2,355. What wages follow does not touch a hauler.
#[test]
fn eight_driver_weeks_to_the_cent() {
    use CostPart::{Haulers, Overtime, Pay, PayrollTax, Unworked};
    let of = |changes: &[(&str, &str)]| {
        parts(
            &week(changes),
            [Pay, Overtime, Unworked, PayrollTax, Haulers],
        )
    };
    let driver = |terms: &'static str| ("report: \"05:30\",", terms);
    assert_eq!(of(&[]), [645.5, 0.0, 0.0, 0.0, 0.0]);
    let guaranteed = driver("report: \"05:30\", guaranteed_h: 4,");
    assert_eq!(of(&[guaranteed]), [645.5, 0.0, 65.0, 0.0, 0.0]);
    let of_week = ("payroll_tax: 0,", "payroll_tax: 0, guaranteed_week_h: 30,");
    assert_eq!(of(&[of_week]), [645.5, 0.0, 254.5, 0.0, 0.0]);
    let five = ("overtime_after_h: 24", "overtime_after_h: 5");
    assert_eq!(of(&[five]), [610.5, 52.5, 0.0, 0.0, 0.0]);
    let usual = driver("report: \"05:30\", hauler_per_h: 90,");
    assert_eq!(of(&[usual]), [0.0, 0.0, 0.0, 0.0, 2131.5]);
    let none = driver("report: \"05:30\", hauler_per_h: 90, hauler_least_h: 0,");
    assert_eq!(of(&[none]), [0.0, 0.0, 0.0, 0.0, 1936.5]);
    let five_h = driver("report: \"05:30\", hauler_per_h: 90, hauler_least_h: 5,");
    assert_eq!(of(&[five_h]), [0.0, 0.0, 0.0, 0.0, 2355.0]);
    let wages = (
        "payroll_tax: 0,",
        "payroll_tax: 0.1, guaranteed_week_h: 30, guaranteed_day_h: 6, call_out_min_h: 5, overtime_after_week_h: 10, \
         night: (from: \"20:00\", to: \"07:00\", per_h: 5), weekend: (days: [Monday], factor: 2),",
    );
    assert_eq!(of(&[usual, five, wages]), [0.0, 0.0, 0.0, 0.0, 2131.5]);
}

/// The truck is the hauler's own: no fuel and no hours of ours. The own driver's twin drives 532 min at $30 an hour, and is on duty for
/// 1,291 min at $12. Both are paid hours; of the hauler's 1,421 min 130 are not worked.
#[test]
fn a_hauler_brings_the_truck() {
    let costs = |text: &str| parts(text, [CostPart::Driving, CostPart::TruckHours]);
    let hauler = week(&[("report: \"05:30\",", "report: \"05:30\", hauler_per_h: 90,")]);
    assert_eq!(costs(&week(&[])), [266.0, 258.2]);
    assert_eq!(costs(&hauler), [0.0, 0.0]);
    let hours = |text: &str| [figure::PAID_H, figure::UNWORKED_H].map(|of| figure_of(text, of));
    assert_eq!(
        hours(&week(&[])),
        [1291.0, 0.0].map(|min| f64::from(min as f32 / 60.0))
    );
    let [paid, unworked] = hours(&hauler);
    assert!((paid - 1421.0 / 60.0).abs() < 1e-5 && (unworked - 130.0 / 60.0).abs() < 1e-6);
}

#[test]
fn a_hauler_earns_no_wage() {
    for (terms, expected) in [
        (
            "hauler_per_h: 90, pay_per_h: 30,",
            "a wage and a hauler's price",
        ),
        (
            "hauler_per_h: 90, guaranteed_h: 6,",
            "a wage and a hauler's price",
        ),
        ("hauler_least_h: 3,", "the least hours of no hauler"),
        ("hauler_per_h: 90, hauler_least_h: 25,", "24"),
    ] {
        let changed = format!("report: \"05:30\", {terms}");
        let problems = scenario_problems(&week(&[("report: \"05:30\",", &changed)]));
        assert!(problems.contains(expected), "{terms}: {problems}");
    }
}

/// Days off by driver, as they are told.
#[derive(Default)]
struct Off(Vec<(usize, i64)>);

impl Observer for Off {
    fn event(&mut self, _: Millis, event: &Event) {
        if let Event::DayOff { driver, day } = *event {
            self.0.push((driver.at(), day));
        }
    }
}

fn days_off(text: &str, replication: u64) -> Vec<(usize, i64)> {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut off = Off::default();
    World::new(&plan).run(0, Luck::new(1, replication), &mut off);
    off.0
}

/// Who is always off does not come, is not paid, and has no guaranteed week; a hauler sends somebody else. With nobody off it is the week
/// above.
#[test]
fn nobody_who_is_off_is_paid() {
    let money = ("payroll_tax: 0,", "payroll_tax: 0, guaranteed_week_h: 30,");
    for absent in ["absent: 1", "empty_seats: 1"] {
        let changes = format!("changes: ({absent}), company: (");
        let off = ("company: (", changes.as_str());
        let of = |changes: &[(&str, &str)]| {
            parts(
                &week(changes),
                [CostPart::Pay, CostPart::Unworked, CostPart::Haulers],
            )
        };
        assert_eq!(of(&[off, money]), [0.0, 0.0, 0.0], "{absent}");
        assert_eq!(
            figure_of(&week(&[off]), figure::PLACED_YD3),
            0.0,
            "{absent}"
        );
        let hauler = ("report: \"05:30\",", "report: \"05:30\", hauler_per_h: 90,");
        assert_eq!(of(&[off, money, hauler]), [0.0, 0.0, 2131.5], "{absent}");
        let none = changes.replace(": 1)", ": 0)");
        assert_eq!(of(&[("company: (", &none), money]), [645.5, 254.5, 0.0]);
    }
}

/// Two drivers, five days: a seat is empty for all of them or for none, days off are days by themselves. Half of 2,000 driver days are 1,000;
/// the standard deviation is √(2,000 × ¼) = 22.4 by the binomial, of seats √(400 × ¼) × 5 = 50. One driver more shakes nobody else's.
#[test]
fn days_off_are_drawn_for_each_driver() {
    let two = ("count: 1", "count: 2");
    let with = |absent: &str| {
        week(&[
            two,
            ("company: (", &format!("changes: ({absent}), company: (")),
        ])
    };
    let (days, seats) = (with("absent: 0.5"), with("empty_seats: 0.5"));
    let (mut off, mut of_seats) = (0, 0);
    for replication in 0..200 {
        off += days_off(&days, replication).len();
        let empty = days_off(&seats, replication);
        of_seats += empty.len();
        for driver in 0..2 {
            let of_driver = empty.iter().filter(|(who, _)| *who == driver).count();
            assert!(of_driver == 0 || of_driver == 5, "{empty:?}");
        }
    }
    assert!(off.abs_diff(1000) <= 78, "{off} driver days");
    assert!(of_seats.abs_diff(1000) <= 175, "{of_seats} driver days");
    let three = changed(&days, &[("count: 2", "count: 3")]);
    let first_two = |text: &str| {
        let off = days_off(text, 7).into_iter();
        off.filter(|(driver, _)| *driver < 2).collect::<Vec<_>>()
    };
    assert_eq!(first_two(&days), first_two(&three));
}

/// Days off are known: where drivers are called, another one is. In every replication each load of a day comes in time on which one of the
/// two can; with as many who do not come unforeseen some are late or never come.
#[test]
fn another_is_called_for_who_is_off() {
    let called = |changes: &str| {
        week(&[
            ("count: 1", "count: 2"),
            ("name: \"R\",", "name: \"R\", shift: Matched(spare: 0),"),
            ("company: (", &format!("changes: ({changes}), company: (")),
        ])
    };
    let (off, unforeseen) = (called("absent: 0.3"), called("no_show: 0.3"));
    let mut missed = 0;
    for replication in 0..30 {
        let late_days = |text: &str| {
            let scenario = scenario(text);
            let plan = Plan::new(&scenario);
            let mut figures = Figures::new(&plan, &scenario.money);
            figures.begin();
            World::new(&plan).run(0, Luck::new(1, replication), &mut figures);
            let mut row = vec![0.0; figures.width()];
            figures.row(&mut row);
            row[figure::LATE_LOADS]
        };
        let off_days = days_off(&off, replication);
        let loads = [4.0, 1.0, 2.0, 3.0, 4.0];
        let nobody = (0..5).filter(|day| off_days.iter().filter(|(_, of)| of == day).count() == 2);
        let lost: f32 = nobody.map(|day| loads[day as usize]).sum();
        assert_eq!(late_days(&off), lost, "{off_days:?}");
        missed += usize::from(late_days(&unforeseen) > 0.0);
    }
    assert!(missed > 20, "{missed} of 30 weeks");
}
