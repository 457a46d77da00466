//! The sequence of the work with its hold points (R3).

use std::collections::BTreeSet;

use crate::document::section::hold_points;
use crate::document::view::View;
use crate::document::words::upper_first;
use crate::drawing::Drawing;
use crate::drawing::chart::{Sequence, SequenceHold, SequenceStage, sequence};
use crate::rulebook::book::StageId;
use crate::rulebook::words::spoken;

/// The sequence of the stages in which this job has work; none where it has no hold point.
pub(super) fn of_job(view: View<'_>) -> Option<Drawing> {
    let holds = hold_points(view);
    if holds.is_empty() {
        return None;
    }
    let duties = view.zones().filter_map(|zone| view.zone(zone)).flat_map(|zone| &zone.clauses);
    let worked = duties.filter_map(|duty| view.book.clauses.get(duty.clause.0)?.stage);
    let used: BTreeSet<StageId> = worked.chain(holds.iter().map(|hold| hold.stage)).collect();
    let order = in_order(view, &used);
    let place = |stage: &StageId| order.iter().position(|known| known == stage);
    let stages = order.iter().filter_map(|stage| {
        let after: BTreeSet<usize> = before(view, *stage, &used).iter().filter_map(place).collect();
        let title = spoken(&view.book.stages.get(stage.0)?.name);
        Some(SequenceStage { title, after: after.into_iter().collect() })
    });
    let held = holds.iter().filter_map(|hold| {
        let words = format!("{} {}, {}", hold.number, hold.name, upper_first(&hold.released_by));
        Some(SequenceHold { before: place(&hold.stage)?, words })
    });
    sequence(&Sequence { id: "sequence-1".to_owned(), stages: stages.collect(), holds: held.collect() })
}

/// The stages used, each after all that it waits for.
fn in_order(view: View<'_>, used: &BTreeSet<StageId>) -> Vec<StageId> {
    let mut order: Vec<StageId> = Vec::new();
    while order.len() < used.len() {
        let is_ready = |stage: &&StageId| {
            !order.contains(stage) && before(view, **stage, used).iter().all(|one| order.contains(one))
        };
        // a circle of stages is refused when the book is read
        let Some(next) = used.iter().find(is_ready) else { break };
        order.push(*next);
    }
    order
}

/// The nearest stages in use that a stage waits for.
fn before(view: View<'_>, stage: StageId, used: &BTreeSet<StageId>) -> BTreeSet<StageId> {
    let mut found = BTreeSet::new();
    let mut open: Vec<StageId> =
        view.book.stages.get(stage.0).map(|stage| stage.after.clone()).unwrap_or_default();
    let mut met = BTreeSet::new();
    while let Some(next) = open.pop() {
        if !met.insert(next) {
            continue;
        }
        if used.contains(&next) {
            found.insert(next);
        } else {
            open.extend(view.book.stages.get(next.0).map(|stage| stage.after.clone()).unwrap_or_default());
        }
    }
    found
}
