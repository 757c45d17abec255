//! How things stand, in words.

use super::clock;
use crate::scenario::Scenario;
use crate::scenario::day_state::{Doing, DriverState, Pause, carried};

pub(super) fn words_of(doing: &Doing) -> &'static str {
    match doing {
        Doing::Off => "off duty",
        Doing::Checking => "checking the truck",
        Doing::Free(_) => "free",
        Doing::Queueing(_) => "waiting to load",
        Doing::Loading(_) => "loading",
        Doing::AtRack(_) => "at the slump rack",
        Doing::Out(_) => "driving loaded",
        Doing::OnSite(_) => "waiting on site",
        Doing::Discharging(_) => "unloading",
        Doing::Washing(_) => "washing the chute",
        Doing::Returning(_) => "driving back",
        Doing::Repositioning(..) => "driving empty",
        Doing::OnBreak(_) => "on a break",
        Doing::BrokenDown(_) => "broken down",
        Doing::Stranded(_) => "out of hours",
        Doing::Resting(_) => "out of hours, resting",
        Doing::GoingHome(_) => "driving home",
        Doing::WashingOut => "washing out",
    }
}

/// A driver in one line: `R6: driving loaded since 13:36, load 2 of "Half wall"; 2 h 10 min driven`.
pub fn told(of: &DriverState, scenario: &Scenario) -> String {
    let where_to = match &of.doing {
        Doing::Free(plant) | Doing::Queueing(plant) | Doing::OnBreak(Pause::Free(plant)) => {
            format!(" at {}", scenario.plants[plant.at()].name)
        }
        Doing::Repositioning(_, plant) => format!(" to {}", scenario.plants[plant.at()].name),
        Doing::Stranded(place) | Doing::Resting(place) => {
            format!(" at {}", scenario.place_name(*place))
        }
        doing => carried(doing).map_or(String::new(), |load| {
            format!(
                ", load {} of {:?}",
                load.number + 1,
                scenario.orders[load.order.at()].name
            )
        }),
    };
    let minutes = of.driven.minutes().round() as i64;
    let until = of
        .until
        .map_or(String::new(), |until| format!(" until {}", clock(until)));
    let next = of.next.map_or(String::new(), |next| {
        format!(
            "; next load {} of {:?}",
            next.number + 1,
            scenario.orders[next.order.at()].name
        )
    });
    format!(
        "{}: {}{where_to} since {}{until}{next}; {} h {:02} min driven",
        scenario.drivers[of.driver.at()].name,
        words_of(&of.doing),
        clock(of.since),
        minutes / 60,
        minutes % 60
    )
}
