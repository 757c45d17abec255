//! Whether what is foretold comes true: what is shown of it.

use super::{Asked, words};
use crate::report::answer::{Answer, Cell, Column, Form, Part, Table};
use crate::report::chart::reliability::{self, Diagram, Point};
use crate::report::number::{Unit, level, number};
use crate::studies::trip::{ALL_THREE, Calibration, FORETOLD, Known, PASSED, Reliability, STUCK};
use serde_json::{Value, json};

/// A sum that is off by more standard deviations than this is said to be off.
const SUSPECT: f64 = 3.0;

/// What the numbers mean.
const NOTES: [&str; 5] = [
    "Moments are put into bins by what the first half of their runs forecast; what is compared is the second half.",
    "Brier score: mean squared difference of what was forecast and what came; of the bins' means it is reliability − resolution \
     + uncertainty (A. H. Murphy 1973, from memory). Reliability near zero: what is forecast comes true as often.",
    "Simulated: the runs start from the simulated moment, all that has been revealed of it known. Written: from what a file with how \
     things stand says of the same moment, as with --state; how bad the roads are that day, how slow each site is and what is left \
     of each stage is drawn. What came is the same.",
    "The hours are asked about at moments of their own, at which a driver has little time left for a load or a little too little \
     for the way home: most loads of a day carry no such risk.",
    "What came in a bin of the hours is held against all runs of its moments together: a beta-binomial count (Jeffreys' prior, mid-P), \
     told as the standard deviations of a normal that is as rare.",
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
    answer.say("What came true of how many moments near a limit, by what was forecast of the driver's hours:");
    answer.show("The hours, by what was forecast", hours(found));
    answer.tables.push(bins(found));
    answer.say(format!(
        "{} moments for the load and {} near a limit for the hours, one each of every simulated period, {} runs each, against the true \
         future of the same forced choice; seed {}.{}",
        found.moments,
        found.near_a_limit,
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
    let worst = Known::ALL.into_iter().filter_map(|known| {
        let of_these = found.reliabilities.iter().filter(|of| of.known == known);
        of_these.max_by(|a, b| a.z.abs().total_cmp(&b.z.abs()))
    });
    let worst: Vec<&Reliability> = worst.collect();
    let off = |of: &Reliability| number(of.z.abs(), 1);
    let from = |of: &Reliability| match of.known {
        Known::Simulated => "from simulated moments",
        Known::Written => "from written states",
    };
    if worst.iter().all(|of| of.z.abs() <= SUSPECT) {
        let each = |of: &&Reliability| format!("{} by {} ({})", from(of), off(of), of.what);
        let each: Vec<String> = worst.iter().map(each).collect();
        return format!(
            "What trip forecasts comes true as often as it says, within chance; at most it is off, in standard deviations, {}.",
            each.join(", ")
        );
    }
    let each = |of: &&Reliability| match of.z {
        z if z.abs() <= SUSPECT => format!("{} it comes true as often as it says", from(of)),
        z => format!(
            "{} \"{}\" comes {} often than it says, by {} standard deviations over {} moments",
            from(of),
            of.what,
            if z < 0.0 { "less" } else { "more" },
            off(of),
            of.of
        ),
    };
    let each: Vec<String> = worst.iter().map(each).collect();
    format!("What trip forecasts is off: {}.", each.join("; "))
}

fn said(known: Known) -> &'static str {
    match known {
        Known::Simulated => "simulated",
        Known::Written => "written",
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
            Column::new("from").left().key("state"),
            Column::new("moments").key("moments"),
            Column::new("forecast").key("foretold"),
            Column::new("came true").key("came"),
            Column::new("off by, sd").key("z"),
            Column::new("Brier score").key("brier"),
            Column::new("reliability").key("reliability").page_only(),
            Column::new("resolution").key("resolution").page_only(),
            Column::new("uncertainty").key("uncertainty").page_only(),
        ],
    );
    for what in FORETOLD {
        for of in found.reliabilities.iter().filter(|of| of.what == what) {
            let (forecast, came) = foretold(of);
            let score = |value: f64| Cell::number(value, Unit::Plain, 4);
            let row = table.row([
                of.what.into(),
                said(of.known).into(),
                Cell::count(of.of),
                Cell::number(forecast, Unit::Share, 1),
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
            // What the other three lead to: with it the answer would be longer than a screen.
            row.screen(of.what != ALL_THREE);
        }
    }
    table
}

/// One line for each bin of the hours that holds a moment: how many, and what came, of both figures from both.
fn hours(found: &Calibration) -> Table {
    let columns = [PASSED, STUCK].into_iter().flat_map(|what| {
        let of = move |known| {
            let mut all = found.reliabilities.iter();
            all.find(|of| (of.what, of.known) == (what, known))
        };
        Known::ALL
            .into_iter()
            .filter_map(move |known| of(known).map(|of| (what, of)))
    });
    let columns: Vec<(&str, &Reliability)> = columns.collect();
    let heading =
        |(what, of): &(&str, &Reliability)| Column::new(format!("{what}: {}", said(of.known)));
    let first = Column::new("hours: forecast").left();
    let mut table = Table::new(
        "hours",
        std::iter::once(first)
            .chain(columns.iter().map(heading))
            .collect(),
    );
    let mut ends: Vec<(f64, f64)> = columns
        .iter()
        .flat_map(|(_, of)| of.bins.iter().map(|bin| bin.ends))
        .collect();
    ends.sort_by(|a, b| a.0.total_cmp(&b.0));
    ends.dedup();
    for ends in ends {
        let cell = |(_, of): &(&str, &Reliability)| {
            let bin = of.bins.iter().find(|bin| bin.ends == ends);
            Cell::worded(
                bin.map_or("–".to_owned(), |bin| {
                    format!("{} of {}", bin.came, bin.of)
                }),
                None,
            )
        };
        let share = |end: f64| (1e3 * end).round() / 10.0;
        let named = Cell::worded(format!("{} to {}%", share(ends.0), share(ends.1)), None);
        table.row(std::iter::once(named).chain(columns.iter().map(cell)));
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
                let name = format!("{}, {}", of.what, said(of.known));
                (name, of.bins.iter().map(point).collect())
            })
            .collect(),
    })
}

/// `trip.csv`: one line for each bin.
fn bins(found: &Calibration) -> Table {
    let share = Column::file("share")
        .part("share_low", Part::Low)
        .part("share_high", Part::High);
    let columns = [
        "what", "state", "bin_from", "bin_to", "moments", "foretold", "came",
    ];
    let columns = columns.map(Column::file);
    let columns = columns.into_iter().chain([share]);
    let columns = columns.chain(["sd", "z"].map(Column::file));
    let mut table = Table::new("trip", columns.collect());
    for of in &found.reliabilities {
        for bin in &of.bins {
            table.row([
                of.what.into(),
                said(of.known).into(),
                bin.ends.0.into(),
                bin.ends.1.into(),
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
                bin.z.into(),
            ]);
        }
    }
    table
}

/// ```text
/// head …, "moments", "near_a_limit", "trials", "foretold": [{"what", "state": "simulated" | "written", "moments", "z", "brier",
/// "reliability", "resolution", "uncertainty", "bins": [{"from", "to", "moments", "foretold", "came", "z"}]}]
/// ```
fn json(found: &Calibration) -> Value {
    json!({
        "moments": found.moments,
        "near_a_limit": found.near_a_limit,
        "trials": found.trials,
        "stopped": found.stopped,
        "foretold": found.reliabilities.iter().map(|of| json!({
            "what": of.what,
            "state": said(of.known),
            "moments": of.of,
            "z": of.z,
            "brier": of.brier,
            "reliability": of.reliability,
            "resolution": of.resolution,
            "uncertainty": of.uncertainty,
            "bins": of.bins.iter().map(|bin| json!({
                "from": bin.ends.0,
                "to": bin.ends.1,
                "moments": bin.of,
                "foretold": bin.foretold,
                "came": bin.came,
                "z": bin.z,
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}
