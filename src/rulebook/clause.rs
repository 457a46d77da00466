//! A clause: one requirement, worded for up to four readers.

use std::collections::BTreeMap;

use crate::diagnostic::Place;
use crate::rulebook::book::{Citation, ColumnId, FactId, Owner, QuantityId, SlotId, StageId};
use crate::units::Quantity;

/// Who a wording is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reader {
    /// `## section`: the contract.
    Section,
    /// `## crew`: those who do the work.
    Crew,
    /// `## owner`: who looks after the wall.
    Owner,
    /// `## form`: what is checked off.
    Form,
}

/// A clause file, read.
#[derive(Clone, Debug)]
pub struct Clause {
    /// Kebab-case name; the file's stem.
    pub name: String,
    /// Printed once for the job, or once for each group of zones.
    pub owner: Owner,
    /// The article of the section it stands in; `None` when it has no section wording.
    pub article: Option<String>,
    /// The list of the owner's sheet it stands in; `None` when it has no owner wording.
    pub care: Option<String>,
    /// The stage of the work it belongs to; a stage held by stops holds its clauses back.
    pub stage: Option<StageId>,
    /// Order inside its article and list; ties by name.
    pub order: u32,
    /// A short title.
    pub subject: String,
    /// What its wordings may print.
    pub parameters: Vec<Parameter>,
    /// Figures of its own, each typed once for all its readers.
    pub figures: Vec<Figure>,
    /// Standards named in its wordings.
    pub cites: Vec<Citation>,
    /// The paper that it asks for, if it asks for one.
    pub submit: Option<Submittal>,
    /// How it is proved, if it is.
    pub test: Option<TestRecord>,
    /// The wording for each reader, with its place.
    pub wording: BTreeMap<Reader, Wording>,
    /// Where it starts.
    pub place: Place,
}

/// A wording as written: Markdown with template expressions.
#[derive(Clone, Debug)]
pub struct Wording {
    /// The text.
    pub text: String,
    /// Where it stands.
    pub place: Place,
}

/// One value that a clause prints.
#[derive(Clone, Debug)]
pub struct Parameter {
    /// As written in the front matter: `wash-pressure`, `coating`, `coating.rain-free`, `built`.
    pub name: String,
    /// What it is.
    pub kind: ParameterKind,
    /// Where it is listed.
    pub place: Place,
}

/// A figure that a clause types in its front matter and prints by its name.
#[derive(Clone, Debug)]
pub struct Figure {
    /// As written in the front matter: `shade`.
    pub name: String,
    /// The figure, or both its ends.
    pub value: (Quantity, Option<Quantity>),
    /// Where it is typed.
    pub place: Place,
}

/// Where a parameter's value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ParameterKind {
    /// The limits on a quantity.
    Limit(QuantityId),
    /// The option chosen for a slot (its title; for an in-order slot the titles in order).
    Chosen(SlotId),
    /// A column of the chosen option.
    Column(SlotId, ColumnId),
    /// A fact's answer.
    Fact(FactId),
}

/// A paper to hand in: the section prints when and what for, and the test plan lists it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Submittal {
    /// What it is handed in for.
    pub purpose: Purpose,
    /// When it is due, in words: `before work starts`.
    pub due: String,
}

/// What a paper is handed in for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Somebody answers, and what hangs on it waits.
    Review,
    /// It is kept.
    Record,
}

/// How a clause is proved. Every field is words of ours.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TestRecord {
    /// How it is measured.
    pub method: String,
    /// How often and where.
    pub frequency: String,
    /// What passes.
    pub accept: String,
    /// Who tests.
    pub by: String,
    /// On which form.
    pub form: String,
    /// What happens when it fails.
    pub on_failure: String,
    /// At how many places, where the number follows from the size of the zone or is fixed.
    pub places: Option<Places>,
}

/// At how many places of a zone a test is made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Places {
    /// One place for each of these: an area of the zone, or a length of its foot.
    pub per: Option<Quantity>,
    /// Not fewer, however small the zone; 1 or more.
    pub least: u32,
}
