//! Whole jobs: what is written now is what the repository keeps.
//!
//! To accept a change, run the commands of DEVELOPERS.md, "Accept what is written now".

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn perpend(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_perpend")).current_dir(root()).args(arguments).output().unwrap()
}

/// Writes a demo and gives back its files by name.
fn written(job: &str, more: &[&str]) -> BTreeMap<String, Vec<u8>> {
    written_from(&format!("examples/{job}/survey.yaml"), more)
}

fn written_from(survey: &str, more: &[&str]) -> BTreeMap<String, Vec<u8>> {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().to_string_lossy().into_owned();
    let mut arguments = vec!["write", survey, "--out", folder.as_str()];
    arguments.extend(more);
    let output = perpend(&arguments);
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let job_folder = std::fs::read_dir(out.path()).unwrap().next().unwrap().unwrap().path();
    files_of(&job_folder)
}

/// Files of a folder and the folders in it, by their names from there.
fn files_of(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    let mut files = BTreeMap::new();
    for path in entries.map(|entry| entry.unwrap().path()) {
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() {
            files
                .extend(files_of(&path).into_iter().map(|(inner, bytes)| (format!("{name}/{inner}"), bytes)));
        } else {
            files.insert(name, std::fs::read(&path).unwrap());
        }
    }
    files
}

/// The first line that differs, for a message that can be acted on.
fn first_difference(kept: &[u8], now: &[u8]) -> String {
    let (kept, now) = (String::from_utf8_lossy(kept), String::from_utf8_lossy(now));
    let mut lines = kept.lines().zip(now.lines()).enumerate();
    match lines.find(|(_, (kept, now))| kept != now) {
        Some((number, (kept, now))) => format!("line {}:\n  kept {kept}\n  now  {now}", number + 1),
        None => format!("{} lines kept, {} now", kept.lines().count(), now.lines().count()),
    }
}

fn compare(kept: &BTreeMap<String, Vec<u8>>, now: &BTreeMap<String, Vec<u8>>) {
    let names = |files: &BTreeMap<String, Vec<u8>>| files.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(kept), names(now));
    for (name, bytes) in kept {
        let same = &now[name] == bytes;
        assert!(same, "{name} is no longer what is kept: {}", first_difference(bytes, &now[name]));
    }
}

#[test]
fn the_watch_house_is_what_out_keeps() {
    compare(&files_of(&root().join("out/MW-07")), &written("watch-house", &[]));
}

#[test]
fn the_tithe_wall_is_what_is_kept() {
    compare(&files_of(&root().join("tests/jobs/tithe-wall")), &written("tithe-wall", &["--format", "md"]));
}

#[test]
fn the_ferrier_lane_hall_is_what_is_kept() {
    compare(
        &files_of(&root().join("tests/jobs/ferrier-lane-hall")),
        &written("ferrier-lane-hall", &["--format", "md"]),
    );
}

/// The papers of five more jobs, without figures and record.
#[test]
fn five_more_jobs_are_what_is_kept() {
    for job in ["limestone-villa", "block-hall-acrylic", "salty-barn", "textured-school", "parapet-repair"] {
        let mut now = written_from(&format!("tests/jobs/{job}/survey.yaml"), &["--format", "md"]);
        now.retain(|name, _| Path::new(name).extension().is_some_and(|kind| kind == "md"));
        compare(&files_of(&root().join(format!("tests/jobs/{job}/papers"))), &now);
    }
}

#[test]
fn a_second_run_writes_the_same_bytes() {
    for job in ["watch-house", "tithe-wall", "ferrier-lane-hall"] {
        compare(&written(job, &[]), &written(job, &[]));
    }
}

/// Every file that a set may leave behind, besides the set itself.
fn leftovers(out: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(out).unwrap().map(|entry| entry.unwrap().path());
    entries
        .filter(|path| path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.')))
        .collect()
}

#[test]
fn a_bad_survey_leaves_the_last_good_set_alone() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().to_string_lossy().into_owned();
    let good = perpend(&["write", "examples/watch-house/survey.yaml", "--out", &folder, "--format", "md"]);
    assert!(good.status.success());
    let before = files_of(&out.path().join("MW-07"));
    let survey = std::fs::read_to_string(root().join("examples/watch-house/survey.yaml")).unwrap();
    let bad_survey = out.path().join("bad.yaml");
    std::fs::write(&bad_survey, survey.replace("built: 1874", "built: yesterday")).unwrap();
    let bad = perpend(&["write", &bad_survey.to_string_lossy(), "--out", &folder, "--format", "md"]);
    assert_eq!(bad.status.code(), Some(2));
    assert_eq!(files_of(&out.path().join("MW-07")), before);
    assert_eq!(leftovers(out.path()), Vec::<PathBuf>::new());
}

#[test]
fn a_note_that_somebody_added_stays_and_a_foreign_folder_is_left_alone() {
    let out = tempfile::tempdir().unwrap();
    let folder = out.path().to_string_lossy().into_owned();
    let write =
        || perpend(&["write", "examples/watch-house/survey.yaml", "--out", &folder, "--format", "md"]);
    std::fs::create_dir(out.path().join("MW-07")).unwrap();
    std::fs::write(out.path().join("MW-07/mine.txt"), "mine").unwrap();
    let refused = write();
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&refused.stderr).contains("CI008"));
    std::fs::remove_file(out.path().join("MW-07/mine.txt")).unwrap();
    assert!(write().status.success());
    std::fs::write(out.path().join("MW-07/mine.txt"), "mine").unwrap();
    std::fs::write(out.path().join("MW-07/figures/mine.svg"), "mine too").unwrap();
    std::fs::write(out.path().join("MW-07/figures/dew-point-1.svg"), "changed by hand").unwrap();
    assert!(write().status.success());
    let now = files_of(&out.path().join("MW-07"));
    assert_eq!(now["figures/mine.svg"], b"mine too");
    assert!(now["figures/dew-point-1.svg"].starts_with(b"<svg"), "a figure of the last set gives way");
    assert_eq!(std::fs::read_to_string(out.path().join("MW-07/mine.txt")).unwrap(), "mine");
}
