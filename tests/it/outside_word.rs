//! The demos' files for word processors, opened by one from outside: LibreOffice reads the same words and numbers, and
//! sets as many pages as the PDF has, give or take one.

use std::path::{Path, PathBuf};
use std::process::Command;

use rayon::prelude::*;

use crate::word::DEMOS;
use crate::word::checks::as_opened;

/// Runs LibreOffice with a profile of its own and the faces of the repository, and gives back what it wrote.
fn converted(file: &Path, kind: &str, home: &Path) -> PathBuf {
    let fonts = home.join("fonts.conf");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/fonts");
    let config = format!(
        "<fontconfig><include>/etc/fonts/fonts.conf</include><dir>{}</dir><cachedir>{}</cachedir></fontconfig>",
        folder.display(),
        home.join("cache").display()
    );
    std::fs::write(&fonts, config).unwrap();
    let output = Command::new("soffice")
        .env("FONTCONFIG_FILE", &fonts)
        .arg(format!("-env:UserInstallation=file://{}", home.join("profile").display()))
        .args(["--headless", "--convert-to", kind, "--outdir"])
        .arg(home)
        .arg(file)
        .output()
        .unwrap_or_else(|error| panic!("`soffice` must be installed for these checks: {error}"));
    let written = home.join(file.with_extension(kind.split(':').next().unwrap()).file_name().unwrap());
    assert!(written.exists(), "{}: {}", file.display(), String::from_utf8_lossy(&output.stderr));
    written
}

fn signs(words: &str) -> String {
    words.chars().filter(|sign| !sign.is_whitespace() && *sign != '\u{feff}').collect()
}

#[test]
fn libreoffice_reads_the_same_words_and_sets_as_many_pages() {
    let jobs = ["watch-house", "tithe-wall", "ferrier-lane-hall"];
    let demos = DEMOS.iter().filter(|(name, ..)| jobs.iter().any(|job| name.starts_with(job)));
    let demos: Vec<_> = demos.collect();
    assert!(demos.len() >= 18);
    demos.par_iter().for_each(|(name, paper, parts)| {
        let home = tempfile::tempdir().unwrap();
        let pages = perpend::render::Pages::of(paper);
        let file = home.path().join("paper.docx");
        std::fs::write(&file, pages.docx(None).unwrap().bytes).unwrap();
        let text = std::fs::read_to_string(converted(&file, "txt:Text", home.path())).unwrap();
        let (ours, theirs) = (signs(&as_opened(parts)), signs(&text));
        let same = ours.chars().zip(theirs.chars()).take_while(|(a, b)| a == b).count();
        let part = |text: &str| text.chars().skip(same.saturating_sub(30)).take(90).collect::<String>();
        assert_eq!(part(&ours), part(&theirs), "{name}");
        let pdf = converted(&file, "pdf", home.path());
        let about = Command::new("pdfinfo").arg(&pdf).output().unwrap();
        let about = String::from_utf8_lossy(&about.stdout).into_owned();
        let count = about.lines().find_map(|line| line.strip_prefix("Pages:")).unwrap();
        let count: usize = count.trim().parse().unwrap();
        let wanted = pages.laid().unwrap().pages();
        assert!(count.abs_diff(wanted) <= 1, "{name}: {count} pages, the PDF has {wanted}");
    });
}
