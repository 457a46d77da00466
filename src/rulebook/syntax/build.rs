//! From pest's pairs to the tree: statements, reasons and sources.

use std::sync::Arc;

use super::ast::{
    At, Body, CitationWords, Condition, Effect, FindingDeclaration, GroundLines, RuleDeclaration, Span, Text,
};
use super::grammar::Rule;
use super::mistake::SyntaxMistake;
use super::parts::{Node, Parts};
use crate::diagnostic::{Diagnostic, Source};

/// Builds one statement and notes what the grammar alone cannot see.
pub(super) struct Builder<'b> {
    pub(super) source: &'b Arc<Source>,
    pub(super) mistakes: &'b mut Vec<Diagnostic>,
}

/// The lines of a finding, rule, promise or change.
#[derive(Default)]
pub(super) struct Lines {
    pub(super) when: Option<At<Condition>>,
    pub(super) effects: Vec<At<Effect>>,
    pub(super) no_departure: Option<Span>,
    pub(super) if_unsure: Option<At<Text>>,
    pub(super) ground: GroundLines,
}

impl Builder<'_> {
    /// Builds a statement; `None` only if the grammar and this reader disagree.
    pub(super) fn statement(&mut self, node: Node<'_>) -> Option<Body> {
        let rule = node.rule();
        let mut parts = node.parts();
        match rule {
            Rule::rulebook_statement => Self::rulebook(&mut parts).map(Body::Rulebook),
            Rule::house_statement => Self::house(&mut parts).map(Body::House),
            Rule::source_statement => Self::source(&mut parts).map(Body::Source),
            Rule::stage_statement => Self::stage(&mut parts).map(Body::Stage),
            Rule::fact_statement => self.fact(&mut parts).map(Body::Fact),
            Rule::worked_statement => Self::worked(&mut parts).map(Body::Worked),
            Rule::quantity_statement => self.quantity(&mut parts).map(Body::Quantity),
            Rule::slot_statement => self.slot(&mut parts).map(Body::Slot),
            Rule::finding_statement => self.finding(&mut parts).map(Body::Finding),
            Rule::rule_statement => self.rule(&mut parts).map(Body::Rule),
            Rule::promise_statement => self.promise(&mut parts).map(Body::Promise),
            Rule::waive_statement => self.waive(&mut parts).map(Body::Waive),
            Rule::amend_statement => self.amend(&mut parts).map(Body::Amend),
            Rule::add_statement => self.add(&mut parts).map(Body::Add),
            Rule::withdraw_statement => self.withdraw(&mut parts).map(Body::Withdraw),
            _ => None,
        }
    }

    fn finding(&mut self, parts: &mut Parts<'_>) -> Option<FindingDeclaration> {
        let name = parts.name()?;
        let lines = self.lines(parts)?;
        Some(FindingDeclaration { name, when: lines.when, ground: lines.ground })
    }

    fn rule(&mut self, parts: &mut Parts<'_>) -> Option<RuleDeclaration> {
        let name = parts.name()?;
        let Lines { when, effects, no_departure, if_unsure, ground } = self.lines(parts)?;
        Some(RuleDeclaration { name, when, effects, no_departure, if_unsure, ground })
    }

    /// Reads the lines of a statement, in whatever order they were written.
    pub(super) fn lines(&mut self, parts: &mut Parts<'_>) -> Option<Lines> {
        let mut lines = Lines::default();
        for part in parts {
            let span = part.span();
            match part.rule() {
                Rule::where_line => {
                    let condition = self.condition(part.parts().next()?)?;
                    self.once(&mut lines.when, At { value: condition, span }, "where");
                }
                Rule::if_unsure => {
                    let words = At { value: part.parts().quoted()?, span };
                    self.once(&mut lines.if_unsure, words, "if unsure leave out");
                }
                Rule::no_departure => self.once(&mut lines.no_departure, span, "no departure"),
                Rule::because => {
                    let words = At { value: part.parts().quoted()?, span };
                    self.once(&mut lines.ground.because, words, "because");
                }
                Rule::per => {
                    let cited = part.parts().filter_map(citation).collect();
                    lines.ground.per.push(At { value: cited, span });
                }
                _ => lines.effects.push(At { value: Self::effect(part)?, span }),
            }
        }
        Some(lines)
    }

    /// Keeps the first of its sort and notes a second.
    fn once<T: Spanned>(&mut self, kept: &mut Option<T>, new: T, line: &str) {
        if kept.is_some() {
            let mistake = SyntaxMistake::GivenTwice { line: line.to_owned() };
            self.mistakes.push(Diagnostic::error(&mistake, new.span().place(self.source)));
        } else {
            *kept = Some(new);
        }
    }
}

/// Something with a stretch of text.
trait Spanned {
    fn span(&self) -> Span;
}

impl Spanned for Span {
    fn span(&self) -> Span {
        *self
    }
}

impl<T> Spanned for At<T> {
    fn span(&self) -> Span {
        self.span
    }
}

/// Reads one source and the place in it.
pub(super) fn citation(node: Node<'_>) -> Option<CitationWords> {
    let mut parts = node.parts();
    let source = parts.name()?;
    let detail = parts.pick(Rule::detail).and_then(|detail| {
        let part = detail.parts().next()?;
        Some(if part.rule() == Rule::string { part.quoted() } else { part.word() })
    });
    Some(CitationWords { source, detail })
}
