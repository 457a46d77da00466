//! `perpend wall` as people run it.

use std::fmt::Write as _;
use std::path::Path;
use std::process::{Command, Output};

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};

const DEMOS: [&str; 3] = ["watch-house", "tithe-wall", "ferrier-lane-hall"];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn perpend(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_perpend")).current_dir(root()).args(arguments).output().unwrap()
}

fn said(output: &Output) -> String {
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn demo(name: &str) -> String {
    format!("examples/{name}/survey.yaml")
}

/// Words that would turn a sum into a permission.
const PERMISSIONS: [&str; 9] = [
    "may be coated",
    "permits coating",
    "permitted",
    "safe to coat",
    "can be coated",
    "suitable",
    "passes the check",
    "complies",
    "acceptable",
];

#[test]
fn no_demo_turns_a_sum_into_a_permission() {
    for name in DEMOS {
        let text = said(&perpend(&["wall", &demo(name)]));
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in PERMISSIONS {
            assert!(!flat.contains(words), "{name} says `{words}`");
        }
        let sums = text.matches("\nCondensation, ").count();
        assert!(sums > 0, "{name} has no sum of condensation");
        let caveats = flat.matches("can speak against a coat but never for one").count();
        assert!(caveats >= sums, "{name}: {caveats} caveats for {sums} sums");
        assert!(flat.contains("sets no waiting time and releases none"), "{name}");
    }
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_string_lossy().into_owned();
    for name in DEMOS {
        said(&perpend(&["write", &demo(name), "--out", &out, "--format", "md"]));
    }
    for job in std::fs::read_dir(folder.path()).unwrap() {
        for paper in std::fs::read_dir(job.unwrap().path()).unwrap() {
            let path = paper.unwrap().path();
            if path.is_dir() {
                continue; // the figures, whose words stand in the papers too
            }
            let text = std::fs::read_to_string(&path).unwrap();
            let about = text.lines().filter(|line| line.contains("condens"));
            for line in about {
                assert!(!PERMISSIONS.iter().any(|words| line.contains(words)), "{}: {line}", path.display());
            }
        }
    }
}

#[test]
fn zones_are_picked_by_code_and_a_wrong_one_is_told() {
    let one = said(&perpend(&["wall", &demo("watch-house"), "Q2"]));
    assert!(one.contains("Q2: Yard side") && !one.contains("Q1a: "));
    let wrong = perpend(&["wall", &demo("watch-house"), "Q9"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&wrong.stderr).contains("CI012"));
}

/// The excerpt of the README, line by line up to its dots.
#[test]
fn the_readme_shows_what_is_printed() {
    let readme = std::fs::read_to_string(root().join("README.md")).unwrap();
    let (_, rest) = readme.split_once("$ cargo run --release -- wall ").unwrap();
    let (command, rest) = rest.split_once('\n').unwrap();
    let (excerpt, _) = rest.split_once("\n...").unwrap();
    let arguments: Vec<&str> = std::iter::once("wall").chain(command.split_whitespace()).collect();
    let printed = said(&perpend(&arguments)).replace('\u{a0}', " ");
    assert!(printed.contains(&excerpt.replace('\u{a0}', " ")), "{excerpt}\nis not in\n{printed}");
}

#[test]
fn the_json_holds_what_its_page_promises() {
    let json = said(&perpend(&["wall", &demo("watch-house"), "Q2", "--format", "json"]));
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    let page = std::fs::read_to_string(root().join("docs/wall-json.md")).unwrap();
    let mut keys = std::collections::BTreeSet::new();
    gather(&value, &mut keys);
    for key in keys {
        assert!(page.contains(&format!("`{key}`")), "docs/wall-json.md does not tell of `{key}`");
    }
    let coats = value["zones"][0]["coats"].as_array().unwrap();
    let acrylic = coats.iter().find(|coat| coat["name"] == "acrylic-dispersion").unwrap();
    assert_eq!(acrylic["sd"], serde_json::json!({"low": 0.2, "high": 1.0, "unit": "m"}));
    let folder = tempfile::tempdir().unwrap();
    let survey = std::fs::read_to_string(root().join(demo("watch-house"))).unwrap();
    let without: Vec<&str> =
        survey.lines().filter(|line| !line.trim_start().starts_with("climate:")).collect();
    let path = folder.path().join("survey.yaml");
    std::fs::write(&path, without.join("\n")).unwrap();
    let json = said(&perpend(&["wall", &path.to_string_lossy(), "Q2", "--format", "json"]));
    let value: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert!(value["conditions"]["climate"]["not-worked-out"].as_str().unwrap().contains("climate"));
}

fn gather(value: &serde_json::Value, keys: &mut std::collections::BTreeSet<String>) {
    match value {
        serde_json::Value::Object(entries) => {
            for (key, value) in entries {
                keys.insert(key.clone());
                gather(value, keys);
            }
        }
        serde_json::Value::Array(items) => items.iter().for_each(|item| gather(item, keys)),
        _ => {}
    }
}

#[test]
fn the_markdown_holds_the_words_of_the_text() {
    let markdown = said(&perpend(&["wall", &demo("tithe-wall"), "T1", "--format", "md"]));
    assert!(markdown.starts_with("# The wall in numbers\n"));
    assert!(markdown.contains("### T1: Lane side") && markdown.contains("| coat | sd |"));
}

/// The first demo with a weather file of these words beside it.
fn with_weather(name: &str, weather: Option<&str>) -> Output {
    let folder = tempfile::tempdir().unwrap();
    let survey = std::fs::read_to_string(root().join(demo("tithe-wall"))).unwrap();
    let survey = survey.replace("  country: UK", &format!("  weather: {name}\n  country: UK"));
    let path = folder.path().join("survey.yaml");
    std::fs::write(&path, survey).unwrap();
    if let Some(weather) = weather {
        std::fs::write(folder.path().join(name), weather).unwrap();
    }
    perpend(&["wall", &path.to_string_lossy(), "T1"])
}

fn refused(output: &Output, code: &str) {
    let errors = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(2), "{errors}");
    assert!(errors.contains(code), "{code} is not in:\n{errors}");
}

#[test]
fn a_year_beside_the_survey_is_worked_month_by_month() {
    let year = include_str!("../../published/weather/703165.csv");
    let text = said(&with_weather("year.csv", Some(year)));
    assert!(text.contains("ISO 13788, month by month"), "{text}");
    assert!(text.contains("year.csv"));
}

#[test]
fn a_year_that_is_not_whole_is_told_with_its_place() {
    let year = include_str!("../../published/weather/703165.csv");
    let lines = || year.lines().collect::<Vec<_>>();
    let eleven: Vec<&str> = lines().into_iter().filter(|line| line.get(5..8) != Some("12-")).collect();
    refused(&with_weather("year.csv", Some(&eleven.join("\n"))), "CM011");
    let mut gap = lines();
    gap.remove(100);
    refused(&with_weather("year.csv", Some(&gap.join("\n"))), "CM009");
    let coded = year.replacen(",93,3,2.1,", ",-9900,3,2.1,", 1);
    refused(&with_weather("year.csv", Some(&coded)), "CM008");
    let over = year.replacen(",93,3,2.1,", ",130,3,2.1,", 1);
    refused(&with_weather("year.csv", Some(&over)), "CM008");
    refused(&with_weather("year.csv", None), "CI001");
    refused(&with_weather("../year.csv", None), "SU043");
}

/// A length or a number of a survey from nearly nothing to far too much.
fn extreme(low: i32, high: i32) -> impl Strategy<Value = f64> {
    (1.0..10.0_f64, low..=high).prop_map(|(digits, power)| {
        let value = digits * 10_f64.powi(power);
        (value * 1e9).round() / 1e9
    })
}

/// Sixteen zones of 1e-6 to 1e3 m and µ 1 to 1e6, in one run for each form.
#[test]
fn extremes_give_words_and_never_what_is_no_number() {
    let layer = (extreme(-6, 2), extreme(0, 5), 0..3_usize);
    let zones = prop::collection::vec(prop::collection::vec(layer, 1..5), 16);
    let mut runner = TestRunner::new(Config { cases: 1, ..Config::default() });
    let checked = runner.run(&zones, |zones| {
        let mut text = String::from(
            "survey: 1\njob: {code: X-1, name: X, issue-date: 2027-01-01, climate: cold-sea-coast}\nzones:\n",
        );
        for (number, layers) in zones.iter().enumerate() {
            let _ = write!(text, "  - code: Z{number}\n    name: Z\n    coats: []\n    wall:\n");
            for (thickness, mu, material) in layers {
                let material = ["common-brick", "granite", "rubble-sandstone"][*material];
                let _ =
                    writeln!(text, "      - {{material: {material}, thickness: {thickness} m, mu: {mu}}}");
            }
        }
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("survey.yaml");
        std::fs::write(&path, text).unwrap();
        for form in ["text", "json"] {
            let said = said(&perpend(&["wall", &path.to_string_lossy(), "--format", form]));
            for word in ["NaN", "nan ", "inf ", "Infinity", "null,\n            \"high"] {
                prop_assert!(!said.contains(word), "`{}` in {}", word, form);
            }
            if form == "json" {
                let value: serde_json::Value = serde_json::from_str(&said).unwrap();
                prop_assert!(value["zones"].as_array().unwrap().len() == 16);
            }
        }
        Ok(())
    });
    checked.unwrap();
}

#[test]
fn one_picture_holds_the_figures_of_the_zones_asked_for() {
    let picture = said(&perpend(&["wall", &demo("watch-house"), "Q2", "Q3", "--format", "svg"]));
    assert!(picture.starts_with("<svg ") && picture.ends_with("</svg>\n"));
    assert_eq!(picture.matches("<svg").count(), 1);
    // What is said for those who cannot see it names the zones too.
    let (_, drawn) = picture.split_once("</desc>").unwrap();
    for zone in ["Zone Q2: ", "Zone Q3: "] {
        assert_eq!(drawn.matches(zone).count(), 3, "ladder, condensation and drying of {zone}");
    }
    assert!(!picture.contains("Zone Q1a: "));
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("survey.yaml");
    let text = String::from_utf8(std::fs::read(root().join(demo("tithe-wall"))).unwrap()).unwrap();
    let (before, after) = text.split_once("    wall:\n").unwrap();
    let rest = after.lines().skip_while(|line| line.starts_with("      "));
    std::fs::write(&path, format!("{before}{}\n", rest.collect::<Vec<_>>().join("\n"))).unwrap();
    let output = perpend(&["wall", &path.to_string_lossy(), "T1", "--format", "svg"]);
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("CI019"));
}
