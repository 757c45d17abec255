//! `plantday now`.

use super::FINE;
use super::input::{Error, scenario};
use super::numbers::whole;
use super::output::print;
use crate::report::files;
use crate::scenario::day_state::{self, CALLS, DayState, Doing, Unsaid};
use crate::scenario::input_file;
use crate::scenario::{ReadError, Scenario};
use crate::units::Millis;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Keep a file of how things stand by what drivers call in; without a call, tell how things stand
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Examples:\n  plantday now now.ron --scenario scenarios/estuary_week.ron \"Abel N1\" in 06:02 week 30\n  \
plantday now now.ron \"Abel N1\" loading \"Boatyard, wall\" 06:40\n  plantday now now.ron \"Abel N1\" out 06:52 , \"Emil N5\" free 06:55\n  \
plantday now now.ron order \"Clinic, mat\" cancelled\n  plantday now now.ron plant \"North quay\" down 07:10 until 08:00\n\n\
Calls: in, free, promised, sent, queue, loading, rack, out, site, unloading, washing, back, pause, break, down, going, stuck, \
resting, washout, off, driven. Several with a comma between.\n\
Then: plantday trip SCENARIO --state now.ron …"
)]
pub(super) struct Now {
    /// The file; it is made if there is none, with --scenario
    file: PathBuf,
    /// A driver, what was called in, and when; or order NAME cancelled, ordered VOLUME or later MINUTES; or plant NAME down TIME until TIME,
    /// or up; or traffic TIMES
    #[arg(value_name = "CALL")]
    words: Vec<String>,
    /// The scenario; the file keeps its name
    #[arg(long, value_name = "FILE")]
    scenario: Option<PathBuf>,
    /// The day of the period, 1 for the first, of a file that is made
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = whole::<u32>(1..=28))]
    day: u32,
}

impl Now {
    pub(super) fn run(&self) -> Result<u8, Error> {
        let text = match input_file::read(&self.file) {
            Ok(bytes) => Some(String::from_utf8_lossy(&bytes).into_owned()),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(source) => {
                return Err(Error::Scenario(ReadError::File {
                    path: self.file.clone(),
                    source,
                    hint: String::new(),
                }));
            }
        };
        let named = text.as_deref().and_then(day_state::scenario_of);
        let folder = self.file.parent().unwrap_or(Path::new(""));
        let path = match (&self.scenario, &named) {
            (Some(path), _) => path.clone(),
            (None, Some(named)) => folder.join(named),
            (None, None) => {
                return Err(Error::Argument(format!(
                    "{} does not say which scenario it belongs to\n  expected --scenario FILE",
                    self.file.display()
                )));
            }
        };
        let scenario = scenario(Some(&path))?;
        let mut state = match &text {
            Some(_) => day_state::read(&self.file, &scenario)?,
            None => self.new_state(&scenario)?,
        };
        if self.scenario.is_some() || state.scenario.is_none() {
            // As found from the folder of the file.
            let found = match folder == Path::new("") {
                true => path.clone(),
                false => std::path::absolute(&path)?,
            };
            state.scenario = Some(found.display().to_string());
        }
        let mut said = String::new();
        for call in self.words.split(|word| word == ",") {
            if call.is_empty() {
                continue;
            }
            let line = day_state::call(&mut state, &scenario, call).map_err(Error::Argument)?;
            said += &format!("{line}\n");
        }
        if self.words.is_empty() {
            print(&board(&state, &scenario))?;
            return Ok(FINE);
        }
        // Kept by hand from now on.
        state.simulated = None;
        let kept = state.to_text(&scenario).map_err(Error::Argument)?;
        // What contradicts the rest is found before it is kept.
        let name = self.file.display().to_string();
        day_state::parse(&name, &kept, &scenario).map_err(ReadError::Faults)?;
        files::write(&self.file, kept.as_bytes())?;
        print(&said)?;
        Ok(FINE)
    }

    fn new_state(&self, scenario: &Scenario) -> Result<DayState, Error> {
        if self.scenario.is_none() || self.words.is_empty() {
            return Err(Error::Argument(format!(
                "{} is not there\n  expected --scenario FILE and what is called in first, to make it",
                self.file.display()
            )));
        }
        if !(1..=scenario.period.days).contains(&self.day) {
            return Err(Error::Argument(format!(
                "--day {} is not in the period\n  expected 1 to {}",
                self.day, scenario.period.days
            )));
        }
        Ok(DayState {
            at: Millis::midnight(i64::from(self.day) - 1),
            rain: false,
            drivers: Vec::new(),
            orders: Vec::new(),
            orders_as_planned: false,
            scenario: None,
            simulated: None,
            plants: Vec::new(),
            traffic: None,
            unsaid: Vec::new(),
        })
    }
}

/// Who is where, one line a driver.
fn board(state: &DayState, scenario: &Scenario) -> String {
    let time = state.at - Millis::midnight(state.at.day());
    let mut text = format!("Day {}, {time}\n", state.at.day() + 1);
    let follows = |driver| state.unsaid.contains(&(driver, Unsaid::Anything));
    for of in state.drivers.iter().filter(|of| of.doing != Doing::Off) {
        if !follows(of.driver) {
            text += &format!("{}\n", day_state::told(of, scenario));
        }
    }
    let roster = state.drivers.iter().filter(|of| follows(of.driver)).count();
    if roster > 0 {
        text += &format!("{roster} drivers are not in the file and follow the roster\n");
    }
    for of in &state.plants {
        let since = of.since - Millis::midnight(of.since.day());
        text += &format!(
            "{}: down since {since}\n",
            scenario.plants[of.plant.at()].name
        );
    }
    let calls: Vec<&str> = CALLS.iter().map(|(call, _)| *call).collect();
    let (first, rest) = calls.split_at(calls.len() / 2);
    text + &format!("Calls: {},\n       {}\n", first.join(", "), rest.join(", "))
}
