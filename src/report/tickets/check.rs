//! The answer of `tickets --check`: is the scenario believable for the yard whose tickets these are?

use super::here;
use super::sentences;
use crate::report::answer::{Answer, Block, Cell, Column, Form, Table};
use crate::report::chart::panels::{self, Content, Panel, Panels};
use crate::report::number::{Unit, count, level, number};
use crate::report::plain_text::capital;
use crate::report::shell;
use crate::scenario::Scenario;
use crate::scenario::past_tickets::PastTickets;
use crate::studies::tickets::{Check, Chosen, Compared, Measure, Standing};
use crate::units::measure::{self, Quantity};
use serde_json::json;

/// The answer.
pub fn answer(found: &Check, of: &PastTickets, scenario: &Scenario) -> Answer {
    let _spoken = measure::speak(scenario.measures);
    let found = &here::check(found);
    let recipe = recipe(scenario, found);
    let mut answer = Answer::new("tickets-check", scenario, decision(found), recipe);
    answer.page = "check.html";
    answer.page_title = format!("Is it believable: {}", scenario.name);
    answer.about = about(found, of);
    answer.headline.push(answer.about.clone());
    answer.show("Recorded against simulated", table(found));
    for sentence in sentences(found, scenario) {
        answer.say(sentence);
    }
    add_chart(found, &mut answer);
    answer.section(
        "Figures by stage: the 10% and the 90% points",
        vec![Block::Table("points")],
    );
    answer.tables.push(points(found));
    answer.notes = NOTES.map(str::to_owned).into();
    answer.own_all(own(found));
    answer
}

const NOTES: [&str; 5] = [
    "Loading: ticketed to loaded. Slump rack: loaded to leaving the plant. Wait on site: arrival to unloading. After unloading: until the \
     truck leaves. Whole round: ticketed to back at a plant.",
    "Recorded and simulated figures are means over periods of each period's own middle value (half of the loads took longer). Tickets of \
     simulated periods are read as those of the yard are.",
    "The interval of a difference says how far apart they may lie in truth; all are right at once with the confidence told. It rests on how \
     much simulated periods vary, and on how many are recorded.",
    "\"Off\": a difference is shown, and it is more than a minute and a tenth of a stage, five minutes of punctuality, or a twentieth of the \
     loads; of the width from the 10 to the 90% point twice that and a quarter. \"Nearly\": shown, and less than that. \"Too few days\": \
     none is shown, but one that matters could hide.",
    "That every stage agrees does not prove that what a rule would change comes out right; that one is off proves that something is wrong: \
     the stage itself, or what comes before it.",
];

fn days(n: usize, scenario_days: &str) -> String {
    match n {
        1 => format!("1 recorded {scenario_days}"),
        n => format!("{} recorded {scenario_days}s", count(n as u64)),
    }
}

fn about(found: &Check, of: &PastTickets) -> String {
    let rule = match found.today {
        true => format!("today's \"{}\"", found.rule),
        false => format!("\"{}\"", found.rule),
    };
    format!(
        "{}, {}, against {} simulated ones under {rule}",
        of.file,
        days(found.recorded, "period"),
        count(found.simulated)
    )
}

fn measured(measure: Measure) -> &'static str {
    match measure {
        Measure::Stage(stage) => sentences::stage(stage),
        Measure::AfterDue => "on site after due",
        Measure::Loads => "loads in a period",
        Measure::Yards if measure::is_si() => "m³ in a period",
        Measure::Yards => "yd³ in a period",
    }
}

/// Whether the model is believable.
fn decision(found: &Check) -> String {
    let of = |standing: Standing| -> Vec<&Compared> {
        let all = found.compared.iter();
        all.filter(|one| one.standing() == standing).collect()
    };
    let (off, unsure) = (of(Standing::Off), of(Standing::TooFewDays));
    let over = days(found.recorded, "period");
    let desk = found.desk.as_ref().and_then(|desk| desk.plant);
    let desk = desk.filter(Chosen::differ).map(|desk| {
        let share = |share: f64| Unit::Share.show(share, 0);
        format!(
            "its rule picks the plant of the tickets for {} of the loads, and its own again for {}",
            share(desk.recorded),
            share(desk.simulated)
        )
    });
    let wrong: Vec<String> = off.iter().map(|one| told_off(one)).chain(desk).collect();
    if !wrong.is_empty() {
        return format!(
            "NOT BELIEVABLE for this yard as it stands: {}.",
            wrong.join("; ")
        );
    }
    if unsure.len() == found.compared.len() {
        return format!("Cannot be told: {over} are too few to show a difference that matters.");
    }
    let mut text =
        format!("Believable for this yard: over {over} nothing is off by as much as would matter.");
    if !unsure.is_empty() {
        let unsure: Vec<&str> = unsure.iter().map(|one| measured(one.measure)).collect();
        text += &format!(" Too few days to tell for {}.", unsure.join(", "));
    }
    text
}

fn told_off(one: &Compared) -> String {
    let name = measured(one.measure);
    let shown = |value: f64| number(value, decimals(one.measure));
    match one.middle {
        Standing::Off => format!(
            "{name} is {}{}, simulated {}",
            shown(one.recorded[1]),
            unit(one.measure),
            shown(one.simulated[1])
        ),
        _ => format!(
            "{name} spreads over {} to {}{}, simulated {} to {}",
            shown(one.recorded[0]),
            shown(one.recorded[2]),
            unit(one.measure),
            shown(one.simulated[0]),
            shown(one.simulated[2])
        ),
    }
}

fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Loads | Measure::Yards => "",
        _ => " min",
    }
}

fn decimals(measure: Measure) -> usize {
    match measure {
        Measure::Yards => 0,
        _ => 1,
    }
}

fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Agrees => "agrees",
        Standing::Nearly => "nearly",
        Standing::TooFewDays => "too few days",
        Standing::Off => "OFF",
    }
}

/// What is said below the table.
fn sentences(found: &Check, scenario: &Scenario) -> Vec<String> {
    let mut said = vec![sentences::left_out(&found.cleaned)];
    if found.strange > 0 {
        said.push(format!(
            "{} of orders that the scenario does not have are left out.",
            capital(&sentences::tickets(found.strange))
        ));
    }
    let orders = scenario
        .orders
        .iter()
        .filter(|order| order.slot.is_none())
        .count();
    if found.orders < orders {
        said.push(format!(
            "Of the scenario's {orders} orders {} have tickets: the others are simulated and take trucks.",
            found.orders
        ));
    }
    if !found.untold.is_empty() {
        let untold: Vec<&str> = found.untold.iter().map(|one| measured(*one)).collect();
        said.push(format!(
            "Not compared, as no ticket tells it: {}.",
            untold.join(", ")
        ));
    }
    let Some(desk) = &found.desk else {
        said.push(
            "Which plant and truck took which load is not compared: no load is found again.".into(),
        );
        return said;
    };
    let told = |of: &str, chosen: &Option<Chosen>| {
        chosen.as_ref().map(|chosen| {
            let share = |share: f64| Unit::Share.show(share, 0);
            format!(
                "the same {of} for {} of the loads ({} from one simulated period to another)",
                share(chosen.recorded),
                share(chosen.simulated)
            )
        })
    };
    let both = told("plant", &desk.plant)
        .into_iter()
        .chain(told("truck", &desk.truck));
    let both: Vec<String> = both.collect();
    if !both.is_empty() {
        let differ = |chosen: &Option<Chosen>| chosen.as_ref().is_some_and(Chosen::differ);
        let verdict = match (differ(&desk.plant), differ(&desk.truck)) {
            (true, _) => {
                "The yard is not run by this rule, or what the rule goes by is not as the scenario has it."
            }
            (false, true) => "It picks plants as the tickets show, and other trucks.",
            (false, false) => {
                "That is as often as the rule agrees with itself: chance decides who is free."
            }
        };
        said.push(format!(
            "\"{}\" picks {}. {verdict}",
            found.rule,
            both.join(" and ")
        ));
    }
    said
}

fn table(found: &Check) -> Table {
    let confidence = level(found.question.level);
    let mut table = Table::new(
        "compared",
        vec![
            Column::new("middle value, minutes")
                .brief("minutes")
                .left()
                .key("measure"),
            Column::new("tickets").key("tickets").page_only(),
            Column::new("recorded").key("recorded"),
            Column::new("simulated").key("simulated"),
            Column::new(format!("recorded less simulated, {confidence}"))
                .brief("difference")
                .with_ends("difference"),
            Column::new("10 to 90% wider by")
                .brief("wider by")
                .without_interval()
                .with_ends("width"),
            Column::new("verdict").left().key("verdict"),
        ],
    );
    for one in &found.compared {
        let decimals = decimals(one.measure);
        let form = Form::new(Unit::Plain, decimals).signed();
        let difference = |value: f64, interval| Cell::Estimate {
            value: Some(value),
            interval,
            at_least: None,
            form,
        };
        let plain = |value: f64| Cell::number(value, Unit::Plain, decimals);
        table
            .row([
                measured(one.measure).into(),
                Cell::count(one.tickets as u64),
                plain(one.recorded[1]),
                plain(one.simulated[1]),
                difference(one.difference, one.interval),
                match one.spread {
                    Some(_) => difference(one.width.0, one.width.1),
                    None => Cell::Blank,
                },
                standing(one.standing()).into(),
            ])
            .marked(one.standing() == Standing::Off);
    }
    table
}

fn points(found: &Check) -> Table {
    let column = |heading: &str, key: &str| Column::new(heading).key(key);
    let mut table = Table::new(
        "points",
        vec![
            Column::new("minutes").left().key("measure"),
            column("recorded 10%", "recorded_low"),
            column("half", "recorded_middle"),
            column("90%", "recorded_high"),
            column("simulated 10%", "simulated_low"),
            column("half", "simulated_middle"),
            column("90%", "simulated_high"),
            Column::new("middle").left().key("middle"),
            Column::new("width").left().key("width"),
        ],
    );
    for one in found.compared.iter().filter(|one| one.spread.is_some()) {
        let mut row: Vec<Cell> = vec![measured(one.measure).into()];
        let values = one.recorded.into_iter().chain(one.simulated);
        row.extend(values.map(|value| Cell::number(value, Unit::Plain, 1)));
        row.push(standing(one.middle).into());
        row.push(one.spread.map_or("", standing).into());
        table.row(row);
    }
    table
}

fn add_chart(found: &Check, to: &mut Answer) {
    let of_minutes = found.compared.iter().filter(|one| one.spread.is_some());
    let stages: Vec<&Compared> = of_minutes.collect();
    if stages.is_empty() {
        return;
    }
    let points = stages
        .iter()
        .map(|one| Some((one.difference, one.interval.low, one.interval.high)));
    let points: Vec<Option<(f64, f64, f64)>> = points.collect();
    let ends = || {
        points
            .iter()
            .flatten()
            .flat_map(|(value, low, high)| [*value, *low, *high])
    };
    let finite = || ends().filter(|end| end.is_finite());
    let low = finite().fold(-1.0, f64::min);
    let high = finite().fold(1.0, f64::max);
    let worst = stages
        .iter()
        .max_by(|a, b| {
            let by = |one: &Compared| one.difference.abs() / one.measure.scale(one.simulated[1]);
            by(a).total_cmp(&by(b))
        })
        .expect("there is a stage");
    let title = format!(
        "Farthest off for its length: {}, {} min",
        measured(worst.measure),
        Unit::Plain.show_difference(worst.difference, 1)
    );
    let svg = panels::svg(&Panels {
        title: title.clone(),
        subtitle: format!(
            "Recorded less simulated minutes, middle values, with intervals that hold together at {}",
            level(found.question.level)
        ),
        axis: "stages in the order of a load".into(),
        steps: stages
            .iter()
            .map(|one| short(one.measure).to_owned())
            .collect(),
        marked: None,
        panels: vec![Panel {
            axis: "minutes".into(),
            unit: Unit::Plain,
            bottom: Some(low * 1.1),
            top: Some(high * 1.1),
            line: Some((0.0, "as simulated".into())),
            content: Content::Apart(points),
        }],
    });
    to.add_chart(
        "compared",
        "How far each stage is off",
        title,
        svg,
        "compared",
    );
}

fn short(measure: Measure) -> &'static str {
    use crate::studies::tickets::Stage;
    match measure {
        Measure::Stage(Stage::Loading) => "loading",
        Measure::Stage(Stage::Yard) => "rack",
        Measure::Stage(Stage::Out) => "out",
        Measure::Stage(Stage::SiteWait) => "wait",
        Measure::Stage(Stage::Unloading) => "unloading",
        Measure::Stage(Stage::AfterUnloading) => "after",
        Measure::Stage(Stage::Back) => "back",
        Measure::Stage(Stage::Round) => "round",
        Measure::AfterDue => "after due",
        Measure::Loads => "loads",
        Measure::Yards => Quantity::Volume.unit(),
    }
}

fn own(found: &Check) -> serde_json::Value {
    let chosen = |chosen: &Option<Chosen>| {
        chosen.as_ref().map(|chosen| {
            json!({
                "recorded": chosen.recorded,
                "simulated": chosen.simulated,
                "difference_low": chosen.interval.low,
                "difference_high": chosen.interval.high,
                "differ": chosen.differ(),
            })
        })
    };
    json!({
        "believable": found.is_believable(),
        "rule": found.rule,
        "recorded_periods": found.recorded,
        "simulated_periods": found.simulated,
        "tickets_of_other_orders": found.strange,
        "loads_found_again": found.desk.as_ref().map(|desk| desk.loads),
        "same_plant": found.desk.as_ref().and_then(|desk| chosen(&desk.plant)),
        "same_truck": found.desk.as_ref().and_then(|desk| chosen(&desk.truck)),
    })
}

/// The command that gives it again.
fn recipe(scenario: &Scenario, found: &Check) -> String {
    let file = match scenario.origin.file {
        None => "",
        Some(_) => " FILE",
    };
    let rule = match found.today {
        true => String::new(),
        false => format!(" --rule {}", shell::quoted(&found.rule)),
    };
    format!(
        "plantday tickets TICKETS{file} --check{rule} --replications {} --seed {}",
        found.question.replications, found.question.seed
    )
}
