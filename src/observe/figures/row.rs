//! The row of a replication: every figure of it, set once.

use super::Figures;
use crate::observe::columns::{FIGURES, figure};
use crate::observe::cost_part::MoneyKind;
use crate::plant::BrokenDrum;
use crate::units::Millis;

impl Figures<'_> {
    /// Writes the figures of the replication into a row of [`Figures::width`] columns. A figure that does not exist (cost
    /// per yd³ without a yd³, margin without a limit) is not a number.
    pub fn row(&self, row: &mut [f32]) {
        let (sums, pours) = (&self.sums, &self.pours);
        let (figures, queues) = row.split_at_mut(figure::COUNT);
        self.queues.rows(queues);
        let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { f64::NAN };
        let parts = self.cost_parts();
        let cost = |kinds: &[MoneyKind]| self.cost_of(&parts, kinds).units();
        let system = self.plan.measures.system;
        let mut set = |figure: usize, value: f64| {
            figures[figure] = FIGURES[figure].unit.told_in(system, value) as f32;
        };
        use MoneyKind::{Capacity, Cash, LostSales, Trouble};
        set(figure::COST, cost(&[Cash, LostSales, Trouble]));
        set(figure::CASH, cost(&[Cash, LostSales]));
        set(figure::CASH_PAID, cost(&[Cash]));
        set(figure::LOST_SALES, cost(&[LostSales]));
        set(figure::TROUBLE, cost(&[Trouble]));
        set(figure::TRUCK_HOURS_COST, cost(&[Capacity]));
        set(
            figure::COST_PER_YD3,
            share(cost(&[Cash, Trouble, Capacity]), sums.placed.yd3()),
        );
        set(figure::LOADS, sums.loads.into());
        set(figure::LATE_LOADS, pours.late.into());
        set(figure::LOADS_DUE, pours.judged.into());
        set(
            figure::LATE_SHARE,
            share(pours.late.into(), pours.judged.into()),
        );
        set(
            figure::LATE_MIN,
            share(pours.late_arrived.minutes(), pours.arrived.into()),
        );
        set(figure::FIRST_LATE, pours.first_late.into());
        set(figure::UNDELIVERED, pours.undelivered.into());
        set(
            figure::SERVED_SHARE,
            share(pours.served() as f64, pours.orders() as f64),
        );
        set(figure::POURS_LATE, pours.finished_late(self.plan) as f64);
        set(figure::GAPS, pours.gaps.into());
        set(figure::GAP_MIN, pours.gap.minutes());
        set(figure::CREW_WAIT_MIN, pours.pause.minutes());
        set(figure::STRANDED, sums.stranded.into());
        set(figure::VIOLATION_MIN, sums.violation.minutes());
        let margin = if self.smallest_margin == Millis::NEVER {
            f64::NAN
        } else {
            self.smallest_margin.minutes()
        };
        set(figure::MARGIN_MIN, margin);
        set(figure::DAYS_LOST, sums.days_lost.into());
        set(figure::LOADS_LOST, sums.loads_lost.into());
        set(figure::REJECTED, sums.rejected.into());
        set(figure::REBATCHED, sums.made_again.into());
        set(figure::DRY_UPS, sums.dry_ups.into());
        set(figure::FETCHED, sums.fetched.into());
        set(figure::NO_SHOWS, sums.no_shows.into());
        set(figure::BROKEN, sums.broken.into());
        set(figure::REFUSED_HOURS, sums.refused_hours.into());
        set(figure::REFUSED_CLOSED, sums.refused_closed.into());
        set(figure::REFUSED_OTHER, sums.refused_other.into());
        let ordered = self.ordered - sums.never_ordered + sums.balance;
        set(figure::ORDERED_YD3, ordered.yd3());
        set(figure::CANCELLED_YD3, sums.cancelled.yd3());
        set(figure::BATCHED_YD3, sums.batched.yd3());
        set(figure::PLACED_YD3, sums.placed.yd3());
        set(figure::DUMPED_YD3, sums.dumped.yd3());
        set(figure::LEFT_YD3, sums.left.yd3());
        set(figure::REFUSED_YD3, sums.refused_volume.yd3());
        set(figure::ORDERS_MOVED, pours.moved_orders.into());
        set(figure::MOVED_MIN, pours.moved_by.minutes());
        set(figure::LATE_ON_FIRST_WISH, pours.late_on_first_wish.into());
        set(figure::POURS_BROKEN, pours.broken() as f64);
        let paid = self.wages.paid();
        set(figure::PAID_H, paid.hours());
        set(figure::UNWORKED_H, self.wages.unworked().hours());
        set(figure::OVERTIME_H, self.wages.overtime().hours());
        set(
            figure::OVERTIME_SHARE,
            share(self.wages.overtime().hours(), paid.hours()),
        );
        set(
            figure::YD3_PER_PAID_H,
            share(sums.placed.yd3(), paid.hours()),
        );
        set(
            figure::TRUCK_USE,
            share(sums.productive.minutes(), paid.minutes()),
        );
        set(figure::BAY_WAIT_MIN, self.queues.bay_wait_min());
        set(figure::SITE_WAIT_MIN, self.queues.site_wait_min());
        set(figure::OUTSIDE, sums.outside.into());
        set(figure::RETURNED_YD3, (sums.returned - sums.reused).yd3());
        set(figure::BREAKDOWNS, sums.breakdowns.into());
        set(figure::GIVEN_UP, sums.given_up.into());
        set(figure::DRUMS_SET, sums.drums(BrokenDrum::Set));
        set(figure::FOUND_HEAVY, sums.heavy.into());
        let revenue = self.revenue();
        set(figure::REVENUE, revenue.units());
        let paid = self.cost_of(&parts, &[Cash]);
        set(figure::MARGIN, (revenue - paid).units());
        self.material.row(self.plan.corrections(), &mut set);
        self.clocks.row(&mut set);
        set(figure::NOT_CALLED, sums.not_called.into());
        set(figure::CALLED_OFF, sums.called_off.into());
        set(figure::KEPT_OPEN_H, sums.kept_open.hours());
        set(figure::REDIRECTED, sums.redirected.into());
        set(figure::DECLINED, sums.declined.into());
        set(figure::RESTED_OUT, sums.rested_out.into());
        set(figure::REUSED_YD3, sums.reused.yd3());
    }
}
