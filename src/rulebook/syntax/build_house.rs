//! From pest's pairs to the tree: promises, and what a firm changes in the book below.

use super::ast::{
    Added, Addition, Amendment, At, CellForm, CellWords, Change, Claim, Conditioned, PromiseDeclaration,
    Waived, Waiver, Withdrawal, Word,
};
use super::build::Builder;
use super::build_declaration::{kind, worst};
use super::build_effect::bound;
use super::grammar::Rule;
use super::parts::{Node, Parts};

impl Builder<'_> {
    pub(super) fn promise(&mut self, parts: &mut Parts<'_>) -> Option<PromiseDeclaration> {
        let name = parts.name()?;
        let mut when = None;
        if let Some(part) = parts.pick(Rule::where_line) {
            let span = part.span();
            when = Some(At { value: self.condition(part.parts().next()?)?, span });
        }
        let part = parts.next()?;
        let span = part.span();
        let claim = At { value: self.claim(part)?, span };
        let ground = self.lines(parts)?.ground;
        Some(PromiseDeclaration { name, when, claim, ground })
    }

    fn claim(&mut self, node: Node<'_>) -> Option<Claim> {
        let rule = node.rule();
        let mut parts = node.parts();
        Some(match rule {
            Rule::claim_required => Claim::Required(parts.name()?),
            Rule::claim_barred => Claim::Barred(parts.name()?),
            Rule::claim_stopped => Claim::Stopped,
            Rule::claim_limit => Claim::Limited(parts.name()?, bound(&mut parts)?, parts.figure()?),
            Rule::claim_refused => Claim::Refused(parts.name()?, parts.name()?),
            _ => Claim::Never(self.condition(parts.next()?)?),
        })
    }

    pub(super) fn waive(&mut self, parts: &mut Parts<'_>) -> Option<Waiver> {
        let node = parts.next()?;
        let (span, rule, last) = (node.span(), node.rule(), node.last_word().to_owned());
        let negated = node.words().any(|word| word == "never");
        let value = match rule {
            Rule::waived_rule if last == "applies" => Waived::NeverApplies,
            Rule::waived_rule => Waived::NeverMatters,
            Rule::waived_clause => Waived::NeverRequired,
            Rule::waived_finding if negated => Waived::NeverHolds,
            Rule::waived_finding => Waived::AlwaysHolds,
            _ => Waived::SettlesNothing,
        };
        let name = node.parts().name()?;
        Some(Waiver { remark: At { value, span }, name, ground: self.lines(parts)?.ground })
    }

    pub(super) fn amend(&mut self, parts: &mut Parts<'_>) -> Option<Amendment> {
        let part = parts.next()?;
        let span = part.span();
        let change = At { value: self.change(part)?, span };
        Some(Amendment { change, ground: self.lines(parts)?.ground })
    }

    fn change(&mut self, node: Node<'_>) -> Option<Change> {
        let rule = node.rule();
        let mut parts = node.parts();
        match rule {
            Rule::amend_limit => Some(Change::Limit {
                quantity: parts.name()?,
                rule: parts.name()?,
                from: parts.figure()?,
                to: parts.figure()?,
            }),
            Rule::amend_clause => Some(Change::Clause {
                clause: parts.name()?,
                reader: parts.name()?,
                from: parts.quoted()?,
                to: parts.quoted()?,
            }),
            Rule::amend_cell => Some(Change::Cell {
                catalogue: parts.name()?,
                option: parts.name()?,
                column: parts.name()?,
                from: cell(parts.next()?)?,
                to: cell(parts.next()?)?,
            }),
            _ => {
                let of = if rule == Rule::amend_finding { Conditioned::Finding } else { Conditioned::Rule };
                let name = parts.name()?;
                let narrows = parts.pick(Rule::amend_how)?.text() == "only";
                let part = parts.next()?;
                let span = part.span();
                let condition = At { value: self.condition(part)?, span };
                Some(if narrows {
                    Change::Narrow { of, name, condition }
                } else {
                    Change::Widen { of, name, condition }
                })
            }
        }
    }

    pub(super) fn add(&mut self, parts: &mut Parts<'_>) -> Option<Addition> {
        let part = parts.next()?;
        let span = part.span();
        let added = At { value: added(part)?, span };
        Some(Addition { added, ground: self.lines(parts)?.ground })
    }

    pub(super) fn withdraw(&mut self, parts: &mut Parts<'_>) -> Option<Withdrawal> {
        Some(Withdrawal { rule: parts.name()?, ground: self.lines(parts)?.ground })
    }
}

fn added(node: Node<'_>) -> Option<Added> {
    let is_row = node.rule() == Rule::add_row;
    let mut parts = node.parts();
    let (name, catalogue, title) = (parts.name()?, parts.name()?, parts.quoted()?);
    if is_row {
        return Some(Added::Row { name, catalogue, title, cells: cells(&mut parts)? });
    }
    let kind = kind(parts.next()?)?;
    let worst = worst(&mut parts);
    Some(Added::Column { name, catalogue, title, kind, worst, cells: cells(&mut parts)? })
}

/// The cells of a new row or column.
fn cells(parts: &mut Parts<'_>) -> Option<Vec<CellWords>> {
    let Some(list) = parts.pick(Rule::with_cells) else { return Some(Vec::new()) };
    let named = |part: Node<'_>| {
        let mut parts = part.parts();
        let (name, value) = (parts.name()?, parts.next()?);
        Some(match value.rule() {
            Rule::string => CellWords { name, value: value.quoted(), form: CellForm::Quoted },
            _ => CellWords { name, value: cell(value)?, form: CellForm::Bare },
        })
    };
    list.parts().map(named).collect()
}

/// A cell as written, a span with one space after its comma.
fn cell(node: Node<'_>) -> Option<Word> {
    let whole = node.word();
    let inner = node.parts().next()?;
    if inner.rule() != Rule::span {
        return Some(whole);
    }
    let mut ends = inner.parts();
    let (low, high) = (ends.figure()?, ends.figure()?);
    Some(At { value: format!("[{}, {}]", low.value, high.value), span: whole.span })
}
