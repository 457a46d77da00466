//! The command line: all reading, writing, drawing and exit codes. Decides nothing about walls.

mod args;
mod baseline;
mod compare;
mod data;
mod draw;
mod files;
mod load;
mod office;
mod past;
mod proofread;
mod prove;
mod record;
mod revision;
mod tidy;
mod wall;
mod why;
mod write;
mod zones;

use std::ffi::OsString;
use std::io::Write as _;

use clap::Parser as _;

use crate::diagnostic::Diagnostic;

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// What was asked for was done; a set written "for review" counts.
    Done,
    /// The input was read and nothing could be made of it.
    NothingMade,
    /// Misuse, bad input, or the disk.
    Misused,
}

impl Exit {
    /// The code for the shell: 0, 1 or 2.
    pub fn code(self) -> u8 {
        match self {
            Self::Done => 0,
            Self::NothingMade => 1,
            Self::Misused => 2,
        }
    }
}

/// Why a verb did not do what was asked.
#[derive(Debug)]
struct Failure {
    exit: Exit,
    diagnostics: Vec<Diagnostic>,
}

impl Failure {
    fn misused(diagnostics: Vec<Diagnostic>) -> Self {
        Self { exit: Exit::Misused, diagnostics }
    }
}

impl From<files::FileMistake> for Failure {
    fn from(mistake: files::FileMistake) -> Self {
        Self::misused(vec![mistake.into()])
    }
}

/// What a verb has to say when it is done.
#[derive(Debug)]
struct Report {
    /// For the standard output.
    text: String,
    /// Remarks, for the standard error stream.
    remarks: Vec<Diagnostic>,
    exit: Exit,
}

/// Runs the program with these arguments, the program's name first.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> Exit {
    let command = match args::Command::try_parse_from(arguments) {
        Ok(command) => command,
        Err(error) => {
            let misused = error.use_stderr();
            let _ = error.print();
            return if misused { Exit::Misused } else { Exit::Done };
        }
    };
    let result = match command.verb {
        args::Verb::Write(write) => write::run(&write),
        args::Verb::Why(why) => why::run(&why),
        args::Verb::Prove(prove) => prove::run(&prove),
        args::Verb::Wall(wall) => wall::run(&wall),
        args::Verb::Proofread(asked) => proofread::run(&asked),
        args::Verb::Compare(compare) => compare::run(&compare),
        args::Verb::Tidy(tidy) => tidy::run(&tidy),
    };
    let (text, diagnostics, exit) = match result {
        Ok(report) => (report.text, report.remarks, report.exit),
        Err(failure) => (String::new(), failure.diagnostics, failure.exit),
    };
    // A closed pipe at the other end is no mistake of ours.
    let told = match command.diagnostics {
        args::Telling::Text => draw::draw(&diagnostics),
        args::Telling::Json => format!("{:#}\n", data::diagnostics(&diagnostics)),
    };
    let _ = std::io::stderr().lock().write_all(told.as_bytes());
    let _ = std::io::stdout().lock().write_all(text.as_bytes());
    exit
}
