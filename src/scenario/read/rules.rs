//! Dispatch rules:
//!
//! ```text
//! (name: "…", about?: "", today?: false,
//!  belief?: TimeOfDay | TimeOfDay(quantile: 0.8) | FreeFlow | StraightLine | Live,
//!  send?: AsOrdered | Paced, early_min?: 0, bay_wait_min?: 0, bay_queue_seen?: false,
//!  spacing_factor?: 1,                                                // loads sent at so many times the ordered spacing; due times stay
//!  sequence?: EarliestDue | RunningPoursFirst | BiggestFirst,
//!  choose?: Nearest | LongestIdle | SoonestOnSite | FewestHours | Seniority | Cheapest,
//!  plants?: Any | NearestFirst(late_min: 20) | UsualFirst(late_min: 20),   // the usual one: `plant` of the order
//!  gates?: [LastLoadBy(hours: 11), HomeWithin(probability: 0.9), KeepMinutes(minutes: 30), Reserve(hours: 3)],
//!                                                                     // left out: none
//!  lend?: Never | IfSaves(minutes: 10) | Always,
//!  load_size?: FullThenRemainder | Equal, room_kept_yd3?: 0, weight_margin_lb?: 0,
//!  retrieval?: RestOut | Fetch | Fetch(not_between?: ("15:30", "18:00"), foreseen?: false, waits?: false, own_drivers?: false)
//!            | FetchDriver | FetchDriver(not_between?: …, foreseen?: …, waits?: …),
//!  long_day?: false,
//!  yard?: (warning?: Never | OnAdmixture | OnEverything, read_after?: Minutes(2) | Revolutions(70),
//!          water_by?: Driver | Batcher | Nobody, most_gal_yd3?: 5, probe?: false, hrwr?: AtPlant | OnSite),
//!  shift?: Rostered | Staggered(minutes?: 15) | Matched(spare?: 0),
//!  send_home?: ShiftEnd | FirstInFirstOut(hold?: 0) | LongestDay(hold?: 0) | Seniority(hold?: 0),
//!  after_discharge?: HomePlant | NearestPlant | MostWork,               // other plants only where the rule lends
//!  override_gates?: Never | IfLate(minutes: 30) | Share(0.1),
//!  drivers_word?: NotAsked | Heard | Overruled,
//!  additions?: TakeAll | OnlyIfHolds | FirstFreeTime(hours: 3),
//!  plant_hours?: AsPosted | KeptOpen(hours: 2),
//!  redirect?: Wait | SameMix(wait_min: 30))
//! ```
//!
//! What stands in `yard` beside the warning counts where mixes are described.
//!
//! The first of the choices is the default.

mod disagreements;
mod hours;
mod loads;
mod orders;
mod shifts;
mod trucks;
mod write;
mod yard;

pub use write::rule_text;

use super::super::decode::{
    Contents, Fields, Limits, Names, Spanned, flag, list, name, number, one_of, prose, spanned,
    variant,
};
use super::super::problem::{Faults, Problem, Problems};
use super::super::tree::{self, Node, Span};
use super::fleet::Trucks;
use crate::dispatch::Rule;

/// What rules are held against.
#[derive(Clone, Copy)]
struct Known<'a> {
    trucks: &'a Trucks,
    /// A place that does not say where it lies on the map, where there is none to speak of.
    off_the_map: Option<&'a Spanned<String>>,
}

/// The list of rules: names unique, at most one of them today's.
pub(super) fn rules(
    node: &Node,
    trucks: &Trucks,
    off_the_map: Option<&Spanned<String>>,
    problems: &Problems,
) -> Option<Vec<Rule>> {
    let known = Known {
        trucks,
        off_the_map,
    };
    let mut names = Names::of("rule");
    let mut today: Option<Span> = None;
    list(1..=40, "rule", |node, problems| {
        rule(node, known, &mut names, &mut today, problems)
    })(node, problems)
}

fn rule(
    node: &Node,
    known: Known<'_>,
    names: &mut Names,
    today: &mut Option<Span>,
    problems: &Problems,
) -> Option<Rule> {
    let mut fields = Fields::of(node, "rule", problems)?;
    let name = fields.required("name", spanned(name));
    if let Some(name) = &name {
        names.define(name, problems);
    }
    let is_today = fields
        .maybe("today", spanned(flag))
        .filter(|today| today.value);
    if let Some(here) = &is_today {
        if let Some(first) = today {
            problems.add::<()>(
                Problem::new(here.span.clone(), "two rules are today's")
                    .label("expected `today: true` in one rule at most")
                    .also(first.clone(), "first here"),
            );
        }
        *today = Some(here.span.clone());
    }
    let minutes = number(Limits::between("minutes", 0.0, 240.0));
    fields.former("warning", "`yard: (warning: OnAdmixture)`");
    fields.former("margin_min", "`early_min`");
    let usual = Rule::USUAL;
    let rule = Rule {
        name: usual.name,
        about: fields.optional("about", prose, usual.about),
        today: is_today.is_some(),
        belief: fields.optional("belief", variant("belief", &loads::BELIEFS), usual.belief),
        send: fields.optional("send", one_of("way to send", &loads::SENDS), usual.send),
        early_min: fields.optional("early_min", minutes, usual.early_min),
        bay_wait_min: fields.optional("bay_wait_min", minutes, usual.bay_wait_min),
        bay_queue_seen: fields.optional("bay_queue_seen", flag, usual.bay_queue_seen),
        spacing_factor: fields.optional(
            "spacing_factor",
            number(Limits::between("times the ordered spacing", 0.5, 2.0)),
            usual.spacing_factor,
        ),
        sequence: fields.optional(
            "sequence",
            one_of("sequence", &loads::SEQUENCES),
            usual.sequence,
        ),
        choose: fields.optional(
            "choose",
            one_of("choice of plant and truck", &trucks::CHOICES),
            usual.choose,
        ),
        plants: fields.optional(
            "plants",
            variant("choice of plants", &trucks::PLANTS),
            usual.plants,
        ),
        gates: fields.optional(
            "gates",
            list(0..=10, "gate", variant("gate", &hours::GATES)),
            usual.gates,
        ),
        lend: fields.optional("lend", variant("lend decision", &trucks::LENDS), usual.lend),
        load_size: fields.optional(
            "load_size",
            one_of("load size", &loads::LOAD_SIZES),
            usual.load_size,
        ),
        room_kept_yd3: fields.optional(
            "room_kept_yd3",
            number(Limits::between("yd³", 0.0, 3.0)),
            usual.room_kept_yd3,
        ),
        weight_margin_lb: fields.optional(
            "weight_margin_lb",
            number(Limits::between("lb", 0.0, 20_000.0)),
            usual.weight_margin_lb,
        ),
        retrieval: fields.optional(
            "retrieval",
            variant("retrieval", &hours::RETRIEVALS),
            usual.retrieval,
        ),
        yard: fields.optional("yard", yard::yard, usual.yard),
        long_day: fields.optional("long_day", flag, usual.long_day),
        shift: fields.optional(
            "shift",
            variant("way to call drivers", &shifts::SHIFTS),
            usual.shift,
        ),
        send_home: fields.optional(
            "send_home",
            variant("way to send drivers home", &shifts::SEND_HOMES),
            usual.send_home,
        ),
        after_discharge: fields.optional(
            "after_discharge",
            one_of("place to head for", &trucks::AFTER_DISCHARGES),
            usual.after_discharge,
        ),
        override_gates: fields.optional(
            "override_gates",
            variant("override of the gates", &hours::OVERRIDES),
            usual.override_gates,
        ),
        drivers_word: fields.optional(
            "drivers_word",
            one_of("answer to the driver's word", &hours::DRIVERS_WORDS),
            usual.drivers_word,
        ),
        additions: fields.optional(
            "additions",
            variant("way to take additions", &orders::ADDITIONS),
            usual.additions,
        ),
        plant_hours: fields.optional(
            "plant_hours",
            variant("choice of plant hours", &shifts::PLANT_HOURS),
            usual.plant_hours,
        ),
        redirect: fields.optional(
            "redirect",
            variant("redirection", &orders::REDIRECTS),
            usual.redirect,
        ),
    };
    disagreements::find(&rule, &fields, known, problems);
    fields.finish();
    Some(Rule {
        name: name?.value,
        ..rule
    })
}

/// A rule that takes one decision as written and all others as usual: `field` is the field's name (`lend`, `yard.warning`), `value` what
/// stands behind it in a scenario.
///
/// # Errors
/// All that is wrong in the value; the text is told as `name`.
pub fn decided(name: &str, field: &str, value: &str) -> Result<Rule, Box<Faults>> {
    let written = match field.split_once('.') {
        Some((block, field)) => format!("{block}: ({field}: {value})"),
        None => format!("{field}: {value}"),
    };
    // What is made up stands on lines of its own: nobody is shown text that is not theirs.
    let text = format!("(name: \"varied\",\n{written}\n)");
    let problems = Problems::new();
    let read = match tree::parse(&text) {
        // Any room and weight: the trucks are those of the rule that takes it over.
        Ok(node) => rule(
            &node,
            Known {
                trucks: &Trucks::unread(),
                off_the_map: None,
            },
            &mut Names::of("rule"),
            &mut None,
            &problems,
        ),
        Err(found) => problems.add_all(found),
    };
    match read {
        Some(rule) if problems.is_empty() => Ok(rule),
        _ => Err(Box::new(problems.into_faults(name, &text))),
    }
}

type Variants<T, const N: usize> = [(&'static str, fn(Contents<'_>) -> Option<T>); N];

/// The one number of a choice.
fn value(contents: &Contents<'_>, name: &'static str, limits: Limits) -> Option<f64> {
    let mut fields = contents.fields(&[name])?;
    let value = fields.required(name, number(limits));
    fields.finish();
    value
}
