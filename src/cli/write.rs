//! `perpend write`: the documents of a survey, whole or not at all.

use std::sync::Arc;

use rayon::prelude::*;

use crate::cli::args::{Form, Write};
use crate::cli::baseline;
use crate::cli::files::{self, FileMistake, OutFile, sha256};
use crate::cli::load::{self, Decided};
use crate::cli::office::{self, Office};
use crate::cli::proofread::{self as proofreading, with_proofreading};
use crate::cli::record::{record, with_files, with_house, with_office, with_printed, with_styles};
use crate::cli::{Exit, Failure, Report};
use crate::diagnostic::{Diagnostic, Severity, Source};
use crate::document::block::BlockKind;
use crate::document::{
    self, Basis, Document, FileMade, Listing, OfficeWords, ProgramInfo, Templates, Thin, Wanted,
};
use crate::drawing;
use crate::proof;
use crate::proofread::{self, Finding, Paper, Rules, Weight};
use crate::render::{self, Left, OfficeStyles, Pages};
use crate::rulebook::book::Book;

/// The fewest digits that tell one book from another.
const SHORTEST: usize = 12;

/// Writes the set and says what was written.
pub(super) fn run(write: &Write) -> Result<Report, Failure> {
    let (decided, (sources, templates, rules)) =
        rayon::join(|| load::decide(&write.survey, &write.rulebook), prepared);
    let (decided, templates, rules) = (decided?, templates.map_err(nothing_made)?, rules?);
    let waivers = proofreading::waivers_for(&write.survey, write.rulebook.rulebook.as_deref(), &rules)
        .map_err(Failure::misused)?;
    let digest = templates_digest(&sources);
    locked(write.locked.as_deref(), &decided.book)?;
    let promises = proof::broken_here(&decided.book, &decided.survey, &decided.facts, &decided.outcome);
    if promises.iter().any(Diagnostic::is_error) {
        return Err(nothing_made(promises));
    }
    let program =
        ProgramInfo { version: env!("CARGO_PKG_VERSION").to_owned(), template_digest: digest.clone() };
    let Decided { book, survey, facts, outcome, .. } = &decided;
    let (templates, program) = (&templates, &program);
    let basis = Basis { book, survey, facts, outcome, templates, program, before: None };
    let folder = write.out.join(&survey.job.code);
    let (thin, record) = rayon::join(|| document::thin(basis), || record(&decided, &digest));
    let wanted = wanted(&write.only, thin.as_ref())?;
    let forms = forms(&write.format);
    let word = forms.contains(&Form::Docx);
    let office = if word { office::found(&folder).map_err(Failure::misused)? } else { Office::default() };
    let styled = write.styles.as_deref().map(|file| office::styles(file, &write.style)).transpose();
    let styled = styled.map_err(Failure::misused)?;
    let styles = styled.as_ref().map(|styled| &styled.styles);
    let before = baseline::before(files::record_of(&folder), survey);
    let compared = before.as_ref().and_then(|before| baseline::compared(before, &record, &decided));
    let basis = Basis { before: compared.as_ref().map(|compared| &compared.then), ..basis };
    let make = |document: &Document| rendered(document, &forms, (styles, office.left(&document.name)));
    let list = |made: &[_]| Listing { files: listed(made), compared: compared.clone(), office: kept(made) };
    let (written, made) = document::set_and_make(basis, &wanted, make, list).map_err(nothing_made)?;
    let kept = kept(&made);
    let record = baseline::carrying(with_house(record, &decided, written.against.as_ref()), before);
    let (mut files, papers) = gathered(made)?;
    let findings = proofread::proofread(&papers, &proofreading::about(&record), &waivers, &rules);
    let found = told(&findings, &decided.book);
    if may_be_built_from(&papers) && findings.iter().any(Finding::blocks) {
        return Err(nothing_made(found));
    }
    let record = with_printed(record, &written.printed);
    let record = with_styles(with_proofreading(record, &findings, &waivers), styled.as_ref());
    files.push(OutFile::new(files::RECORD, with_files(with_office(record, &kept), &files)));
    let ours = files.len();
    files.extend(office.touched());
    files::write_set(&folder, &files)?;
    let lost = written.against.as_ref().map_or(0, |against| against.lost.len());
    let mut text = said(&decided, &files::shown(&folder), &files, lost);
    tell_office(&mut text, &kept, files.len() - ours);
    let thin = thin.map(|thin| thin.remark());
    let remarks = decided.remarks.into_iter().chain(promises).chain(written.remarks).chain(thin);
    let found = found.into_iter().map(|finding| Diagnostic { severity: Severity::Remark, ..finding });
    let remarks = remarks.chain(found).collect();
    Ok(Report { text, remarks, exit: Exit::Done })
}

/// Templates as files and read, and the tables of proofreading.
type Prepared = (Vec<Arc<Source>>, Result<Templates, Vec<Diagnostic>>, Result<Rules, Failure>);

/// What does not depend on the survey, read while the survey is decided.
fn prepared() -> Prepared {
    render::prepare();
    let sources = files::templates();
    let (templates, rules) = rayon::join(|| Templates::read(&sources), proofreading::rules);
    (sources, templates, rules)
}

/// Whether the set goes out under the status that was asked for. One that goes out for review alone, and says so on
/// every page, is written with its findings beside it: no slip of a word keeps its cautions from whoever needs them.
fn may_be_built_from(papers: &[Paper]) -> bool {
    papers.iter().all(|paper| paper.strip.is_empty())
}

/// What proofreading found, at the wordings that it stands in. What is only worth noting is left to `proofread`.
fn told(findings: &[Finding], book: &Book) -> Vec<Diagnostic> {
    let weighs = |finding: &&Finding| finding.waived.is_none() && finding.weight != Weight::Noted;
    findings.iter().filter(weighs).map(|finding| proofreading::diagnostic(finding, book)).collect()
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

/// The papers to write: those asked for; else those of the set, or of the first visit where too much is open.
fn wanted(only: &[String], thin: Option<&Thin>) -> Result<Wanted, Failure> {
    if only.is_empty() {
        return Ok(if thin.is_some() { Wanted::first_visit() } else { Wanted::set() });
    }
    Wanted::named(only).map_err(|unknown| {
        let known = document::names().collect::<Vec<_>>().join(", ");
        let mistakes = unknown.into_iter().map(|name| FileMistake::NoDocument(name, known.clone()).into());
        Failure::misused(mistakes.collect())
    })
}

/// Each form once, in their order.
fn forms(asked: &[Form]) -> Vec<Form> {
    let mut forms = asked.to_vec();
    forms.sort();
    forms.dedup();
    forms
}

/// A paper in the forms asked for.
#[derive(Default)]
struct Rendered {
    taken_apart: Paper,
    papers: Vec<OutFile>,
    figures: Vec<OutFile>,
    /// Words of an office that a paper keeps.
    office: Vec<OfficeWords>,
}

fn rendered(
    document: &Document,
    forms: &[Form],
    (styles, left): (Option<&OfficeStyles>, Option<&Left>),
) -> Result<Rendered, Vec<Diagnostic>> {
    let pages = forms.iter().any(|form| *form != Form::Md).then(|| Pages::of(document));
    let set = |form: &Form| in_form(document, *form, pages.as_ref(), (styles, left));
    let beside = || {
        let figures = if forms.contains(&Form::Md) { figures(document) } else { Vec::new() };
        (proofread::of_document(document), figures)
    };
    let (set, (taken_apart, figures)) = rayon::join(|| forms.par_iter().map(set).collect::<Vec<_>>(), beside);
    let set = set.into_iter().collect::<Result<Vec<_>, Vec<Diagnostic>>>()?;
    let (papers, office): (Vec<OutFile>, Vec<Vec<OfficeWords>>) = set.into_iter().unzip();
    Ok(Rendered { taken_apart, papers, figures, office: office.concat() })
}

/// A paper in one form, and the words of an office that it keeps.
fn in_form(
    document: &Document,
    form: Form,
    pages: Option<&Pages<'_>>,
    (styles, left): (Option<&OfficeStyles>, Option<&Left>),
) -> Result<(OutFile, Vec<OfficeWords>), Vec<Diagnostic>> {
    let name = format!("{}.{form}", document.name);
    Ok(match (form, pages) {
        (Form::Pdf, Some(pages)) => {
            let count = Some(pages.laid()?.pages());
            (OutFile { pages: count, ..OutFile::new(name, pages.pdf()?) }, Vec::new())
        }
        (Form::Docx, Some(pages)) => {
            let word = pages.docx(styles, left)?;
            let kept = word.office.into_iter().map(|own| OfficeWords {
                paper: document.name.clone(),
                clause: own.clause,
                kept: own.kept,
                proposed: own.proposed,
            });
            (OutFile::new(name, word.bytes), kept.collect())
        }
        (Form::Md, _) | (_, None) => {
            (OutFile::new(name, document::markdown(document).into_bytes()), Vec::new())
        }
    })
}

/// The files of the set, papers first, then figures, and its papers to be proofread; or every mistake in any of them.
fn gathered(made: Vec<Result<Rendered, Vec<Diagnostic>>>) -> Result<(Vec<OutFile>, Vec<Paper>), Failure> {
    let (made, failed): (Vec<_>, Vec<_>) = made.into_iter().partition(Result::is_ok);
    let mistakes: Vec<Diagnostic> = failed.into_iter().filter_map(Result::err).flatten().collect();
    if !mistakes.is_empty() {
        return Err(nothing_made(mistakes));
    }
    let mut taken_apart = Vec::new();
    let (mut papers, mut figures) = (Vec::new(), Vec::new());
    for made in made.into_iter().flatten() {
        taken_apart.push(made.taken_apart);
        papers.extend(made.papers);
        figures.extend(made.figures);
    }
    Ok((each_once(papers.into_iter().chain(figures), |file| &file.name), taken_apart))
}

/// What offices changed and every paper keeps.
fn kept(made: &[Result<Rendered, Vec<Diagnostic>>]) -> Vec<OfficeWords> {
    made.iter().flatten().flat_map(|made| &made.office).cloned().collect()
}

/// Says what of an office was kept.
fn tell_office(text: &mut String, kept: &[OfficeWords], touched: usize) {
    use std::fmt::Write as _;
    if touched > 0 {
        let _ =
            writeln!(text, "{touched} files that the office changed are kept as they were, under office/");
    }
    for own in kept {
        let _ = writeln!(text, "the office's text is kept: {} of {}", own.clause, own.paper);
    }
}

/// What the register lists: the same files in the same order.
fn listed(made: &[Result<Rendered, Vec<Diagnostic>>]) -> Vec<FileMade> {
    let made = || made.iter().flatten();
    let all = made().flat_map(|made| &made.papers).chain(made().flat_map(|made| &made.figures));
    let listed =
        |file: &OutFile| FileMade { name: file.name.clone(), pages: file.pages, sha256: file.sha256.clone() };
    each_once(all.map(listed), |file| &file.name)
}

/// A figure may stand in several papers, or several times in one.
fn each_once<T>(files: impl Iterator<Item = T>, name: impl Fn(&T) -> &String) -> Vec<T> {
    let mut found: Vec<T> = Vec::new();
    for file in files {
        if !found.iter().any(|known| name(known) == name(&file)) {
            found.push(file);
        }
    }
    found
}

/// The figures that the Markdown shows.
fn figures(document: &Document) -> Vec<OutFile> {
    let kinds = document.blocks.iter().map(|block| &block.kind);
    let drawings =
        kinds.filter_map(|kind| if let BlockKind::Figure(drawing) = kind { Some(drawing) } else { None });
    let file = |drawing| OutFile::new(document::figure_file(drawing), drawing::svg(drawing).into_bytes());
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

fn said(decided: &Decided, folder: &str, files: &[OutFile], lost: usize) -> String {
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
        let _ = writeln!(text, "for review: stops {stops}, open questions {questions} (see reasons)");
    }
    if lost > 0 {
        let _ =
            writeln!(text, "weaker than the trade book here: {lost} of its duties are lost (see reasons)");
    }
    text
}
