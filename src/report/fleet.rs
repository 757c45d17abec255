//! The answer of `fleet`: what is shown of it.

mod charts;
mod json;
mod sentences;
mod tables;

use super::answer::{Answer, Block};
use crate::scenario::Scenario;
use crate::studies::FleetAnswer;
use crate::units::measure;

/// What is shown of how many trucks a pour takes. `recipe` is the command that gives it again.
pub fn answer(found: &FleetAnswer, scenario: &Scenario, recipe: String) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let shown = found.shown();
    let mut answer = Answer::new("fleet", scenario, sentences::decision(found), recipe);
    answer.page_title = format!("Trucks for {}: {}", found.order, found.scenario);
    answer.about = format!("How many trucks \"{}\" takes", found.order);
    answer.notes = notes(found);
    answer.own_all(json::json(found));

    let (title, svg) = charts::sizes(found);
    answer.add_chart(
        "fleet-size",
        "Fleet size, gaps and cost",
        title,
        svg,
        tables::FLEET,
    );
    let (title, svg) = charts::hours(found);
    answer.add_chart(
        "trucks-by-hour",
        "Trucks by hour of the pour",
        title,
        svg,
        tables::BY_HOUR,
    );
    let by_hour = sentences::hours_in_words(found, shown);
    answer.section("", vec![Block::Text(by_hour.clone())]);
    answer.tables.push(tables::hours(found));

    if found.plans.len() > 1 {
        answer.show("Ways to pour", tables::plans(found));
        answer.say_on_screen(format!("{}:", sentences::plan_words(found, shown)));
    }
    answer.show("Fleet sizes", tables::sizes(found));
    answer.section("The formula by hand", vec![Block::Table(tables::BY_HAND)]);
    answer.tables.push(tables::by_hand(shown));

    answer.say(sentences::by_hand(shown));
    answer.say_on_screen(by_hour);
    answer.say(sentences::sureness(found));
    answer
}

/// How to read it.
fn notes(found: &FleetAnswer) -> Vec<String> {
    let mut notes = vec![
        format!(
            "A gap: unloading stands still within the pour for longer than {} min, or the pour is not finished on its day. Worst gap: the \
             average of each pour's longest pause.",
            sentences::minutes(found.tolerated)
        ),
        "A fleet meets the target if its one-sided bound does. Sizes near the answer stand on the runs of the final answer, the \
         others on those of the search."
            .to_owned(),
        "Drivers of trucks beyond the roster are called in one spacing apart, early enough for all but one pre-trip and one trip in \
         twenty. Hours carried over from the day before are not known here."
            .to_owned(),
    ];
    if found.alone {
        notes.push(
            measure::said(
                "Cost: drivers, trucks, material, penalties and the crew of the plant for the whole day, over the yd³ placed.",
            )
            .into_owned(),
        );
    }
    notes
}
