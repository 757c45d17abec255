//! What changes from day to day, and who helps when it does.

use super::super::decode::{
    Fields, Limits, Names, factors, list, minutes, name, number, spanned, time_of_day, volumes,
    weekdays,
};
use super::super::problem::{Problem, Problems};
use super::super::tree::Node;
use super::super::{Changes, Helper, Outages, RoadTable, Weighing};
use super::empty_weight::Written;
use super::licences::person;
use super::places::Places;
use super::rule_books::Books;
use crate::engine::Spread;
use crate::hours::RuleBook;
use crate::units::Weekday;

/// Nothing changes.
pub(super) fn none() -> Changes {
    Changes {
        no_show: 0.0,
        rain: 0.0,
        cancelled: 0.0,
        not_ready: 0.0,
        not_ready_min: Spread::Lognormal {
            mean: 35.0,
            cv: 0.6,
        },
        rain_slows: 1.0,
        pace: None,
        hold: 0.0,
        hold_min: Spread::Lognormal {
            mean: 25.0,
            cv: 0.6,
        },
        returned: 0.0,
        returned_yd3: Spread::Triangular {
            low: 0.2,
            mode: 0.5,
            high: 2.0,
        },
        balance: 0.0,
        balance_yd3: Spread::Triangular {
            low: 1.0,
            mode: 3.0,
            high: 8.0,
        },
    }
}

/// See [`Changes`] for how it is written.
pub(super) fn changes(node: &Node, problems: &Problems) -> Option<Changes> {
    let none = none();
    let mut fields = Fields::of(node, "changes block", problems)?;
    let share = |what| number(Limits::between(what, 0.0, 1.0));
    let no_show = fields.optional("no_show", share("share of driver days"), 0.0);
    let rain = fields.optional("rain", share("share of days"), 0.0);
    let cancelled = fields.optional("cancelled", share("share of orders"), 0.0);
    let not_ready = fields.optional("not_ready", share("share of orders"), 0.0);
    let not_ready_min = fields.optional("not_ready_min", minutes, none.not_ready_min);
    let rain_slows = fields.optional(
        "rain_slows",
        number(Limits::between("factor", 1.0, 5.0)),
        1.0,
    );
    let pace = fields.maybe("pace", factors);
    let hold = fields.optional("hold", share("share of orders"), 0.0);
    let hold_min = fields.optional("hold_min", minutes, none.hold_min);
    let returned = fields.optional("returned", share("share of orders"), 0.0);
    let returned_yd3 = fields.optional("returned_yd3", factors, none.returned_yd3);
    let balance = fields.optional("balance", share("share of orders"), 0.0);
    let balance_yd3 = fields.optional("balance_yd3", volumes, none.balance_yd3);
    fields.finish();
    Some(Changes {
        no_show,
        rain,
        cancelled,
        not_ready,
        not_ready_min,
        rain_slows,
        pace,
        hold,
        hold_min,
        returned,
        returned_yd3,
        balance,
        balance_yd3,
    })
}

/// See [`Weighing`] for how it is written.
pub(super) fn weighing(
    node: &Node,
    roads: Option<&RoadTable>,
    weights: &mut Written,
    problems: &Problems,
) -> Option<Weighing> {
    let mut fields = Fields::of(node, "weighing block", problems)?;
    weights.weighing(&mut fields);
    let held = Spread::Lognormal {
        mean: 45.0,
        cv: 0.4,
    };
    let held = fields.optional("held", minutes, held);
    let goes_round = fields.optional(
        "goes_round",
        number(Limits::between("share of loads", 0.0, 1.0)),
        0.0,
    );
    if goes_round > 0.0
        && roads.is_some_and(|roads| !roads.has_weigh_stations())
        && let Some(span) = fields.place("goes_round")
    {
        problems.add::<()>(
            Problem::new(span, "there is no weigh station to go round")
                .label("expected roads as a network with a link that has a `weigh_station`"),
        );
    }
    fields.finish();
    Some(Weighing { held, goes_round })
}

/// The helpers, names unique.
pub(super) fn helpers(
    node: &Node,
    places: &Places,
    books: &mut Books,
    problems: &Problems,
) -> Option<Vec<Helper>> {
    let mut names = Names::of("helper");
    list(0..=1_000, "helper", |node, problems| {
        let mut fields = Fields::of(node, "helper", problems)?;
        let name = fields.required("name", spanned(name));
        if let Some(name) = &name {
            names.define(name, problems);
        }
        let at = fields.required("at", |node, problems| places.find_plant(node, problems));
        let from = fields.required("from", time_of_day);
        let to = fields.required("to", spanned(time_of_day));
        if let (Some(from), Some(to)) = (from, &to)
            && to.value <= from
        {
            let title = format!("on call from {from} to {}", to.value);
            let problem = Problem::new(to.span.clone(), title);
            problems.add::<()>(problem.label(format!("expected a time after {from}")));
        }
        let days = fields.optional("days", weekdays, Weekday::ALL.to_vec());
        let person = person(&mut fields, books, RuleBook::Unlimited, problems);
        fields.finish();
        Some(Helper {
            name: name?.value,
            at: at?,
            from: from?,
            to: to?.value,
            days,
            rule_book: person.rule_book,
            licence: person.licence,
            history: person.history,
        })
    })(node, problems)
}

/// See [`Outages`] for how it is written.
pub(super) fn outages(node: &Node, problems: &Problems) -> Option<Outages> {
    let mut fields = Fields::of(node, "outages block", problems)?;
    let between = fields.required("mean_h_between", number(Limits::above("hours", 0.0, 1e6)));
    let length = fields.required("minutes", minutes);
    fields.finish();
    Some(Outages {
        mean_h_between: between?,
        minutes: length?,
    })
}
