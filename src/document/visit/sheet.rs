//! The values of the survey sheet: two pages a zone, one of the job, and the words that may be written.

use serde::Serialize;

use super::asked::{Row, rows};
use super::structure::{Made, Names};
use crate::document::view::View;
use crate::rulebook::book::Owner;

/// What the survey sheet prints besides what all papers share.
#[derive(Debug, Serialize)]
pub(in crate::document) struct SheetContext {
    /// What takes half a line, two side by side.
    job_pairs: Vec<Vec<Row>>,
    job_rows: Vec<Row>,
    sheets: Vec<ZoneSheet>,
    names: Names,
}

/// The pages of one zone.
#[derive(Debug, Serialize)]
struct ZoneSheet {
    code: String,
    name: String,
    made: Made,
    /// What is found on the visit and takes half a line, two side by side.
    pairs: Vec<Vec<Row>>,
    /// What else is found on the visit.
    rows: Vec<Row>,
    /// What others find afterwards, from samples and trials.
    samples: Vec<Sample>,
    /// How many questions do not arise here.
    silent: usize,
}

/// What one person finds from the same samples or in the same trial.
#[derive(Debug, Serialize)]
struct Sample {
    only_where: String,
    by: String,
    places: u32,
    parts: Vec<Found>,
}

/// What is found of it.
#[derive(Debug, Serialize)]
struct Found {
    title: String,
    key: String,
    /// What is known already.
    known: String,
}

impl SheetContext {
    pub(in crate::document) fn of(view: View<'_>) -> Self {
        let sheets = view.zones().filter_map(|at| {
            let zone = view.survey.zones.get(at)?;
            let (all, silent) = rows(view, at, Owner::Zone);
            let (sampled, rows): (Vec<Row>, Vec<Row>) = all.into_iter().partition(|row| row.how.is_sampled());
            let (short, rows) = rows.into_iter().partition(|row| row.short);
            let (code, name) = (zone.code.clone(), zone.name.clone());
            let (samples, pairs) = (together(sampled), paired(short));
            Some(ZoneSheet { code, name, made: Made::of(view, at)?, pairs, rows, samples, silent })
        });
        let (short, job_rows) = rows(view, 0, Owner::Job).0.into_iter().partition(|row| row.short);
        Self { job_pairs: paired(short), job_rows, sheets: sheets.collect(), names: Names::of(view) }
    }
}

/// Two by two.
fn paired(rows: Vec<Row>) -> Vec<Vec<Row>> {
    let mut pairs: Vec<Vec<Row>> = Vec::new();
    for row in rows {
        match pairs.last_mut() {
            Some(last) if last.len() < 2 => last.push(row),
            _ => pairs.push(vec![row]),
        }
    }
    pairs
}

/// Rows that the same person fills from as many places, under the same condition, in one.
fn together(rows: Vec<Row>) -> Vec<Sample> {
    let mut found: Vec<Sample> = Vec::new();
    for row in rows {
        let part = Found { title: row.how.title.clone(), key: row.key.clone(), known: known(&row) };
        let same = |sample: &&mut Sample| {
            sample.only_where == row.only_where && sample.by == row.how.by && sample.places == row.places
        };
        match found.iter_mut().find(same) {
            Some(sample) => sample.parts.push(part),
            None => found.push(Sample {
                only_where: row.only_where,
                by: row.how.by,
                places: row.places,
                parts: vec![part],
            }),
        }
    }
    found
}

fn known(row: &Row) -> String {
    let ticked = row.options.iter().filter(|choice| choice.ticked).map(|choice| choice.word.as_str());
    let ticked: Vec<&str> = ticked.collect();
    if ticked.is_empty() { row.value.clone() } else { ticked.join(" or ") }
}
