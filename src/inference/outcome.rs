//! What was decided, zone by zone, with the rules behind each decision.

use crate::inference::truth::Truth;
use crate::rulebook::book::{Bound, ClauseId, FactId, OptionId, QuantityId, RuleId, SlotId};
use crate::rulebook::cells::CellSet;
use crate::units::Quantity;

/// Everything decided for a job.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// One a zone, in the survey's order.
    pub zones: Vec<ZoneOutcome>,
    /// Open questions, the one that would settle most first.
    pub questions: Vec<OpenQuestion>,
}

/// Everything decided for one zone. Only what is shown is listed: duties that are certainly false are not.
#[derive(Clone, Debug)]
pub struct ZoneOutcome {
    /// The bare decisions.
    pub decisions: Decisions,
    /// One a slot of the book.
    pub slots: Vec<SlotOutcome>,
    /// Limits, by quantity and bound.
    pub limits: Vec<LimitOutcome>,
    /// Clauses, by id.
    pub clauses: Vec<ClauseDuty>,
    /// Stops, released ones too.
    pub stops: Vec<StopDuty>,
    /// Hold points, by stage.
    pub hold_points: Vec<Duty>,
    /// Cautions.
    pub cautions: Vec<Duty>,
    /// Floors over ceilings.
    pub clashes: Vec<Clash>,
}

/// The bare result of reading the book once, in ids of the book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decisions {
    /// The cells possible for each fact after guards; empty where the fact has one set an option.
    pub facts: Vec<CellSet>,
    /// Each finding.
    pub findings: Vec<Truth>,
    /// Whether each slot arises.
    pub arises: Vec<Truth>,
    /// For each slot and option: is it refused.
    pub refused: Vec<Vec<Truth>>,
    /// For each slot, for each option, is it preferred to each option; closed. Empty for in-order slots.
    pub beats: Vec<Vec<Vec<Truth>>>,
    /// For each slot and option: is it chosen (in the sequence, for in-order slots).
    pub chosen: Vec<Vec<Truth>>,
    /// For each slot: does it certainly get something.
    pub filled: Vec<Truth>,
    /// For each pick-one slot: the option to print for now.
    pub picks: Vec<Option<OptionId>>,
    /// For each slot: do the preferences that hold run in a circle.
    pub circular: Vec<Truth>,
    /// Each rule: does it apply (after `if unsure leave out`).
    pub rules: Vec<Truth>,
}

/// One effect of one rule and how sure it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cause {
    /// The rule.
    pub rule: RuleId,
    /// Index into its effects.
    pub effect: usize,
    /// Whether it applies.
    pub truth: Truth,
}

/// How a duty is marked where it prints.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// It holds whatever the open questions turn out to be.
    Certain,
    /// It follows from the option picked for now.
    Provisional,
    /// It holds only if one of these other options is chosen.
    IfChosen(Vec<(SlotId, OptionId)>),
    /// It applies on the safe side until these facts are known.
    SafeSide(Vec<FactId>),
}

/// A duty with its causes.
#[derive(Clone, Debug)]
pub struct Duty {
    /// The effect that brings it; its words are in the book.
    pub cause: Cause,
    /// Its mark.
    pub mark: Mark,
    /// For hold points: the index of the release in the survey.
    pub released: Option<usize>,
}

/// A clause that is required.
#[derive(Clone, Debug)]
pub struct ClauseDuty {
    /// The clause.
    pub clause: ClauseId,
    /// How sure, over all its causes.
    pub truth: Truth,
    /// The mark, the most certain of its causes'.
    pub mark: Mark,
    /// Every rule that requires it and is not certainly silent.
    pub causes: Vec<Cause>,
}

/// A stop.
#[derive(Clone, Debug)]
pub struct StopDuty {
    /// The effect that brings it.
    pub cause: StopCause,
    /// Its mark.
    pub mark: Mark,
    /// Index of the release in the survey, if it was released.
    pub released: Option<usize>,
}

/// What a stop comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StopCause {
    /// A stop that a rule states.
    Rule(Cause),
    /// Every option of a slot is refused.
    NothingLeft(SlotId, Truth),
    /// The preferences that hold run in a circle through these rules.
    Circle(SlotId, Truth, Vec<RuleId>),
    /// A floor lies over a ceiling, both certain.
    Clash(QuantityId),
}

/// A slot's result.
#[derive(Clone, Debug)]
pub struct SlotOutcome {
    /// The slot.
    pub slot: SlotId,
    /// Whether there is something to choose.
    pub arises: Truth,
    /// One an option of the catalogue.
    pub options: Vec<OptionOutcome>,
    /// The one printed for now (for in-order slots see [`SlotOutcome::sequence`]); certain when it is the only one possible.
    pub pick: Option<OptionId>,
    /// For in-order slots: the options that are not certainly refused, in order.
    pub sequence: Vec<OptionId>,
    /// The facts that leave the choice open; empty when it is settled.
    pub open: Vec<FactId>,
}

/// An option's result.
#[derive(Clone, Debug)]
pub struct OptionOutcome {
    /// Whether it is refused.
    pub refused: Truth,
    /// By what.
    pub refused_by: Vec<Cause>,
    /// Whether it is chosen: `No` means impossible, `Unknown` possible, `Yes` certain.
    pub chosen: Truth,
    /// Options that are preferred to it, with the rules that say so directly.
    pub beaten_by: Vec<(OptionId, Truth)>,
}

/// The limits on a quantity from one side.
#[derive(Clone, Debug)]
pub struct LimitOutcome {
    /// The quantity.
    pub quantity: QuantityId,
    /// Ceiling or floor.
    pub bound: Bound,
    /// Every limit shown, strictest first.
    pub entries: Vec<LimitEntry>,
}

impl LimitOutcome {
    /// The limit to print: the strictest shown.
    pub fn binding(&self) -> Option<&LimitEntry> {
        self.entries.first()
    }

    /// The strictest limit that is certain.
    pub fn certain(&self) -> Option<&LimitEntry> {
        self.entries.iter().find(|entry| entry.cause.truth == Truth::Yes)
    }
}

/// One limit.
#[derive(Clone, Debug)]
pub struct LimitEntry {
    /// Its figure.
    pub value: Quantity,
    /// The rule and effect.
    pub cause: Cause,
    /// Its mark.
    pub mark: Mark,
    /// The option whose column it is, for `its COLUMN of chosen SLOT`.
    pub option: Option<OptionId>,
}

/// A floor over a ceiling.
#[derive(Clone, Debug)]
pub struct Clash {
    /// The quantity.
    pub quantity: QuantityId,
    /// The floor.
    pub floor: LimitEntry,
    /// The ceiling.
    pub ceiling: LimitEntry,
}

/// A question that is open, and what an answer would do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenQuestion {
    /// The fact.
    pub fact: FactId,
    /// Indices of the zones where it is open and matters.
    pub zones: Vec<usize>,
    /// Marked duties that some answer would settle, summed over those zones: the greatest number over the answers.
    pub settles_at_most: usize,
    /// The same, the least number over the answers.
    pub settles_at_least: usize,
}

impl Outcome {
    /// Whether nothing stands against issue: no stop without a release, no open question, no floor over a ceiling.
    pub fn is_settled(&self) -> bool {
        let clear = |zone: &ZoneOutcome| {
            zone.clashes.is_empty() && zone.stops.iter().all(|stop| stop.released.is_some())
        };
        self.questions.is_empty() && self.zones.iter().all(clear)
    }
}
