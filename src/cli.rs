//! The command line: arguments in, study called, report out. One file per command.

mod bar;
mod best;
mod causes;
mod check;
mod compare;
mod completions;
mod fleet;
mod given;
mod habits;
mod help;
mod holds;
mod hours;
mod input;
mod join;
mod judged;
mod keeping;
mod man;
mod new;
mod now;
mod numbers;
mod output;
mod part;
mod replay;
mod room;
mod sources;
mod staff;
mod study;
mod tickets;
mod tomorrow;
mod trip;
mod tune;
mod verify;

use clap::{CommandFactory, FromArgMatches, Parser, Subcommand};
use given::Given;
use input::Error;
use std::process::ExitCode;

/// Everything is as asked.
const FINE: u8 = 0;
/// The study ran, but a target is not met, or a check disagrees.
const NOT_MET: u8 = 1;
/// Usage or input is wrong.
const BAD_INPUT: u8 = 2;
/// Interrupted; what was done is shown.
const INTERRUPTED: u8 = 130;

/// Simulates days at ready-mixed concrete plants and shows what dispatch rules cause.
#[derive(Debug, Parser)]
#[command(
    name = "plantday",
    version,
    about,
    max_term_width = 100,
    arg_required_else_help = true,
    disable_help_subcommand = true
)]
#[command(
    after_help = "A plan is no permission: local codes, hours-of-service rules and the carrier's own records decide."
)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Run dispatch rules on the same days and say which to run, what it saves, and how sure that is
    Compare(compare::Compare),
    /// Put the parts of a comparison together that were run apart, to the answer of one run
    Join(join::Join),
    /// Play one simulated run again, exactly: what every truck did, why loads came late, as a moving map
    Replay(replay::Replay),
    /// Run the same days with one thing changed at a time and say what that is worth
    Causes(causes::Causes),
    /// Take the difference of two rules apart: what each decision in which they differ brings
    Habits(habits::Habits),
    /// Put the best rule together from the decisions that the scenario's rules take
    Best(best::Best),
    /// Try a decision in changed worlds: where does another rule win, and which price turns it round?
    Holds(holds::Holds),
    /// Search the parameters of a rule for the cheapest setting that meets service targets
    Tune(tune::Tune),
    /// Size the fleet for one pour: trucks against the chance of a gap, waiting and cost
    Fleet(fleet::Fleet),
    /// Make the staffing case: head count, start pattern and overtime against cost and service
    Staff(staff::Staff),
    /// Answer a question of the hour: may this load go, until when may who load, can we take this order, who picks up a stranded driver
    Trip(trip::Trip),
    /// Keep a file of how things stand by what drivers call in
    Now(now::Now),
    /// Find the spreads of loading, travel and unloading in past tickets
    Tickets(tickets::Tickets),
    /// Check a scenario file and list every problem in it
    Check(check::Check),
    /// List every default with its source and, of a scenario, which values are its own
    Sources(sources::Sources),
    /// Judge drivers' duty logs by an hours-of-service rule book
    Hours(hours::Hours),
    /// Check the program on this machine against queueing theory, regulations, published tables and days worked out on paper
    Verify(verify::Verify),
    /// Write a scenario to begin with: commented text, a workbook, or made of your tables
    New(new::New),
    /// Explain a topic (scenario, spreads, scenarios, rules, reading, simulated, tables, units, tickets, hours, state, concrete, parts, limits), or list a command's options
    Help(help::Help),
    /// Print a script that completes commands and options in a shell
    Completions(completions::Completions),
    /// Write man pages, one for each command, into a folder
    Man(man::Man),
}

/// Parses the arguments, carries out the command and returns the exit code: 0 fine, 1 a target not met, 2 bad usage or input, 130 interrupted.
pub fn run() -> ExitCode {
    let mut command = Arguments::command();
    let parsed = command.try_get_matches_from_mut(std::env::args_os());
    let parsed = parsed.and_then(|matches| {
        let given = Given::of(&command, &matches);
        Ok((Arguments::from_arg_matches(&matches)?, given))
    });
    let (arguments, given) = match parsed {
        Ok(parsed) => parsed,
        // What is asked for, as --help, is an answer: if it cannot be written, that is said.
        Err(told) if !told.use_stderr() => {
            let printed = output::print(&told.render().ansi().to_string());
            return ended(printed.map(|()| FINE).map_err(Error::from));
        }
        Err(wrong) => wrong.exit(),
    };
    ended(match arguments.command {
        Command::Compare(compare) => compare.run(&given),
        Command::Join(join) => join.run(&given),
        Command::Replay(replay) => replay.run(&given),
        Command::Causes(causes) => causes.run(&given),
        Command::Habits(habits) => study::run(&habits, &given),
        Command::Best(best) => study::run(&best, &given),
        Command::Holds(holds) => study::run(&holds, &given),
        Command::Tune(tune) => study::run(&tune, &given),
        Command::Fleet(fleet) => study::run(&fleet, &given),
        Command::Staff(staff) => study::run(&staff, &given),
        Command::Trip(trip) => trip.run(&given),
        Command::Now(now) => now.run(),
        Command::Tickets(tickets) => tickets.run(&given),
        Command::Check(check) => check.run(),
        Command::Sources(sources) => sources.run(),
        Command::Hours(hours) => hours.run(),
        Command::Verify(verify) => verify.run(),
        Command::New(new) => new.run(),
        Command::Help(help) => help.run(),
        Command::Completions(completions) => completions.run(),
        Command::Man(man) => man.run(),
    })
}

/// The exit code, and what is wrong on standard error.
fn ended(outcome: Result<u8, Error>) -> ExitCode {
    match outcome {
        Ok(code) => ExitCode::from(code),
        Err(error) => {
            error.print();
            ExitCode::from(BAD_INPUT)
        }
    }
}
