//! The seasons of a year, as an option (`12x0.7,26x1,14x1.15`) or a table (weeks, orders_per_cent, name) gives them.

use super::csv_table::{self, Row};
use super::edit::Input;
use super::problem::{Faults, Problem, Problems, visible};
use super::read::{ReadError, read_text};
use super::tree::Span;
use std::path::Path;

/// Weeks in which the book has so many of its orders.
#[derive(Clone, Debug, PartialEq)]
pub struct Season {
    /// What it is called.
    pub name: Option<String>,
    /// How many weeks of the year, above 0.
    pub weeks: f64,
    /// How many times the orders of the book, 0.1 to 2.
    pub orders: f64,
}

impl Season {
    /// As the option has it: `12x0.7`.
    pub fn written(&self) -> String {
        format!("{}x{}", self.weeks, self.orders)
    }
}

/// Weeks of a year for which people are hired and paid.
pub const YEAR_WEEKS: f64 = 52.0;

/// Some years have a 53rd payday.
const MOST_WEEKS: f64 = 53.0;

/// One for each four weeks.
const MOST_SEASONS: usize = 13;

const COLUMNS: [&str; 3] = ["weeks", "orders_per_cent", "name"];

/// Reads the option: a list of weeks and shares, or the name of a CSV file.
///
/// # Errors
/// If the file cannot be read, or all that is wrong.
pub fn read(written: &str) -> Result<Vec<Season>, ReadError> {
    let is_table = Path::new(written.trim())
        .extension()
        .is_some_and(|ending| ending.eq_ignore_ascii_case("csv"));
    if is_table {
        let path = Path::new(written.trim());
        let text = read_text(path)?;
        return Ok(table(&path.display().to_string(), &text)?);
    }
    Ok(list(written)?)
}

/// Reads the list that the option has.
///
/// # Errors
/// All that is wrong.
pub fn list(text: &str) -> Result<Vec<Season>, Box<Faults>> {
    let problems = Problems::new();
    let mut seasons = Vec::new();
    let mut from = 0;
    for one in text.split(',') {
        let place = from..from + one.len();
        from = place.end + 1;
        let Some((weeks, orders)) = one.split_once(['x', 'X', '×']) else {
            let title = format!("\"{}\" is no season", visible(one.trim(), 40));
            let label = "expected WEEKSxSHARE, such as 12x0.7, or a file that ends in .csv";
            problems.add::<()>(Problem::new(place, title).label(label));
            continue;
        };
        let behind = place.end - orders.len()..place.end;
        let weeks = weeks_of(weeks, place.start..place.start + weeks.len(), &problems);
        let orders = orders_of(orders, behind, 1.0, &problems);
        seasons.extend(weeks.zip(orders).map(|(weeks, orders)| Season {
            name: None,
            weeks,
            orders,
        }));
    }
    whole(seasons, "--season", text, problems)
}

/// Reads a table; `file` is what problems call it.
///
/// # Errors
/// All that is wrong.
pub fn table(file: &str, text: &str) -> Result<Vec<Season>, Box<Faults>> {
    let problems = Problems::new();
    let mut seasons = Vec::new();
    csv_table::read(text, &COLUMNS, 1, &problems, |row: &Row<'_>| {
        let weeks = weeks_of(row.cell(0), row.span(0), &problems);
        let orders = orders_of(row.cell(1), row.span(1), 100.0, &problems);
        let name = Some(row.cell(2).to_owned()).filter(|name| !name.is_empty());
        seasons.extend(weeks.zip(orders).map(|(weeks, orders)| Season {
            name,
            weeks,
            orders,
        }));
    });
    whole(seasons, file, text, problems)
}

fn weeks_of(text: &str, place: Span, problems: &Problems) -> Option<f64> {
    let weeks: Option<f64> = text.trim().parse().ok();
    let right = weeks.filter(|weeks| *weeks > 0.0 && *weeks <= MOST_WEEKS);
    right.or_else(|| {
        let title = match weeks {
            Some(_) => format!("{} weeks cannot be", visible(text.trim(), 40)),
            None => format!("\"{}\" is no number of weeks", visible(text.trim(), 40)),
        };
        let label = format!("expected a number of weeks above 0, at most {MOST_WEEKS}");
        problems.add(Problem::new(place, title).label(label))
    })
}

/// How many times the orders; `whole` is what a file or an option writes for all of them.
fn orders_of(text: &str, place: Span, whole: f64, problems: &Problems) -> Option<f64> {
    let (least, most) = Input::Orders.limits();
    let (low, high) = (least * whole, most * whole);
    let share: Option<f64> = text.trim().parse().ok();
    let right = share.filter(|share| (low..=high).contains(share));
    right.map(|share| share / whole).or_else(|| {
        let title = match share {
            Some(_) => format!("{} of the orders cannot be", visible(text.trim(), 40)),
            None => format!("\"{}\" is no share of the orders", visible(text.trim(), 40)),
        };
        let label = match whole {
            1.0 => format!("expected {low} to {high} times the orders of the book, such as 0.7"),
            _ => format!("expected {low} to {high} per cent of the orders of the book, such as 70"),
        };
        problems.add(Problem::new(place, title).label(label))
    })
}

fn whole(
    seasons: Vec<Season>,
    file: &str,
    text: &str,
    problems: Problems,
) -> Result<Vec<Season>, Box<Faults>> {
    let weeks: f64 = seasons.iter().map(|season| season.weeks).sum();
    let wrong = |title: String, label: &str| {
        problems.add::<()>(Problem::new(0..text.trim_end().len(), title).label(label));
    };
    if problems.is_empty() && seasons.is_empty() {
        wrong(
            "there is no season".into(),
            "expected rows below the heading",
        );
    }
    // So many weeks cannot be whatever else is wrong.
    if weeks > MOST_WEEKS + 1e-9 {
        let title = format!("these are {weeks} weeks");
        wrong(title, "expected a year: 52 weeks together, at most 53");
    }
    if seasons.len() > MOST_SEASONS {
        let title = format!("these are {} seasons", seasons.len());
        wrong(title, "expected at most 13, one for each four weeks");
    }
    match problems.is_empty() {
        true => Ok(seasons),
        false => Err(Box::new(problems.into_faults(file, text))),
    }
}
