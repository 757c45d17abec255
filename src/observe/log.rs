//! Everything that happens, in words: for a person with a question, and for timetables in tests.

use crate::concrete::ReturnedFate;
use crate::plant::{BrokenDrum, Event, FullDrum, Observer, Reject};
use crate::scenario::Scenario;
use crate::units::measure::{self, Quantity};
use crate::units::{DriverId, Millis, OrderId, PlantId, TruckId, Volume};

/// Keeps one line for each event; refusals and asks only if wanted.
#[derive(Clone, Debug)]
pub struct Log<'s> {
    scenario: &'s Scenario,
    desk: bool,
    /// When, and what.
    pub lines: Vec<(Millis, String)>,
}

impl<'s> Log<'s> {
    /// What happens to trucks, drivers and orders.
    pub fn new(scenario: &'s Scenario) -> Self {
        Self {
            scenario,
            desk: false,
            lines: Vec::new(),
        }
    }

    /// Also what happens at the dispatcher's desk: asks, promises, refusals.
    pub fn with_desk(scenario: &'s Scenario) -> Self {
        Self {
            desk: true,
            ..Self::new(scenario)
        }
    }

    /// The lines as text, one for each event: `07:40 T1 on site W, load 2, 5 min late`.
    pub fn text(&self) -> String {
        self.lines
            .iter()
            .map(|(at, line)| format!("{at} {line}\n"))
            .collect()
    }

    fn driver(&self, id: DriverId) -> &'s str {
        &self.scenario.drivers[id.at()].name
    }

    fn truck(&self, id: TruckId) -> &'s str {
        &self.scenario.trucks[id.at()].name
    }

    fn plant(&self, id: PlantId) -> &'s str {
        &self.scenario.plants[id.at()].name
    }

    fn order(&self, id: OrderId) -> &'s str {
        self.scenario.order_name(id)
    }

    fn words(&self, at: Millis, event: &Event) -> Option<String> {
        // Tenths at most: nobody asks for milliseconds.
        let minutes = |span: Millis| {
            let tenths = span.0.signum() * ((span.0.abs() + 3_000) / 6_000);
            format!("{} min", tenths as f64 / 10.0)
        };
        // From an hour on in hours and whole minutes.
        let length = |span: Millis| {
            let whole = (span.0 + Millis::MINUTE.0 / 2).div_euclid(Millis::MINUTE.0);
            match (whole / 60, whole % 60) {
                (1.., _) => format!("{} h {} min", whole / 60, whole % 60),
                _ => minutes(span),
            }
        };
        Some(match *event {
            Event::Reported { driver, truck } => format!(
                "{} reports, {}",
                self.scenario.drivers[driver.at()].name,
                self.truck(truck)
            ),
            Event::Released { driver, tour, .. } => format!(
                "{} off duty after {}",
                self.scenario.drivers[driver.at()].name,
                length(tour)
            ),
            Event::RestsOut { driver } => {
                format!("{} stays overnight with the truck", self.driver(driver))
            }
            Event::DriverDayLost { driver } => format!(
                "{} is not called: no hours",
                self.scenario.drivers[driver.at()].name
            ),
            Event::NotCalled { driver } => format!(
                "{} is not called: no work",
                self.scenario.drivers[driver.at()].name
            ),
            Event::CalledOff { driver } => format!(
                "{} is called off: no work left",
                self.scenario.drivers[driver.at()].name
            ),
            Event::DayOff { driver, day } => format!(
                "{} is off on day {}",
                self.scenario.drivers[driver.at()].name,
                day + 1
            ),
            Event::NoShow { driver, .. } => {
                format!("{} does not come", self.scenario.drivers[driver.at()].name)
            }
            Event::HelperSent { driver, since, .. } => {
                format!("a helper {} {}", sets_out(at, since), self.driver(driver))
            }
            Event::Cancelled { order, ordered, .. } => {
                let what = if ordered { "cancelled" } else { "not ordered" };
                format!("{} {what}", self.order(order))
            }
            Event::Drawn {
                order,
                volume,
                later,
                ..
            } => {
                let first = self.scenario.orders[order.at()].first + later;
                let time = first - Millis::midnight(first.day());
                format!(
                    "{} is ordered: {} from {time}",
                    self.order(order),
                    much(volume)
                )
            }
            Event::BalanceCalled { order, volume } => {
                format!("{} calls in {} more", self.order(order), much(volume))
            }
            Event::SiteWaits { order } => {
                format!("{} takes no loads for now", self.order(order))
            }
            Event::SiteGoesOn { order } => format!("{} takes loads now", self.order(order)),
            Event::SitePhones { order, by } => format!(
                "{} telephones: not ready, all of it {} later",
                self.order(order),
                minutes(by)
            ),
            Event::Declined { order, .. } => format!("{} refused", self.order(order)),
            Event::Moved { order, by } => {
                format!("{} taken for {} later", self.order(order), minutes(by))
            }
            Event::PlantDown { plant } => format!("{} is down", self.plant(plant)),
            Event::PlantUp { plant } => format!("{} is back up", self.plant(plant)),
            Event::Asked { order } if self.desk => {
                format!("{}: next load needed", self.order(order))
            }
            Event::Refused {
                order,
                truck,
                reason,
                ..
            } if self.desk => {
                format!(
                    "{} refused for {}: {}",
                    self.truck(truck),
                    self.order(order),
                    reason.words()
                )
            }
            Event::Promised {
                order,
                number,
                truck,
                plant,
                volume,
                due,
                ..
            } if self.desk => format!(
                "{} promised to {} load {}, {} from {}, due {due}",
                self.truck(truck),
                self.order(order),
                number + 1,
                much(volume),
                self.plant(plant)
            ),
            // How late it is was said when it came.
            Event::Taken { .. } => return None,
            Event::Asked { .. }
            | Event::Refused { .. }
            | Event::RefusedTogether { .. }
            | Event::Promised { .. } => return None,
            Event::PromiseBroken {
                order,
                truck,
                reason,
            } => {
                format!(
                    "{} cannot take its load of {}: {}",
                    self.truck(truck),
                    self.order(order),
                    reason.words()
                )
            }
            Event::BayJoined { truck, plant } => format!(
                "{} in the queue at {}",
                self.truck(truck),
                self.plant(plant)
            ),
            Event::BayQuit { truck, plant } => format!(
                "{} leaves the queue at {}",
                self.truck(truck),
                self.plant(plant)
            ),
            Event::BayEntered { truck, plant, .. } => {
                format!("{} in the bay at {}", self.truck(truck), self.plant(plant))
            }
            Event::BayLeft { truck, volume, .. } => {
                format!("{} loaded, {}", self.truck(truck), much(volume))
            }
            Event::RackEntered { truck, .. } => format!("{} at the slump rack", self.truck(truck)),
            Event::RackLeft { truck, .. } => format!("{} leaves the slump rack", self.truck(truck)),
            Event::DryUp { truck, .. } => format!("{} too wet, back to the bay", self.truck(truck)),
            Event::Rejected {
                truck, volume, why, ..
            } => {
                let why = match why {
                    Reject::TooWet => "too wet",
                    Reject::TooOld => "too old",
                    Reject::TooManyRevolutions => "turned too often",
                    Reject::TooStiff => "too stiff",
                    Reject::Air => "air out of range",
                    Reject::WrongMix => "the wrong mix",
                };
                format!("{} rejected, {} {why}", self.truck(truck), much(volume))
            }
            Event::BrokeDown {
                truck,
                load,
                driven,
            } => {
                let (truck, driven) = (self.truck(truck), minutes(driven));
                match load {
                    Some((order, number)) => format!(
                        "{truck} breaks down {driven} out with {} load {}",
                        self.order(order),
                        number + 1
                    ),
                    None => format!("{truck} breaks down after {driven} on the road, empty"),
                }
            }
            Event::BreakdownHeard { truck, repair } => format!(
                "{} calls the plant: repair believed to take {} more",
                self.truck(truck),
                length(repair)
            ),
            Event::GivenUp {
                order,
                number,
                truck,
                volume,
            } => format!(
                "{}: {} of {} load {} given up, to be rebatched",
                self.truck(truck),
                much(volume),
                self.order(order),
                number + 1
            ),
            Event::BrokenDrum { truck, how } => {
                let how = match how {
                    BrokenDrum::Stabilized => "drum turns, concrete stabilized, comes back",
                    BrokenDrum::Emptied => "drum does not turn, emptied beside the road",
                    BrokenDrum::Set => "drum does not turn, the load sets, towed home",
                };
                format!("{}: {how}", self.truck(truck))
            }
            Event::Repaired { truck, stood } => {
                format!("{} repaired after {}", self.truck(truck), length(stood))
            }
            Event::TowedHome {
                driver,
                truck,
                until,
            } => format!(
                "{} and {} home by tow, {} out until {until}",
                self.driver(driver),
                self.truck(truck),
                self.truck(truck)
            ),
            Event::TruckOut { driver, truck } => format!(
                "{} is not called: {} is out of service",
                self.driver(driver),
                self.truck(truck)
            ),
            Event::Material { truck, step, .. } => {
                format!("{} {}", self.truck(truck), super::material::words(&step)?)
            }
            Event::Emptied { truck, .. } => format!("{} emptied", self.truck(truck)),
            Event::Returned {
                order,
                truck,
                volume,
                age,
                fate,
            } => {
                let (truck, much, order) = (self.truck(truck), much(volume), self.order(order));
                let old = minutes(age);
                match fate {
                    ReturnedFate::Reused => format!(
                        "{truck}: {much} that came back from {order} stay under the next load, {old} old"
                    ),
                    _ => format!(
                        "{truck} gets rid of {much} that came back from {order}, {old} old: {}",
                        fate.words()
                    ),
                }
            }
            Event::LoadLost {
                order,
                truck,
                volume,
            } => {
                format!(
                    "{} dumps {} of {}: out of hours",
                    self.truck(truck),
                    much(volume),
                    self.order(order)
                )
            }
            Event::Drove {
                truck,
                took,
                held,
                round,
                limit,
                ..
            } => {
                let past = limit.passed_by(at).min(took);
                let round = round.map(|longer| match longer > Millis::ZERO {
                    true => format!(
                        "took a detour around a weigh station: {} more",
                        minutes(longer)
                    ),
                    false => "took a detour around a weigh station".into(),
                });
                let told: Vec<String> = [
                    (held, "was overweight at the scale and held for", ""),
                    (past, "drove", " past the limit"),
                ]
                .iter()
                .filter(|(length, ..)| *length > Millis::ZERO)
                .map(|(length, before, after)| format!("{before} {}{after}", minutes(*length)))
                .chain(round)
                .collect();
                if told.is_empty() {
                    return None;
                }
                format!("{} {}", self.truck(truck), told.join(", "))
            }
            Event::Duty { .. } | Event::LongDayAllowed { .. } | Event::Departed { .. } => {
                return None;
            }
            Event::LongDay { driver, past } if past > Millis::ZERO => format!(
                "{} was not home within the longer window and drove {} past the usual one",
                self.driver(driver),
                minutes(past)
            ),
            Event::LongDay { driver, .. } => {
                format!("{} has used the longer window", self.driver(driver))
            }
            Event::ReportedLate { driver, late } => {
                format!("{} comes {} late", self.driver(driver), minutes(late))
            }
            Event::OwnDriverSent {
                helper,
                driver,
                truck,
                since,
            } => format!(
                "{} {} {} and {}",
                self.driver(helper),
                sets_out(at, since),
                self.driver(driver),
                self.truck(truck)
            ),
            Event::CarDriven { truck, takes } => {
                format!("a car for {}: {}", self.truck(truck), minutes(takes))
            }
            Event::HelperInVain { truck, takes } => format!(
                "{} comes home alone, a helper was out {} in vain",
                self.truck(truck),
                minutes(takes)
            ),
            Event::Foreseen { truck, gained } => {
                format!(
                    "{}: help sent early, {} saved",
                    self.truck(truck),
                    minutes(gained)
                )
            }
            Event::StrandedHome { driver, after } => {
                format!("{} home after {}", self.driver(driver), minutes(after))
            }
            Event::OutOfHoursFull { truck, how } => {
                let how = match how {
                    FullDrum::Relief => "somebody else takes over",
                    FullDrum::Stabilised => "a stabilizer keeps it",
                    FullDrum::Lost => "it sets hard",
                };
                format!("{} out of hours with a full drum: {how}", self.truck(truck))
            }
            Event::SiteReached {
                order,
                number,
                truck,
                lateness,
                ..
            } => {
                let late = lateness.map(|lateness| format!(", {} late", minutes(lateness.late())));
                format!(
                    "{} on site, {} load {}{}",
                    self.truck(truck),
                    self.order(order),
                    number + 1,
                    late.unwrap_or_default()
                )
            }
            Event::Redirected { order, truck, .. } => {
                format!(
                    "{} sent on: {} is not ready",
                    self.truck(truck),
                    self.order(order)
                )
            }
            Event::PlaceTaken { truck, .. } => format!("{} pulls up to unload", self.truck(truck)),
            Event::DischargeBegun { truck, .. } => format!("{} unloads", self.truck(truck)),
            Event::DischargeEnded {
                truck,
                returned,
                complete,
                ..
            } => {
                let back = if returned > Volume::ZERO {
                    format!(" but for {} that go back", much(returned))
                } else {
                    String::new()
                };
                format!(
                    "{} done unloading{back}{}",
                    self.truck(truck),
                    if complete { ", order complete" } else { "" }
                )
            }
            Event::SiteLeft { truck, .. } => format!("{} leaves the site", self.truck(truck)),
            Event::WashedOut { truck, .. } => format!("{} washed out", self.truck(truck)),
            Event::Stranded { driver, place, .. } => {
                format!(
                    "{} stranded at {}",
                    self.scenario.drivers[driver.at()].name,
                    self.scenario.place_name(place)
                )
            }
            Event::Undelivered {
                order,
                volume,
                late,
                ..
            } => {
                format!(
                    "{} of {} not delivered, {} late",
                    much(volume),
                    self.order(order),
                    minutes(late)
                )
            }
            Event::LeftOver { order, volume } => {
                format!("{} of {} never sent", much(volume), self.order(order))
            }
            Event::KeptOpen { plant, time } => {
                format!("{} is kept open for {}", self.plant(plant), minutes(time))
            }
            Event::CrewStayed { plant, time } => {
                format!("crew of {} stayed {}", self.plant(plant), minutes(time))
            }
        })
    }
}

impl Observer for Log<'_> {
    fn event(&mut self, at: Millis, event: &Event) {
        if let Some(line) = self.words(at, event) {
            self.lines.push((at, line));
        }
    }
}

/// Somebody sets out for a stranded driver, or has before.
fn sets_out(at: Millis, since: Millis) -> String {
    if since < at {
        format!("is on the way since {since} for")
    } else {
        "sets out for".into()
    }
}

/// A volume in words.
fn much(volume: Volume) -> String {
    measure::plainly(Quantity::Volume, volume.yd3(), 2)
}
