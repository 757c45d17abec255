//! The answer of `staff`: what is shown of it.

mod charts;
mod finance;
mod json;
mod people;
mod prices;
mod roster;
mod sentences;
mod sheet;
mod shown;
mod tables;
mod worlds;
mod year;

use super::answer::{Answer, Block};
use super::period::per;
use crate::scenario::Scenario;
use crate::studies::{CallSheet, StaffAnswer, staffed};
use crate::units::measure;

/// What is shown of a staffing case, with the call-in sheet of a day if it was asked for. `recipe` is the command that gives it again.
pub fn answer(
    found: &StaffAnswer,
    sheet: Option<&CallSheet>,
    scenario: &Scenario,
    recipe: String,
) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let mut answer = Answer::new("staff", scenario, sentences::decision(found), recipe);
    answer.page_title = format!("Staffing: {}", found.scenario);
    answer.about =
        "How many drivers, starting when, and whether overtime is cheaper than a hire".into();
    answer.notes = NOTES.map(str::to_owned).to_vec();
    answer.notes.extend(people::notes(found));
    answer.own_all(json::json(found, sheet));

    let (title, svg) = charts::curve(found);
    answer.add_chart(
        "staffing",
        "Head count, cost and service",
        title,
        svg,
        tables::STAFF,
    );
    answer.screen.push(Block::Table(tables::STAFF));
    let about_money = format!(
        "Money {}. \"!\": above a target. All staffings tried are in staff.csv.",
        per(found.days)
    );
    answer.section(
        "The staffings of the final answer",
        vec![Block::Table(tables::STAFF), Block::Note(about_money)],
    );
    answer.tables.push(tables::staffings(found));
    answer.tables.push(tables::growth(found));
    if !found.grown.is_empty() {
        answer.section("More or fewer orders", vec![Block::Table(tables::GROWN)]);
        answer.tables.push(tables::grown(found));
    }
    if let Some(saving) = found
        .saving
        .as_ref()
        .filter(|saving| !saving.parts.is_empty())
    {
        answer.section("What saves it", vec![Block::Table(tables::SPLIT)]);
        answer.tables.push(tables::split(saving));
    }
    if !found.turning_points().is_empty() {
        let note = "Against today's staffing, with everything that happens left as it is. The nearer to 1, the more it hangs on that price.";
        answer.section(
            "What would turn it round",
            vec![Block::Table(tables::TURNS), Block::Note(note.into())],
        );
        answer.tables.push(tables::turns(found));
    }
    if !found.prices.is_empty() {
        let note = "The same replications with one price otherwise, among the staffings of the final answer. What happens does not follow the price.";
        answer.section(
            "If people cost otherwise",
            vec![Block::Table(prices::PRICES), Block::Note(note.into())],
        );
        answer.tables.push(prices::table(found));
    }
    if let Some(year) = &found.year {
        year::add(found, year, &mut answer);
    }
    for sentence in sentences::split(found)
        .into_iter()
        .chain(sentences::equal(found))
    {
        answer.say(sentence);
    }
    if let Some(sensitive) = &found.sensitive {
        worlds::add(found, sensitive, scenario, &mut answer);
    }
    // What is asked about people, or of the year, takes their place on the screen.
    let people = found.haulers.is_some() || found.absence.is_some();
    for sentence in sentences::one_more(found) {
        match people || found.year.is_some() {
            true => answer.say_on_page(sentence),
            false => answer.say(sentence),
        }
    }
    for sentence in sentences::hire(found)
        .into_iter()
        .chain(people::hired(found))
        .chain(people::absence(found))
        .chain(people::not_worked(found))
        .chain(prices::sentence(found))
        .chain(sentences::growth(found))
        .chain(sentences::written(found))
    {
        answer.say(sentence);
    }
    if let Some(best) = found.best.map(|at| found.results[at].staffing) {
        let staffed = staffed(scenario, found.question.rule, best);
        answer.tables.push(roster::roster(&staffed));
        if staffed.trucks.len() > scenario.trucks.len() {
            answer.tables.push(roster::added(scenario, &staffed));
        }
    }
    // The screen has no room for it beside people, a year and changed worlds.
    if !people && found.year.is_none() && found.sensitive.is_none() {
        answer.say_on_screen(NOTES[0]);
    }
    answer.say(sentences::sureness(found));
    if let Some(sheet) = sheet {
        let blocks = sheet::blocks(sheet);
        answer.screen.push(Block::Heading(sheet::title(sheet)));
        answer.screen.extend(blocks.iter().cloned());
        answer.section(sheet::title(sheet), blocks);
        answer.tables.push(sheet::table(sheet));
    }
    finance::add(found, scenario, &mut answer);
    answer
}

/// How to read it; the first stands on the screen too.
const NOTES: [&str; 6] = [
    "Start times to demand: drivers are called the day before for the orders of the day as far as they are known, each load counted at \
     the nearest open plant that makes its mix, on an empty road, from its send time until the truck is back; +1: one more is called than \
     needed at each plant, and who is not needed is not called.",
    "Staggered: evenly between the first and the last scheduled report of each plant; 20 min apart: from the first on. A driver who \
     takes over a truck from another that day keeps the scheduled time.",
    "Overtime none: sent home when the regular hours are over; 2 h more: two hours beyond the roster. The hours-of-service limits hold \
     in every case.",
    "Drivers counted are those rostered on at least half of the days; the others stay as they are. Each added driver brings a truck, \
     whose hours are charged at the scenario's price; each driver fewer leaves one parked.",
    "Idle: regular pay for the share of paid time without a load, a trip for one, or a site.",
    "What is asked for a hire a week (benefits, insurance, the truck, training shared among the weeks that a hire stays) is in every cost, for \
     each driver more than today, and off it for each fewer. The break-even is what it may be before one more driver no longer pays.",
];
