//! A loaded truck whose site is not ready.

use super::changed;
use super::day::{figures, lines, loads};
use plantday::observe::figure;

/// One truck, two orders of one load: W at A takes nothing before 08:00, an hour after its time; Y at B, 15 min from the plant, is due
/// at 07:05 and waits for a truck from 06:40 on. Concrete of any age is taken.
fn two_orders(rule: &str) -> String {
    changed(&[
        (
            "rule_book: \"none\"",
            "rule_book: \"none\", concrete: (age_limit_min: None)",
        ),
        ("count: 2", "count: 1"),
        ("volume_yd3: 40", "volume_yd3: 10, setup_min: 60"),
        ("belief: FreeFlow", &format!("belief: FreeFlow{rule}")),
        ("(name: \"A\")", "(name: \"A\"), (name: \"B\")"),
        ("\"A\": (20, 18) }", "\"A\": (20, 18), \"B\": 15 }"),
        (
            "orders: [",
            "orders: [(name: \"Y\", site: \"B\", first: \"07:05\", volume_yd3: 10, spacing_min: 0, \
             position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5)), ",
        ),
    ])
}

/// The truck waits at A until 08:00, and is back at 08:33 for Y: on site at 08:58.
#[test]
fn it_waits() {
    assert_eq!(
        loads(&two_orders("")),
        "\
W 1 T 06:30 06:36 06:40 07:00 +0 08:00 08:10 08:15
Y 1 T 08:33 08:39 08:43 08:58 +113 08:58 09:08 09:13
"
    );
}

/// Sent on at 07:00, by way of the plant: 18 + 15 min. Y has its load at 07:33, 28 min late; the truck, back at 08:03, brings W its
/// load at 08:33. The first ten yards are W's no more: two loads are batched for two orders.
#[test]
fn it_goes_on_to_an_order_that_waits() {
    let text = two_orders(", redirect: SameMix(wait_min: 30)");
    assert_eq!(
        loads(&text),
        "\
Y 1 T 07:33 +28 07:33 07:43 07:48
W 1 T 08:03 08:09 08:13 08:33 +33 08:33 08:43 08:48
"
    );
    assert_eq!(
        lines(&text, &["sent on"]),
        "07:00 T sent on: W is not ready\n"
    );
    let places = [
        figure::REDIRECTED,
        figure::BATCHED_YD3,
        figure::PLACED_YD3,
        figure::LEFT_YD3,
    ];
    assert_eq!(figures(&text, &places), [1.0, 20.0, 20.0, 0.0]);
}

/// Not for a wait of less than the rule says, not to another mix, not to an order that asks for less than is in the drum, and not
/// beyond the age limit: batched from 06:30 on, the load would be out of the drum and the chute washed at 07:48, 78 min old.
#[test]
fn it_is_not_redirected_where_that_does_not_fit() {
    let redirected = |text: &str| figures(text, &[figure::REDIRECTED])[0];
    let text = two_orders(", redirect: SameMix(wait_min: 30)");
    let with = |from: &str, to: &str| {
        assert!(text.contains(from));
        redirected(&text.replace(from, to))
    };
    assert_eq!(with("wait_min: 30", "wait_min: 60"), 1.0);
    assert_eq!(with("wait_min: 30", "wait_min: 61"), 0.0);
    assert_eq!(with("site: \"B\",", "site: \"B\", mix: \"other\","), 0.0);
    assert_eq!(
        with("\"07:05\", volume_yd3: 10", "\"07:05\", volume_yd3: 9"),
        0.0
    );
    let limit = |minutes: &str| with("age_limit_min: None", &format!("age_limit_min: {minutes}"));
    assert_eq!((limit("78"), limit("77")), (1.0, 0.0));
}

/// At 07:00 the driver has 20 min at the wheel behind, and drives on for 33: no lawful parking but the site is nearer, and there
/// the truck may stand. A limit of 53 min allows it, one of 52 does not: then the load waits at A.
#[test]
fn a_driver_is_not_sent_on_past_a_clock() {
    let redirected = |minutes: f64| {
        let book = format!(
            "rule_books: [(name: \"short\", like: \"none\", rest_h: 10, driving_h: {})], rule_book: \"short\"",
            minutes / 60.0
        );
        let text = two_orders(", redirect: SameMix(wait_min: 30)");
        let places = [figure::REDIRECTED, figure::VIOLATION_MIN];
        figures(&text.replace("rule_book: \"none\"", &book), &places)
    };
    assert_eq!(redirected(53.0), [1.0, 0.0]);
    assert_eq!(redirected(52.0), [0.0, 0.0]);
}
