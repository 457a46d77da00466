//! `perpend wall`: the wall in numbers, plain words first and figures after.

mod block;
mod json;
mod tables;
mod words;

use crate::cli::args::{Format, Wall};
use crate::cli::files::FileMistake;
use crate::cli::load;
use crate::cli::zones;
use crate::cli::{Exit, Failure, Report};
use crate::document::{self, Document};
use crate::drawing;
use crate::rulebook::book::Book;
use crate::survey::Survey;
use crate::wall::study::{self, Conditions, ZoneStudy};

/// What is printed: the zones asked for, and what all of them are worked with.
struct Told<'a> {
    survey: &'a Survey,
    book: &'a Book,
    conditions: Conditions,
    /// Each with its index in the survey.
    zones: Vec<(usize, ZoneStudy)>,
}

/// Prints the zones asked for in the form asked for.
pub(super) fn run(wall: &Wall) -> Result<Report, Failure> {
    let (book, survey, remarks) = load::read(&wall.survey, &wall.rulebook)?;
    let asked = zones::pick(&survey, &wall.zones)?;
    let conditions = study::conditions(&survey, &book);
    let zones = study::study(&survey, &book).into_iter().enumerate();
    let zones = zones.filter(|(index, _)| asked.contains(index)).collect();
    let told = Told { survey: &survey, book: &book, conditions, zones };
    let text = match wall.format {
        Format::Text => document::text(&paper(&told)),
        Format::Md => document::markdown(&paper(&told)),
        Format::Json => json::json(&told),
        Format::Svg => picture(&told)?,
    };
    Ok(Report { text, remarks, exit: Exit::Done })
}

/// The figures of all zones asked for, one below the other.
fn picture(told: &Told<'_>) -> Result<String, Failure> {
    let zones: Vec<&ZoneStudy> = told.zones.iter().map(|(_, zone)| zone).collect();
    let drawings = document::wall_figures(&zones, &told.conditions, told.survey.job.profile.system);
    let title = format!("The wall in numbers: {}", told.survey.job.name);
    let drawing = drawing::stacked("wall", &title, &drawings);
    drawing.map(|drawing| drawing::svg(&drawing)).ok_or_else(|| {
        let codes: Vec<&str> = zones.iter().map(|zone| zone.code.as_str()).collect();
        Failure { exit: Exit::NothingMade, diagnostics: vec![FileMistake::NoFigure(codes.join(", ")).into()] }
    })
}

/// The paper of both readable forms.
fn paper(told: &Told<'_>) -> Document {
    let mut blocks = block::Blocks::new();
    for (index, zone) in &told.zones {
        blocks.heading(2, format!("{}: {}", zone.code, zone.name));
        words::zone(told, zone, &mut blocks);
        tables::zone(told, (*index, zone), &mut blocks);
    }
    blocks.heading(2, "What all of this was worked with".to_owned());
    words::conditions(told, &mut blocks);
    block::paper(told.survey, blocks)
}
