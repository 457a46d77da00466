//! Why something was decided: each test with the answer it saw, and the figures a refusal compared.

use crate::inference::decide::{Case, Eyes};
use crate::inference::outcome::Decisions;
use crate::inference::plan::facts_of_whose;
use crate::inference::truth::Truth;
use crate::rulebook::book::{
    Book, CellValue, Condition, End, FactId, FindingId, OptionId, SlotId, Test, TestKind, Whose, WhoseWhat,
};
use crate::units::{System, print, print_range};

/// What is needed to explain one zone.
#[derive(Clone, Copy, Debug)]
pub struct Explainer<'a> {
    /// The book.
    pub book: &'a Book,
    /// The zone.
    pub case: Case<'a>,
    /// What was decided there.
    pub decisions: &'a Decisions,
    /// Which unit prints first.
    pub system: System,
}

/// One test of a condition and what it saw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeenTest {
    /// The words of the rule.
    pub words: String,
    /// Whether it holds.
    pub truth: Truth,
    /// The answer it looked at, as printed; empty when unanswered.
    pub answer: String,
    /// How a worked fact was worked out.
    pub working: Option<String>,
    /// The tests of the finding behind it.
    pub behind: Vec<SeenTest>,
}

/// What `whose …` compared for one option.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compared {
    /// The words of the rule, such as `total-sd over 0.14 m`.
    pub words: String,
    /// The option's figure, with the range it is the worst case of.
    pub figure: String,
    /// What it is compared with, where that is a fact of the zone.
    pub against: Option<String>,
    /// How the facts on either side were worked out.
    pub working: Vec<String>,
}

impl Explainer<'_> {
    /// Every test of a condition.
    pub fn tests(&self, condition: &Condition) -> Vec<SeenTest> {
        condition.tests().into_iter().map(|test| self.seen(test)).collect()
    }

    fn seen(&self, test: &Test) -> SeenTest {
        let eyes = Eyes { case: self.case, decisions: self.decisions };
        let (answer, working, behind) = match &test.kind {
            TestKind::Fact { fact, .. } | TestKind::Known(fact) | TestKind::Unknown(fact) => {
                (self.answer(*fact), self.working(*fact), Vec::new())
            }
            TestKind::Finding(finding) => (String::new(), None, self.behind(*finding)),
            TestKind::Chosen { slot, .. } | TestKind::ChosenWhose { slot, .. } => {
                (self.possible(*slot), None, Vec::new())
            }
        };
        SeenTest { words: test.words.clone(), truth: eyes.test(&test.kind), answer, working, behind }
    }

    fn behind(&self, finding: FindingId) -> Vec<SeenTest> {
        self.book.findings.get(finding.0).map(|finding| self.tests(&finding.when)).unwrap_or_default()
    }

    /// A fact's answer as printed, with why it does not count if it does not.
    pub fn answer(&self, fact: FactId) -> String {
        let Some(answer) = self.case.facts.of(fact) else { return String::new() };
        match &answer.set_aside {
            Some(why) if answer.shown.is_empty() => why.clone(),
            Some(why) => format!("{} ({why})", answer.shown),
            None => answer.shown.clone(),
        }
    }

    fn working(&self, fact: FactId) -> Option<String> {
        self.case.facts.of(fact).and_then(|answer| answer.working.clone())
    }

    /// The options of a slot that are possible, as titles.
    pub fn possible(&self, slot: SlotId) -> String {
        let chosen = self.decisions.chosen.get(slot.0).map_or(&[][..], Vec::as_slice);
        let catalogue =
            self.book.slots.get(slot.0).and_then(|slot| self.book.catalogues.get(slot.catalogue.0));
        let Some(catalogue) = catalogue else { return String::new() };
        let titles = catalogue.options.iter().zip(chosen).filter(|(_, chosen)| chosen.is_shown());
        titles.map(|(option, _)| option.title.as_str()).collect::<Vec<_>>().join(" or ")
    }

    /// The figures that a comparison over options saw for one of them.
    pub fn compared(&self, slot: SlotId, whose: &Whose, option: OptionId) -> Compared {
        let figure = match whose.what {
            WhoseWhat::Fact(fact) => self.own_figure(fact, option),
            WhoseWhat::Column(column) => self.cell(slot, option, column),
        };
        let facts = facts_of_whose(whose);
        let other: Vec<FactId> =
            facts.iter().copied().filter(|fact| whose.what != WhoseWhat::Fact(*fact)).collect();
        let against = other.first().map(|fact| {
            let name = self.book.facts.get(fact.0).map(|fact| fact.name.as_str()).unwrap_or_default();
            format!("{name} {}", self.answer(*fact))
        });
        let working = facts.iter().filter_map(|fact| self.working(*fact)).collect();
        Compared { words: whose.words.clone(), figure, against, working }
    }

    fn own_figure(&self, fact: FactId, option: OptionId) -> String {
        let answer = self.case.facts.of(fact);
        answer.and_then(|answer| answer.shown_by_option.get(option.0)).cloned().unwrap_or_default()
    }

    fn cell(&self, slot: SlotId, option: OptionId, column: crate::rulebook::book::ColumnId) -> String {
        let catalogue =
            self.book.slots.get(slot.0).and_then(|slot| self.book.catalogues.get(slot.catalogue.0));
        let Some(catalogue) = catalogue else { return String::new() };
        let worst = catalogue.columns.get(column.0).and_then(|column| column.worst);
        catalogue.cell(option, column).map(|cell| self.cell_in_words(&cell.value, worst)).unwrap_or_default()
    }

    /// A catalogue cell as printed; a range shows its adverse end first.
    pub fn cell_in_words(&self, value: &CellValue, worst: Option<End>) -> String {
        match value {
            CellValue::None => "none".to_owned(),
            CellValue::YesNo(yes) => if *yes { "yes" } else { "no" }.to_owned(),
            CellValue::Words(words) => words.clone(),
            CellValue::Number(low, high) if low == high => low.to_string(),
            CellValue::Number(low, high) => format!("{low} to {high}"),
            CellValue::Measure(low, high) if low == high => print(low, self.system),
            CellValue::Measure(low, high) => {
                let range = print_range(low, high, self.system);
                match worst {
                    None => range,
                    Some(End::Low) => format!("{} (worst case of {range})", print(low, self.system)),
                    Some(End::High) => format!("{} (worst case of {range})", print(high, self.system)),
                }
            }
        }
    }
}
