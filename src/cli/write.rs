//! `perpend write`: the documents of a survey, whole or not at all.

use std::sync::Arc;

use rayon::prelude::*;

use crate::cli::args::{Form, Write};
use crate::cli::files::{self, FileMistake, OutFile};
use crate::cli::load::{self, Decided};
use crate::cli::record::{record, sha256, with_files};
use crate::cli::{Exit, Failure, Report};
use crate::diagnostic::{Diagnostic, Source};
use crate::document::block::BlockKind;
use crate::document::{self, Document, ProgramInfo, Templates};
use crate::drawing;
use crate::proof;
use crate::render;
use crate::rulebook::book::Book;

/// The fewest digits that tell one book from another.
const SHORTEST: usize = 12;

/// Writes the set and says what was written.
pub(super) fn run(write: &Write) -> Result<Report, Failure> {
    let (decided, (sources, templates)) =
        rayon::join(|| load::decide(&write.survey, &write.rulebook), prepared);
    let (decided, templates) = (decided?, templates.map_err(nothing_made)?);
    let digest = templates_digest(&sources);
    locked(write.locked.as_deref(), &decided.book)?;
    let promises = proof::broken_here(&decided.book, &decided.survey, &decided.facts, &decided.outcome);
    if promises.iter().any(Diagnostic::is_error) {
        return Err(nothing_made(promises));
    }
    let program =
        ProgramInfo { version: env!("CARGO_PKG_VERSION").to_owned(), template_digest: digest.clone() };
    let Decided { book, survey, facts, outcome, .. } = &decided;
    let written = document::set(book, survey, facts, outcome, &templates, &program).map_err(nothing_made)?;
    let documents = wanted(written.documents, &write.only)?;
    let (files, record) = rayon::join(|| rendered(&documents, &write.format), || record(&decided, &digest));
    let mut files = files?;
    files.push(OutFile { name: "record.json".to_owned(), bytes: with_files(record, &files) });
    let folder = write.out.join(&survey.job.code);
    files::write_set(&folder, &files)?;
    let text = said(&decided, &files::shown(&folder), &files);
    let remarks = decided.remarks.into_iter().chain(promises).chain(written.remarks).collect();
    Ok(Report { text, remarks, exit: Exit::Done })
}

/// What does not depend on the survey, read while the survey is decided.
fn prepared() -> (Vec<Arc<Source>>, Result<Templates, Vec<Diagnostic>>) {
    render::prepare();
    let sources = files::templates();
    let templates = Templates::read(&sources);
    (sources, templates)
}

/// Refuses another book than the one that was agreed on; the first twelve digits, as papers print them, are enough.
fn locked(digest: Option<&str>, book: &Book) -> Result<(), FileMistake> {
    match digest {
        Some(digest) if digest.len() < SHORTEST || !book.digest.starts_with(digest) => {
            Err(FileMistake::OtherBook(digest.to_owned(), book.digest.clone()))
        }
        _ => Ok(()),
    }
}

fn nothing_made(diagnostics: Vec<Diagnostic>) -> Failure {
    Failure { exit: Exit::NothingMade, diagnostics }
}

fn wanted(documents: Vec<Document>, only: &[String]) -> Result<Vec<Document>, Failure> {
    let names: Vec<&str> = documents.iter().map(|document| document.name.as_str()).collect();
    let unknown = only.iter().filter(|name| !names.contains(&name.as_str()));
    let mistakes: Vec<Diagnostic> =
        unknown.map(|name| FileMistake::NoDocument(name.clone(), names.join(", ")).into()).collect();
    if !mistakes.is_empty() {
        return Err(Failure::misused(mistakes));
    }
    Ok(documents.into_iter().filter(|document| only.is_empty() || only.contains(&document.name)).collect())
}

fn rendered(documents: &[Document], forms: &[Form]) -> Result<Vec<OutFile>, Failure> {
    let mut forms = forms.to_vec();
    forms.sort();
    forms.dedup();
    let jobs: Vec<(&Document, Form)> =
        documents.iter().flat_map(|document| forms.iter().map(move |form| (document, *form))).collect();
    let made: Vec<Result<OutFile, Vec<Diagnostic>>> = jobs
        .par_iter()
        .map(|(document, form)| {
            let bytes = match form {
                Form::Md => document::markdown(document).into_bytes(),
                Form::Pdf => render::pdf(document)?,
            };
            Ok(OutFile { name: format!("{}.{form}", document.name), bytes })
        })
        .collect();
    let (files, failed): (Vec<_>, Vec<_>) = made.into_iter().partition(Result::is_ok);
    let mistakes: Vec<Diagnostic> = failed.into_iter().filter_map(Result::err).flatten().collect();
    if !mistakes.is_empty() {
        return Err(nothing_made(mistakes));
    }
    let mut files: Vec<OutFile> = files.into_iter().flatten().collect();
    if forms.contains(&Form::Md) {
        files.extend(figures(documents));
    }
    Ok(files)
}

/// The figures that the Markdown shows.
fn figures(documents: &[Document]) -> Vec<OutFile> {
    let kinds = documents.iter().flat_map(|document| &document.blocks).map(|block| &block.kind);
    let drawings =
        kinds.filter_map(|kind| if let BlockKind::Figure(drawing) = kind { Some(drawing) } else { None });
    let file =
        |drawing| OutFile { name: document::figure_file(drawing), bytes: drawing::svg(drawing).into_bytes() };
    drawings.map(file).collect()
}

fn templates_digest(templates: &[Arc<Source>]) -> String {
    let mut all = Vec::new();
    for template in templates {
        all.extend_from_slice(template.name.as_bytes());
        all.push(0);
        all.extend_from_slice(template.text.as_bytes());
        all.push(0);
    }
    sha256(&all)
}

fn said(decided: &Decided, folder: &str, files: &[OutFile]) -> String {
    use std::fmt::Write as _;
    let mut text = format!("{folder}\n");
    for file in files {
        let _ = writeln!(text, "  {}", file.name);
    }
    let stops = decided.outcome.zones.iter().flat_map(|zone| &zone.stops);
    let stops = stops.filter(|stop| stop.released.is_none()).count();
    let questions = decided.outcome.questions.len();
    if decided.outcome.is_settled() {
        text.push_str("no stop stands and no question is open\n");
    } else {
        let _ =
            writeln!(text, "for review: {stops} stops stand, {questions} questions are open (see reasons)");
    }
    text
}
