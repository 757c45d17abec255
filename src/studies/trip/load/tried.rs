//! One choice for a load, played on until those concerned are home.

use crate::montecarlo::{self, Trial, Watch};
use crate::observe::{Figures, TripWatch};
use crate::studies::trip::TripQuestion;
use crate::studies::trip::base::{Base, Forks, cost};
use crate::studies::trip::fate::{self, Fate, column};
use crate::units::{DriverId, Millis, OrderId, PlantId};
use std::ops::Range;

/// A driver who is out longer than this after the hour of account is not waited for.
const LONGEST_WAIT: Millis = Millis(30 * Millis::HOUR.0);

/// A choice that is tried.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::studies::trip) enum Case {
    Take(DriverId, PlantId),
    Leave(DriverId),
}

impl Case {
    pub(super) fn driver(self) -> DriverId {
        match self {
            Self::Take(driver, _) | Self::Leave(driver) => driver,
        }
    }
}

pub(super) struct LoadTrial<'b, 'p> {
    pub(super) base: &'b Base<'p>,
    pub(super) order: OrderId,
    pub(super) number: u32,
    pub(super) cases: Vec<Case>,
}

pub(super) struct Bench<'p> {
    forks: Forks<'p>,
    figures: Figures<'p>,
    watch: TripWatch,
}

impl<'b, 'p> Trial for LoadTrial<'b, 'p> {
    type Worker = Bench<'p>;

    fn worker(&self) -> Bench<'p> {
        Bench {
            forks: Forks::new(self.base.plan),
            figures: self.base.figures.clone(),
            watch: TripWatch::new(self.base.plan),
        }
    }

    fn cases(&self) -> usize {
        self.cases.len()
    }

    fn width(&self) -> usize {
        column::COUNT
    }

    fn run(&self, bench: &mut Bench<'p>, case: usize, trial: u64, row: &mut [f32]) {
        let Bench {
            forks,
            figures,
            watch,
        } = bench;
        let base = self.base;
        let world = forks.with(base, base.luck(0, trial));
        figures.clone_from(&base.figures);
        let driver = self.cases[case].driver();
        watch.begin((self.order, self.number), driver, base.moment.wheel());
        if let Case::Take(_, plant) = self.cases[case] {
            watch.only_at(plant);
        }
        let mut observer = (&mut *figures, &mut *watch);
        match self.cases[case] {
            Case::Take(driver, plant) => world.force_take(driver, self.order, plant, &mut observer),
            Case::Leave(driver) => world.force_leave(driver, self.order),
        }
        let account = base.account();
        world.go_on_to(account, &mut observer);
        let paid = cost(figures) - base.paid();
        let mut until = account;
        while !watch.is_home() && until < account + LONGEST_WAIT {
            until += Millis::HOUR;
            world.go_on_to(until, watch);
        }
        fate::write(watch.seen(), base.plan.age_limit(self.order), row);
        row[column::COST] = paid.units() as f32;
    }
}

/// What becomes of the load in each case.
pub(in crate::studies::trip) fn run(
    base: &Base<'_>,
    (order, number): (OrderId, u32),
    cases: &[Case],
    trials: Range<u64>,
    question: &TripQuestion,
    watch: Watch<'_>,
) -> Vec<Fate> {
    let trial = LoadTrial {
        base,
        order,
        number,
        cases: cases.to_vec(),
    };
    let rows = montecarlo::run(&trial, trials, question.threads, watch);
    (0..cases.len())
        .map(|case| Fate::of(&rows, case, question.level))
        .collect()
}
