//! `whose COLUMN …`: a test of every option, on the adverse end of what its cell holds.

use num_rational::BigRational;

use super::conditions::comparison;
use super::desk::Desk;
use super::gather::Stated;
use super::kinds::phrase;
use super::mistake_kind::KindMistake;
use super::mistake_name::{NameMistake, listed, meant};
use crate::rulebook::book::{
    Catalogue, CellValue, ColumnId, End, FactId, Kind, OptionTest, Origin, SlotId, Whose, WhoseWhat,
};
use crate::rulebook::cells::{CellSet, Comparison};
use crate::rulebook::syntax::ast::{self, At, Compare, Sense, Value, Word};
use crate::rulebook::syntax::print_words;

/// What a column is compared with.
enum Against {
    /// Words; the cell is one of them, or none.
    Words(Sense, Vec<String>),
    /// Figures joined by a comparison each: all must hold.
    Figures(Vec<(Comparison, BigRational)>),
    /// The cell is one of these figures, or none.
    Listed(Sense, Vec<BigRational>),
    /// A fact of the zone or job that is measured.
    Fact(Comparison, FactId),
    /// A fact of the zone or job that is one of the column's words.
    WordFact(Sense, FactId, Vec<String>),
}

impl Desk {
    /// Compiles a test of every option of a slot's catalogue.
    pub(super) fn whose<T>(
        &mut self,
        stated: &Stated<'_, T>,
        slot: SlotId,
        whose: &ast::Whose,
    ) -> Option<Whose> {
        let catalogue = self.table(slot)?;
        let words = print_words::whose(whose);
        let column = catalogue.column(&whose.name.value);
        let fact = self.option_fact(slot, &whose.name);
        match (column, fact) {
            (Some(_), Some(_)) => {
                let (name, catalogue) = (whose.name.value.clone(), catalogue.name.clone());
                self.error(&NameMistake::ColumnAndFact { name, catalogue }, stated.at(whose.name.span));
                None
            }
            (Some(column), None) => {
                let tests = self.column_tests(stated, &catalogue, column, &whose.compare)?;
                Some(Whose { what: WhoseWhat::Column(column), tests, words })
            }
            (None, Some(fact)) => {
                let cells = self.own_cells(stated, fact, &whose.compare)?;
                let tests = catalogue.options.iter().map(|_| OptionTest::OwnFact { fact, cells }).collect();
                Some(Whose { what: WhoseWhat::Fact(fact), tests, words })
            }
            (None, None) => self.no_column(stated, &catalogue, &whose.name),
        }
    }

    /// Says that a catalogue has no such column.
    pub(super) fn no_column<T, R>(
        &mut self,
        stated: &Stated<'_, T>,
        catalogue: &Catalogue,
        word: &Word,
    ) -> Option<R> {
        let known = || catalogue.columns.iter().map(|column| column.name.as_str());
        let own: Vec<&str> = self
            .book
            .facts
            .iter()
            .filter(|fact| is_own(&fact.origin))
            .map(|fact| fact.name.as_str())
            .collect();
        let help = meant(&word.value, known().chain(own), || listed(known()));
        let (name, catalogue) = (word.value.clone(), catalogue.name.clone());
        self.error(&NameMistake::Column { name, catalogue, help }, stated.at(word.span));
        None
    }

    /// The worked fact of this name that each option of the slot has of its own.
    fn option_fact(&self, slot: SlotId, word: &Word) -> Option<FactId> {
        let id = self.names.facts.get(&word.value)?;
        match &self.book.facts.get(id)?.origin {
            Origin::Worked { per_option_of: Some(of), .. } if *of == slot => Some(FactId(id)),
            _ => None,
        }
    }

    fn own_cells<T>(
        &mut self,
        stated: &Stated<'_, T>,
        fact: FactId,
        compare: &At<Compare>,
    ) -> Option<CellSet> {
        let other = match &compare.value {
            Compare::Ordered(_, Value::Word(word)) => self.names.facts.get(&word.value).map(|_| word),
            _ => None,
        };
        if let Some(word) = other {
            let name = self.book.facts.get(fact.0).map_or_else(String::new, |fact| fact.name.clone());
            self.error(&KindMistake::OwnWithFact { name }, stated.at(word.span));
            return None;
        }
        self.fact_cells(stated, fact, compare)
    }

    fn column_tests<T>(
        &mut self,
        stated: &Stated<'_, T>,
        catalogue: &Catalogue,
        column: ColumnId,
        compare: &At<Compare>,
    ) -> Option<Vec<OptionTest>> {
        let known = catalogue.columns.get(column.0)?;
        let against = self.against(stated, &known.name, &known.kind, compare)?;
        let cells = catalogue.options.iter().map(|option| option.cells.get(column.0));
        if known.worst.is_none() && cells.clone().flatten().any(|cell| is_spread(&cell.value)) {
            let mistake = KindMistake::NoWorst { column: known.name.clone() };
            self.note(
                crate::diagnostic::Diagnostic::error(&mistake, stated.at(compare.span))
                    .and(known.place.clone(), "the column"),
            );
            return None;
        }
        let worst = known.worst.unwrap_or(End::High);
        let tests = cells.map(|cell| match cell {
            Some(cell) => self.option_test(&cell.value, worst, &against),
            None => OptionTest::Settled(false),
        });
        Some(tests.collect())
    }

    fn against<T>(
        &mut self,
        stated: &Stated<'_, T>,
        name: &str,
        kind: &Kind,
        compare: &At<Compare>,
    ) -> Option<Against> {
        let yes_no = ["yes".to_owned(), "no".to_owned()];
        match (kind, &compare.value) {
            (Kind::OneOf(words), Compare::Is(sense, values)) => {
                self.against_words(stated, (name, kind, words), compare, *sense, values)
            }
            (Kind::YesNo, Compare::Is(sense, values)) => {
                self.against_words(stated, (name, kind, &yes_no), compare, *sense, values)
            }
            (Kind::Number { .. } | Kind::Measure { .. }, Compare::Is(sense, values)) => {
                let numbers: Vec<Option<BigRational>> =
                    values.iter().map(|value| self.number(stated, name, kind, compare, value)).collect();
                Some(Against::Listed(*sense, numbers.into_iter().collect::<Option<_>>()?))
            }
            (Kind::Number { .. } | Kind::Measure { .. }, Compare::Ordered(order, value)) => {
                let order = comparison(*order);
                if let Value::Word(word) = value
                    && let Some(fact) = self.names.facts.get(&word.value).map(FactId)
                {
                    return self.against_fact(stated, (name, kind), order, fact, word);
                }
                let number = self.number(stated, name, kind, compare, value)?;
                Some(Against::Figures(vec![(order, number)]))
            }
            (Kind::Number { .. } | Kind::Measure { .. }, Compare::Between(low, high)) => {
                let from = self.number(stated, name, kind, compare, low);
                let to = self.number(stated, name, kind, compare, high);
                let (from, to) = (from?, to?);
                self.forwards(stated, (&from, low), (&to, high));
                Some(Against::Figures(vec![(Comparison::AtLeast, from), (Comparison::AtMost, to)]))
            }
            _ => self.unfit(stated, name, kind, compare),
        }
    }

    fn against_words<T>(
        &mut self,
        stated: &Stated<'_, T>,
        (name, kind, words): (&str, &Kind, &[String]),
        compare: &At<Compare>,
        sense: Sense,
        values: &[Value],
    ) -> Option<Against> {
        if let [Value::Word(word)] = values
            && !words.contains(&word.value)
            && let Some(fact) = self.names.facts.get(&word.value).map(FactId)
        {
            self.no_option_fact(fact, stated.at(word.span))?;
            let theirs = self.book.facts.get(fact.0).map(|fact| fact.kind.clone())?;
            return match theirs {
                Kind::OneOf(theirs) => Some(Against::WordFact(sense, fact, theirs)),
                Kind::YesNo => Some(Against::WordFact(sense, fact, vec!["yes".to_owned(), "no".to_owned()])),
                _ => self.unfit(stated, name, kind, compare),
            };
        }
        let mut listed = Vec::new();
        for value in values {
            let Value::Word(word) = value else { return self.unfit(stated, name, kind, compare) };
            self.word_in(name, words, word, stated.at(word.span))?;
            listed.push(word.value.clone());
        }
        Some(Against::Words(sense, listed))
    }

    fn against_fact<T>(
        &mut self,
        stated: &Stated<'_, T>,
        (name, kind): (&str, &Kind),
        order: Comparison,
        fact: FactId,
        word: &Word,
    ) -> Option<Against> {
        self.no_option_fact(fact, stated.at(word.span))?;
        let theirs = self.book.facts.get(fact.0).map(|fact| fact.kind.clone())?;
        let alike = match (kind, &theirs) {
            (Kind::Number { .. }, Kind::Number { .. }) => true,
            (Kind::Measure { dimension: mine, .. }, Kind::Measure { dimension: theirs, .. }) => {
                mine == theirs
            }
            _ => false,
        };
        if !alike {
            let mistake = KindMistake::Compare {
                name: word.value.clone(),
                kind: phrase(&theirs),
                compare: format!("whose {name}"),
                help: format!("`{name}` {}; compare it with a fact of its own kind", phrase(kind)),
            };
            self.error(&mistake, stated.at(word.span));
            return None;
        }
        Some(Against::Fact(order, fact))
    }

    /// One option's test. Where the cell is `none`, every comparison is false.
    fn option_test(&mut self, cell: &CellValue, worst: End, against: &Against) -> OptionTest {
        match against {
            Against::Words(sense, listed) => match word(cell) {
                Some(word) => {
                    OptionTest::Settled(listed.iter().any(|one| one == word) == (*sense == Sense::Is))
                }
                None => OptionTest::Settled(false),
            },
            Against::WordFact(sense, fact, theirs) => {
                let Some(at) = word(cell).and_then(|word| theirs.iter().position(|one| one == word)) else {
                    return OptionTest::Settled(word(cell).is_some() && *sense == Sense::IsNot);
                };
                let same = CellSet::one(at);
                let cells = match (sense, self.book.facts.get(fact.0)) {
                    (Sense::IsNot, Some(fact)) => fact.cells.all().without(same),
                    _ => same,
                };
                OptionTest::Fact { fact: *fact, cells }
            }
            Against::Figures(figures) => {
                let value = adverse(cell, worst);
                let holds = |(order, figure): &(Comparison, BigRational)| {
                    value.is_some_and(|value| order.holds(value, figure))
                };
                OptionTest::Settled(value.is_some() && figures.iter().all(holds))
            }
            Against::Listed(sense, figures) => match adverse(cell, worst) {
                Some(value) => OptionTest::Settled(figures.contains(value) == (*sense == Sense::Is)),
                None => OptionTest::Settled(false),
            },
            Against::Fact(order, fact) => match adverse(cell, worst) {
                Some(value) => {
                    let cells = self.cells(*fact, order.turned(), value);
                    OptionTest::Fact { fact: *fact, cells }
                }
                None => OptionTest::Settled(false),
            },
        }
    }
}

fn is_own(origin: &Origin) -> bool {
    matches!(origin, Origin::Worked { per_option_of: Some(_), .. })
}

/// Whether a cell holds a range with two ends.
fn is_spread(value: &CellValue) -> bool {
    match value {
        CellValue::Number(low, high) => low != high,
        CellValue::Measure(low, high) => low.value() != high.value(),
        CellValue::None | CellValue::YesNo(_) | CellValue::Words(_) => false,
    }
}

/// The word that a cell holds.
fn word(value: &CellValue) -> Option<&str> {
    match value {
        CellValue::YesNo(true) => Some("yes"),
        CellValue::YesNo(false) => Some("no"),
        CellValue::Words(word) => Some(word),
        CellValue::None | CellValue::Number(..) | CellValue::Measure(..) => None,
    }
}

/// The figure to decide on.
fn adverse(value: &CellValue, worst: End) -> Option<&BigRational> {
    let (low, high) = match value {
        CellValue::Number(low, high) => (low, high),
        CellValue::Measure(low, high) => (low.value(), high.value()),
        CellValue::None | CellValue::YesNo(_) | CellValue::Words(_) => return None,
    };
    Some(if worst == End::Low { low } else { high })
}
