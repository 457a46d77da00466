//! What a stretch is made of, as rows to fill in: layers, old coats, cracks, openings, what lies beside it. What the survey
//! says stands in them; a few rows stay blank.

use serde::Serialize;

use crate::document::view::View;
use crate::rulebook::book::OptionId;
use crate::survey::{
    Adjoining, AdjoiningKind, Crack, FAILING, Failing, KNOWN, Layer, OldCoat, Opening, Pattern, Span,
    WATCHED, YesNoAnswer, Zone,
};
use crate::units::{System, print};

/// Rows of each list that a sheet shows at least.
const LAYERS: usize = 2;
const COATS: usize = 1;
const CRACKS: usize = 1;

/// A stretch as it is made.
#[derive(Debug, Serialize)]
pub(super) struct Made {
    wall: Vec<Part>,
    coats: Vec<Part>,
    /// Whether it is said that there is no old coat.
    uncoated: bool,
    cracks: Vec<Part>,
    /// Whether it is said that there is no crack.
    whole: bool,
    /// Width and height, where they are known.
    size: Vec<String>,
    openings: String,
    not_coated: String,
    adjoins: Vec<Beside>,
}

/// A row: a name, a figure, and words to tick.
#[derive(Debug, Default, Serialize)]
struct Part {
    name: String,
    figure: String,
    layers: String,
    ticks: Vec<(String, bool)>,
    stays: Vec<(String, bool)>,
}

/// A zone or a thing that may lie beside a stretch.
#[derive(Debug, Serialize)]
struct Beside {
    name: String,
    ticked: bool,
}

/// The words that may stand in these rows.
#[derive(Debug, Serialize)]
pub(super) struct Names {
    materials: Vec<Named>,
    old_coats: Vec<Named>,
    patterns: Vec<&'static str>,
}

/// A row of a table of the book.
#[derive(Debug, Serialize)]
struct Named {
    name: String,
    title: String,
}

impl Names {
    pub(super) fn of(view: View<'_>) -> Self {
        let rows = |table: &str| {
            let options = view.book.catalogue_named(table).map_or(&[][..], |table| &table.options);
            let named = options.iter().map(|row| Named { name: row.name.clone(), title: row.title.clone() });
            named.collect()
        };
        Self {
            materials: rows("materials"),
            old_coats: rows("old-coats"),
            patterns: Pattern::WORDS.iter().map(|(word, _)| *word).collect(),
        }
    }
}

impl Made {
    pub(super) fn of(view: View<'_>, at: usize) -> Option<Self> {
        let zone = view.survey.zones.get(at)?;
        let system = view.system();
        let (width, height) = match &zone.size {
            Some(size) => (print(&size.width, system), print(&size.height, system)),
            None => (String::new(), String::new()),
        };
        Some(Self {
            wall: filled(zone.wall.as_deref(), LAYERS, |layer| layer_row(view, layer), layer_blank),
            coats: filled(zone.coats.as_deref(), COATS, |coat| coat_row(view, coat), coat_blank),
            uncoated: zone.coats.as_ref().is_some_and(Vec::is_empty),
            cracks: filled(zone.cracks.as_deref(), CRACKS, |crack| crack_row(system, crack), crack_blank),
            whole: zone.cracks.as_ref().is_some_and(Vec::is_empty),
            size: [width, height].into_iter().filter(|side| !side.is_empty()).collect(),
            openings: openings(zone.openings.as_deref(), system),
            not_coated: zone.not_coated.as_ref().map(|area| print(area, system)).unwrap_or_default(),
            adjoins: adjoins(view, at, zone),
        })
    }
}

/// What is known, and blank rows up to so many.
fn filled<T>(
    known: Option<&[T]>,
    least: usize,
    row: impl Fn(&T) -> Part,
    blank: impl Fn() -> Part,
) -> Vec<Part> {
    let mut rows: Vec<Part> = known.unwrap_or_default().iter().map(row).collect();
    let more = match known {
        Some(_) => 1,
        None => least,
    };
    rows.extend((0..more).map(|_| blank()));
    rows
}

fn ticks<T: PartialEq>(words: &[(&str, T)], said: Option<&T>) -> Vec<(String, bool)> {
    words.iter().map(|(word, value)| ((*word).to_owned(), said == Some(value))).collect()
}

fn yes_no(said: YesNoAnswer) -> Vec<(String, bool)> {
    ticks(&[("yes", YesNoAnswer::Yes), ("no", YesNoAnswer::No)], Some(&said))
}

fn name_of(view: View<'_>, table: &str, row: OptionId) -> String {
    let row = view.book.catalogue_named(table).and_then(|table| table.options.get(row.0));
    row.map(|row| row.name.clone()).unwrap_or_default()
}

fn figure(span: Option<&Span>, system: System) -> String {
    span.map(|span| span.print(system)).unwrap_or_default()
}

fn layer_row(view: View<'_>, layer: &Layer) -> Part {
    Part {
        name: name_of(view, "materials", layer.material),
        figure: figure(layer.thickness.as_ref(), view.system()),
        ticks: ticks(&KNOWN, layer.known.as_ref()),
        ..Part::default()
    }
}

fn layer_blank() -> Part {
    Part { ticks: ticks(&KNOWN, None), ..Part::default() }
}

fn coat_row(view: View<'_>, coat: &OldCoat) -> Part {
    Part {
        name: name_of(view, "old-coats", coat.family),
        figure: figure(coat.thickness.as_ref(), view.system()),
        layers: coat.layers.map(|layers| layers.to_string()).unwrap_or_default(),
        ticks: ticks(&FAILING, coat.failing.as_ref()),
        stays: yes_no(coat.kept),
    }
}

fn coat_blank() -> Part {
    Part {
        ticks: ticks::<Failing>(&FAILING, None),
        stays: yes_no(YesNoAnswer::Unanswered),
        ..Part::default()
    }
}

fn crack_row(system: System, crack: &Crack) -> Part {
    let pattern = Pattern::WORDS.iter().find(|(_, pattern)| crack.pattern == Some(*pattern));
    Part {
        name: pattern.map(|(word, _)| (*word).to_owned()).unwrap_or_default(),
        figure: figure(crack.width.as_ref(), system),
        ticks: ticks(&WATCHED, Some(&crack.watched)),
        ..Part::default()
    }
}

fn crack_blank() -> Part {
    Part { ticks: ticks(&WATCHED, None), ..Part::default() }
}

fn openings(openings: Option<&[Opening]>, system: System) -> String {
    let one = |opening: &Opening| {
        let (width, height) = (print(&opening.width, system), print(&opening.height, system));
        format!("{} of {width} by {height}", opening.count)
    };
    match openings {
        None => String::new(),
        Some([]) => "none".to_owned(),
        Some(several) => several.iter().map(one).collect::<Vec<_>>().join("; "),
    }
}

/// The other zones, then every thing of the book's table.
fn adjoins(view: View<'_>, at: usize, zone: &Zone) -> Vec<Beside> {
    let said = |kind: AdjoiningKind| {
        let same = |beside: &Adjoining| beside.kind == kind;
        zone.adjoins.iter().flatten().any(same)
    };
    let zones = view.survey.zones.iter().enumerate().filter(|(other, _)| *other != at);
    let zones = zones
        .map(|(other, zone)| Beside { name: zone.code.clone(), ticked: said(AdjoiningKind::Zone(other)) });
    let things = view.book.catalogue_named("neighbours").map_or(&[][..], |table| &table.options);
    let things = things.iter().enumerate().map(|(row, thing)| Beside {
        name: thing.name.clone(),
        ticked: said(AdjoiningKind::Thing(OptionId(row))),
    });
    zones.chain(things).collect()
}
