//! What stands in the scenario's tables and nobody reads.

use crate::scenario::Scenario;
use std::collections::BTreeMap;

pub(super) fn columns(scenario: &Scenario, doubts: &mut Vec<String>) {
    let mut by_table: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for (table, heading) in &scenario.ignored_columns {
        let headings = by_table.entry(table).or_default();
        headings.push(format!("\"{heading}\""));
    }
    for (table, headings) in by_table {
        let (columns, are) = match headings.len() {
            1 => ("column", "is"),
            _ => ("columns", "are"),
        };
        doubts.push(format!(
            "{table}: the {columns} {} {are} not read",
            headings.join(", ")
        ));
    }
    doubts.extend(scenario.table_notes.iter().cloned());
}
