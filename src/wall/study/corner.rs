//! The wall as condensation sees it, at the ends of its ranges. Of a range the adverse end counts, and which end that is
//! depends on the side of the plane that a layer lies on: vapour that comes in easily and leaves hard condenses, so the
//! inner layers are adverse where they are open and hold heat back, the outer ones where they are tight and lead heat
//! off. Where the plane will lie is not known beforehand; so every division of the layers into outer and inner ones is
//! looked at.
//!
//! What a table ranges is spread; what the survey leaves open is doubt. Thickness moves heat and vapour at once, so both
//! its ends are looked at in every case.

use std::num::NonZeroU16;

use crate::physics::condensation::{Capillarity, Layer, Slicing, Wall};

/// Two ends, the lower first.
pub(in crate::wall) type Ends = (f64, f64);

/// Whether the ends of a range are known to be met or are left open by the survey.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::wall) enum Kind {
    /// A table's range of what is met.
    Spread,
    /// One value, not known better.
    Doubt,
}

/// A layer between its ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::wall) struct Ranged {
    /// m
    pub(in crate::wall) thickness: Ends,
    pub(in crate::wall) mu: Ends,
    pub(in crate::wall) mu_is: Kind,
    /// W/(m·K)
    pub(in crate::wall) lambda: Ends,
}

/// The old coats that stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::wall) struct KeptCoats {
    /// Equivalent air layer at the low and the high end of the table's spread, each from the low to the high end of
    /// doubt; m. Nothing where none stays.
    pub(in crate::wall) at_low: Ends,
    pub(in crate::wall) at_high: Ends,
    pub(in crate::wall) capillarity: Capillarity,
}

/// A wall with all its ranges.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::wall) struct RangedWall {
    /// From outside to inside.
    pub(in crate::wall) layers: Vec<Ranged>,
    pub(in crate::wall) kept: KeptCoats,
}

/// Which end of a range is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::wall) enum Side {
    Adverse,
    Benign,
}

/// One wall among those that the ranges allow.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::wall) struct Corner {
    /// The side that the spread was taken on.
    pub(in crate::wall) spread: Side,
    /// What the survey leaves open, as one case of it: corners of one number differ by spread alone.
    pub(in crate::wall) doubt: usize,
    /// The wall as it stands.
    pub(in crate::wall) wall: Wall,
}

/// One case of what the survey leaves open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Doubt {
    thickness: Side,
    mu: Side,
    kept: Side,
}

impl RangedWall {
    /// Corners with the spread on these sides; `None` if a layer lies beyond the range of the sums.
    pub(in crate::wall) fn corners(&self, sides: &[Side]) -> Option<Vec<Corner>> {
        let mut found: Vec<Corner> = Vec::new();
        for (number, doubt) in self.doubts().into_iter().enumerate() {
            for spread in sides {
                for split in 0..=self.layers.len() {
                    let wall = self.wall(doubt, *spread, split)?;
                    let corner = Corner { spread: *spread, doubt: number, wall };
                    if !found.contains(&corner) {
                        found.push(corner);
                    }
                }
            }
        }
        Some(found)
    }

    fn doubts(&self) -> Vec<Doubt> {
        let both = |open: bool| if open { vec![Side::Benign, Side::Adverse] } else { vec![Side::Benign] };
        let open = |ends: Ends| ends.0 < ends.1;
        let thickness = both(self.layers.iter().any(|layer| open(layer.thickness)));
        let mu = both(self.layers.iter().any(|layer| layer.mu_is == Kind::Doubt && open(layer.mu)));
        let kept = both(open(self.kept.at_low) || open(self.kept.at_high));
        let mut found = Vec::new();
        for thickness in thickness {
            for mu in &mu {
                found.extend(kept.iter().map(|kept| Doubt { thickness, mu: *mu, kept: *kept }));
            }
        }
        found
    }

    fn wall(&self, doubt: Doubt, spread: Side, split: usize) -> Option<Wall> {
        let kept = self.kept.layer(doubt.kept, spread)?;
        let layers = self.layers.iter().enumerate().map(|(place, layer)| {
            let mu_side = if layer.mu_is == Kind::Doubt { doubt.mu } else { spread };
            let tight = |side: Side| (side == Side::Adverse) == (place < split);
            let end = |ends: Ends, high: bool| if high { ends.1 } else { ends.0 };
            Layer::of_material(
                end(layer.thickness, doubt.thickness == Side::Adverse),
                end(layer.lambda, tight(spread)),
                end(layer.mu, tight(mu_side)),
                Capillarity::Absorbs,
            )
        });
        Wall::new(kept.into_iter().map(Some).chain(layers).collect::<Option<Vec<_>>>()?)
    }

    /// Into how many parts every layer is cut, so that none holds back more than 0.25 m²K/W; from memory: ISO 13788.
    /// No more than 24, past which nothing changes that a document could print.
    pub(in crate::wall) fn parts(&self) -> NonZeroU16 {
        const MOST: u16 = 24;
        let most = self.layers.iter().map(|layer| layer.thickness.1 / layer.lambda.0).fold(0.0, f64::max);
        let parts = (2..MOST).find(|parts| most <= 0.25 * f64::from(*parts)).unwrap_or(MOST);
        NonZeroU16::new(parts).unwrap_or(NonZeroU16::MIN)
    }

    /// The same as a way to cut walls.
    pub(in crate::wall) fn slicing(&self) -> Slicing {
        Slicing::EveryInto(self.parts())
    }
}

impl KeptCoats {
    /// The layer, none or one; `None` for a figure beyond the range.
    fn layer(&self, doubt: Side, spread: Side) -> Option<Vec<Layer>> {
        let ends = if spread == Side::Adverse { self.at_high } else { self.at_low };
        let sd = if doubt == Side::Adverse { ends.1 } else { ends.0 };
        if sd > 0.0 {
            Layer::new(0.0, sd, self.capillarity).map(|layer| vec![layer])
        } else {
            Some(Vec::new())
        }
    }
}
