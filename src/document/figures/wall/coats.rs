//! Which coats of a zone a figure shows.

use crate::document::view::View;
use crate::drawing::chart::CoatStanding;
use crate::inference::outcome::{OptionOutcome, SlotOutcome};
use crate::inference::truth::Truth;
use crate::rulebook::book::{EffectKind, Refused, SlotId};
use crate::wall::study::ZoneStudy;

use super::numbers::Shown;

/// The slot of the coating, by its name in the book.
const COATING: &str = "coating";
/// The most refused coats that are compared.
const REFUSED: usize = 3;

/// What became of the coating in a zone where one is to be chosen.
pub(super) fn outcome(view: View<'_>, zone: usize) -> Option<&SlotOutcome> {
    let slot = view.book.slots.iter().position(|slot| slot.name == COATING)?;
    view.slot_outcome(zone, SlotId(slot)).filter(|outcome| outcome.arises != Truth::No)
}

/// Every option that is a coat, in the order of the book.
fn coats<'a>(
    outcome: &'a SlotOutcome,
    study: &'a ZoneStudy,
) -> impl Iterator<Item = (&'a OptionOutcome, Shown<'a>)> {
    study.candidates.iter().filter_map(move |candidate| {
        let own = outcome.options.get(candidate.option.0)?;
        let standing = if outcome.pick == Some(candidate.option) {
            CoatStanding::Chosen
        } else if own.refused == Truth::Yes {
            CoatStanding::Refused
        } else {
            CoatStanding::Possible
        };
        let coat = candidate.coat.as_ref().ok()?;
        Some((own, Shown { title: &candidate.title, coat, standing }))
    })
}

/// The coat that was chosen; `None` where none was, or what was chosen is no coat.
pub(super) fn chosen<'a>(view: View<'a>, zone: usize, study: &'a ZoneStudy) -> Option<Shown<'a>> {
    let mut coats = coats(outcome(view, zone)?, study).map(|(_, shown)| shown);
    coats.find(|shown| shown.standing == CoatStanding::Chosen)
}

/// The coat that was chosen, the next that is not refused, and those that a figure refuses: of many the most open, the
/// tightest and the one in the middle.
pub(super) fn compared<'a>(view: View<'a>, zone: usize, study: &'a ZoneStudy) -> Vec<Shown<'a>> {
    let Some(outcome) = outcome(view, zone) else { return Vec::new() };
    let of = |wanted| coats(outcome, study).filter(move |(_, shown)| shown.standing == wanted);
    let mut refused: Vec<Shown<'_>> =
        of(CoatStanding::Refused).filter(|(own, _)| by_figure(view, own)).map(|(_, shown)| shown).collect();
    refused.sort_by(|a, b| a.coat.sd.high.cmp(&b.coat.sd.high));
    while refused.len() > REFUSED {
        let middle = refused.len() / 2;
        refused.remove(if refused.len() > REFUSED + 1 { middle } else { middle - 1 });
    }
    let chosen = of(CoatStanding::Chosen).map(|(_, shown)| shown);
    let next = of(CoatStanding::Possible).map(|(_, shown)| shown).take(1);
    chosen.chain(next).chain(refused).collect()
}

/// Whether a rule refuses an option by a figure and not by its name.
fn by_figure(view: View<'_>, option: &OptionOutcome) -> bool {
    let certain = option.refused_by.iter().filter(|cause| cause.truth == Truth::Yes);
    let effects = certain.filter_map(|cause| view.effect(cause.rule, cause.effect));
    effects.into_iter().any(|effect| matches!(effect, EffectKind::Refuse { which: Refused::Whose(_), .. }))
}
