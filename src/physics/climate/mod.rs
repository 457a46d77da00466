//! A year of weather, hour by hour: text in, the year and every mistake out. Two layouts are read, that of TMY3 files
//! and a plain one of our own (`docs/climate-files.md`). What a file leaves open is stated as an assumption, and never
//! filled in.

mod cell;
mod clock;
mod columns;
mod complete;
mod convention;
mod frost;
mod mistake;
mod months;
mod plain;
mod read;
mod remarks;
mod stamp;
mod tmy3;
mod window;
mod year;

pub use convention::{Convention, Fit, Selection};
pub use frost::{Cycle, DayCounts};
pub use mistake::ClimateMistake;
pub use months::{MONTHS, MonthMean};
pub use read::read;
pub use stamp::Stamp;
pub use window::Window;
pub use year::{Hour, Joined, RainRecord, Year};
