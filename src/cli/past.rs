//! Surveys that were made: from their files, or from the records of sets, which hold the text of the survey and the months
//! of its weather.

use std::path::PathBuf;
use std::sync::Arc;

use miette::Diagnostic as MietteDiagnostic;
use serde_json::Value;
use thiserror::Error;

use crate::cli::{Failure, files, load};
use crate::diagnostic::{Diagnostic, Source};
use crate::physics::climate::MonthMean;
use crate::rulebook::book::Book;
use crate::survey::{self, Survey, YearOfMonths};

#[derive(Debug, Error, MietteDiagnostic)]
enum RecordMistake {
    #[error("`{0}` is no record to read a survey from: {1}")]
    #[diagnostic(
        code(CI021),
        help("name the `record.json` of a set, or the survey that it was written from")
    )]
    NoRecord(String, String),
}

/// A survey that was made.
#[derive(Debug)]
pub(super) struct Past {
    /// The file it was found in.
    pub(super) path: PathBuf,
    /// Its text.
    source: Arc<Source>,
    /// Where it comes from a record.
    pub(super) record: Option<Recorded>,
}

/// What a record says beside the survey.
#[derive(Debug)]
pub(super) struct Recorded {
    /// The book that decided it then: title, edition, digest.
    pub(super) book: [String; 3],
    months: Vec<MonthMean>,
    weather: String,
}

/// The surveys and records named, and those of the folders named.
pub(super) fn found(paths: &[PathBuf]) -> Result<Vec<Past>, Failure> {
    let mut found = Vec::new();
    for path in paths {
        let inside = if path.is_dir() { files::surveys_and_records(path)? } else { vec![path.clone()] };
        for path in inside {
            found.push(one(path)?);
        }
    }
    Ok(found)
}

fn one(path: PathBuf) -> Result<Past, Failure> {
    let source = files::read(&path)?;
    if path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("json")) {
        let (source, record) = of_record(&source).map_err(|why| {
            let mistake = RecordMistake::NoRecord(source.name.clone(), why);
            Failure::misused(vec![Diagnostic::error(&mistake, None)])
        })?;
        return Ok(Past { path, source, record: Some(record) });
    }
    Ok(Past { path, source, record: None })
}

/// The survey that a record holds.
fn of_record(source: &Arc<Source>) -> Result<(Arc<Source>, Recorded), String> {
    let record: Value = serde_json::from_str(&source.text).map_err(|error| error.to_string())?;
    if record.get("record").is_none() {
        return Err("it does not begin with `\"record\": 1`".to_owned());
    }
    let text = record.pointer("/survey/text").and_then(Value::as_str);
    let text = text.ok_or("it holds no text of its survey; an older program wrote it")?;
    let said = |pointer: &str| record.pointer(pointer).and_then(Value::as_str).unwrap_or_default().to_owned();
    let book = ["/rulebook/title", "/rulebook/edition", "/rulebook/sha256"].map(said);
    let months = record.pointer("/weather/months").and_then(Value::as_array);
    let months = months.into_iter().flatten().map(month).collect::<Option<Vec<_>>>();
    let months = months.ok_or("a month of its weather lacks a figure")?;
    let recorded = Recorded { book, months, weather: said("/weather/name") };
    Ok((Source::new(format!("{}, its survey", source.name), text), recorded))
}

/// The survey of an issue before, as the record of this one keeps it.
pub(super) fn of_issue(record: &Value) -> Option<Past> {
    let source = Source::new("the record of the issue before", record.to_string());
    let (survey, recorded) = of_record(&source).ok()?;
    Some(Past { path: PathBuf::from(&source.name), source: survey, record: Some(recorded) })
}

/// A month as [`month_as_data`] writes it.
fn month(said: &Value) -> Option<MonthMean> {
    let figure = |name: &str| said.get(name).and_then(Value::as_f64);
    Some(MonthMean {
        month: u8::try_from(said.get("month")?.as_u64()?).ok()?,
        hours: usize::try_from(said.get("hours")?.as_u64()?).ok()?,
        celsius: figure("celsius")?,
        pressure: figure("pascal")?,
        humidity: figure("humidity")?,
        rain: figure("rain"),
    })
}

/// A month as a record keeps it.
pub(super) fn month_as_data(month: &MonthMean) -> Value {
    serde_json::json!({
        "month": month.month,
        "hours": month.hours,
        "celsius": month.celsius,
        "pascal": month.pressure,
        "humidity": month.humidity,
        "rain": month.rain,
    })
}

impl Past {
    /// The survey as either book takes it. A book that does not ask all of its questions takes what it asks; the words
    /// say so.
    pub(super) fn by(
        &self,
        old: &Book,
        new: &Book,
    ) -> Result<(Survey, Survey, Option<&'static str>), Failure> {
        match (self.read(old), self.read(new)) {
            (Ok(before), Ok(after)) => Ok((before, after, None)),
            (Err(_), Ok(after)) => {
                let note = "it answers what the old book does not ask; that is left out there";
                Ok((after.over(new, old), after, Some(note)))
            }
            (Ok(before), Err(_)) => {
                let note = "it answers what the new book does not ask; that is left out there";
                let after = before.over(old, new);
                Ok((before, after, Some(note)))
            }
            (Err(_), Err(failure)) => Err(failure),
        }
    }

    /// The survey as one book takes it.
    pub(super) fn read(&self, book: &Book) -> Result<Survey, Failure> {
        let (survey, diagnostics) = survey::read(&self.source, book);
        let survey = match survey {
            Some(survey) if !diagnostics.iter().any(Diagnostic::is_error) => survey,
            _ => return Err(Failure::misused(diagnostics)),
        };
        match &self.record {
            None => load::with_weather(survey, &self.path, &mut Vec::new()),
            Some(record) => Ok(self.with_months(survey, record)),
        }
    }

    fn with_months(&self, mut survey: Survey, record: &Recorded) -> Survey {
        if let (Some(weather), false) = (&mut survey.job.weather, record.months.is_empty()) {
            let (name, months) = (record.weather.clone(), record.months.clone());
            weather.year = Some(YearOfMonths { name, months, source: Arc::clone(&self.source) });
        }
        survey
    }
}
