//! What a firm changes in the book below: checked for its form here, made in `layering`.

use super::desk::{Desk, Index};
use super::gather::{Stated, Statements};
use super::mistake_shape::ShapeMistake;
use crate::rulebook::book::Book;
use crate::rulebook::syntax::ast::{Amendment, Change, GroundLines, HouseHead, Word};

impl Desk {
    /// In a book that stands on none there is nothing to change.
    pub(super) fn nothing_below(&mut self, statements: &Statements<'_>) {
        for amendment in &statements.amendments {
            self.error(&ShapeMistake::NothingBelow { word: "amend" }, amendment.place());
        }
        for addition in &statements.additions {
            self.error(&ShapeMistake::NothingBelow { word: "add" }, addition.place());
        }
        for withdrawal in &statements.withdrawals {
            self.error(&ShapeMistake::NothingBelow { word: "withdraw" }, withdrawal.place());
        }
    }

    /// Checks a firm's book for its form and says that it cannot stand alone.
    pub(super) fn house_alone(&mut self, statements: &Statements<'_>) {
        let heads = statements.houses.iter().map(Stated::place);
        let heads = heads.chain(statements.heads.iter().map(Stated::place));
        for second in heads.skip(1) {
            self.error(&ShapeMistake::TwoHeads, second);
        }
        self.sources(&statements.sources);
        for head in &statements.houses {
            self.digest_form(head);
        }
        for amendment in &statements.amendments {
            self.changes_something(amendment);
            let named = named(amendment.said);
            self.ground(amendment, named, &own(&self.names.sources, &amendment.said.ground));
        }
        for addition in &statements.additions {
            let (_, name, _) = addition.said.added.value.named();
            self.ground(addition, name, &own(&self.names.sources, &addition.said.ground));
        }
        for withdrawal in &statements.withdrawals {
            let said = withdrawal.said;
            self.ground(withdrawal, &said.rule, &own(&self.names.sources, &said.ground));
        }
        let Some(head) = statements.houses.first() else { return };
        let over = head.said.over.value.clone();
        self.error(&ShapeMistake::HouseAlone { over }, head.place());
    }

    /// Checks what is not checked when the changes are made.
    pub(super) fn house_over(&mut self, statements: &Statements<'_>, below: &Book) {
        let own_names = statements.sources.iter().map(|source| source.said.name.value.as_str());
        self.names.sources =
            Index::of(own_names.chain(below.sources.iter().map(|source| source.name.as_str())));
        for head in &statements.houses {
            self.digest_form(head);
        }
        for amendment in &statements.amendments {
            self.changes_something(amendment);
            if matches!(amendment.said.change.value, Change::Cell { .. } | Change::Clause { .. }) {
                self.ground(amendment, named(amendment.said), &amendment.said.ground);
            }
        }
        for addition in &statements.additions {
            let (_, name, _) = addition.said.added.value.named();
            self.ground(addition, name, &addition.said.ground);
        }
        for withdrawal in &statements.withdrawals {
            self.ground(withdrawal, &withdrawal.said.rule, &withdrawal.said.ground);
        }
    }

    fn digest_form(&mut self, head: &Stated<'_, HouseHead>) {
        let digest = &head.said.digest;
        if ![12, 64].contains(&digest.value.len()) {
            self.error(&ShapeMistake::Digest { written: digest.value.clone() }, head.at(digest.span));
        }
    }

    fn changes_something(&mut self, stated: &Stated<'_, Amendment>) {
        let same = match &stated.said.change.value {
            Change::Limit { from, to, .. } | Change::Cell { from, to, .. } => from.value == to.value,
            Change::Clause { from, to, .. } => from.value == to.value,
            Change::Narrow { .. } | Change::Widen { .. } => false,
        };
        if same {
            self.error(&ShapeMistake::NoChange, stated.at(stated.said.change.span));
        }
    }
}

/// What a change names.
fn named(amendment: &Amendment) -> &Word {
    match &amendment.change.value {
        Change::Limit { quantity, .. } => quantity,
        Change::Cell { option, .. } => option,
        Change::Clause { clause, .. } => clause,
        Change::Narrow { name, .. } | Change::Widen { name, .. } => name,
    }
}

/// A ground as far as it can be looked up while the book below is not there: sources of its own may be the book's.
fn own(sources: &Index, ground: &GroundLines) -> GroundLines {
    let mut ground = ground.clone();
    for per in &mut ground.per {
        per.value.retain(|cited| sources.get(&cited.source.value).is_some());
    }
    ground
}
