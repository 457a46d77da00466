//! The rule language: reading, tidying, checking.

mod bad;
mod large;
mod layering;
mod properties;
mod reference;
mod tidy;
mod trade;

use std::path::Path;
use std::sync::Arc;

use perpend::diagnostic::Source;

use crate::folders::sources;

/// The text of a file.
fn text(path: &Path) -> String {
    String::from_utf8(std::fs::read(path).unwrap()).unwrap()
}

/// Every file under a folder, named from that folder on.
fn folder(root: &Path) -> Vec<Arc<Source>> {
    sources(root, "")
}

/// Snapshots stand beside the case they belong to.
fn beside_the_case(folder: &str, check: impl FnOnce()) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path(format!("{}/tests/cases/{folder}", env!("CARGO_MANIFEST_DIR")));
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.remove_input_file();
    settings.bind(check);
}
