//! Whether what is foretold comes true: what is shown of it.

use super::{Asked, words};
use crate::report::answer::{Answer, Cell, Column, Form, Part, Table};
use crate::report::chart::reliability::{self, Diagram, Point};
use crate::report::number::{Unit, level, number};
use crate::studies::trip::{Calibration, Reliability};
use serde_json::{Value, json};

/// A sum that is off by more standard deviations than this is said to be off.
const SUSPECT: f64 = 3.0;

/// What the numbers mean.
const NOTES: [&str; 2] = [
    "Moments are put into bins by what the first half of their runs forecast; what is compared is the second half.",
    "Brier score: mean squared difference of what was forecast and what came; of the bins' means it is reliability − resolution \
     + uncertainty (A. H. Murphy 1973, from memory). Reliability near zero: what is forecast comes true as often.",
];

pub(super) fn answer(found: &Calibration, asked: &Asked<'_>) -> Answer {
    let mut answer = words::answer(asked, "calibration", decision(found), &NOTES);
    answer.own.remove("at");
    answer.own_all(json(found));
    answer.add_chart(
        "calibration",
        "What is forecast, and what comes",
        decision(found),
        chart(found, asked),
        "trip",
    );
    answer.show("The numbers", scores(found));
    answer.tables.push(bins(found));
    answer.say(format!(
        "{} moments, one of each simulated period, {} runs each, against the true future of the same forced choice; seed {}.{}",
        found.moments,
        found.trials,
        asked.question.seed,
        if found.stopped {
            " It was interrupted: fewer moments than asked for."
        } else {
            ""
        }
    ));
    answer
}

fn decision(found: &Calibration) -> String {
    let worst = found
        .reliabilities
        .iter()
        .max_by(|a, b| a.z.abs().total_cmp(&b.z.abs()));
    let Some(worst) = worst else {
        return String::new();
    };
    if worst.z.abs() <= SUSPECT {
        format!(
            "What trip forecasts comes true as often as it says, within chance: over {} moments the sum of what came is off by at most {} \
             standard deviations ({}).",
            found.moments,
            number(worst.z.abs(), 1),
            worst.what
        )
    } else {
        format!(
            "What trip forecasts is off: \"{}\" comes true {} often than it says, by {} standard deviations over {} moments.",
            worst.what,
            if worst.z < 0.0 { "less" } else { "more" },
            number(worst.z.abs(), 1),
            found.moments
        )
    }
}

fn foretold(of: &Reliability) -> (f64, f64) {
    let all: f64 = of.bins.iter().map(|bin| bin.of as f64).sum();
    let mean = |value: &dyn Fn(&crate::studies::trip::Bin) -> f64| {
        of.bins
            .iter()
            .map(|bin| bin.of as f64 * value(bin))
            .sum::<f64>()
            / all
    };
    (mean(&|bin| bin.foretold), mean(&|bin| bin.share()))
}

fn scores(found: &Calibration) -> Table {
    let mut table = Table::new(
        "scores",
        vec![
            Column::new("what is forecast").left().key("what"),
            Column::new("forecast").key("foretold"),
            Column::new("came true").key("came"),
            Column::new("off by, sd").key("z"),
            Column::new("Brier score").key("brier"),
            Column::new("reliability").key("reliability"),
            Column::new("resolution").key("resolution"),
            Column::new("uncertainty").key("uncertainty"),
        ],
    );
    for of in &found.reliabilities {
        let (said, came) = foretold(of);
        let score = |value: f64| Cell::number(value, Unit::Plain, 4);
        table.row([
            of.what.into(),
            Cell::number(said, Unit::Share, 1),
            Cell::number(came, Unit::Share, 1),
            Cell::Number {
                value: of.z,
                form: Form::new(Unit::Plain, 1).signed(),
            },
            score(of.brier),
            score(of.reliability),
            score(of.resolution),
            score(of.uncertainty),
        ]);
    }
    table
}

fn chart(found: &Calibration, asked: &Asked<'_>) -> String {
    reliability::svg(&Diagram {
        title: decision(found),
        subtitle: format!(
            "Each dot: moments of which about the same was forecast, its size their number. On the line: it came true as often as forecast. \
             Bars: {} intervals",
            level(asked.question.level)
        ),
        panels: found
            .reliabilities
            .iter()
            .map(|of| {
                let point = |bin: &crate::studies::trip::Bin| Point {
                    foretold: bin.foretold,
                    came: bin.share(),
                    interval: bin.interval,
                    count: bin.of,
                };
                (of.what.to_owned(), of.bins.iter().map(point).collect())
            })
            .collect(),
    })
}

/// `trip.csv`: one line for each bin.
fn bins(found: &Calibration) -> Table {
    let share = Column::file("share")
        .part("share_low", Part::Low)
        .part("share_high", Part::High);
    let columns = ["what", "moments", "foretold", "came"].map(Column::file);
    let columns = columns.into_iter().chain([share]);
    let columns = columns.chain(["sd", "z"].map(Column::file));
    let mut table = Table::new("trip", columns.collect());
    for of in &found.reliabilities {
        for bin in &of.bins {
            table.row([
                of.what.into(),
                (bin.of as f64).into(),
                bin.foretold.into(),
                (bin.came as f64).into(),
                Cell::Estimate {
                    value: Some(bin.share()),
                    interval: bin.interval,
                    at_least: None,
                    form: Form::new(Unit::Share, 0),
                },
                bin.sd.into(),
                bin.z().into(),
            ]);
        }
    }
    table
}

/// ```text
/// head …, "moments", "trials", "foretold": [{"what", "z", "brier", "reliability", "resolution", "uncertainty",
/// "bins": [{"moments", "foretold", "came", "z"}]}]
/// ```
fn json(found: &Calibration) -> Value {
    json!({
        "moments": found.moments,
        "trials": found.trials,
        "stopped": found.stopped,
        "foretold": found.reliabilities.iter().map(|of| json!({
            "what": of.what,
            "z": of.z,
            "brier": of.brier,
            "reliability": of.reliability,
            "resolution": of.resolution,
            "uncertainty": of.uncertainty,
            "bins": of.bins.iter().map(|bin| json!({
                "moments": bin.of,
                "foretold": bin.foretold,
                "came": bin.came,
                "z": bin.z(),
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}
