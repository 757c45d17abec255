//! An answer as JSON.

use super::Answer;
use super::table::{self, Table};
use crate::report::made_from;
use crate::units::measure;
use serde_json::{Map, Value, json};

/// The study's own part, and what all answers have:
///
/// ```text
/// {"study", "scenario", "made_from": {"plantday", "scenario_file", "built_in", "sha256"}, "decision", "sentences": [text], "tables": {name: [{column: value}]},
///  "charts": [{"name", "heading", "finding", "table"}], "notes": [text],
///  "assumptions": [{"what", "here", "whose", "source"}], "doubts": [text], "not_modeled": [text], "cautions": [text], "recipe", …}
/// ```
///
/// Tables have the columns of the CSV files of the same name; `charts` say which table holds the numbers that a chart shows. What
/// does not exist is `null`.
pub(super) fn json(answer: &Answer) -> Value {
    let mut all: Map<String, Value> = answer.own.clone().into_iter().map(named).collect();
    let mut own = |key: &str, value: Value| {
        all.entry(key).or_insert(value);
    };
    own("study", answer.study.into());
    own("scenario", answer.title.as_str().into());
    own("made_from", made_from::json(answer.origin.as_ref()));
    own("decision", answer.decision.as_str().into());
    own("sentences", json!(answer.sentences()));
    own("tables", tables(&answer.tables));
    let charts = answer.charts.iter().map(|chart| {
        json!({ "name": chart.name, "heading": chart.heading, "finding": chart.finding, "table": chart.table })
    });
    own("charts", charts.collect());
    own("notes", json!(answer.notes));
    let assumptions = answer
        .assumptions
        .iter()
        .map(|row| json!({ "what": row.what, "here": row.here, "whose": row.whose, "source": row.source }));
    own("assumptions", assumptions.collect());
    own("doubts", json!(answer.doubts));
    own("not_modeled", json!(answer.not_modeled));
    own("cautions", json!(answer.cautions));
    own("recipe", answer.recipe.as_str().into());
    Value::Object(all)
}

/// A key and what is under it, with the units of the scenario in all names.
fn named((key, value): (String, Value)) -> (String, Value) {
    let value = match value {
        Value::Object(map) => Value::Object(map.into_iter().map(named).collect()),
        Value::Array(list) => {
            let unnamed = list
                .into_iter()
                .map(|value| named((String::new(), value)).1);
            Value::Array(unnamed.collect())
        }
        value => value,
    };
    (measure::key(&key).0.into_owned(), value)
}

fn tables(tables: &[Table]) -> Value {
    let filed = tables.iter().filter(|table| table.json && table.is_filed());
    filed
        .map(|table| (table.name.to_owned(), rows(table)))
        .collect::<Map<String, Value>>()
        .into()
}

fn rows(table: &Table) -> Value {
    let rows = table.rows.iter().filter(|row| row.file).map(|row| {
        table
            .keys()
            .map(|(at, key, part)| {
                let value = match row.cells[at].part(part) {
                    table::Value::Text(text) => text.into(),
                    table::Value::Number(number) => number.into(),
                    table::Value::Blank => Value::Null,
                };
                (measure::key(key).0.into_owned(), value)
            })
            .collect::<Map<String, Value>>()
    });
    rows.map(Value::Object).collect()
}
