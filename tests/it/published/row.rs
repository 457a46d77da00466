//! A row of the table, and what is wrong with our answer to it.

use std::fmt::Debug;

use num_rational::BigRational;
use num_traits::ToPrimitive;
use perpend::units::{Dimension, Quantity};

pub(super) struct Row {
    pub(super) id: String,
    pub(super) quantity: String,
    pub(super) inputs: String,
    pub(super) expected: String,
    pub(super) tolerance: String,
    pub(super) certainty: String,
}

/// Splits comma-separated text; a cell in double quotes may hold commas and doubled quotes.
pub(super) fn rows(text: &str) -> Vec<Row> {
    text.lines().skip(1).map(row).collect()
}

fn row(line: &str) -> Row {
    match cells(line).as_slice() {
        [id, quantity, inputs, expected, _unit, tolerance, _source, certainty] => Row {
            id: id.clone(),
            quantity: quantity.clone(),
            inputs: inputs.clone(),
            expected: expected.clone(),
            tolerance: tolerance.clone(),
            certainty: certainty.clone(),
        },
        other => panic!("eight cells, not {}: {line}", other.len()),
    }
}

fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            c => cells.last_mut().unwrap().push(c),
        }
    }
    cells
}

/// The numbers of a text, in order: `2.0e-10 kg` gives 2.0e-10.
pub(super) fn numbers(text: &str) -> Vec<BigRational> {
    let mut found = Vec::new();
    for word in text.split(|c: char| c.is_whitespace() || "=,;/*+()<>".contains(c)) {
        let end = word.find(|c: char| !(c.is_ascii_digit() || ".e-".contains(c))).unwrap_or(word.len());
        found.extend(
            Quantity::parse(word.get(..end).unwrap(), Dimension::Number).map(|number| number.value().clone()),
        );
    }
    found
}

/// The same in floating point, of a text whose units hold no digits after blanks or signs: `-5.2 / 7` gives both.
pub(super) fn figures(text: &str) -> Vec<f64> {
    numbers(text).iter().map(|number| number.to_f64().unwrap()).collect()
}

impl Row {
    /// The first figure of the tolerance.
    pub(super) fn tolerance(&self) -> f64 {
        figures(&self.tolerance).first().copied().unwrap_or_else(|| panic!("{}: no tolerance", self.id))
    }

    /// The first figure of the inputs.
    pub(super) fn input(&self) -> f64 {
        figures(&self.inputs).first().copied().unwrap_or_else(|| panic!("{}: no input", self.id))
    }

    /// The first figure that is expected.
    pub(super) fn value(&self) -> f64 {
        figures(&self.expected).first().copied().unwrap_or_else(|| panic!("{}: no value", self.id))
    }

    /// How far an answer may lie from a value: the tolerance, or so many per cent of the value.
    pub(super) fn allowed(&self, value: f64) -> f64 {
        let figure = self.tolerance();
        if self.tolerance.contains('%') { value.abs() * figure / 100.0 } else { figure }
    }

    /// Compares one answer with the first value.
    pub(super) fn near(&self, answer: f64) -> Wrong {
        let mut wrong = Wrong::default();
        wrong.near(answer, self.value(), self.allowed(self.value()));
        wrong
    }
}

/// What is wrong with an answer; nothing where it agrees.
#[derive(Default)]
pub(super) struct Wrong {
    pub(super) compared: usize,
    pub(super) said: Vec<String>,
}

impl Wrong {
    /// Holds a number to a value. Half a last place of floating point is let pass, for tolerances of zero.
    pub(super) fn near(&mut self, answer: f64, value: f64, allowed: f64) {
        self.compared += 1;
        let near = (answer - value).abs() <= allowed + value.abs() * f64::EPSILON;
        if !near {
            self.said.push(format!("{answer}, not {value} within {allowed}"));
        }
    }

    /// Holds a word or a count to what is expected.
    #[expect(clippy::needless_pass_by_value, reason = "answers are mostly made on the spot")]
    pub(super) fn same<Answer: PartialEq<Other> + Debug, Other: Debug>(
        &mut self,
        answer: Answer,
        wanted: Other,
    ) {
        self.compared += 1;
        if answer != wanted {
            self.said.push(format!("{answer:?}, not {wanted:?}"));
        }
    }
}
