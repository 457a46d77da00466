//! The demos' files for word processors, opened by one from outside: `LibreOffice` reads the same words and numbers, and
//! sets as many pages as the PDF has, give or take one.

use std::path::Path;
use std::process::Command;

use perpend::render::Pages;

use crate::revised::SECOND;
use crate::word::checks::as_opened;
use crate::word::{DEMOS, parts};

/// Has `LibreOffice` write every file of a folder in another form, with a profile of its own and the faces of the
/// repository.
fn convert(folder: &Path, kind: &str) {
    let faces = Path::new(env!("CARGO_MANIFEST_DIR")).join("templates/fonts");
    let config = format!(
        "<fontconfig><include>/etc/fonts/fonts.conf</include><dir>{}</dir><cachedir>{}</cachedir></fontconfig>",
        faces.display(),
        folder.join("cache").display()
    );
    std::fs::write(folder.join("fonts.conf"), config).unwrap();
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|file| file.unwrap().path()).collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "docx"));
    files.sort();
    let output = Command::new("soffice")
        .env("FONTCONFIG_FILE", folder.join("fonts.conf"))
        .arg(format!("-env:UserInstallation=file://{}", folder.join("profile").display()))
        .args(["--headless", "--convert-to", kind, "--outdir"])
        .arg(folder)
        .args(&files)
        .output()
        .unwrap_or_else(|error| panic!("`soffice` must be installed for these checks: {error}"));
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
}

fn signs(words: &str) -> String {
    words.chars().filter(|sign| !sign.is_whitespace() && *sign != '\u{feff}').collect()
}

fn pages_of(pdf: &Path) -> usize {
    let about = Command::new("pdfinfo").arg(pdf).output().unwrap();
    let about = String::from_utf8_lossy(&about.stdout).into_owned();
    let count = about.lines().find_map(|line| line.strip_prefix("Pages:"));
    count.unwrap_or_else(|| panic!("{} is no PDF", pdf.display())).trim().parse().unwrap()
}

#[test]
fn libreoffice_reads_the_same_words_and_sets_as_many_pages() {
    let jobs = ["watch-house", "tithe-wall", "ferrier-lane-hall"];
    // what is new there bears styles that take their numbers from others
    let second = Pages::of(&SECOND).docx(None, None).unwrap().bytes;
    let second = ("second issue, section".to_owned(), SECOND.clone(), parts(&second));
    let demos = DEMOS.iter().filter(|(name, ..)| jobs.iter().any(|job| name.starts_with(job)));
    let demos: Vec<_> = demos.chain(std::iter::once(&second)).collect();
    assert!(demos.len() >= 19);
    let home = tempfile::tempdir().unwrap();
    let file = |name: &str, ending: &str| home.path().join(format!("{}.{ending}", name.replace(", ", "-")));
    for (name, paper, _) in &demos {
        std::fs::write(file(name, "docx"), Pages::of(paper).docx(None, None).unwrap().bytes).unwrap();
    }
    convert(home.path(), "txt:Text");
    convert(home.path(), "pdf");
    let mut wrong = Vec::new();
    for (name, paper, parts) in demos {
        let text = std::fs::read_to_string(file(name, "txt")).unwrap();
        let (ours, theirs) = (signs(&as_opened(parts)), signs(&text));
        let same = ours.chars().zip(theirs.chars()).take_while(|(a, b)| a == b).count();
        let part = |text: &str| text.chars().skip(same.saturating_sub(30)).take(90).collect::<String>();
        if ours != theirs {
            wrong.push(format!("{name}: we wrote `{}`, it reads `{}`", part(&ours), part(&theirs)));
        }
        let (wanted, count) = (Pages::of(paper).laid().unwrap().pages(), pages_of(&file(name, "pdf")));
        if count.abs_diff(wanted) > 1 {
            wrong.push(format!("{name}: {count} pages, the PDF has {wanted}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
