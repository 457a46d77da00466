//! From paths to decisions: the book, the survey, the worked facts and the outcome.

use std::path::Path;
use std::sync::Arc;

use crate::cli::Failure;
use crate::cli::args::{Budget, Rulebook};
use crate::cli::files;
use crate::diagnostic::{Diagnostic, Source};
use crate::inference::{self, Outcome};
use crate::physics::climate;
use crate::rulebook::{self, book::Book};
use crate::survey::{self, Survey};
use crate::wall::{self, facts::ZoneFacts};

/// A survey read against a book and decided.
#[derive(Debug)]
pub(super) struct Decided {
    pub(super) book: Book,
    pub(super) survey: Survey,
    pub(super) facts: Vec<ZoneFacts>,
    pub(super) outcome: Outcome,
    pub(super) remarks: Vec<Diagnostic>,
}

/// Reads the book: built in, from a folder, or a firm's folder over the one that is built in.
pub(super) fn book(rulebook: &Rulebook) -> Result<(Book, Vec<Diagnostic>), Failure> {
    match &rulebook.rulebook {
        None => checked(rulebook::read(&files::trade_book())),
        Some(folder) => of_sources(&files::read_rulebook(folder).map_err(Failure::misused)?),
    }
}

/// Reads a book from its files; a firm's over the trade book that is built in.
pub(super) fn of_sources(sources: &[Arc<Source>]) -> Result<(Book, Vec<Diagnostic>), Failure> {
    checked(if rulebook::is_house(sources) {
        rulebook::read_over(&files::trade_book(), sources)
    } else {
        rulebook::read(sources)
    })
}

fn checked(
    (book, mut diagnostics): (Option<Book>, Vec<Diagnostic>),
) -> Result<(Book, Vec<Diagnostic>), Failure> {
    if let Some(book) = &book {
        diagnostics.extend(wall::check(book));
    }
    whole(book, diagnostics)
}

/// A survey read against a book, with the weather that lies beside it.
pub(super) fn read(path: &Path, rulebook: &Rulebook) -> Result<(Book, Survey, Vec<Diagnostic>), Failure> {
    let source = files::read(path)?;
    let (book, mut remarks) = book(rulebook)?;
    let (survey, diagnostics) = survey::read(&source, &book);
    let (survey, more) = whole(survey, diagnostics)?;
    remarks.extend(more);
    let survey = with_weather(survey, path, &mut remarks)?;
    Ok((book, survey, remarks))
}

/// Reads the file of weather that the survey names, if it names one.
pub(super) fn with_weather(
    survey: Survey,
    path: &Path,
    remarks: &mut Vec<Diagnostic>,
) -> Result<Survey, Failure> {
    let Some(weather) = &survey.job.weather else { return Ok(survey) };
    let file = path.parent().unwrap_or(Path::new("")).join(&weather.file);
    let source = files::read(&file)
        .map_err(|mistake| Failure::misused(vec![Diagnostic::error(&mistake, weather.place.clone())]))?;
    let (year, diagnostics) = climate::read(&source);
    let (year, more) = whole(year, diagnostics)?;
    remarks.extend(more);
    Ok(survey.with_weather(&year, &source))
}

/// Reads and decides.
pub(super) fn decide(path: &Path, rulebook: &Rulebook) -> Result<Decided, Failure> {
    let (book, survey, mut remarks) = read(path, rulebook)?;
    let facts = wall::work(&survey, &book);
    let outcome = inference::infer(&book, &survey, &facts);
    let stands = |zone: usize, what: &survey::Released| outcome.stands(&book, zone, what);
    let ((), more) = whole(Some(()), survey::check_releases(&survey, &book, &stands))?;
    remarks.extend(more);
    remarks.extend(inference::idle_answers(&book, &survey, &facts, &outcome));
    Ok(Decided { book, survey, facts, outcome, remarks })
}

/// A value with its remarks, or every mistake.
fn whole<T>(value: Option<T>, diagnostics: Vec<Diagnostic>) -> Result<(T, Vec<Diagnostic>), Failure> {
    match value {
        Some(value) if !diagnostics.iter().any(Diagnostic::is_error) => Ok((value, diagnostics)),
        _ => Err(Failure::misused(diagnostics)),
    }
}

/// Dead ends that the solver runs into in a second on a common machine. Counting them instead of time gives the same
/// answer everywhere.
const DEAD_ENDS_A_SECOND: u64 = 10_000;

/// How many dead ends a budget allows.
pub(super) fn dead_ends(budget: Budget) -> u64 {
    budget.0.saturating_mul(DEAD_ENDS_A_SECOND)
}
