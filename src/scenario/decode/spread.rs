//! How a quantity spreads: `5`, `Uniform(2, 5)`, `Lognormal(mean: 6, cv: 0.3)`, and what else [`model`](crate::scenario) lists.

use super::super::outline::Takes;
use super::super::problem::{Problem, Problems};
use super::super::tree::{ASKED, Kind, Node};
use super::{Contents, Limits, list, number, variant};
use crate::engine::Spread;

/// A spread of minutes.
pub fn minutes(node: &Node, problems: &Problems) -> Option<Spread> {
    spread::<10_000>(node, "spread of minutes", &MINUTES, problems)
}

/// A spread of a factor, usually of mean 1.
pub fn factors(node: &Node, problems: &Problems) -> Option<Spread> {
    spread::<100>(node, "spread of a factor", &FACTORS, problems)
}

/// A spread of a share of one.
pub fn shares(node: &Node, problems: &Problems) -> Option<Spread> {
    spread::<1>(node, "spread of a share", &SHARES, problems)
}

/// A spread of yd³.
pub fn volumes(node: &Node, problems: &Problems) -> Option<Spread> {
    spread::<20_000>(node, "spread of yd³", &VOLUMES, problems)
}

/// A spread of yd³ out of a load.
pub fn parts_of_loads(node: &Node, problems: &Problems) -> Option<Spread> {
    spread::<99>(node, "spread of yd³", &PARTS, problems)
}

/// The spreads by name, for a spread of minutes.
pub fn kinds() -> Takes {
    let problems = Problems::new();
    let outline = problems.outline();
    let kinds = outline.of(|| {
        variant("spread", &MINUTES)(&ASKED, &problems);
    });
    kinds.settled()
}

type Table = [(&'static str, fn(Contents<'_>) -> Option<Spread>); 11];

static MINUTES: Table = table::<10_000>();
static VOLUMES: Table = table::<20_000>();
static PARTS: Table = table::<99>();
static FACTORS: Table = table::<100>();
static SHARES: Table = table::<1>();

/// The spreads with their parameters in order; values lie between 0 and `HIGH`.
const fn table<const HIGH: u32>() -> Table {
    [
        ("Constant", |contents| {
            Some(Spread::Constant(
                read(&contents, ["value"], [value::<HIGH>()])?[0],
            ))
        }),
        ("Uniform", |contents| {
            let [low, high] = read(&contents, ["low", "high"], [value::<HIGH>(); 2])?;
            Some(Spread::Uniform { low, high })
        }),
        ("Triangular", |contents| {
            let [low, mode, high] = read(&contents, ["low", "mode", "high"], [value::<HIGH>(); 3])?;
            Some(Spread::Triangular { low, mode, high })
        }),
        ("Normal", |contents| {
            let [mean, sd] = read(&contents, ["mean", "sd"], [value::<HIGH>(); 2])?;
            Some(Spread::Normal { mean, sd })
        }),
        ("Lognormal", |contents| {
            let [mean, cv] = read(&contents, ["mean", "cv"], [value::<HIGH>(), CV])?;
            Some(Spread::Lognormal { mean, cv })
        }),
        ("Gamma", |contents| {
            let [mean, cv] = read(&contents, ["mean", "cv"], [value::<HIGH>(), CV])?;
            Some(Spread::Gamma { mean, cv })
        }),
        ("Exponential", |contents| {
            let [mean] = read(&contents, ["mean"], [value::<HIGH>()])?;
            Some(Spread::Exponential { mean })
        }),
        ("Pert", |contents| {
            let [low, mode, high] = read(&contents, ["low", "mode", "high"], [value::<HIGH>(); 3])?;
            Some(Spread::Pert { low, mode, high })
        }),
        ("Beta", |contents| {
            let [low, high, alpha, beta] = read(
                &contents,
                ["low", "high", "alpha", "beta"],
                [value::<HIGH>(), value::<HIGH>(), BETA_SHAPE, BETA_SHAPE],
            )?;
            Some(Spread::Beta {
                low,
                high,
                alpha,
                beta,
            })
        }),
        ("Weibull", |contents| {
            let [mean, shape] = read(
                &contents,
                ["mean", "shape"],
                [value::<HIGH>(), WEIBULL_SHAPE],
            )?;
            Some(Spread::Weibull { mean, shape })
        }),
        ("Empirical", |contents| {
            let values = list(1..=100_000, "number", number(value::<HIGH>()))(
                contents.only()?,
                contents.problems(),
            )?;
            Some(Spread::Empirical(values))
        }),
    ]
}

const fn value<const HIGH: u32>() -> Limits {
    Limits::between(
        match HIGH {
            1 => "share",
            100 => "factor",
            99 | 20_000 => "yd³",
            _ => "minutes",
        },
        0.0,
        HIGH as f64,
    )
}

const BETA_SHAPE: Limits = Limits::between("shape", 0.1, 1000.0);
const WEIBULL_SHAPE: Limits = Limits::between("shape", 0.3, 100.0);
const CV: Limits = Limits::between("coefficient of variation", 0.0, 10.0);

fn read<const N: usize>(
    contents: &Contents<'_>,
    names: [&'static str; N],
    limits: [Limits; N],
) -> Option<[f64; N]> {
    let mut fields = contents.fields(&names)?;
    let mut values = [None; N];
    for ((value, name), limits) in values.iter_mut().zip(names).zip(limits) {
        *value = fields.required(name, number(limits));
    }
    fields.finish();
    let mut read = [0.0; N];
    for (read, value) in read.iter_mut().zip(values) {
        *read = value?;
    }
    Some(read)
}

fn spread<const HIGH: u32>(
    node: &Node,
    what: &'static str,
    table: &'static Table,
    problems: &Problems,
) -> Option<Spread> {
    if node.is_asked() {
        let range = value::<HIGH>();
        problems.outline().value(format_args!("spread: {range}"));
        return None;
    }
    let spread = match node.kind {
        Kind::Number { .. } | Kind::Cell { .. } => {
            Spread::Constant(number(value::<HIGH>())(node, problems)?)
        }
        _ => variant(what, table)(node, problems)?,
    };
    match spread.problem() {
        None => Some(spread),
        Some(what) => problems.add(
            Problem::new(node.span.clone(), what).label("expected a spread that can be drawn from"),
        ),
    }
}
