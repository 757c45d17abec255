//! The answer of `fleet`: what is shown of it.

mod breakdown;
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
        "Trucks and drivers by hour of the pour",
        title,
        svg,
        tables::BY_HOUR,
    );
    let by_hour = sentences::hours_in_words(found, shown);
    answer.section(
        "",
        vec![Block::Text(by_hour.clone()), Block::Table(tables::BY_HOUR)],
    );
    answer.tables.push(tables::hours(found));

    if found.plans.len() > 1 {
        answer.show("Ways to pour", tables::plans(found));
        answer.say_on_screen(format!("{}:", sentences::plan_words(found, shown)));
    }
    let sizes = match found.plans.len() {
        1 => "Fleet sizes".to_owned(),
        _ => format!("Fleet sizes, {}", sentences::plan_words(found, shown)),
    };
    answer.show(&sizes, tables::sizes(found));
    answer.section(
        "What each truck more changes, on the same days",
        vec![Block::Table(tables::TRUCK_MORE)],
    );
    answer.tables.push(tables::truck_more(shown));
    answer.section(
        measure::said("What a yd³ costs"),
        vec![Block::Table(tables::PARTS)],
    );
    answer.tables.push(tables::parts(shown));
    let risk = Block::Text(sentences::joints(shown));
    answer.section(
        "Risk of a cold joint",
        vec![risk, Block::Table(tables::JOINTS)],
    );
    answer.tables.push(tables::joints(shown));
    if !found.without_trouble.is_empty() {
        answer.section(
            "What the gaps come from",
            vec![Block::Table(tables::TROUBLES)],
        );
        answer.tables.push(tables::troubles(found));
    }
    if !found.one_breakdown.is_empty() {
        answer.section(
            "If one truck breaks down",
            vec![Block::Table(breakdown::BREAKDOWN)],
        );
        answer.tables.push(breakdown::table(found));
    }
    answer.section("The formula by hand", vec![Block::Table(tables::BY_HAND)]);
    answer.tables.push(tables::by_hand(shown));

    answer.say(sentences::by_hand(shown));
    if let Some(dearer) = sentences::dearer(shown) {
        answer.say(dearer);
    }
    if let Some(troubles) = sentences::troubles(found) {
        answer.say(troubles);
    }
    if let Some(breakdown) = breakdown::sentence(found) {
        answer.say(breakdown);
    }
    if let Some(by_plant) = sentences::loads_by_plant(found, shown) {
        answer.say(by_plant);
    }
    answer.say_on_screen(by_hour);
    answer.say(sentences::sureness(found));
    answer
}

/// How to read it.
fn notes(found: &FleetAnswer) -> Vec<String> {
    let mut notes = vec![
        format!(
            "A gap: unloading stands still within the pour for longer than {} min, or the pour is not finished on its day.",
            sentences::minutes(found.tolerated)
        ),
        "A fleet does what is asked if its one-sided bounds do; of those that do the cheapest is recommended. Sizes near the answer stand \
         on the runs of the final answer, the others on those of the search. All sizes meet the same luck."
            .to_owned(),
        "Behind plan: how much later it is done on average than if every load came at the spacing ordered and unloaded as on paper."
            .to_owned(),
        "What each truck more changes is told from the same runs with both sizes. \"Same within luck\": the difference is not shown, whichever of the two looks \
         better."
            .to_owned(),
        "What the plan needs in an hour: trucks under way at once if every load comes at the spacing ordered, or as bays and outlets can \
         keep up, at the traffic usual at that hour and without a wait."
            .to_owned(),
        "Drivers of trucks beyond the roster are called in one spacing apart, early enough for all but one pre-trip and one trip in \
         twenty. Hours carried over from the day before are not known here."
            .to_owned(),
    ];
    if found.alone {
        notes.push(
            "Cost: drivers, trucks, material, penalties, and the plant's crew from the first truck at the bay to the last one back, over the \
             yd³ ordered."
                .to_owned(),
        );
    } else {
        notes.push(
            "Cost: what the days cost with the pour and these trucks, less what the same days cost without the pour and with the trucks \
             as they are, over the yd³ ordered. What the pour does to other orders is in it."
                .to_owned(),
        );
        notes.push(
            "Drivers on the schedule go home at the end of their shift. Where the pour goes on and fewer trucks would be left than it needs, \
             trips reckoned with what all but one in twenty stay within, somebody is called in for then and takes the truck over."
                .to_owned(),
        );
    }
    if !found.one_breakdown.is_empty() {
        notes.push(
            "One breakdown: on every simulated day one load of the pour, any of them as likely, breaks down somewhere on its way, and is \
             kept or made again as dispatch believes; its truck is missing until it is repaired."
                .to_owned(),
        );
    }
    let told = notes.iter().map(|note| measure::said(note).into_owned());
    told.collect()
}
