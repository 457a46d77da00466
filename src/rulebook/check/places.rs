//! At how many places a test is made: `places: {per: 50 m2, least: 3}`. Papers count from it and print it, so that the
//! number of rows on a form is the number that the section asks for.

use super::desk::Desk;
use crate::diagnostic::Place;
use crate::rulebook::clause::Places;
use crate::units::{Dimension, Quantity};
use crate::yaml::Node;

/// The key in a test, and the name by which its words print what it says.
pub(super) const PLACES: &str = "places";

/// How it is written.
const HELP: &str =
    "write `places: {per: 50 m2, least: 3}`, an area or a length and a whole number, or `{least: 5}`";

impl Desk {
    /// Reads the places of a test; `at` finds a place of the front matter in the file.
    pub(super) fn places(&mut self, node: &Node, at: &dyn Fn(&Place) -> Place) -> Option<Places> {
        let pairs = node.as_map().unwrap_or_default();
        let is_known = pairs.iter().all(|(key, _)| ["per", "least"].contains(&key.name.as_str()));
        let per = node.get("per").and_then(Node::as_text);
        let least = node.get("least").and_then(Node::as_text).map_or(Some(1), |text| text.parse().ok());
        let measured = per.map(extent);
        match (least.filter(|least: &u32| *least > 0), measured) {
            (Some(least), Some(Some(per))) if is_known => Some(Places { per: Some(per), least }),
            (Some(least), None) if is_known && !pairs.is_empty() => Some(Places { per: None, least }),
            _ => {
                let written = at(&node.place).text().to_owned();
                self.unfit_part(&written, PLACES, HELP, at(&node.place));
                None
            }
        }
    }
}

/// An area or a length above nothing.
fn extent(written: &str) -> Option<Quantity> {
    let kinds = [Dimension::Area, Dimension::Length];
    let found = kinds.into_iter().find_map(|kind| Quantity::parse(written, kind).ok())?;
    num_traits::Signed::is_positive(found.value()).then_some(found)
}
