//! From pest's pairs to the tree: conditions.

use super::ast::{At, Compare, Condition, OrderWord, Sense, Span, Test, Value, Whose};
use super::build::Builder;
use super::grammar::Rule;
use super::mistake::SyntaxMistake;
use super::parts::{Node, Parts};
use crate::diagnostic::Diagnostic;

impl Builder<'_> {
    pub(super) fn only_where(&mut self, node: Node<'_>) -> Option<At<Condition>> {
        let span = node.span();
        let value = self.condition(node.parts().next()?)?;
        Some(At { value, span })
    }

    /// Reads a list of terms joined by `and` or by `or`, never both.
    pub(super) fn condition(&mut self, node: Node<'_>) -> Option<Condition> {
        let span = node.span();
        let mut parts = node.parts();
        let first = parts.next()?;
        let mut ends_in_list = open_list(&first);
        let mut terms = vec![self.term(first)?];
        let mut joint: Option<String> = None;
        while let Some(next_joint) = parts.pick(Rule::joint) {
            let word = next_joint.text();
            if joint.as_deref().is_some_and(|joint| joint != word) {
                self.note(&SyntaxMistake::MixedJoints, span);
                return None;
            }
            if word == "or" && ends_in_list {
                self.note(&SyntaxMistake::OrAfterList, next_joint.span());
            }
            joint = Some(word.to_owned());
            let term = parts.next()?;
            ends_in_list = open_list(&term);
            terms.push(self.term(term)?);
        }
        match joint.as_deref() {
            None => terms.pop(),
            Some("and") => Some(Condition::All(terms.into_iter().flat_map(within_all).collect())),
            Some(_) => Some(Condition::Any(terms.into_iter().flat_map(within_any).collect())),
        }
    }

    fn note(&mut self, mistake: &SyntaxMistake, span: Span) {
        self.mistakes.push(Diagnostic::error(mistake, span.place(self.source)));
    }

    fn term(&mut self, node: Node<'_>) -> Option<Condition> {
        let part = node.parts().next()?;
        match part.rule() {
            Rule::negated => {
                let inner = part.parts().next()?;
                Some(Condition::Not(Box::new(self.inner(inner)?)))
            }
            _ => self.inner(part),
        }
    }

    fn inner(&mut self, node: Node<'_>) -> Option<Condition> {
        if node.rule() == Rule::bracketed {
            return self.condition(node.parts().next()?);
        }
        let span = node.span();
        let value = test(node.parts().next()?)?;
        Some(Condition::Test(At { value, span }))
    }
}

/// Whether a term, outside brackets, is a test with a list.
fn open_list(term: &Node<'_>) -> bool {
    let text = term.text();
    let mut words = term.words().skip_while(|word| *word != "one").skip(1);
    !text.ends_with(')') && words.next() == Some("of")
}

fn within_all(condition: Condition) -> Vec<Condition> {
    match condition {
        Condition::All(terms) => terms,
        other => vec![other],
    }
}

fn within_any(condition: Condition) -> Vec<Condition> {
    match condition {
        Condition::Any(terms) => terms,
        other => vec![other],
    }
}

fn test(node: Node<'_>) -> Option<Test> {
    let rule = node.rule();
    let mut parts = node.parts();
    let name = parts.name()?;
    let Some(next) = parts.next() else { return Some(Test::Bare(name)) };
    Some(match (rule, next.rule()) {
        (Rule::test_chosen, Rule::whose) => Test::ChosenWhose(name, whose(next)?),
        (Rule::test_chosen, _) => Test::Chosen(name, compare(next)?),
        _ => Test::Compared(name, compare(next)?),
    })
}

/// Reads `whose NAME …`; its span begins at the name.
pub(super) fn whose(node: Node<'_>) -> Option<Whose> {
    let span = node.span();
    let mut parts = node.parts();
    let name = parts.name()?;
    let compare = compare(parts.next()?)?;
    let span = Span { start: name.span.start, end: span.end };
    Some(Whose { name, compare, span })
}

fn compare(node: Node<'_>) -> Option<At<Compare>> {
    let span = node.span();
    let rule = node.rule();
    let mut parts = node.parts();
    let value = match rule {
        Rule::is_known => Compare::Known,
        Rule::is_unknown => Compare::Unknown,
        Rule::ordered => {
            let order = parts.pick(Rule::order)?;
            Compare::Ordered(order_word(order.last_word()), value(&mut parts)?)
        }
        Rule::between => Compare::Between(value(&mut parts)?, value(&mut parts)?),
        _ => {
            let sense = if parts.pick(Rule::negation).is_some() { Sense::IsNot } else { Sense::Is };
            let mut list = match parts.pick(Rule::is_one_of) {
                Some(list) => list.parts(),
                None => parts,
            };
            Compare::Is(sense, std::iter::from_fn(|| value(&mut list)).collect())
        }
    };
    Some(At { value, span })
}

fn order_word(last: &str) -> OrderWord {
    match last {
        "over" => OrderWord::Over,
        "under" => OrderWord::Under,
        "least" => OrderWord::AtLeast,
        "most" => OrderWord::AtMost,
        "before" => OrderWord::Before,
        _ => OrderWord::After,
    }
}

/// The value that comes next.
pub(super) fn value(parts: &mut Parts<'_>) -> Option<Value> {
    match parts.figure() {
        Some(figure) => Some(Value::Figure(figure)),
        None => parts.name().map(Value::Word),
    }
}
