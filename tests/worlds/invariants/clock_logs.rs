//! Duty logs of the drivers, made of the events, and held against the definitions of every clock.

use plantday::hours::{Allowance, DutyLog, DutyStatus, Entry, review};
use plantday::plant::Event;
use plantday::scenario::Scenario;
use plantday::units::Millis;

/// The log of one driver in the making.
struct Keeper {
    log: DutyLog,
    status: DutyStatus,
    since: Millis,
}

impl Keeper {
    fn change(&mut self, at: Millis, status: DutyStatus) {
        let (from, was) = (self.since, self.status);
        if at > from && (was != DutyStatus::OffDuty || !self.log.entries.is_empty()) {
            self.log.entries.push(Entry {
                status: was,
                from,
                to: at,
            });
        }
        (self.since, self.status) = (at, status);
    }
}

/// The log of every driver. At each drive: what the world took to be legal is what the
/// definitions give. With `no_luck` nobody drives past a limit.
pub(crate) fn check(scenario: &Scenario, tape: &[(Millis, Event)], no_luck: bool) -> Vec<DutyLog> {
    let mut keepers: Vec<Keeper> = scenario
        .drivers
        .iter()
        .map(|driver| Keeper {
            log: match driver.rule_book.of(&scenario.rule_sets) {
                Some(rules) => driver.history.log(rules),
                None => DutyLog::default(),
            },
            status: DutyStatus::OffDuty,
            since: -driver.history.released_before,
        })
        .collect();
    let rules = |driver: usize| {
        let book = scenario.drivers[driver].rule_book;
        book.of(&scenario.rule_sets)
    };
    for (at, event) in tape {
        match *event {
            Event::Duty { driver, status } => keepers[driver.at()].change(*at, status),
            Event::LongDayAllowed { driver } => {
                let allowance = Allowance {
                    long_day: true,
                    ..Allowance::default()
                };
                keepers[driver.at()].log.allowances.push((*at, allowance));
            }
            Event::Drove {
                driver,
                took,
                limit,
                ..
            } => {
                if no_luck {
                    assert!(*at <= limit.until, "{driver:?} past {:?} at {at}", limit.by);
                }
                let (Some(rules), keeper) = (rules(driver.at()), &mut keepers[driver.at()]) else {
                    continue;
                };
                if keeper.status == DutyStatus::Riding {
                    continue; // somebody else has the wheel
                }
                let began = *at - took;
                keeper.change(began, DutyStatus::Driving);
                let drivable = review::drivable_at(&keeper.log, rules, began);
                assert_eq!(
                    limit, drivable,
                    "{driver:?} drives from {began}\n{:#?}",
                    keeper.log
                );
                keeper.change(*at, DutyStatus::OnDuty);
            }
            _ => {}
        }
    }
    if no_luck {
        for (driver, keeper) in keepers.iter().enumerate() {
            if let Some(rules) = rules(driver) {
                let violations = review::violations_as_known(&keeper.log, rules);
                assert_eq!(violations, [], "driver {driver}");
            }
        }
    }
    keepers.into_iter().map(|keeper| keeper.log).collect()
}
