//! Every driver who was tried, in numbers.

use super::plant;
use crate::report::answer::{Cell, Column, Part, Row, Table};
use crate::report::trip::{Asked, words};
use crate::studies::trip::{Candidate, LoadAnswer, Spanning};

/// `trip.csv`: one line for each driver who was tried.
pub(super) fn table(answer: &LoadAnswer, asked: &Asked<'_>) -> Table {
    let share = |heading: &str, brief: &str, key: &str| {
        let column = Column::new(heading).brief(brief);
        column.without_interval().with_ends(key)
    };
    let columns = vec![
        Column::new("driver, plant").left(),
        Column::file("driver"),
        Column::file("plant"),
        Column::file("asked"),
        Column::file("final"),
        Column::file("trials"),
        Column::new("all OK"),
        Column::file("all")
            .part("all_low", Part::Low)
            .part("all_high", Part::High)
            .part("all_at_least", Part::AtLeast),
        share("on time", "on time", "in_time"),
        share("fresh enough", "fresh", "within_age"),
        share("legal", "legal", "back"),
        Column::file("stranded"),
        Column::file("loading_min"),
        Column::new("on site")
            .key("on_site_min")
            .part("on_site_min_p05", Part::Low)
            .part("on_site_min_p95", Part::High),
        Column::file("late_min"),
        Column::file("age_min"),
        Column::new("least hours left")
            .brief("hours left")
            .key("clock_left_min")
            .part("clock_left_min_p05", Part::Low)
            .part("clock_left_min_p95", Part::High),
        Column::file("back_min"),
        Column::file("home_min"),
        Column::file("cost"),
        Column::new("extra cost")
            .brief("costs")
            .without_interval()
            .with_ends("cost_more"),
        Column::file("refused"),
    ];
    let mut table = Table::new("trip", columns);
    for candidate in candidates(answer) {
        let is_asked = std::ptr::eq(candidate, &answer.asked);
        row(&mut table, candidate, answer, asked).marked(is_asked);
    }
    table
}

fn row<'a>(
    table: &'a mut Table,
    candidate: &Candidate,
    answer: &LoadAnswer,
    asked: &Asked<'_>,
) -> &'a mut Row {
    let fate = &candidate.fate;
    let (driver, plant) = (
        words::driver(asked, candidate.driver),
        plant(candidate, asked),
    );
    let is_asked = candidate.driver == answer.asked.driver;
    let mark = match is_asked && candidate.plant == answer.asked.plant {
        true => "→ ",
        false => "",
    };
    let after = match candidate.is_final {
        true => "",
        false => " (search only)",
    };
    let refused = fate.refused.first();
    let mostly = refused.filter(|(_, times)| 2 * times > fate.trials);
    let middle = |span: Option<Spanning>| Cell::from(span.map(|span| span.middle));
    let left =
        |span: Spanning| format!("{} ({})", words::h_min(span.middle), words::h_min(span.low));
    table.row([
        format!("{mark}{driver}, {plant}{after}").into(),
        driver.into(),
        plant.into(),
        Cell::yes(is_asked),
        Cell::yes(candidate.is_final),
        (fate.trials as f64).into(),
        match mostly {
            Some((why, _)) => format!("no: {}", why.words()).into(),
            None => Cell::chance(&fate.all, 0),
        },
        Cell::chance(&fate.all, 0),
        Cell::chance(&fate.in_time, 0),
        Cell::chance(&fate.within_age, 0),
        Cell::chance(&fate.back, 0),
        Cell::chance(&fate.stranded, 0),
        middle(fate.loading),
        words::time(asked, fate.on_site),
        middle(fate.late),
        middle(fate.age),
        words::spanning(fate.margin, left),
        middle(fate.back_at),
        middle(fate.home),
        match mostly {
            Some(_) => Cell::Blank,
            None => fate.cost.mean.into(),
        },
        match mostly {
            // What a load that does not go would cost is no price of sending it.
            Some(_) => Cell::Blank,
            None => words::more_cost(&candidate.cost_more),
        },
        refused.map_or(Cell::Blank, |(why, _)| why.words().into_owned().into()),
    ])
}

fn candidates(answer: &LoadAnswer) -> impl Iterator<Item = &Candidate> {
    std::iter::once(&answer.asked)
        .chain(&answer.others)
        .chain(&answer.first)
}
