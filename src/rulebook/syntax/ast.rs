//! The tree of a rule file. Every word and value keeps the stretch of text it came from.

use std::sync::Arc;

use crate::diagnostic::{Place, Source};
use crate::rulebook::book::{Audience, Bound, Certainty, End, Owner, Picks, Stops};

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
    /// `amend …`
    Amend(Amendment),
    /// `withdraw …`
    Withdraw(Withdrawal),
}

/// The name and edition of a book.
#[derive(Clone, Debug)]
pub struct RulebookHead {
    /// Its name.
    pub title: Text,
    /// Its edition.
    pub edition: Word,
}

/// The name and edition of a firm's book and of the book it stands on.
#[derive(Clone, Debug)]
pub struct HouseHead {
    /// Its name.
    pub title: Text,
    /// Its edition.
    pub edition: Word,
    /// The name of the book below.
    pub over: Text,
    /// The edition of the book below.
    pub over_edition: Word,
    /// The digest of the book below: its first twelve hex digits or all.
    pub digest: Word,
}

/// Where knowledge comes from.
#[derive(Clone, Debug)]
pub struct SourceDeclaration {
    /// Its name.
    pub name: Word,
    /// Designation and title.
    pub title: Option<Text>,
    /// Who issues it.
    pub issuer: Option<Text>,
    /// The rest.
    pub attributes: Vec<At<SourceAttribute>>,
}

/// What is said of a source.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SourceAttribute {
    /// `edition X`
    Edition(String),
    /// `read`, `second-hand`, …
    Certainty(Certainty),
    /// `law`
    Law,
    /// `checked 2026-11-25`
    Checked(String),
    /// `again by 2027-05`
    AgainBy(String),
    /// `for US, UK`
    Countries(Vec<String>),
}

/// A step of the work.
#[derive(Clone, Debug)]
pub struct StageDeclaration {
    /// Its name.
    pub name: Word,
    /// The stages before it.
    pub after: Vec<Word>,
    /// Whether a stop holds it back.
    pub stops: Stops,
}

/// The kind of a fact or column.
#[derive(Clone, Debug)]
pub enum KindWords {
    /// `yes or no`
    YesNo,
    /// `one of a, b`
    OneOf(Vec<Word>),
    /// `named in CATALOGUE`
    NamedIn(Word),
    /// `year A to B`
    Year(Option<(Word, Word)>),
    /// `number A to B`
    Number(Option<(Word, Word)>),
    /// `length A to B`
    Measure(Word, Option<(Word, Word)>),
    /// `text`
    Text,
}

/// A question.
#[derive(Clone, Debug)]
pub struct FactDeclaration {
    /// Its name.
    pub name: Word,
    /// Job or zone.
    pub owner: Owner,
    /// Its kind.
    pub kind: At<KindWords>,
    /// The rest of its first line.
    pub attributes: Vec<At<FactAttribute>>,
    /// The words of the question.
    pub ask: At<Text>,
    /// When it arises.
    pub only_where: Option<At<Condition>>,
}

/// What is said of a question.
#[derive(Clone, Debug)]
pub enum FactAttribute {
    /// `good for N days`
    GoodFor(Word),
    /// `proved by test`
    ProvedByTest,
    /// `measured by A or B`
    MeasuredBy(Vec<Word>),
}

/// A value that the wall calculation supplies.
#[derive(Clone, Debug)]
pub struct WorkedDeclaration {
    /// Its name.
    pub name: Word,
    /// Job or zone.
    pub owner: Owner,
    /// `and SLOT`
    pub slot: Option<Word>,
    /// Its kind.
    pub kind: At<KindWords>,
    /// The end of a spread to decide on.
    pub worst: Option<End>,
}

/// What limits bound.
#[derive(Clone, Debug)]
pub struct QuantityDeclaration {
    /// Its name.
    pub name: Word,
    /// Job or zone.
    pub owner: Owner,
    /// Its dimension.
    pub dimension: Word,
    /// The rest of its first line.
    pub attributes: Vec<At<QuantityAttribute>>,
    /// Why and per what, where a value is taken.
    pub ground: GroundLines,
}

/// What is said of a quantity.
#[derive(Clone, Debug)]
pub enum QuantityAttribute {
    /// `during STAGE`
    During(Word),
    /// `measured "at the nozzle"`
    Measured(Text),
    /// `taken as VALUE`
    TakenAs(Word),
    /// `no departure`
    NoDeparture,
}

/// What is chosen.
#[derive(Clone, Debug)]
pub struct SlotDeclaration {
    /// Its name.
    pub name: Word,
    /// One or a sequence.
    pub picks: Picks,
    /// From which catalogue.
    pub catalogue: Word,
    /// When there is something to choose.
    pub only_where: Option<At<Condition>>,
}

/// A derived yes or no.
#[derive(Clone, Debug)]
pub struct FindingDeclaration {
    /// Its name.
    pub name: Word,
    /// When it holds.
    pub when: Option<At<Condition>>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What follows from what.
#[derive(Clone, Debug)]
pub struct RuleDeclaration {
    /// Its name.
    pub name: Word,
    /// When it applies; `None`: always.
    pub when: Option<At<Condition>>,
    /// What it does.
    pub effects: Vec<At<Effect>>,
    /// `no departure`
    pub no_departure: Option<Span>,
    /// `if unsure leave out because "…"`
    pub if_unsure: Option<At<Text>>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What must hold for every survey.
#[derive(Clone, Debug)]
pub struct PromiseDeclaration {
    /// Its name.
    pub name: Word,
    /// Where it is claimed; `None`: everywhere.
    pub when: Option<At<Condition>>,
    /// What is claimed.
    pub claim: At<Claim>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What a promise claims.
#[derive(Clone, Debug)]
pub enum Claim {
    /// `clause C is required`
    Required(Word),
    /// `SLOT OPTION is refused`
    Refused(Word, Word),
    /// `limit Q at most V`
    Limited(Word, Bound, Word),
    /// `a stop stands`
    Stopped,
    /// `COND never holds`
    Never(Condition),
}

/// One change to the book below.
#[derive(Clone, Debug)]
pub struct Amendment {
    /// What changes.
    pub change: At<Change>,
    /// Why, per what.
    pub ground: GroundLines,
}

/// What an amendment changes.
#[derive(Clone, Debug)]
pub enum Change {
    /// `limit Q in RULE from V to V`
    Limit {
        /// The quantity.
        quantity: Word,
        /// The rule.
        rule: Word,
        /// The old value.
        from: Word,
        /// The new value.
        to: Word,
    },
    /// `CATALOGUE OPTION COLUMN from V to V`
    Cell {
        /// The catalogue.
        catalogue: Word,
        /// The row.
        option: Word,
        /// The column.
        column: Word,
        /// The old value.
        from: Word,
        /// The new value.
        to: Word,
    },
    /// `rule NAME only where COND`
    Narrow {
        /// The rule.
        rule: Word,
        /// The condition that must hold as well.
        condition: At<Condition>,
    },
    /// `rule NAME also where COND`
    Widen {
        /// The rule.
        rule: Word,
        /// The condition that is enough.
        condition: At<Condition>,
    },
}

/// A rule of the book below that the firm does not hold to.
#[derive(Clone, Debug)]
pub struct Withdrawal {
    /// The rule.
    pub rule: Word,
    /// Why, per what.
    pub ground: GroundLines,
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

/// A condition. Nested lists of the same sort are joined; brackets are not kept.
#[derive(Clone, Debug)]
pub enum Condition {
    /// `a and b`
    All(Vec<Condition>),
    /// `a or b`
    Any(Vec<Condition>),
    /// `not a`
    Not(Box<Condition>),
    /// A single test.
    Test(At<Test>),
}

/// A single test.
#[derive(Clone, Debug)]
pub enum Test {
    /// `historic`: a yes-or-no fact or a finding
    Bare(Word),
    /// `built before 1945`
    Compared(Word, At<Compare>),
    /// `chosen SLOT is …`
    Chosen(Word, At<Compare>),
    /// `chosen SLOT whose …`
    ChosenWhose(Word, Whose),
}

/// `whose NAME …`
#[derive(Clone, Debug)]
pub struct Whose {
    /// A column or a worked fact.
    pub name: Word,
    /// How it is compared.
    pub compare: At<Compare>,
    /// From the name on.
    pub span: Span,
}

/// A comparison.
#[derive(Clone, Debug)]
pub enum Compare {
    /// `is known`
    Known,
    /// `is unknown`
    Unknown,
    /// `is a`, `is not a`, `is one of a, b`, `is not one of a, b`
    Is(Sense, Vec<Value>),
    /// `over 5 mm`
    Ordered(OrderWord, Value),
    /// `between a and b`, ends included
    Between(Value, Value),
}

/// `is` or `is not`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    /// `is`
    Is,
    /// `is not`
    IsNot,
}

/// The words that put numbers in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderWord {
    /// `over`
    Over,
    /// `under`
    Under,
    /// `at least`
    AtLeast,
    /// `at most`
    AtMost,
    /// `before`, of years
    Before,
    /// `after`, of years
    After,
}

/// What something is compared with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// A number, with its unit if it has one.
    Figure(Word),
    /// A word, option or fact.
    Word(Word),
}

impl Value {
    /// As written, and where.
    pub fn word(&self) -> &Word {
        match self {
            Self::Figure(word) | Self::Word(word) => word,
        }
    }
}

/// What a rule does.
#[derive(Clone, Debug)]
pub enum Effect {
    /// `limit Q to at most V`
    Limit {
        /// The quantity.
        quantity: Word,
        /// Ceiling or floor.
        bound: Bound,
        /// The value.
        value: LimitWords,
    },
    /// `require clause C`
    Require(Word),
    /// `refuse SLOT …`
    Refuse(Word, RefusedWords),
    /// `prefer SLOT A over B`; `None`: over every other
    Prefer {
        /// The slot.
        slot: Word,
        /// The better option.
        better: Word,
        /// The worse one.
        over: Option<Word>,
    },
    /// `stop "…" until "…" released by ROLE`
    Stop {
        /// What is stopped.
        what: Text,
        /// What ends it.
        until: Text,
        /// Who may end it.
        released_by: Word,
    },
    /// `hold-point NAME before STAGE …`
    HoldPoint {
        /// Its name.
        name: Word,
        /// The stage that waits.
        before: Word,
        /// Who releases.
        released_by: Word,
        /// How long before.
        notice: Option<Word>,
        /// The form that records it.
        form: Option<Word>,
    },
    /// `caution "…" for …`
    Caution {
        /// The words.
        words: Text,
        /// Who must read it.
        readers: Vec<Audience>,
    },
}

/// What a limit is.
#[derive(Clone, Debug)]
pub enum LimitWords {
    /// A figure or the name of a fact.
    Value(Value),
    /// `its COLUMN of chosen SLOT`
    Column {
        /// The column.
        column: Word,
        /// The slot.
        slot: Word,
    },
}

/// Which options are refused.
#[derive(Clone, Debug)]
pub enum RefusedWords {
    /// `A, B`
    Named(Vec<Word>),
    /// `every other than A, B`
    AllBut(Vec<Word>),
    /// `whose …`
    Whose(Whose),
}
