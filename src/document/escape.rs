//! Values that were typed by people go into Markdown as the words they are, never as Markdown.

use std::io::{self, Write};

/// The signs that may mean something in Markdown.
const SIGNS: &str = "\\`*_{}[]<>#+-.!|&~=^$)";

/// Writes a value so that Markdown shows it as written. Line breaks become spaces, or a value could start a block.
pub(super) fn escape(value: &str, out: &mut dyn Write) -> io::Result<()> {
    let mut room = [0; 4];
    for sign in value.chars() {
        let sign = if sign.is_control() { ' ' } else { sign };
        if SIGNS.contains(sign) {
            out.write_all(b"\\")?;
        }
        out.write_all(sign.encode_utf8(&mut room).as_bytes())?;
    }
    Ok(())
}
