//! What a replication costs and earns.

use super::Figures;
use crate::observe::cost_part::{CostPart, MoneyKind};
use crate::plant::BrokenDrum;
use crate::units::{Cents, Millis, Volume};

impl Figures<'_> {
    /// The costs of the replication by part.
    pub fn cost_parts(&self) -> [Cents; CostPart::ALL.len()] {
        let (sums, money, pours) = (&self.sums, self.money, &self.pours);
        CostPart::ALL.map(|part| match part {
            CostPart::Pay => self.wages.regular_pay(money),
            CostPart::Overtime => self.wages.overtime_pay(money),
            CostPart::Unworked => self.wages.unworked_pay(),
            CostPart::PayrollTax => {
                let worked = self.wages.regular_pay(money) + self.wages.overtime_pay(money);
                let pay = worked + self.wages.unworked_pay();
                pay.times(money.payroll_tax)
            }
            CostPart::TruckHours => money.truck_per_duty_h.times(self.wages.duty().hours()),
            CostPart::Driving => {
                money.truck_per_driven_h.times(sums.driven.hours())
                    + money.truck_per_mile.times(sums.miles)
            }
            CostPart::Crews => money
                .crew_per_open_h
                .times(self.crew_hours + sums.crew_stayed.hours()),
            CostPart::Material => {
                money.material_per_yd3.times(sums.batched.yd3())
                    + sums.stabilizers
                    + self.material.cost(self.plan.corrections())
            }
            CostPart::Dumped => {
                let dumped = sums.dumped + self.material.parts_dumped();
                money.dumped_per_yd3.times(dumped.yd3())
                    + money
                        .returned_per_yd3
                        .times((sums.returned - sums.reused).yd3())
                    + money
                        .drum_stabilized
                        .times(sums.drums(BrokenDrum::Stabilized))
                    + money.drum_emptied.times(sums.drums(BrokenDrum::Emptied))
                    + money.drum_chipped_out.times(sums.drums(BrokenDrum::Set))
            }
            CostPart::LostSales => self.lost_sales(),
            CostPart::Late => {
                money.late_per_load.times(f64::from(pours.late))
                    + money.late_per_min.times(pours.beyond.minutes())
                    + money.first_late_per_min.times(pours.first_beyond.minutes())
                    + money.early_per_min.times(pours.early.minutes())
            }
            CostPart::Gaps => money.gap_per_min.times(pours.gap.minutes()),
            CostPart::BrokenPours => money.broken_pour.times(pours.broken() as f64),
            CostPart::Moved => money.moved_per_min.times(pours.moved_by.minutes()),
            CostPart::Weak => money
                .below_strength
                .times(f64::from(self.material.below_strength())),
            CostPart::Outside => money.outside_per_load.times(f64::from(sums.outside)),
            CostPart::Undelivered => money
                .undelivered_per_yd3
                .times(pours.undelivered_volume.yd3()),
            CostPart::Stranded => money.stranded.times(f64::from(sums.stranded)),
            CostPart::Helpers => money.helper_per_h.times(sums.helpers.hours()),
            CostPart::Lodging => money.lodging.times(f64::from(sums.rested_out)),
            CostPart::Fines => money.found_heavy.times(f64::from(sums.heavy)),
            CostPart::Washouts => money.per_washout.times(f64::from(sums.washouts)),
            CostPart::Haulers => self.wages.hired().0,
            CostPart::Standby => {
                money.pump_standby_per_h.times(pours.pump_pause.hours())
                    + money.site_crew_per_h.times(pours.pause.hours())
            }
        })
    }

    /// Hired haulers: the hours paid for, and the days on which they are.
    pub fn hired(&self) -> (Millis, u32) {
        let (_, paid, days) = self.wages.hired();
        (paid, days)
    }

    /// Days of the roster on which a driver is off, as planned.
    pub fn days_off(&self) -> u32 {
        self.sums.days_off
    }

    /// The costs of one kind.
    pub(super) fn cost_of(&self, parts: &[Cents], kinds: &[MoneyKind]) -> Cents {
        let of_kind = CostPart::ALL
            .into_iter()
            .zip(parts)
            .filter(|(part, _)| kinds.contains(&part.kind()));
        of_kind.map(|(_, cost)| *cost).sum()
    }

    /// The sale price of what was ordered and is never placed, with the fees, and of the share of moved customers who go elsewhere.
    fn lost_sales(&self) -> Cents {
        let revenue = &self.money.revenue;
        let orders = self.plan.orders.iter().zip(&self.booked);
        let mut lost = Cents::ZERO;
        for (pour, (order, booked)) in self.pours.iter().zip(orders) {
            lost += order.price_per_yd3.times(pour.lost.yd3());
            let none = pour.placed == Volume::ZERO && pour.lost > Volume::ZERO;
            if none && *booked < revenue.short_load_under {
                lost += revenue.short_load;
            }
            if pour.moved > Millis::ZERO {
                let elsewhere = pour.placed.yd3() * self.money.moved_lost_share;
                lost += order.price_per_yd3.times(elsewhere);
            }
        }
        lost
    }

    /// What customers pay.
    pub fn revenue(&self) -> Cents {
        let (sums, revenue) = (&self.sums, &self.money.revenue);
        sums.sold
            + revenue.unloading_per_min.times(sums.unloading_beyond)
            + revenue.short_load.times(f64::from(sums.short_orders))
    }
}
