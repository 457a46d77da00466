//! The dew-point grid (C1): the lowest wall temperature to start a coat, for air of a temperature and a humidity.

use super::{FROM_MARGIN, alt, count};
use crate::drawing::mark::{Anchor, Dash, Drawing, Pen, Thickness};
use crate::drawing::measure::width_of;
use crate::drawing::number::{fixed, with_unit};
use crate::drawing::scale::{multiples, round_step};
use crate::drawing::sheet::{ON_SITE, Place, Said, Sheet, Type, corners};
use crate::drawing::tone::Tone;
use crate::physics::{Saturation, dew_point};
use crate::units::System;

/// What the grid is made for.
#[derive(Debug, Clone, PartialEq)]
pub struct DewPointGrid {
    /// Name of the figure.
    pub id: String,
    /// The zones it holds for, such as `zones Q1 and Q2`; `None` for the whole work.
    pub zones: Option<String>,
    /// How far the wall must be warmer than the dew point, in K, 0 to 20.
    pub margin: f64,
    /// The same as documents print it.
    pub margin_words: String,
    /// The coldest wall and air that the coat allows, in °C; of several coats the coldest. `None` if nothing says.
    pub coldest: Option<f64>,
    /// The warmest, in °C; of several coats the warmest.
    pub warmest: Option<f64>,
    /// Whether all coats allow the same temperatures.
    pub coats: Coats,
    /// The dampest air that is allowed, in per cent; `None` if nothing says.
    pub dampest: Option<f64>,
    /// Which unit the grid is in.
    pub system: System,
}

/// How coats compare in the temperatures that they allow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Coats {
    /// All alike.
    Alike,
    /// Each has its own, printed elsewhere.
    Differ,
}

/// Air temperatures shown where nothing bounds them, in °C.
const COLDEST: f64 = 0.0;
const WARMEST: f64 = 40.0;
/// Humidity where nothing bounds it, and how far down from the dampest the columns go, in per cent.
const DAMPEST: f64 = 95.0;
const HUMIDITIES: f64 = 55.0;
/// Between two columns, in per cent.
const HUMIDITY_STEP: f64 = 5.0;
/// The most rows, less one.
const ROWS: f64 = 11.0;

/// Its width before it is made larger; width of the column of air temperatures, height of head and rows, room of a line
/// of the key; mm.
const WIDTH: f64 = FROM_MARGIN / ON_SITE;
const SIDE: f64 = 25.0;
const HEAD: f64 = 9.8;
const ROW: f64 = 4.4;
const KEY: f64 = 4.2;
/// Room of a line of the key before its words; mm.
const SWATCH: f64 = 3.0;

/// The line past which the wall must be warmer than the air, and the one up to which the coat's own figure stands.
const WARMER: Pen = Pen::solid(Thickness::Heavy, Tone::Ink);
const OWN: Pen = Pen::solid(Thickness::Plain, Tone::Ink).dashed(Dash::Dots);

/// What a cell says.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Cell {
    /// The wall may be colder than the air, but not than this.
    Colder(f64),
    /// The coat's own least temperature, which is more than the dew point asks.
    Coat(f64),
    /// The wall must be warmer than the air: this warm.
    Warmer(f64),
    /// The wall would have to be warmer than the coat allows.
    None,
}

/// The grid worked out. Temperatures are in the unit of the system.
struct Worked {
    air: Vec<f64>,
    humidity: Vec<f64>,
    cells: Vec<Vec<Cell>>,
}

/// The grid; `None` if the margin or the bounds make no sense.
pub fn dew_point_grid(grid: &DewPointGrid) -> Option<Drawing> {
    let worked = worked(grid)?;
    let mut sheet = Sheet::default();
    let right = WIDTH;
    let wide = (right - SIDE) / count(worked.humidity.len());
    let column = |place: usize| SIDE + count(place) * wide;
    let row = |place: usize| HEAD + count(place) * ROW;
    head(&mut sheet, &worked, grid.system, &column, wide);
    for (place, air) in worked.air.iter().enumerate() {
        let middle = row(place) + ROW / 2.0;
        sheet.label((0.0, middle), &degrees(*air, grid.system), Type::STRONG, Anchor::Start);
        let other = format!("({})", other_degrees(*air, grid.system));
        sheet.label((SIDE - 2.0, middle), &other, Type::QUIET, Anchor::End);
    }
    tint(&mut sheet, &worked, &column, &row);
    for place in 0..=worked.air.len() {
        let pen = if place == 0 || place == worked.air.len() {
            Pen::solid(Thickness::Fine, Tone::Ink)
        } else {
            Pen::solid(Thickness::Fine, Tone::Hairline)
        };
        sheet.line(&[(0.0, row(place)), (right, row(place))], pen);
    }
    for (place, cells) in worked.cells.iter().enumerate() {
        for (across, cell) in cells.iter().enumerate() {
            let (words, kind) = cell_words(*cell);
            sheet.label((column(across) + wide / 2.0, row(place) + ROW / 2.0), &words, kind, Anchor::Middle);
        }
    }
    let is_coat = |cell: &Cell| matches!(cell, Cell::Coat(_));
    sheet.lines(&stair(&worked, is_coat, &column, &row), OWN);
    sheet.lines(&stair(&worked, is_colder, &column, &row), WARMER);
    let height = key(&mut sheet, grid, &worked, row(worked.air.len()) + KEY);
    Some(sheet.finished_for_site(right, height, said(grid, &worked)?))
}

fn worked(grid: &DewPointGrid) -> Option<Worked> {
    let system = grid.system;
    let (coldest, warmest) = (grid.coldest.unwrap_or(COLDEST), grid.warmest.unwrap_or(WARMEST));
    let dampest = grid.dampest.unwrap_or(DAMPEST);
    let sound = (0.0..=20.0).contains(&grid.margin)
        && (-10.0..=60.0).contains(&coldest)
        && (-10.0..=60.0).contains(&warmest)
        && (HUMIDITY_STEP..=100.0).contains(&dampest);
    let (low, high) = (in_unit(coldest, system), in_unit(warmest, system));
    if !sound || high - low < 1.0 {
        return None;
    }
    let mut air = multiples(round_step(high - low, ROWS).max(1.0), low, high);
    with_end(&mut air, libm::floor(high + 1e-9));
    let mut humidity = multiples(HUMIDITY_STEP, (dampest - HUMIDITIES).max(HUMIDITY_STEP), dampest);
    with_end(&mut humidity, dampest);
    let row =
        |air: &f64| humidity.iter().map(|humidity| cell(grid, *air, *humidity)).collect::<Option<Vec<_>>>();
    let cells = air.iter().map(row).collect::<Option<Vec<_>>>()?;
    Some(Worked { air, humidity, cells })
}

/// Adds the end of a range, where its last step falls short of it.
fn with_end(figures: &mut Vec<f64>, end: f64) {
    if figures.last().is_none_or(|last| end - last > 1e-9) {
        figures.push(end);
    }
}

/// The lowest wall temperature to start at, in the unit of the system: that of the dew point rounded up to a whole
/// degree, that of the coat as documents print it.
fn cell(grid: &DewPointGrid, air: f64, humidity: f64) -> Option<Cell> {
    let point = dew_point(in_celsius(air, grid.system), humidity, Saturation::Iso13788)?;
    let wanted = libm::ceil(in_unit(point.celsius() + grid.margin, grid.system) - 1e-9);
    let own = grid.coldest.map(|coldest| in_unit(coldest, grid.system).round());
    let most = grid.warmest.map(|warmest| in_unit(warmest, grid.system));
    Some(match own {
        _ if most.is_some_and(|most| wanted > most + 1e-9) => Cell::None,
        Some(own) if own >= wanted => Cell::Coat(own),
        _ if wanted > air => Cell::Warmer(wanted),
        _ => Cell::Colder(wanted),
    })
}

fn in_unit(celsius: f64, system: System) -> f64 {
    match system {
        System::SiFirst => celsius,
        System::UsFirst => celsius * 1.8 + 32.0,
    }
}

fn in_celsius(figure: f64, system: System) -> f64 {
    match system {
        System::SiFirst => figure,
        System::UsFirst => (figure - 32.0) / 1.8,
    }
}

fn unit(system: System) -> &'static str {
    match system {
        System::SiFirst => "°C",
        System::UsFirst => "°F",
    }
}

fn degrees(figure: f64, system: System) -> String {
    with_unit(&fixed(figure, 0), unit(system))
}

/// A figure of one system in the unit of the other.
fn other_degrees(figure: f64, system: System) -> String {
    let celsius = in_celsius(figure, system);
    match system {
        System::SiFirst => degrees(in_unit(celsius, System::UsFirst), System::UsFirst),
        System::UsFirst => degrees(celsius, System::SiFirst),
    }
}

fn percent(figure: f64) -> String {
    let words = fixed(figure, 1);
    words.strip_suffix(".0").map(str::to_owned).unwrap_or(words)
}

fn head(sheet: &mut Sheet, worked: &Worked, system: System, column: &impl Fn(usize) -> f64, wide: f64) {
    let words = format!("In the cells: the least wall temperature to start at, {}", unit(system));
    sheet.label((0.0, 2.0), &words, Type::STRONG, Anchor::Start);
    sheet.label((WIDTH, 2.0), "Humidity of the air, %", Type::QUIET, Anchor::End);
    sheet.label((0.0, HEAD - 3.2), "Air", Type::QUIET, Anchor::Start);
    for (place, humidity) in worked.humidity.iter().enumerate() {
        let middle = column(place) + wide / 2.0;
        sheet.label((middle, HEAD - 3.2), &percent(*humidity), Type::STRONG, Anchor::Middle);
    }
}

fn cell_words(cell: Cell) -> (String, Type) {
    match cell {
        Cell::Colder(figure) => (fixed(figure, 0), Type::SMALL),
        Cell::Coat(figure) => (fixed(figure, 0), Type::QUIET),
        Cell::Warmer(figure) => (fixed(figure, 0), Type::STRONG),
        Cell::None => ("–".to_owned(), Type::STRONG),
    }
}

/// Whether the wall may be colder than the air.
fn is_colder(cell: &Cell) -> bool {
    matches!(cell, Cell::Colder(_) | Cell::Coat(_))
}

/// How many cells at the start of each row are of a kind.
fn turns(worked: &Worked, is_kind: impl Fn(&Cell) -> bool) -> Vec<usize> {
    worked.cells.iter().map(|cells| cells.iter().take_while(|cell| is_kind(cell)).count()).collect()
}

fn tint(sheet: &mut Sheet, worked: &Worked, column: &impl Fn(usize) -> f64, row: &impl Fn(usize) -> f64) {
    let last = worked.humidity.len();
    for (place, turn) in turns(worked, is_colder).into_iter().enumerate().filter(|(_, turn)| *turn < last) {
        sheet.area(&corners((column(turn), row(place)), (column(last), row(place + 1))), Tone::Tint);
    }
}

/// The line behind the cells of a kind.
fn stair(
    worked: &Worked,
    is_kind: impl Fn(&Cell) -> bool,
    column: &impl Fn(usize) -> f64,
    row: &impl Fn(usize) -> f64,
) -> Vec<Vec<Place>> {
    let last = worked.humidity.len();
    let mut lines: Vec<Vec<Place>> = vec![Vec::new()];
    for (place, turn) in turns(worked, is_kind).into_iter().enumerate() {
        if turn == 0 || turn >= last {
            lines.push(Vec::new());
        } else if let Some(line) = lines.last_mut() {
            line.push((column(turn), row(place)));
            line.push((column(turn), row(place + 1)));
        }
    }
    lines
}

/// What the lines and the dash mean; gives the height of the whole.
fn key(sheet: &mut Sheet, grid: &DewPointGrid, worked: &Worked, top: f64) -> f64 {
    let any = |is_kind: fn(&Cell) -> bool| worked.cells.iter().flatten().any(is_kind);
    let own =
        grid.coldest.map(|coldest| degrees(in_unit(coldest, grid.system), grid.system)).unwrap_or_default();
    let (mut x, mut middle) = (0.0, top);
    let mut line = |sheet: &mut Sheet, pen: Option<Pen>, words: &str| {
        let wide = SWATCH + width_of(words, Type::QUIET.size, Type::QUIET.bold);
        if x > 0.0 && x + wide > WIDTH {
            (x, middle) = (0.0, middle + KEY);
        }
        match pen {
            Some(pen) => sheet.line(&[(x + 1.0, middle - 1.8), (x + 1.0, middle + 1.8)], pen),
            None => sheet.label((x + 1.0, middle), "–", Type::STRONG, Anchor::Middle),
        }
        sheet.label((x + SWATCH, middle), words, Type::QUIET, Anchor::Start);
        x += wide + KEY;
    };
    if any(|cell| matches!(cell, Cell::Warmer(_) | Cell::None)) {
        line(sheet, Some(WARMER), "right of it: a wall warmer than the air");
    }
    if any(|cell| matches!(cell, Cell::Coat(_))) {
        let whose = match grid.coats {
            Coats::Alike => format!("left of it: the coat's own least, {own}"),
            Coats::Differ => format!("left of it: the least that any coat here allows, {own}"),
        };
        line(sheet, Some(OWN), &whose);
    }
    if any(|cell| *cell == Cell::None) {
        line(sheet, None, "no start: too warm for the coat");
    }
    middle + KEY / 2.0
}

/// The cell that the caption reads out: in the middle of the rows, near 70 %.
fn example(worked: &Worked) -> Option<(f64, f64, Cell)> {
    let place = worked.air.len() / 2;
    let across =
        worked.humidity.iter().position(|humidity| *humidity >= 70.0).unwrap_or(worked.humidity.len() / 2);
    let cell = worked.cells.get(place)?.get(across)?;
    Some((*worked.air.get(place)?, *worked.humidity.get(across)?, *cell))
}

fn said(grid: &DewPointGrid, worked: &Worked) -> Option<Said> {
    let (air, humidity, cell) = example(worked)?;
    let in_air = format!("air of {} and {}", degrees(air, grid.system), with_unit(&percent(humidity), "%"));
    let read_out = match cell {
        Cell::Colder(figure) | Cell::Warmer(figure) | Cell::Coat(figure) => {
            format!("in {in_air} start no coat on a wall under {}", degrees(figure, grid.system))
        }
        Cell::None => format!("in {in_air} start no coat at all"),
    };
    let of_zones = grid.zones.as_ref().map(|zones| format!(", {zones}")).unwrap_or_default();
    let by_coat = match grid.coats {
        Coats::Alike => "",
        Coats::Differ => " Each coat's own temperatures hold too.",
    };
    let no_damper = grid
        .dampest
        .map(|most| format!(" Start no coat in air damper than {}.", with_unit(&percent(most), "%")));
    let note = format!(
        "Dew point (ISO 13788) plus {}, rounded up. Between two rows or columns take the warmer and the damper.{}{by_coat} \
         Every other limit stands beside this one.",
        grid.margin_words,
        no_damper.unwrap_or_default()
    );
    let (first, last) = (worked.air.first()?, worked.air.last()?);
    let (driest, dampest) = (worked.humidity.first()?, worked.humidity.last()?);
    let covers = format!(
        "Grid of the least wall temperature to start a coat, for air from {} to {} and humidity from {} to {}{of_zones}.",
        fixed(*first, 0),
        degrees(*last, grid.system),
        percent(*driest),
        with_unit(&percent(*dampest), "%")
    );
    Some(Said {
        id: grid.id.clone(),
        title: format!("Least wall temperature to start a coat{of_zones}"),
        caption: format!("The damper the air, the warmer the wall must be: {read_out}{of_zones}."),
        note,
        alt: alt(&[covers, format!("For example, {read_out}.")]),
    })
}
