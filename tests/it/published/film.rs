//! How far a coat goes.

use num_rational::BigRational;
use num_traits::{ToPrimitive, Zero};
use perpend::physics::{practical_volume, theoretical_spread, wet_film};
use perpend::units::{Dimension, Quantity};

use super::row::{Row, Wrong, numbers};

pub(super) fn check(row: &Row) -> Option<Wrong> {
    let given = numbers(&row.inputs);
    let hundredth = || BigRational::new(1.into(), 100.into());
    match row.quantity.as_str() {
        "Coverage constant" => {
            let spread =
                theoretical_spread(&BigRational::from_integer(1.into()), &unit("1 mil", Dimension::Length))?;
            Some(row.near((spread / unit("1 sq ft/gal", Dimension::Spread)).to_f64()?))
        }
        "Theoretical spreading rate" => {
            let (film, spread) =
                if row.inputs.ends_with("mil") { ("1 mil", "1 sq ft/gal") } else { ("1 µm", "1 m2/L") };
            let film = &given[1] * unit(film, Dimension::Length);
            Some(
                row.near((theoretical_spread(&given[0], &film)? / unit(spread, Dimension::Spread)).to_f64()?),
            )
        }
        "Wet film for a dry film" => {
            Some(row.near(wet_film(&given[1], &given[0], &(&given[2] * hundredth()))?.to_f64()?))
        }
        "ft2/gal to m2/L" => Some(
            row.near((unit("1 sq ft/gal", Dimension::Spread) / unit("1 m2/L", Dimension::Spread)).to_f64()?),
        ),
        "Litres for 120 m2 at 8.0 m2/L with area factor 1.2 and loss 10 %" => {
            let figures = numbers(&row.quantity.replace(" m2/L", "").replace(" m2", ""));
            let [area, rate, texture, loss] = figures.as_slice() else { panic!("{}: {figures:?}", row.id) };
            let spread = rate * unit("1 m2/L", Dimension::Spread);
            let volume = practical_volume(area, texture, &spread, &(loss * hundredth()))?;
            let litres = &volume / unit("1 L", Dimension::Volume);
            assert!(!volume.is_zero());
            Some(row.near(litres.to_f64()?))
        }
        _ => None,
    }
}

fn unit(text: &str, dimension: Dimension) -> BigRational {
    Quantity::parse(text, dimension).unwrap().value().clone()
}
