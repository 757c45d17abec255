//! The concrete in the answer: there with mixes, away without.

use super::day::scenario;
use plantday::Watch;
use plantday::observe::figure;
use plantday::report::answer::Answer;
use plantday::report::{compare, summary};
use plantday::scenario::Scenario;
use plantday::studies::{Comparison, Question, compare as study, worst_of};
use std::num::NonZeroUsize;
use std::sync::Arc;

const STUDY: &str = include_str!("../../../scenarios/yard_study.ron");
const DAY: &str = include_str!("../../../scenarios/estuary_day.ron");

fn answer(scenario: &Scenario) -> Arc<Comparison> {
    answer_of(scenario, vec![0, 1])
}

fn answer_of(scenario: &Scenario, rules: Vec<usize>) -> Arc<Comparison> {
    let question = Question {
        rules,
        judge: figure::COST,
        replications: 3,
        seed: 1,
        threads: NonZeroUsize::new(1),
        level: 0.95,
        ..Question::default()
    };
    let found = study(scenario, &question, Watch::default());
    Arc::new(found.expect("an answer"))
}

fn shown(answer: &Arc<Comparison>, scenario: &Scenario) -> Answer {
    let worst = Arc::new(worst_of(scenario, answer));
    compare::answer(answer, &worst, &Arc::new(scenario.clone()))
}

fn page(answer: &Arc<Comparison>, scenario: &Scenario) -> String {
    shown(answer, scenario).page_html()
}

const HEADING: &str = "The concrete, for each 100 loads delivered";

#[test]
fn the_answer_speaks_of_concrete_where_there_are_mixes() {
    let scenario = scenario(STUDY);
    let answer = answer(&scenario);
    let page = page(&answer, &scenario);
    for part in [
        HEADING,
        "a liability",
        "Abrams",
        "silica",
        "a smaller load or a truck scale",
        "wet loads, HRWR not seen by the meter",
        "wet loads, water added to taste",
        "wet loads, aggregate moisture",
        "concrete brought back, not needed, yd³",
        "<td>parts of loads dumped, yd³</td>",
        "strength lost by those to added water, psi",
    ] {
        assert!(page.contains(part), "{part}");
    }
    let terminal = shown(&answer, &scenario).terminal(160);
    assert!(terminal.contains("loads below strength, by added water"));
    let json = shown(&answer, &scenario).json();
    // Per 100 loads: the mean of the ratios of each replication.
    let values = |column: usize| answer.rows.values(1, column);
    let ratios = values(figure::DRY_UPS).zip(values(figure::LOADS));
    let mean = ratios
        .map(|(dry_ups, loads)| 100.0 * dry_ups / loads)
        .sum::<f64>()
        / 3.0;
    let said = &json["per_100_loads"][1]["figures"]["dry_ups"]["mean"];
    assert!((said.as_f64().expect("a number") - mean).abs() < 1e-9);
    let understood = summary::answer(&scenario).terminal(100);
    // w/c 281 ÷ 540, and the ACI curve there.
    for part in ["0.520", "4,524", "4 ± 1", "moisture probes in the bins"] {
        assert!(understood.contains(part), "{part}\n{understood}");
    }
}

#[test]
fn and_is_silent_of_it_where_there_are_none() {
    let scenario = scenario(DAY);
    let answer = answer(&scenario);
    let page = page(&answer, &scenario);
    assert!(!page.contains(HEADING) && !page.contains("slump meter"));
    assert!(!shown(&answer, &scenario).terminal(160).contains("too wet"));
    assert!(
        shown(&answer, &scenario)
            .json()
            .get("per_100_loads")
            .is_none()
    );
    assert!(answer.rows.values(0, figure::WET_AT_RACK).all(f64::is_nan));
}

/// The table of figures per 100 loads, one row by its heading.
fn row_of<'a>(page: &'a str, heading: &str) -> &'a str {
    let table = page.find(HEADING).expect("the table");
    let row = page[table..].find(&format!("<td>{heading}</td>"));
    let row = table + row.expect("the row");
    &page[row..row + page[row..].find("</tr>").expect("its end")]
}

/// No load is of another mix in the study: not once in 3 replications, which leaves 1 − 0.05^(1/3) = 63.2 % of all (the "rule of three"
/// made exact: Clopper and Pearson, Biometrika 26, 1934).
#[test]
fn what_never_was_is_bounded() {
    let scenario = scenario(STUDY);
    let answer = answer(&scenario);
    let page = page(&answer, &scenario);
    let never = "none (in at most 63.16% of all days)";
    let row = row_of(&page, "loads rejected, wrong mix");
    assert_eq!(row.matches(never).count(), 2, "{row}");
    assert!(!page.contains("0 (0 to 0)"));
    let json = shown(&answer, &scenario).json();
    for value in [
        &json["per_100_loads"][0]["figures"]["rejected_wrong_mix"],
        &json["rules"][0]["figures"]["rejected_wrong_mix"],
    ] {
        assert_eq!(value["mean"], 0.0);
        assert!(value["low"].is_null() && value["high"].is_null(), "{value}");
        let at_most = value["at_most_if_never"].as_f64().expect("a share");
        assert!(
            (at_most - (1.0 - 0.05_f64.cbrt())).abs() < 1e-9,
            "{at_most}"
        );
    }
    // Nobody sends concrete back there: that is not looked at, and not none.
    let returned = &json["per_100_loads"][0]["figures"]["returned_yd3"];
    assert_eq!(returned["said"], "not looked at");
    assert!(returned["at_most_if_never"].is_null());
    let seen = &json["per_100_loads"][0]["figures"]["wet_at_rack"];
    assert!(seen["at_most_if_never"].is_null() && seen["low"].is_number());
}

/// Eight yards: on 100 columns the best four and today's, no word split; on 160 all of them.
#[test]
fn a_screen_of_many_rules_shows_the_best_and_todays() {
    let scenario = scenario(STUDY);
    let answer = answer_of(&scenario, (0..8).collect());
    let narrow = anstream::adapter::strip_str(&shown(&answer, &scenario).terminal(100)).to_string();
    let said = "5 of 8 rules: today's and the best; all are in report.html and summary.csv.";
    assert!(narrow.contains(said), "{narrow}");
    let heading = |text: &str| {
        let begins = text.find("average a day").expect("a table");
        text[begins..]
            .split('─')
            .next()
            .expect("a heading")
            .to_owned()
    };
    let mut by_cost: Vec<usize> = (1..8).collect();
    let cost = |rule: &usize| answer.judged(*rule).summary.mean().expect("a mean");
    by_cost.sort_by(|a, b| cost(a).total_cmp(&cost(b)));
    assert!(heading(&narrow).contains("(today)"));
    let named = |rule: usize| {
        let words = answer.rules[rule].name.split(' ');
        words
            .into_iter()
            .all(|word| heading(&narrow).contains(word))
    };
    assert!(by_cost[..4].iter().all(|rule| named(*rule)), "{narrow}");
    assert!(narrow.contains("\n undelivered loads"), "{narrow}");
    assert!(narrow.lines().all(|line| line.chars().count() <= 100));
    let wide = anstream::adapter::strip_str(&shown(&answer, &scenario).terminal(160)).to_string();
    assert!(!wide.contains("of 8 rules"), "{wide}");
    assert!(wide.contains("\n undelivered loads"), "{wide}");
}

/// Concrete of 70 °F at 70 °F of air has 70 + 0.9 (air − 70): 79.9 °F at 81, 93.4 at 96, 106 at 110. Warmer than 80 °F asks for caution
/// (common practice, no source), warmer than 95 °F for the engineer's word (ACI 301, ACI 305.1).
#[test]
fn the_report_cautions_of_hot_weather_where_it_is_hot() {
    let usual = "temperature: Daily(mean_f: 72, swing_f: 9)";
    assert!(STUDY.contains(usual));
    let report = |temperature: &str| {
        let text = STUDY.replace(usual, temperature);
        let scenario = scenario(&text);
        page(&answer(&scenario), &scenario)
    };
    let hot = "Hot weather here";
    let [mild, warm, burning] = [
        usual,
        "temperature: Daily(mean_f: 84, swing_f: 12)",
        "temperature: Steady(f: 110)",
    ]
    .map(report);
    assert!(!mild.contains(hot));
    assert!(warm.contains(hot) && !warm.contains("engineer"));
    assert!(burning.contains(hot) && burning.contains("without the engineer's word"));
    // The weights of the mixes stand in place of that of normal concrete.
    assert!(mild.contains("a yd³, by the mix") && !mild.contains("4,050"));
}
