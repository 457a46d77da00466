//! Makes the firm's changes in the trees of the book below.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::cell::CellChange;
use super::mistake::LayeringMistake;
use super::table::{Addition, TableChange};
use crate::diagnostic::{Diagnostic, Place, Source, nearest};
use crate::rulebook::book::Bound;
use crate::rulebook::syntax::ast::{
    Added, Amendment, At, Body, Change, Condition, Conditioned, Effect, File, FindingDeclaration, Gap,
    GroundLines, Item, ItemKind, LimitWords, RuleDeclaration, Span, Statement, Test, Value, Withdrawal, Word,
};
use crate::rulebook::syntax::print;

/// Makes every change; what does not fit is noted. Returns those to catalogues, which are made as catalogues are read.
pub(super) fn changes(trees: &mut Vec<File>, own: &[File], found: &mut Vec<Diagnostic>) -> Vec<TableChange> {
    let withdrawn = withdrawn(own);
    let mut making = Making { trees, found, tables: Vec::new(), seen: BTreeSet::new(), withdrawn };
    // Conditions first: a changed limit then stands under the changed condition, whatever the order of writing.
    for turn in [Turn::Rows, Turn::Columns, Turn::Conditions, Turn::Limits, Turn::Withdrawals] {
        for file in own {
            for statement in file.statements() {
                match (&statement.body, turn) {
                    (Body::Amend(amendment), turn) if turn == turn_of(amendment) => {
                        making.amend(&file.source, statement.span, amendment);
                    }
                    (Body::Add(said), turn) if turn == turn_of_addition(&said.added.value) => {
                        let (source, added) = (Arc::clone(&file.source), said.added.value.clone());
                        making.tables.push(TableChange::Add(Addition {
                            source,
                            added,
                            per: cited(&said.ground),
                        }));
                    }
                    (Body::Withdraw(withdrawal), Turn::Withdrawals) => {
                        making.withdraw(&file.source, withdrawal);
                    }
                    _ => {}
                }
            }
        }
    }
    making.tables
}

/// The rules that the firm withdraws, each with the place that says so.
fn withdrawn(own: &[File]) -> BTreeMap<String, Place> {
    let statements = own.iter().flat_map(|file| file.statements().map(move |said| (&file.source, said)));
    let withdrawals = statements.filter_map(|(source, statement)| match &statement.body {
        Body::Withdraw(said) => Some((said.rule.value.clone(), said.rule.span.place(source))),
        _ => None,
    });
    withdrawals.collect()
}

/// When a change is made.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Turn {
    Rows,
    Columns,
    Conditions,
    Limits,
    Withdrawals,
}

fn turn_of(amendment: &Amendment) -> Turn {
    match &amendment.change.value {
        Change::Narrow { .. } | Change::Widen { .. } => Turn::Conditions,
        Change::Limit { .. } | Change::Cell { .. } => Turn::Limits,
        // Made in the files of clauses.
        Change::Clause { .. } => Turn::Limits,
    }
}

fn turn_of_addition(added: &Added) -> Turn {
    match added {
        Added::Row { .. } => Turn::Rows,
        Added::Column { .. } => Turn::Columns,
    }
}

/// Sources as a catalogue cites them.
fn cited(ground: &GroundLines) -> String {
    let cited = ground.per.iter().flat_map(|per| &per.value);
    cited.map(print::citation).collect::<Vec<_>>().join(" and ")
}

struct Making<'m> {
    trees: &'m mut Vec<File>,
    found: &'m mut Vec<Diagnostic>,
    tables: Vec<TableChange>,
    seen: BTreeSet<String>,
    withdrawn: BTreeMap<String, Place>,
}

impl Making<'_> {
    fn error(&mut self, mistake: &LayeringMistake, place: Place) {
        self.found.push(Diagnostic::error(mistake, place));
    }

    fn amend(&mut self, source: &Arc<Source>, span: Span, amendment: &Amendment) {
        let at = |word: &Word| (word.value.clone(), word.span.place(source));
        match &amendment.change.value {
            Change::Limit { quantity, rule, from, to } => {
                if self.first(&format!("{} in {}", quantity.value, rule.value), quantity.span.place(source)) {
                    self.limit(source, span, amendment, (quantity, rule), (from, to));
                }
            }
            Change::Cell { catalogue, option, column, from, to } => {
                let what = format!("{} {} {}", catalogue.value, option.value, column.value);
                if self.first(&what, catalogue.span.place(source)) {
                    let per = cited(&amendment.ground);
                    let (from, to) = (at(from), at(to));
                    let (catalogue, option, column) = (at(catalogue), at(option), at(column));
                    let change = CellChange { catalogue, option, column, from, to, per };
                    self.tables.push(TableChange::Cell(change));
                }
            }
            Change::Clause { .. } => {}
            Change::Narrow { of, name, condition } => {
                self.condition(source, span, amendment, (*of, name), (condition, "only-where"));
            }
            Change::Widen { of, name, condition } => {
                self.condition(source, span, amendment, (*of, name), (condition, "also-where"));
            }
        }
    }

    /// Whether nothing was changed there yet.
    fn first(&mut self, what: &str, place: Place) -> bool {
        let first = self.seen.insert(what.to_owned());
        if !first {
            self.error(&LayeringMistake::Twice { what: what.to_owned() }, place);
        }
        first
    }

    /// The rule or finding of a name: the file and place of its statement.
    fn find(&mut self, source: &Arc<Source>, of: Conditioned, word: &Word) -> Option<(usize, usize)> {
        let mut names = Vec::new();
        for (file, tree) in self.trees.iter().enumerate() {
            for (at, item) in tree.items.iter().enumerate() {
                if let Some(name) = name_of(item, of) {
                    if name.value == word.value {
                        return Some((file, at));
                    }
                    names.push(name.value.as_str());
                }
            }
        }
        let what = of.word();
        let help = match nearest(&word.value, names.iter().copied()) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("a firm's own {what} is changed where it stands"),
        };
        let mistake = LayeringMistake::NoStatement { what, name: word.value.clone(), help };
        self.error(&mistake, word.span.place(source));
        None
    }

    /// Whether a rule stays in the book: what is withdrawn cannot be changed as well.
    fn stays(&mut self, source: &Arc<Source>, rule: &Word) -> bool {
        let Some(withdrawn) = self.withdrawn.get(&rule.value).cloned() else { return true };
        let mistake = LayeringMistake::Withdrawn { name: rule.value.clone() };
        let told = Diagnostic::error(&mistake, rule.span.place(source));
        self.found.push(told.and(withdrawn, "withdrawn here"));
        false
    }

    fn withdraw(&mut self, source: &Arc<Source>, withdrawal: &Withdrawal) {
        let rule = &withdrawal.rule;
        if !self.first(&format!("rule {}", rule.value), rule.span.place(source)) {
            return;
        }
        if let Some((file, at)) = self.find(source, Conditioned::Rule, rule) {
            self.remove(file, at, &rule.value);
        }
    }

    /// Takes a rule out, and with it the remarks about it that the book accepts.
    fn remove(&mut self, file: usize, at: usize, rule: &str) {
        if let Some(tree) = self.trees.get_mut(file) {
            tree.items.remove(at);
        }
        let gone = |item: &Item| matches!(waived_rule(item), Some(name) if name.value == rule);
        for tree in self.trees.iter_mut() {
            tree.items.retain(|item| !gone(item));
        }
    }

    /// Takes the limit out of its rule and puts the firm's limit into a rule of the firm's, under the same condition.
    fn limit(
        &mut self,
        source: &Arc<Source>,
        span: Span,
        amendment: &Amendment,
        (quantity, rule): (&Word, &Word),
        (from, to): (&Word, &Word),
    ) {
        if !self.stays(source, rule) {
            return;
        }
        let Some((file, at)) = self.find(source, Conditioned::Rule, rule) else { return };
        let Some(tree) = self.trees.get(file) else { return };
        let Some(old) = tree.items.get(at).and_then(rule_of).cloned() else { return };
        let Some((number, bound)) = self.old_limit(source, (file, &old), quantity, from) else { return };
        let changed = Effect::Limit {
            quantity: quantity.clone(),
            bound,
            value: LimitWords::Value(Value::Figure(to.clone())),
        };
        let name = Word { value: format!("{}-{}", rule.value, quantity.value), span: rule.span };
        let new = RuleDeclaration {
            name,
            when: self.shared_condition(file, &old, rule.span),
            effects: vec![At { value: changed, span: amendment.change.span }],
            no_departure: old.no_departure.map(|_| amendment.change.span),
            if_unsure: old.if_unsure.clone().map(|why| At { value: why.value, span: amendment.change.span }),
            ground: amendment.ground.clone(),
        };
        self.take_effect(file, at, number);
        self.add(source, span, Body::Rule(new));
    }

    /// The limit that a change quotes: which effect of the rule, and its bound.
    fn old_limit(
        &mut self,
        source: &Arc<Source>,
        (file, old): (usize, &RuleDeclaration),
        quantity: &Word,
        from: &Word,
    ) -> Option<(usize, Bound)> {
        let stands = self.trees.get(file).map(|tree| Arc::clone(&tree.source));
        let and_below = |told: Diagnostic, span: Span, what: &str| match &stands {
            Some(below) => told.and(span.place(below), what),
            None => told,
        };
        let limits = old.effects.iter().enumerate().filter_map(|(number, effect)| match &effect.value {
            Effect::Limit { quantity, bound, value } => Some((number, quantity, *bound, written(value))),
            _ => None,
        });
        let limits: Vec<(usize, &Word, Bound, String)> = limits.collect();
        let of_quantity = || limits.iter().filter(|(_, of, ..)| of.value == quantity.value);
        if let Some((number, _, bound, _)) = of_quantity().find(|(.., value)| *value == from.value) {
            return Some((*number, *bound));
        }
        if let Some((_, of, _, below)) = of_quantity().next() {
            let mistake = LayeringMistake::OldValue { below: below.clone(), quoted: from.value.clone() };
            let told = Diagnostic::error(&mistake, from.span.place(source));
            self.found.push(and_below(told, of.span, "the limit"));
            return None;
        }
        let names: Vec<&str> = limits.iter().map(|(_, of, ..)| of.value.as_str()).collect();
        let help = match names.as_slice() {
            [] => "it limits nothing".to_owned(),
            names => format!("it limits {}", names.join(", ")),
        };
        let (rule, quantity_name) = (old.name.value.clone(), quantity.value.clone());
        let mistake = LayeringMistake::NoLimit { rule, quantity: quantity_name, help };
        let told = Diagnostic::error(&mistake, quantity.span.place(source));
        self.found.push(and_below(told, old.name.span, "the rule"));
        None
    }

    /// Takes an effect out of a rule, and the rule itself if nothing is left of it.
    fn take_effect(&mut self, file: usize, at: usize, number: usize) {
        let Some(tree) = self.trees.get_mut(file) else { return };
        let Some(rule) = tree.items.get_mut(at).and_then(rule_mut) else { return };
        rule.effects.remove(number);
        if rule.effects.is_empty() {
            let name = rule.name.value.clone();
            self.remove(file, at, &name);
        }
    }

    /// A finding for the condition of a rule, in the file of the rule, and a test of it for a rule of another file.
    fn shared_condition(&mut self, file: usize, old: &RuleDeclaration, span: Span) -> Option<At<Condition>> {
        let when = old.when.clone()?;
        let name = Word { value: format!("{}-holds", old.name.value), span: old.name.span };
        let finding = FindingDeclaration { name, when: Some(when), ground: old.ground.clone() };
        let held = bare(&finding.name.value, span);
        let known = self.trees.iter().flat_map(File::statements).any(|statement| {
            matches!(&statement.body, Body::Finding(known) if known.name.value == finding.name.value)
        });
        if !known && let Some(source) = self.trees.get(file).map(|tree| Arc::clone(&tree.source)) {
            self.add(&source, old.name.span, Body::Finding(finding));
        }
        Some(At { value: held, span })
    }

    /// Joins a finding of the firm's to the condition of a rule or finding.
    fn condition(
        &mut self,
        source: &Arc<Source>,
        span: Span,
        amendment: &Amendment,
        (of, named): (Conditioned, &Word),
        (condition, how): (&At<Condition>, &str),
    ) {
        let name = format!("{}-{how}", named.value);
        if !self.first(&name, named.span.place(source)) {
            return;
        }
        if of == Conditioned::Rule && !self.stays(source, named) {
            return;
        }
        let Some((file, at)) = self.find(source, of, named) else { return };
        let finding = FindingDeclaration {
            name: Word { value: name.clone(), span: named.span },
            when: Some(condition.clone()),
            ground: amendment.ground.clone(),
        };
        let item = self.trees.get_mut(file).and_then(|tree| tree.items.get_mut(at));
        let Some((span_of_name, when)) = item.and_then(condition_mut) else { return };
        let test = bare(&name, span_of_name);
        let narrows = how == "only-where";
        *when = match when.take() {
            Some(when) if narrows => {
                Some(At { value: Condition::All(vec![when.value, test]), span: when.span })
            }
            Some(when) => Some(At { value: Condition::Any(vec![when.value, test]), span: when.span }),
            None if narrows => Some(At { value: test, span: span_of_name }),
            None => None,
        };
        self.add(source, span, Body::Finding(finding));
    }

    /// Adds a statement to the book, placed where the change stands.
    fn add(&mut self, source: &Arc<Source>, span: Span, body: Body) {
        let statement = Box::new(Statement { span, body, comments: Vec::new() });
        let item = Item { kind: ItemKind::Statement(statement), gap: Gap::Empty };
        self.trees.push(File { source: Arc::clone(source), items: vec![item] });
    }
}

/// A test of a finding.
fn bare(name: &str, span: Span) -> Condition {
    Condition::Test(At { value: Test::Bare(Word { value: name.to_owned(), span }), span })
}

/// The name of a rule, or of a finding.
fn name_of(item: &Item, of: Conditioned) -> Option<&Word> {
    let ItemKind::Statement(statement) = &item.kind else { return None };
    match (&statement.body, of) {
        (Body::Rule(rule), Conditioned::Rule) => Some(&rule.name),
        (Body::Finding(finding), Conditioned::Finding) => Some(&finding.name),
        _ => None,
    }
}

/// Where the name of a rule or finding stands, and its condition.
fn condition_mut(item: &mut Item) -> Option<(Span, &mut Option<At<Condition>>)> {
    let ItemKind::Statement(statement) = &mut item.kind else { return None };
    match &mut statement.body {
        Body::Rule(rule) => Some((rule.name.span, &mut rule.when)),
        Body::Finding(finding) => Some((finding.name.span, &mut finding.when)),
        _ => None,
    }
}

fn rule_of(item: &Item) -> Option<&RuleDeclaration> {
    match &item.kind {
        ItemKind::Statement(statement) => match &statement.body {
            Body::Rule(rule) => Some(rule),
            _ => None,
        },
        _ => None,
    }
}

/// The rule that a waiver names.
fn waived_rule(item: &Item) -> Option<&Word> {
    match &item.kind {
        ItemKind::Statement(statement) => match &statement.body {
            Body::Waive(waiver) if waiver.remark.value.words().0 == "rule" => Some(&waiver.name),
            _ => None,
        },
        _ => None,
    }
}

fn rule_mut(item: &mut Item) -> Option<&mut RuleDeclaration> {
    match &mut item.kind {
        ItemKind::Statement(statement) => match &mut statement.body {
            Body::Rule(rule) => Some(rule),
            _ => None,
        },
        _ => None,
    }
}

/// A limit's value as a change quotes it.
fn written(value: &LimitWords) -> String {
    match value {
        LimitWords::Value(value) => value.word().value.clone(),
        LimitWords::Column { column, slot } => format!("its {} of chosen {}", column.value, slot.value),
    }
}
