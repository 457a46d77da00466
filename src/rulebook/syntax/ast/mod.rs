//! The tree of a rule file. Every word and value keeps the stretch of text it came from.

mod condition;
mod declaration;
mod effect;
mod house;

use std::sync::Arc;

use crate::diagnostic::{Place, Source};

pub use condition::{Compare, Condition, OrderWord, Sense, Test, Value, Whose};
pub use declaration::{
    FactAttribute, FactDeclaration, FormulaWords, KindWords, QuantityAttribute, QuantityDeclaration,
    RulebookHead, SlotDeclaration, SourceAttribute, SourceDeclaration, StageDeclaration, WorkedDeclaration,
};
pub use effect::{Effect, FindingDeclaration, LimitWords, RefusedWords, RuleDeclaration};
pub use house::{
    Added, Addition, Amendment, CellForm, CellWords, Change, Claim, Conditioned, HouseHead,
    PromiseDeclaration, Waived, Waiver, Withdrawal,
};

/// A stretch of a file, in bytes from its start. The end is not part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// The place it is in a source.
    pub fn place(self, source: &Arc<Source>) -> Place {
        Place::new(source, self.start, self.end)
    }

    /// From the start of this to the end of the other.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self { start: self.start, end: other.end.max(self.end) }
    }
}

/// A value and where it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct At<T> {
    /// What was written.
    pub value: T,
    /// Where.
    pub span: Span,
}

/// A name or a word, as written.
pub type Word = At<String>;

/// Words in quotes: spaces folded, quotes and escapes taken off.
pub type Text = At<String>;

/// A rule file.
#[derive(Clone, Debug)]
pub struct File {
    /// What was read.
    pub source: Arc<Source>,
    /// Statements, broken statements and comments between them, in order.
    pub items: Vec<Item>,
}

impl File {
    /// The statements that could be read.
    pub fn statements(&self) -> impl Iterator<Item = &Statement> {
        self.items.iter().filter_map(|item| match &item.kind {
            ItemKind::Statement(statement) => Some(statement.as_ref()),
            ItemKind::Broken(_) | ItemKind::Comment(_) => None,
        })
    }
}

/// One thing at the margin.
#[derive(Clone, Debug)]
pub struct Item {
    /// What it is.
    pub kind: ItemKind,
    /// Whether an empty line stands before it.
    pub gap: Gap,
}

/// What stands at the margin.
#[derive(Clone, Debug)]
pub enum ItemKind {
    /// A comment line, from its dashes on.
    Comment(String),
    /// A statement.
    Statement(Box<Statement>),
    /// A statement that could not be read.
    Broken(Span),
}

/// Whether an empty line stands before something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gap {
    /// Nothing between.
    Close,
    /// At least one empty line.
    Empty,
}

/// A statement, with the comments that stand in it.
#[derive(Clone, Debug)]
pub struct Statement {
    /// From the margin to its last character.
    pub span: Span,
    /// What it says.
    pub body: Body,
    /// Comments inside, in order.
    pub comments: Vec<Comment>,
}

/// A comment inside a statement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Comment {
    /// From its dashes on.
    pub text: String,
    /// Where its first dash is.
    pub start: usize,
    /// Whether other text stands before it on its line.
    pub stands: Stands,
}

/// Where on its line a comment stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// On a line of its own.
    Alone,
    /// After something.
    After,
}

/// What a statement says.
#[derive(Clone, Debug)]
pub enum Body {
    /// `rulebook …`
    Rulebook(RulebookHead),
    /// `house rulebook …`
    House(HouseHead),
    /// `source …`
    Source(SourceDeclaration),
    /// `stage …`
    Stage(StageDeclaration),
    /// `fact …`
    Fact(FactDeclaration),
    /// `worked …`
    Worked(WorkedDeclaration),
    /// `quantity …`
    Quantity(QuantityDeclaration),
    /// `slot …`
    Slot(SlotDeclaration),
    /// `finding …`
    Finding(FindingDeclaration),
    /// `rule …`
    Rule(RuleDeclaration),
    /// `promise …`
    Promise(PromiseDeclaration),
    /// `waive …`
    Waive(Waiver),
    /// `amend …`
    Amend(Amendment),
    /// `add …`
    Add(Addition),
    /// `withdraw …`
    Withdraw(Withdrawal),
}

/// `because` and `per` lines.
#[derive(Clone, Debug, Default)]
pub struct GroundLines {
    /// The reason.
    pub because: Option<At<Text>>,
    /// The sources, line by line.
    pub per: Vec<At<Vec<CitationWords>>>,
}

/// A source and the place in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CitationWords {
    /// The source's name.
    pub source: Word,
    /// Section, clause or table.
    pub detail: Option<Word>,
}
