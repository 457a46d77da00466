//! The end of a wall's ranges at which a condensation profile is drawn. Vapour that comes in easily and leaves hard
//! condenses: inside of the plane the adverse layers are open and hold heat back, outside of it they are tight and lead
//! heat off. Where the plane lies is not known beforehand, so each division of the layers is tried; one in which the air
//! of the room condenses on the inner face itself says nothing of a coat and is left out.

use std::num::NonZeroU16;

use crate::drawing::chart::ProfileLayer;
use crate::physics::condensation::{Block, Capillarity, Layer, Profile, Section, Slicing, Surface, Wall};
use crate::wall::study::LayerStudy;

/// Parts of each layer in the trial.
const PARTS: NonZeroU16 = NonZeroU16::MIN.saturating_add(7);

/// The layers of a wall, from outside, where most of these sd in m outside of it make vapour condense, and of those
/// divisions the one where most condenses.
pub(super) fn layers(
    study: &[LayerStudy],
    titles: &[String],
    outside: &[f64],
    block: &Block,
) -> Option<Vec<ProfileLayer>> {
    let divided = (0..=study.len()).filter_map(|split| {
        let layers = study.iter().zip(titles).enumerate();
        let layers = layers.map(|(place, (layer, title))| at_end(layer, title, place < split));
        let layers = layers.collect::<Option<Vec<_>>>()?;
        Some((rates(&layers, outside, block)?, layers))
    });
    let worst = divided.reduce(|worst, next| if weight(&next.0) > weight(&worst.0) { next } else { worst });
    worst.map(|(_, layers)| layers)
}

fn at_end(layer: &LayerStudy, title: &str, is_outside: bool) -> Option<ProfileLayer> {
    let end = |ends: (f64, f64)| if is_outside { ends.1 } else { ends.0 };
    let (thin, thick) = layer.thickness.as_ref().ok()?.ends()?;
    Some(ProfileLayer {
        title: title.to_owned(),
        thickness: f64::midpoint(thin, thick),
        conductivity: end(layer.lambda.as_ref().ok()?.ends()?),
        mu: end(layer.mu.as_ref().ok()?.ends()?),
    })
}

/// What condenses under each sd, in kg/(m²·s); `None` where the inner face is wet, or a figure out of range.
fn rates(layers: &[ProfileLayer], outside: &[f64], block: &Block) -> Option<Vec<f64>> {
    let own = layers
        .iter()
        .map(|layer| Layer::of_material(layer.thickness, layer.conductivity, layer.mu, Capillarity::Absorbs));
    let wall = Wall::new(own.collect::<Option<Vec<_>>>()?)?;
    let under = |sd: &f64| {
        let wall = if *sd > 0.0 { wall.with_coat(Layer::film(*sd)?)? } else { wall.clone() };
        let section = Section::cut(&wall, block.surfaces, Slicing::EveryInto(PARTS));
        Some(section.between(&block.outside, &block.inside))
    };
    let found = outside.iter().map(under).collect::<Option<Vec<_>>>()?;
    let is_dry = found.iter().all(|profile| profile.inside == Surface::Dry);
    is_dry.then(|| found.iter().map(Profile::rate).collect())
}

/// How many condense, and how much in all.
fn weight(rates: &[f64]) -> (usize, f64) {
    (rates.iter().filter(|rate| **rate > 0.0).count(), rates.iter().sum())
}
