//! What changes from day to day, and who helps when it does.

use super::super::decode::{
    Fields, Limits, Names, factors, list, minutes, name, number, parts_of_loads, spanned,
    time_of_day, volumes, weekdays,
};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::Node;
use super::super::{Changes, Helper, Outages, RoadTable, Weighing};
use super::licences::person;
use super::places::Places;
use super::rule_books::Books;
use crate::concrete::EmptyWeight;
use crate::hours::RuleBook;
use crate::units::Weekday;

/// See [`Changes`] for how it is written.
pub(super) fn changes(mut fields: Fields<'_>) -> Changes {
    let share = |what| number(Limits::between(what, 0.0, 1.0));
    let orders = share("share of orders");
    let slows = number(Limits::between("factor", 1.0, 5.0));
    let not_ready = fields.usual(&defaults::NOT_READY, orders);
    let hold = fields.usual(&defaults::HOLD, orders);
    let returned = fields.usual(&defaults::RETURNED, orders);
    let balance = fields.usual(&defaults::BALANCE, orders);
    let phones = share("share of sites that are not ready");
    let phones_ahead = fields.usual_where(not_ready > 0.0, &defaults::PHONES_AHEAD, phones);
    let changes = Changes {
        no_show: fields.usual(&defaults::NO_SHOW, share("share of driver days")),
        absent: fields.usual(&defaults::ABSENT, share("share of driver days")),
        empty_seats: fields.usual(&defaults::EMPTY_SEATS, share("share of seats")),
        rain: fields.usual(&defaults::RAIN, share("share of days")),
        cancelled: fields.usual(&defaults::CANCELLED, orders),
        not_ready,
        not_ready_min: fields.usual_where(not_ready > 0.0, &defaults::NOT_READY_MIN, minutes),
        phones_ahead,
        phones_ahead_min: fields.usual_where(
            phones_ahead > 0.0,
            &defaults::PHONES_AHEAD_MIN,
            number(Limits::between("minutes", 1.0, 1_440.0)),
        ),
        rain_slows: fields.usual(&defaults::RAIN_SLOWS, slows),
        pace: fields.off(&defaults::PACE, factors),
        hold,
        hold_min: fields.usual_where(hold > 0.0, &defaults::HOLD_MIN, minutes),
        returned,
        returned_yd3: fields.usual_where(returned > 0.0, &defaults::RETURNED_YD3, parts_of_loads),
        balance,
        balance_yd3: fields.usual_where(balance > 0.0, &defaults::BALANCE_YD3, volumes),
    };
    fields.finish();
    changes
}

/// See [`Weighing`] for how it is written; with what empty trucks weigh beyond the books.
pub(super) fn weighing(
    node: &Node,
    roads: Option<&RoadTable>,
    problems: &Problems,
) -> Option<(Weighing, EmptyWeight)> {
    let mut fields = Fields::of(node, "weighing block", problems)?;
    let over = number(Limits::between("lb", -10_000.0, 10_000.0));
    let sd = number(Limits::between("lb", 0.0, 10_000.0));
    let empty_weight = EmptyWeight {
        mean_over_lb: fields.usual(&defaults::EMPTY_OVER_LB, over),
        sd_lb: fields.usual(&defaults::EMPTY_SD_LB, sd),
    };
    let held = fields.usual(&defaults::HELD, minutes);
    let share = number(Limits::between("share of loads", 0.0, 1.0));
    let goes_round = fields.usual(&defaults::GOES_ROUND, share);
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
    Some((Weighing { held, goes_round }, empty_weight))
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
