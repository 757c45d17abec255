//! What drivers earn beyond the hours of a day: weeks that began before the period, guaranteed hours, show-up pay. To the cent, by
//! hand.

use crate::{changed, day};

use changed::changed;
use day::{figures, scenario, scenario_problems};
use plantday::engine::Luck;
use plantday::observe::{CostPart, Figures, figure};
use plantday::plant::{Plan, World};

/// One truck and driver from 05:30 on, without luck. Loads are sent at 06:30 and every 64 min after, each is back after 63 min; then
/// 20 min of washing. A day of one load lasts 2 h 23 min, of four 5 h 35 min.
const THURSDAY: &str = r#"(
    name: "paper day",
    period: (first_day: Thursday, days: 1),
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "20:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", home: "P")],
    drivers: [(name: "D", trucks: "T", report: "05:30", history: (hours: []))],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 64,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    money: (pay_per_h: 30, overtime_after_h: 24, overtime_after_week_h: 40),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

fn thursday(changes: &[(&str, &str)]) -> String {
    changed(THURSDAY, changes)
}

/// Regular pay, overtime, and pay for hours that are not worked. The same figures are used twice: nothing of the first run is left.
fn pay(text: &str) -> [f64; 3] {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut once = || {
        figures.begin();
        World::new(&plan).run(0, Luck::new(1, 0), &mut figures);
        let parts = figures.cost_parts();
        [CostPart::Pay, CostPart::Overtime, CostPart::Unworked]
            .map(|part| parts[part as usize].units())
    };
    let first = once();
    assert_eq!(once(), first);
    first
}

/// Three days of 13 h are 39 h: of Thursday's 5 h 35 min one hour is plain, the rest is over 40 h (29 USC 207(a)(1)). The twin has not
/// worked before. Where overtime is paid after 8 h of a day, 15 of the 39 h have earned it, are not counted again, and nothing of
/// Thursday is over 40 (California Labor Code 510(a): nothing requires combining rates of overtime).
#[test]
fn the_week_begins_before_the_period() {
    let before = ("hours: []", "hours: [13, 13, 13]");
    assert_eq!(pay(&thursday(&[before])), [30.0, 206.25, 0.0]);
    assert_eq!(pay(THURSDAY), [167.5, 0.0, 0.0]);
    let by_day = ("overtime_after_h: 24", "overtime_after_h: 8");
    assert_eq!(pay(&thursday(&[before, by_day])), [167.5, 0.0, 0.0]);
    // A fourth hour over 8 a day less: 8 + 8 + 8 + 5.58 h. Twice as many before, and all of it is over.
    let long = ("hours: []", "hours: [24, 8, 8]");
    assert_eq!(pay(&thursday(&[long])), [0.0, 251.25, 0.0]);
}

/// A workweek is seven days on end from a fixed day on, and need not be the calendar's (29 CFR 778.105). Before Thursday lie 12 h on
/// Sunday and 36 h since: from Monday on 4 h are left of 40, from Sunday on none, from Thursday on all.
#[test]
fn the_workweek_begins_on_its_day() {
    let week = |first: &str| {
        let money = format!("overtime_after_week_h: 40, {first}");
        pay(&thursday(&[
            ("hours: []", "hours: [13, 13, 10, 12]"),
            ("overtime_after_week_h: 40", &money),
        ]))
    };
    let monday = [120.0, 71.25, 0.0];
    assert_eq!(week(""), monday);
    assert_eq!(week("workweek: Monday"), monday);
    assert_eq!(week("workweek: Sunday"), [0.0, 251.25, 0.0]);
    assert_eq!(week("workweek: Thursday"), [167.5, 0.0, 0.0]);
    // Friday begins a week: Thursday's 5 h 35 min are over 40, as many on Friday are not.
    let two = thursday(&[
        ("days: 1", "days: 2"),
        ("hours: []", "hours: [20, 20]"),
        (
            "orders: [",
            "orders: [(name: \"F\", day: 2, site: \"A\", first: \"07:00\", volume_yd3: 40, spacing_min: 64, \
            position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), ",
        ),
    ]);
    assert_eq!(pay(&two), [0.0, 502.5, 0.0]);
    let friday = two.replace(
        "overtime_after_week_h: 40",
        "overtime_after_week_h: 40, workweek: Friday",
    );
    assert_eq!(pay(&friday), [167.5, 251.25, 0.0]);
}

/// Two days of one load, 2 h 23 min each, after 36 h in the week: 46 min of Friday are over 40 h. With 6 h a day guaranteed, 3 h 37 min
/// of each day are paid at the plain rate; they are not worked, and make no overtime (29 CFR 778.218, 778.220).
#[test]
fn guaranteed_hours_are_paid_and_make_no_overtime() {
    let two = thursday(&[
        ("days: 1", "days: 2"),
        ("hours: []", "hours: [12, 12, 12]"),
        ("volume_yd3: 40", "volume_yd3: 10"),
        (
            "orders: [",
            "orders: [(name: \"F\", day: 2, site: \"A\", first: \"07:00\", volume_yd3: 10, spacing_min: 64, \
            position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), ",
        ),
    ]);
    assert_eq!(pay(&two), [120.0, 34.5, 0.0]);
    let guaranteed = |what: &str| two.replace("money: (", &format!("money: ({what}, "));
    assert_eq!(
        pay(&guaranteed("guaranteed_day_h: 6")),
        [120.0, 34.5, 217.0]
    );
    // The least of a shift is paid for shifts; a day of one shift is never paid twice for being short.
    assert_eq!(
        pay(&guaranteed("guaranteed_day_h: 6, call_out_min_h: 4")),
        [120.0, 34.5, 217.0]
    );
    assert_eq!(pay(&guaranteed("call_out_min_h: 4")), [120.0, 34.5, 97.0]);
    // A day that was worked as long as it is guaranteed pays nothing more.
    let long = thursday(&[("money: (", "money: (guaranteed_day_h: 5.5, ")]);
    assert_eq!(pay(&long), [167.5, 0.0, 0.0]);
}

/// Half the planned shift, at least 2 h, at most 4: an employer who furnishes less than half the usual day's work pays for half of it
/// (8 CCR 11090(5)(A)). Of 10 h that is 4 h, of 6 h 3 h, of 3 h 2 h, of which 2 h 23 min were worked.
#[test]
fn who_is_sent_home_early_has_show_up_pay() {
    let day = |shift: &str, money: &str| {
        pay(&thursday(&[
            ("volume_yd3: 40", "volume_yd3: 10"),
            (
                "report: \"05:30\"",
                &format!("report: \"05:30\", shift_h: {shift}"),
            ),
            ("money: (", &format!("money: ({money}")),
        ]))
    };
    assert_eq!(day("10", ""), [71.5, 0.0, 0.0]);
    assert_eq!(day("10", "show_up: (), "), [71.5, 0.0, 48.5]);
    assert_eq!(day("6", "show_up: (), "), [71.5, 0.0, 18.5]);
    assert_eq!(day("3", "show_up: (), "), [71.5, 0.0, 0.0]);
    assert_eq!(day("10", "show_up: (most_h: 6), "), [71.5, 0.0, 78.5]);
    assert_eq!(
        day("10", "show_up: (), guaranteed_day_h: 5, "),
        [71.5, 0.0, 78.5]
    );
}

/// Four report at 05:30, three are needed. Whoever goes home first, at 05:45, is off duty after 35 min, the others after 2 h 53, 3 h 23 and
/// 3 h 53 min: 10 h 44 min for 16 h that are paid where 4 h are guaranteed. Sending home early saves nothing of that.
#[test]
fn sending_home_early_does_not_save_the_guarantee() {
    let four = |home: &str, money: &str| {
        let text = thursday(&[
            ("trucks: [(name: \"T\"", "trucks: [(name: \"T\", count: 4"),
            ("spacing_min: 64", "spacing_min: 30"),
            ("belief: FreeFlow", &format!("belief: FreeFlow, {home}")),
            ("money: (", &format!("money: ({money}")),
        ]);
        figures(&text, &[figure::PAID_H, figure::UNWORKED_H])
    };
    let worked = (10.0 + 44.0 / 60.0) as f32;
    let early = "send_home: FirstInFirstOut";
    assert_eq!(four(early, ""), [worked, 0.0]);
    let guaranteed = four(early, "guaranteed_day_h: 4, ");
    assert_eq!(guaranteed[0], 16.0);
    assert!((guaranteed[1] - (16.0 - worked)).abs() < 1e-5);
    // Nobody is sent home early: 170 + 173 + 203 + 233 min are worked, and up to 240 min of each are paid.
    assert_eq!(four("", "guaranteed_day_h: 4, ")[0], 16.0);
}

/// Six days from Monday on, one load on Wednesday, drivers called for the work: D reports at 06:15 on Wednesday and is off duty at 07:53.
/// Rostered from Monday to Friday for 10 h a day, with 40 h a week guaranteed, the driver is paid for 40 h: calling nobody is not free.
#[test]
fn a_guaranteed_week_is_paid_to_whoever_is_on_the_roster() {
    let week = |changes: &[(&str, &str)]| {
        let text = thursday(&[
            ("first_day: Thursday, days: 1", "first_day: Monday, days: 6"),
            (
                "report: \"05:30\"",
                "report: \"05:30\", days: [Monday, Tuesday, Wednesday, Thursday, Friday]",
            ),
            ("volume_yd3: 40", "volume_yd3: 10, day: 3"),
            ("belief: FreeFlow", "belief: FreeFlow, shift: Matched"),
            ("money: (", "money: (guaranteed_week_h: 40, "),
        ]);
        pay(&changed(&text, changes))
    };
    let worked = 49.0;
    assert_eq!(week(&[]), [worked, 0.0, 1200.0 - worked]);
    assert_eq!(week(&[("guaranteed_week_h: 40, ", "")]), [worked, 0.0, 0.0]);
    // Whoever is rostered for two days of 10 h has 20 h at most.
    let two = (
        "Monday, Tuesday, Wednesday, Thursday, Friday",
        "Wednesday, Thursday",
    );
    assert_eq!(week(&[two]), [worked, 0.0, 600.0 - worked]);
    // Three of five days are in the period: 24 h of the week.
    assert_eq!(
        week(&[("days: 6", "days: 3")]),
        [worked, 0.0, 720.0 - worked]
    );
    // From Wednesday on another week begins: 16 h of the one, 24 h of the other.
    let second = ("money: (", "money: (workweek: Wednesday, ");
    assert_eq!(week(&[second]), [worked, 0.0, 1200.0 - worked]);
    // A driver who does not come when called has nothing for that day, and 32 h for the others.
    let no_show = ("company: (", "changes: (no_show: 1), company: (");
    assert_eq!(week(&[no_show]), [0.0, 0.0, 960.0]);
    // What a day guarantees counts towards the week.
    let day = ("money: (", "money: (guaranteed_day_h: 8, ");
    assert_eq!(week(&[day]), [worked, 0.0, 1200.0 - worked]);
}

#[test]
fn what_is_written_wrongly_is_said() {
    let wrong = thursday(&[(
        "money: (",
        "money: (workweek: Funday, guaranteed_day_h: 25, guaranteed_week_h: -1, show_up: (least_h: 5, mosst_h: 4), ",
    )]);
    let said = scenario_problems(&wrong);
    for part in [
        "Funday",
        "25 is out of range (expected hours, 0 to 24)",
        "-1 is out of range (expected hours, 0 to 168)",
        "unknown field `mosst_h` in a show-up block",
        "show-up pay is for at least 5 h and for at most 4 h",
    ] {
        assert!(said.contains(part), "{part} in\n{said}");
    }
}

/// A driver's own rate is what each of the hours earns, overtime at its factor: 30 and 206.25 at $30 an hour are 36 and 247.50 at $36. Of
/// two drivers the first does both loads, the second 64 min after the first, in a day of 3 h 27 min: $6 an hour more are $20.70.
#[test]
fn a_driver_may_have_a_rate_of_the_own() {
    let before = ("hours: []", "hours: [13, 13, 13]");
    let own = ("report: \"05:30\"", "report: \"05:30\", pay_per_h: 36");
    assert_eq!(pay(&thursday(&[before, own])), [36.0, 247.5, 0.0]);
    let two = [
        (
            "trucks: [(name: \"T\", home: \"P\")]",
            "trucks: [(name: \"T\", home: \"P\"), (name: \"U\", home: \"P\")]",
        ),
        (
            "history: (hours: []))]",
            "history: (hours: [])), (name: \"E\", trucks: \"U\", report: \"05:30\", pay_per_h: 30)]",
        ),
        (
            "volume_yd3: 40, spacing_min: 64",
            "volume_yd3: 20, spacing_min: 64",
        ),
    ];
    let same = pay(&thursday(&two))[0];
    let more =
        pay(&thursday(&two).replacen("report: \"05:30\"", "report: \"05:30\", pay_per_h: 36", 1))
            [0];
    assert!(same > 0.0);
    assert!((more - same - 20.7).abs() < 0.006, "{} more", more - same);
}

/// A day of one load lasts 2 h 23 min. With 6 h guaranteed to the driver 3 h 37 min are paid beside, $108.50 at $30 an hour and $130.20 at
/// the driver's own $36; where everybody has 4 h it is 1 h 37 min, $48.50. A driver's own hours stand in place of everybody's, also when
/// they are fewer.
#[test]
fn a_driver_may_have_guaranteed_hours_of_the_own() {
    let day = |own: &str, all: &str| {
        let driver = format!("report: \"05:30\"{own}");
        let money = format!("money: ({all}");
        pay(&thursday(&[
            ("volume_yd3: 40", "volume_yd3: 10"),
            ("report: \"05:30\"", &driver),
            ("money: (", &money),
        ]))
    };
    let all = "guaranteed_day_h: 4, ";
    assert_eq!(day(", guaranteed_h: 6", ""), [71.5, 0.0, 108.5]);
    assert_eq!(day(", guaranteed_h: 6", all), [71.5, 0.0, 108.5]);
    assert_eq!(day("", all), [71.5, 0.0, 48.5]);
    assert_eq!(day(", guaranteed_h: 2", all), [71.5, 0.0, 0.0]);
    assert_eq!(day(", guaranteed_h: 0", all), [71.5, 0.0, 0.0]);
    let own_pay = day(", guaranteed_h: 6, pay_per_h: 36", all);
    assert_eq!(own_pay, [85.8, 0.0, 130.2]);
    let wrong = scenario_problems(&thursday(&[(
        "report: \"05:30\"",
        "report: \"05:30\", guaranteed_h: 25",
    )]));
    assert!(wrong.contains("hours, 0 to 24"), "{wrong}");
}
