//! A scenario file to a checked [`Scenario`]: one file per block, each made of the readers of [`super::decode`].

mod changes;
mod concrete;
mod fleet;
mod licences;
mod mix_names;
mod mixes;
mod money;
mod orders;
mod other_files;
mod places;
mod roads;
mod rule_books;
mod rules;
mod setting;
mod worlds;

pub use rules::{decided, rule_text};

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use super::decode::{Fields, Names, list, name, prose};
use super::defaults;
use super::input_file;
use super::loads;
use super::problem::{Faults, Problem, Problems, Source};
use super::tables;
use super::tree::{self, ASKED, Kind, Node};
use super::{Order, Origin, Scenario, Takes};
use crate::concrete::EmptyWeight;
use crate::hours::RuleSet;
use crate::units::measure::{self, Measures};

/// A company of twenty plants has a tenth of them in 28 days.
const MOST_LOADS: f64 = 1e6;

/// Why there is no scenario.
#[derive(Debug, thiserror::Error)]
pub enum ReadError {
    /// The file cannot be opened or read.
    #[error("cannot read {}: {source}{hint}", path.display())]
    File {
        /// As given.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
        /// What may have been meant, from `;` on, or nothing.
        hint: String,
    },
    /// What is written in it is wrong.
    #[error("{0}")]
    Faults(#[from] Box<Faults>),
}

/// What a scenario may say: every field that is read, with what may stand there.
pub fn outline() -> Takes {
    let problems = Problems::new();
    let told = problems.outline().of(|| {
        scenario(&ASKED, Origin::of("", &[]), &problems);
    });
    told.settled()
}

/// Reads and checks a scenario file.
///
/// # Errors
/// If the file cannot be read, is larger than [`LARGEST_MIB`](input_file::LARGEST_MIB), is not UTF-8, or holds anything that is not a valid scenario.
pub fn read(path: &Path) -> Result<Scenario, ReadError> {
    let name = path.display().to_string();
    let bytes = read_bytes(path)?;
    if bytes.starts_with(b"PK\x03\x04") {
        return workbook(&name, &bytes).map_err(ReadError::Faults);
    }
    let folder = path.parent().unwrap_or(Path::new(""));
    parse_in(&name, &as_text(&name, bytes)?, Some(folder)).map_err(ReadError::Faults)
}

/// The text of a file that a user wrote.
///
/// # Errors
/// If it cannot be read, is larger than [`LARGEST_MIB`](input_file::LARGEST_MIB), or is not UTF-8.
pub(super) fn read_text(path: &Path) -> Result<String, ReadError> {
    as_text(&path.display().to_string(), read_bytes(path)?)
}

fn as_text(name: &str, bytes: Vec<u8>) -> Result<String, ReadError> {
    String::from_utf8(bytes).map_err(|error| ReadError::Faults(Box::new(not_text(name, &error))))
}

/// The bytes of a file that a user wrote.
///
/// # Errors
/// If it cannot be read, or is larger than [`LARGEST_MIB`](input_file::LARGEST_MIB).
pub(super) fn read_bytes(path: &Path) -> Result<Vec<u8>, ReadError> {
    let failed = |source: std::io::Error| ReadError::File {
        hint: match source.kind() {
            ErrorKind::NotFound => other_files::beside(path),
            _ => String::new(),
        },
        path: path.to_owned(),
        source,
    };
    input_file::read(path).map_err(failed)
}

/// Checks the text of a scenario; `file` is what problems call it.
///
/// # Errors
/// All that is wrong in the text; only the first problem if it is one of syntax.
pub fn parse(file: &str, text: &str) -> Result<Scenario, Box<Faults>> {
    parse_in(file, text, None)
}

/// The same, with tables read from a folder.
fn parse_in(file: &str, text: &str, folder: Option<&Path>) -> Result<Scenario, Box<Faults>> {
    let problems = Problems::new();
    let mut sources = vec![Source::text(file, text)];
    let node = match tree::parse(text) {
        Ok(mut node) => {
            let _spoken = measure::speak(setting::measures(&node));
            sources = tables::put_in(&mut node, file, text, folder, &problems);
            Some(node)
        }
        Err(found) => problems.add_all(other_files::explained(text, found)),
    };
    checked(file, node.as_ref(), sources, problems)
}

/// A scenario as a workbook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WorkbookFile {
    /// The file.
    pub bytes: Vec<u8>,
    /// Columns of its tables that no field is named for, which are left out: table and heading.
    pub unread: Vec<(String, String)>,
}

/// A scenario's text as a workbook, with tables read from a folder; `assumed` are lines for a sheet that is not read. Columns that no
/// field is named for are left out.
///
/// # Errors
/// All that is wrong in it.
pub fn as_workbook(
    name: &str,
    text: &str,
    folder: Option<&Path>,
    assumed: &[String],
) -> Result<WorkbookFile, Box<Faults>> {
    let problems = Problems::new();
    let refused = |problems: Problems, sources: Vec<Source>| {
        let mut faults = problems.into_faults(name, text);
        faults.tables = sources.into_iter().skip(1).collect();
        Err(Box::new(faults))
    };
    let mut node = match tree::parse(text) {
        Ok(node) => node,
        Err(found) => {
            problems.add_all::<()>(found);
            return refused(problems, Vec::new());
        }
    };
    let _spoken = measure::speak(setting::measures(&node));
    let sources = tables::put_in(&mut node, name, text, folder, &problems);
    let read = scenario(&node, Origin::of(name, &[text]), &problems);
    if read.is_none() || !problems.is_empty() {
        return refused(problems, sources);
    }
    leave_out(&mut node, &problems);
    match super::workbook::workbook(&node, assumed) {
        Some(bytes) => Ok(WorkbookFile {
            bytes,
            unread: problems.ignored(&sources),
        }),
        None => {
            let title = "a value is longer than a cell of a workbook can hold";
            let problem = Problem::new(0..1, title);
            problems.add::<()>(problem.label("expected a scenario whose roads are a table"));
            refused(problems, sources)
        }
    }
}

/// Leaves out what nobody reads.
fn leave_out(node: &mut Node, problems: &Problems) {
    match &mut node.kind {
        Kind::Fields(fields) => {
            fields.retain(|field| !problems.is_ignored(&field.key_span));
            for field in fields {
                leave_out(&mut field.value, problems);
            }
        }
        Kind::List(items) => {
            for item in items {
                leave_out(item, problems);
            }
        }
        _ => {}
    }
}

/// Checks a scenario that is a whole workbook.
fn workbook(file: &str, bytes: &[u8]) -> Result<Scenario, Box<Faults>> {
    let problems = Problems::new();
    // In which units its headings are is known when its settings have been read.
    let (settings, _) = tables::workbook_tree(file, bytes, &Problems::new());
    let measures = settings.map_or(Measures::US, |node| setting::measures(&node));
    let _spoken = measure::speak(measures);
    let (node, sources) = tables::workbook_tree(file, bytes, &problems);
    checked(file, node.as_ref(), sources, problems)
}

/// Checks a tree whose places are in these texts, that of the file first.
fn checked(
    file: &str,
    node: Option<&Node>,
    sources: Vec<Source>,
    problems: Problems,
) -> Result<Scenario, Box<Faults>> {
    let texts: Vec<&str> = sources.iter().map(|source| source.text.as_str()).collect();
    let scenario = node.and_then(|node| scenario(node, Origin::of(file, &texts), &problems));
    match scenario {
        Some(mut scenario) if problems.is_empty() => {
            scenario.ignored_columns = problems.ignored(&sources);
            scenario.table_notes = problems.notes();
            Ok(scenario)
        }
        _ => {
            let mut faults = problems.into_faults(file, &sources[0].text);
            faults.tables = sources.into_iter().skip(1).collect();
            Err(Box::new(faults))
        }
    }
}

/// A rule book that stands alone.
pub(super) fn own_rule_book(node: &Node, problems: &Problems) -> Option<RuleSet> {
    rule_books::written(node, &mut Names::of("rule book"), problems)
}

/// A file that is not UTF-8, shown up to the first byte that is not.
fn not_text(name: &str, error: &std::string::FromUtf8Error) -> Faults {
    let (bytes, at) = (error.as_bytes(), error.utf8_error().valid_up_to());
    let text = String::from_utf8_lossy(bytes);
    let title = format!(
        "byte {} of the file, 0x{:02X}, is not UTF-8",
        at + 1,
        bytes[at]
    );
    let mut problem = Problem::new(at..at + 1, title).label("expected text in UTF-8");
    if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
        problem = problem.help("the file looks like UTF-16: save it as UTF-8");
    }
    if bytes.starts_with(b"PK\x03\x04") {
        problem =
            problem.help("the file looks like a workbook or another archive: expected plain text");
    }
    let problems = Problems::new();
    problems.add::<()>(problem);
    problems.into_faults(name, &text)
}

fn scenario(node: &Node, origin: Origin, problems: &Problems) -> Option<Scenario> {
    let measures = setting::measures(node);
    let _spoken = measure::speak(measures);
    let mut fields = Fields::of(node, "scenario", problems)?;
    let name = fields.required("name", name);
    let about = fields.optional("about", prose, String::new());
    fields.maybe("units", setting::system);
    fields.maybe("currency", setting::currency);
    let period = fields.optional("period", setting::period, setting::one_day());
    let mut books = rule_books::Books::default();
    fields.maybe("rule_books", |node, problems| books.read(node, problems));
    fields.by_hand_usual("rule_book", &defaults::WINDOW_H, |node, problems| {
        books.find(node, problems)
    });
    let rule_book = match fields.node("rule_book") {
        Some(_) => fields.required("rule_book", |node, problems| books.find(node, problems)),
        None => {
            fields.unwritten(&defaults::WINDOW_H);
            fields.unwritten(&defaults::REST_H);
            None
        }
    };
    let rule_book = rule_book.unwrap_or_else(|| books.usual());
    let company = fields.block("company", "company", setting::company);

    let mut places = places::Places::new(&period);
    let plants = fields.required("plants", |node, problems| {
        list(1..=100, "plant", |node, problems| {
            places.plant(node, problems)
        })(node, problems)
    });
    let sites = fields.required("sites", |node, problems| {
        list(1..=1_000, "site", |node, problems| {
            places.site(node, problems)
        })(node, problems)
    });
    places.all_read();
    let roads = fields.required("roads", |node, problems| {
        roads::roads(node, &places, problems)
    });

    let mut trucks = fleet::Trucks::new();
    fields.required("trucks", |node, problems| {
        list(1..=5_000, "truck", |node, problems| {
            trucks.read(node, &places, problems)
        })(node, problems)
    });
    let mut drivers = fleet::Drivers::new(&period);
    fields.required("drivers", |node, problems| {
        list(1..=10_000, "driver", |node, problems| {
            drivers.read(node, &trucks, (&mut books, rule_book), problems)
        })(node, problems)?;
        drivers.check(node, &trucks, problems)
    });

    let mut book = orders::Book::new(&period, &places, trucks.largest());
    let orders = fields.optional(
        "orders",
        |node, problems| {
            list(0..=100_000, "order", |node, problems| {
                book.order(node, problems)
            })(node, problems)
        },
        Vec::new(),
    );
    let mut slots: Vec<Order> = Vec::new();
    let drawn = fields.optional(
        "drawn",
        |node, problems| {
            let mut group = 0;
            list(0..=100, "list of drawn orders", |node, problems| {
                group += 1;
                let (drawn, orders) = book.drawn(node, group - 1, problems)?;
                slots.extend(orders);
                Some(drawn)
            })(node, problems)
        },
        Vec::new(),
    );
    let orders: Vec<Order> = orders.into_iter().chain(slots).collect();
    let loads = loads::of(&orders, &drawn, period.days);
    if loads > MOST_LOADS {
        let span = fields.place("orders").or(fields.place("drawn"));
        let title = format!("about {loads:.0} loads are asked for in the period");
        let label = format!("expected at most {MOST_LOADS:.0} (plantday help limits)");
        problems.add::<()>(Problem::new(span.unwrap_or(fields.opening()), title).label(label));
    }
    let endless = fields.optional(
        "endless",
        |node, problems| {
            list(0..=1_000, "endless order", |node, problems| {
                book.endless(node, problems)
            })(node, problems)
        },
        Vec::new(),
    );
    if let Some(roads) = &roads {
        book.check_roads(roads, problems);
    }
    let unwritten = |node: &Node| matches!(&node.kind, Kind::List(items) if items.is_empty());
    if [
        fields.node("orders"),
        fields.node("drawn"),
        fields.node("endless"),
    ]
    .iter()
    .all(|node| node.is_none_or(unwritten))
    {
        let span = fields
            .place("orders")
            .or(fields.place("drawn"))
            .or(fields.place("endless"))
            .unwrap_or(fields.opening());
        problems.add::<()>(
            Problem::new(span, "there are no orders")
                .label("expected at least one in `orders`, `drawn` or `endless`"),
        );
    }

    let changes = fields.block("changes", "changes block", changes::changes);
    let weighing = fields.maybe("weighing", |node, problems| {
        let roads = roads.as_ref().map(|roads| &roads.table);
        changes::weighing(node, roads, problems)
    });
    let (weighing, empty_weight) = weighing.unzip();
    let empty_weight = empty_weight.unwrap_or_else(|| EmptyWeight {
        mean_over_lb: fields.unwritten(&defaults::EMPTY_OVER_LB),
        sd_lb: fields.unwritten(&defaults::EMPTY_SD_LB),
    });
    let helpers = fields.optional(
        "helpers",
        |node, problems| changes::helpers(node, &places, &mut books, problems),
        Vec::new(),
    );
    places.check_map(&books, problems);
    let concrete = fields.block("concrete", "concrete block", |fields| {
        concrete::concrete(fields, problems)
    });
    let material = concrete.as_ref().and_then(|block| block.material.as_ref());
    book.check_mixes(material, problems);
    let yard = fields.block("yard", "yard", setting::yard);
    let money = fields.block("money", "block of prices", money::money);
    let rules = fields.required("rules", |node, problems| {
        rules::rules(node, &trucks, places.off_the_map(), problems)
    });
    let worlds = fields.optional(
        "worlds",
        |node, problems| worlds::worlds(node, &places, &period, problems),
        Vec::new(),
    );
    fields.finish();
    let trucks = trucks.into_list();
    let mut marks = problems.marks().clone();
    if trucks.iter().all(|truck| truck.breakdowns.is_none()) {
        marks.without(&money::OF_BREAKDOWNS);
    }

    Some(Scenario {
        name: name?,
        about,
        origin,
        measures,
        plants: plants?,
        sites: sites?,
        roads: roads?.table,
        trucks,
        drivers: drivers.into_list(),
        rules: rules?,
        worlds,
        period,
        rule_book,
        rule_sets: books.into_sets(),
        company,
        orders,
        drawn,
        endless,
        changes,
        weighing,
        empty_weight,
        helpers,
        concrete: concrete?,
        yard,
        money,
        one_breakdown: None,
        marks,
        ignored_columns: Vec::new(),
        table_notes: Vec::new(),
    })
}
