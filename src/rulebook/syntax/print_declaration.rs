//! Declarations in their one layout.

use super::ast::{
    Added, Addition, Amendment, CellForm, CellWords, Change, FactAttribute, FactDeclaration, FormulaWords,
    HouseHead, KindWords, QuantityAttribute, QuantityDeclaration, RulebookHead, SlotDeclaration,
    SourceAttribute, SourceDeclaration, Span, StageDeclaration, Word, WorkedDeclaration,
};
use super::print::{Line, ground, head, only_where};
use super::print_words::{certainty, end, owner, quoted, range};
use crate::rulebook::book::{Picks, Stops};

impl RulebookHead {
    pub(super) fn line(&self) -> Line {
        Line::new(self.title.span, "rulebook")
            .quoted(&self.title)
            .word("edition")
            .word(&edition(&self.edition))
    }
}

impl HouseHead {
    pub(super) fn line(&self) -> Line {
        let line = Line::new(self.title.span, "house rulebook").quoted(&self.title);
        let line = line.word("edition").word(&edition(&self.edition)).word("over").quoted(&self.over);
        line.word("edition").word(&edition(&self.over_edition)).word("digest").word(&self.digest.value)
    }
}

/// An edition, in quotes where it has a space or comma.
fn edition(word: &Word) -> String {
    if word.value.is_empty() || word.value.contains([' ', ',', '"', '\\']) || word.value.contains("--") {
        quoted(&word.value)
    } else {
        word.value.clone()
    }
}

impl SourceDeclaration {
    pub(super) fn line(&self) -> Line {
        let mut line = head("source", &self.name);
        if let Some(title) = &self.title {
            line = line.quoted(title);
        }
        if let Some(issuer) = &self.issuer {
            line = line.word("by").quoted(issuer);
        }
        for attribute in &self.attributes {
            line = line.comma();
            line = match &attribute.value {
                SourceAttribute::Edition(words) => {
                    let word = Word { value: words.clone(), span: attribute.span };
                    line.word(&format!("edition {}", edition(&word)))
                }
                SourceAttribute::Certainty(how) => line.word(certainty(*how)),
                SourceAttribute::Law => line.word("law"),
                SourceAttribute::Checked(date) => line.word(&format!("checked {date}")),
                SourceAttribute::AgainBy(month) => line.word(&format!("again by {month}")),
                SourceAttribute::Countries(list) => line.word(&format!("for {}", list.join(", "))),
            };
        }
        line
    }
}

impl StageDeclaration {
    pub(super) fn line(&self) -> Line {
        let mut line = head("stage", &self.name);
        if !self.after.is_empty() {
            line = line.word("after").names(&self.after);
        }
        if self.stops == Stops::HoldIt { line.words("held by stops") } else { line }
    }
}

/// The words of a kind.
fn kind(line: Line, kind: &KindWords) -> Line {
    match kind {
        KindWords::YesNo => line.word("yes or no"),
        KindWords::OneOf(words) => line.word("one of").names(words),
        KindWords::NamedIn(catalogue) => line.words("named in").word(&catalogue.value),
        KindWords::Year(ends) => line.word(&format!("year{}", range(ends.as_ref()))),
        KindWords::Number(ends) => line.word(&format!("number{}", range(ends.as_ref()))),
        KindWords::Measure(dimension, ends) => {
            line.word(&format!("{}{}", dimension.value, range(ends.as_ref())))
        }
        KindWords::Text => line.word("text"),
    }
}

impl FactDeclaration {
    pub(super) fn lines(&self) -> Vec<Line> {
        let line = head("fact", &self.name).word("of").word(owner(self.owner)).comma();
        let mut line = kind(line, &self.kind.value);
        for attribute in &self.attributes {
            line = line.comma();
            line = match &attribute.value {
                FactAttribute::GoodFor(days) if days.value == "1" => line.word("good for 1 day"),
                FactAttribute::GoodFor(days) => line.word(&format!("good for {} days", days.value)),
                FactAttribute::ProvedByTest => line.word("proved by test"),
                FactAttribute::MeasuredBy(methods) => {
                    let methods: Vec<&str> = methods.iter().map(|method| method.value.as_str()).collect();
                    line.words("measured by").words(&methods.join(" or "))
                }
                FactAttribute::ToldWith(facts, because) => {
                    let facts: Vec<&str> = facts.iter().map(|fact| fact.value.as_str()).collect();
                    line.words("told with").words(&facts.join(" and ")).word("because").quoted(because)
                }
            };
        }
        let mut lines = vec![line, Line::new(self.ask.span, "ask").quoted(&self.ask.value)];
        lines.extend(self.only_where.as_ref().map(only_where));
        lines
    }
}

impl WorkedDeclaration {
    pub(super) fn line(&self) -> Line {
        let mut line = head("worked", &self.name).word("of").word(owner(self.owner));
        if let Some(slot) = &self.slot {
            line = line.word("and").word(&slot.value);
        }
        line = kind(line.comma(), &self.kind.value);
        if let Some(worst) = self.worst {
            line = line.comma().word("worst").word(end(worst));
        }
        match &self.formula {
            Some(formula) => formula.after(line.comma().word("as")),
            None => line,
        }
    }
}

impl FormulaWords {
    fn after(&self, mut line: Line) -> Line {
        match self {
            Self::Ratio(of, by) => line.word(&of.value).words("divided by").word(&by.value),
            Self::Linear { base, rate, step, of, past } => {
                if let Some(base) = base {
                    line = line.word(&base.value).word("plus");
                }
                line = line.word(&rate.value).words("for each").word(&step.value);
                line = line.word("of").word(&of.value);
                match past {
                    Some(past) => line.word("over").word(&past.value),
                    None => line,
                }
            }
        }
    }
}

impl QuantityDeclaration {
    pub(super) fn lines(&self) -> Vec<Line> {
        let line = head("quantity", &self.name).word("of").word(owner(self.owner)).comma();
        let mut line = line.word(&self.dimension.value);
        for attribute in &self.attributes {
            line = line.comma();
            line = match &attribute.value {
                QuantityAttribute::During(stage) => line.word("during").word(&stage.value),
                QuantityAttribute::Measured(words) => line.word("measured").quoted(words),
                QuantityAttribute::TakenAs(value) => line.words("taken as").word(&value.value),
                QuantityAttribute::NoDeparture => line.words("no departure"),
            };
        }
        let mut lines = vec![line];
        lines.extend(ground(&self.ground));
        lines
    }
}

impl SlotDeclaration {
    pub(super) fn lines(&self) -> Vec<Line> {
        let picks = match self.picks {
            Picks::One => "pick one from",
            Picks::InOrder => "in order from",
        };
        let line = head("slot", &self.name).words("of zone,").words(picks).word(&self.catalogue.value);
        let mut lines = vec![line];
        lines.extend(self.only_where.as_ref().map(only_where));
        lines
    }
}

impl Amendment {
    pub(super) fn line(&self) -> Line {
        let line = Line::new(self.change.span, "amend");
        match &self.change.value {
            Change::Limit { quantity, rule, from, to } => {
                let line = line.word("limit").word(&quantity.value).word("in").word(&rule.value);
                line.word("from").word(&from.value).word("to").word(&to.value)
            }
            Change::Cell { catalogue, option, column, from, to } => {
                let line = line.word(&catalogue.value).word(&option.value).word(&column.value);
                line.word("from").word(&from.value).word("to").word(&to.value)
            }
            Change::Clause { clause, reader, from, to } => {
                let line = line.word("clause").word(&clause.value).word("in").word(&reader.value);
                line.word("from").quoted(from).word("to").quoted(to)
            }
            Change::Narrow { of, name, condition } => {
                line.word(of.word()).word(&name.value).words("only where").condition(&condition.value)
            }
            Change::Widen { of, name, condition } => {
                line.word(of.word()).word(&name.value).words("also where").condition(&condition.value)
            }
        }
    }
}

impl Addition {
    pub(super) fn lines(&self) -> Vec<Line> {
        let (what, name, catalogue) = self.added.value.named();
        let line =
            Line::new(self.added.span, "add").word(what).word(&name.value).word("to").word(&catalogue.value);
        let (line, cells) = match &self.added.value {
            Added::Row { title, cells, .. } => (line.comma().word("titled").quoted(title), cells),
            Added::Column { title, kind: of, worst, cells, .. } => {
                let line = kind(line.comma().word("titled").quoted(title).comma(), &of.value);
                let line = match worst {
                    Some(worst) => line.comma().word("worst").word(end(*worst)),
                    None => line,
                };
                (line, cells)
            }
        };
        let mut lines = vec![line];
        if let Some(first) = cells.first() {
            let words: Vec<String> = cells.iter().map(cell).collect();
            lines.push(Line::new(first.name.span, "with").list(words.iter().map(String::as_str)));
        }
        lines.extend(ground(&self.ground));
        lines
    }
}

/// A cell after the name it belongs to.
fn cell(cell: &CellWords) -> String {
    match cell.form {
        CellForm::Bare => format!("{} {}", cell.name.value, cell.value.value),
        CellForm::Quoted => format!("{} {}", cell.name.value, quoted(&cell.value.value)),
    }
}

/// A kind in its own words.
pub(crate) fn kind_in_words(words: &KindWords) -> String {
    let line = Line { span: Span { start: 0, end: 0 }, chunks: Vec::new() };
    kind(line, words).joined()
}
