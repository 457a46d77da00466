//! The questions that are put to every book, each as something to look for in a survey.

use super::circuit::Bit;
use super::goal::{self, Goal, Sight, Want, having, laid};
use super::matter;
use super::prover::Prover;
use crate::rulebook::book::{
    Book, Bound, Claim, ClauseId, EffectKind, FindingId, OptionId, Promise, QuantityId, RuleId, SlotId,
};

/// What a question is about. Where a survey is found, the words say what it shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    /// A promise is certainly broken. By its place in the book's list.
    Broken(usize),
    /// A promise is not kept while something is not known.
    Unsure(usize),
    /// A rule certainly applies.
    Applies(RuleId),
    /// Dropping a rule would change something.
    Matters(RuleId),
    /// A clause is required.
    Required(ClauseId),
    /// A finding certainly holds.
    Holds(FindingId),
    /// A finding certainly does not hold.
    Fails(FindingId),
    /// Every option of a slot is refused, and no rule stops the work.
    NothingLeft(SlotId),
    /// The preferences of a slot run in a circle.
    Ring(SlotId),
    /// A floor lies over a ceiling, both certain: the two effects, each by rule and place in its list.
    Clash(QuantityId, (RuleId, usize), (RuleId, usize)),
}

impl About {
    /// Whether a survey that shows it is bad news; otherwise it is bad news that there is none.
    pub(crate) fn is_bad_if_found(self) -> bool {
        match self {
            Self::Broken(_) | Self::Unsure(_) | Self::NothingLeft(_) | Self::Ring(_) | Self::Clash(..) => {
                true
            }
            Self::Applies(_) | Self::Matters(_) | Self::Required(_) | Self::Holds(_) | Self::Fails(_) => {
                false
            }
        }
    }
}

/// A question, laid out.
#[derive(Clone, Debug)]
pub(crate) struct Question<'b> {
    /// What it is about.
    pub(crate) about: About,
    /// What is looked for, any of these, in words that the evaluator understands; empty where gates alone can say it.
    pub(crate) goals: Vec<Goal<'b>>,
    /// The same as a wire.
    pub(crate) bit: Bit,
}

/// Every question to a book.
pub(crate) fn all<'b>(prover: &mut Prover<'b>) -> Vec<Question<'b>> {
    let book = prover.book;
    let mut goals: Vec<(About, Vec<Goal<'b>>)> = Vec::new();
    for (index, promise) in book.promises.iter().enumerate() {
        goals.push((About::Broken(index), vec![broken(promise)]));
        goals.push((About::Unsure(index), unsure(promise)));
    }
    for rule in (0..book.rules.len()).map(RuleId) {
        goals.push((About::Applies(rule), vec![vec![(Sight::Rules(vec![rule]), Want::Yes)]]));
    }
    for finding in (0..book.findings.len()).map(FindingId) {
        goals.push((About::Holds(finding), vec![vec![(Sight::Finding(finding), Want::Yes)]]));
        goals.push((About::Fails(finding), vec![vec![(Sight::Finding(finding), Want::No)]]));
    }
    for clause in (0..book.clauses.len()).map(ClauseId) {
        goals.push((About::Required(clause), vec![vec![(Sight::Clause(clause), Want::Shown)]]));
    }
    for slot in (0..book.slots.len()).map(SlotId) {
        let unstopped = (Sight::Rules(goal::stopping(book)), Want::No);
        goals.push((About::NothingLeft(slot), vec![vec![(Sight::NothingLeft(slot), Want::Yes), unstopped]]));
        goals.push((About::Ring(slot), vec![vec![(Sight::Circle(slot), Want::Yes)]]));
    }
    goals.extend(clashes(book).into_iter().map(|(about, goal)| (about, vec![goal])));
    let mut questions: Vec<Question<'b>> = prover.more(|bench| {
        let lay = |(about, goals): (About, Vec<Goal<'b>>)| {
            let bits: Vec<Bit> = goals.iter().map(|goal| laid(bench, goal)).collect();
            Question { about, bit: bench.circuit.any(bits), goals }
        };
        goals.into_iter().map(lay).collect()
    });
    let matters = prover.more(matter::all).into_iter().enumerate();
    questions.extend(matters.map(|(rule, bit)| Question {
        about: About::Matters(RuleId(rule)),
        goals: Vec::new(),
        bit,
    }));
    questions
}

/// A survey that certainly breaks a promise: its condition certainly holds and its claim certainly does not.
pub(crate) fn broken(promise: &Promise) -> Goal<'_> {
    let here = (Sight::Condition(&promise.when), Want::Yes);
    match &promise.claim {
        Claim::Never(condition) => vec![here, (Sight::Condition(condition), Want::Yes)],
        Claim::Barred(clause) => vec![here, (Sight::Clause(*clause), Want::Yes)],
        claim => vec![here, (claimed(claim), Want::No)],
    }
}

/// Surveys that do not break a promise but do not keep it either: a refusal that is not certain where the promise
/// certainly speaks, and a duty that is not shown where nobody knows whether it speaks.
fn unsure(promise: &Promise) -> Vec<Goal<'_>> {
    let here = |want| (Sight::Condition(&promise.when), want);
    match &promise.claim {
        Claim::Never(_) | Claim::Barred(_) => Vec::new(),
        claim @ Claim::OptionRefused(..) => vec![
            vec![here(Want::Yes), (claimed(claim), Want::Unknown)],
            vec![here(Want::Unknown), (claimed(claim), Want::No)],
        ],
        claim => vec![vec![here(Want::Unknown), (claimed(claim), Want::No)]],
    }
}

fn claimed(claim: &Claim) -> Sight<'_> {
    match claim {
        Claim::Required(clause) | Claim::Barred(clause) => Sight::Clause(*clause),
        Claim::OptionRefused(slot, option) => Sight::Refused(*slot, *option),
        Claim::Limited(quantity, bound, figure) => Sight::Limited(*quantity, *bound, figure, None),
        Claim::Stopped => Sight::Stopped,
        Claim::Never(condition) => Sight::Condition(condition),
    }
}

/// Pairs of limits of which both may certainly hold and no figure satisfies both.
fn clashes(book: &Book) -> Vec<(About, Goal<'_>)> {
    let ends = ends(book);
    let mut found = Vec::new();
    for floor in ends.iter().filter(|end| end.bound == Bound::AtLeast) {
        for ceiling in ends.iter().filter(|end| end.bound == Bound::AtMost && end.quantity == floor.quantity)
        {
            let crossed = floor.figure > ceiling.figure;
            let together = match (floor.option, ceiling.option) {
                (Some(one), Some(other)) => one == other,
                _ => true,
            };
            if crossed && together {
                let about = About::Clash(floor.quantity, floor.effect, ceiling.effect);
                found.push((about, floor.goal().into_iter().chain(ceiling.goal()).collect()));
            }
        }
    }
    found
}

/// One figure that a limit can come to.
struct Limit {
    quantity: QuantityId,
    bound: Bound,
    effect: (RuleId, usize),
    figure: num_rational::BigRational,
    option: Option<(SlotId, OptionId)>,
}

impl Limit {
    fn goal(&self) -> Goal<'static> {
        let chosen = self.option.map(|(slot, option)| (Sight::Chosen(slot, option), Want::Yes));
        std::iter::once((Sight::Rules(vec![self.effect.0]), Want::Yes)).chain(chosen).collect()
    }
}

fn ends(book: &Book) -> Vec<Limit> {
    let mut found = Vec::new();
    for rule in having(book, |kind| matches!(kind, EffectKind::Limit { .. })) {
        let effects = book.rules.get(rule.0).map_or(&[][..], |rule| &rule.effects);
        for (at, effect) in effects.iter().enumerate() {
            let EffectKind::Limit { quantity, bound, value } = &effect.kind else { continue };
            let figures = goal::figures(book, value, *bound).into_iter();
            found.extend(figures.map(|(figure, option)| Limit {
                quantity: *quantity,
                bound: *bound,
                effect: (rule, at),
                figure: figure.value().clone(),
                option,
            }));
        }
    }
    found
}
