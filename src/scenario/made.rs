//! A scenario made of the tables that somebody has: which list each is, and what had to be assumed besides.

mod text;

use super::decode::{date_in, days_between, time_in_cell};
use super::defaults;
use super::problem::within;
use super::tables::recognize::{Found, Search, search};
use crate::hours::Date;
use std::path::{Path, PathBuf};

/// A scenario, and how it came to be.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// The text of the scenario, which refers to the tables.
    pub text: String,
    /// What was taken from the tables.
    pub yours: Vec<String>,
    /// What was assumed.
    pub assumed: Vec<Assumed>,
    /// What was found and is not used.
    pub unused: Vec<String>,
}

/// Something that no table says.
#[derive(Clone, Debug, PartialEq)]
pub struct Assumed {
    /// What.
    pub what: String,
    /// Where the value comes from.
    pub source: String,
}

/// Makes a scenario of the tables in these files, to be written into `folder`.
///
/// # Errors
/// A file cannot be read, a list that no scenario can do without is in none of them, or one is in two.
pub fn made_of(files: &[PathBuf], folder: &Path) -> Result<Made, String> {
    let Search { found, unknown } = search(files)?;
    let tables = Tables::of(&found)?;
    let mut made = Made {
        text: String::new(),
        yours: Vec::new(),
        assumed: Vec::new(),
        unused: unknown
            .iter()
            .map(|table| format!("{table}: no list of a scenario by its headings"))
            .collect(),
    };
    let places = tables.places();
    if places.plants.is_empty() {
        return Err(format!(
            "no plant is named in {}\n  expected a column of home plants in the table of drivers or trucks",
            tables.minutes.called()
        ));
    }
    text::write(&tables, &places, folder, &mut made);
    Ok(made)
}

/// The tables by what they are.
struct Tables<'a> {
    orders: &'a Found,
    drivers: &'a Found,
    minutes: &'a Found,
    trucks: Option<&'a Found>,
    plants: Option<&'a Found>,
    sites: Option<&'a Found>,
}

/// The names of places.
struct Places {
    plants: Vec<String>,
    sites: Vec<String>,
    /// Whether minutes are by time of day.
    bands: bool,
    /// Orders whose site is one within a longer text, and an example of it.
    within: usize,
    example: Option<(String, String)>,
}

impl<'a> Tables<'a> {
    fn of(found: &'a [Found]) -> Result<Self, String> {
        let one = |list: &str| -> Result<Option<&Found>, String> {
            let mut all = found.iter().filter(|table| table.list == list);
            match (all.next(), all.next()) {
                (Some(first), Some(second)) => Err(format!(
                    "{} and {} are both tables of {list}\n  expected one; leave the other out",
                    first.called(),
                    second.called()
                )),
                (first, _) => Ok(first),
            }
        };
        let needed = |list: &str, headings: &str| -> Result<&Found, String> {
            one(list)?.ok_or_else(|| {
                let seen: Vec<String> = found
                    .iter()
                    .map(|table| format!("{} ({})", table.called(), table.list))
                    .collect();
                let seen = match seen.is_empty() {
                    true => String::new(),
                    false => format!("; found: {}", seen.join(", ")),
                };
                format!("no table of {list} is among the files{seen}\n  expected one with headings such as {headings}")
            })
        };
        Ok(Self {
            orders: needed("orders", "Order, Site, First load, Yd3, Spacing (min), Mix")?,
            drivers: needed("drivers", "Name, Truck, Home plant, Report time")?,
            minutes: needed(
                "minutes",
                "Site, and then a column of minutes for each plant",
            )?,
            trucks: one("trucks")?,
            plants: one("plants")?,
            sites: one("sites")?,
        })
    }

    fn places(&self) -> Places {
        let mut plants: Vec<String> = Vec::new();
        let mut add = |names: Option<Vec<Option<&str>>>| {
            for name in names.into_iter().flatten().flatten() {
                if !plants.iter().any(|known| known == name) {
                    plants.push(name.to_owned());
                }
            }
        };
        if let Some(table) = self.plants {
            add(table.column("name"));
        } else {
            if let Some(table) = self.trucks {
                add(table.column("home"));
            }
            add(home(self.drivers));
            add(self.orders.column("plant"));
        }
        let (across, down, bands) = self.minutes.places();
        if plants.is_empty() {
            // Plants are those of which there are fewer.
            plants = match across.len() <= down.len() {
                true => across.clone(),
                false => down.clone(),
            };
        }
        let mut sites: Vec<String> = Vec::new();
        let named = self.sites.and_then(|table| table.column("name"));
        let named = named.into_iter().flatten().flatten().map(str::to_owned);
        for name in named.chain(across).chain(down) {
            if !sites.contains(&name) && !plants.contains(&name) {
                sites.push(name);
            }
        }
        let jobs = self.orders.column("site");
        let jobs: Vec<&str> = jobs.into_iter().flatten().flatten().collect();
        let jobs = jobs
            .into_iter()
            .filter(|job| !sites.iter().any(|site| site == job));
        let known: Vec<(String, String)> = jobs
            .filter_map(|job| {
                let site = within(job, sites.iter().map(String::as_str))?;
                Some((job.to_owned(), site.to_owned()))
            })
            .collect();
        Places {
            bands,
            within: known.len(),
            example: known.into_iter().next(),
            plants,
            sites,
        }
    }

    /// The first and the last date of the orders.
    fn dates(&self) -> Option<(Date, Date)> {
        let days = self.orders.column("day")?;
        let mut dates: Vec<Date> = days.into_iter().flatten().filter_map(date_in).collect();
        dates.sort_by_key(|date| (date.year, date.month, date.day));
        Some((*dates.first()?, *dates.last()?))
    }

    /// The last day of the period, and its date if the first has one.
    fn period(&self) -> (u32, Option<Date>) {
        if let Some((first, last)) = self.dates() {
            let days = 1 + days_between(first, last);
            return (days.clamp(1, 28) as u32, Some(first));
        }
        let days = self.orders.column("day").into_iter().flatten().flatten();
        let last = days.filter_map(|day| day.parse::<u32>().ok()).max();
        (last.unwrap_or(1).clamp(1, 28), None)
    }

    /// When the first driver of a plant reports and the last shift ends, minutes since midnight, to the half hour.
    fn on_duty(&self, plant: Option<&str>) -> Option<(u32, u32)> {
        let homes = home(self.drivers);
        let reports = self.drivers.column("report")?;
        let shifts = self.drivers.column("shift_h");
        let mut span: Option<(u32, u32)> = None;
        for (row, report) in reports.into_iter().enumerate() {
            let here = homes.as_ref().and_then(|homes| homes[row]);
            if plant.is_some() && homes.is_some() && here != plant {
                continue;
            }
            let Some(report) = report.and_then(minutes_of) else {
                continue;
            };
            let shift = shifts.as_ref().and_then(|shifts| shifts[row]?.parse().ok());
            let shift: f64 = shift.unwrap_or(defaults::SHIFT_H.value);
            let end = report + (shift * 60.0) as u32;
            let (first, last) = span.unwrap_or((report, end));
            span = Some((first.min(report), last.max(end)));
        }
        let (first, last) = span?;
        let close = last.div_ceil(30) * 30;
        Some((first / 30 * 30, close.min(1_440)))
    }
}

/// The home plant of each driver: a roster may say it, though a scenario says it of trucks.
fn home(drivers: &Found) -> Option<Vec<Option<&str>>> {
    ["home_plant", "plant", "home", "yard", "base"]
        .iter()
        .find_map(|field| drivers.column(field))
}

fn home_heading(drivers: &Found) -> Option<&str> {
    ["home_plant", "plant", "home", "yard", "base"]
        .iter()
        .find_map(|field| drivers.heading(field))
}

fn minutes_of(text: &str) -> Option<u32> {
    let clock = time_in_cell(text)?;
    let (hour, minute) = clock.split_once(':')?;
    Some(hour.parse::<u32>().ok()? * 60 + minute.parse::<u32>().ok()?)
}
