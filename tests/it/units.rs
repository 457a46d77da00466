//! Quantities: what can be read, that conversions are exact, and what is printed.

use num_rational::BigRational;
use num_traits::{Signed, ToPrimitive};
use perpend::units::{Dimension, Quantity, System, print, print_column, print_once, print_range, unit_names};
use proptest::prelude::*;

fn read(text: &str, dimension: Dimension) -> Quantity {
    Quantity::parse(text, dimension).unwrap_or_else(|mistake| panic!("{text}: {mistake}"))
}

/// With hard spaces shown as tildes.
fn printed(text: &str, dimension: Dimension, system: System) -> String {
    print(&read(text, dimension), system).replace('\u{a0}', "~")
}

#[test]
fn prints_both_systems_rounded_no_finer_than_written() {
    use Dimension::{
        AirLayer, Angle, Area, Consumption, Duration, Flow, Gloss, Length, MassPerArea, Number, Percent,
        Permeability, Permeance, Pressure, Speed, Spread, Temperature, TemperatureStep, Uptake, VapourFlow,
        Voltage, Volume,
    };
    for (text, dimension, expected) in [
        ("300 psi", Pressure, "300~psi (2.07~MPa)"),
        ("1000 psi", Pressure, "1,000~psi (6.9~MPa)"),
        ("20 psi", Pressure, "20~psi (138~kPa)"),
        ("500 Pa", Pressure, "0.148~inHg (500~Pa)"),
        ("22 perm", Permeance, "22~perm (1,260~ng/(Pa·s·m²))"),
        ("3.2 perm-in", Permeability, "3.2~perm-in. (4.65~ng/(Pa·s·m))"),
        ("20 mm", Length, "0.79~in. (20~mm)"),
        ("100 mm", Length, "3.9~in. (100~mm)"),
        ("1/4 in", Length, "1/4~in. (6.4~mm)"),
        ("1 1/2 inches", Length, "1 1/2~in. (38~mm)"),
        ("2 m", Length, "6.6~ft (2~m)"),
        (".5 in", Length, "0.5~in. (12.7~mm)"),
        ("0.2 mm", Length, "0.0079~in. (0.2~mm)"),
        ("5 mil", Length, "5~mils (127~µm)"),
        ("1 mil", Length, "1~mil (25.4~µm)"),
        ("0 mm", Length, "0~in. (0~mm)"),
        ("0.14 m", AirLayer, "0.14~m"),
        ("10 °C", Temperature, "50~°F (10~°C)"),
        ("-5 °C", Temperature, "23~°F (\u{2212}5~°C)"),
        ("-40 F", Temperature, "\u{2212}40~°F (\u{2212}40~°C)"),
        ("20.5 °C", Temperature, "68.9~°F (20.5~°C)"),
        ("41 °F", Temperature, "41~°F (5~°C)"),
        ("85 °F", Temperature, "85~°F (29~°C)"),
        ("3 K", TemperatureStep, "5~°F (3~°C)"),
        ("5 °F", TemperatureStep, "5~°F (2.8~°C)"),
        ("100 sq ft", Area, "100~sq~ft (9.3~m²)"),
        ("1 gal", Volume, "1~gal (3.8~L)"),
        ("4 gpm", Flow, "4~gal/min (15~L/min)"),
        ("8 m2/L", Spread, "326~sq~ft/gal (8~m²/L)"),
        ("0.2 L/m2", Consumption, "0.49~gal/100~sq~ft (0.2~L/m²)"),
        ("0.5 kg/(m2 h^0.5)", Uptake, "0.5~kg/(m²·√h)"),
        ("0.2 kg/(m2 min0.5)", Uptake, "0.2~kg/(m²·√min)"),
        ("12 gloss units", Gloss, "12~GU"),
        ("150 g/(m2 d)", VapourFlow, "9.0~gr/(sq~ft·h) (150~g/(m²·d))"),
        ("1.0 mg/cm2", MassPerArea, "1.0~mg/cm²"),
        ("15 mph", Speed, "15~mph (6.7~m/s)"),
        ("5.2 %", Percent, "5.2~%"),
        ("24 h", Duration, "24~h"),
        ("1 day", Duration, "1~day"),
        ("400 days", Duration, "400~days"),
        ("45 degrees", Angle, "45°"),
        ("9 V", Voltage, "9~V"),
        ("1604", Number, "1,604"),
    ] {
        assert_eq!(printed(text, dimension, System::UsFirst), expected, "{text}");
    }
}

#[test]
fn the_system_sets_the_order_whatever_was_written() {
    assert_eq!(printed("300 psi", Dimension::Pressure, System::SiFirst), "2.07~MPa (300~psi)");
    assert_eq!(printed("20 mm", Dimension::Length, System::SiFirst), "20~mm (0.79~in.)");
    assert_eq!(print_once(&read("20 mm", Dimension::Length)), "20\u{a0}mm");
}

#[test]
fn small_figures_print_as_powers_of_ten() {
    let printed = printed("2.0e-10 kg/(m s Pa)", Dimension::Permeability, System::SiFirst);
    assert_eq!(printed, "2.0~×~10⁻¹⁰~kg/(Pa·s·m) (138~perm-in.)");
}

#[test]
fn ranges_share_one_unit_and_one_step() {
    use Dimension::{Length, Temperature};
    for (low, high, dimension, system, expected) in [
        ("5 °C", "30 °C", Temperature, System::SiFirst, "5 to 30~°C (41 to 86~°F)"),
        ("5 °C", "30 °C", Temperature, System::UsFirst, "41 to 86~°F (5 to 30~°C)"),
        ("-2 °C", "0 °C", Temperature, System::SiFirst, "\u{2212}2 to 0~°C (28 to 32~°F)"),
        ("120 µm", "300 µm", Length, System::UsFirst, "4.7 to 11.8~mils (120 to 300~µm)"),
        ("1 in", "50 mm", Length, System::SiFirst, "25.4 to 50~mm (1.00 to 1.97~in.)"),
    ] {
        let (low, high) = (read(low, dimension), read(high, dimension));
        assert_eq!(print_range(&low, &high, system).replace('\u{a0}', "~"), expected);
    }
}

#[test]
fn cells_of_a_column_have_as_many_places() {
    let column = |texts: &[&str]| {
        let cells: Vec<_> = texts.iter().map(|text| read(text, Dimension::Length)).collect();
        print_column(&cells, System::UsFirst).join(", ").replace('\u{a0}', "~")
    };
    assert_eq!(
        column(&["15 mm", "500 mm", "20 mm"]),
        "0.59~in. (15~mm), 19.69~in. (500~mm), 0.79~in. (20~mm)"
    );
    assert_eq!(
        column(&["1 in", "20 mm"]),
        "1~in. (25.4~mm), 0.79~in. (20~mm)",
        "units mixed: each by itself"
    );
    assert_eq!(column(&[]), "");
}

#[test]
fn exact_twins_are_equal_and_near_ones_are_not() {
    use Dimension::{Area, Length, Pressure, Temperature};
    for (one, other, dimension) in [
        ("1 in.", "25.4 mm", Length),
        ("1000 mil", "1 in", Length),
        ("3 ft", "1 yd", Length),
        ("1 sq ft", "0.09290304 m²", Area),
        ("10 bar", "1 MPa", Pressure),
        ("1 N/mm2", "1 MPa", Pressure),
        ("50 °F", "10 °C", Temperature),
        ("273.15 K", "0 °C", Temperature),
    ] {
        let (one, other) = (read(one, dimension), read(other, dimension));
        assert_eq!(one.value(), other.value(), "{one} and {other}");
        assert_eq!(one.compare(&other), Some(std::cmp::Ordering::Equal));
        assert_ne!(one, other, "the writing differs");
    }
    let psi = read("1000 psi", Pressure);
    let near = read("6.894757293168361 MPa", Pressure);
    assert_eq!(
        psi.compare(&near),
        Some(std::cmp::Ordering::Greater),
        "a twin cut off at fifteen places is less"
    );
    assert_eq!(psi.compare(&read("1 m", Length)), None);
}

/// Factors and worked values of the reference on vapour, section 1: text, kind, base value, part it may be off,
/// source.
const PUBLISHED: [(&str, Dimension, f64, f64, &str); 25] = [
    ("1 perm", Dimension::Permeance, 57.2135, 1e-6, "published: encyclopedia page \"Perm (unit)\""),
    ("1 perm-23C", Dimension::Permeance, 57.4525, 1e-12, "published: NIST SP 811, appendix B"),
    ("1 metric perm", Dimension::Permeance, 86.8127, 1e-6, "published: encyclopedia page \"Perm (unit)\""),
    ("0.659045 metric perm", Dimension::Permeance, 57.2135, 2e-6, "published: the same page"),
    ("1 perm-in", Dimension::Permeability, 1.45322, 5e-6, "published: a public library of units"),
    ("1 perm-in-23C", Dimension::Permeability, 1.45929, 5e-6, "from memory: ASTM E96"),
    ("1.45322e-12 kg/(Pa s m)", Dimension::Permeability, 1.45322, 1e-12, "by definition"),
    ("1 grain/(h ft2)", Dimension::VapourFlow, 0.697_489 * 24.0, 1e-6, "derived there"),
    ("5 perm", Dimension::Permeance, 286.07, 2e-5, "derived there"),
    ("10 perm", Dimension::Permeance, 572.14, 2e-5, "derived there"),
    ("22 perm", Dimension::Permeance, 1258.70, 2e-5, "derived there"),
    ("77 perm", Dimension::Permeance, 4405.44, 2e-5, "derived there"),
    ("1 ft", Dimension::Length, 0.3048, 1e-12, "published: NIST SP 811, exact"),
    ("1 inHg", Dimension::Pressure, 3386.389, 1e-12, "published: encyclopedia page \"Perm (unit)\""),
    ("1 mmHg", Dimension::Pressure, 133.322_387, 1e-12, "published: encyclopedia page \"Perm (unit)\""),
    ("1 psi", Dimension::Pressure, 6_894.757_293_168, 1e-12, "published: NIST SP 811, appendix B"),
    ("1 gal", Dimension::Volume, 231.0 * 16.387_064e-6, 1e-12, "published: 231 cubic inches"),
    ("1604.17 ft2/gal", Dimension::Spread, 1.0 / 25.4e-6, 3e-6, "published: one mil covers so much"),
    ("1 ft2/gal", Dimension::Spread, 24.5424, 2e-6, "derived in section 8: 0.0245424 m2/L"),
    ("15 mph", Dimension::Speed, 6.7, 1e-3, "published: a public works specification"),
    ("5 °F", Dimension::TemperatureStep, 2.78, 1e-3, "derived in section 5"),
    ("50 °F", Dimension::Temperature, 10.0, 1e-12, "by definition"),
    ("1 kg/(m2 s^0.5)", Dimension::Uptake, 60.0, 1e-12, "published in section 7: w = 60 A"),
    (
        "0.20 kg/(m2 s0.5)",
        Dimension::Uptake,
        12.0,
        1e-12,
        "derived in section 7: a brick of A 0.200 has w 12.0",
    ),
    ("1 lb/ft2", Dimension::MassPerArea, 4.882_428, 1e-7, "published: NIST SP 811, appendix B"),
];

#[test]
fn factors_agree_with_published_ones() {
    for (text, dimension, expected, part, source) in PUBLISHED {
        let value = read(text, dimension).value().to_f64().unwrap();
        assert!((value / expected - 1.0).abs() <= part, "{text} is {value}, not {expected} ({source})");
    }
}

#[test]
fn worked_values_find_the_unit_that_says_them_shortest() {
    for (text, dimension, expected) in [
        ("300 psi", Dimension::Pressure, "300 psi"),
        ("2.1 MPa", Dimension::Pressure, "2.1 MPa"),
        ("140 mm", Dimension::Length, "140 mm"),
        ("0.14 m", Dimension::AirLayer, "0.14 m"),
        ("4 in", Dimension::Length, "4 in."),
        ("25 perm", Dimension::Permeance, "25 perm"),
        ("48 h", Dimension::Duration, "2 days"),
        ("5 °C", Dimension::Temperature, "5 °C"),
        ("118.234 m2", Dimension::Area, "118 m²"),
        ("1234.5 m2", Dimension::Area, "1230 m²"),
        ("0 m", Dimension::Length, "0 mm"),
        ("5 %", Dimension::Percent, "5 %"),
        ("10", Dimension::Number, "10"),
    ] {
        let value = read(text, dimension).value().clone();
        let worked = Quantity::from_base(value.clone(), dimension);
        assert_eq!(worked.written(), expected, "from {text}");
        assert_eq!(worked.value(), &value, "the value stays exact");
    }
    let third = Quantity::from_base_in(BigRational::new(1.into(), 3.into()), Dimension::Length, "m").unwrap();
    assert_eq!(third.written(), "0.333 m");
    assert!(Quantity::from_base_in(BigRational::from_integer(1.into()), Dimension::Length, "psi").is_err());
}

#[test]
fn spacing_is_brought_down_to_single_blanks() {
    assert_eq!(read("  300\u{a0} \tpsi ", Dimension::Pressure).written(), "300 psi");
    assert_eq!(read("300psi", Dimension::Pressure).written(), "300 psi");
    assert_eq!(read("\u{2212}5 °C", Dimension::Temperature).written(), "-5 °C");
}

#[test]
fn every_mistake_says_how_to_mend_it() {
    use std::fmt::Write;
    let mut told = String::new();
    for line in include_str!("../cases/units/mistakes.txt").lines() {
        let (kind, text) = line.split_once(':').unwrap();
        let mistake = Quantity::parse(text, Dimension::from_name(kind).unwrap()).unwrap_err();
        let shown = perpend::diagnostic::Diagnostic::error(&mistake, None);
        writeln!(told, "{line}\n  {} {}\n  {}", shown.code, shown.message, shown.help.unwrap()).unwrap();
    }
    insta::with_settings!({ snapshot_path => "../cases/units", prepend_module_to_snapshot => false }, {
        insta::assert_snapshot!("mistakes", told);
    });
}

#[test]
fn kinds_keep_their_names() {
    for dimension in Dimension::all() {
        assert_eq!(Dimension::from_name(dimension.name()), Some(dimension));
        assert!(dimension.phrase().starts_with("a ") || dimension.phrase().starts_with("an "));
    }
}

prop_compose! {
    /// A quantity as somebody might write it, of any kind, in any unit.
    fn written()(
        digits in 1..10_000_u32,
        places in 0..4_usize,
        minus in any::<bool>(),
        pick in any::<prop::sample::Index>(),
    ) -> (String, Dimension) {
        let units: Vec<_> = Dimension::all()
            .flat_map(|dimension| unit_names(dimension).map(move |unit| (dimension, unit)))
            .collect();
        let (dimension, unit) = *pick.get(&units);
        let figure = f64::from(digits) / libm::pow(10.0, f64::from(u8::try_from(places).unwrap()));
        let sign = if minus && dimension == Dimension::Temperature { "-" } else { "" };
        (format!("{sign}{figure:.places$} {unit}"), dimension)
    }
}

/// The two sides of a printed quantity, or the one there is.
fn sides(printed: &str) -> (String, Option<String>) {
    let plain = printed.replace(',', "").replace('\u{a0}', " ");
    match plain.split_once(" (").filter(|_| plain.ends_with(')') && !plain.contains("×")) {
        Some((first, second)) => (first.to_owned(), Some(second.strip_suffix(')').unwrap().to_owned())),
        None => (plain, None),
    }
}

/// Zeros in front do not tell, nor do those at the end of a whole number.
fn telling_digits(text: &str) -> usize {
    let figure = text.split(' ').next().unwrap().trim_start_matches(['-', '\u{2212}', '0', '.']);
    if figure.contains('.') || text.starts_with("0.") {
        figure.chars().filter(char::is_ascii_digit).count()
    } else {
        figure.trim_end_matches('0').len()
    }
}

proptest! {
    #[test]
    fn reading_never_panics(text in any::<String>(), pick in any::<prop::sample::Index>()) {
        let kinds: Vec<_> = Dimension::all().collect();
        let _ = Quantity::parse(&text, *pick.get(&kinds));
    }

    #[test]
    fn reading_never_panics_on_near_quantities(
        text in "[-+−]?[0-9., /e-]{0,12}[a-zA-Z°µ%./() ^²·0-9\"']{0,12}",
        pick in any::<prop::sample::Index>(),
    ) {
        let kinds: Vec<_> = Dimension::all().collect();
        if let Ok(quantity) = Quantity::parse(&text, *pick.get(&kinds)) {
            let again = Quantity::parse(quantity.written(), quantity.dimension()).unwrap();
            prop_assert_eq!(&again, &quantity, "written form reads back");
            let _ = print(&quantity, System::UsFirst);
        }
    }

    #[test]
    fn what_is_printed_reads_back_within_its_rounding((text, dimension) in written()) {
        let quantity = read(&text, dimension);
        let (first, second) = sides(&print(&quantity, System::SiFirst));
        let mut sides: Vec<_> = [Some(first), second].into_iter().flatten().collect();
        sides.sort_by_key(|side| read(side, dimension).value() != quantity.value());
        let kept = read(&sides[0], dimension);
        prop_assert_eq!(kept.value(), quantity.value(), "the written side is kept");
        if let Some(other) = sides.get(1) {
            let off = (read(other, dimension).value() - quantity.value()).abs();
            let temperature = matches!(dimension, Dimension::Temperature | Dimension::TemperatureStep);
            let most = if temperature {
                BigRational::new(1.into(), 2.into())
            } else {
                quantity.value().abs() / BigRational::from_integer(40.into())
            };
            prop_assert!(off <= most, "{other} is too far off {text}");
            let decimals = |side: &str| side.split(' ').next().unwrap().split('.').nth(1).map_or(0, str::len);
            let no_finer = if dimension == Dimension::Temperature {
                decimals(other) <= decimals(&sides[0])
            } else {
                telling_digits(other) <= telling_digits(&sides[0]) + 2
            };
            prop_assert!(no_finer, "{other} implies more than {text}");
        }
    }

    #[test]
    fn the_system_changes_the_order_and_nothing_else((text, dimension) in written()) {
        let quantity = read(&text, dimension);
        let (us, si) = (sides(&print(&quantity, System::UsFirst)), sides(&print(&quantity, System::SiFirst)));
        if let Some(second) = us.1 {
            prop_assert_eq!((second, Some(us.0)), (si.0, si.1));
        } else {
            prop_assert_eq!(us, si);
        }
    }

    #[test]
    fn worked_values_stay_exact(over in any::<i64>(), under in 1..1_000_000_i64, pick in any::<prop::sample::Index>()) {
        let kinds: Vec<_> = Dimension::all().collect();
        let value = BigRational::new(over.into(), under.into());
        let worked = Quantity::from_base(value.clone(), *pick.get(&kinds));
        prop_assert_eq!(worked.value(), &value);
        let shown = read(worked.written(), worked.dimension());
        let off = (shown.value() - &value).abs() * BigRational::from_integer(200.into());
        let temperature = worked.dimension() == Dimension::Temperature;
        prop_assert!(temperature || off <= value.abs(), "shown within half of the third digit");
    }
}
