//! Where findings are gathered: what a paper is not checked for is let go here.

use super::finding::{Audience, Finding, Weight};
use super::paper::Passage;
use super::reading::Reading;
use super::rules::Rules;

/// The findings so far.
pub(super) struct Found<'r> {
    rules: &'r Rules,
    pub(super) all: Vec<Finding>,
}

impl<'r> Found<'r> {
    pub(super) fn new(rules: &'r Rules) -> Self {
        Self { rules, all: Vec::new() }
    }

    /// A finding at a passage.
    pub(super) fn at(
        &mut self,
        reading: Reading<'_>,
        check: &str,
        passage: &Passage,
        message: impl Into<String>,
    ) {
        self.add(reading, check, Some(passage), message.into(), None);
    }

    /// A finding of the paper as a whole.
    pub(super) fn whole(&mut self, reading: Reading<'_>, check: &str, message: impl Into<String>) {
        self.add(reading, check, None, message.into(), None);
    }

    pub(super) fn add(
        &mut self,
        reading: Reading<'_>,
        check: &str,
        passage: Option<&Passage>,
        message: String,
        own: Option<(Weight, &str)>,
    ) {
        let Some(known) = self.rules.checks.get(check).filter(|_| reading.is_for(check)) else { return };
        let reader = known.reader.or_else(|| self.rules.readers.get(&reading.paper.name).copied());
        let (weight, mend) = own.unwrap_or((known.weight, &known.mend));
        let finding = Finding {
            check: known.name.clone(),
            weight,
            reader: reader.unwrap_or(Audience::Office),
            paper: reading.paper.name.clone(),
            clause: passage.map(|passage| passage.clause.clone()).unwrap_or_default(),
            name: passage.and_then(|passage| passage.name.clone()),
            line: passage.and_then(|passage| passage.line),
            message,
            mend: mend.to_owned(),
            waived: None,
        };
        if !self.all.contains(&finding) {
            self.all.push(finding);
        }
    }
}
