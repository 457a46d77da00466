//! Figures typed in a wording, printed in the order of units that the job asks for, as limits are.

use crate::units::{Dimension, Quantity, System, UnitMistake, print, print_range};

/// `300 mm` or `2 to 5 mm` in both systems. The unit says what kind of figure it is; a temperature is a reading and
/// never a difference.
pub(super) fn both(written: &str, system: System) -> Result<String, UnitMistake> {
    let Some((low, high)) = written.split_once(" to ") else {
        return Ok(print(&quantity(written)?, system));
    };
    let unit = high.split_once(' ').map_or("", |(_, unit)| unit);
    let high = quantity(high)?;
    let low = if low.contains(' ') { low.to_owned() } else { format!("{low} {unit}") };
    Ok(print_range(&Quantity::parse(&low, high.dimension())?, &high, system))
}

fn quantity(written: &str) -> Result<Quantity, UnitMistake> {
    let kinds = Dimension::all().filter(|kind| *kind != Dimension::TemperatureStep);
    let mut first = None;
    for kind in kinds {
        match Quantity::parse(written, kind) {
            Ok(quantity) => return Ok(quantity),
            Err(mistake) => first = first.or(Some(mistake)),
        }
    }
    first.map_or_else(|| Quantity::parse(written, Dimension::Number), Err)
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
