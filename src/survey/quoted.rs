//! A permeance quoted without the thickness that it belongs to: what it says, what it may have meant, and what it does
//! not say. Brick "at 22 perms" beside a coat "at 77 perms" is such a pair.

use num_rational::BigRational;

use crate::physics::classes::VapourClass;
use crate::physics::{StillAir, layer_permeability, layer_permeance, sd_from_permeance};
use crate::units::{Dimension, Quantity, System, print, print_once};

/// A permeance alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quoted(Quantity);

/// The thickness that a bare figure for brick is tried with: one brick laid flat. Common practice.
const TRIED: &str = "4 in.";
/// Below this µ a solid is hardly told from still air; the most open masonry of the tables has 4 to 5. From memory: ISO
/// 10456, DIN 4108-4.
const NEAR_STILL_AIR: i32 = 3;

impl Quoted {
    /// A permeance above nothing; `None` for anything else.
    ///
    /// ```
    /// # use perpend::survey::quoted::Quoted;
    /// # use perpend::units::{Dimension, Quantity};
    /// let quoted = Quoted::new(&Quantity::parse("22 perm", Dimension::Permeance)?).unwrap();
    /// // Reference, section 1: sd 0.1589 m at 2.0e-10 and 0.1549 m at 1.95e-10.
    /// assert_eq!(quoted.sds().unwrap(), "0.159\u{a0}m (0.155\u{a0}m by the still air of cup tests)");
    /// # Ok::<(), perpend::units::UnitMistake>(())
    /// ```
    pub fn new(permeance: &Quantity) -> Option<Self> {
        let sound = permeance.dimension() == Dimension::Permeance
            && *permeance.value() > BigRational::from_integer(0.into());
        sound.then(|| Self(permeance.clone()))
    }

    /// Its equivalent air layer, in m.
    pub fn sd(&self, air: &StillAir) -> Option<BigRational> {
        sd_from_permeance(self.0.value(), air)
    }

    /// The µ that it would mean of a solid so thick, in m, with the still air of design calculation.
    ///
    /// ```
    /// # use perpend::survey::quoted::Quoted;
    /// # use perpend::units::{Dimension, Quantity};
    /// # use num_traits::ToPrimitive;
    /// let quoted = Quoted::new(&Quantity::parse("22 perm", Dimension::Permeance)?).unwrap();
    /// let thick = |text| Quantity::parse(text, Dimension::Length).unwrap();
    /// // Reference, section 4: µ 1.56 through 4 in., and 6.26 read per inch (derived there).
    /// let mu = |text| quoted.mu_through(thick(text).value()).unwrap().to_f64().unwrap();
    /// assert!((mu("4 in.") - 1.56).abs() < 0.005 && (mu("1 in.") - 6.26).abs() < 0.005);
    /// # Ok::<(), perpend::units::UnitMistake>(())
    /// ```
    pub fn mu_through(&self, thickness: &BigRational) -> Option<BigRational> {
        layer_permeance(&StillAir::DESIGN.permeability(), &layer_permeability(self.0.value(), thickness)?)
    }

    /// EN 1062-1 of a coat of this permeance: the worse class of those by the two still airs in use for it.
    pub fn class(&self) -> Option<VapourClass> {
        let class = |air: &StillAir| VapourClass::of_sd(&self.sd(air)?);
        Some(class(&StillAir::DESIGN)?.worse(class(&StillAir::CUP_TEST)?))
    }

    /// The two equivalent air layers in words.
    pub fn sds(&self) -> Option<String> {
        let (design, cup) = (metres(&self.sd(&StillAir::DESIGN)?), metres(&self.sd(&StillAir::CUP_TEST)?));
        Some(format!("{design} ({cup} by the still air of cup tests)"))
    }

    /// What the figure may have meant, as a clause.
    fn readings(&self, system: System) -> Option<String> {
        let (tried, inch) = (length(TRIED)?, length("1 in.")?);
        let (through, per_inch) = (self.mu_through(tried.value())?, self.mu_through(inch.value())?);
        let thin = near_still_air(&through);
        let permeance = print_once(&self.0);
        let tried = print(&tried, system);
        let (through, per_inch) = (number(&through), number(&per_inch));
        Some(format!(
            "{permeance} through {tried} would mean µ {through}{thin}; read per inch of thickness it is µ {per_inch}"
        ))
    }

    /// What is to be said to somebody who left the thickness out, with a coat of the book beside it by its title.
    pub fn help(&self, coat: Option<(&str, &Self)>) -> Option<String> {
        let (permeance, sds) = (print_once(&self.0), self.sds()?);
        let readings = self.readings(System::UsFirst)?;
        let beside = coat.and_then(|(title, coat)| {
            let (permeance, sds) = (print(&coat.0, System::UsFirst), coat.sds()?);
            let class = coat.class()?.name();
            Some(format!(
                "beside it {title} at its tightest, {permeance}, is sd {sds} and alone of class {class} by EN 1062-1, \
                 which says nothing of this wall; "
            ))
        });
        let beside = beside.unwrap_or_default();
        Some(format!(
            "a permeance belongs to one thickness: {permeance}, of whatever it is, is sd {sds}; {readings}; the figure \
             does not say which was meant, nor whether a coat is more open than the wall; {beside}add the layer's \
             `thickness: …`, or give `mu: …` in its stead"
        ))
    }

    /// A layer quoted with its thickness beside a coat: what the two figures say, and what is set against the coat. A
    /// paragraph; `face` is the outer zone that must dry and what passes it, in words.
    pub fn through(
        &self,
        (material, thickness): (&str, &Quantity),
        (title, coat): (&str, &Self),
        face: (&str, &str),
        system: System,
    ) -> Option<String> {
        let (layer, thick) = (print(&self.0, system), print(thickness, system));
        let (sds, coat_sds, class) = (self.sds()?, coat.sds()?, coat.class()?.name());
        let readings = self.inch_reading(thickness)?;
        Some(format!(
            "{thick} of {material} is entered at {layer}: sd {sds}. Beside it, {title} at its tightest, {}, is sd \
             {coat_sds} and alone of class {class} by EN 1062-1. A permeance belongs to its thickness, so the two are not \
             set against each other. {readings} The outer {} of this wall passes {}; that is what a coat has to pass more \
             readily than.",
            print(&coat.0, system),
            face.0,
            face.1
        ))
    }

    /// The µ that a thickness gives, with a word where it is hardly a solid's.
    fn inch_reading(&self, thickness: &Quantity) -> Option<String> {
        let (mu, inch) = (self.mu_through(thickness.value())?, self.mu_through(length("1 in.")?.value())?);
        let told = near_still_air(&mu);
        let doubt = match told {
            "" => ".".to_owned(),
            _ => format!(": was it meant per inch of thickness (µ {})?", number(&inch)),
        };
        Some(format!("By its thickness it is µ {}{told}{doubt}", number(&mu)))
    }

    /// A wall quoted without its thickness beside a coat: what the two figures say and what they do not. A paragraph.
    ///
    /// ```
    /// # use perpend::survey::quoted::Quoted;
    /// # use perpend::units::{Dimension, Quantity, System};
    /// let quoted = |text| Quoted::new(&Quantity::parse(text, Dimension::Permeance).unwrap()).unwrap();
    /// let words = quoted("22 perm").beside(&quoted("77 perm"), System::UsFirst).unwrap();
    /// assert!(words.contains("thickness") && words.contains("class V1"));
    /// ```
    pub fn beside(&self, coat: &Self, system: System) -> Option<String> {
        let (wall_quoted, coat_quoted) = (print(&self.0, system), print(&coat.0, system));
        let both = |air: &StillAir| {
            let air_permeability = Quantity::from_base(air.permeability(), Dimension::Permeability);
            let (wall, coat) = (metres(&self.sd(air)?), metres(&coat.sd(air)?));
            let still_air = print(&air_permeability, system);
            Some(format!("with still air of {still_air}, of {}, they are sd {wall} and sd {coat}", air.name))
        };
        let (design, cup) = (both(&StillAir::DESIGN)?, both(&StillAir::CUP_TEST)?);
        let (class, readings) = (coat.class()?.name(), self.readings(system)?);
        Some(format!(
            "The wall is quoted at {wall_quoted} and the coat at {coat_quoted}, and no thickness goes with the figure for \
             the wall. As they stand, {design}; {cup}. The coat alone is of class {class} by EN 1062-1. But a permeance \
             belongs to one thickness: {readings}. Which was meant, the figure does not say; nor does it say whether the \
             coat is more open than the wall. That takes the thickness tested, the way of the test (dry or wet cup), and \
             the outer zone of the wall that has to dry."
        ))
    }
}

/// A word on a µ that no masonry has.
fn near_still_air(mu: &BigRational) -> &'static str {
    match mu {
        mu if *mu < BigRational::from_integer(1.into()) => ", less than still air, which cannot be",
        mu if *mu < BigRational::from_integer(NEAR_STILL_AIR.into()) => {
            ", near that of still air, which is 1"
        }
        _ => "",
    }
}

fn length(text: &str) -> Option<Quantity> {
    Quantity::parse(text, Dimension::Length).ok()
}

fn metres(sd: &BigRational) -> String {
    Quantity::from_base_in(sd.clone(), Dimension::AirLayer, "m")
        .map_or_else(|_| sd.to_string(), |metres| print_once(&metres))
}

fn number(value: &BigRational) -> String {
    Quantity::from_base(value.clone(), Dimension::Number).written().to_owned()
}
