//! The changes that a study may ask for by name.

use super::{desk, mishaps, more, opening};
use crate::scenario::Scenario;

/// One thing changed; everything else, all luck included, stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WhatIf {
    /// The roads have no incidents.
    NoIncidents,
    /// Every ticket is read, by every driver: who knows what stands on it, or is warned, lets HRWR be mixed in before the slump is
    /// read. Where shares stand for concrete, no load is misread.
    EveryTicketRead,
    /// The ticket carries a warning.
    Warning,
    /// One bay more at each plant.
    BayMore,
    /// One truck with a driver more at each plant: both like the first of the plant.
    TruckMore,
    /// One truck less, with its drivers, at each plant that has two or more.
    TruckLess,
    /// One bay less at each plant that has two or more.
    BayLess,
    /// Customers take concrete that is half an hour older than the limit.
    AgeAgreed,
    /// Every plant closes two hours later.
    OpenLonger,
    /// Every driver reports one hour earlier, for a tour as long as before.
    ReportEarlier,
    /// The desk believes trips to last what they usually last at the hour.
    KnowsTheHour,
    /// The desk knows the roads as they are.
    KnowsTheDay,
    /// No truck works from another plant.
    NoLends,
    /// Plants never stand still, planned or not.
    NoOutages,
    /// Every driver comes to work.
    NoNoShows,
    /// Every site is ready in time.
    NoSiteLate,
    /// Moisture probes stand in the aggregate bins.
    MoistureProbe,
    /// Every plant has a truck scale.
    TruckScale,
    /// Who says that the way home does not fit is heard.
    DriversWord,
}

impl WhatIf {
    /// All, in the order of their positions.
    pub const ALL: [Self; 19] = [
        Self::NoIncidents,
        Self::EveryTicketRead,
        Self::Warning,
        Self::BayMore,
        Self::TruckMore,
        Self::TruckLess,
        Self::BayLess,
        Self::AgeAgreed,
        Self::OpenLonger,
        Self::ReportEarlier,
        Self::KnowsTheHour,
        Self::KnowsTheDay,
        Self::NoLends,
        Self::NoOutages,
        Self::NoNoShows,
        Self::NoSiteLate,
        Self::MoistureProbe,
        Self::TruckScale,
        Self::DriversWord,
    ];

    /// The name in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::NoIncidents => "no_incidents",
            Self::EveryTicketRead => "every_ticket_read",
            Self::Warning => "warning_on_ticket",
            Self::BayMore => "one_bay_more",
            Self::TruckMore => "one_truck_more",
            Self::TruckLess => "one_truck_less",
            Self::BayLess => "one_bay_less",
            Self::AgeAgreed => "half_an_hour_older_agreed",
            Self::OpenLonger => "open_two_hours_longer",
            Self::ReportEarlier => "report_one_hour_earlier",
            Self::KnowsTheHour => "desk_knows_the_hour",
            Self::KnowsTheDay => "desk_knows_the_day",
            Self::NoLends => "no_lends",
            Self::NoOutages => "no_outages",
            Self::NoNoShows => "no_no_shows",
            Self::NoSiteLate => "no_site_late_ready",
            Self::MoistureProbe => "moisture_probe",
            Self::TruckScale => "truck_scale",
            Self::DriversWord => "drivers_word_heard",
        }
    }

    /// In plain words; fits after "with".
    pub fn words(self) -> &'static str {
        match self {
            Self::NoIncidents => "no incidents on the roads",
            Self::EveryTicketRead => "every ticket read",
            Self::Warning => "a warning on the ticket",
            Self::BayMore => "one more bay at each plant",
            Self::TruckMore => "one more truck at each plant",
            Self::TruckLess => "one truck less at each plant",
            Self::BayLess => "one bay less at each plant",
            Self::AgeAgreed => "half an hour more age agreed",
            Self::OpenLonger => "plants open two more hours",
            Self::ReportEarlier => "everyone in an hour earlier",
            Self::KnowsTheHour => "rush-hour traffic known",
            Self::KnowsTheDay => "the day's traffic known",
            Self::NoLends => "no loaning between plants",
            Self::NoOutages => "no plant outages",
            Self::NoNoShows => "every driver at work",
            Self::NoSiteLate => "every site ready in time",
            Self::MoistureProbe => "moisture probes",
            Self::TruckScale => "a scale at every plant",
            Self::DriversWord => "drivers' objections heeded",
        }
    }

    /// Whether it can be bought, agreed or decided. The others show what a kind of mishap costs.
    pub fn can_be_decided(self) -> bool {
        !matches!(
            self,
            Self::NoIncidents
                | Self::EveryTicketRead
                | Self::NoOutages
                | Self::NoNoShows
                | Self::NoSiteLate
        )
    }

    /// Whether there is less of something with it.
    pub fn takes_away(self) -> bool {
        matches!(self, Self::TruckLess | Self::BayLess)
    }

    /// What has a price in it, by the name that a price is given for, and how often: one at each plant. A minus sign: the price is saved.
    /// None: nothing that could be bought.
    pub fn priced(self, scenario: &Scenario) -> Option<(&'static str, f64)> {
        let plants = scenario.plants.len() as f64;
        let without_scale = scenario.plants.iter().filter(|plant| !plant.truck_scale);
        let with_two = |count: &dyn Fn(usize) -> usize| {
            let plants = (0..scenario.plants.len()).filter(|plant| count(*plant) > 1);
            plants.count() as f64
        };
        let trucks = |plant: usize| {
            let trucks = scenario.trucks.iter();
            trucks.filter(|truck| truck.home.at() == plant).count()
        };
        Some(match self {
            Self::BayMore => ("bay", plants),
            Self::BayLess => (
                "bay",
                -with_two(&|plant| scenario.plants[plant].bays as usize),
            ),
            Self::TruckMore => ("truck", with_two(&|plant| 1 + trucks(plant))),
            Self::TruckLess => ("truck", -with_two(&trucks)),
            Self::TruckScale => ("scale", without_scale.count() as f64),
            Self::MoistureProbe => ("probe", plants),
            Self::Warning => ("warning", 1.0),
            Self::OpenLonger => ("hours", 1.0),
            Self::ReportEarlier => ("earlier", 1.0),
            Self::KnowsTheHour => ("traffic_by_hour", 1.0),
            Self::KnowsTheDay => ("traffic_live", 1.0),
            Self::NoLends => ("no_loans", 1.0),
            Self::AgeAgreed => ("age", 1.0),
            Self::DriversWord => ("objections", 1.0),
            Self::NoIncidents
            | Self::EveryTicketRead
            | Self::NoOutages
            | Self::NoNoShows
            | Self::NoSiteLate => return None,
        })
    }

    /// What of the change's own cost the simulation pays; none: nothing of it.
    pub fn paid(self) -> Option<&'static str> {
        match self {
            Self::TruckMore => {
                Some("the added drivers' hours (the trucks themselves are not counted)")
            }
            Self::OpenLonger => Some("the crews' longer hours"),
            Self::ReportEarlier => Some("the drivers' hours"),
            _ => None,
        }
    }

    /// The scenario with this change, made to the rule at this position where it is a matter of the rule.
    ///
    /// # Errors
    /// Why the change does not apply: there is nothing to change.
    ///
    /// # Panics
    /// If there is no rule at that position.
    pub fn apply(self, scenario: &Scenario, rule: usize) -> Result<Scenario, &'static str> {
        match self {
            Self::NoIncidents => mishaps::no_incidents(scenario),
            Self::EveryTicketRead => mishaps::every_ticket_read(scenario, rule),
            Self::Warning => desk::warning(scenario, rule),
            Self::BayMore => more::bay(scenario),
            Self::TruckMore => more::truck(scenario),
            Self::TruckLess => more::truck_less(scenario),
            Self::BayLess => more::bay_less(scenario),
            Self::AgeAgreed => more::age_agreed(scenario),
            Self::OpenLonger => opening::longer(scenario),
            Self::ReportEarlier => opening::report_earlier(scenario),
            Self::KnowsTheHour => desk::knows_the_hour(scenario, rule),
            Self::KnowsTheDay => desk::knows_the_day(scenario, rule),
            Self::NoLends => desk::no_lends(scenario, rule),
            Self::NoOutages => mishaps::no_outages(scenario),
            Self::NoNoShows => mishaps::no_no_shows(scenario),
            Self::NoSiteLate => mishaps::no_site_late(scenario),
            Self::MoistureProbe => desk::moisture_probe(scenario, rule),
            Self::TruckScale => more::truck_scales(scenario),
            Self::DriversWord => desk::drivers_word(scenario, rule),
        }
    }
}
