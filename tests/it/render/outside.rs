//! What programs from outside say about the files. Each test fails when its program is missing.

use std::path::PathBuf;
use std::process::Command;

use perpend::document::block::{BlockKind, Document, Inline, plain};
use perpend::render::pdf;
use tempfile::TempDir;

use super::{read, sample};
use crate::document::sets::of;

const SAMPLES: [&str; 6] = ["awkward", "empty", "long-table", "plain", "section", "tables"];

fn file(name: &str) -> (TempDir, PathBuf) {
    written(&pdf(&sample(name)).unwrap())
}

fn written(bytes: &[u8]) -> (TempDir, PathBuf) {
    let folder = TempDir::new().unwrap();
    let path = folder.path().join("sample.pdf");
    std::fs::write(&path, bytes).unwrap();
    (folder, path)
}

/// Runs a program; its output and its messages.
fn run(program: &str, arguments: &[&str]) -> (String, String) {
    let output = Command::new(program).args(arguments).output();
    let output = output.unwrap_or_else(|error| panic!("{program} must be installed for this test: {error}"));
    let text = |bytes| String::from_utf8(bytes).unwrap();
    assert!(output.status.success(), "{program}: {}", text(output.stderr));
    (text(output.stdout), text(output.stderr))
}

#[test]
fn qpdf_finds_nothing_wrong() {
    for name in SAMPLES {
        let (_folder, path) = file(name);
        let (said, warned) = run("qpdf", &["--check", path.to_str().unwrap()]);
        assert!(said.contains("No syntax or stream encoding errors found"), "{name}: {said}");
        assert_eq!(warned, "", "{name}");
    }
}

/// The papers of the first demo, in both readers; and neither takes a file that was cut off.
#[test]
fn both_readers_open_the_papers_and_warn_of_a_file_cut_off() {
    for document in of("watch-house") {
        let bytes = pdf(document).unwrap();
        let (_folder, path) = written(&bytes);
        let (_, warned) = run("qpdf", &["--check", path.to_str().unwrap()]);
        assert_eq!(warned, "", "{}", document.name);
        assert_eq!(drawn(&path), Vec::<String>::new(), "{}", document.name);
        let (_folder, path) = written(&bytes[..bytes.len() / 2]);
        let check = Command::new("qpdf").args(["--check"]).arg(&path).output().unwrap();
        assert!(!check.status.success(), "{}", document.name);
        assert!(!drawn(&path).is_empty(), "{}", document.name);
    }
}

/// What the second reader says of a file when it draws the first page.
fn drawn(path: &std::path::Path) -> Vec<String> {
    let picture = path.with_extension("png");
    let output =
        Command::new("mutool").args(["draw", "-q", "-o"]).arg(picture).arg(path).arg("1").output().unwrap();
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    // Some builds of the program say this about themselves whatever the file.
    said.lines().filter(|line| !line.contains("ICC support is not available")).map(str::to_owned).collect()
}

#[test]
fn every_font_is_embedded_cut_down_and_readable() {
    for name in SAMPLES {
        let (_folder, path) = file(name);
        let (table, _) = run("pdffonts", &[path.to_str().unwrap()]);
        let fonts: Vec<&str> = table.lines().skip(2).collect();
        assert!(!fonts.is_empty(), "{name}");
        for font in fonts {
            let flags: Vec<&str> =
                font.split_whitespace().filter(|word| matches!(*word, "yes" | "no")).collect();
            assert_eq!(flags, ["yes", "yes", "yes"], "{name}: {font}");
            assert_eq!(font.find('+'), Some(6), "{name}: {font}");
        }
    }
}

#[test]
fn the_signs_come_back_as_they_were() {
    let signs = "≤ ≥ ° µ √ ½ – “ ” ² ³ × · μ Ω Ω → fi ffl é e\u{301}";
    let json = format!(r#"{{"blocks": [{{"text": "Signs {signs} end."}}]}}"#);
    let (_folder, path) = written(&pdf(&read::document(&json)).unwrap());
    let (text, _) = run("pdftotext", &["-enc", "UTF-8", path.to_str().unwrap(), "-"]);
    assert!(text.contains(&format!("Signs {signs} end.")), "{text}");
}

#[test]
fn words_come_back_in_order_and_apart() {
    for name in ["section", "plain", "long-table"] {
        let document = sample(name);
        let (_folder, path) = file(name);
        let (text, _) = run("pdftotext", &["-raw", "-enc", "UTF-8", path.to_str().unwrap(), "-"]);
        let found: Vec<&str> = text.split_whitespace().collect();
        let laid = perpend::render::layout(&document).unwrap().words();
        let wanted: Vec<&str> = laid.split_whitespace().collect();
        let missing = wanted.iter().filter(|word| !found.contains(word)).collect::<Vec<_>>();
        assert!(missing.is_empty(), "{name}: {missing:?}");
        let share = common(&wanted, &found) * 1000 / wanted.len();
        assert!(share >= 995, "{name}: only {share} of 1000 words in order");
    }
}

/// What is read aloud: the tree of each paper of the three demos gives its words in the order of the blocks.
#[test]
fn words_are_read_aloud_in_order() {
    for job in ["watch-house", "tithe-wall", "ferrier-lane-hall"] {
        for document in of(job) {
            let share = share_in_order(document, &pdf(document).unwrap());
            assert!(share >= 995, "{job} {}: only {share} of 1000 words in order", document.name);
        }
    }
}

/// The reading order can fail: with the elements of the tree turned round, the words come in another order.
#[test]
fn words_read_aloud_in_another_order_are_found() {
    let document = of("watch-house").iter().find(|paper| paper.name == "section").unwrap();
    let mut file = lopdf::Document::load_mem(&pdf(document).unwrap()).unwrap();
    let is_kind = |says: &lopdf::Dictionary, kind: &[u8]| {
        says.get(b"S").and_then(|own| own.as_name()).is_ok_and(|own| own == kind)
    };
    for element in file.objects.values_mut().filter_map(|object| object.as_dict_mut().ok()) {
        if (is_kind(element, b"Document") || is_kind(element, b"Sect"))
            && let Ok(lopdf::Object::Array(kids)) = element.get_mut(b"K")
        {
            kids.reverse();
        }
    }
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).unwrap();
    assert!(share_in_order(document, &bytes) < 995);
}

/// How many words of a thousand are read aloud in the order of the blocks.
fn share_in_order(document: &Document, file: &[u8]) -> usize {
    let (_folder, path) = written(file);
    let (tree, _) = run("pdfinfo", &["-struct-text", "-enc", "UTF-8", path.to_str().unwrap()]);
    let said: String = tree.lines().map(said_by).collect();
    // A word is parted where a line ends, and a name behind a hyphen of its own.
    let said = said.replace('\u{ad}', "").replace("- ", "-");
    let found: Vec<&str> = said.split_whitespace().collect();
    // Boxes to tick and lines to write on are drawn.
    let told = words_of(document).replace(['☐', '☑', '_'], " ").replace("- ", "-");
    let wanted: Vec<&str> = told.split_whitespace().collect();
    common(&wanted, &found) * 1000 / wanted.len()
}

/// What a line of the tree says: words in quotes; another element but a link parts words.
fn said_by(line: &str) -> &str {
    let line = line.trim();
    match line.strip_prefix('"').and_then(|words| words.strip_suffix('"')) {
        Some(words) => words,
        None if line.contains("(inline)") || line.starts_with("Object ") => "",
        None => " ",
    }
}

/// The words of a paper in the order of its blocks.
fn words_of(document: &Document) -> String {
    let cells = |row: &Vec<Vec<Inline>>| row.iter().map(|cell| plain(cell)).collect::<Vec<_>>().join(" ");
    let fields = document.furniture.title_block.iter();
    let fields = fields.map(|(label, value)| format!("{label} {}", value.as_deref().unwrap_or_default()));
    let blocks = document.blocks.iter().map(|block| match &block.kind {
        BlockKind::Heading { number, text, .. } => {
            format!("{} {}", number.as_deref().unwrap_or_default(), plain(text))
        }
        BlockKind::Item { label, text, .. } => format!("{label} {}", plain(text)),
        BlockKind::Bullet { depth, text } => {
            format!("{} {}", if *depth == 1 { "•" } else { "–" }, plain(text))
        }
        BlockKind::Paragraph(text) => plain(text),
        BlockKind::Proof(lines) => {
            let lines: Vec<String> =
                lines.iter().map(|line| format!("{} {}", line.key, plain(&line.text))).collect();
            lines.join(" ")
        }
        BlockKind::Caution { word, text } => {
            format!("{word} {}", text.iter().map(|text| plain(text)).collect::<Vec<_>>().join(" "))
        }
        BlockKind::Table(table) => {
            let rows: Vec<String> = std::iter::once(&table.head).chain(&table.rows).map(cells).collect();
            format!("{} {}", plain(&table.caption), rows.join(" "))
        }
        BlockKind::Figure(drawing) => {
            let texts: Vec<&str> = drawing.texts().iter().map(|(text, _)| text.words.as_str()).collect();
            format!("{} {} {}", drawing.caption, texts.join(" "), drawing.note)
        }
        BlockKind::NewPage => String::new(),
        BlockKind::End(text) => text.clone(),
    });
    let front = [document.title.clone(), document.subtitle.clone()];
    front.into_iter().chain(fields).chain(blocks).collect::<Vec<_>>().join("\n")
}

/// Length of the longest common subsequence.
fn common(wanted: &[&str], found: &[&str]) -> usize {
    let mut best = vec![0; found.len() + 1];
    for want in wanted {
        let mut corner = 0;
        for (at, word) in found.iter().enumerate() {
            let above = best[at + 1];
            best[at + 1] = if want == word { corner + 1 } else { above.max(best[at]) };
            corner = above;
        }
    }
    best[found.len()]
}

#[test]
fn mupdf_draws_without_warnings() {
    for name in SAMPLES {
        let (folder, path) = file(name);
        let picture = folder.path().join("page-%d.png");
        let arguments = ["draw", "-q", "-o", picture.to_str().unwrap(), path.to_str().unwrap()];
        let (_, said) = run("mutool", &arguments);
        // Some builds of the program say this about themselves whatever the file.
        let about_file: Vec<&str> =
            said.lines().filter(|line| !line.contains("ICC support is not available")).collect();
        assert!(about_file.is_empty(), "{name}: {about_file:?}");
        assert!(folder.path().join("page-1.png").exists());
    }
}
