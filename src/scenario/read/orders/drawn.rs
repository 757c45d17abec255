//! Orders drawn day by day: each list becomes the orders that a day can have at most.

use super::super::super::decode::{
    self, Contents, Fields, Limits, flag, minutes, name, number, pair, spanned, time_of_day,
    variant_or, volumes, weekdays, whole,
};
use super::super::super::defaults;
use super::super::super::problem::{Problem, Problems};
use super::super::super::tree::Node;
use super::super::super::{DrawnOrders, Order, Slot};
use super::age::Aged;
use super::{Book, gap, spacing};
use crate::engine::{Count, Spread};
use crate::units::{Millis, Volume, Weekday};

/// More orders of one list on one day are refused.
const MOST_A_DAY: f64 = 500.0;

/// More orders that may be drawn in a period are refused: as many may be written.
const MOST_SLOTS: usize = 100_000;

impl Book<'_> {
    /// See [`DrawnOrders`] for how it is written. Gives it with the orders that its days can have; `group` is its position.
    pub(in super::super) fn drawn(
        &mut self,
        node: &Node,
        group: usize,
        problems: &Problems,
    ) -> Option<(DrawnOrders, Vec<Order>)> {
        let mut fields = Fields::of(node, "list of drawn orders", problems)?;
        let name = fields.required("name", spanned(name));
        let customer = fields.maybe("customer", decode::name);
        let per_day = fields.required("per_day", per_day);
        let at_most = fields.maybe("at_most", whole(Limits::between("orders", 1.0, MOST_A_DAY)));
        let days = fields.optional("days", weekdays, Weekday::ALL.to_vec());
        let first = fields.required("first", first_times);
        let volume = fields.required("volume_yd3", volumes);
        let most_yd3 = fields.maybe("most_yd3", number(Limits::between("yd³", 0.5, 20_000.0)));
        let load = self.load(&mut fields);
        let spacing = spacing(&mut fields, load, problems);
        let mix = self.mix(&mut fields);
        let usual_plant = self.usual_plant(&mut fields, &mix, problems);
        let wait = number(Limits::between("minutes", 0.0, 1_440.0));
        let late = fields.usual(&defaults::LATE_MIN, wait);
        let gap = gap(&mut fields, spacing);
        let setup = fields.usual(&defaults::SETUP_MIN, wait);
        let outdoor = fields.usual(&defaults::OUTDOOR, flag);
        let pump = fields.usual(&defaults::PUMP, flag);
        let balance_yd3 = fields.maybe("balance_yd3", volumes);
        let aged = Aged::read(&mut fields);
        let stay = self.stay(&mut fields, 1.0);
        fields.finish();
        let (name, per_day, (from, to)) = (name?, per_day?, first?);
        let (volume, spacing, stay) = (volume?, spacing?, stay?);
        let at_most = at_most.unwrap_or_else(|| per_day.most().max(1));
        let most = most_yd3.map_or_else(|| largest(&volume), Volume::from_yd3);
        let worked = (0..self.period.days)
            .filter(|day| days.contains(&self.period.first_day.after(i64::from(*day))));
        self.slots += worked.count() * at_most as usize;
        if self.slots > MOST_SLOTS {
            let title = format!(
                "up to here {} orders can be drawn in the period",
                self.slots
            );
            let label = format!(
                "expected at most {MOST_SLOTS}: fewer `at_most` on a day (plantday help limits)"
            );
            return problems.add(Problem::new(name.span, title).label(label));
        }
        let mut orders = Vec::new();
        for day in 0..self.period.days {
            let weekday = self.period.first_day.after(i64::from(day));
            if !days.contains(&weekday) {
                continue;
            }
            let midnight = Millis::midnight(i64::from(day));
            for number in 0..at_most {
                let slot = super::super::super::decode::Spanned {
                    value: self.slot_name(&name.value, weekday, day, number),
                    span: name.span.clone(),
                };
                self.names.define(&slot, problems);
                orders.push(Order {
                    name: slot.value,
                    customer: customer.clone(),
                    first: midnight + from,
                    volume: most,
                    load,
                    spacing,
                    mix: mix.clone(),
                    late: Millis::from_minutes(late),
                    gap,
                    setup: Millis::from_minutes(setup),
                    chance: 1.0,
                    called: Millis::ZERO,
                    outdoor,
                    pump,
                    balance_yd3: balance_yd3.clone(),
                    age: aged.age,
                    age_waived: aged.waived,
                    stabilizer_per_yd3: aged.stabilizer_per_yd3,
                    finish_by: None,
                    usual_plant,
                    plants: Vec::new(),
                    stay: stay.clone(),
                    slot: Some(Slot { group, day, number }),
                });
            }
        }
        let drawn = DrawnOrders {
            name: name.value,
            per_day,
            at_most,
            first: (from, to),
            volume,
            most,
            growth: 1.0,
        };
        Some((drawn, orders))
    }

    /// `small Tue 3`; with the number of the day where weekdays come twice.
    fn slot_name(&self, name: &str, weekday: Weekday, day: u32, number: u32) -> String {
        let weekday = &format!("{weekday:?}")[..3];
        if self.period.days > 7 {
            format!("{name} {} {weekday} {}", day + 1, number + 1)
        } else {
            format!("{name} {weekday} {}", number + 1)
        }
    }
}

/// What all but one in a thousand of the volumes stay within, by the half yard.
fn largest(volume: &Spread) -> Volume {
    let halves = (volume.sampler().at(0.999) * 2.0).max(1.0);
    Volume::thousandths((halves + 0.999) as i64 * 500)
}

/// `Poisson(12)`, a number, or a spread.
fn per_day(node: &Node, problems: &Problems) -> Option<Count> {
    let spread = |node: &Node, problems: &Problems| minutes(node, problems).map(Count::Rounded);
    let count = variant_or("number of orders", &POISSON, spread)(node, problems)?;
    if f64::from(count.most()) <= MOST_A_DAY {
        return Some(count);
    }
    let title = format!("a day can have {} orders", count.most());
    problems.add(
        Problem::new(node.span.clone(), title)
            .label(format!("expected at most {MOST_A_DAY} on nearly every day")),
    )
}

type ReadCount = fn(Contents<'_>) -> Option<Count>;

static POISSON: [(&str, ReadCount); 1] = [("Poisson", |contents| {
    let mut fields = contents.fields(&["mean"])?;
    let mean = fields.required("mean", number(Limits::between("orders a day", 0.0, 400.0)));
    fields.finish();
    Some(Count::Poisson { mean: mean? })
})];

/// `("06:00", "15:00")`
fn first_times(node: &Node, problems: &Problems) -> Option<(Millis, Millis)> {
    let (from, to) = pair(node, "two times, (\"06:00\", \"15:00\")", problems)?;
    let (first, last) = (time_of_day(from, problems), time_of_day(to, problems));
    let (first, last) = (first?, last?);
    if first <= last {
        return Some((first, last));
    }
    problems.add(
        Problem::new(to.span.clone(), format!("from {first} to {last}"))
            .label(format!("expected a time not before {first}")),
    )
}
