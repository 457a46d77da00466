//! Reads a document from JSON. Words may hold `**strong**`, `*emphasis*`, `` `code` ``, `[words](#block)` and `|`
//! for a forced break, `☐` and `☑` for boxes to tick, `⎵` for 30 mm to write on and `⎴` for as much room without a line.

use perpend::document::block::{
    Align, Blank, Block, BlockKind, Breaks, Document, Furniture, Inline, Paper, ProofLine, Reach, Ruled,
    Standing, Strong, Style, Table, TextSize, Tick, Voice,
};
use perpend::drawing::Mm;
use serde_json::Value;

/// The document of a JSON text.
pub(crate) fn document(json: &str) -> Document {
    let value: Value = serde_json::from_str(json).unwrap();
    let words = |name: &str| value[name].as_str().unwrap_or_default().to_owned();
    let field = |pair: &Value| (text(&pair[0]), pair[1].as_str().map(str::to_owned));
    Document {
        name: "sample".to_owned(),
        title: words("title"),
        subtitle: words("subtitle"),
        standing: Standing::Contract,
        language: "en-US".to_owned(),
        date: value["date"].as_str().unwrap_or("2027-03-01").to_owned(),
        style: Style {
            paper: if value["paper"] == "a4" { Paper::A4 } else { Paper::Letter },
            voice: match value["voice"].as_str() {
                Some("plain") => Voice::Plain,
                Some("sheet") => Voice::Sheet,
                Some("site") => Voice::Site,
                _ => Voice::Contract,
            },
        },
        furniture: Furniture {
            head_left: words("head_left"),
            head_right: words("head_right"),
            status_strip: value["status"].as_str().map(str::to_owned),
            contents: value["contents"].as_str().map(str::to_owned),
            foot_left: words("foot_left"),
            title_block: list(&value["fields"]).iter().map(field).collect(),
        },
        blocks: (1..).zip(list(&value["blocks"])).map(|(number, value)| block(number, value)).collect(),
        revised: list(&value["revised"]).iter().map(text).collect(),
    }
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

fn number(value: &Value) -> u8 {
    u8::try_from(value.as_u64().unwrap()).unwrap()
}

fn block(place: usize, value: &Value) -> Block {
    let id = value["id"].as_str().map_or_else(|| format!("b{place}"), str::to_owned);
    let words = inline(&text(&value["text"]));
    let has = |name: &str| value.get(name).is_some();
    let kind = if has("heading") {
        let label = value["number"].as_str().map(str::to_owned);
        BlockKind::Heading { level: number(&value["heading"]), number: label, text: words }
    } else if has("item") {
        BlockKind::Item { depth: number(&value["item"]), label: text(&value["label"]), text: words }
    } else if has("proof") {
        let line = |pair: &Value| ProofLine { key: text(&pair[0]), text: inline(&text(&pair[1])) };
        BlockKind::Proof(list(&value["proof"]).iter().map(line).collect())
    } else if has("bullet") {
        BlockKind::Bullet { depth: number(&value["bullet"]), text: words }
    } else if has("caution") {
        let paragraphs = list(&value["paragraphs"]).iter().map(|value| inline(&text(value))).collect();
        BlockKind::Caution { word: text(&value["caution"]), text: paragraphs }
    } else if has("page") {
        BlockKind::NewPage
    } else if has("end") {
        BlockKind::End(text(&value["end"]))
    } else if has("head") {
        BlockKind::Table(table(value))
    } else {
        BlockKind::Paragraph(words)
    };
    Block { id, kind }
}

fn table(value: &Value) -> Table {
    let row = |row: &Value| list(row).iter().map(|cell| inline(&text(cell))).collect();
    let align = |sign| if sign == 'r' { Align::Right } else { Align::Left };
    Table {
        caption: inline(&text(&value["caption"])),
        align: text(&value["align"]).chars().map(align).collect(),
        head: row(&value["head"]),
        rows: list(&value["rows"]).iter().map(row).collect(),
        row: Mm::of(value["row"].as_f64().unwrap_or(0.0)),
        size: if value["small"] == true { TextSize::Small } else { TextSize::Usual },
        strong: Strong::Level,
        reach: Reach::Column,
        breaks: Breaks::Rows,
    }
}

/// Runs of words.
pub(crate) fn inline(words: &str) -> Vec<Inline> {
    let mut runs = Vec::new();
    let mut rest = words;
    while let Some(at) = rest.find(['*', '`', '[', '|', '☐', '☑', '⎵', '⎴']) {
        let (before, after) = rest.split_at(at);
        if !before.is_empty() {
            runs.push(Inline::Text(before.to_owned()));
        }
        let (run, behind) = dressed(after);
        runs.push(run);
        rest = behind;
    }
    if !rest.is_empty() {
        runs.push(Inline::Text(rest.to_owned()));
    }
    runs
}

fn dressed(words: &str) -> (Inline, &str) {
    let within = |open: &str, close: &str| words.strip_prefix(open).and_then(|rest| rest.split_once(close));
    if let Some((inner, rest)) = within("**", "**") {
        return (Inline::Strong(inline(inner)), rest);
    }
    if let Some((inner, rest)) = within("*", "*") {
        return (Inline::Emphasis(inline(inner)), rest);
    }
    if let Some((inner, rest)) = within("`", "`") {
        return (Inline::Code(inner.to_owned()), rest);
    }
    if let Some((inner, rest)) = within("[", "](#") {
        let (target, rest) = rest.split_once(')').unwrap();
        return (Inline::Link { target: target.to_owned(), text: inline(inner) }, rest);
    }
    let mut signs = words.chars();
    let sign = signs.next().unwrap();
    let blank = |line| Inline::Blank(Blank { width: Mm::of(30.0), line });
    let run = match sign {
        '|' => Inline::Break,
        '☐' => Inline::Tick(Tick::Open),
        '☑' => Inline::Tick(Tick::Set),
        '⎵' => blank(Ruled::Yes),
        '⎴' => blank(Ruled::No),
        _ => Inline::Text(sign.to_string()),
    };
    (run, signs.as_str())
}
