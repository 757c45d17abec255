//! `plantday compare --part K/N`: one share of the replications, kept for `plantday join`.

use super::bar::{Bar, KEPT, stop_on_interrupt};
use super::compare::Compare;
use super::input::{Error, scenario};
use super::keeping::EVERY;
use super::output::print;
use super::study::Study;
use super::{FINE, INTERRUPTED, room};
use crate::montecarlo::{Journal, Watch};
use crate::report::number::count;
use crate::report::so_far::{self, Runs, open};
use crate::report::stderr::say;
use crate::report::{out_folder, shell};
use crate::studies::{Comparing, Part};
use indicatif::HumanDuration;
use std::path::Path;
use std::time::Instant;

/// Parts at most: each is a file, and a run of its own.
const MOST: u64 = 10_000;

/// `K/N`.
pub(super) fn numbers(text: &str) -> Result<Part, String> {
    let number = |text: &str| text.trim().parse::<u64>().ok();
    let part = text.split_once('/').and_then(|(nth, of)| {
        let (nth, of) = (number(nth)?, number(of)?);
        let fits = (1..=MOST).contains(&of) && (1..=of).contains(&nth);
        fits.then_some(Part { nth, of })
    });
    part.ok_or_else(|| {
        format!(
            "expected K/N, the K-th of N parts, such as 3/16: K from 1 to N, N at most {}",
            count(MOST)
        )
    })
}

/// Runs a part and keeps it.
pub(super) fn run(compare: &Compare, part: Part) -> Result<u8, Error> {
    let scenario = scenario(compare.shared.file())?;
    let folder = compare.shared.told.folder();
    out_folder::check(folder)?;
    let question = compare.question(&scenario)?;
    let asked = compare.asked_of(&scenario, &question, Some(part));
    let path = so_far::part(folder, "compare", part);
    if compare.resume.is_wanted() && path.exists() {
        let name = path.display();
        match open(&path) {
            Ok(kept) => {
                let differences = kept.asked.differences(&asked, "now");
                if !differences.is_empty() {
                    return Err(Error::Argument(format!(
                        "{name} is a part of another question: {}\n  \
                         expected the same question, or no --resume, to run the part anew",
                        differences.join("; ")
                    )));
                }
                if kept.reader.check().is_ok() {
                    say(format!("{name} is done already"));
                    return tell(part, folder, &path, question.replications);
                }
                say(format!("{name} is damaged: the part is run again"));
            }
            Err(reason) => say(format!("{name}: {reason}; the part is run again")),
        }
    }
    if let Some(word) = room::word(&scenario, compare.rows(&scenario) / part.of) {
        say(word);
    }
    let began = Instant::now();
    let mut comparing = Comparing::part(&scenario, &question, part);
    let mut runs = Runs::new(folder, "compare", asked);
    compare.resume.begin(&mut runs)?;
    let bar = Bar::new(Compare::COUNTED);
    let stop = stop_on_interrupt(KEPT);
    let show = |progress| bar.show(progress);
    let journal = Journal::new(&runs, EVERY, stop);
    comparing.run_part(part, Watch::new(&show, stop).keeping(Some(&journal)));
    bar.clear();
    let all = part.of(question.block.first(question.replications));
    let run = comparing.replications();
    if run.end < all.end {
        say(match run.is_empty() {
            true => "stopped before anything was done".to_owned(),
            false => format!(
                "{} of the {} replications of part {part} are done: the same command with --resume goes on from there",
                count(run.end - run.start),
                count(all.end - all.start)
            ),
        });
        return Ok(INTERRUPTED);
    }
    so_far::write_part(&path, runs.asked(), &comparing)?;
    runs.remove()?;
    say(format!("It took {}", HumanDuration(began.elapsed())));
    tell(part, folder, &path, question.replications)
}

/// Says which part is done, and what comes next.
fn tell(part: Part, folder: &Path, path: &Path, replications: u64) -> Result<u8, Error> {
    let these = part.of(0..replications);
    let count_of = count(these.end - these.start);
    let numbered = match these.end - these.start {
        1 => format!("number {}", these.start),
        _ => format!("numbers {} to {}", these.start, these.end - 1),
    };
    print(&format!(
        "Part {} of {} is done: {count_of} of {} replications, {numbered}.\n\
         It is kept in {}.\n\
         When all parts are there: plantday join {}\n",
        part.nth,
        part.of,
        count(replications),
        path.display(),
        shell::argument(&folder.display().to_string()),
    ))?;
    Ok(FINE)
}
