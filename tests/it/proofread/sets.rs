//! The sets of the demos, written once, as blocks, as Markdown and taken apart.

use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use perpend::diagnostic::Source;
use perpend::document::{self, Basis, Document, ProgramInfo, Templates, Wanted, markdown};
use perpend::inference::infer;
use perpend::proofread::{About, Paper, Rules, of_document};
use perpend::survey;
use perpend::units::System;
use perpend::wall;

use crate::demos::BOOK;

/// A job written.
pub(super) struct Set {
    pub(super) name: String,
    pub(super) documents: Vec<(Document, String)>,
    pub(super) papers: Vec<Paper>,
    pub(super) about: About,
}

impl Set {
    pub(super) fn markdown(&self, paper: &str) -> &str {
        &self.documents.iter().find(|(document, _)| document.name == paper).unwrap().1
    }
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn sources(folder: &str) -> Vec<Arc<Source>> {
    let mut paths: Vec<PathBuf> =
        std::fs::read_dir(root().join(folder)).unwrap().map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.is_file());
    paths.sort();
    paths
        .iter()
        .map(|path| Source::new(path.to_string_lossy(), std::fs::read_to_string(path).unwrap()))
        .collect()
}

/// The tables of proofreading.
pub(super) static RULES: LazyLock<Rules> = LazyLock::new(|| {
    Rules::read(&sources("rules/proofreading")).unwrap_or_else(|found| panic!("{found:#?}"))
});

/// The three demos and the five jobs, the watch house first.
pub(super) static DEMOS: LazyLock<Vec<Set>> = LazyLock::new(|| {
    let templates = Templates::read(&sources("templates/documents")).unwrap();
    let demos = ["watch-house", "tithe-wall", "ferrier-lane-hall"].map(|name| format!("examples/{name}"));
    let jobs = ["limestone-villa", "block-hall-acrylic", "salty-barn", "textured-school", "parapet-repair"]
        .map(|name| format!("tests/jobs/{name}"));
    demos.iter().chain(&jobs).map(|folder| written(folder, &templates)).collect()
});

fn written(folder: &str, templates: &Templates) -> Set {
    let path = root().join(folder).join("survey.yaml");
    let source = Source::new(path.to_string_lossy(), std::fs::read_to_string(&path).unwrap());
    let survey = survey::read(&source, &BOOK).0.unwrap();
    let facts = wall::work(&survey, &BOOK);
    let outcome = infer(&BOOK, &survey, &facts);
    let program = ProgramInfo { version: "0.0.0".to_owned(), template_digest: "f".repeat(64) };
    let basis = Basis {
        book: &BOOK,
        survey: &survey,
        facts: &facts,
        outcome: &outcome,
        templates,
        program: &program,
        before: None,
    };
    let written = document::set(basis, &Wanted::set()).unwrap();
    let documents: Vec<(Document, String)> = written
        .documents
        .into_iter()
        .map(|document| {
            let text = markdown(&document);
            (document, text)
        })
        .collect();
    let units = match survey.job.profile.system {
        System::UsFirst => "us-first",
        System::SiFirst => "si-first",
    };
    Set {
        name: folder.rsplit('/').next().unwrap().to_owned(),
        papers: documents.iter().map(|(document, _)| of_document(document)).collect(),
        documents,
        about: About {
            date: survey.job.issue_date.clone(),
            units: units.to_owned(),
            given: vec![source.text.clone()],
            ..About::default()
        },
    }
}
