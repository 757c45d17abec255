//! For whom: some figures of a replication by order, by plant and by driver, as whole numbers that are only added.
//!
//! A load that comes belongs to the plant where it was loaded; one that does not, to the plant that it was promised from, or to none.

use super::columns::{Better, Column, Needs, columns, figure};
use super::figure_unit::FigureUnit;
use crate::plant::{Event, Plan};
use crate::scenario::Scenario;
use crate::units::measure::Quantity;
use crate::units::{DriverId, Millis, OrderId, TruckId};

/// Figures of one order, plant or driver, by position in the columns.
pub type WhomFigures = [i64; 5];

/// Positions of the figures of orders and plants.
pub mod of_order {
    /// Loads late beyond tolerance, undelivered ones included.
    pub const LATE: usize = 0;
    /// Milliseconds that late loads are late, tolerated ones included; of a load that does not come, until the end of its order's day.
    pub const LATENESS: usize = 1;
    /// Loads that did not come on their day.
    pub const UNDELIVERED: usize = 2;
    /// Thousandths of a yd³ placed.
    pub const PLACED: usize = 3;
    /// Pauses within pours beyond tolerance. Of a plant: that end with a load of its own.
    pub const GAPS: usize = 4;
}

/// Positions of the figures of drivers.
pub mod of_driver {
    /// Milliseconds on duty.
    pub const DUTY: usize = 0;
    /// Milliseconds of overtime.
    pub const OVERTIME: usize = 1;
    /// Times stranded.
    pub const STRANDED: usize = 2;
    /// Reports before the rostered time.
    pub const EARLY: usize = 3;
    /// Reports after it.
    pub const LATE: usize = 4;
}

fn own(
    key: &str,
    label: &str,
    unit: FigureUnit,
    (decimals, better): (usize, Better),
    needs: Needs,
) -> Column {
    Column {
        key: key.into(),
        label: label.into(),
        unit,
        decimals,
        better,
        needs,
        lacks: None,
    }
}

/// What the figures of orders, of plants and of drivers are, by position.
pub fn whom_columns(scenario: &Scenario) -> [Vec<Column>; 3] {
    let all = columns(scenario);
    let nothing = Needs::Nothing;
    let of_orders = vec![
        all[figure::LATE_LOADS].clone(),
        own(
            "minutes_late",
            "lateness of late loads",
            FigureUnit::Minutes,
            (0, Better::Less),
            nothing,
        ),
        all[figure::UNDELIVERED].clone(),
        all[figure::PLACED_YD3].clone(),
        all[figure::GAPS].clone(),
    ];
    // Another plant may do the work as well.
    let mut of_plants = of_orders.clone();
    of_plants[of_order::PLACED].better = Better::Neither;
    [
        of_orders,
        of_plants,
        vec![
            own(
                "on_duty_h",
                "time on duty",
                FigureUnit::Hours,
                (1, Better::Neither),
                nothing,
            ),
            all[figure::OVERTIME_H].clone(),
            Column {
                label: "times stranded".into(),
                ..all[figure::STRANDED].clone()
            },
            own(
                "early_reports",
                "starts before the roster",
                FigureUnit::Count,
                (2, Better::Neither),
                nothing,
            ),
            own(
                "late_reports",
                "starts after the roster",
                FigureUnit::Count,
                (2, Better::Neither),
                nothing,
            ),
        ],
    ]
}

/// How much of a column's unit a whole number of 1 is.
pub fn whom_unit(column: &Column) -> f64 {
    match column.unit {
        FigureUnit::Minutes => 1.0 / Millis::MINUTE.0 as f64,
        FigureUnit::Hours => 1.0 / Millis::HOUR.0 as f64,
        FigureUnit::Yd3 => Quantity::Volume.told(1.0 / 1_000.0),
        _ => 1.0,
    }
}

/// The figures of one replication in the making.
#[derive(Clone, Debug)]
pub struct ForWhom<'p> {
    plan: &'p Plan,
    /// By order, endless ones last.
    pub orders: Vec<WhomFigures>,
    /// By plant; the last of loads that no plant was to make.
    pub plants: Vec<WhomFigures>,
    /// By driver.
    pub drivers: Vec<WhomFigures>,
    /// By truck: the plant of its load.
    plant_of: Vec<usize>,
}

impl<'p> ForWhom<'p> {
    pub(super) fn new(plan: &'p Plan) -> Self {
        Self {
            plan,
            orders: vec![[0; 5]; plan.orders.len()],
            plants: vec![[0; 5]; plan.plants.len() + 1],
            drivers: vec![[0; 5]; plan.driver_count()],
            plant_of: vec![plan.plants.len(); plan.trucks.len()],
        }
    }

    pub(super) fn begin(&mut self) {
        self.orders.fill([0; 5]);
        self.plants.fill([0; 5]);
        self.drivers.fill([0; 5]);
        self.plant_of.fill(self.plan.plants.len());
    }

    fn add(&mut self, order: OrderId, truck: Option<TruckId>, figure: usize, value: i64) {
        let nowhere = self.plan.plants.len();
        let plant = truck.map_or(nowhere, |truck| self.plant_of[truck.at()]);
        self.orders[order.at()][figure] += value;
        self.plants[plant][figure] += value;
    }

    /// A pause in a pour that is longer than tolerated ends with the load of this truck.
    pub(super) fn gap(&mut self, order: OrderId, truck: TruckId) {
        self.add(order, Some(truck), of_order::GAPS, 1);
    }

    /// A driver's tour has ended.
    pub(super) fn tour(&mut self, driver: DriverId, tour: Millis, overtime: Millis) {
        let figures = &mut self.drivers[driver.at()];
        figures[of_driver::DUTY] += tour.0;
        figures[of_driver::OVERTIME] += overtime.0;
    }

    // Inlined into a call that names its event: only that arm is left.
    #[inline(always)]
    pub(super) fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Promised { truck, plant, .. } => self.plant_of[truck.at()] = plant.at(),
            Event::Taken {
                order,
                truck,
                lateness,
                ..
            } if lateness.is_late() => {
                self.add(order, Some(truck), of_order::LATE, 1);
                self.add(order, Some(truck), of_order::LATENESS, lateness.late().0);
            }
            Event::Undelivered {
                order,
                carrier,
                late,
                ..
            } => {
                self.add(order, carrier, of_order::LATE, 1);
                self.add(order, carrier, of_order::LATENESS, late.0);
                self.add(order, carrier, of_order::UNDELIVERED, 1);
            }
            Event::DischargeEnded {
                order,
                truck,
                volume,
                ..
            } => self.add(
                order,
                Some(truck),
                of_order::PLACED,
                volume.in_thousandths(),
            ),
            Event::Reported { driver, .. } => {
                let figures = &mut self.drivers[driver.at()];
                let rostered = self.plan.nearest_rostered(driver, at).unwrap_or(at);
                figures[of_driver::EARLY] += i64::from(at < rostered);
                figures[of_driver::LATE] += i64::from(at > rostered);
            }
            Event::Stranded { driver, .. } => {
                self.drivers[driver.at()][of_driver::STRANDED] += 1;
            }
            _ => {}
        }
    }
}
