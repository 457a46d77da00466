//! What a firm changes in the book below: checked for its form here, laid over the book elsewhere.

use super::desk::Desk;
use super::gather::{Stated, Statements};
use super::mistake_shape::ShapeMistake;
use crate::rulebook::syntax::ast::{Amendment, Change, HouseHead, Word};

impl Desk {
    /// In a book that stands on none there is nothing to change.
    pub(super) fn nothing_below(&mut self, statements: &Statements<'_>) {
        for amendment in &statements.amendments {
            self.error(&ShapeMistake::NothingBelow { word: "amend" }, amendment.place());
        }
        for withdrawal in &statements.withdrawals {
            self.error(&ShapeMistake::NothingBelow { word: "withdraw" }, withdrawal.place());
        }
    }

    /// Checks a firm's book for its form and says that it cannot stand alone.
    pub(super) fn house(&mut self, statements: &Statements<'_>) {
        self.house_form(statements);
        let Some(head) = statements.houses.first() else { return };
        let over = head.said.over.value.clone();
        self.error(&ShapeMistake::HouseAlone { over }, head.place());
    }

    /// Checks heads, changes and their grounds.
    fn house_form(&mut self, statements: &Statements<'_>) {
        let heads = statements.houses.iter().map(Stated::place);
        let heads = heads.chain(statements.heads.iter().map(Stated::place));
        for second in heads.skip(1) {
            self.error(&ShapeMistake::TwoHeads, second);
        }
        for head in &statements.houses {
            self.digest_form(head);
        }
        self.sources(&statements.sources);
        for amendment in &statements.amendments {
            self.amendment(amendment);
        }
        for withdrawal in &statements.withdrawals {
            self.reasoned(withdrawal, &withdrawal.said.rule, &withdrawal.said.ground);
        }
    }

    fn digest_form(&mut self, head: &Stated<'_, HouseHead>) {
        let digest = &head.said.digest;
        if ![12, 64].contains(&digest.value.len()) {
            self.error(&ShapeMistake::Digest { written: digest.value.clone() }, head.at(digest.span));
        }
    }

    fn amendment(&mut self, stated: &Stated<'_, Amendment>) {
        let (named, same): (&Word, bool) = match &stated.said.change.value {
            Change::Limit { quantity, from, to, .. } => (quantity, from.value == to.value),
            Change::Cell { option, from, to, .. } => (option, from.value == to.value),
            Change::Narrow { rule, .. } | Change::Widen { rule, .. } => (rule, false),
        };
        if same {
            self.error(&ShapeMistake::NoChange, stated.at(stated.said.change.span));
        }
        self.reasoned(stated, named, &stated.said.ground);
    }

    /// Every change has a reason and a source. The source may be one of the book below, so that its name is not
    /// looked up here.
    fn reasoned<T>(
        &mut self,
        stated: &Stated<'_, T>,
        named: &Word,
        ground: &crate::rulebook::syntax::ast::GroundLines,
    ) {
        let bare =
            crate::rulebook::syntax::ast::GroundLines { because: ground.because.clone(), per: Vec::new() };
        let lines = if ground.per.is_empty() { &bare } else { ground };
        let known = lines.per.iter().flat_map(|per| &per.value);
        let foreign = known.filter(|cited| self.names.sources.get(&cited.source.value).is_none()).count();
        if foreign == 0 {
            self.ground(stated, named, lines);
        }
    }
}
