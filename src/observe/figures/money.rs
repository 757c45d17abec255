//! What a replication costs and earns.

use super::Figures;
use crate::observe::profile::CostPart;
use crate::units::Cents;

impl Figures<'_> {
    /// The costs of the replication by part.
    pub fn cost_parts(&self) -> [Cents; CostPart::ALL.len()] {
        let (sums, money, pours) = (&self.sums, self.money, &self.pours);
        CostPart::ALL.map(|part| match part {
            CostPart::Pay => self.wages.regular_pay(money),
            CostPart::Overtime => self.wages.overtime_pay(money),
            CostPart::Trucks => {
                money.truck_per_duty_h.times(self.wages.duty().hours())
                    + money.truck_per_driven_h.times(sums.driven.hours())
                    + money.truck_per_mile.times(sums.miles)
            }
            CostPart::Crews => money
                .crew_per_open_h
                .times(self.crew_hours + sums.crew_stayed.hours()),
            CostPart::Material => {
                money.material_per_yd3.times(sums.batched.yd3())
                    + self.material.cost(self.plan.corrections())
            }
            CostPart::Dumped => {
                let dumped = sums.dumped + self.material.parts_dumped();
                money.dumped_per_yd3.times(dumped.yd3())
                    + money
                        .returned_per_yd3
                        .times((sums.returned - sums.reused).yd3())
            }
            CostPart::Late => {
                money.late_per_load.times(f64::from(pours.late))
                    + money.late_per_min.times(pours.beyond.minutes())
            }
            CostPart::Undelivered => money
                .undelivered_per_yd3
                .times(pours.undelivered_volume.yd3()),
            CostPart::Stranded => {
                money.stranded.times(f64::from(sums.stranded))
                    + money.helper_per_h.times(sums.helpers.hours())
            }
            CostPart::Lodging => money.lodging.times(f64::from(sums.rested_out)),
            CostPart::Fines => money.found_heavy.times(f64::from(sums.heavy)),
            CostPart::Washouts => money.per_washout.times(f64::from(sums.washouts)),
            CostPart::Standby => {
                money.pump_standby_per_h.times(pours.pump_pause.hours())
                    + money.site_crew_per_h.times(pours.pause.hours())
            }
        })
    }

    /// What customers pay. None: the scenario does not say.
    pub fn revenue(&self) -> Option<Cents> {
        let sums = &self.sums;
        self.money.revenue.map(|revenue| {
            revenue.per_yd3.times(sums.placed.yd3())
                + revenue.unloading_per_min.times(sums.unloading_beyond)
                + revenue.short_load.times(f64::from(sums.short_orders))
        })
    }
}
