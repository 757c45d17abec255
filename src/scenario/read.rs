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
use super::problem::{Faults, Problem, Problems};
use super::tables;
use super::tree::{self, Kind, Node};
use super::{Order, Origin, Scenario};
use crate::concrete::EmptyWeight;
use crate::hours::RuleSet;

/// Files larger than this, in bytes, are no scenarios.
const LARGEST_FILE: u64 = 64 << 20;

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
    /// The file is far larger than any scenario.
    #[error("{} has {bytes} bytes, expected at most {LARGEST_FILE}", path.display())]
    TooLarge {
        /// As given.
        path: PathBuf,
        /// Its size.
        bytes: u64,
    },
    /// What is written in it is wrong.
    #[error("{0}")]
    Faults(#[from] Box<Faults>),
}

/// Reads and checks a scenario file.
///
/// # Errors
/// If the file cannot be read, is larger than 64 MiB, is not UTF-8, or holds anything that is not a valid scenario.
pub fn read(path: &Path) -> Result<Scenario, ReadError> {
    let text = read_text(path)?;
    let folder = path.parent().unwrap_or(Path::new(""));
    parse_in(&path.display().to_string(), &text, Some(folder)).map_err(ReadError::Faults)
}

/// The text of a file that a user wrote.
///
/// # Errors
/// If it cannot be read, is larger than 64 MiB, or is not UTF-8.
pub(super) fn read_text(path: &Path) -> Result<String, ReadError> {
    String::from_utf8(read_bytes(path)?)
        .map_err(|error| ReadError::Faults(Box::new(not_text(&path.display().to_string(), &error))))
}

/// The bytes of a file that a user wrote.
///
/// # Errors
/// If it cannot be read, or is larger than 64 MiB.
pub(super) fn read_bytes(path: &Path) -> Result<Vec<u8>, ReadError> {
    let failed = |source: std::io::Error| ReadError::File {
        hint: match source.kind() {
            ErrorKind::NotFound => other_files::beside(path),
            _ => String::new(),
        },
        path: path.to_owned(),
        source,
    };
    let bytes = std::fs::metadata(path).map_err(failed)?.len();
    if bytes > LARGEST_FILE {
        return Err(ReadError::TooLarge {
            path: path.to_owned(),
            bytes,
        });
    }
    std::fs::read(path).map_err(failed)
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
    let mut sources = Vec::new();
    let scenario = match tree::parse(text) {
        Ok(mut node) => {
            sources = tables::put_in(&mut node, file, text, folder, &problems);
            let texts: Vec<&str> = sources.iter().map(|source| source.text.as_str()).collect();
            scenario(&node, Origin::of(file, &texts), &problems)
        }
        Err(found) => problems.add_all(other_files::explained(text, found)),
    };
    match scenario {
        Some(mut scenario) if problems.is_empty() => {
            scenario.ignored_columns = problems.ignored(&sources);
            Ok(scenario)
        }
        _ => {
            let mut faults = problems.into_faults(file, text);
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
    let mut fields = Fields::of(node, "scenario", problems)?;
    let name = fields.required("name", name);
    let about = fields.optional("about", prose, String::new());
    let period = fields.optional("period", setting::period, setting::one_day());
    let mut books = rule_books::Books::default();
    fields.maybe("rule_books", |node, problems| books.read(node, problems));
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

    Some(Scenario {
        name: name?,
        about,
        origin,
        plants: plants?,
        sites: sites?,
        roads: roads?.table,
        trucks: trucks.into_list(),
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
        marks: problems.marks().clone(),
        ignored_columns: Vec::new(),
    })
}
