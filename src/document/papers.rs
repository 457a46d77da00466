//! The papers that can be written, one row each: name, template, what it is given. A new paper is a new row.

use serde::Serialize;
use tera::Context;

use super::block::Document;
use super::clauses::Setter;
use super::engine::Engine;
use super::figures::Kind;
use super::mistake::DocumentMistake;
use super::numbering::Places;
use super::owner::OwnerContext;
use super::reasons::ReasonsContext;
use super::register::{Listing, RegisterContext};
use super::section::SectionContext;
use super::site::{CrewContext, PlanContext, ScheduleContext};
use super::stops::Stops;
use super::templates::Templates;
use super::view::View;
use super::visit::{LetterContext, ProgrammeContext, SheetContext};
use crate::diagnostic::Diagnostic;
use crate::rulebook::clause::Reader;

/// A paper as it is listed.
#[derive(Debug)]
pub(super) struct Listed {
    /// File stem; `--only` takes it.
    pub(super) name: &'static str,
    /// File name of its template.
    pub(super) template: &'static str,
    /// When it is written.
    pub(super) occasion: Occasion,
    /// Whose wordings of clauses it prints.
    pub(super) reader: Option<Reader>,
    /// The kinds of figure that it may show.
    pub(super) figures: &'static [Kind],
    /// What its template is given besides what all papers share.
    pub(super) values: Values,
}

/// When a paper is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Occasion {
    /// With the set.
    Set,
    /// After the first visit, and whenever too much is open for a section.
    Visit,
    /// With whatever is written.
    Always,
}

impl Occasion {
    /// The name that `--only` takes for all papers of the occasion.
    fn name(self) -> &'static str {
        match self {
            Self::Set => "set",
            Self::Visit => "visit",
            Self::Always => "always",
        }
    }
}

/// How the values of a paper come about. Each maker is given the desk and nothing else.
#[derive(Debug)]
pub(super) enum Values {
    /// At once.
    AtOnce(for<'a> fn(Desk<'a>) -> Result<Context, Vec<Diagnostic>>),
    /// In two steps: all that does not depend on how the section is numbered, then the rest.
    CitingSection(for<'a> fn(Desk<'a>) -> Waiting<'a>),
    /// When all other papers are made, from their files.
    Last(Last),
}

/// Makes the values of a paper from the papers before it and their files.
pub(super) type Last = fn(Desk<'_>, &[Document], Listing) -> Result<Context, Vec<Diagnostic>>;

impl Values {
    /// The maker of those that come last.
    pub(super) fn last(&self) -> Option<Last> {
        match self {
            Self::Last(values) => Some(*values),
            Self::AtOnce(_) | Self::CitingSection(_) => None,
        }
    }
}

/// Values that lack the numbers of the section.
pub(super) type Waiting<'a> = Box<dyn FnOnce(&Places) -> Result<Context, Vec<Diagnostic>> + Send + 'a>;

/// Everything that the values of a paper are made from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Desk<'a> {
    pub(super) view: View<'a>,
    pub(super) stops: &'a Stops,
    pub(super) engine: &'a Engine,
    pub(super) templates: &'a Templates,
}

impl<'a> Desk<'a> {
    fn setter(self, reader: Reader) -> Setter<'a> {
        Setter { view: self.view, stops: self.stops, engine: self.engine, reader, beside: &[] }
    }
}

/// The paper whose numbers others cite.
pub(super) const SECTION: &str = "section";
/// The office's record, written with every set.
const REASONS: &str = "reasons";

/// Every paper, in the order written.
pub(super) const PAPERS: [Listed; 10] = [
    Listed {
        name: SECTION,
        template: "section.md",
        occasion: Occasion::Set,
        reader: Some(Reader::Section),
        figures: &[Kind::Ladder, Kind::Joint, Kind::Sequence],
        values: Values::AtOnce(|desk| {
            context(&SectionContext::of(desk.setter(Reader::Section), desk.templates)?)
        }),
    },
    Listed {
        name: "schedule",
        template: "schedule.md",
        occasion: Occasion::Set,
        reader: Some(Reader::Section),
        figures: &[Kind::Elevation],
        values: Values::AtOnce(|desk| {
            context(&ScheduleContext::of(desk.setter(Reader::Section), &desk.templates.site)?)
        }),
    },
    Listed {
        name: "crew-sheets",
        template: "crew-sheets.md",
        occasion: Occasion::Set,
        reader: Some(Reader::Crew),
        figures: &[Kind::DewPoint, Kind::KeepOff],
        values: Values::CitingSection(|desk| {
            let crew = CrewContext::before_numbering(desk.setter(Reader::Crew), &desk.templates.site);
            Box::new(move |section| context(&crew?.numbered(desk.view, &desk.templates.site, section)))
        }),
    },
    Listed {
        name: "test-plan",
        template: "test-plan.md",
        occasion: Occasion::Set,
        reader: Some(Reader::Form),
        figures: &[],
        values: Values::CitingSection(|desk| {
            let (section, form) = (desk.setter(Reader::Section), desk.setter(Reader::Form));
            let plan = PlanContext::before_numbering(section, form, desk.templates);
            Box::new(move |section| context(&plan?.numbered(section)))
        }),
    },
    Listed {
        name: "owner-sheet",
        template: "owner-sheet.md",
        occasion: Occasion::Set,
        reader: Some(Reader::Owner),
        figures: &[Kind::CutAway, Kind::Signs],
        values: Values::AtOnce(|desk| {
            context(&OwnerContext::of(desk.setter(Reader::Owner), desk.templates)?)
        }),
    },
    Listed {
        name: REASONS,
        template: "reasons.md",
        occasion: Occasion::Set,
        reader: None,
        figures: &[Kind::RulePath, Kind::Condensation, Kind::Drying],
        values: Values::CitingSection(|desk| {
            let reasons = ReasonsContext::before_numbering(desk.view);
            Box::new(move |section| context(&reasons.numbered(desk.view, section)))
        }),
    },
    Listed {
        name: "survey-sheet",
        template: "survey-sheet.md",
        occasion: Occasion::Visit,
        reader: None,
        figures: &[],
        values: Values::AtOnce(|desk| context(&SheetContext::of(desk.view))),
    },
    Listed {
        name: "tests-programme",
        template: "tests-programme.md",
        occasion: Occasion::Visit,
        reader: None,
        figures: &[],
        values: Values::AtOnce(|desk| context(&ProgrammeContext::of(desk.view, desk.stops))),
    },
    Listed {
        name: "findings-letter",
        template: "findings-letter.md",
        occasion: Occasion::Visit,
        reader: None,
        figures: &[],
        values: Values::AtOnce(|desk| context(&LetterContext::of(desk.view, &desk.templates.plain))),
    },
    Listed {
        name: "register",
        template: "register.md",
        occasion: Occasion::Always,
        reader: None,
        figures: &[],
        values: Values::Last(|desk, papers, listing| {
            context(&RegisterContext::of(desk.view, &desk.templates.order, papers, listing))
        }),
    },
];

/// Values as a template takes them.
pub(super) fn context(values: &impl Serialize) -> Result<Context, Vec<Diagnostic>> {
    Context::from_serialize(values).map_err(|error| {
        vec![Diagnostic::error(&DocumentMistake::Template { words: error.to_string() }, None)]
    })
}

/// The papers to write, in their order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wanted {
    places: Vec<usize>,
    cites: Cites,
}

/// Whether papers print the numbers of a section.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Cites {
    /// They do; it is set for them even where it is not written.
    Section,
    /// They do not: no section is to be written yet.
    Nothing,
}

impl Wanted {
    /// The papers of the set.
    pub fn set() -> Self {
        Self::of(|paper| paper.occasion == Occasion::Set)
    }

    /// The papers of the first visit with the record of the reasons, for a survey of which too much is open for a
    /// section: none is numbered.
    pub fn first_visit() -> Self {
        let wanted = |paper: &Listed| paper.occasion == Occasion::Visit || paper.name == REASONS;
        Self { cites: Cites::Nothing, ..Self::of(wanted) }
    }

    /// Those asked for, by name or by occasion; the names that mean nothing come back.
    pub fn named(asked: &[String]) -> Result<Self, Vec<String>> {
        let is_known = |name: &&String| names().any(|known| known == name.as_str());
        let unknown: Vec<String> = asked.iter().filter(|name| !is_known(name)).cloned().collect();
        if !unknown.is_empty() {
            return Err(unknown);
        }
        Ok(Self::of(|paper| asked.iter().any(|name| name == paper.name || name == paper.occasion.name())))
    }

    fn of(wanted: impl Fn(&Listed) -> bool) -> Self {
        let is_wanted = |paper: &Listed| paper.occasion == Occasion::Always || wanted(paper);
        let wanted = PAPERS.iter().enumerate().filter(|(_, paper)| is_wanted(paper));
        Self { places: wanted.map(|(at, _)| at).collect(), cites: Cites::Section }
    }

    /// As they are listed.
    pub(super) fn papers(&self) -> impl Iterator<Item = &'static Listed> {
        self.places.iter().filter_map(|at| PAPERS.get(*at))
    }

    /// Whether some paper prints the numbers of the section.
    pub(super) fn cites_section(&self) -> bool {
        self.cites == Cites::Section
            && self.papers().any(|paper| matches!(paper.values, Values::CitingSection(_)))
    }
}

/// The names that can be asked for: papers in the order written, then occasions.
pub fn names() -> impl Iterator<Item = &'static str> {
    PAPERS.iter().map(|paper| paper.name).chain([Occasion::Set, Occasion::Visit].map(Occasion::name))
}
