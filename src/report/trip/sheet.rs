//! The last loads on one sheet for the wall of the dispatch desk: a row for each driver, a column for each site.

use super::last_loads::{SPREAD, ends, is_too_old, minutes_left, site_name, worded};
use super::{Asked, unsaid, words};
use crate::report::answer::{Answer, Block, Cell, Column, Section, Table, page};
use crate::report::document::{styled, unbroken};
use crate::report::made_from;
use crate::report::number::{Unit, count, level};
use crate::scenario::decode::later;
use crate::studies::trip::{DriverLasts, Ends, LastLoad, LastLoads, PlantSites};
use crate::units::{Millis, PlaceId};
use maud::{Markup, html};
use std::collections::BTreeMap;

/// The sheet's file.
const FILE: &str = "last-loads.html";
const STYLE: &str = include_str!("sheet.css");
/// More columns of sites do not fit on a sheet.
const SITES: usize = 24;
/// With more drivers than this the letters are smaller, so that it stays one page for 40.
const ROOMY: usize = 26;
const SMALLER: &str = "@media print { table { font-size: 8px; line-height: 1.15; } th, td { padding-top: 1px; padding-bottom: 1px; } }";
/// What ends a time, where it is another limit than the one that runs out first.
const MARKS: [char; 9] = ['¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];

/// Adds the sheet, and a link to it that stands first.
pub(super) fn add(found: &LastLoads, asked: &Asked<'_>, to: &mut Answer) {
    let link = Block::Link {
        words: "The same on one sheet for the wall".into(),
        file: FILE.into(),
        after: ": a row for each driver, a column for each site.".into(),
    };
    to.sections.insert(0, Section::new("", vec![link]));
    let sheet = Sheet::new(found, asked).page(to);
    to.beside.push((FILE.into(), sheet.into_bytes().into()));
}

struct Sheet<'a> {
    found: &'a LastLoads,
    asked: &'a Asked<'a>,
    /// Those that have a column, by name.
    sites: Vec<PlaceId>,
    /// Sites with loads to come that have none.
    left_out: usize,
    /// What the marks stand for, in their order.
    marked: Vec<String>,
    /// Whether a time lies behind the midnight that follows its row's first.
    overnight: bool,
}

impl<'a> Sheet<'a> {
    fn new(found: &'a LastLoads, asked: &'a Asked<'a>) -> Self {
        let spread = found.plants.iter().flat_map(PlantSites::spread);
        let mut sites: Vec<PlaceId> = Vec::new();
        for (site, _) in spread.flatten() {
            if !sites.contains(&site) {
                sites.push(site);
            }
        }
        // Of the others, those whose order comes first.
        let mut to_come: BTreeMap<PlaceId, Millis> = BTreeMap::new();
        for load in found.drivers.iter().flat_map(|lasts| &lasts.loads) {
            if load.to_come && !sites.contains(&load.site) {
                let first = asked.scenario.orders[load.order.at()].first;
                let known = to_come.entry(load.site).or_insert(first);
                *known = first.min(*known);
            }
        }
        let mut others: Vec<PlaceId> = to_come.keys().copied().collect();
        others.sort_by_key(|site| to_come[site]);
        let room = SITES.saturating_sub(sites.len()).min(others.len());
        sites.extend(&others[..room]);
        sites.sort_by_key(|site| (site_name(*site, asked), *site));
        Self {
            found,
            asked,
            sites,
            left_out: others.len() - room,
            marked: Vec::new(),
            overnight: false,
        }
    }

    /// The sheet as HTML text.
    fn page(mut self, answer: &Answer) -> String {
        let table = self.table();
        let title = format!("Last loads, {}: {}", self.moment(), answer.title);
        let content = html! {
            h1 { (title) }
            div.decision { p { (unbroken(&answer.decision)) } }
            p { (unbroken(&self.meaning())) }
            p.narrow { "The table goes on to the right: a column for each of " (self.sites.len()) " sites." }
            (page::table(&table))
            (self.legend())
            p.caution {
                b { "Plans only. " }
                "The driver and the driver's own log decide. "
                // Who may drive, and who should not.
                @for caution in answer.cautions.iter().take(2) { (unbroken(caution)) " " }
            }
            div.small {
                (made_from::markup(&answer.title, answer.origin.as_ref()))
                p { code { (answer.recipe) } }
            }
        };
        let style = match self.found.drivers.len() > ROOMY {
            true => format!("{STYLE}{SMALLER}"),
            false => STYLE.to_owned(),
        };
        styled(&title, &style, &content)
    }

    /// With the date, where the scenario has one.
    fn moment(&self) -> String {
        let (scenario, at) = (self.asked.scenario, self.asked.question.at);
        let clock = words::clock(scenario, at);
        match scenario.period.first_date {
            Some(first) => format!("{clock}, {}", later(first, at.day())),
            None => clock,
        }
    }

    fn meaning(&self) -> String {
        format!(
            "A time is the latest at which this driver's truck may pull into the bay for a load to that site. In {} of runs at least the \
             driver is then back within every limit (shown at {} by {} runs of the rule \"{}\"). Each load is taken by itself: with a \
             line at the bay or on site it has to begin earlier by that wait. Make the sheet anew after every load.",
            Unit::Share.show(self.found.chance, 0),
            level(self.asked.question.level),
            count(self.found.runs),
            self.asked.scenario.rules[self.asked.question.rule].name
        )
    }

    /// Drivers by plant, who is out of hours first above; each plant's row tells the trips from it.
    fn table(&mut self) -> Table {
        let mut columns = vec![
            Column::new("driver").left(),
            Column::new("ready"),
            Column::new("out of hours").left(),
            Column::new("last load"),
            Column::new("min left"),
        ];
        let names = self.sites.iter().map(|site| site_name(*site, self.asked));
        columns.extend(names.map(Column::new));
        let mut table = Table::new("sheet", columns);
        let found = self.found;
        for plant in &found.plants {
            table.row(self.trips(plant)).marked(true);
            let own = found.drivers.iter();
            for lasts in own.filter(|lasts| lasts.plant == plant.plant) {
                table.row(self.row(lasts));
            }
        }
        table
    }

    fn trips(&self, plant: &PlantSites) -> Vec<Cell> {
        let name = &self.asked.scenario.plants[plant.plant.at()].name;
        let spread = plant.spread();
        let mut cells = vec![
            name.clone().into(),
            Cell::Blank,
            "trip out, min".into(),
            Cell::Blank,
            Cell::Blank,
        ];
        cells.extend(self.sites.iter().map(|place| {
            let site = plant.sites.iter().find(|site| site.0 == *place);
            let Some((_, out_min)) = site else {
                return Cell::Blank;
            };
            let minutes = Unit::Plain.show(*out_min, 0);
            let is = |at: &usize| spread[*at].is_some_and(|site| site.0 == *place);
            match (0..spread.len()).find(is) {
                Some(at) => format!("{minutes} {}", SPREAD[at]).into(),
                None => minutes.into(),
            }
        }));
        cells
    }

    fn row(&mut self, lasts: &DriverLasts) -> Vec<Cell> {
        let asked = self.asked;
        let too_little = match unsaid::is_of(asked, lasts.driver) {
            true => " *",
            false => "",
        };
        let driver = format!("{}{too_little}", words::driver(asked, lasts.driver));
        let ready = words::short(asked, lasts.ready.minutes());
        let out_of_hours = lasts.out_of_hours.map(|(at, clock)| {
            let limit = words::limit_words(asked, lasts.driver, clock);
            format!("{} {limit}", self.time(at, lasts))
        });
        let fresh = lasts.loads.iter().filter(|load| !is_too_old(load, asked));
        let last = fresh.filter_map(|load| load.load_by).max();
        let mut cells = vec![
            driver.into(),
            worded(ready, Some(lasts.ready)),
            out_of_hours.unwrap_or_else(|| "no limit".into()).into(),
            last.map_or("none".into(), |at| worded(self.time(at, lasts), Some(at))),
            last.map_or(Cell::Blank, |at| {
                Cell::number(minutes_left(at, lasts, asked), Unit::Plain, 0)
            }),
        ];
        for at in 0..self.sites.len() {
            let load = lasts.load(self.sites[at]);
            cells.push(load.map_or(Cell::Blank, |load| self.cell(load, lasts)));
        }
        cells
    }

    fn cell(&mut self, load: &LastLoad, lasts: &DriverLasts) -> Cell {
        match load.load_by {
            None => "late".into(),
            Some(_) if is_too_old(load, self.asked) => "old".into(),
            Some(at) => {
                let time = self.time(at, lasts);
                worded(format!("{time}{}", self.mark(load, lasts)), Some(at))
            }
        }
    }

    /// The time of day; behind the midnight after the driver is ready with a plus sign.
    fn time(&mut self, at: Millis, lasts: &DriverLasts) -> String {
        let after = at.day() > lasts.ready.day();
        self.overnight |= after;
        let plus = if after { "+" } else { "" };
        format!("{plus}{}", at - Millis::midnight(at.day()))
    }

    /// Which limit it is, if not the one that stands in the row.
    fn mark(&mut self, load: &LastLoad, lasts: &DriverLasts) -> String {
        let first = lasts.out_of_hours.map(|(_, clock)| Ends::Clock(clock));
        if Some(load.ends) == first {
            return String::new();
        }
        let limit = ends(load, lasts, self.asked);
        let known = self.marked.iter().position(|other| *other == limit);
        let at = known.unwrap_or_else(|| {
            self.marked.push(limit);
            self.marked.len() - 1
        });
        MARKS.get(at).map_or(String::new(), char::to_string)
    }

    fn legend(&self) -> Markup {
        let marks = MARKS.iter().zip(&self.marked);
        let marks: Vec<String> = marks
            .map(|(mark, limit)| format!("{mark} {limit}"))
            .collect();
        let but = match marks.is_empty() {
            true => String::new(),
            false => format!(", but {}", marks.join(", ")),
        };
        let mut legend = vec![
            "late: too late already".to_owned(),
            "old: so far that the concrete would be too old on site".to_owned(),
            "blank: no order there on the driver's day, not made by the plant, or no way"
                .to_owned(),
            "last load: of the site that leaves the most time".to_owned(),
            format!("a time is ended by the limit in its row{but}"),
        ];
        if self.overnight {
            legend.push("+: after midnight".into());
        }
        if self.left_out > 0 {
            legend.push(match self.left_out {
                1 => "1 more site with loads to come is in report.html".into(),
                more => format!("{more} more sites with loads to come are in report.html"),
            });
        }
        let unsaid = unsaid::all(self.asked);
        html! {
            p { (unbroken(&legend.join("; "))) "." }
            @if let Some(unsaid) = unsaid { p { "* Told by the roster or on the careful side. " (unbroken(&unsaid)) } }
        }
    }
}
