//! What is new since the issue before bears a bar and the letter of the revision, and nothing else does.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::process::Command;
use std::sync::LazyLock;

use perpend::document::{Document, Issue, Wanted, markdown};
use perpend::drawing::Tone;
use perpend::render::{Pages, Placed, What, layout};
use regex::Regex;
use serde::Deserialize as _;
use serde_json::json;

use crate::document::sets::{since, survey_of};
use crate::register::{Office, REVISED, STILL, set};
use crate::word::{checks, parts};
use crate::{file, layout as pages};

/// What stands on its own in the Markdown of a section: numbered paragraphs by their subjects, with all below them, and
/// paragraphs of boxes. Numbers of paragraphs and of what they refer to are left out, and whether the tag stands there.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord, Clone)]
struct Said {
    words: String,
    tagged: bool,
}

fn said(section: &str, tag: &str) -> Vec<Said> {
    let tag = format!(" \\[{tag}\\]");
    let references = [
        r"article [0-9]+\.[0-9]+, paragraph [A-Z]+",
        r"\| [0-9]+\.[0-9]+ [A-Z]+ ",
        r"article [0-9]+\.[0-9]+",
    ];
    let references = references.map(|written| Regex::new(written).unwrap());
    let label = Regex::new(r"^- \*\*[A-Z]+\.\*\* ").unwrap();
    let mut found: Vec<String> = Vec::new();
    let mut is_open = false;
    for line in section.replace('\u{a0}', " ").lines() {
        let is_item = label.is_match(line);
        let is_boxed = line.starts_with("> ");
        // The foot of the paper names the book by its digest; it is no part of the last paragraph.
        let is_foot = line.contains(", templates ");
        if is_item || is_boxed {
            found.push(label.replace(line, "").into_owned());
        } else if is_open
            && !(is_foot || line.starts_with('#') || line.starts_with("![") || line.starts_with("**"))
        {
            found.last_mut().unwrap().push_str(line);
        }
        is_open = is_item || is_open && !line.starts_with('#') && !is_boxed;
    }
    let one = |words: String| {
        let tagged = words.contains(&tag);
        let bare = words.replacen(&tag, "", 1);
        Said {
            words: references.iter().fold(bare, |all, one| one.replace_all(&all, "#").into_owned()),
            tagged,
        }
    };
    found.into_iter().map(one).collect()
}

fn section(folder: &Path) -> String {
    std::fs::read_to_string(folder.join("section.md")).unwrap()
}

const KEY: &str = "on a page with a bar at the outer edge";

/// Asserts that exactly what differs between two sections is tagged, and gives back how much is and is not.
fn only_what_changed(then: &str, now: &str, tag: &str) -> (usize, usize) {
    let before: BTreeSet<String> = said(then, tag).into_iter().map(|one| one.words).collect();
    let all = said(now, tag);
    for one in &all {
        assert_eq!(one.tagged, !before.contains(&one.words), "{}", one.words);
    }
    let tagged = all.iter().filter(|one| one.tagged).count();
    assert_eq!(now.contains(KEY), tagged > 0);
    let in_key = usize::from(tagged > 0);
    assert_eq!(now.matches(&format!("\\[{tag}\\]")).count(), tagged + in_key, "each tag stands once");
    (tagged, all.len() - tagged)
}

#[test]
fn what_a_fact_changed_is_tagged_in_the_section_and_nothing_else_is() {
    let office = Office::new();
    let md = ["--format", "md"];
    let first = section(&office.write(&[], &md));
    assert!(!first.contains(KEY) && !first.contains("\\[A\\]"), "a first issue has no marks");
    let folder = office.write(&[REVISED, STILL], &md);
    let second = section(&folder);
    let (tagged, not) = only_what_changed(&first, &second, "B");
    assert!(tagged > 20 && not > 150, "{tagged} and {not}");
    assert!(second.contains("- **D.** **Zones.** \\[B\\] The elevation"), "a table of it changed");
    assert!(
        second.contains(
            "> In zone Q2, before stop 1 is released: work of the stages fill and prime, first coat"
        )
    );
    for (name, bytes) in set(&folder) {
        let is_marked = String::from_utf8_lossy(&bytes).contains("\\[B\\]");
        assert_eq!(is_marked, name == "section.md", "{name}");
    }
    let register = std::fs::read_to_string(folder.join("register.md")).unwrap();
    assert!(register.contains("In Coating and repair of masonry a sign behind its subject and a bar"));
    let read = Command::new(env!("CARGO_BIN_EXE_perpend")).arg("proofread").arg(&folder).output().unwrap();
    let read = String::from_utf8(read.stdout).unwrap();
    assert!(read.ends_with("papers read, nothing found\n"), "the sign is no word of the paper: {read}");
    let third = office.write(&[("revision: A", "revision: C"), STILL], &md);
    assert!(
        !section(&third).contains(KEY) && !section(&third).contains("\\[C\\]"),
        "nothing changed since B"
    );
    let register = std::fs::read_to_string(third.join("register.md")).unwrap();
    assert!(!register.contains("a bar at the outer edge"));
}

#[test]
fn what_the_rulebook_changed_is_tagged_too() {
    let office = Office::new();
    let md = ["--format", "md"];
    let first = section(&office.write(&[], &md));
    let second = office.write(&[REVISED], &["--format", "md", "--rulebook", "rules/house-example"]);
    let (tagged, not) = only_what_changed(&first, &section(&second), "B");
    assert!(tagged > 0 && not > 150, "{tagged} and {not}");
}

#[test]
fn an_issue_written_again_is_held_against_the_one_before_it_and_not_against_itself() {
    let office = Office::new();
    let md = ["--format", "md"];
    let first = section(&office.write(&[], &md));
    let again = section(&office.write(&[STILL], &md));
    assert!(!again.contains(KEY), "the same revision and date is no new issue");
    office.write(&[], &md);
    let unchanged = section(&office.write(&[REVISED], &md));
    assert!(!unchanged.contains(KEY) && !unchanged.contains("\\[B\\]"));
    let changed = set(&office.write(&[REVISED, STILL], &md));
    let text = String::from_utf8(changed["section.md"].clone()).unwrap();
    assert!(only_what_changed(&first, &text, "B").0 > 20);
    assert_eq!(set(&office.write(&[REVISED, STILL], &md)), changed, "the same bytes again");
}

#[test]
fn an_issue_without_a_letter_of_its_own_is_tagged_by_its_date_and_an_old_record_marks_nothing() {
    let office = Office::new();
    let md = ["--format", "md"];
    let first = section(&office.write(&[], &md));
    let later = ("issue-date: 2027-03-01", "issue-date: 2027-06-14");
    let second = section(&office.write(&[later, STILL], &md));
    assert!(only_what_changed(&first, &second, "2027-06-14").0 > 20, "the letter is the same");
    assert!(second.contains("worded otherwise than in revision A of 2027-03-01"));
    let office = Office::new();
    let bare = ("  revision: A\n", "");
    office.write(&[bare], &md);
    let second = section(&office.write(&[bare, later, STILL], &md));
    assert!(second.contains("worded otherwise than in the issue of 2027-03-01"), "no letter at all");
    assert!(second.contains("\\[2027-06-14\\]"));
    let office = Office::new();
    let folder = office.write(&[], &md);
    let record = std::fs::read_to_string(folder.join("record.json")).unwrap();
    let mut record: serde_json::Value = serde_json::from_str(&record).unwrap();
    assert!(record.as_object_mut().unwrap().remove("printed").is_some());
    std::fs::write(folder.join("record.json"), record.to_string()).unwrap();
    let second = section(&office.write(&[REVISED, STILL], &md));
    assert!(!second.contains(KEY) && !second.contains("\\[B\\]"), "nobody knows what was printed then");
}

/// The section of the watch house at its second issue.
pub(crate) static SECOND: LazyLock<Document> = LazyLock::new(|| {
    let wanted = Wanted::named(&["section".to_owned()]).unwrap();
    let survey = survey_of("watch-house");
    let first = since(survey.clone(), &wanted, None);
    assert!(first.documents.iter().all(|paper| paper.revised.is_empty()));
    let record = json!({"survey": {"issue-date": "2027-03-01", "revision": "A"}, "printed": first.printed});
    let before = Issue::deserialize(&record).unwrap();
    let survey = survey.replace(REVISED.0, REVISED.1).replace(STILL.0, STILL.1);
    let mut second = since(survey, &wanted, Some(&before));
    second.documents.remove(0)
});

/// Left and right edge of the room for bars: the margin, less what a printer may not reach.
const ROOM: (f64, f64) = (612.0 - 54.0, 612.0 - 27.0);

#[test]
fn bars_are_artifacts_in_the_outer_margin_beside_what_changed_and_nothing_else() {
    let paper = &*SECOND;
    let marks = layout(paper).unwrap().placed();
    let is_bar = |mark: &&Placed| mark.what == What::Fill && mark.tone == Tone::Accent && mark.left > ROOM.0;
    let bars: Vec<&Placed> = marks.iter().filter(is_bar).collect();
    let on_pages: BTreeSet<usize> = bars.iter().map(|bar| bar.page).collect();
    assert!(bars.len() > 15 && on_pages.len() > 10, "{} on {}", bars.len(), on_pages.len());
    for bar in &bars {
        assert!(bar.block.is_none(), "a bar is an artifact");
        assert!(bar.left >= ROOM.0 + 4.0 && bar.left + bar.width <= ROOM.1, "{bar:?}");
        assert!(
            (bar.width - 1.6).abs() < 0.001 && bar.y > 59.0 && bar.y + bar.height < 792.0 - 63.0,
            "{bar:?}"
        );
    }
    let mut beside: BTreeMap<&str, BTreeSet<bool>> = BTreeMap::new();
    for mark in &marks {
        let (Some(block), What::Words { .. }) = (&mark.block, &mark.what) else { continue };
        // the middle of small letters: the last line of a rail may hang a point under the line beside it
        let middle = mark.y + 1.5;
        let holds = |bar: &&&Placed| bar.page == mark.page && (bar.y..bar.y + bar.height).contains(&middle);
        beside.entry(block).or_default().insert(bars.iter().any(|bar| holds(&bar)));
    }
    for (block, beside) in beside {
        assert_eq!(beside, BTreeSet::from([paper.revised.contains(block)]), "{block}");
    }
    assert_eq!(pages::faults(paper), Vec::<String>::new());
    assert_eq!(file::faults(&perpend::render::pdf(paper).unwrap()), Vec::<String>::new());
}

#[test]
fn the_file_for_word_processors_has_bars_by_style_beside_the_same_paragraphs() {
    let paper = &*SECOND;
    let file = Pages::of(paper).docx(None, None).unwrap().bytes;
    let parts = parts(&file);
    assert_eq!(checks::faults(&parts, paper), Vec::<String>::new());
    let styled = checks::styled(&parts);
    let is_barred = |style: &str| style.ends_with("Revised");
    let barred: Vec<&String> =
        styled.iter().filter(|(style, _)| is_barred(style)).map(|(_, words)| words).collect();
    let openings = barred.iter().filter(|words| words.contains(" [B]")).count();
    let text = markdown(paper).replace('\u{a0}', " ");
    let items = said(&text, "B").iter().filter(|one| one.tagged && one.words.starts_with("**")).count();
    assert!(openings > 15 && barred.len() > openings, "{openings} of {}", barred.len());
    assert_eq!(openings, items, "each numbered paragraph with the sign has the bar");
    let plain = styled.iter().filter(|(style, _)| style.starts_with("ClauseLevel") && !is_barred(style));
    let plain: Vec<&String> = plain.map(|(_, words)| words).collect();
    assert!(plain.len() > 150 && plain.iter().all(|words| !words.contains("[B]")));
    let styles = String::from_utf8(parts["word/styles.xml"].clone()).unwrap();
    assert!(styles.contains(
        "<w:basedOn w:val=\"ClauseLevel1\"/><w:qFormat/><w:pPr><w:pBdr><w:right w:val=\"single\" w:sz=\"13\""
    ));
}
