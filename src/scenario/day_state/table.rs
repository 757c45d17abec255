//! How things stand as a table: a row for each driver, as a board or a spreadsheet has it. The moment is the latest time in it. What of
//! the orders is done is not in a table: it is taken as planned.

use super::follow::as_planned;
use super::read::{Reader, moment_or_yesterday};
use super::{DayState, DriverState, OrderState, numbers, together};
use crate::scenario::Scenario;
use crate::scenario::problem::{Faults, Problem, Problems};
use crate::scenario::tables;
use crate::scenario::tree::{Kind, Node};
use crate::units::measure;
use crate::units::{Millis, OrderId};

/// Checks the bytes of a table; `file` is what problems call it.
///
/// # Errors
/// All that is wrong in it.
pub(super) fn parse(
    file: &str,
    bytes: Vec<u8>,
    scenario: &Scenario,
) -> Result<DayState, Box<Faults>> {
    let _spoken = measure::speak(scenario.measures);
    let problems = Problems::new();
    let table = match tables::alone(file, bytes, None, "standing") {
        Ok(table) => table,
        Err(why) => {
            problems.add::<()>(
                Problem::new(0..0, why).label("expected a table: .csv in UTF-8, or .xlsx"),
            );
            return Err(Box::new(problems.into_faults(file, "")));
        }
    };
    problems.tables_from(1);
    let mut reader = Reader::new(scenario);
    reader.is_table = true;
    let day = table.rows().find_map(|row| field(&row, "day").cloned());
    let day = day.and_then(|day| day.text()?.trim().parse::<i64>().ok());
    reader.midnight = Millis::midnight(day.unwrap_or(1).clamp(1, scenario.period.days.into()) - 1);
    let unheard = Problems::new();
    let latest = table.rows().filter_map(|row| {
        let times = ["since", "batched", "reported"].map(|key| field(&row, key));
        let times = times.into_iter().flatten();
        times
            .filter_map(|time| moment_or_yesterday(time, &unheard))
            .max()
    });
    let latest = latest.max().unwrap_or(Millis::ZERO);
    reader.at = reader.midnight + latest;
    let mut drivers: Vec<DriverState> = table
        .rows()
        .filter_map(|row| reader.driver(&without_day(row), &[], &problems))
        .collect();
    together::check(scenario, &drivers, &reader.drivers, &problems);
    if !problems.is_empty() {
        let mut faults = problems.into_faults(file, "");
        faults.tables = vec![table.into_source()];
        return Err(Box::new(faults));
    }
    let orders = planned(scenario, reader.at, &mut drivers);
    numbers::promised(&orders, &mut drivers);
    let mut state = DayState {
        at: reader.at,
        rain: false,
        drivers,
        orders,
        plants: Vec::new(),
        traffic: None,
        orders_as_planned: true,
        scenario: None,
        simulated: None,
        unsaid: std::mem::take(&mut reader.unsaid),
    };
    state.follow_the_roster(scenario);
    Ok(state)
}

fn field<'n>(row: &'n Node, key: &str) -> Option<&'n Node> {
    let Kind::Fields(fields) = &row.kind else {
        return None;
    };
    let field = fields.iter().find(|field| field.key == key)?;
    Some(&field.value)
}

fn without_day(mut row: Node) -> Node {
    if let Kind::Fields(fields) = &mut row.kind {
        fields.retain(|field| field.key != "day");
    }
    row
}

/// What of each order is done: as planned, and what is on trucks are the last of its loads.
fn planned(scenario: &Scenario, at: Millis, drivers: &mut [DriverState]) -> Vec<OrderState> {
    let orders = (0..scenario.orders.len()).map(OrderId::new);
    let orders: Vec<OrderState> = orders
        .filter_map(|id| as_planned(scenario, id, at, drivers))
        .collect();
    for order in &orders {
        numbers::on_trucks(drivers, order.order, order.loads);
    }
    orders
}
