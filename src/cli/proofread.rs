//! `perpend proofread`: papers that were written earlier, and edited since, read with a proofreader's eye.

mod told;

use std::path::Path;
use std::sync::Arc;

use serde_json::{Value, json};

use crate::cli::args::Proofread;
use crate::cli::files::{self, FileMistake};
use crate::cli::{Exit, Failure, Report};
use crate::diagnostic::{Diagnostic, Source};
use crate::document;
use crate::proofread::{self, About, Finding, Paper, Rules, Waiver};
use crate::rulebook::book::Book;

/// The file of waivers in a rulebook's folder or beside a survey.
pub(super) const WAIVERS: &str = "proofreading.yaml";

/// Reads the papers of a folder and says what is wrong with them.
pub(super) fn run(asked: &Proofread) -> Result<Report, Failure> {
    let rules = rules()?;
    let (papers, others): (Vec<Paper>, Vec<Paper>) =
        papers(&asked.folder)?.into_iter().partition(|paper| rules.reads(&paper.name));
    if papers.is_empty() {
        return Err(FileMistake::NoPapers(files::shown(&asked.folder)).into());
    }
    let record = record(&asked.folder)?;
    let about = About { there: files::digests(&asked.folder)?, ..about(&record) };
    let mut waivers = of_record(&record);
    for file in &asked.waivers {
        waivers.extend(proofread::waivers(&files::read(file)?, &rules).map_err(Failure::misused)?);
    }
    let findings = proofread::proofread(&papers, &about, &waivers, &rules);
    let exit = if findings.iter().any(Finding::blocks) { Exit::NothingMade } else { Exit::Done };
    let others: Vec<&str> = others.iter().map(|paper| paper.name.as_str()).collect();
    let told = told::Told { papers: papers.len(), findings: &findings, waivers: &waivers, others: &others };
    Ok(Report { text: told.in_form(asked.format), remarks: Vec::new(), exit })
}

/// A finding as a mistake or remark, at the place of the wording where that is known.
pub(super) fn diagnostic(finding: &Finding, book: &Book) -> Diagnostic {
    let clause = book.clauses.iter().find(|clause| finding.name.as_ref() == Some(&clause.name));
    told::diagnostic(finding, clause.map(|clause| clause.place.clone()))
}

/// The tables of proofreading.
pub(super) fn rules() -> Result<Rules, Failure> {
    Rules::read(&files::proofreading()).map_err(Failure::misused)
}

/// The Markdown files of a folder as papers, in the order in which a set is written.
fn papers(folder: &Path) -> Result<Vec<Paper>, Failure> {
    let mut sources = files::markdown_files(folder)?;
    let stem = |source: &Arc<Source>| {
        let name = source.name.rsplit('/').next().unwrap_or(&source.name);
        name.strip_suffix(".md").unwrap_or(name).to_owned()
    };
    let rank = |name: &str| document::names().position(|known| known == name).unwrap_or(usize::MAX);
    sources.sort_by_key(|source| (rank(&stem(source)), stem(source)));
    Ok(sources.iter().map(|source| proofread::of_markdown(&stem(source), &source.text)).collect())
}

/// The record of the set; nothing where there is none.
fn record(folder: &Path) -> Result<Value, Failure> {
    let path = folder.join(files::RECORD);
    if !path.exists() {
        return Ok(Value::Null);
    }
    let source = files::read(&path)?;
    serde_json::from_str(&source.text)
        .map_err(|error| FileMistake::Unreadable(source.name.clone(), error.to_string()).into())
}

/// What a record knows of its set.
pub(super) fn about(record: &Value) -> About {
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let survey = record.get("survey");
    let of_survey = |key: &str| survey.and_then(|survey| survey.get(key)).map(text).unwrap_or_default();
    let files = record.get("files").and_then(Value::as_array).into_iter().flatten();
    let pair = |file: &Value| Some((text(file.get("file")?), text(file.get("sha256")?)));
    About {
        date: of_survey("issue-date"),
        units: of_survey("units"),
        given: vec![of_survey("text")],
        listed: files.filter_map(pair).collect(),
        there: Vec::new(),
    }
}

/// The waivers that a set was written with.
fn of_record(record: &Value) -> Vec<Waiver> {
    let waivers = record.get("proofreading").and_then(|said| said.get("waivers")).and_then(Value::as_array);
    let waiver = |value: &Value| {
        let text = |key: &str| value.get(key).and_then(Value::as_str).map(str::to_owned);
        Some(Waiver {
            check: text("check")?,
            clause: text("clause")?,
            reason: text("reason")?,
            who: text("who")?,
            expires: text("expires")?,
        })
    };
    waivers.into_iter().flatten().filter_map(waiver).collect()
}

/// The record with what proofreading said, so that a set carries its waivers.
pub(super) fn with_proofreading(mut record: Value, findings: &[Finding], waivers: &[Waiver]) -> Value {
    let waivers: Vec<Value> = waivers.iter().map(told::waiver_as_data).collect();
    let open = findings.iter().filter(|finding| finding.waived.is_none()).count();
    if let Value::Object(entries) = &mut record {
        entries.insert("proofreading".to_owned(), json!({"findings": open, "waivers": waivers}));
    }
    record
}

/// The waivers of the book that is used and of the job, whose file lies beside the survey.
pub(super) fn waivers_for(
    survey: &Path,
    rulebook: Option<&Path>,
    rules: &Rules,
) -> Result<Vec<Waiver>, Vec<Diagnostic>> {
    let folders = [rulebook, survey.parent()];
    let mut waivers = Vec::new();
    for path in folders.into_iter().flatten().map(|folder| folder.join(WAIVERS)) {
        if path.exists() {
            let source = files::read(&path).map_err(|mistake| vec![mistake.into()])?;
            waivers.extend(proofread::waivers(&source, rules)?);
        }
    }
    Ok(waivers)
}
