//! Dispatch rules:
//!
//! ```text
//! (name: "…", about?: "", today?: false,
//!  belief?: TimeOfDay | TimeOfDay(quantile: 0.8) | FreeFlow | StraightLine | Live,
//!  send?: AsOrdered | Paced, margin_min?: 0, bay_wait_min?: 0,
//!  spacing_factor?: 1,                                                // loads sent at so many times the ordered spacing; due times stay
//!  sequence?: EarliestDue | RunningPoursFirst | BiggestFirst,
//!  choose?: Nearest | LongestIdle | SoonestOnSite | FewestHours | Seniority | Cheapest,
//!  plants?: Any | NearestFirst(late_min: 20),
//!  gates?: [LastLoadBy(hours: 11), HomeWithin(probability: 0.9), KeepMinutes(minutes: 30), Reserve(hours: 3)],
//!                                                                     // left out: none
//!  lend?: Never | IfSaves(minutes: 10) | Always,
//!  load_size?: FullThenRemainder | Equal, room_kept_yd3?: 0, weight_margin_lb?: 0, warning?: false,
//!  retrieval?: RestOut | Fetch | Fetch(not_between?: ("15:30", "18:00"), foreseen?: false, waits?: false, own_drivers?: false)
//!            | FetchDriver | FetchDriver(not_between?: …, foreseen?: …, waits?: …),
//!  long_day?: false,
//!  yard?: (warning?: Never | OnAdmixture | OnEverything, read_after?: Minutes(2) | Revolutions(70),
//!          water_by?: Driver | Batcher | Nobody, most_gal_yd3?: 5, probe?: false, hrwr?: AtPlant | OnSite),
//!  shift?: Rostered | Staggered(minutes: 15) | Matched(spare?: 0),
//!  send_home?: ShiftEnd | FirstInFirstOut(hold?: 0) | LongestDay(hold?: 0) | Seniority(hold?: 0),
//!  after_discharge?: HomePlant | NearestPlant | MostWork,               // other plants only where the rule lends
//!  override_gates?: Never | IfLate(minutes: 30) | Share(0.1),
//!  drivers_word?: NotAsked | Heard | Overruled,
//!  additions?: TakeAll | OnlyIfHolds | FirstFreeTime(hours: 3),
//!  plant_hours?: AsPosted | KeptOpen(hours: 2),
//!  redirect?: Wait | SameMix(wait_min: 30))
//! ```
//!
//! `warning: true` is short for `yard: (warning: OnAdmixture)`. What else stands in `yard` counts where mixes are described.
//!
//! The first of the choices is the default.

use super::super::decode::{
    Contents, Fields, Limits, Names, flag, list, name, number, one_of, pair, prose, spanned,
    time_of_day, variant, whole,
};
use super::super::problem::{Problem, Problems};
use super::super::tree::{Node, Span};
use super::fleet::Trucks;
use crate::dispatch::{
    Additions, AfterDischarge, Choose, DriversWord, Fetch, Gate, HrwrAt, Lend, LoadSize, Override,
    PlantHours, Plants, ReadAfter, Redirect, Retrieval, Rule, Send, SendHome, Sequence, Shift,
    Warning, WaterBy, YardPractice,
};
use crate::roads::Belief;

/// The list of rules: names unique, at most one of them today's.
pub(super) fn rules(node: &Node, trucks: &Trucks, problems: &Problems) -> Option<Vec<Rule>> {
    let mut names = Names::of("rule");
    let mut today: Option<Span> = None;
    list(1..=40, "rule", |node, problems| {
        rule(node, trucks, &mut names, &mut today, problems)
    })(node, problems)
}

fn rule(
    node: &Node,
    trucks: &Trucks,
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
    let mut rule = Rule {
        name: String::new(),
        about: fields.optional("about", prose, String::new()),
        today: is_today.is_some(),
        belief: fields.optional(
            "belief",
            variant("belief", &BELIEFS),
            Belief::TimeOfDay { quantile: None },
        ),
        send: fields.optional("send", one_of("way to send", &SENDS), Send::AsOrdered),
        margin_min: fields.optional("margin_min", minutes, 0.0),
        bay_wait_min: fields.optional("bay_wait_min", minutes, 0.0),
        spacing_factor: fields.optional(
            "spacing_factor",
            number(Limits::between("times the ordered spacing", 0.5, 2.0)),
            1.0,
        ),
        sequence: fields.optional(
            "sequence",
            one_of("sequence", &SEQUENCES),
            Sequence::EarliestDue,
        ),
        choose: fields.optional(
            "choose",
            one_of("choice of plant and truck", &CHOICES),
            Choose::Nearest,
        ),
        plants: fields.optional("plants", variant("choice of plants", &PLANTS), Plants::Any),
        gates: fields.optional(
            "gates",
            list(0..=10, "gate", variant("gate", &GATES)),
            Vec::new(),
        ),
        lend: fields.optional("lend", variant("lend decision", &LENDS), Lend::Never),
        load_size: fields.optional(
            "load_size",
            one_of("load size", &LOAD_SIZES),
            LoadSize::FullThenRemainder,
        ),
        room_kept_yd3: fields.optional(
            "room_kept_yd3",
            number(Limits::between("yd³", 0.0, 3.0)),
            0.0,
        ),
        weight_margin_lb: fields.optional(
            "weight_margin_lb",
            number(Limits::between("lb", 0.0, 20_000.0)),
            0.0,
        ),
        warning: fields.optional("warning", flag, false),
        retrieval: fields.optional(
            "retrieval",
            variant("retrieval", &RETRIEVALS),
            Retrieval::RestOut,
        ),
        yard: fields.optional("yard", yard, YardPractice::USUAL),
        long_day: fields.optional("long_day", flag, false),
        shift: fields.optional(
            "shift",
            variant("way to call drivers", &SHIFTS),
            Shift::Rostered,
        ),
        send_home: fields.optional(
            "send_home",
            variant("way to send drivers home", &SEND_HOMES),
            SendHome::ShiftEnd,
        ),
        after_discharge: fields.optional(
            "after_discharge",
            one_of("place to head for", &AFTER_DISCHARGES),
            AfterDischarge::HomePlant,
        ),
        override_gates: fields.optional(
            "override_gates",
            variant("override of the gates", &OVERRIDES),
            Override::Never,
        ),
        drivers_word: fields.optional(
            "drivers_word",
            one_of("answer to the driver's word", &DRIVERS_WORDS),
            DriversWord::NotAsked,
        ),
        additions: fields.optional(
            "additions",
            variant("way to take additions", &ADDITIONS),
            Additions::TakeAll,
        ),
        plant_hours: fields.optional(
            "plant_hours",
            variant("choice of plant hours", &PLANT_HOURS),
            PlantHours::AsPosted,
        ),
        redirect: fields.optional(
            "redirect",
            variant("redirection", &REDIRECTS),
            Redirect::Wait,
        ),
    };
    if rule.warning && rule.yard.warning == Warning::Never {
        rule.yard.warning = Warning::OnAdmixture;
    }
    rule.warning = rule.yard.warning != Warning::Never;
    if rule.override_gates != Override::Never
        && rule.gates.is_empty()
        && fields.place("gates").is_none()
        && let Some(span) = fields.place("override_gates")
    {
        problems.add::<()>(
            Problem::new(span, "gates are overridden, and the rule has none")
                .label("expected `Never`, or gates in the rule"),
        );
    }
    if rule.after_discharge != AfterDischarge::HomePlant
        && rule.lend == Lend::Never
        && let Some(span) = fields.place("after_discharge")
    {
        let mut problem = Problem::new(
            span,
            "trucks head for another plant, and the rule never lends them",
        )
        .label(
            "expected `HomePlant`, or `lend: IfSaves(minutes: …)` or `lend: Always` in the rule",
        );
        if let Some(lend) = fields.place("lend") {
            problem = problem.also(lend, "never lends here");
        }
        problems.add::<()>(problem);
    }
    if !trucks.can_carry(rule.room_kept_yd3, rule.weight_margin_lb) {
        let span = fields
            .place("room_kept_yd3")
            .or(fields.place("weight_margin_lb"))
            .unwrap_or(fields.opening());
        let title = format!(
            "with {} yd³ of room and {} lb of weight kept no truck can carry anything",
            rule.room_kept_yd3, rule.weight_margin_lb
        );
        problems.add::<()>(
            Problem::new(span, title)
                .label("expected less than some truck's capacity and legal payload"),
        );
    }
    fields.finish();
    Some(Rule {
        name: name?.value,
        ..rule
    })
}

type Variants<T, const N: usize> = [(&'static str, fn(Contents<'_>) -> Option<T>); N];

const BELIEFS: Variants<Belief, 4> = [
    ("TimeOfDay", hour_belief),
    ("FreeFlow", |contents| contents.bare(Belief::FreeFlow)),
    ("StraightLine", |contents| {
        contents.bare(Belief::StraightLine)
    }),
    ("Live", |contents| contents.bare(Belief::Live)),
];

fn hour_belief(contents: Contents<'_>) -> Option<Belief> {
    if contents.is_bare() {
        return Some(Belief::TimeOfDay { quantile: None });
    }
    let mut fields = contents.fields(&["quantile"])?;
    let quantile = fields.or_none(
        "quantile",
        number(Limits::between("share of trips", 0.05, 0.99)),
        f64::NAN,
    );
    fields.finish();
    Some(Belief::TimeOfDay {
        quantile: quantile.filter(|quantile| quantile.is_finite()),
    })
}

const SENDS: [(&str, Send); 2] = [("AsOrdered", Send::AsOrdered), ("Paced", Send::Paced)];

const RETRIEVALS: Variants<Retrieval, 3> = [
    ("RestOut", |contents| contents.bare(Retrieval::RestOut)),
    ("Fetch", |contents| {
        fetch(&contents, true).map(Retrieval::Fetch)
    }),
    ("FetchDriver", |contents| {
        fetch(&contents, false).map(Retrieval::FetchDriver)
    }),
];

fn fetch(contents: &Contents<'_>, own: bool) -> Option<Fetch> {
    if contents.is_bare() {
        return Some(Fetch::default());
    }
    let mut fields = contents.fields(&["not_between", "foreseen", "waits", "own_drivers"])?;
    let not_between = fields.maybe("not_between", |node, problems| {
        let (from, to) = pair(node, "two times of day", problems)?;
        let (from, to) = (time_of_day(from, problems)?, time_of_day(to, problems)?);
        if from < to {
            return Some((from, to));
        }
        problems.add(
            Problem::new(
                node.span.clone(),
                format!("nobody sets out from {from} to {to}"),
            )
            .label("expected the earlier time first"),
        )
    });
    let foreseen = fields.optional("foreseen", flag, false);
    let waits = fields.optional("waits", flag, false);
    // Who only fetches the driver needs no licence: any helper will do.
    let own_drivers = own && fields.optional("own_drivers", flag, false);
    fields.finish();
    Some(Fetch {
        not_between,
        waits,
        foreseen,
        own_drivers,
    })
}

const SEQUENCES: [(&str, Sequence); 3] = [
    ("EarliestDue", Sequence::EarliestDue),
    ("RunningPoursFirst", Sequence::RunningPoursFirst),
    ("BiggestFirst", Sequence::BiggestFirst),
];

const CHOICES: [(&str, Choose); 6] = [
    ("Nearest", Choose::Nearest),
    ("LongestIdle", Choose::LongestIdle),
    ("SoonestOnSite", Choose::SoonestOnSite),
    ("FewestHours", Choose::FewestHours),
    ("Seniority", Choose::Seniority),
    ("Cheapest", Choose::Cheapest),
];

const PLANTS: Variants<Plants, 2> = [
    ("Any", |contents| contents.bare(Plants::Any)),
    ("NearestFirst", |contents| {
        let late_min = value(
            &contents,
            "late_min",
            Limits::between("minutes", 0.0, 1_440.0),
        )?;
        Some(Plants::NearestFirst { late_min })
    }),
];

const GATES: Variants<Gate, 4> = [
    ("LastLoadBy", |contents| {
        let hours = value(
            &contents,
            "hours",
            Limits::above("hours since report", 0.0, 672.0),
        )?;
        Some(Gate::LastLoadBy { hours })
    }),
    ("HomeWithin", |contents| {
        let probability = value(
            &contents,
            "probability",
            Limits::between("probability", 0.5, 0.999),
        )?;
        Some(Gate::HomeWithin { probability })
    }),
    ("KeepMinutes", |contents| {
        let minutes = value(&contents, "minutes", Limits::between("minutes", 0.0, 600.0))?;
        Some(Gate::KeepMinutes { minutes })
    }),
    ("Reserve", |contents| {
        let hours = value(&contents, "hours", Limits::above("hours", 0.0, 24.0))?;
        Some(Gate::Reserve { hours })
    }),
];

const LENDS: Variants<Lend, 3> = [
    ("Never", |contents| contents.bare(Lend::Never)),
    ("IfSaves", |contents| {
        let minutes = value(
            &contents,
            "minutes",
            Limits::between("minutes", 0.0, 1_440.0),
        )?;
        Some(Lend::IfSaves { minutes })
    }),
    ("Always", |contents| contents.bare(Lend::Always)),
];

fn yard(node: &Node, problems: &Problems) -> Option<YardPractice> {
    let usual = YardPractice::USUAL;
    let mut fields = Fields::of(node, "yard practice", problems)?;
    let yard = YardPractice {
        warning: fields.optional("warning", one_of("warning", &WARNINGS), usual.warning),
        read_after: fields.optional(
            "read_after",
            |node, problems| {
                variant("wait before the reading", &READ_AFTER)(node, problems).map(Some)
            },
            usual.read_after,
        ),
        water_by: fields.optional(
            "water_by",
            one_of("who adds water", &WATER_BY),
            usual.water_by,
        ),
        most_gal_yd3: fields.optional(
            "most_gal_yd3",
            number(Limits::between("gal/yd³", 0.0, 20.0)),
            usual.most_gal_yd3,
        ),
        probe: fields.optional("probe", flag, usual.probe),
        hrwr: fields.optional("hrwr", one_of("place for HRWR", &HRWR), usual.hrwr),
    };
    fields.finish();
    Some(yard)
}

const WARNINGS: [(&str, Warning); 3] = [
    ("Never", Warning::Never),
    ("OnAdmixture", Warning::OnAdmixture),
    ("OnEverything", Warning::OnEverything),
];

const READ_AFTER: Variants<ReadAfter, 2> = [
    ("Minutes", |contents| {
        let limits = Limits::between("minutes", 0.0, 60.0);
        value(&contents, "minutes", limits).map(ReadAfter::Minutes)
    }),
    ("Revolutions", |contents| {
        let limits = Limits::between("revolutions", 0.0, 500.0);
        value(&contents, "revolutions", limits).map(ReadAfter::Revolutions)
    }),
];

const WATER_BY: [(&str, WaterBy); 3] = [
    ("Driver", WaterBy::Driver),
    ("Batcher", WaterBy::Batcher),
    ("Nobody", WaterBy::Nobody),
];

const HRWR: [(&str, HrwrAt); 2] = [("AtPlant", HrwrAt::Plant), ("OnSite", HrwrAt::OnSite)];

const LOAD_SIZES: [(&str, LoadSize); 2] = [
    ("FullThenRemainder", LoadSize::FullThenRemainder),
    ("Equal", LoadSize::Equal),
];

const OVERRIDES: Variants<Override, 3> = [
    ("Never", |contents| contents.bare(Override::Never)),
    ("IfLate", |contents| {
        let limits = Limits::between("minutes", 0.0, 1_440.0);
        let minutes = value(&contents, "minutes", limits)?;
        Some(Override::IfLate { minutes })
    }),
    ("Share", |contents| {
        let share = value(
            &contents,
            "share",
            Limits::above("share of loads", 0.0, 1.0),
        )?;
        Some(Override::Share { share })
    }),
];

const ADDITIONS: Variants<Additions, 3> = [
    ("TakeAll", |contents| contents.bare(Additions::TakeAll)),
    ("OnlyIfHolds", |contents| {
        contents.bare(Additions::OnlyIfHolds)
    }),
    ("FirstFreeTime", |contents| {
        let hours = value(&contents, "hours", Limits::between("hours", 0.5, 24.0))?;
        Some(Additions::FirstFreeTime { hours })
    }),
];

const PLANT_HOURS: Variants<PlantHours, 2> = [
    ("AsPosted", |contents| contents.bare(PlantHours::AsPosted)),
    ("KeptOpen", |contents| {
        let hours = value(&contents, "hours", Limits::above("hours", 0.0, 12.0))?;
        Some(PlantHours::KeptOpen { hours })
    }),
];

const REDIRECTS: Variants<Redirect, 2> = [
    ("Wait", |contents| contents.bare(Redirect::Wait)),
    ("SameMix", |contents| {
        let limits = Limits::between("minutes", 0.0, 1_440.0);
        let wait_min = value(&contents, "wait_min", limits)?;
        Some(Redirect::SameMix { wait_min })
    }),
];

const DRIVERS_WORDS: [(&str, DriversWord); 3] = [
    ("NotAsked", DriversWord::NotAsked),
    ("Heard", DriversWord::Heard),
    ("Overruled", DriversWord::Overruled),
];

const AFTER_DISCHARGES: [(&str, AfterDischarge); 3] = [
    ("HomePlant", AfterDischarge::HomePlant),
    ("NearestPlant", AfterDischarge::NearestPlant),
    ("MostWork", AfterDischarge::MostWork),
];

const SHIFTS: Variants<Shift, 3> = [
    ("Rostered", |contents| contents.bare(Shift::Rostered)),
    ("Staggered", |contents| {
        let minutes = value(&contents, "minutes", Limits::between("minutes", 0.0, 240.0))?;
        Some(Shift::Staggered { minutes })
    }),
    ("Matched", |contents| {
        let spare = count(&contents, "spare")?;
        Some(Shift::Matched { spare })
    }),
];

const SEND_HOMES: Variants<SendHome, 4> = [
    ("ShiftEnd", |contents| contents.bare(SendHome::ShiftEnd)),
    ("FirstInFirstOut", |contents| {
        let hold = count(&contents, "hold")?;
        Some(SendHome::FirstInFirstOut { hold })
    }),
    ("LongestDay", |contents| {
        let hold = count(&contents, "hold")?;
        Some(SendHome::LongestDay { hold })
    }),
    ("Seniority", |contents| {
        let hold = count(&contents, "hold")?;
        Some(SendHome::Seniority { hold })
    }),
];

/// A number of drivers that may be left out, with its brackets: 0 then.
fn count(contents: &Contents<'_>, name: &'static str) -> Option<u32> {
    if contents.is_bare() {
        return Some(0);
    }
    let mut fields = contents.fields(&[name])?;
    let count = fields.or_else(
        name,
        |node, problems| whole(Limits::between("drivers", 0.0, 100.0))(node, problems).map(Some),
        Some(0),
        None,
    );
    fields.finish();
    count
}

/// The one number of a choice.
fn value(contents: &Contents<'_>, name: &'static str, limits: Limits) -> Option<f64> {
    let mut fields = contents.fields(&[name])?;
    let value = fields.required(name, number(limits));
    fields.finish();
    value
}
