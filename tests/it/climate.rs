//! Climate files: both layouts read, every mistake told with its place, every assumption stated. The cases on the pages
//! of `docs/codes/CM*.md` are lines that stand in for those of a sound year.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use perpend::diagnostic::{Diagnostic, Source};
use perpend::physics::climate::{Convention, Joined, RainRecord, Year, read};
use proptest::prelude::*;

const HEADING: &str = "time (hour ending),temperature (°C),humidity (%)";

const DAYS: [u8; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// The times of a common year.
fn times() -> Vec<String> {
    let mut times = Vec::new();
    for (month, days) in (1..).zip(DAYS) {
        for day in 1..=days {
            times.extend((1..=24).map(|hour| format!("2021-{month:02}-{day:02} {hour:02}:00")));
        }
    }
    times
}

/// A sound year in the plain layout: 3.1 °C and 86 % throughout.
fn lines() -> Vec<String> {
    let hours = times().into_iter().map(|time| format!("{time},3.1,86"));
    std::iter::once(HEADING.to_owned()).chain(hours).collect()
}

fn read_lines(lines: &[String]) -> (Option<Year>, Vec<Diagnostic>) {
    read(&Source::new("year.csv", lines.join("\n")))
}

/// What is said of the lines, errors and remarks alike.
fn said(lines: &[String]) -> Vec<(String, String)> {
    let (year, found) = read_lines(lines);
    assert_eq!(
        year.is_none(),
        found.iter().any(Diagnostic::is_error),
        "a year without an error, and only then"
    );
    found.into_iter().map(|one| (one.code, one.message)).collect()
}

fn code_and_words(code: &str, words: &str) -> Vec<(String, String)> {
    vec![(code.to_owned(), words.to_owned())]
}

/// The sound year, the lines at the times of a case put in the place of its own.
fn with_case(case: &str) -> Vec<String> {
    let case: Vec<&str> = case.lines().collect();
    let heading = case.first().is_some_and(|line| !line.starts_with("2021"));
    let (heading, case) = if heading { (case[0], &case[1..]) } else { (HEADING, &case[..]) };
    let day_and_hour = |line: &str| line.get(..13).map(str::to_owned);
    let wanted: BTreeSet<_> = case.iter().filter_map(|line| day_and_hour(line)).collect();
    let columns = heading.matches(',').count();
    let filled = |line: &String| if columns == 2 { line.clone() } else { format!("{line},1") };
    let mut lines = vec![heading.to_owned()];
    for line in times().iter().map(|time| filled(&format!("{time},3.1,86"))) {
        let same_hour = case.iter().filter(|other| day_and_hour(other) == day_and_hour(&line));
        match day_and_hour(&line) {
            Some(hour) if wanted.contains(&hour) => lines.extend(same_hour.map(|line| (*line).to_owned())),
            _ => lines.push(line),
        }
    }
    lines
}

#[expect(clippy::disallowed_methods, reason = "the pages are files")]
fn text_of(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The codes whose cases do not fit on a page; tests below draw them.
const WITHOUT_CASE: [&str; 10] =
    ["CM009", "CM011", "CM012", "CM013", "CM014", "CM015", "CM017", "CM018", "CM019", "CM020"];

#[test]
fn every_code_of_a_climate_file_has_a_page_that_is_true() {
    let mistakes = text_of(&root().join("src/physics/climate/mistake.rs"));
    let codes = mistakes.split("code(").skip(1).filter_map(|rest| rest.split(')').next());
    let codes: BTreeSet<String> = codes.map(str::to_owned).collect();
    let pages = std::fs::read_dir(root().join("docs/codes")).unwrap();
    let pages = pages.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let pages: BTreeSet<String> = pages.filter(|name| name.starts_with("CM")).collect();
    assert_eq!(pages, codes.iter().map(|code| format!("{code}.md")).collect());
    for code in &codes {
        let page = text_of(&root().join(format!("docs/codes/{code}.md")));
        assert!(page.starts_with(&format!("# {code}: ")) && page.contains("To mend it, "), "{code}");
        let blocks: Vec<&str> = page.split("```").skip(1).step_by(2).collect();
        match blocks.iter().map(|block| block.split_once('\n').unwrap().1.trim_end()).collect::<Vec<_>>()[..]
        {
            [] => assert!(WITHOUT_CASE.contains(&code.as_str()), "{code} has no case"),
            [case, words, mended] => {
                assert_eq!(said(&with_case(case)), code_and_words(code, words), "{code}");
                assert_eq!(said(&with_case(mended)), [], "{code}: mended");
            }
            ref other => panic!("{code}: {} blocks", other.len()),
        }
    }
}

#[test]
fn the_file_of_the_guide_is_of_the_plain_layout() {
    let guide = text_of(&root().join("docs/climate-files.md"));
    let example = guide.split("```csv\n").nth(1).and_then(|rest| rest.split("```").next()).unwrap();
    let codes: Vec<String> = said(&[example.to_owned()]).into_iter().map(|(code, _)| code).collect();
    // Two hours are no year, and that is all that is wrong with them.
    assert_eq!(codes, ["CM011"]);
}

#[test]
fn a_sound_year_is_read_without_a_word() {
    let (year, found) = read_lines(&lines());
    let year = year.unwrap();
    assert_eq!(found, []);
    assert_eq!((year.hours.len(), year.joined, year.rain_record()), (8760, Joined::No, RainRecord::Absent));
    let months = year.months().unwrap();
    assert!(months.iter().all(|month| (month.celsius - 3.1).abs() < 1e-9 && month.rain.is_none()));
    assert_eq!(
        months.iter().map(|month| month.hours).collect::<Vec<_>>(),
        DAYS.map(|days| usize::from(days) * 24)
    );
}

#[test]
fn units_other_than_ours_are_turned_into_ours() {
    let heading = "time (hour ending),temperature (°F),humidity (%),wind (mph),rain (in.)";
    let hours = times().into_iter().map(|time| format!("{time},50,86,15,0.1"));
    let lines: Vec<_> = std::iter::once(heading.to_owned()).chain(hours).collect();
    let hour = read_lines(&lines).0.unwrap().hours[0];
    let near = |value: Option<f64>, wanted: f64| (value.unwrap() - wanted).abs() < 1e-9;
    assert!(near(hour.celsius, 10.0) && near(hour.wind, 6.7056) && near(hour.rain, 2.54), "{hour:?}");
}

#[test]
fn an_hour_named_by_its_start_ends_an_hour_later() {
    let heading = HEADING.replace("ending", "beginning");
    let ends = times();
    let starts = ends.iter().map(|time| {
        let (day, hour) = time.split_once(' ').unwrap();
        format!("{day} {:02}:00,3.1,86", hour.split(':').next().unwrap().parse::<u8>().unwrap() - 1)
    });
    let lines: Vec<_> = std::iter::once(heading).chain(starts).collect();
    let (year, found) = read_lines(&lines);
    assert_eq!(found, []);
    let read: Vec<_> = year.unwrap().hours.iter().map(|hour| hour.stamp.to_string()).collect();
    assert_eq!(read, ends);
}

#[test]
fn midnight_may_be_the_end_of_a_day_or_the_start_of_the_next() {
    let mut lines = lines();
    for line in lines.iter_mut().filter(|line| line.contains("-02-28 24:00") || line.contains("-12-31 24:00"))
    {
        *line = line
            .replace("2021-02-28 24:00", "2021-03-01 00:00")
            .replace("2021-12-31 24:00", "2022-01-01 00:00");
    }
    let (year, found) = read_lines(&lines);
    assert_eq!(found, []);
    assert_eq!(year.unwrap().days().left_out, 0);
}

#[test]
fn a_year_may_start_with_any_month_and_have_a_leap_day() {
    let mut all = lines();
    let (_, tail) = all.split_off(1).into_iter().partition::<Vec<_>, _>(|line| line.as_str() < "2021-07");
    let head = lines().into_iter().skip(1).filter(|line| line.as_str() < "2021-07");
    let mut turned: Vec<String> = vec![HEADING.to_owned()];
    turned.extend(tail);
    turned.extend(head.map(|line| line.replace("2021-", "2022-")));
    assert_eq!(said(&turned), []);
    let leap = (1..=24).map(|hour| format!("2022-02-29 {hour:02}:00,3.1,86")).collect::<Vec<_>>();
    let march = turned.iter().position(|line| line.starts_with("2022-03-01")).unwrap();
    turned.splice(march..march, leap);
    let (year, found) = read_lines(&turned);
    assert_eq!(found, []);
    assert_eq!(year.unwrap().hours.len(), 8784);
}

#[test]
fn a_gap_is_told_with_its_length_and_its_place() {
    let mut lines = lines();
    let from = lines.iter().position(|line| line.starts_with("2021-02-11 06:00")).unwrap();
    lines.drain(from..from + 3);
    let words = "3 hours are missing between 2021-02-11 05:00 and 2021-02-11 09:00";
    assert_eq!(said(&lines), code_and_words("CM009", words));
    let place = read_lines(&lines).1[0].place.clone().unwrap();
    assert_eq!(place.text(), "2021-02-11 09:00,3.1,86");
}

#[test]
fn eleven_months_are_no_year() {
    for (month, name) in [("04", "April"), ("12", "December"), ("01", "January")] {
        let mut lines = lines();
        lines.retain(|line| !line.starts_with(&format!("2021-{month}")));
        let words = format!("the year is not whole: {name} without a single hour");
        assert_eq!(said(&lines), code_and_words("CM011", &words));
    }
}

#[test]
fn a_year_that_ends_early_or_goes_on_is_told_as_such() {
    let mut short = lines();
    short.truncate(short.len() - 24);
    let words = "the year is not whole: December has 720 of 744 hours";
    assert_eq!(said(&short), code_and_words("CM012", words));
    let mut long = lines();
    long.push("2022-01-01 01:00,3.1,86".to_owned());
    let words = "2022-01-01 01:00 stands twice: the file holds more than one year";
    assert_eq!(said(&long), code_and_words("CM013", words));
}

#[test]
fn a_month_with_too_many_blanks_is_no_month() {
    let blank = |most: usize| {
        let mut lines = lines();
        for line in lines.iter_mut().filter(|line| line.starts_with("2021-02")).take(most) {
            *line = line.replace(",3.1,", ",,");
        }
        said(&lines)
    };
    let words = "temperature is missing in 68 of 672 hours of February";
    assert_eq!(blank(68), code_and_words("CM014", words));
    let words = "assumed: temperature is missing in 67 hours; means and counts are of the others";
    assert_eq!(blank(67), code_and_words("CM016", words));
}

#[test]
fn many_mistakes_are_shown_in_part_and_counted() {
    let mut lines = lines();
    for line in lines.iter_mut().skip(1).take(25) {
        *line = line.replace(",86", ",186");
    }
    let said = said(&lines);
    assert_eq!(said.len(), 21);
    assert_eq!(said.last(), code_and_words("CM015", "5 more lines cannot be read").last());
    assert!(said[..20].iter().all(|(code, _)| code == "CM008"));
}

#[test]
fn a_code_for_missing_rain_never_passes_for_a_dry_hour() {
    let heading = format!("{HEADING},rain (mm)");
    let with_rain = |rain: &str| {
        let hours = times().into_iter().map(|time| format!("{time},3.1,86,{rain}"));
        std::iter::once(heading.clone()).chain(hours).collect::<Vec<_>>()
    };
    assert!(said(&with_rain("-9900")).iter().take(20).all(|(code, _)| code == "CM008"));
    let words = "rain is missing in 8760 of 8760 hours: no question on rain can be answered";
    assert_eq!(said(&with_rain("")), code_and_words("CM017", words));
    assert_eq!(said(&with_rain("0")), []);
}

/// A year in the layout of a TMY3 file: two columns nobody reads, months of three years, frost points and rain.
fn typical(dew_point: &str, rain: &str) -> String {
    let mut text = String::from("000001,\"MAST, OUTER\",XX,-5.0,36.100,-79.950,273\n");
    text += "Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),Dry-bulb (C),Dew-point (C),RHum (%),Wspd (m/s),";
    text += "Lprecip depth (mm)\n";
    for time in times() {
        let (day, hour) = time.split_once(' ').unwrap();
        let [_, month, day] = day.split('-').collect::<Vec<_>>()[..] else { panic!("{time}") };
        let year = 1980 + month.parse::<u16>().unwrap() % 3;
        writeln!(text, "{month}/{day}/{year},{hour},0,-4.0,{dew_point},90,5.2,{rain}").unwrap();
    }
    text
}

#[test]
fn a_typical_year_is_read_with_its_assumptions_stated() {
    // Frost point and dew point of air of -4 °C and 90 %: -5.2 and -5.4 °C (ISO 13788, Magnus over water).
    for (dew_point, convention) in [("-5.2", Convention::FrostPoints), ("-5.4", Convention::DewPoints)] {
        let (year, found) = read(&Source::new("typical.csv", typical(dew_point, "254")));
        let year = year.unwrap_or_else(|| panic!("{found:?}"));
        assert_eq!((year.name.as_str(), year.joined), ("MAST, OUTER, XX", Joined::Yes));
        assert_eq!(year.hours[23].stamp.to_string(), "1981-01-01 24:00");
        assert!((year.hours[0].rain.unwrap() - 25.4).abs() < 1e-9, "tenths of a millimetre");
        assert_eq!(year.convention().unwrap().0, convention);
        let codes: Vec<_> = found.iter().map(|one| one.code.as_str()).collect();
        assert_eq!(codes, ["CM018", "CM019", "CM020"]);
    }
}

#[test]
fn what_is_missing_in_a_typical_year_stays_missing() {
    let (year, found) = read(&Source::new("typical.csv", typical("-9900", "-9900")));
    let year = year.unwrap_or_else(|| panic!("{found:?}"));
    assert!(year.hours.iter().all(|hour| hour.rain.is_none() && hour.dew_point.is_none()));
    assert_eq!(year.rain_record(), RainRecord::Absent);
    assert_eq!(year.convention(), None);
    let codes: Vec<_> = found.iter().map(|one| one.code.as_str()).collect();
    assert_eq!(codes, ["CM016", "CM017", "CM018", "CM019"]);
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_panic(text in "(time \\(hour ending\\),temperature \\(°C\\),humidity \\(%\\)\n)?([0-9:,. /\"#\n-]|[a-zé]){0,200}") {
        let (year, found) = read(&Source::new("any.csv", text));
        prop_assert!(year.is_some() || found.iter().any(Diagnostic::is_error));
    }
}
