//! What a book can decide, by name, so that two books can be held against each other.

use std::collections::BTreeMap;

use num_rational::BigRational;

use super::goal::Sight;
use crate::rulebook::book::{
    Book, Bound, ClauseId, EffectKind, LimitValue, OptionId, Picks, QuantityId, RuleId, SlotId,
};
use crate::units::{Quantity, System, print};

/// One thing that a book can decide. Called by words alone, for two books number their statements otherwise.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Item {
    /// A clause is required.
    Clause(String),
    /// A quantity is bounded at least as strictly as this figure, from this side.
    Limit(String, Bound, BigRational),
    /// A quantity is bounded by a fact, from this side.
    LimitOfFact(String, Bound, String),
    /// An option of a slot is refused.
    Refused(String, String),
    /// A stop, by its words and who releases it.
    Stop(String, String),
    /// A hold point before a stage, by its name, and who releases it.
    HoldPoint(String, String),
    /// A caution.
    Caution(String),
    /// Every option of a slot is refused, and the work stops there.
    NothingLeft(String),
    /// An option of a slot is chosen.
    Chosen(String, String),
}

impl Item {
    /// Whether it is a duty: to lose it is to be weaker.
    pub fn is_duty(&self) -> bool {
        !matches!(self, Self::Chosen(..))
    }

    /// In words.
    pub fn in_words(&self, books: &[&Book], system: System) -> String {
        match self {
            Self::Clause(name) => format!("clause `{name}` is required"),
            Self::Limit(quantity, bound, value) => {
                format!("`{quantity}` is held to {} {}", word(*bound), figure(books, quantity, value, system))
            }
            Self::LimitOfFact(quantity, bound, fact) => {
                format!("`{quantity}` is held to {} `{fact}`", word(*bound))
            }
            Self::Refused(slot, option) => format!("`{option}` is refused as {slot}"),
            Self::Stop(what, role) => format!("the stop \"{what}\" stands, released by {role}"),
            Self::HoldPoint(name, role) => format!("hold point `{name}` stands, released by {role}"),
            Self::Caution(words) => format!("the caution \"{words}\" is given"),
            Self::NothingLeft(slot) => format!("the stop stands where every {slot} is refused"),
            Self::Chosen(slot, option) => format!("`{option}` is chosen as {slot}"),
        }
    }
}

fn word(bound: Bound) -> &'static str {
    match bound {
        Bound::AtMost => "at most",
        Bound::AtLeast => "at least",
    }
}

fn figure(books: &[&Book], quantity: &str, value: &BigRational, system: System) -> String {
    let declared = books.iter().flat_map(|book| &book.quantities).find(|declared| declared.name == quantity);
    declared.map_or_else(
        || value.to_string(),
        |declared| print(&Quantity::from_base(value.clone(), declared.dimension), system),
    )
}

/// What one book decides, each with where to look for it.
pub(crate) fn items<'b>(
    book: &'b Book,
    figures: &'b [(String, Bound, Quantity)],
) -> BTreeMap<Item, Sight<'b>> {
    let mut found = BTreeMap::new();
    for (id, clause) in book.clauses.iter().enumerate() {
        found.insert(Item::Clause(clause.name.clone()), Sight::Clause(ClauseId(id)));
    }
    for (quantity, bound, figure) in figures {
        let declared = book.quantities.iter().position(|declared| declared.name == *quantity);
        if let Some(id) = declared.map(QuantityId) {
            let item = Item::Limit(quantity.clone(), *bound, figure.value().clone());
            found.insert(item, Sight::Limited(id, *bound, figure, None));
        }
    }
    for (id, slot) in book.slots.iter().enumerate() {
        let options = book.catalogues.get(slot.catalogue.0).map_or(&[][..], |catalogue| &catalogue.options);
        if slot.picks == Picks::One {
            found.insert(Item::NothingLeft(slot.name.clone()), Sight::NothingLeft(SlotId(id)));
        }
        for (option, declared) in options.iter().enumerate() {
            let named = || (slot.name.clone(), declared.name.clone());
            let (of, option) = (SlotId(id), OptionId(option));
            found.insert(Item::Refused(named().0, named().1), Sight::Refused(of, option));
            found.insert(Item::Chosen(named().0, named().1), Sight::Chosen(of, option));
        }
    }
    let mut saying: BTreeMap<Item, Vec<RuleId>> = BTreeMap::new();
    for (id, rule) in book.rules.iter().enumerate() {
        for item in rule.effects.iter().filter_map(|effect| said(book, &effect.kind)) {
            let rules = saying.entry(item).or_default();
            if rules.last() != Some(&RuleId(id)) {
                rules.push(RuleId(id));
            }
        }
    }
    found.extend(saying.into_iter().map(|(item, rules)| (item, Sight::Rules(rules))));
    found
}

/// Effects that are called by what they say.
fn said(book: &Book, kind: &EffectKind) -> Option<Item> {
    match kind {
        EffectKind::Stop { what, released_by, .. } => Some(Item::Stop(what.clone(), released_by.clone())),
        EffectKind::HoldPoint { name, released_by, .. } => {
            Some(Item::HoldPoint(name.clone(), released_by.clone()))
        }
        EffectKind::Caution { words, .. } => Some(Item::Caution(words.clone())),
        EffectKind::Limit { quantity, bound, value: LimitValue::Fact(fact) } => {
            let quantity = book.quantities.get(quantity.0)?.name.clone();
            Some(Item::LimitOfFact(quantity, *bound, book.facts.get(fact.0)?.name.clone()))
        }
        _ => None,
    }
}

/// Every figure that a limit of a book can come to.
pub(crate) fn figures(book: &Book) -> Vec<(String, Bound, Quantity)> {
    let mut found: Vec<(String, Bound, Quantity)> = Vec::new();
    for rule in (0..book.rules.len()).map(RuleId) {
        for effect in book.rules.get(rule.0).map_or(&[][..], |rule| &rule.effects) {
            let EffectKind::Limit { quantity, bound, value } = &effect.kind else { continue };
            let Some(declared) = book.quantities.get(quantity.0) else { continue };
            let figures = super::goal::figures(book, value, *bound).into_iter();
            found.extend(figures.map(|(figure, _)| (declared.name.clone(), *bound, figure)));
        }
    }
    found
}
