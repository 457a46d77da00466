//! Figures of a clause's own: `figures: {shade: 3 days}`, typed once and printed by their names, so that what the section
//! asks for and what crew and form read cannot differ.

use super::desk::Desk;
use crate::diagnostic::Place;
use crate::rulebook::clause::{Figure, Parameter};
use crate::units::Quantity;
use crate::yaml::Node;

/// The key.
pub(super) const FIGURES: &str = "figures";
/// How it is written.
const HELP: &str = "write `figures: {shade: 3 days}`: for each a name of its own and a number with its unit, a number, or `2 to 5 mm`";

impl Desk {
    /// Reads the figures of a clause; `at` finds a place of the front matter in the file.
    pub(super) fn figures(
        &mut self,
        node: &Node,
        parameters: &[Parameter],
        at: &dyn Fn(&Place) -> Place,
    ) -> Vec<Figure> {
        let Some(pairs) = node.as_map() else {
            self.unfit_part(node.what(), FIGURES, HELP, at(&node.place));
            return Vec::new();
        };
        let mut figures = Vec::new();
        for (key, value) in pairs {
            let is_taken = parameters.iter().any(|parameter| parameter.name == key.name);
            let read = value.as_text().filter(|_| !is_taken).map(Quantity::ends_of_any_kind);
            match read {
                Some(Ok(value)) => {
                    figures.push(Figure { name: key.name.clone(), value, place: at(&key.place) });
                }
                _ => {
                    self.unfit_part(value.as_text().unwrap_or(value.what()), FIGURES, HELP, at(&value.place));
                }
            }
        }
        figures
    }
}
