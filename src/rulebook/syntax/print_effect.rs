//! Rules in their one layout.

use super::ast::{At, Effect, LimitWords, RefusedWords, RuleDeclaration};
use super::print::{Line, ground, head, where_line};
use super::print_words::{audience, bound, value, whose_chunks};

impl RuleDeclaration {
    pub(super) fn lines(&self) -> Vec<Line> {
        let mut lines = vec![head("rule", &self.name)];
        lines.extend(self.when.as_ref().map(where_line));
        lines.extend(self.effects.iter().map(effect));
        lines.extend(self.no_departure.map(|span| Line::new(span, "no departure")));
        if let Some(why) = &self.if_unsure {
            lines.push(Line::new(why.span, "if unsure leave out because").quoted(&why.value));
        }
        lines.extend(ground(&self.ground));
        lines
    }
}

fn effect(effect: &At<Effect>) -> Line {
    let line = |words: &str| Line::new(effect.span, words);
    match &effect.value {
        Effect::Limit { quantity, bound: which, value: limit } => {
            let line = line("limit").word(&quantity.value).word("to").words(bound(*which));
            match limit {
                LimitWords::Value(limit) => line.word(value(limit)),
                LimitWords::Column { column, slot } => {
                    line.word("its").word(&column.value).words("of chosen").word(&slot.value)
                }
            }
        }
        Effect::Require(clause) => line("require clause").word(&clause.value),
        Effect::Refuse(slot, which) => refused(line("refuse").word(&slot.value), which),
        Effect::Prefer { slot, better, over } => {
            let line = line("prefer").word(&slot.value).word(&better.value).word("over");
            match over {
                Some(worse) => line.word(&worse.value),
                None => line.words("every other"),
            }
        }
        Effect::Stop { what, until, released_by } => {
            let line = line("stop").quoted(what).word("until").quoted(until);
            line.words("released by").word(&released_by.value)
        }
        Effect::HoldPoint { name, before, released_by, notice, form } => {
            let line = line("hold-point").word(&name.value).word("before").word(&before.value);
            let mut line = line.words("released by").word(&released_by.value);
            for (word, given) in [("notice", notice), ("form", form)] {
                if let Some(given) = given {
                    line = line.comma().word(word).word(&given.value);
                }
            }
            line
        }
        Effect::Caution { words, readers } => {
            line("caution").quoted(words).word("for").list(readers.iter().map(|reader| audience(*reader)))
        }
    }
}

fn refused(mut line: Line, which: &RefusedWords) -> Line {
    match which {
        RefusedWords::Named(options) => line.names(options),
        RefusedWords::AllBut(options) => line.words("every other than").names(options),
        RefusedWords::Whose(whose) => {
            whose_chunks(whose, &mut line.chunks);
            line
        }
    }
}
