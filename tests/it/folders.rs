//! Folders and texts as tests need them.

use std::path::Path;
use std::sync::Arc;

use perpend::diagnostic::Source;

/// The repository.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file of a folder and the folders in it, by name; named from `root` on.
pub(crate) fn sources(root: &Path, folder: &str) -> Vec<Arc<Source>> {
    let (mut files, mut open) = (Vec::new(), vec![root.join(folder)]);
    while let Some(folder) = open.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/");
                files.push(Source::new(name, std::fs::read_to_string(&path).unwrap()));
            }
        }
    }
    files.sort_by(|one, other| one.name.cmp(&other.name));
    files
}

/// Copies a folder and the folders in it.
pub(crate) fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let target = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy(&path, &target);
        } else {
            std::fs::copy(&path, &target).unwrap();
        }
    }
}

/// A text with words changed. Every change must find its words.
pub(crate) fn reworded(text: &str, changes: &[(&str, &str)]) -> String {
    changes.iter().fold(text.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the text no longer says `{from}`");
        text.replace(from, to)
    })
}
