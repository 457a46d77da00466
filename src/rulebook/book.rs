//! The book as every later layer sees it: names resolved, kinds checked, comparisons turned into cells.
//!
//! It is made by `rulebook::read` and never changes afterwards. Ids index the lists of the book they came from.

mod condition;
mod effect;
mod table;

use std::collections::BTreeMap;
use std::sync::Arc;

use num_rational::BigRational;

use crate::diagnostic::Place;
use crate::rulebook::cells::Cells;
use crate::rulebook::clause::Clause;
use crate::rulebook::layering::House;
use crate::units::{Dimension, Quantity};

pub use condition::{Condition, OptionTest, Test, TestKind, Whose, WhoseWhat};
pub use effect::{Audience, Bound, Effect, EffectKind, LimitValue, Refused};
pub use table::{Catalogue, CatalogueOption, Cell, CellValue, Column, End};

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub usize);
    )*};
}

ids! {
    /// Indexes [`Book::facts`].
    FactId
    /// Indexes [`Book::findings`].
    FindingId
    /// Indexes [`Book::slots`].
    SlotId
    /// Indexes [`Book::rules`].
    RuleId
    /// Indexes [`Book::quantities`].
    QuantityId
    /// Indexes [`Book::stages`].
    StageId
    /// Indexes [`Book::sources`].
    SourceId
    /// Indexes [`Book::clauses`].
    ClauseId
    /// Indexes [`Book::catalogues`].
    CatalogueId
    /// Indexes [`Catalogue::options`].
    OptionId
    /// Indexes [`Catalogue::columns`].
    ColumnId
}

/// A rulebook, checked.
#[derive(Clone, Debug, Default)]
pub struct Book {
    /// Its name.
    pub title: String,
    /// Its edition as written, such as `2026.1`.
    pub edition: String,
    /// SHA-256 over the canonical reprint, 64 hex digits.
    pub digest: String,
    /// Where knowledge comes from.
    pub sources: Vec<Citable>,
    /// Steps of the work, in an order that keeps every `after`.
    pub stages: Vec<Stage>,
    /// Questions and worked facts.
    pub facts: Vec<Fact>,
    /// What limits bound.
    pub quantities: Vec<LimitedQuantity>,
    /// Option tables and data tables (`materials`, `neighbours`, `old-coats`).
    pub catalogues: Vec<Catalogue>,
    /// What is chosen.
    pub slots: Vec<Slot>,
    /// Derived yes or no.
    pub findings: Vec<Finding>,
    /// What follows from what.
    pub rules: Vec<Rule>,
    /// What must hold for every survey.
    pub promises: Vec<Promise>,
    /// Remarks of the prover that the book accepts.
    pub waivers: Vec<Waiver>,
    /// Wording.
    pub clauses: Vec<Clause>,
    /// Findings and slots in an order in which each stands after all that it reads.
    pub order: Vec<Step>,
    /// Digest of each statement's canonical reprint, by kind and name.
    pub statement_digests: BTreeMap<String, String>,
    /// For a firm's book: what it stands on and what it changes.
    pub house: Option<Arc<House>>,
}

impl Book {
    /// The catalogue of a name, if the book has it.
    pub fn catalogue_named(&self, name: &str) -> Option<&Catalogue> {
        self.catalogues.iter().find(|catalogue| catalogue.name == name)
    }
}

/// One step of evaluation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Evaluate a finding.
    Finding(FindingId),
    /// Settle a slot.
    Slot(SlotId),
}

/// How sure a source is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Certainty {
    /// The statement was read.
    Read,
    /// Read in somebody else's account.
    SecondHand,
    /// Arithmetic from sourced figures.
    Derived,
    /// A known standard or law, not checked again.
    FromMemory,
    /// Trade habit with no published source.
    CommonPractice,
}

impl Certainty {
    /// The words printed beside a source.
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::SecondHand => "second-hand",
            Self::Derived => "derived",
            Self::FromMemory => "from memory, to be confirmed",
            Self::CommonPractice => "common practice",
        }
    }
}

/// A source that rules and clauses cite.
#[derive(Clone, Debug)]
pub struct Citable {
    /// Kebab-case name.
    pub name: String,
    /// Designation and title in our own short words.
    pub title: String,
    /// Who issues it.
    pub issuer: Option<String>,
    /// Edition or year, as written.
    pub edition: Option<String>,
    /// How sure.
    pub certainty: Certainty,
    /// Law binds whatever anybody prefers: no departure is taken from it.
    pub law: Law,
    /// Day of the last check, `YYYY-MM-DD`.
    pub checked: Option<String>,
    /// Month by which to check again, `YYYY-MM`.
    pub again_by: Option<String>,
    /// Countries where it counts; empty: everywhere.
    pub countries: Vec<String>,
    /// Where it is declared.
    pub place: Place,
}

/// Whether a source is law.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Law {
    /// Law or regulation.
    Binding,
    /// Standard, guidance, practice.
    Advisory,
}

/// A source and the place in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Citation {
    /// Which source.
    pub source: SourceId,
    /// Section, clause or table.
    pub detail: Option<String>,
}

/// A step of the work.
#[derive(Clone, Debug)]
pub struct Stage {
    /// Kebab-case name.
    pub name: String,
    /// Stages that come before it.
    pub after: Vec<StageId>,
    /// Whether a stop holds it back, and with it every stage after it.
    pub stops: Stops,
    /// Where it is declared.
    pub place: Place,
}

/// Whether a stop holds a stage back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stops {
    /// `held by stops`, itself or a stage before it: its clauses print "after release of ...".
    HoldIt,
    /// Work of this stage goes on: repair, for one.
    PassIt,
}

/// Whether something belongs to the whole job or to each zone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// The same for all zones.
    Job,
    /// Each zone its own.
    Zone,
}

/// The kinds a fact or column may be of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Cells: yes is 0, no is 1.
    YesNo,
    /// One of these words; cells in this order.
    OneOf(Vec<String>),
    /// A calendar year or a bare number within a range, ends included.
    Number {
        /// Lowest value allowed.
        from: Option<BigRational>,
        /// Highest value allowed.
        to: Option<BigRational>,
    },
    /// A quantity with a unit.
    Measure {
        /// Its dimension.
        dimension: Dimension,
        /// Lowest value allowed, in base units.
        from: Option<BigRational>,
        /// Highest value allowed, in base units.
        to: Option<BigRational>,
    },
    /// Words that are printed and never compared; one cell.
    Text,
}

/// A question or a worked fact.
#[derive(Clone, Debug)]
pub struct Fact {
    /// Kebab-case name.
    pub name: String,
    /// Job or zone.
    pub owner: Owner,
    /// Its kind.
    pub kind: Kind,
    /// Where its value comes from.
    pub origin: Origin,
    /// How it is cut.
    pub cells: Cells,
    /// Where it is declared.
    pub place: Place,
}

/// Where a fact's value comes from.
#[derive(Clone, Debug)]
pub enum Origin {
    /// The survey answers it.
    Asked(Question),
    /// The wall calculation works it out.
    Worked {
        /// The slot whose options each have a value of their own, for `of zone and SLOT`.
        per_option_of: Option<SlotId>,
        /// The end of a spread to decide on; `None` where a spread cannot occur.
        worst: Option<End>,
        /// How the book itself works it out; `None` where the program supplies it.
        formula: Option<Box<Formula>>,
    },
}

/// How a book works a figure out of answers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Formula {
    /// `base + rate × (of − past) / step`, nothing counted below `past`.
    Linear {
        /// What stands before it grows.
        base: Option<Quantity>,
        /// What each step adds.
        rate: Quantity,
        /// The step; over zero.
        step: Quantity,
        /// What is counted in steps.
        of: FactId,
        /// What of it does not count.
        past: Option<Quantity>,
    },
    /// One answer divided by another of its kind.
    Ratio {
        /// What is divided.
        of: FactId,
        /// By what.
        by: FactId,
    },
}

impl Formula {
    /// The questions that it reads.
    pub fn reads(&self) -> Vec<FactId> {
        match self {
            Self::Linear { of, .. } => vec![*of],
            Self::Ratio { of, by } => vec![*of, *by],
        }
    }
}

/// What is asked.
#[derive(Clone, Debug)]
pub struct Question {
    /// The words of the question.
    pub ask: String,
    /// When it arises; reads input facts alone. `None`: always.
    pub only_where: Option<Condition>,
    /// Readings older than this many days before the issue date count as unknown.
    pub good_for_days: Option<u32>,
    /// `told` and `assumed` answers count as unknown.
    pub proof: Proof,
    /// Methods that count; empty: any. A reading by another method is printed and counts as unknown.
    pub methods: Vec<String>,
    /// What an answer means nothing without.
    pub told_with: Option<Box<ToldWith>>,
}

/// Questions that must be answered beside another.
#[derive(Clone, Debug)]
pub struct ToldWith {
    /// The questions: of the same owner, or of the job.
    pub facts: Vec<FactId>,
    /// Why, in words for whoever left them out.
    pub because: String,
}

/// Whether hearsay settles a question.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Proof {
    /// Any honest answer counts.
    AnyAnswer,
    /// Only a test counts: `told` and `assumed` do not.
    Tested,
}

/// A quantity that limits bound.
#[derive(Clone, Debug)]
pub struct LimitedQuantity {
    /// Kebab-case name.
    pub name: String,
    /// Job or zone.
    pub owner: Owner,
    /// Dimension.
    pub dimension: Dimension,
    /// The stage during which it is held.
    pub during: Option<StageId>,
    /// Where it is measured, in words.
    pub measured: Option<String>,
    /// A value that the wall calculation takes (`taken as`), with its reason and source.
    pub taken_as: Option<(Quantity, Ground)>,
    /// Whether a professional may depart from its limits.
    pub departure: Departure,
    /// Where it is declared.
    pub place: Place,
}

/// A reason and where it comes from.
#[derive(Clone, Debug)]
pub struct Ground {
    /// The reason in words.
    pub because: String,
    /// The sources.
    pub per: Vec<Citation>,
}

/// Whether a professional may depart from a rule or limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Departure {
    /// With role, reason and date.
    Allowed,
    /// Never.
    Barred,
}

/// What is chosen.
#[derive(Clone, Debug)]
pub struct Slot {
    /// Kebab-case name.
    pub name: String,
    /// One, or a sequence.
    pub picks: Picks,
    /// From which catalogue.
    pub catalogue: CatalogueId,
    /// When there is something to choose at all. `None`: always.
    pub only_where: Option<Condition>,
    /// Where it is declared.
    pub place: Place,
}

/// How a slot picks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Picks {
    /// `pick one from`
    One,
    /// `in order from`: every option that is not refused, in catalogue order
    InOrder,
}

/// A derived yes or no.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Kebab-case name.
    pub name: String,
    /// Job when all that it reads is the job's.
    pub owner: Owner,
    /// When it holds.
    pub when: Condition,
    /// Why, per what.
    pub ground: Ground,
    /// Where it is declared.
    pub place: Place,
}

/// What follows from what.
#[derive(Clone, Debug)]
pub struct Rule {
    /// Kebab-case name of the situation.
    pub name: String,
    /// Stem of the file it stands in.
    pub topic: String,
    /// When it applies.
    pub when: Condition,
    /// What it does.
    pub effects: Vec<Effect>,
    /// Why, per what.
    pub ground: Ground,
    /// What happens when its condition is unknown.
    pub if_unsure: IfUnsure,
    /// Whether a professional may depart from it: barred by `no departure` or when a source is law.
    pub departure: Departure,
    /// The statement as written.
    pub place: Place,
}

/// What a rule does while its condition is unknown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum IfUnsure {
    /// It applies, marked.
    Apply,
    /// It is left out, for the reason given.
    LeaveOut {
        /// The reason.
        because: String,
    },
}

/// What must hold for every possible survey; parsed and checked here, proved elsewhere.
#[derive(Clone, Debug)]
pub struct Promise {
    /// Kebab-case name.
    pub name: String,
    /// Where it is claimed.
    pub when: Condition,
    /// What is claimed.
    pub claim: Claim,
    /// Why, per what.
    pub ground: Ground,
    /// Where it is declared.
    pub place: Place,
}

/// What a promise claims.
#[derive(Clone, Debug)]
pub enum Claim {
    /// `clause C is required`
    Required(ClauseId),
    /// `clause C is never required`
    Barred(ClauseId),
    /// `OPTION is refused` (of a slot)
    OptionRefused(SlotId, OptionId),
    /// `limit Q at most V`
    Limited(QuantityId, Bound, Quantity),
    /// `stop stands`
    Stopped,
    /// `COND never holds`
    Never(Condition),
}

/// A remark of the prover that the book accepts, with its reason.
#[derive(Clone, Debug)]
pub struct Waiver {
    /// Which remark, about what.
    pub waived: Waived,
    /// Why, per what.
    pub ground: Ground,
    /// Where it is stated.
    pub place: Place,
}

/// A remark that can be waived.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Waived {
    /// `rule NAME never applies`
    NeverApplies(RuleId),
    /// `rule NAME never matters`
    NeverMatters(RuleId),
    /// `clause NAME is never required`
    NeverRequired(ClauseId),
    /// `finding NAME never holds`
    NeverHolds(FindingId),
    /// `finding NAME always holds`
    AlwaysHolds(FindingId),
    /// `fact NAME settles nothing`
    SettlesNothing(FactId),
}
