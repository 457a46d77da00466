//! From pest's pairs to the tree: what a rule does.

use super::ast::{Effect, LimitWords, RefusedWords, Word};
use super::build::Builder;
use super::build_condition::{value, whose};
use super::build_declaration::names;
use super::grammar::Rule;
use super::parts::{Node, Parts};
use crate::rulebook::book::{Audience, Bound};

impl Builder<'_> {
    pub(super) fn effect(node: Node<'_>) -> Option<Effect> {
        let rule = node.rule();
        let mut parts = node.parts();
        match rule {
            Rule::limit => limit(&mut parts),
            Rule::require => Some(Effect::Require(parts.name()?)),
            Rule::refuse => refuse(&mut parts),
            Rule::prefer => prefer(&mut parts),
            Rule::stop => {
                let (what, until) = (parts.quoted()?, parts.quoted()?);
                Some(Effect::Stop { what, until, released_by: released_by(&mut parts)? })
            }
            Rule::hold_point => hold_point(&mut parts),
            Rule::caution => {
                let words = parts.quoted()?;
                let mut readers: Vec<Audience> = parts.map(|part| audience(part.text())).collect();
                readers.sort();
                readers.dedup();
                Some(Effect::Caution { words, readers })
            }
            _ => None,
        }
    }
}

/// Ceiling or floor.
pub(super) fn bound(parts: &mut Parts<'_>) -> Option<Bound> {
    let part = parts.pick(Rule::bound)?;
    Some(if part.last_word() == "most" { Bound::AtMost } else { Bound::AtLeast })
}

fn limit(parts: &mut Parts<'_>) -> Option<Effect> {
    let (quantity, bound) = (parts.name()?, bound(parts)?);
    let value = match parts.pick(Rule::its_column) {
        Some(column) => {
            let mut inner = column.parts();
            LimitWords::Column { column: inner.name()?, slot: inner.name()? }
        }
        None => LimitWords::Value(value(parts)?),
    };
    Some(Effect::Limit { quantity, bound, value })
}

fn refuse(parts: &mut Parts<'_>) -> Option<Effect> {
    let slot = parts.name()?;
    let which = parts.next()?;
    let which = match which.rule() {
        Rule::whose => RefusedWords::Whose(whose(which)?),
        Rule::all_but => RefusedWords::AllBut(names(which.parts().next()?)),
        _ => RefusedWords::Named(names(which)),
    };
    Some(Effect::Refuse(slot, which))
}

fn prefer(parts: &mut Parts<'_>) -> Option<Effect> {
    let (slot, better) = (parts.name()?, parts.name()?);
    let over = if parts.pick(Rule::every_other).is_some() { None } else { Some(parts.name()?) };
    Some(Effect::Prefer { slot, better, over })
}

fn released_by(parts: &mut Parts<'_>) -> Option<Word> {
    parts.pick(Rule::released_by)?.parts().name()
}

fn hold_point(parts: &mut Parts<'_>) -> Option<Effect> {
    let (name, before) = (parts.name()?, parts.name()?);
    let released_by = released_by(parts)?;
    let (mut notice, mut form) = (None, None);
    for part in parts {
        let is_notice = part.rule() == Rule::notice;
        let inner = part.parts().next()?.word();
        *(if is_notice { &mut notice } else { &mut form }) = Some(inner);
    }
    Some(Effect::HoldPoint { name, before, released_by, notice, form })
}

fn audience(word: &str) -> Audience {
    match word {
        "crew" => Audience::Crew,
        "owner" => Audience::Owner,
        _ => Audience::Public,
    }
}
