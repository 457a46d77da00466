//! Every code that the program can draw has a page that explains it, and every page a code.

use std::collections::BTreeSet;
use std::path::Path;

fn gather(folder: &Path, codes: &mut BTreeSet<String>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            gather(&path, codes);
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        for rest in text.split("code(").skip(1) {
            let code: String = rest.chars().take(5).collect();
            let (layer, number) = code.split_at(2);
            if layer.chars().all(|c| c.is_ascii_uppercase()) && number.chars().all(|c| c.is_ascii_digit()) {
                assert!(codes.insert(code.clone()), "{code} is used twice");
            }
        }
    }
}

#[test]
fn codes_and_pages_match_one_to_one() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut codes = BTreeSet::new();
    gather(&root.join("src"), &mut codes);
    let pages: BTreeSet<String> = std::fs::read_dir(root.join("docs/codes"))
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    assert!(codes.len() > 50);
    assert_eq!(codes, pages);
}
