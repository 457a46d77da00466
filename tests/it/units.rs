//! Quantities: what can be read, that conversions are exact, and what is printed.

use num_rational::BigRational;
use perpend::units::{Dimension, Quantity, System, UnitMistake, print, print_range};

fn read(text: &str, dimension: Dimension) -> Quantity {
    Quantity::parse(text, dimension).unwrap_or_else(|mistake| panic!("{text}: {mistake}"))
}

fn printed(text: &str, dimension: Dimension, system: System) -> String {
    print(&read(text, dimension), system).replace('\u{a0}', "~")
}

#[test]
fn prints_both_systems_rounded_no_finer_than_written() {
    use Dimension::{Area, Length, Permeance, Pressure, Temperature, TemperatureStep};
    for (text, dimension, expected) in [
        ("300 psi", Pressure, "300~psi (2.1~MPa)"),
        ("1000 psi", Pressure, "1,000~psi (7~MPa)"),
        ("22 perm", Permeance, "22~perm (1,260~ng/(Pa·s·m²))"),
        ("20 mm", Length, "0.8~in. (20~mm)"),
        ("1/4 in", Length, "1/4~in. (6.4~mm)"),
        ("2 m", Length, "6.6~ft (2~m)"),
        ("0.2 mm", Length, "0.008~in. (0.2~mm)"),
        ("5 mil", Length, "5~mils (130~µm)"),
        ("10 °C", Temperature, "50~°F (10~°C)"),
        ("-5 °C", Temperature, "23~°F (\u{2212}5~°C)"),
        ("3 K", TemperatureStep, "5~°F (3~°C)"),
        ("100 sq ft", Area, "100~sq~ft (9.3~m²)"),
    ] {
        assert_eq!(printed(text, dimension, System::UsFirst), expected);
    }
}

#[test]
fn ranges_share_one_unit_and_one_step() {
    let low = read("5 °C", Dimension::Temperature);
    let high = read("30 °C", Dimension::Temperature);
    assert_eq!(print_range(&low, &high, System::SiFirst).replace('\u{a0}', "~"), "5 to 30~°C (41 to 86~°F)");
}

#[test]
fn an_inch_is_exactly_25_4_mm() {
    assert_eq!(read("1 in.", Dimension::Length).value(), read("25.4 mm", Dimension::Length).value());
    assert_ne!(
        read("1000 psi", Dimension::Pressure).value(),
        read("6.894757293168361 MPa", Dimension::Pressure).value()
    );
}

#[test]
fn a_bare_number_is_no_pressure() {
    let mistake = Quantity::parse("300", Dimension::Pressure).unwrap_err();
    assert!(matches!(mistake, UnitMistake::MissingUnit { .. }));
}

#[test]
fn worked_values_print_in_the_usual_unit() {
    let value = BigRational::new(14.into(), 100.into());
    let worked = Quantity::from_base(value, Dimension::Length);
    assert_eq!(worked.written(), "140 mm");
}
