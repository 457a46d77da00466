//! The display list as SVG: one user unit is a point, all figures have two places, nothing is fetched and nothing runs.
//! Writing to a text in memory cannot fail, so what `write!` returns is let go.

use std::fmt::Write;

use super::mark::{Anchor, Bold, Drawing, Mark, Mm, Pen, Spot, Text};
use super::tone::Tone;

/// The drawing as an SVG file. The same drawing gives the same bytes.
pub fn svg(drawing: &Drawing) -> String {
    let (width, height) = (Figure(drawing.width), Figure(drawing.height));
    let id = escaped(&drawing.id);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}pt\" height=\"{height}pt\" \
         viewBox=\"0 0 {width} {height}\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\" \
         font-family=\"sans-serif\">\n"
    );
    let _ = writeln!(out, "<title id=\"{id}-title\">{}</title>", escaped(&drawing.title));
    let _ = writeln!(out, "<desc id=\"{id}-desc\">{}</desc>", escaped(&drawing.alt));
    let _ = writeln!(out, "<rect width=\"{width}\" height=\"{height}\" fill=\"{}\"/>", colour(Tone::Paper));
    for mark in &drawing.marks {
        match mark {
            Mark::Lines { lines, pen } => {
                let path = lines.iter().map(|line| path(line)).collect::<Vec<_>>().join(" ");
                let _ = writeln!(out, "<path d=\"{path}\" fill=\"none\" {}/>", stroke(*pen));
            }
            Mark::Area { corners, tone } => {
                let _ = writeln!(out, "<path d=\"{} Z\" fill=\"{}\"/>", path(corners), colour(*tone));
            }
            Mark::Text(text) => put_text(text, &mut out),
        }
    }
    out.push_str("</svg>\n");
    out
}

/// A length in points with two places.
struct Figure(Mm);

impl std::fmt::Display for Figure {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // Adding zero turns a negative nought into a plain one.
        write!(out, "{:.2}", (self.0.points() * 100.0).round() / 100.0 + 0.0)
    }
}

fn path(places: &[Spot]) -> String {
    let mut out = String::new();
    for (number, place) in places.iter().enumerate() {
        let step = if number == 0 { "M" } else { " L" };
        let _ = write!(out, "{step}{} {}", Figure(place.x), Figure(place.y));
    }
    out
}

fn stroke(pen: Pen) -> String {
    let mut out = format!("stroke=\"{}\" stroke-width=\"{}\"", colour(pen.tone), pen.thickness.points());
    let pattern: Vec<String> = pen.dash.pattern().iter().map(f64::to_string).collect();
    if !pattern.is_empty() {
        let _ = write!(out, " stroke-dasharray=\"{}\"", pattern.join(" "));
    }
    out
}

fn put_text(text: &Text, out: &mut String) {
    let anchor = match text.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let weight = if text.bold == Bold::Yes { " font-weight=\"bold\"" } else { "" };
    let (x, y) = (Figure(text.at.x), Figure(text.at.y));
    let (size, tone, words) = (text.size.points(), colour(text.tone), escaped(&text.words));
    let _ = writeln!(
        out,
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\"{weight}{anchor} fill=\"{tone}\">{words}</text>"
    );
}

fn colour(tone: Tone) -> String {
    let [red, green, blue] = tone.rgb();
    format!("#{red:02X}{green:02X}{blue:02X}")
}

/// Words fit for XML: its signs escaped, signs that XML bars left out.
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for sign in words.chars() {
        match sign {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            sign if sign.is_control() || matches!(sign, '\u{fffe}' | '\u{ffff}') => {}
            sign => out.push(sign),
        }
    }
    out
}
