//! An answer as screen, page, CSV, JSON and workbook, and these as files.

use super::{Answer, Chart, Content, Table, csv, json, page, terminal, xlsx};
use crate::report::files::{FileError, Fill};
use crate::report::out_folder;
use crate::units::measure;
#[cfg(feature = "png")]
use rayon::iter::{IntoParallelRefIterator, ParallelExtend, ParallelIterator};
use serde_json::Value;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A file of an answer.
#[derive(Debug)]
pub enum File<'a> {
    /// A table, as CSV.
    Table(&'a Table),
    /// The whole answer, as JSON.
    Json(&'a Answer),
    /// Its page.
    Page(&'a Answer),
    /// A chart, as PNG.
    Picture(Vec<u8>),
    /// A chart, as SVG.
    Chart(&'a Chart),
    /// What the study brings besides.
    Beside(&'a Content),
    /// The whole answer, for a spreadsheet program.
    Workbook(&'a Answer),
}

impl Fill for File<'_> {
    fn fill(&self, to: &mut dyn Write) -> io::Result<()> {
        match self {
            Self::Table(table) => csv::write(table, to),
            Self::Json(answer) => {
                serde_json::to_writer_pretty(&mut *to, &answer.json())?;
                to.write_all(b"\n")
            }
            Self::Page(answer) => to.write_all(answer.page_html().as_bytes()),
            Self::Picture(bytes) => to.write_all(bytes),
            Self::Chart(chart) => to.write_all(chart.svg.as_bytes()),
            Self::Beside(content) => content.fill(to),
            Self::Workbook(answer) => to.write_all(&answer.workbook()),
        }
    }
}

impl Answer {
    /// The answer for a terminal of this width. To be printed through `anstream`.
    pub fn terminal(&self, width: u16) -> String {
        let _spoken = measure::speak(self.measures);
        terminal::terminal(self, width)
    }

    /// The answer as one JSON object.
    pub fn json(&self) -> Value {
        let _spoken = measure::speak(self.measures);
        json::json(self)
    }

    /// One of its tables as CSV.
    ///
    /// # Panics
    /// If there is no such table.
    pub fn csv(&self, table: &str) -> String {
        let _spoken = measure::speak(self.measures);
        let mut text = Vec::new();
        csv::write(self.table(table), &mut text).expect("writing to memory does not fail");
        String::from_utf8(text).expect("a table is text")
    }

    /// The answer's page.
    pub fn page_html(&self) -> String {
        let _spoken = measure::speak(self.measures);
        page::whole(self)
    }

    /// Every file of the answer, by name; each is made when it is written, but for the pictures.
    ///
    /// # Panics
    /// If the numbers of a chart are in no file: each chart names a table that is written as CSV.
    pub fn files(&self) -> Vec<(String, File<'_>)> {
        for chart in &self.charts {
            assert!(
                self.table(chart.table).is_filed(),
                "the numbers of the chart {} are in no file",
                chart.name
            );
        }
        let filed = self.tables.iter().filter(|table| table.is_filed());
        let mut all: Vec<(String, File<'_>)> = filed
            .map(|table| (table.file_name(), File::Table(table)))
            .collect();
        all.push((self.json_name(), File::Json(self)));
        if self.beside.iter().all(|(name, _)| name != self.page) {
            all.push((self.page.to_owned(), File::Page(self)));
        }
        // Each is drawn by itself, and to draw them takes as long as many runs.
        #[cfg(feature = "png")]
        all.par_extend(self.charts.par_iter().map(|chart| {
            let drawn = crate::report::chart::png(&chart.svg, 2.0);
            let drawn = drawn.expect("a chart of our own is valid SVG");
            (format!("{}.png", chart.name), File::Picture(drawn))
        }));
        let charts = self.charts.iter();
        all.extend(charts.map(|chart| (format!("{}.svg", chart.name), File::Chart(chart))));
        let beside = self.beside.iter();
        all.extend(beside.map(|(name, content)| (name.clone(), File::Beside(content))));
        all
    }

    /// Writes every file of the answer into a folder, the workbook too if it is asked for, in place of an older answer of the same
    /// study, and says where its page is: if files of others stand in the way, in a folder within.
    ///
    /// # Errors
    /// The first file that could not be written, or the folder holds what plantday has not written.
    pub fn write(&self, folder: &Path, workbook: bool) -> Result<PathBuf, FileError> {
        let mut files = self.files();
        if workbook {
            files.push((self.workbook_name(), File::Workbook(self)));
        }
        // A table that is written now tells its headings now.
        let _spoken = measure::speak(self.measures);
        let written = out_folder::write(folder, self.study, &files)?;
        Ok(written.join(self.page))
    }

    /// The answer as a workbook for a spreadsheet program.
    pub fn workbook(&self) -> Vec<u8> {
        let _spoken = measure::speak(self.measures);
        xlsx::workbook(self)
    }

    /// The file of the workbook.
    pub fn workbook_name(&self) -> String {
        format!("{}.xlsx", self.study)
    }

    pub(super) fn json_name(&self) -> String {
        format!("{}.json", self.study)
    }

    /// The CSV files.
    pub(super) fn number_files(&self) -> impl Iterator<Item = String> {
        let tables = self.tables.iter().filter(|table| table.is_filed());
        let beside = self.beside.iter().map(|(name, _)| name);
        tables
            .map(Table::file_name)
            .chain(beside.filter(|name| name.ends_with(".csv")).cloned())
    }
}
