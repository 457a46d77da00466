//! Our saturation, dew points and climate files against two programs from outside, run live: psychrolib and pvlib.

use std::path::{Path, PathBuf};

use perpend::diagnostic::Source;
use perpend::physics::climate::{Hour, RainRecord, Selection, Year, read};
use perpend::physics::{Saturation, dew_point};

use crate::outside_python::Python;

/// Prints `t psat` and `t humidity dew-point`, then every hour of both stations as pvlib reads them.
const PROGRAM: &str = r#"
import os, sys
import psychrolib, pvlib
psychrolib.SetUnitSystem(psychrolib.SI)
for t in range(-40, 61):
    print("psat", t, repr(psychrolib.GetSatVapPres(float(t))))
for t in range(0, 41, 5):
    for humidity in range(30, 96, 5):
        print("dew", t, humidity, repr(psychrolib.GetTDewPointFromRelHum(float(t), humidity / 100)))
for name in ("703165TY.csv", "723170TYA.CSV"):
    path = os.path.join(os.path.dirname(pvlib.__file__), "data", name)
    print("file", path)
    table, _ = pvlib.iotools.read_tmy3(path, map_variables=False)
    columns = ["Dry-bulb (C)", "RHum (%)", "Dew-point (C)", "Wspd (m/s)", "Lprecip depth (mm)"]
    for row in table[columns].itertuples(index=False):
        print("hour", *(repr(float(value)) for value in row))
"#;

fn numbers(rest: &str) -> Vec<f64> {
    rest.split_whitespace().map(|word| word.parse().unwrap()).collect()
}

fn lines<'a>(said: &'a str, word: &'a str) -> impl Iterator<Item = &'a str> {
    said.lines().filter_map(move |line| line.strip_prefix(word)?.strip_prefix(' '))
}

#[test]
fn psychrolib_and_pvlib_agree() {
    let python = Python::with(&["psychrolib==2.5.0", "pvlib==0.16.1"]);
    let said = python.says(PROGRAM, &[]);
    saturation_agrees(&said);
    dew_points_agree(&said);
    stations_agree(&said);
}

fn saturation_agrees(said: &str) {
    let mut count = 0;
    for line in lines(said, "psat") {
        let [t, theirs] = numbers(line)[..] else { panic!("{line}") };
        let by = |formula: Saturation| formula.pressure(t).unwrap() / theirs - 1.0;
        // The same formula, so the same figures. The design formula is off by 0.18 % at most above freezing, by half a
        // per cent down to -20 °C and by more below.
        assert!(by(Saturation::HylandWexler).abs() < 1e-9, "{t} °C: {}", by(Saturation::HylandWexler));
        let most = match t {
            t if t >= 0.0 => 1.8e-3,
            t if t >= -20.0 => 5.1e-3,
            _ => 1.9e-2,
        };
        assert!(by(Saturation::Iso13788).abs() < most, "{t} °C: {}", by(Saturation::Iso13788));
        count += 1;
    }
    assert_eq!(count, 101);
}

/// Reference, section 5: 0.0151 K at worst above freezing and 0.0217 K below, and 1.68 K for dew points taken for frost
/// points.
fn dew_points_agree(said: &str) {
    let mut worst = [(0.0_f64, 0.0_f64, 0.0_f64); 2];
    for line in lines(said, "dew") {
        let [t, humidity, theirs] = numbers(line)[..] else { panic!("{line}") };
        let off = |formula| (dew_point(t, humidity, formula).unwrap().celsius() - theirs).abs();
        let so_far = &mut worst[usize::from(theirs < 0.0)];
        so_far.0 = so_far.0.max(off(Saturation::HylandWexler));
        so_far.1 = so_far.1.max(off(Saturation::Iso13788));
        so_far.2 = so_far.2.max(off(Saturation::Magnus));
    }
    let [above, below] = worst;
    // Their root is found to a thousandth of a kelvin.
    assert!(above.0 < 1e-3 && below.0 < 1e-3, "{worst:?}");
    assert!((above.1 - 0.0151).abs() < 2e-4 && (below.1 - 0.0217).abs() < 2e-4, "{worst:?}");
    assert!((above.2 - 0.032).abs() < 1e-3 && (below.2 - 1.678).abs() < 1e-3, "{worst:?}");
}

#[expect(clippy::disallowed_methods, reason = "the program from outside brings its files")]
fn year(path: &Path) -> (Year, Vec<String>) {
    let (year, found) = read(&Source::new("station.csv", std::fs::read_to_string(path).unwrap()));
    (year.unwrap_or_else(|| panic!("{found:?}")), found.into_iter().map(|one| one.code).collect())
}

fn kept(name: &str) -> Year {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/published/weather").join(name);
    year(&path).0
}

fn stations_agree(said: &str) {
    let files: Vec<&str> = lines(said, "file").collect();
    let hours: Vec<Vec<f64>> = lines(said, "hour").map(numbers).collect();
    assert_eq!((files.len(), hours.len()), (2, 2 * 8760));
    let codes = [["CM017", "CM018", "CM019", "CM020"].as_slice(), &["CM018", "CM019", "CM020"]];
    for ((path, theirs), (excerpt, codes)) in
        files.iter().zip(hours.chunks(8760)).zip(["703165.csv", "723170.csv"].into_iter().zip(codes))
    {
        let (year, said) = year(Path::new(path));
        assert_eq!(said, codes, "{path}");
        for (ours, theirs) in year.hours.iter().zip(theirs) {
            assert_eq!(values(ours), stated(theirs), "{}", ours.stamp);
        }
        // The table kept for the tests holds the same hours.
        let kept = kept(excerpt);
        assert_eq!(kept.hours.len(), year.hours.len());
        for (kept, whole) in kept.hours.iter().zip(&year.hours) {
            assert_eq!((kept.stamp, values(kept)), (whole.stamp, values(whole)));
        }
    }
    errors_as_stated(&files);
}

/// In hundredths, so that sums of floating point do not matter.
fn values(hour: &Hour) -> [Option<i64>; 5] {
    [hour.celsius, hour.humidity, hour.dew_point, hour.wind, hour.rain].map(|value| value.map(hundredths))
}

fn stated(row: &[f64]) -> [Option<i64>; 5] {
    let [celsius, humidity, dew_point, wind, rain] = row[..] else { panic!("{row:?}") };
    let known = |value: f64| (value > -9900.0).then(|| hundredths(value));
    [known(celsius), known(humidity), known(dew_point), known(wind), known(rain).map(|tenths| tenths / 10)]
}

#[expect(clippy::cast_possible_truncation, reason = "weather fits in a few digits")]
fn hundredths(value: f64) -> i64 {
    (value * 100.0).round() as i64
}

/// Reference, section 9: away from the joins of months the design formula is within 0.159 K of the frost points of the one
/// station, and the dew points of the other fit Magnus over water better.
fn errors_as_stated(files: &[&str]) {
    let [coast, inland] = files else { panic!("{files:?}") };
    let (coast, inland) = (year(Path::new(coast)).0, year(Path::new(inland)).0);
    let most = |year: &Year, formula, selection| year.fit(formula, selection).unwrap().most;
    assert!((most(&coast, Saturation::Iso13788, Selection::AwayFromJoins) - 0.159).abs() < 1e-3);
    assert!((most(&coast, Saturation::Magnus, Selection::All) - 3.554).abs() < 1e-3);
    assert!((most(&inland, Saturation::Magnus, Selection::All) - 6.240).abs() < 1e-3);
    assert!((most(&inland, Saturation::Magnus, Selection::AboveFreezing) - 0.353).abs() < 1e-3);
    assert_eq!(coast.rain_record(), RainRecord::TooThin { missing: 8011 });
    assert_eq!(inland.rain_record(), RainRecord::Kept { missing: 0 });
    // 834.5 mm a year, when its depths are read as tenths.
    let rain: f64 = inland.months().unwrap().iter().filter_map(|month| month.rain).sum();
    assert!((rain - 834.5).abs() < 0.05, "{rain}");
}
