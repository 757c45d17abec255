//! Whom to call in, among other work, when the day of rostered drivers ends before the pour does.
//!
//! A rostered driver goes home at the end of the shift, and a truck without a driver leaves the pour. As long as enough others go on that is
//! right; where fewer would be left than the pour needs, somebody is called in who takes the truck over. What the pour needs is reckoned
//! with trips that all but one in twenty stay within, as calls are.

use super::call::CALL_QUANTILE;
use super::timetable::{Timetable, Trips};
use super::tours::Tours;
use crate::dispatch::Shift;
use crate::scenario::edit::fleet::Relief;
use crate::scenario::{Driver, LoadOnPaper, Scenario};
use crate::units::{DriverId, Millis, OrderId, TruckId};

/// A rostered tour on a truck: from, to, and whose.
type Tour = (Millis, Millis, DriverId);

/// A truck of the plant that nobody drives to the end of the pour.
struct Leaves {
    truck: TruckId,
    /// When, and who drove it until then.
    at: Millis,
    driver: Option<DriverId>,
    /// When somebody rostered drives it again, or the pour is over.
    until: Millis,
}

/// Whom to call in, if the first of the pour's drivers would be called at this time, the next of them one spacing later each.
pub(super) fn reliefs(
    scenario: &Scenario,
    trips: &Trips<'_>,
    (rule, pour): (usize, OrderId),
    load: &LoadOnPaper,
    call: Millis,
) -> Vec<Relief> {
    if scenario.rules[rule].shift != Shift::Rostered {
        return Vec::new(); // the rule itself decides who comes when
    }
    let order = &scenario.orders[pour.at()];
    let plan = Timetable::of(scenario, trips, order, load, Some(CALL_QUANTILE));
    let trucks: Vec<TruckId> = (0..scenario.trucks.len())
        .filter(|truck| scenario.trucks[*truck].home == load.plant)
        .map(TruckId::new)
        .collect();
    let mut leaving: Vec<Leaves> = trucks
        .iter()
        .filter_map(|truck| leaves(scenario, *truck, (call, &plan)))
        .collect();
    leaving.sort_by_key(|leaves| leaves.at);
    let mut left = trucks.len() as u32;
    let (mut reliefs, mut absent) = (Vec::new(), 0);
    for leaves in leaving {
        let needed = plan.most(leaves.at, leaves.until);
        if left > needed {
            left -= 1;
            continue;
        }
        // Who takes over a truck that stood is called as others are to whom the roster gives no truck.
        let from = match leaves.driver {
            Some(_) => leaves.at,
            None => {
                absent += 1;
                leaves.at + load.spacing * (absent - 1)
            }
        };
        let round = load.round_trip().max(load.every() * i64::from(needed));
        let tours = Tours::for_work(scenario, load, leaves.until - from, round);
        reliefs.push(Relief {
            truck: leaves.truck,
            relieved: leaves.driver,
            call: from,
            tours: tours.tours,
            tour: tours.tour,
            last_load: tours.last_load,
        });
    }
    reliefs
}

/// When a truck leaves the pour; none that stays to the end.
fn leaves(
    scenario: &Scenario,
    truck: TruckId,
    (call, plan): (Millis, &Timetable),
) -> Option<Leaves> {
    let on_truck = scenario
        .drivers
        .iter()
        .enumerate()
        .filter(|(_, driver)| driver.truck == truck);
    let tours_of = |(at, driver): (usize, &Driver)| {
        let tour = |report: Millis| (report, report + driver.shift, DriverId::new(at));
        driver
            .reports(&scenario.period)
            .into_iter()
            .map(tour)
            .collect::<Vec<Tour>>()
    };
    let mut tours: Vec<Tour> = on_truck.flat_map(tours_of).collect();
    tours.sort();
    let (mut at, mut driver) = (call, None);
    for (report, over, id) in tours {
        // One who comes while another drives, or before anybody could be called in, goes on without a pause.
        let first = driver.is_none() && report < plan.over();
        if over > at && (first || report <= at) {
            (at, driver) = (over, Some(id));
        } else if report > at && driver.is_some() {
            return (at <= plan.last_begun()).then_some(Leaves {
                truck,
                at,
                driver,
                until: report.min(plan.over()),
            });
        }
    }
    (at <= plan.last_begun()).then_some(Leaves {
        truck,
        at,
        driver,
        until: plan.over(),
    })
}
