//! What can be wrong with a climate file, and what has to be assumed of one that is right.

use miette::Diagnostic;
use thiserror::Error;

/// A mistake in a climate file, or an assumption about it.
#[derive(Debug, Clone, PartialEq, Eq, Error, Diagnostic)]
pub enum ClimateMistake {
    /// No layout that is known.
    #[error("the file starts neither with the headings of the plain layout nor as a TMY3 file does")]
    #[diagnostic(
        code(CM001),
        help("start with headings such as `time (hour ending),temperature (°C),humidity (%)`")
    )]
    NoLayout,
    /// A column that every file needs.
    #[error("there is no column `{column}`")]
    #[diagnostic(code(CM002), help("add a column headed `{example}`"))]
    NoColumn {
        /// The column.
        column: &'static str,
        /// Its heading, with a unit.
        example: &'static str,
    },
    /// A heading that is not known, or stands twice.
    #[error("`{heading}` is not a heading of the plain layout, or stands twice")]
    #[diagnostic(code(CM003), help("{mend}"))]
    Heading {
        /// What was written.
        heading: String,
        /// What to write in its stead.
        mend: String,
    },
    /// A heading without a unit that can be read.
    #[error("the heading `{heading}` names no unit of {wanted}")]
    #[diagnostic(code(CM004), help("write the unit in brackets, such as `{example}`"))]
    Unit {
        /// What was written.
        heading: String,
        /// The kind wanted, with its article.
        wanted: &'static str,
        /// A heading that is right.
        example: &'static str,
    },
    /// A line with more or fewer cells than headings.
    #[error("this line has {found} cells; the headings name {wanted}")]
    #[diagnostic(code(CM005), help("keep a comma for every column, also where a value is missing"))]
    Cells {
        /// Cells of the line.
        found: usize,
        /// Columns of the headings.
        wanted: usize,
    },
    /// A time that cannot be read.
    #[error("`{written}` is not the time of an hour")]
    #[diagnostic(code(CM006), help("write date and full hour, such as `{example}`"))]
    Time {
        /// What was written.
        written: String,
        /// A time that is right.
        example: &'static str,
    },
    /// A cell that is no number.
    #[error("`{written}` is not a number; {column} is wanted")]
    #[diagnostic(
        code(CM007),
        help("write a number with a point, and leave the cell blank where the value is missing")
    )]
    Number {
        /// What was written.
        written: String,
        /// The column.
        column: &'static str,
    },
    /// A value that cannot be.
    #[error("{column} of `{written}` cannot be: it is {low} to {high}")]
    #[diagnostic(code(CM008), help("correct the value, or leave the cell blank where it is missing"))]
    Range {
        /// What was written.
        written: String,
        /// The column.
        column: &'static str,
        /// The least, with its unit.
        low: String,
        /// The most, with its unit.
        high: String,
    },
    /// Hours left out.
    #[error("{hours} missing between {before} and {after}")]
    #[diagnostic(
        code(CM009),
        help("write a line for every hour, its cells blank where nothing was recorded")
    )]
    Gap {
        /// How many, with the word.
        hours: String,
        /// The last hour before.
        before: String,
        /// The first hour after.
        after: String,
    },
    /// An hour that does not come after the one before.
    #[error("{after} does not come after {before}")]
    #[diagnostic(code(CM010), help("put the hours in order, each once"))]
    Order {
        /// The hour before.
        before: String,
        /// The hour that follows.
        after: String,
    },
    /// Months without an hour.
    #[error("the year is not whole: {months} without a single hour")]
    #[diagnostic(code(CM011), help("a year needs all twelve months; none is filled in"))]
    MonthsMissing {
        /// The months.
        months: String,
    },
    /// A month that is not whole.
    #[error("the year is not whole: {month} has {found} of {wanted} hours")]
    #[diagnostic(code(CM012), help("give one whole year, from any month on"))]
    MonthShort {
        /// The month.
        month: &'static str,
        /// Hours in the file.
        found: usize,
        /// Hours that it has.
        wanted: usize,
    },
    /// More than a year.
    #[error("{hour} stands twice: the file holds more than one year")]
    #[diagnostic(code(CM013), help("cut the file down to one year"))]
    TooLong {
        /// The first hour that stands twice.
        hour: String,
    },
    /// A month with too many blanks.
    #[error("{column} is missing in {missing} of {hours} hours of {month}")]
    #[diagnostic(
        code(CM014),
        help("a month may lack one hour in ten, no more: its mean would be that of other weather")
    )]
    TooThin {
        /// The column.
        column: &'static str,
        /// Blank hours.
        missing: usize,
        /// Hours of the month.
        hours: usize,
        /// The month.
        month: &'static str,
    },
    /// More mistakes than are shown.
    #[error("{count} more lines cannot be read")]
    #[diagnostic(code(CM015), help("mend the lines above and read the file again"))]
    MoreLines {
        /// How many.
        count: usize,
    },
    /// A few blanks.
    #[error("assumed: {column} is missing in {hours}; means and counts are of the others")]
    #[diagnostic(code(CM016))]
    FewMissing {
        /// The column.
        column: &'static str,
        /// Blank hours, with the word.
        hours: String,
    },
    /// Too little rain was recorded.
    #[error("rain is missing in {missing} of {hours} hours: no question on rain can be answered")]
    #[diagnostic(code(CM017), help("a missing hour is not a dry one; take a file with rain for every hour"))]
    RainThin {
        /// Hours without a depth.
        missing: usize,
        /// All hours.
        hours: usize,
    },
    /// The unit of rain in TMY3 files.
    #[error("assumed: depths of rain are tenths of a millimetre, though their heading says millimetres")]
    #[diagnostic(code(CM018))]
    Tenths,
    /// Months from different years.
    #[error("assumed: the months come from {years} years; at each join some hours do not fit together")]
    #[diagnostic(
        code(CM019),
        help("for six hours each side of a join temperature was smoothed and humidity was not")
    )]
    Joined {
        /// How many years.
        years: usize,
    },
    /// What the dew-point column holds below freezing.
    #[error(
        "assumed: below freezing the dew-point column holds {held} (it is off by {frost} K as frost points and by {dew} K as dew points)"
    )]
    #[diagnostic(code(CM020), help("files differ in this; both figures are means over {hours} hours"))]
    Convention {
        /// Frost points, dew points or either.
        held: &'static str,
        /// Mean error as frost points.
        frost: String,
        /// Mean error as dew points.
        dew: String,
        /// Hours compared.
        hours: usize,
    },
}
