//! What was found of a leg: usual lengths, the spread of the luck on them, how sure each number is, and how far the tickets lie from it.
//!
//! How sure: the same number of tickets is drawn again from what was found and fitted again, many times (parametric bootstrap; Efron and
//! Tibshirani, "An Introduction to the Bootstrap", chapter 6). It gives the standard error of every number, and how often tickets that do
//! come from the fitted spread lie as far from their fit as those that were seen (Stute, Manteiga and Quindimil, Metrika 40, 1993).

use super::hours::{Hours, hours};
use super::legs::{Leg, LegPart};
use super::model::{Observation, Shape, Usual};
use super::rounded::put_back;
use crate::engine::{Entity, Family, Luck, Spread, anderson_darling, fit_of, fits, largest_gap};
use crate::statistics::{Interval, Summary, normal_quantile};
use crate::units::{Millis, Purpose};
use rayon::iter::{IntoParallelIterator, ParallelIterator};

/// How many times tickets are drawn again.
const BOOTSTRAP: u64 = 199;
/// Of more tickets so many are drawn again, and the errors reckoned down to all.
const DRAWN: usize = 2_000;
/// Luck within this of its mean, in parts of it, is none: times are written to the millisecond.
const NO_LUCK: f64 = 2e-3;

/// In what a number is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Minutes.
    Minutes,
    /// Minutes for each yd³.
    MinutesPerYard,
    /// yd³ a minute.
    YardsPerMinute,
    /// A factor, or a parameter without unit.
    Plain,
}

/// Whose a number is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// Fixed minutes.
    Fixed,
    /// Minutes for each yd³.
    PerYard,
    /// The rate of a group: site, and order where it has its own.
    Rate(Vec<String>),
    /// Minutes of the empty road from place to place.
    Way(String, String),
    /// The factor from this time of the day on.
    Hour(Millis),
    /// A parameter of the spread.
    Spread(&'static str),
}

/// A number that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Parameter {
    /// Whose.
    pub part: Part,
    /// Its unit.
    pub unit: Unit,
    /// The number.
    pub value: f64,
    /// Its standard error; none: it could not be told.
    pub error: Option<f64>,
    /// How many tickets tell it.
    pub n: usize,
}

impl Parameter {
    /// Its interval; unbounded without a standard error.
    pub fn interval(&self, level: f64) -> Interval {
        let reach = normal_quantile(0.5 + level / 2.0);
        let half = self.error.map_or(f64::INFINITY, |error| reach * error);
        Interval::around(self.value, half)
    }
}

/// The next best family.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// Which.
    pub family: Family,
    /// How much larger its criterion is.
    pub behind: f64,
}

/// What was found of a leg.
#[derive(Clone, Debug)]
pub struct Found {
    /// What its minutes depend on.
    pub shape: Shape,
    /// The spread: of minutes where they depend on nothing, else of luck with mean 1.
    pub spread: Spread,
    /// Its family; none: it does not vary.
    pub family: Option<Family>,
    /// The next best.
    pub nearest: Option<Nearest>,
    /// Every number.
    pub parameters: Vec<Parameter>,
    /// The largest gap between the tickets' share up to any value and the spread's.
    pub gap: f64,
    /// The distance of Anderson and Darling.
    pub distance: f64,
    /// How often tickets that come from the spread lie as far from it.
    pub as_far: f64,
    /// ln of the likelihood of the luck under its spread.
    pub ln_likelihood: f64,
    /// Of travel: whether hours have factors.
    pub hours: Option<Hours>,
    /// What the spread was fitted to, ascending.
    pub seen: Vec<f64>,
}

/// Finds it; none if no family can have such values.
pub(super) fn find(leg: Leg, part: &LegPart, seed: u64) -> Option<Found> {
    let (shape, groups) = (part.shape, part.groups.len());
    let before;
    let part = if part.whole_minutes {
        let usual = Usual::of(shape, &part.told, groups, &[]);
        before = LegPart {
            told: put_back(leg, &part.told, &usual, seed),
            ..part.clone()
        };
        &before
    } else {
        part
    };
    let (pieces, hours) = hours(part);
    let usual = Usual::of(shape, &part.told, groups, &pieces);
    let raw = sorted(part.told.iter().map(|told| usual.luck(told)));
    let mean = raw.iter().sum::<f64>() / raw.len() as f64;
    let constant = raw[raw.len() - 1] - raw[0] <= NO_LUCK * mean;
    if constant || mean <= 0.0 {
        let spread = Spread::Constant(if shape == Shape::Plain { mean } else { 1.0 });
        let parameters = parameters(part, &usual, &spread, &|_| Some(0.0));
        return Some(Found {
            shape,
            spread,
            family: None,
            nearest: None,
            parameters,
            gap: 0.0,
            distance: 0.0,
            as_far: 1.0,
            ln_likelihood: 0.0,
            hours,
            seen: raw,
        });
    }
    let all = fits(&raw);
    let best = all.first()?;
    // The mean of the luck is 1: what it is more goes into the usual lengths.
    let level = if shape == Shape::Plain {
        1.0
    } else {
        best.spread.mean()
    };
    let spread = best.spread.times(1.0 / level);
    let usual = usual.times(level);
    let seen: Vec<f64> = raw.iter().map(|luck| luck / level).collect();
    let distance = anderson_darling(&spread, &seen);
    let again = Again {
        part,
        usual: &usual,
        spread: &spread,
        family: best.family,
        pieces: &pieces,
    };
    let drawn = again.all(leg, seed);
    let as_far = drawn.iter().filter(|one| one.distance >= distance).count();
    // Errors fall with the root of the number.
    let fewer = (again.drawn() as f64 / part.told.len() as f64).sqrt();
    let error = |place: usize| {
        let values = drawn.iter().map(|one| one.numbers[place]);
        let of = Summary::of(values);
        let some = of.n() > BOOTSTRAP / 2;
        of.sd().filter(|_| some).map(|sd| sd * fewer)
    };
    Some(Found {
        shape,
        parameters: parameters(part, &usual, &spread, &error),
        spread: spread.clone(),
        family: Some(best.family),
        nearest: all.get(1).map(|next| Nearest {
            family: next.family,
            behind: next.criterion - best.criterion,
        }),
        gap: largest_gap(&spread, &seen),
        distance,
        as_far: (as_far + 1) as f64 / (drawn.len() + 1) as f64,
        ln_likelihood: best.ln_likelihood + seen.len() as f64 * libm::log(level),
        hours,
        seen,
    })
}

fn sorted(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values
}

/// The numbers of a spread by the names that a scenario gives them. That the mean of luck is 1 is not found.
fn of_spread(shape: Shape, spread: &Spread) -> Vec<(&'static str, f64)> {
    let mut numbers = numbers_of(spread);
    numbers.retain(|(name, _)| shape == Shape::Plain || *name != "mean");
    numbers
}

fn numbers_of(spread: &Spread) -> Vec<(&'static str, f64)> {
    match *spread {
        Spread::Constant(value) => vec![("value", value)],
        Spread::Uniform { low, high } => vec![("low", low), ("high", high)],
        Spread::Triangular { low, mode, high } => {
            vec![("low", low), ("mode", mode), ("high", high)]
        }
        Spread::Normal { mean, sd } => vec![("mean", mean), ("sd", sd)],
        Spread::Lognormal { mean, cv } | Spread::Gamma { mean, cv } => {
            vec![("mean", mean), ("cv", cv)]
        }
        Spread::Exponential { mean } => vec![("mean", mean)],
        Spread::Weibull { mean, shape } => vec![("mean", mean), ("shape", shape)],
        _ => Vec::new(),
    }
}

/// All numbers in one row, as they are told.
fn numbers(shape: Shape, usual: &Usual, spread: &Spread) -> Vec<f64> {
    let values = usual.values.iter().map(|value| match shape {
        Shape::Rate => 1.0 / value,
        _ => *value,
    });
    let factors = usual.factors.iter().map(|(_, factor)| *factor);
    let spread = of_spread(shape, spread).into_iter().map(|(_, value)| value);
    values.chain(factors).chain(spread).collect()
}

fn parameters(
    part: &LegPart,
    usual: &Usual,
    spread: &Spread,
    error: &dyn Fn(usize) -> Option<f64>,
) -> Vec<Parameter> {
    let shape = part.shape;
    let of_group = |group: usize| part.told.iter().filter(|told| told.group == group).count();
    let whose = (0..usual.values.len()).map(|at| match shape {
        Shape::PerYard if at == 0 => (Part::Fixed, Unit::Minutes, part.told.len()),
        Shape::PerYard | Shape::Plain => (Part::PerYard, Unit::MinutesPerYard, part.told.len()),
        Shape::Rate => {
            let name = part.groups[at].clone();
            (Part::Rate(name), Unit::YardsPerMinute, of_group(at))
        }
        Shape::Travel => {
            let way = &part.groups[at];
            let way = Part::Way(way[0].clone(), way[1].clone());
            (way, Unit::Minutes, of_group(at))
        }
    });
    let hours = usual.factors.iter().enumerate().map(|(at, (from, _))| {
        let until = usual.factors.get(at + 1).map_or(Millis::DAY, |next| next.0);
        let within = part.told.iter().filter(|told| {
            let since = Millis(told.depart.0.rem_euclid(Millis::DAY.0));
            (*from..until).contains(&since)
        });
        (Part::Hour(*from), Unit::Plain, within.count())
    });
    let plain = if shape == Shape::Plain {
        Unit::Minutes
    } else {
        Unit::Plain
    };
    let spreads = of_spread(shape, spread).into_iter().map(|(name, _)| {
        let unit = match name {
            "cv" | "shape" => Unit::Plain,
            _ => plain,
        };
        (Part::Spread(name), unit, part.told.len())
    });
    let all: Vec<_> = whose.chain(hours).chain(spreads).collect();
    let values = numbers(shape, usual, spread);
    let each = all.into_iter().zip(values).enumerate();
    each.map(|(place, ((part, unit, n), value))| Parameter {
        part,
        unit,
        value,
        error: error(place),
        n,
    })
    .collect()
}

/// Tickets drawn again from what was found.
struct Again<'a> {
    part: &'a LegPart,
    usual: &'a Usual,
    spread: &'a Spread,
    family: Family,
    pieces: &'a [Millis],
}

/// What comes of tickets drawn again.
struct Drawn {
    numbers: Vec<f64>,
    distance: f64,
}

impl Again<'_> {
    /// How many tickets are drawn again.
    fn drawn(&self) -> usize {
        self.part.told.len().min(DRAWN)
    }

    fn all(&self, leg: Leg, seed: u64) -> Vec<Drawn> {
        let sampler = self.spread.sampler();
        let name = format!("{leg:?} {:?}", self.part.plant);
        let entity = Entity::named(&name);
        let one = |nth: u64| {
            let luck = Luck::new(seed, nth);
            let all = &self.part.told;
            let told: Vec<Observation> = (0..self.drawn())
                .map(|i| {
                    let block = luck.block(Purpose::TicketsAgain, entity, i as u32, 0);
                    // Which of many is left to chance as well: any order of theirs may mean something.
                    let one = match all.len() > DRAWN {
                        true => &all[(block.uniform(1) * all.len() as f64) as usize],
                        false => &all[i],
                    };
                    let minutes = self.usual.minutes(one, sampler.at(block.uniform(0)));
                    Observation { minutes, ..*one }
                })
                .collect();
            self.found(&told)
        };
        let all: Vec<Option<Drawn>> = (0..BOOTSTRAP).into_par_iter().map(one).collect();
        all.into_iter().flatten().collect()
    }

    fn found(&self, told: &[Observation]) -> Option<Drawn> {
        let shape = self.part.shape;
        let usual = Usual::of(shape, told, self.part.groups.len(), self.pieces);
        let raw = sorted(told.iter().map(|one| usual.luck(one)));
        let fit = fit_of(self.family, &raw)?;
        let level = if shape == Shape::Plain {
            1.0
        } else {
            fit.spread.mean()
        };
        let spread = fit.spread.times(1.0 / level);
        let seen: Vec<f64> = raw.iter().map(|luck| luck / level).collect();
        let mut numbers = numbers(shape, &usual.times(level), &spread);
        // A group none of whose tickets was drawn again tells nothing.
        if matches!(shape, Shape::Rate | Shape::Travel) {
            for (group, number) in numbers.iter_mut().take(self.part.groups.len()).enumerate() {
                if told.iter().all(|one| one.group != group) {
                    *number = f64::NAN;
                }
            }
        }
        Some(Drawn {
            numbers,
            distance: anderson_darling(&spread, &seen),
        })
    }
}
