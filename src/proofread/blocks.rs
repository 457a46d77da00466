//! Papers from blocks.

use super::paper::{Builder, Paper};
use crate::document::block::{Block, BlockKind, Document, Inline, plain};

/// Takes a paper apart.
pub fn of_document(document: &Document) -> Paper {
    let furniture = &document.furniture;
    let mut builder = Builder::new(&document.name, &document.title);
    let field =
        |(label, value): &(String, Option<String>)| (label.clone(), value.clone().unwrap_or_default());
    builder.surround(
        furniture.status_strip.as_deref().unwrap_or_default(),
        furniture.title_block.iter().map(field).collect(),
        &furniture.foot_left,
    );
    for block in &document.blocks {
        put(block, &mut builder);
    }
    builder.finish()
}

fn put(block: &Block, builder: &mut Builder) {
    let stem = block.id.rsplit_once('.').map_or(block.id.as_str(), |(stem, _)| stem);
    builder.stand_at(None, Some(stem.to_owned()));
    match &block.kind {
        BlockKind::Heading { level, number, text } => {
            builder.heading(*level, number.as_deref().unwrap_or_default(), text);
        }
        BlockKind::Item { depth, label, text } => builder.item(*depth, label, text),
        BlockKind::Bullet { text, .. } => builder.bullet(text),
        BlockKind::Proof(lines) => {
            for line in lines {
                let key = Inline::Emphasis(vec![Inline::Text(format!("{}:", line.key))]);
                let words = [key, Inline::Text(" ".to_owned())].into_iter().chain(line.text.iter().cloned());
                builder.bullet(&words.collect::<Vec<_>>());
            }
        }
        BlockKind::Paragraph(text) => builder.paragraph(text),
        BlockKind::Caution { word, text } => builder.caution(word, text),
        BlockKind::Table(table) => {
            let rows: Vec<(Option<usize>, Vec<Vec<Inline>>)> =
                table.rows.iter().map(|row| (None, row.clone())).collect();
            builder.table(&plain(&table.caption), &table.head, &rows);
        }
        BlockKind::Figure(drawing) => builder.figure(&drawing.caption, &drawing.alt, &drawing.note),
        BlockKind::NewPage => {}
        BlockKind::End(words) => builder.end(words),
    }
}
