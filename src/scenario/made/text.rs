//! The text of a scenario made of tables, and the account of it.

use super::{Assumed, Made, Places, Tables, home, home_heading};
use crate::scenario::defaults::{self, Entry};
use crate::scenario::tables::recognize::Found;
use crate::scenario::tree::quoted;
use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};

/// Writes the text, and what was taken and assumed.
pub(super) fn write(tables: &Tables<'_>, places: &Places, folder: &Path, made: &mut Made) {
    let mut writer = Writer {
        tables,
        places,
        folder,
        made,
        text: String::new(),
    };
    writer.head();
    writer.places();
    writer.fleet();
    writer.orders();
    writer.rules();
    writer.rest();
    let text = std::mem::take(&mut writer.text);
    made.text = text;
}

struct Writer<'a> {
    tables: &'a Tables<'a>,
    places: &'a Places,
    folder: &'a Path,
    made: &'a mut Made,
    text: String,
}

impl Writer<'_> {
    fn line(&mut self, line: &str) {
        self.text += line;
        self.text.push('\n');
    }

    fn yours(&mut self, what: String) {
        self.made.yours.push(what);
    }

    fn assume(&mut self, what: impl Into<String>, source: impl Into<String>) {
        self.made.assumed.push(Assumed {
            what: what.into(),
            source: source.into(),
        });
    }

    /// A usual value that holds as no table says otherwise.
    fn usual(&mut self, what: &str, entry: &dyn Entry) {
        let source = entry.about().source.to_string();
        // All of them are the user's to replace, and the heading says so.
        let source = source
            .replace("; use your own (", "; ")
            .replace("; use your own", "");
        let source = match source.contains("; ") {
            true => source.replace(')', ""),
            false => source,
        };
        self.assume(what, source);
    }

    /// How a scenario in the folder asks for a table.
    fn table(&self, table: &Found, more: &str) -> String {
        let file = quoted(&relative(self.folder, &table.file));
        let sheet = table.sheet.as_ref().map(|sheet| quoted(sheet));
        match (sheet, more) {
            (None, "") => format!("Table({file})"),
            (Some(sheet), "") => format!("Table({file}, {sheet})"),
            (None, more) => format!("Table(file: {file}, {more})"),
            (Some(sheet), more) => format!("Table(file: {file}, sheet: {sheet}, {more})"),
        }
    }

    fn head(&mut self) {
        let (days, first) = self.tables.period();
        let name = joined(&self.places.plants);
        let orders = self.tables.orders.entries();
        self.line("// Made of tables by `plantday new --from`. What stands here and not in a table was assumed: look it through.");
        self.line("(");
        self.line(&format!("    name: {},", quoted(&name)));
        let day = if days == 1 { "day" } else { "days" };
        let drivers = self.tables.drivers.entries();
        let orders = match orders {
            1 => "1 order".to_owned(),
            many => format!("{many} orders"),
        };
        let about = format!("{orders} on {days} {day}, {drivers} drivers");
        self.line(&format!("    about: {},", quoted(&about)));
        match first {
            Some(first) => {
                self.line(&format!(
                    "    period: (first_day: \"{first}\", days: {days}),"
                ));
            }
            None => self.line(&format!("    period: (days: {days}),")),
        }
        let when = match first {
            Some(first) => format!("from {first} on"),
            None => "without a date".to_owned(),
        };
        self.yours(format!(
            "{}: {orders} on {days} {day} {when}{}",
            self.tables.orders.called(),
            used(
                self.tables.orders,
                &[("customer", "customers"), ("plant", "usual plants")]
            )
        ));
        self.usual("hours of service", &defaults::WINDOW_H);
    }

    fn places(&mut self) {
        match self.tables.plants {
            Some(table) => {
                let table_text = self.table(table, "");
                self.line(&format!("    plants: {table_text},"));
                self.yours(format!("{}: {} plants", table.called(), table.entries()));
            }
            None => {
                let mut told = Vec::new();
                self.line("    plants: [");
                for plant in &self.places.plants {
                    let hours = self.tables.on_duty(Some(plant));
                    let hours = hours.map(|(open, close)| (clock(open), clock(close)));
                    let written = hours.as_ref().map_or(String::new(), |(open, close)| {
                        format!(", hours: [(open: \"{open}\", close: \"{close}\")]")
                    });
                    let line = format!("        (name: {}{written}, bays: 1),", quoted(plant));
                    told.extend(hours.map(|(open, close)| format!("{plant} {open}–{close}")));
                    self.line(&line);
                }
                self.line("    ],");
                if !told.is_empty() {
                    self.assume(
                        format!("plants' hours: {}", told.join(", ")),
                        "first report to end of the last shift",
                    );
                }
                self.usual("one loading bay at each plant", &defaults::BAYS);
            }
        }
        match self.tables.sites {
            Some(table) => {
                let table_text = self.table(table, "");
                self.line(&format!("    sites: {table_text},"));
                self.yours(format!("{}: {} sites", table.called(), table.entries()));
            }
            None => {
                let sites: Vec<String> = self
                    .places
                    .sites
                    .iter()
                    .map(|site| format!("(name: {})", quoted(site)))
                    .collect();
                self.line("    sites: [");
                for some in sites.chunks(4) {
                    let line = format!("        {},", some.join(", "));
                    self.line(&line);
                }
                self.line("    ],");
            }
        }
        let minutes = self.table(self.tables.minutes, "");
        self.line("    roads: (");
        self.line(&format!("        minutes: {minutes},"));
        self.line("        luck: Lognormal(mean: 1, cv: 0.2),    // one trip varies by a fifth");
        self.line("    ),");
        let bands = match self.places.bands {
            true => " by time of day",
            false => "",
        };
        self.yours(format!(
            "{}: minutes from {} to {} places{bands}",
            self.tables.minutes.called(),
            joined(&self.places.plants),
            self.places.sites.len(),
        ));
        self.assume(
            "one trip varies by 20% about its minutes",
            "estimate, no source; 20% to 35% is usual",
        );
        if !self.places.bands {
            self.assume(
                "no traffic: the minutes hold at every hour",
                "your table; `traffic` of roads says otherwise",
            );
        }
    }

    fn fleet(&mut self) {
        let drivers = self.tables.drivers;
        let truck_column = drivers.column("trucks");
        let homes = home(drivers);
        let only_plant = &self.places.plants[0];
        let plant_of = |row: usize| {
            let home = homes.as_ref().and_then(|homes| homes[row]);
            home.unwrap_or(only_plant).to_owned()
        };
        // A truck for each driver where no table says which.
        let names = drivers.column("name").unwrap_or_default();
        let truck_of = |row: usize| match &truck_column {
            Some(trucks) => trucks[row].map(str::to_owned),
            None => Some(format!("T{}", row + 1)),
        };
        let once = |column: &[Option<&str>]| {
            let mut seen: Vec<&str> = column.iter().flatten().copied().collect();
            let all = seen.len();
            seen.sort_unstable();
            seen.dedup();
            seen.len() == all && all == column.len()
        };
        let heads = (drivers.heading("trucks"), home_heading(drivers));
        match (self.tables.trucks, heads, &truck_column) {
            (Some(table), ..) => {
                let text = self.table(table, "");
                self.line(&format!("    trucks: {text},"));
                self.yours(format!("{}: {} trucks", table.called(), table.entries()));
            }
            (None, (Some(truck), Some(home)), Some(column)) if once(column) => {
                let columns = format!(
                    "columns: {{ {}: \"name\", {}: \"home\" }}",
                    quoted(truck),
                    quoted(home)
                );
                let text = self.table(drivers, &columns);
                self.line(&format!("    trucks: {text},"));
            }
            _ => {
                let mut trucks: BTreeMap<String, String> = BTreeMap::new();
                for row in 0..names.len() {
                    if let Some(truck) = truck_of(row) {
                        trucks.entry(truck).or_insert(plant_of(row));
                    }
                }
                self.line("    trucks: [");
                for (truck, plant) in &trucks {
                    let line = format!(
                        "        (name: {}, home: {}),",
                        quoted(truck),
                        quoted(plant)
                    );
                    self.line(&line);
                }
                self.line("    ],");
                if homes.is_none() && self.places.plants.len() > 1 {
                    self.assume(
                        format!("all trucks at home at {only_plant}"),
                        "no table says where",
                    );
                }
            }
        }
        if self
            .tables
            .trucks
            .is_none_or(|table| table.column("capacity_yd3").is_none())
        {
            self.usual("trucks of 10 yd³", &defaults::CAPACITY_YD3);
        }
        if truck_column.is_some() {
            let text = self.table(drivers, "");
            self.line(&format!("    drivers: {text},"));
        } else {
            self.line("    drivers: [");
            let reports = drivers.column("report").unwrap_or_default();
            for (row, name) in names.iter().enumerate() {
                let (Some(name), Some(report)) = (name, reports[row]) else {
                    continue;
                };
                let report = super::minutes_of(report).map_or(report.to_owned(), clock);
                let mut line = format!(
                    "        (name: {}, trucks: \"T{}\", report: \"{report}\"",
                    quoted(name),
                    row + 1
                );
                for field in ["shift_h", "pay_per_h", "class"] {
                    let said = drivers.column(field).and_then(|column| column[row]);
                    if let Some(said) = said {
                        line += &format!(", {field}: {}", said.trim_start_matches('$'));
                    }
                }
                self.line(&format!("{line}),"));
            }
            self.line("    ],");
            self.assume("a truck for each driver", "no table says which");
        }
        self.yours(format!(
            "{}: {} drivers{}",
            drivers.called(),
            drivers.entries(),
            used(
                drivers,
                &[
                    ("trucks", "trucks"),
                    ("report", "report times"),
                    ("class", "licenses"),
                    ("pay_per_h", "pay"),
                    ("shift_h", "shifts"),
                ]
            )
        ));
        if drivers.column("shift_h").is_none() {
            self.usual("shifts of 10 h for every driver", &defaults::SHIFT_H);
        }
        if drivers.column("pay_per_h").is_none() {
            self.usual("drivers paid $27 an hour", &defaults::PAY_PER_H);
        }
    }

    fn orders(&mut self) {
        let orders = self.tables.orders;
        let mut more = Vec::new();
        if self.places.within > 0 {
            more.push("sites_within: true".to_owned());
        }
        let text = self.table(orders, &more.join(", "));
        self.line(&format!("    orders: {text},"));
        if orders.column("name").is_none() {
            self.assume("orders are called by their sites", "they have no names");
        }
        if let Some((job, site)) = &self.places.example {
            let (job, site) = (job.clone(), site.clone());
            self.assume(
                format!(
                    "{} orders at the known place within their site: \"{job}\" at \"{site}\"",
                    self.places.within
                ),
                "your names",
            );
        }
        if orders.column("late_min").is_none() {
            self.usual("a load counts as late from 15 min on", &defaults::LATE_MIN);
        }
        if orders.column("load_yd3").is_none() {
            self.usual(
                "loads of 10 yd³, unloaded at 1 yd³ a minute",
                &defaults::OUTLET_YD3_MIN,
            );
        }
    }

    fn rules(&mut self) {
        let usual = self.tables.orders.column("plant").is_some();
        let plants = match usual {
            true => ", plants: UsualFirst(late_min: 20)",
            false => "",
        };
        let first = match usual {
            true => {
                "The usual plant of the order, there the nearest truck; others once a load would be 20 min late"
            }
            false => "The nearest plant and truck; nobody watches the hours",
        };
        self.line("    rules: [");
        self.line("        (name: \"As today (a guess)\", today: true,");
        self.line(&format!("            about: {},", quoted(first)));
        self.line(&format!(
            "            belief: FreeFlow, choose: Nearest{plants}, lend: Always, early_min: 10),"
        ));
        self.line("        (name: \"Longest idle, 11 hours\",");
        self.line("            about: \"The truck that has stood longest at its own plant; no load later than 11 hours after reporting\",");
        self.line("            belief: FreeFlow, choose: LongestIdle, gates: [LastLoadBy(hours: 11)], early_min: 8),");
        self.line("        (name: \"Soonest, home in time\",");
        self.line("            about: \"Soonest on site by the traffic of the hour, and only drivers who will be home in time\",");
        self.line("            belief: TimeOfDay(quantile: 0.7), send: Paced, sequence: RunningPoursFirst, choose: SoonestOnSite,");
        self.line("            gates: [HomeWithin(probability: 0.95)], lend: IfSaves(minutes: 10), early_min: 3),");
        self.line("    ],");
        self.assume(
            "three rules, the first as a guess at what you do today",
            "`plantday help rules`",
        );
    }

    fn rest(&mut self) {
        self.line(")");
        self.assume(
            "all else: prices, loading, slump rack, washout, age limit",
            "`plantday sources FILE`",
        );
    }
}

/// `, with customers and pay`: what else a table tells.
fn used(table: &Found, fields: &[(&str, &str)]) -> String {
    let told = fields
        .iter()
        .filter(|(field, _)| table.column(field).is_some());
    let told: Vec<String> = told.map(|(_, words)| (*words).to_owned()).collect();
    match told.is_empty() {
        true => String::new(),
        false => format!(", with {}", joined(&told)),
    }
}

fn joined(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [only] => only.clone(),
        [all @ .., last] => format!("{} and {last}", all.join(", ")),
    }
}

fn clock(minutes: u32) -> String {
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

/// The path of a file as one in the folder sees it.
fn relative(folder: &Path, file: &Path) -> String {
    let here = |path: &Path| {
        let path = if path.as_os_str().is_empty() {
            Path::new(".")
        } else {
            path
        };
        std::fs::canonicalize(path).ok()
    };
    let (Some(from), Some(to)) = (here(folder), here(file)) else {
        return file.display().to_string();
    };
    let (from, to): (Vec<Component<'_>>, Vec<Component<'_>>) =
        (from.components().collect(), to.components().collect());
    let common = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
    let up = from[common..].iter().map(|_| Component::ParentDir);
    let down = to[common..].iter().copied();
    let path: PathBuf = up.chain(down).collect();
    path.to_string_lossy().replace('\\', "/")
}
