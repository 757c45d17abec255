//! The decisions of a rule in plain words.

use super::summary::words::{counted, much, plain, share};
use crate::dispatch::{
    Additions, AfterDischarge, Choose, DriversWord, Gate, Habit, HrwrAt, Lend, LoadSize, Override,
    PlantHours, Plants, ReadAfter, Redirect, Retrieval, Rule, Send, SendHome, Sequence, Shift,
    Warning, WaterBy,
};
use crate::roads::Belief;
use crate::scenario::Scenario;
use crate::units::measure::Quantity;

/// What is decided.
pub(crate) fn label(habit: Habit) -> &'static str {
    match habit {
        Habit::Belief => "expected drive times",
        Habit::Send => "when loads are sent",
        Habit::Spacing => "spacing of loads",
        Habit::Early => "sent early",
        Habit::BayWait => "time allowed for the bay",
        Habit::Sequence => "which load goes first",
        Habit::Choose => "which plant and truck",
        Habit::Plants => "which plants may serve",
        Habit::HoursCheck => "check of drivers' hours",
        Habit::Lend => "loans between plants",
        Habit::LoadSize => "size of loads",
        Habit::Payload => "room and weight kept",
        Habit::Retrieval => "stranded drivers",
        Habit::Warning => "warning on the ticket",
        Habit::ReadAfter => "when the slump is read",
        Habit::Water => "water in the yard",
        Habit::Probe => "moisture probes",
        Habit::Hrwr => "where HRWR goes in",
        Habit::LongDay => "longer day once a week",
        Habit::Shift => "when drivers report",
        Habit::SendHome => "when drivers go home",
        Habit::DriversWord => "driver's objection on hours",
        Habit::Additions => "added orders",
        Habit::PlantHours => "plant hours",
        Habit::Redirect => "loads whose site is not ready",
    }
}

/// What a rule does, whatever it is; fits into a list of such phrases.
pub(crate) fn choice(habit: Habit, rule: &Rule, scenario: &Scenario) -> String {
    let yard = &rule.yard;
    match habit {
        Habit::Belief => belief(rule.belief, scenario.roads.straight_line_mph),
        Habit::Send => match rule.send {
            Send::AsOrdered => "sends as ordered".into(),
            Send::Paced => "sends at the pace at which the site unloads".into(),
        },
        Habit::Spacing if rule.spacing_factor == 1.0 => "at the ordered spacing".into(),
        Habit::Spacing => format!("at {} times the ordered spacing", plain(rule.spacing_factor)),
        Habit::Early => format!("{} min early", plain(rule.early_min)),
        Habit::BayWait if rule.bay_queue_seen => {
            format!("the bay line is counted, {} min at least", plain(rule.bay_wait_min))
        }
        Habit::BayWait => format!("{} min allowed for the bay", plain(rule.bay_wait_min)),
        Habit::Sequence => match rule.sequence {
            Sequence::EarliestDue => "the load due first goes first".into(),
            Sequence::RunningPoursFirst => "pours that have begun go first".into(),
            Sequence::BiggestFirst => "the biggest order goes first".into(),
        },
        Habit::Choose => choose(rule.choose).into(),
        Habit::Plants => match rule.plants {
            Plants::Any => "from any plant that makes the mix".into(),
            Plants::NearestFirst { late_min } => format!(
                "from the nearest open plant, from others once that would be {} min late",
                plain(late_min)
            ),
            Plants::UsualFirst { late_min } => format!(
                "from the order's usual plant, from others once that would be {} min late",
                plain(late_min)
            ),
        },
        Habit::HoursCheck => hours_check(rule),
        Habit::Lend => lend(rule),
        Habit::LoadSize => match rule.load_size {
            LoadSize::FullThenRemainder => "full loads, then what is left".into(),
            LoadSize::Equal => "equal loads".into(),
        },
        Habit::Payload => payload(rule),
        Habit::Retrieval => retrieval(&rule.retrieval),
        Habit::Warning => match yard.warning {
            Warning::Never => "no warning on the ticket".into(),
            Warning::OnEverything if scenario.concrete.material.is_some() => {
                "every ticket warns of reading the slump too early".into()
            }
            _ => "the ticket warns of reading the slump too early".into(),
        },
        Habit::ReadAfter => match yard.reading() {
            ReadAfter::Minutes(minutes) => format!("slump read after {} min", plain(minutes)),
            ReadAfter::Revolutions(turns) => {
                format!("slump read after {} revolutions", plain(turns))
            }
        },
        Habit::Water => {
            let most = much(Quantity::Dose, yard.most_gal_yd3);
            match yard.water_by {
                WaterBy::Driver => format!("the driver waters, up to {most}"),
                WaterBy::Batcher => {
                    format!("the batcher waters within the ticket's w/c, up to {most}")
                }
                WaterBy::Nobody => "no water in the plant yard".into(),
            }
        }
        Habit::Probe if yard.probe => "moisture probes in the bins".into(),
        Habit::Probe => "no moisture probes".into(),
        Habit::Hrwr => match yard.hrwr {
            HrwrAt::AtPlant => "HRWR goes in at the plant".into(),
            HrwrAt::OnSite => "HRWR goes in on site".into(),
        },
        Habit::LongDay if rule.long_day => "the once-a-week longer day is used".into(),
        Habit::LongDay => "no longer day once a week".into(),
        Habit::Shift => shift(rule.shift),
        Habit::SendHome => send_home(rule.send_home),
        Habit::DriversWord => match rule.drivers_word {
            DriversWord::NotAsked => "nobody asks drivers whether their hours fit".into(),
            DriversWord::Heard => "dispatch listens when a driver says the hours won't fit".into(),
            DriversWord::Overruled => "dispatch ignores a driver who says the hours won't fit (the driver stops where the law says)".into(),
        },
        Habit::Additions => match rule.additions {
            Additions::TakeAll => "every added order is taken".into(),
            Additions::OnlyIfHolds => "added orders are refused if the trucks do not suffice".into(),
            Additions::FirstFreeTime { hours } => format!(
                "added orders are moved by up to {} h until the trucks suffice, or refused",
                plain(hours)
            ),
        },
        Habit::PlantHours => match rule.plant_hours {
            PlantHours::AsPosted => "plants open as posted".into(),
            PlantHours::KeptOpen { hours } => format!(
                "plants are kept open by up to {} h while it saves more than it costs",
                plain(hours)
            ),
        },
        Habit::Redirect => match rule.redirect {
            Redirect::Wait => "a loaded truck waits until its site is ready".into(),
            Redirect::SameMix { wait_min } => format!(
                "a load whose site will not be ready for {} min goes to an order that waits for the same mix",
                plain(wait_min)
            ),
        },
    }
}

/// Whether a rule leaves this as most rules do, so that a list of what is particular about it leaves it out.
pub(super) fn usual(habit: Habit, rule: &Rule) -> bool {
    match habit {
        Habit::Belief
        | Habit::Send
        | Habit::Sequence
        | Habit::Choose
        | Habit::HoursCheck
        | Habit::Lend
        | Habit::ReadAfter
        | Habit::Water
        | Habit::Retrieval => false,
        Habit::Spacing => rule.spacing_factor == 1.0,
        Habit::Early => rule.early_min == 0.0,
        Habit::BayWait => rule.bay_wait_min == 0.0 && !rule.bay_queue_seen,
        Habit::Plants => rule.plants == Plants::Any,
        Habit::LoadSize => rule.load_size == LoadSize::FullThenRemainder,
        Habit::Payload => rule.room_kept_yd3 == 0.0 && rule.weight_margin_lb == 0.0,
        Habit::Warning => rule.yard.warning == Warning::Never,
        Habit::Probe => !rule.yard.probe,
        Habit::Hrwr => rule.yard.hrwr == HrwrAt::AtPlant,
        Habit::LongDay => !rule.long_day,
        Habit::Shift => rule.shift == Shift::Rostered,
        Habit::SendHome => rule.send_home == SendHome::ShiftEnd,
        Habit::DriversWord => rule.drivers_word == DriversWord::NotAsked,
        Habit::Additions => rule.additions == Additions::TakeAll,
        Habit::PlantHours => rule.plant_hours == PlantHours::AsPosted,
        Habit::Redirect => rule.redirect == Redirect::Wait,
    }
}

/// Whether it can matter in a scenario at all: concrete that is not computed has no slump, and nobody is stranded without clocks.
pub(super) fn applies(habit: Habit, rule: &Rule, scenario: &Scenario) -> bool {
    match habit {
        Habit::ReadAfter | Habit::Water | Habit::Probe | Habit::Hrwr => {
            scenario.concrete.material.is_some()
        }
        // Without helpers there is no choice.
        Habit::Retrieval => {
            let mut drivers = scenario.drivers.iter();
            drivers.any(|driver| driver.rule_book.limits())
                && (!scenario.helpers.is_empty() || rule.retrieval.fetch().is_some())
        }
        _ => true,
    }
}

fn belief(belief: Belief, mph: f64) -> String {
    match belief {
        Belief::StraightLine => format!(
            "reckons with straight lines at {}",
            much(Quantity::Speed, mph)
        ),
        Belief::FreeFlow => "reckons with empty roads".into(),
        Belief::TimeOfDay { quantile: None } => {
            "reckons with the hour's average drive times".into()
        }
        Belief::TimeOfDay { quantile: Some(q) } => {
            format!(
                "reckons with the minutes that {} of trips at the hour stay within",
                share(q)
            )
        }
        Belief::Live => "reckons with the traffic as the day is going".into(),
    }
}

fn choose(choose: Choose) -> &'static str {
    match choose {
        Choose::Nearest => "the plant nearest to the site",
        Choose::LongestIdle => "the truck idle longest",
        Choose::SoonestOnSite => "the plant and truck soonest on site",
        Choose::FewestHours => "the driver with the fewest hours",
        Choose::Seniority => "the most senior driver",
        Choose::Cheapest => "the plant and truck that look cheapest",
    }
}

fn lend(rule: &Rule) -> String {
    let lent = match rule.lend {
        Lend::Never => "no loans between plants".into(),
        Lend::IfSaves { minutes } => {
            format!("loans between plants if that saves {} min", plain(minutes))
        }
        Lend::Always => "loans between plants always".into(),
    };
    match rule.after_discharge {
        AfterDischarge::HomePlant => lent,
        AfterDischarge::NearestPlant => format!("{lent}, empty trucks head for the nearest plant"),
        AfterDischarge::MostWork => {
            format!(
                "{lent}, empty trucks head for the plant with the most waiting volume per truck"
            )
        }
    }
}

fn hours_check(rule: &Rule) -> String {
    if rule.gates.is_empty() {
        return "no hours check".into();
    }
    let mut parts: Vec<String> = rule.gates.iter().map(|each| gate(*each)).collect();
    match rule.override_gates {
        Override::Never => {}
        Override::IfLate { minutes } => parts.push(format!(
            "dispatch skips the hours check for a load that would be {} min late",
            plain(minutes)
        )),
        Override::Share { share: part } => parts.push(format!(
            "dispatch skips the hours check for {} of loads",
            share(part)
        )),
    }
    parts.join(", ")
}

fn gate(gate: Gate) -> String {
    match gate {
        Gate::LastLoadBy { hours } => format!("no load later than {} h after report", plain(hours)),
        Gate::KeepMinutes { minutes } => {
            format!("only drivers home with {} min left", plain(minutes))
        }
        Gate::Reserve { hours } => {
            format!("keeps one driver with {} h left in reserve", plain(hours))
        }
        Gate::HomeWithin { probability } => {
            format!(
                "only drivers {} sure to be home in time",
                share(probability)
            )
        }
    }
}

fn payload(rule: &Rule) -> String {
    let mut parts = Vec::new();
    if rule.room_kept_yd3 > 0.0 {
        parts.push(format!(
            "keeps {} of the drum free",
            much(Quantity::Volume, rule.room_kept_yd3)
        ));
    }
    if rule.weight_margin_lb > 0.0 {
        parts.push(format!(
            "stays {} below the legal weight",
            much(Quantity::Weight, rule.weight_margin_lb)
        ));
    }
    if parts.is_empty() {
        return "fills drums up to the legal weight".into();
    }
    parts.join(", ")
}

fn retrieval(retrieval: &Retrieval) -> String {
    let mut text = match retrieval {
        Retrieval::RestOut => "stranded drivers stay overnight with the truck",
        Retrieval::Fetch(_) => "stranded drivers are picked up by a helper",
        Retrieval::FetchDriver(_) => {
            "stranded drivers are picked up by a helper, and the truck stays till morning"
        }
    }
    .to_owned();
    let Some(fetch) = retrieval.fetch() else {
        return text;
    };
    if fetch.own_drivers {
        text += " or a free driver of the plant";
    }
    if fetch.waits {
        text += ", the next who comes on call if nobody can go";
    }
    if fetch.foreseen {
        text += ", sent early when it is foreseen";
    }
    if let Some((from, to)) = fetch.not_between {
        text += &format!(", not between {from} and {to}");
    }
    text
}

fn shift(shift: Shift) -> String {
    match shift {
        Shift::Rostered => "drivers report as rostered".into(),
        Shift::Staggered { minutes: None } => {
            "drivers report evenly between the first and the last rostered report".into()
        }
        Shift::Staggered {
            minutes: Some(minutes),
        } => format!(
            "drivers report {} min apart from the first report on",
            plain(minutes)
        ),
        Shift::Matched { spare } => format!(
            "drivers are called the day before as the known orders need them{}",
            besides(spare)
        ),
    }
}

fn besides(drivers: u32) -> String {
    if drivers == 0 {
        return String::new();
    }
    format!(
        ", and {} besides",
        counted(drivers as usize, "driver", "drivers")
    )
}

fn send_home(send_home: SendHome) -> String {
    let first = match send_home {
        SendHome::ShiftEnd => return "drivers stay to the end of the shift".into(),
        SendHome::FirstInFirstOut { .. } => "longest idle first",
        SendHome::LongestDay { .. } => "earliest to report first",
        SendHome::Seniority { .. } => "the lowest seniority first",
    };
    let hold = match send_home.hold() {
        None | Some(0) => String::new(),
        Some(hold) => format!(", {hold} held until the plant closes"),
    };
    format!("drivers not needed any more go home, {first}{hold}")
}
