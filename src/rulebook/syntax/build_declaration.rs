//! From pest's pairs to the tree: heads, sources, stages, facts, quantities, slots.

use super::ast::{
    At, FactAttribute, FactDeclaration, FormulaWords, HouseHead, KindWords, QuantityAttribute,
    QuantityDeclaration, RulebookHead, SlotDeclaration, SourceAttribute, SourceDeclaration, StageDeclaration,
    Word, WorkedDeclaration,
};
use super::build::Builder;
use super::grammar::Rule;
use super::parts::{Node, Parts};
use crate::rulebook::book::{Certainty, End, Owner, Picks, Stops};

impl Builder<'_> {
    pub(super) fn rulebook(parts: &mut Parts<'_>) -> Option<RulebookHead> {
        Some(RulebookHead { title: parts.quoted()?, edition: edition(parts)? })
    }

    pub(super) fn house(parts: &mut Parts<'_>) -> Option<HouseHead> {
        Some(HouseHead {
            title: parts.quoted()?,
            edition: edition(parts)?,
            over: parts.quoted()?,
            over_edition: edition(parts)?,
            digest: parts.pick(Rule::digest)?.word(),
        })
    }

    pub(super) fn source(parts: &mut Parts<'_>) -> Option<SourceDeclaration> {
        let name = parts.name()?;
        let title = parts.pick(Rule::title).map(|part| part.quoted());
        let issuer = parts.pick(Rule::issuer).and_then(|part| part.parts().quoted());
        let attributes = parts.filter_map(|part| Some(part.at(source_attribute(part.clone())?))).collect();
        Some(SourceDeclaration { name, title, issuer, attributes })
    }

    pub(super) fn stage(parts: &mut Parts<'_>) -> Option<StageDeclaration> {
        let name = parts.name()?;
        let after = parts.pick(Rule::after_stages).and_then(|part| part.parts().next());
        let stops = if parts.pick(Rule::held).is_some() { Stops::HoldIt } else { Stops::PassIt };
        Some(StageDeclaration { name, after: after.map(names).unwrap_or_default(), stops })
    }

    pub(super) fn fact(&mut self, parts: &mut Parts<'_>) -> Option<FactDeclaration> {
        let (name, owner, kind) = (parts.name()?, owner(parts)?, kind(parts.next()?)?);
        let mut attributes = Vec::new();
        let mut ask = None;
        let mut only_where = None;
        for part in parts {
            match part.rule() {
                Rule::ask => ask = Some(At { span: part.span(), value: part.parts().quoted()? }),
                Rule::only_where => only_where = Some(self.only_where(part)?),
                _ => attributes.push(part.at(fact_attribute(part.clone())?)),
            }
        }
        Some(FactDeclaration { name, owner, kind, attributes, ask: ask?, only_where })
    }

    pub(super) fn worked(parts: &mut Parts<'_>) -> Option<WorkedDeclaration> {
        let (name, owner) = (parts.name()?, owner(parts)?);
        let slot = parts.pick(Rule::and_slot).and_then(|part| part.parts().name());
        let kind = kind(parts.next()?)?;
        let worst = worst(parts);
        let formula = match parts.pick_any(&[Rule::linear, Rule::ratio]) {
            Some(node) => Some(formula(node)?),
            None => None,
        };
        Some(WorkedDeclaration { name, owner, slot, kind, worst, formula })
    }

    pub(super) fn quantity(&mut self, parts: &mut Parts<'_>) -> Option<QuantityDeclaration> {
        let (name, owner, dimension) = (parts.name()?, owner(parts)?, parts.name()?);
        let mut attributes = Vec::new();
        while let Some(part) =
            parts.pick_any(&[Rule::during, Rule::measured_at, Rule::taken_as, Rule::no_departure])
        {
            attributes.push(part.at(quantity_attribute(part.clone())?));
        }
        let ground = self.lines(parts)?.ground;
        Some(QuantityDeclaration { name, owner, dimension, attributes, ground })
    }

    pub(super) fn slot(&mut self, parts: &mut Parts<'_>) -> Option<SlotDeclaration> {
        let name = parts.name()?;
        let picks = parts.pick(Rule::picks)?;
        let picks = if picks.first_word() == "in" { Picks::InOrder } else { Picks::One };
        let catalogue = parts.name()?;
        let only_where = parts.pick(Rule::only_where);
        let only_where = match only_where {
            Some(part) => Some(self.only_where(part)?),
            None => None,
        };
        Some(SlotDeclaration { name, picks, catalogue, only_where })
    }
}

fn edition(parts: &mut Parts<'_>) -> Option<Word> {
    parts.pick(Rule::edition).as_ref().map(edition_word)
}

/// An edition as written, or the words in its quotes.
fn edition_word(node: &Node<'_>) -> Word {
    if node.text().starts_with('"') { node.quoted() } else { node.word() }
}

fn owner(parts: &mut Parts<'_>) -> Option<Owner> {
    let part = parts.pick(Rule::owner)?;
    Some(if part.last_word() == "job" { Owner::Job } else { Owner::Zone })
}

/// The names of a list.
pub(super) fn names(node: Node<'_>) -> Vec<Word> {
    node.parts().map(|part| part.word()).collect()
}

fn source_attribute(node: Node<'_>) -> Option<SourceAttribute> {
    Some(match node.rule() {
        Rule::edition_given => SourceAttribute::Edition(edition(&mut node.parts())?.value),
        Rule::read => SourceAttribute::Certainty(Certainty::Read),
        Rule::second_hand => SourceAttribute::Certainty(Certainty::SecondHand),
        Rule::derived => SourceAttribute::Certainty(Certainty::Derived),
        Rule::from_memory => SourceAttribute::Certainty(Certainty::FromMemory),
        Rule::common_practice => SourceAttribute::Certainty(Certainty::CommonPractice),
        Rule::law => SourceAttribute::Law,
        Rule::checked => SourceAttribute::Checked(node.last_word().to_owned()),
        Rule::again => SourceAttribute::AgainBy(node.last_word().to_owned()),
        _ => SourceAttribute::Countries(node.parts().map(|part| part.word().value).collect()),
    })
}

fn fact_attribute(node: Node<'_>) -> Option<FactAttribute> {
    Some(match node.rule() {
        Rule::good_for => FactAttribute::GoodFor(node.parts().next()?.word()),
        Rule::proved => FactAttribute::ProvedByTest,
        Rule::told_with => {
            let (because, names): (Vec<_>, Vec<_>) =
                node.parts().partition(|part| part.rule() == Rule::string);
            let names = names.iter().map(Node::word).collect();
            FactAttribute::ToldWith(names, because.first()?.quoted())
        }
        _ => FactAttribute::MeasuredBy(names(node)),
    })
}

fn quantity_attribute(node: Node<'_>) -> Option<QuantityAttribute> {
    Some(match node.rule() {
        Rule::during => QuantityAttribute::During(node.parts().name()?),
        Rule::measured_at => QuantityAttribute::Measured(node.parts().quoted()?),
        Rule::taken_as => QuantityAttribute::TakenAs(node.parts().figure()?),
        _ => QuantityAttribute::NoDeparture,
    })
}

/// The end of a spread that is the adverse one.
pub(super) fn worst(parts: &mut Parts<'_>) -> Option<End> {
    parts.pick(Rule::worst).map(|part| if part.last_word() == "high" { End::High } else { End::Low })
}

/// Reads a kind.
pub(super) fn kind(node: Node<'_>) -> Option<At<KindWords>> {
    let span = node.span();
    let rule = node.rule();
    let mut parts = node.parts();
    let value = match rule {
        Rule::yes_or_no => KindWords::YesNo,
        Rule::one_of => KindWords::OneOf(parts.map(|part| part.word()).collect()),
        Rule::named_in => KindWords::NamedIn(parts.name()?),
        Rule::year => KindWords::Year(range(&mut parts)),
        Rule::number => KindWords::Number(range(&mut parts)),
        Rule::words => KindWords::Text,
        _ => KindWords::Measure(parts.name()?, range(&mut parts)),
    };
    Some(At { value, span })
}

fn range(parts: &mut Parts<'_>) -> Option<(Word, Word)> {
    let mut ends = parts.pick(Rule::range)?.parts();
    Some((ends.figure()?, ends.figure()?))
}

fn formula(node: Node<'_>) -> Option<FormulaWords> {
    let is_ratio = node.rule() == Rule::ratio;
    let mut parts = node.parts();
    if is_ratio {
        return Some(FormulaWords::Ratio(parts.name()?, parts.name()?));
    }
    let base = parts.pick(Rule::base).and_then(|part| part.parts().figure());
    let (rate, step, of) = (parts.figure()?, parts.figure()?, parts.name()?);
    let past = parts.pick(Rule::past).and_then(|part| part.parts().figure());
    Some(FormulaWords::Linear { base, rate, step, of, past })
}
