//! How decisions are read, what is said about wrong ones, and how they are told.

use super::changed;
use super::day::{scenario, scenario_problems};
use plantday::dispatch::{
    Additions, AfterDischarge, Choose, DriversWord, Override, PlantHours, Redirect, SendHome, Shift,
};
use plantday::report::summary;

const ALL: &str = "belief: FreeFlow, lend: Always, choose: Cheapest, gates: [LastLoadBy(hours: 11)], \
    shift: Matched(spare: 2), send_home: LongestDay(hold: 1), after_discharge: MostWork, \
    override_gates: Share(0.25), drivers_word: Overruled, additions: FirstFreeTime(hours: 3), \
    plant_hours: KeptOpen(hours: 1.5), redirect: SameMix(wait_min: 20)";

#[test]
fn every_decision_is_read() {
    let scenario = scenario(&changed(&[("belief: FreeFlow", ALL)]));
    let rule = &scenario.rules[0];
    assert_eq!(rule.choose, Choose::Cheapest);
    assert_eq!(rule.shift, Shift::Matched { spare: 2 });
    assert_eq!(rule.send_home, SendHome::LongestDay { hold: 1 });
    assert_eq!(rule.after_discharge, AfterDischarge::MostWork);
    assert_eq!(rule.override_gates, Override::Share { share: 0.25 });
    assert_eq!(rule.drivers_word, DriversWord::Overruled);
    assert_eq!(rule.additions, Additions::FirstFreeTime { hours: 3.0 });
    assert_eq!(rule.plant_hours, PlantHours::KeptOpen { hours: 1.5 });
    assert_eq!(rule.redirect, Redirect::SameMix { wait_min: 20.0 });
}

/// As written, so read; in a word, so told.
#[test]
fn starts_are_read_as_they_are_written() {
    for (shift, word) in [
        (Shift::Rostered, "rostered"),
        (Shift::Staggered { minutes: None }, "staggered"),
        (
            Shift::Staggered {
                minutes: Some(12.5),
            },
            "staggered:12.5",
        ),
        (Shift::Matched { spare: 0 }, "matched"),
        (Shift::Matched { spare: 3 }, "matched:3"),
    ] {
        let rule = format!("belief: FreeFlow, shift: {}", shift.written());
        let read = scenario(&changed(&[("belief: FreeFlow", &rule)]));
        assert_eq!((read.rules[0].shift, shift.word().as_str()), (shift, word));
    }
}

/// All at once, each with what was expected or the nearest name.
#[test]
fn every_wrong_decision_is_said() {
    let text = changed(&[(
        "belief: FreeFlow",
        "belief: FreeFlow, choose: Cheepest, shift: Staggered(minutes: 300), send_home: LongestDay(hold: 1.5), \
         after_discharge: NearPlant, override_gates: Share(1.5), drivers_word: \"Heard\", \
         additions: FirstFreeTime(hours: 0), plant_hours: KeptOpen(hour: 2), redirect: SameMix",
    )]);
    let problems = scenario_problems(&text);
    for said in [
        "unknown choice of plant and truck `Cheepest`",
        "minutes, 0 to 240",
        "1.5 is not a whole number",
        "unknown place to head for `NearPlant`",
        "share of loads, more than 0, at most 1",
        "\"Heard\" in quotes",
        "hours, 0.5 to 24",
        "unknown field `hour`",
        "`SameMix` without its values",
    ] {
        assert!(problems.contains(said), "{said}: {problems}");
    }
}

/// The summary of a scenario says of every rule what it decides, and nothing of what it leaves as usual.
#[test]
fn the_summary_tells_decisions() {
    let told = |text: &str| {
        let page = summary::answer(&scenario(text)).terminal(100);
        page.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let all = told(&changed(&[("belief: FreeFlow", ALL)]));
    for said in [
        "the plant and truck that look cheapest",
        "drivers are called the day before as the known orders need them, and 2 drivers besides",
        "drivers not needed any more go home, earliest to report first, 1 held until the plant closes",
        "empty trucks head for the plant with the most waiting volume per truck",
        "dispatch skips the hours check for 25% of loads",
        "dispatch ignores a driver who says the hours won't fit",
        "added orders are moved by up to 3 h until the trucks suffice, or refused",
        "plants are kept open by up to 1.5 h while it saves more than it costs",
        "a load whose site will not be ready for 20 min goes to an order that waits for the same mix",
    ] {
        assert!(all.contains(said), "{said}: {all}");
    }
    let plain = told(&changed(&[]));
    assert!(!plain.contains("go home"), "{plain}");
}
