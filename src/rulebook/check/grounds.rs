//! Sources, and the reasons and sources that every statement gives.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::desk::{Desk, Index};
use super::gather::Stated;
use super::mistake_ground::GroundMistake;
use super::mistake_name::{NameMistake, listed, meant};
use crate::diagnostic::Place;
use crate::rulebook::book::{Certainty, Citable, Citation, Ground, Law, SourceId};
use crate::rulebook::syntax::ast::{
    At, CitationWords, GroundLines, SourceAttribute, SourceDeclaration, Word,
};

/// The source that may stand bare.
const COMMON: &str = "common-practice";

impl Desk {
    /// Reads the sources.
    pub(super) fn sources(&mut self, stated: &[Stated<'_, SourceDeclaration>]) {
        self.names.sources = Index::of(stated.iter().map(|source| source.said.name.value.as_str()));
        let sources = stated.iter().map(|source| self.source(source)).collect();
        self.book.sources = sources;
    }

    fn source(&mut self, stated: &Stated<'_, SourceDeclaration>) -> Citable {
        let said = stated.said;
        let mut source = Citable {
            name: said.name.value.clone(),
            title: said.title.as_ref().map_or_else(String::new, |title| title.value.clone()),
            issuer: said.issuer.as_ref().map(|issuer| issuer.value.clone()),
            edition: None,
            certainty: Certainty::CommonPractice,
            law: Law::Advisory,
            checked: None,
            again_by: None,
            countries: Vec::new(),
            place: stated.place(),
        };
        let common = source.name == COMMON;
        if source.title.is_empty() && common {
            "Common practice".clone_into(&mut source.title);
        } else if source.title.is_empty() {
            self.error(&GroundMistake::NoTitle { name: source.name.clone() }, stated.at(said.name.span));
        }
        let said_of = self.attributes(stated, &mut source);
        if !common && !said_of.contains("certainty") {
            self.error(&GroundMistake::NoCertainty { name: source.name.clone() }, stated.at(said.name.span));
        }
        source
    }

    fn attributes(
        &mut self,
        stated: &Stated<'_, SourceDeclaration>,
        source: &mut Citable,
    ) -> BTreeSet<&'static str> {
        let mut said_of = BTreeSet::new();
        for attribute in &stated.said.attributes {
            let what = match &attribute.value {
                SourceAttribute::Edition(edition) => {
                    source.edition = Some(edition.clone());
                    "edition"
                }
                SourceAttribute::Certainty(certainty) => {
                    source.certainty = *certainty;
                    "certainty"
                }
                SourceAttribute::Law => {
                    source.law = Law::Binding;
                    "law"
                }
                SourceAttribute::Checked(day) => {
                    self.day(day, day, "day", stated.at(attribute.span));
                    source.checked = Some(day.clone());
                    "checked"
                }
                SourceAttribute::AgainBy(month) => {
                    self.day(&format!("{month}-01"), month, "month", stated.at(attribute.span));
                    source.again_by = Some(month.clone());
                    "again by"
                }
                SourceAttribute::Countries(countries) => {
                    source.countries.clone_from(countries);
                    "for"
                }
            };
            if !said_of.insert(what) {
                let mistake = GroundMistake::SaidTwice { what: what.to_owned(), name: source.name.clone() };
                self.error(&mistake, stated.at(attribute.span));
            }
        }
        said_of
    }

    fn day(&mut self, day: &str, written: &str, what: &'static str, place: Place) {
        if day.len() != "2026-11-25".len() || day.parse::<Date>().is_err() {
            self.error(&GroundMistake::Date { written: written.to_owned(), what }, place);
        }
    }

    /// Reads why and per what; a statement that lacks either is an error at its name.
    pub(super) fn ground<T>(&mut self, stated: &Stated<'_, T>, name: &Word, lines: &GroundLines) -> Ground {
        let because = lines.because.as_ref().map_or("", |because| because.value.value.as_str());
        if because.is_empty() {
            self.error(&GroundMistake::NoReason { name: name.value.clone() }, stated.at(name.span));
        }
        if lines.per.is_empty() {
            self.error(&GroundMistake::NoSource { name: name.value.clone() }, stated.at(name.span));
        }
        let cited: Vec<&CitationWords> = lines.per.iter().flat_map(|At { value, .. }| value).collect();
        let per = cited
            .into_iter()
            .filter_map(|cited| self.citation(cited, stated.at(cited.source.span)))
            .collect();
        Ground { because: because.to_owned(), per }
    }

    /// Finds a source.
    pub(super) fn citation(&mut self, cited: &CitationWords, place: Place) -> Option<Citation> {
        let name = &cited.source.value;
        let Some(source) = self.names.sources.get(name) else {
            let help = meant(name, self.names.sources.names(), || {
                format!("declare it with `source {name} …`; {}", listed(self.names.sources.names()))
            });
            self.error(&NameMistake::Source { name: name.clone(), help }, place);
            return None;
        };
        Some(Citation {
            source: SourceId(source),
            detail: cited.detail.as_ref().map(|word| word.value.clone()),
        })
    }

    /// Whether a source among them is law.
    pub(super) fn cites_law(&self, ground: &Ground) -> bool {
        let law = |citation: &Citation| {
            self.book.sources.get(citation.source.0).is_some_and(|source| source.law == Law::Binding)
        };
        ground.per.iter().any(law)
    }
}
