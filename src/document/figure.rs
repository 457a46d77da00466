//! Figures typed in a wording, printed in the order of units that the job asks for, as limits are.

use crate::units::{Quantity, System, UnitMistake, print, print_range};

/// `300 mm` or `2 to 5 mm` in both systems.
pub(super) fn both(written: &str, system: System) -> Result<String, UnitMistake> {
    Ok(printed(&Quantity::ends_of_any_kind(written)?, system))
}

/// A figure, or both its ends.
pub(super) fn printed((low, high): &(Quantity, Option<Quantity>), system: System) -> String {
    high.as_ref().map_or_else(|| print(low, system), |high| print_range(low, high, system))
}

#[cfg(test)]
mod tests {
    use super::both;
    use crate::units::System;

    #[test]
    fn a_figure_prints_in_the_order_of_the_job() {
        assert_eq!(both("300 mm", System::SiFirst).as_deref(), Ok("300\u{a0}mm (11.8\u{a0}in.)"));
        assert_eq!(both("5 °C", System::UsFirst).as_deref(), Ok("41\u{a0}°F (5\u{a0}°C)"));
        assert_eq!(both("5 to 30 °C", System::UsFirst).as_deref(), Ok("41 to 86\u{a0}°F (5 to 30\u{a0}°C)"));
        assert!(both("three steps", System::SiFirst).is_err());
    }
}
