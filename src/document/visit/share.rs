//! How much of a survey is open, and whether that is more than a section can be written from.

use num_rational::BigRational;

use super::asked::{arises, asked, is_open};
use crate::diagnostic::Diagnostic;
use crate::document::Basis;
use crate::document::mistake::DocumentMistake;
use crate::document::view::View;
use crate::inference::Truth;
use crate::rulebook::book::{FactId, Kind, Owner};
use crate::survey::Zone;
use crate::units::print;

/// The quantity that says how much may be open; a book without it lets anything be written.
const MOST_OPEN: &str = "most-open-questions";

/// A survey of which too much is open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Thin {
    /// Questions that are open.
    pub open: usize,
    /// Questions that arise.
    pub asked: usize,
    /// The share that the book allows, in words.
    pub most: String,
}

impl Thin {
    /// Why the papers of the first visit are written, or why those asked for should not be leaned on.
    pub fn remark(&self) -> Diagnostic {
        let Self { open, asked, most } = self.clone();
        Diagnostic::remark(&DocumentMistake::Thin { open, asked, most }, None)
    }
}

/// Whether more of the survey is open than the book allows for a section.
pub fn thin(basis: Basis<'_>) -> Option<Thin> {
    let view = View {
        book: basis.book,
        survey: basis.survey,
        facts: basis.facts,
        outcome: basis.outcome,
        words: &basis.templates.words,
    };
    let quantity = view.book.quantities.iter().find(|quantity| quantity.name == MOST_OPEN)?;
    let (most, _) = quantity.taken_as.as_ref()?;
    let (open, asked) = counted(view);
    let whole = |count: usize| BigRational::from_integer(count.into());
    let is_thin = whole(open) * BigRational::from_integer(100.into()) > most.value() * whole(asked);
    is_thin.then(|| Thin { open, asked, most: print(most, view.system()) })
}

/// Questions open, and questions that arise: those of the job once, those of each zone, and what each wall is made of.
fn counted(view: View<'_>) -> (usize, usize) {
    let compared = |fact: &FactId| view.book.facts.get(fact.0).is_some_and(|fact| fact.kind != Kind::Text);
    let of_job = asked(view, Owner::Job).into_iter().filter(compared).map(|fact| (0, fact));
    let of_zones = asked(view, Owner::Zone).into_iter().filter(compared);
    let of_zones: Vec<FactId> = of_zones.collect();
    let each = view.zones().flat_map(|zone| of_zones.iter().map(move |fact| (zone, *fact)));
    let arising: Vec<(usize, FactId)> =
        of_job.chain(each).filter(|(zone, fact)| arises(view, *zone, *fact) != Truth::No).collect();
    let open = arising.iter().filter(|(zone, fact)| is_open(view, *zone, *fact)).count();
    let made: Vec<[bool; 5]> = view.survey.zones.iter().map(unsaid).collect();
    let missing = made.iter().flatten().filter(|unsaid| **unsaid).count();
    (open + missing, arising.len() + made.iter().flatten().count())
}

/// What nobody said of a zone's making.
fn unsaid(zone: &Zone) -> [bool; 5] {
    [
        zone.wall.is_none(),
        zone.coats.is_none(),
        zone.cracks.is_none(),
        zone.size.is_none(),
        zone.adjoins.is_none(),
    ]
}
