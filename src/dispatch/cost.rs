//! What a candidate is believed to cost beyond what every candidate costs.

use super::{Ask, Candidate, Policy, View};
use crate::roads::Haul;
use crate::units::{Cents, Millis, Rate};

/// The prices that decisions turn on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Prices {
    /// A driver's paid hour.
    pub pay_per_h: Cents,
    /// Length of a tour after which an hour is overtime.
    pub overtime_after: Millis,
    /// Factor on an overtime hour.
    pub overtime_factor: f64,
    /// A truck's hour with a driver on duty.
    pub truck_per_duty_h: Cents,
    /// A truck's driven hour on top.
    pub truck_per_driven_h: Cents,
    /// A late load.
    pub late_per_load: Cents,
    /// A minute of a late load beyond the order's tolerance.
    pub late_per_min: Cents,
    /// A plant's crew, per open hour.
    pub crew_per_open_h: Cents,
    /// A yd³ not delivered on its order's day.
    pub undelivered_per_yd3: Rate,
}

/// The believed cost of a candidate, in cents: the driven hours (to the bay, out, home) and the wait for the send time at a
/// driver's and a truck's hour, the penalty if it is believed later on site than the order tolerates, and what is paid on
/// top for overtime hours until the driver is home.
pub(super) fn cost(policy: &Policy, view: &View<'_>, ask: &Ask<'_>, candidate: &Candidate) -> i64 {
    let truck = &view.trucks[candidate.truck.at()];
    let home = view.plants[truck.home.at()].place;
    let prices = &policy.prices;
    let free = view.now.max(truck.free_at);
    let leaves_site = candidate.arrival + ask.stay.mean(candidate.volume);
    let back = view
        .roads
        .believed(policy.belief, ask.site, home, Haul::Empty, leaves_site);
    let to_bay = candidate.at_bay - free;
    let driven = to_bay + (candidate.arrival - candidate.leaving) + back;
    let waits = (candidate.loading - candidate.at_bay).max(Millis::ZERO);
    let on_duty = prices.pay_per_h.0 + prices.truck_per_duty_h.0;
    let paid = (driven + waits).hours() * on_duty as f64;
    let fuel = driven.hours() * prices.truck_per_driven_h.0 as f64;
    let late = (candidate.arrival - ask.target - ask.late).max(Millis::ZERO);
    let penalty = if late > Millis::ZERO {
        prices.late_per_load.0 as f64 + late.minutes() * prices.late_per_min.0 as f64
    } else {
        0.0
    };
    let begins = free.max(truck.report + prices.overtime_after);
    let overtime = (leaves_site + back - begins).max(Millis::ZERO).hours();
    let premium = overtime * prices.pay_per_h.0 as f64 * (prices.overtime_factor - 1.0);
    (paid + fuel + penalty + premium + 0.5) as i64
}
