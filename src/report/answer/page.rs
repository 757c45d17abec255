//! The page of an answer: one file that works from the disk, offline, and prints. Decision first.

use super::table::{Cell, Column, Row, Table};
use super::{Answer, Block, Section};
use crate::report::document::{document, unbroken};
use crate::report::made_from;
use crate::report::summary::DOUBTFUL;
use crate::report::table::Align;
use maud::{Markup, PreEscaped, html};

/// The page as HTML text.
pub(super) fn whole(answer: &Answer) -> String {
    let content = html! {
        h1 { (answer.title) }
        @if !answer.about.is_empty() { p.about { (answer.about) } }
        div.decision {
            p { (unbroken(&answer.decision)) }
            @for sentence in &answer.lead { p { (unbroken(sentence)) } }
        }
        @for part in &answer.sections { (section(answer, part)) }
        @if !answer.notes.is_empty() {
            h2 { "How to read it" }
            (list(&answer.notes))
        }
        @if !answer.doubts.is_empty() {
            h2 { (DOUBTFUL) }
            (list(&answer.doubts))
        }
        (assumed(answer))
        @if !answer.not_modeled.is_empty() {
            h2 { "What is not modeled" }
            (list(&answer.not_modeled))
        }
        h2 { "Cautions" }
        (list(&answer.cautions))
        (recipe(answer))
    };
    document(&answer.page_title, &content)
}

fn section(answer: &Answer, section: &Section) -> Markup {
    html! {
        section {
            @if !section.heading.is_empty() { h2 { (section.heading) } }
            @for part in &section.blocks { (block(answer, part)) }
        }
    }
}

fn block(answer: &Answer, block: &Block) -> Markup {
    html! {
        @match block {
            Block::Heading(heading) => { h3 { (heading) } }
            Block::Text(text) => { p { (unbroken(text)) } }
            Block::Note(text) => { p.note { (unbroken(text)) } }
            Block::List(items) => { (list(items)) }
            Block::Table(name) => { (table(answer.table(name))) }
            Block::Chart(name) => { figure { (PreEscaped(&answer.chart(name).svg)) } }
            Block::Code(code) => { p { code { (code) } } }
            Block::Lines(lines) => { pre { (lines.join("\n")) } }
            Block::Link { words, file, after } => { p { a href=(file) { (words) } (after) } }
        }
    }
}

fn list(items: &[String]) -> Markup {
    html! { ul { @for item in items { li { (unbroken(item)) } } } }
}

/// A table, as every page shows it.
pub(in crate::report) fn table(table: &Table) -> Markup {
    let columns: Vec<(usize, &Column)> = table
        .columns
        .iter()
        .enumerate()
        .filter(|(_, column)| column.page)
        .collect();
    // The first column is on the left by itself.
    let left =
        |at: usize, column: &Column| (at > 0 && column.align == Align::Left).then_some("left");
    let row = |row: &Row| {
        html! {
            tr.marked[row.marked] {
                @for (at, column) in &columns { td class=[left(*at, column)] { (cell(&row.cells[*at])) } }
            }
        }
    };
    html! {
        div.wide {
            table {
                thead { tr { @for (at, column) in &columns { th class=[left(*at, column)] { (column.heading) } } } }
                tbody { @for one in table.rows.iter().filter(|row| row.page) { (row(one)) } }
            }
        }
    }
}

/// A cell; a number stays on its line, and its interval on one.
fn cell(cell: &Cell) -> Markup {
    let (words, interval) = cell.parts();
    html! {
        @if matches!(cell, Cell::Text(_)) { (unbroken(&words)) } @else { span.amount { (words) } }
        @if let Some(interval) = interval { " " span.interval { "(" (unbroken(&interval)) ")" } }
    }
}

fn assumed(answer: &Answer) -> Markup {
    html! {
        @if !answer.assumptions.is_empty() {
            h2 { "What was assumed" }
            div.wide {
                table.words.assumed {
                    thead { tr { th { "what" } th { "here" } th { "whose" } th { "where the usual value comes from" } } }
                    tbody {
                        @for row in &answer.assumptions {
                            tr { td { (row.what) } td { (unbroken(&row.here)) } td { (row.whose) } td { (row.source) } }
                        }
                    }
                }
            }
        }
    }
}

/// What gives the same bytes again, and where every number is.
fn recipe(answer: &Answer) -> Markup {
    let json = answer.json_name();
    let files: Vec<String> = answer.number_files().chain([json]).collect();
    html! {
        h2 { "How to get this answer again" }
        (made_from::markup(&answer.title, answer.origin.as_ref()))
        p { code { (answer.recipe) } }
        p.note { "The number of threads changes nothing. Every number of this page is in " (listed(&files)) "." }
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(in crate::report) fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
