//! Rules that nobody would run, each of which some bookkeeping would praise: it saves wages, fuel or material by not doing the work, by
//! doing it hours early, or by putting it off. What is right about them is arithmetic: a rule that does less work is not a better rule.

use plantday::Watch;
use plantday::dispatch::{Additions, Gate, Rule, SendHome, Shift};
use plantday::observe::figure;
use plantday::scenario::{self, Scenario};
use plantday::studies::{Comparison, Decision, Question, compare};
use plantday::units::Millis;

const SHIPPED: [(&str, &str, u64); 4] = [
    ("week", include_str!("../../scenarios/estuary_week.ron"), 12),
    ("day", include_str!("../../scenarios/estuary_day.ron"), 40),
    ("starter", include_str!("../../scenarios/starter.ron"), 60),
    (
        "yard study",
        include_str!("../../scenarios/yard_study.ron"),
        20,
    ),
];

/// Today's rule with one silly habit each.
fn silly(today: &Rule) -> Vec<Rule> {
    let mut rules = Vec::new();
    let mut add = |name: &str, habit: &dyn Fn(&mut Rule)| {
        let mut rule = today.clone();
        rule.name = name.into();
        rule.today = false;
        habit(&mut rule);
        rules.push(rule);
    };
    add("deliver nothing", &|rule| {
        rule.gates = vec![Gate::LastLoadBy { hours: 0.001 }];
    });
    add("deliver nothing, call nobody", &|rule| {
        rule.gates = vec![Gate::LastLoadBy { hours: 0.001 }];
        rule.shift = Shift::Matched { spare: 0 };
        rule.send_home = SendHome::FirstInFirstOut { hold: 0 };
    });
    add("one hour of work", &|rule| {
        rule.gates = vec![Gate::LastLoadBy { hours: 1.0 }];
    });
    add("four hours of work", &|rule| {
        rule.gates = vec![Gate::LastLoadBy { hours: 4.0 }];
    });
    add("all in reserve", &|rule| {
        rule.gates = vec![Gate::KeepMinutes { minutes: 720.0 }];
    });
    add("refuse all", &|rule| {
        rule.additions = Additions::OnlyIfHolds;
        rule.shift = Shift::Staggered {
            minutes: Some(240.0),
        };
    });
    add("put all off", &|rule| {
        rule.additions = Additions::FirstFreeTime { hours: 24.0 };
        rule.shift = Shift::Staggered {
            minutes: Some(240.0),
        };
    });
    add("load four hours early", &|rule| rule.early_min = 240.0);
    add("load two hours early", &|rule| rule.early_min = 120.0);
    add("half spacing", &|rule| rule.spacing_factor = 0.5);
    add("double spacing", &|rule| rule.spacing_factor = 2.0);
    add("tiny loads", &|rule| rule.room_kept_yd3 = 3.0);
    rules
}

fn game(text: &str, replications: u64, judge: usize, edit: impl Fn(&mut Scenario)) -> Comparison {
    let mut scenario = scenario::parse("game", text).unwrap_or_else(|faults| panic!("{faults}"));
    let today = scenario.rules[scenario.todays_rule()].clone();
    scenario.rules = silly(&today);
    scenario.rules.insert(
        0,
        Rule {
            today: true,
            ..today
        },
    );
    edit(&mut scenario);
    let question = Question {
        replications,
        judge,
        ..Question::default()
    };
    compare(&scenario, &question, Watch::default()).expect("an answer")
}

/// Today's rule is kept, or not told apart from what does the same work.
fn nobody_wins(what: &str, answer: &Comparison) {
    let base = answer.rules[0].figures[figure::PLACED_YD3].summary.mean();
    match &answer.decision {
        Decision::Best(rule) | Decision::Selected(rule) => {
            assert_eq!(*rule, 0, "{what}: {} wins", answer.rules[*rule].name);
        }
        Decision::NotToldApart(rules) => {
            for rule in rules {
                let placed = answer.rules[*rule].figures[figure::PLACED_YD3]
                    .summary
                    .mean();
                assert!(
                    placed.unwrap() >= 0.99 * base.unwrap(),
                    "{what}: {} delivers less",
                    answer.rules[*rule].name
                );
            }
        }
        Decision::Alone => unreachable!("there are others"),
    }
}

#[test]
fn no_silly_rule_wins_on_a_shipped_scenario() {
    for (what, text, replications) in SHIPPED {
        for judge in [figure::COST, figure::CASH] {
            nobody_wins(what, &game(text, replications, judge, |_| ()));
        }
    }
}

/// Every order of the day is due so late that all of it can slip past midnight, and the plants never close.
#[test]
fn nobody_wins_by_letting_work_slip_past_midnight() {
    let (what, text, replications) = SHIPPED[1];
    let late = |scenario: &mut Scenario| {
        for plant in &mut scenario.plants {
            plant.hours.clear();
        }
        let last = scenario.orders.iter().map(|order| order.first).max();
        let later = Millis::from_hours(22.0) - last.expect("orders");
        for order in &mut scenario.orders {
            order.first += later;
            order.finish_by = order.finish_by.map(|by| by + later);
        }
        for driver in &mut scenario.drivers {
            driver.report += later;
        }
    };
    for judge in [figure::COST, figure::CASH] {
        nobody_wins(what, &game(text, replications, judge, late));
    }
}

/// What a rule that delivers nothing saves is told, and that it is no better for it.
#[test]
fn doing_nothing_loses_the_sales_of_all_that_was_ordered() {
    let (_, text, _) = SHIPPED[2];
    let answer = game(text, 5, figure::COST, |_| ());
    let nothing = answer
        .rules
        .iter()
        .find(|rule| rule.name == "deliver nothing")
        .expect("the rule");
    let mean = |figure: usize| nothing.figures[figure].summary.mean().expect("a mean");
    assert_eq!(mean(figure::PLACED_YD3), 0.0);
    // $170 a yd³, the usual price where none is written.
    let lost = 170.0 * mean(figure::ORDERED_YD3);
    assert!(
        (mean(figure::LOST_SALES) - lost).abs() < 0.01 * lost,
        "{lost}"
    );
    let place = |name: &str| answer.rules.iter().position(|rule| rule.name == name);
    let barred = answer.barred[place("deliver nothing").expect("the rule")];
    let plantday::studies::Barred::DeliversLess { share } = barred.expect("it is barred") else {
        panic!("{barred:?}");
    };
    assert_eq!(share, 1.0);
}
