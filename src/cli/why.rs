//! `perpend why`: the reason behind a decision, from the same trace that the documents print.

mod answer;
mod target;

use crate::cli::args::Why;
use crate::cli::load;
use crate::cli::zones;
use crate::cli::{Exit, Failure, Report};

/// Explains one name, or gives the whole answer.
pub(super) fn run(why: &Why) -> Result<Report, Failure> {
    let decided = load::decide(&why.survey, &why.rulebook)?;
    let zones = zones::pick(&decided.survey, why.zone.as_slice())?;
    let text = match &why.what {
        None => answer::overview(&decided, &zones),
        Some(what) => {
            let targets = target::find(&decided, what)?;
            answer::explained(&decided, &targets, &zones)
        }
    };
    Ok(Report { text, remarks: Vec::new(), exit: Exit::Done })
}
