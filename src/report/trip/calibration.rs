//! Whether what is foretold comes true: what is shown of it.

use super::shown::{Asked, Shown};
use super::words;
use crate::report::chart::reliability::{self, Diagram, Point};
use crate::report::csv_text::{Cell, Table};
use crate::report::number::{Unit, number};
use crate::studies::trip::{Calibration, Reliability};
use serde_json::{Value, json};

/// A sum that is off by more standard deviations than this is said to be off.
const SUSPECT: f64 = 3.0;

pub(super) fn shown(found: &Calibration, asked: &Asked<'_>) -> Shown {
    let decision = decision(found);
    Shown {
        sentences: vec![format!(
            "{} moments, one of each simulated period, {} trials each, against the true future of the same forced choice; seed {}.{}",
            found.moments,
            found.trials,
            asked.question.seed,
            if found.stopped {
                " It was interrupted: fewer moments than asked for."
            } else {
                ""
            }
        )],
        headings: vec![
            "what is foretold",
            "foretold",
            "came true",
            "off by, sd",
            "Brier score",
            "reliability",
            "resolution",
            "uncertainty",
        ],
        rows: found.reliabilities.iter().map(row).collect(),
        notes: vec![
            "Moments are put into bins by what the first half of their trials foretold; what is compared is the second half.".into(),
            "Brier score: mean squared difference of what was foretold and what came; of the bins' means it is reliability − resolution \
             + uncertainty (A. H. Murphy 1973, from memory). Reliability near zero: what is foretold comes true as often."
                .into(),
        ],
        charts: vec![(
            "calibration",
            "What is foretold, and what comes",
            chart(found, asked),
        )],
        csv: csv(found),
        json: json(found, asked, &decision),
        decision,
    }
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
            "What trip foretells comes true as often as it says, within chance: of {} moments the sum of what came is off by at most {} \
             standard deviations ({}).",
            found.moments,
            number(worst.z.abs(), 1),
            worst.what
        )
    } else {
        format!(
            "What trip foretells is off: \"{}\" comes true {} often than it says, by {} standard deviations over {} moments.",
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

fn row(of: &Reliability) -> Vec<String> {
    let (said, came) = foretold(of);
    vec![
        of.what.to_owned(),
        Unit::Share.show(said, 1),
        Unit::Share.show(came, 1),
        Unit::Plain.show_difference(of.z, 1),
        number(of.brier, 4),
        number(of.reliability, 4),
        number(of.resolution, 4),
        number(of.uncertainty, 4),
    ]
}

fn chart(found: &Calibration, asked: &Asked<'_>) -> String {
    reliability::svg(&Diagram {
        title: decision(found),
        subtitle: format!(
            "Each dot: moments of which about the same was foretold, its size their number. On the line: it came true as often as foretold. \
             Bars: {:.0} % intervals",
            asked.question.level * 100.0
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

fn csv(found: &Calibration) -> Vec<u8> {
    let mut table = Table::new(&[
        "what",
        "moments",
        "foretold",
        "came",
        "share",
        "share_low",
        "share_high",
        "sd",
        "z",
    ]);
    for of in &found.reliabilities {
        for bin in &of.bins {
            table.row([
                Cell::Text(of.what),
                (bin.of as f64).into(),
                bin.foretold.into(),
                (bin.came as f64).into(),
                bin.share().into(),
                bin.interval.low.into(),
                bin.interval.high.into(),
                bin.sd.into(),
                bin.z().into(),
            ]);
        }
    }
    table.finish()
}

/// ```text
/// head …, "moments", "trials", "foretold": [{"what", "z", "brier", "reliability", "resolution", "uncertainty",
/// "bins": [{"moments", "foretold", "came", "z"}]}]
/// ```
fn json(found: &Calibration, asked: &Asked<'_>, decision: &str) -> Value {
    let mut map = words::head_json(asked, "calibration", decision);
    map.remove("at");
    let more = json!({
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
    });
    if let Value::Object(more) = more {
        map.extend(more);
    }
    Value::Object(map)
}
