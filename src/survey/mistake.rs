//! What can be wrong with a survey.

use miette::Diagnostic;
use thiserror::Error;

/// A slip in a survey, with the way to mend it. Slips in a unit are told by `units`, slips in the YAML by `yaml`.
#[derive(Debug, Clone, PartialEq, Eq, Error, Diagnostic)]
pub enum SurveyMistake {
    /// The text holds something other than keys.
    #[error("a survey is a set of keys, but this is {found}")]
    #[diagnostic(code(SU001), help("start with `survey: 1`, then `job:` and `zones:`"))]
    NotASurvey {
        /// What was found, with its article.
        found: &'static str,
    },
    /// The first line names a form of survey that nobody knows.
    #[error("`{written}` is not a form of survey that can be read")]
    #[diagnostic(code(SU002), help("write `survey: 1`"))]
    Version {
        /// What was written.
        written: String,
    },
    /// A key that must be there is not, or is left open.
    #[error("{whole} has no `{key}`")]
    #[diagnostic(code(SU003), help("add `{key}: …`; {why}"))]
    MissingKey {
        /// What lacks it, with its article.
        whole: String,
        /// The key.
        key: &'static str,
        /// What it is for.
        why: &'static str,
    },
    /// A key that is neither the program's nor a fact of the rulebook.
    #[error("`{key}` is not a key of {whole}")]
    #[diagnostic(code(SU004), help("{mend}"))]
    UnknownKey {
        /// The key.
        key: String,
        /// Where it stands, with its article.
        whole: String,
        /// The nearest key, or what may stand there.
        mend: String,
    },
    /// A list where a word belongs, or the like.
    #[error("{what} is {found}; {wanted} is wanted")]
    #[diagnostic(code(SU005), help("{mend}"))]
    Shape {
        /// What it is about.
        what: String,
        /// What was found, with its article.
        found: &'static str,
        /// What is wanted, with its article.
        wanted: &'static str,
        /// An example.
        mend: String,
    },
    /// A word that is not one of the words allowed.
    #[error("`{written}` is not an answer to {what}")]
    #[diagnostic(code(SU006), help("{mend}"))]
    Word {
        /// The word written.
        written: String,
        /// What it answers.
        what: String,
        /// The nearest word, or all of them.
        mend: String,
    },
    /// A value outside the range that the book or plain sense allows.
    #[error("`{written}` is out of range for {what}: it must be {range}")]
    #[diagnostic(
        code(SU007),
        help("check the figure and its unit; leave the key out or write `unknown` if it is not known")
    )]
    OutOfRange {
        /// What was written.
        written: String,
        /// What it answers.
        what: String,
        /// The range in words.
        range: String,
    },
    /// A pair whose first value is the greater.
    #[error("the pair for {what} runs from `{low}` down to `{high}`")]
    #[diagnostic(code(SU008), help("write the lower value first: `[{high}, {low}]`"))]
    PairBackwards {
        /// What it answers.
        what: String,
        /// The first value.
        low: String,
        /// The second value.
        high: String,
    },
    /// A bare list that is neither a pair nor readings.
    #[error("{what} is a list of {count} where one value or a pair is wanted")]
    #[diagnostic(
        code(SU009),
        help(
            "a pair `[low, high]` is one uncertain value; write several readings as records: `[{{value: …}}, {{value: …}}]`"
        )
    )]
    NotAPair {
        /// What it answers.
        what: String,
        /// How many values.
        count: usize,
    },
    /// A list with nothing in it where nothing cannot be an answer.
    #[error("the list for {what} is empty")]
    #[diagnostic(code(SU010), help("leave the key out or write `unknown` if it is not known"))]
    EmptyList {
        /// What it answers.
        what: String,
    },
    /// A date that is not in the calendar or not in the one form.
    #[error("`{written}` is not a date")]
    #[diagnostic(code(SU011), help("write year, month and day as in `2027-03-01`"))]
    Date {
        /// What was written.
        written: String,
    },
    /// Something dated after the issue.
    #[error("{what} is dated {date}, after the issue date {issue}")]
    #[diagnostic(code(SU012), help("check both dates; the issue date is that of the set now being written"))]
    AfterIssue {
        /// What is dated.
        what: String,
        /// Its date.
        date: String,
        /// The issue date.
        issue: String,
    },
    /// A code that cannot name a folder.
    #[error("`{written}` cannot be used as a code")]
    #[diagnostic(
        code(SU013),
        help("use letters, digits, `-`, `_` and `.`, starting with a letter or a digit")
    )]
    Code {
        /// What was written.
        written: String,
    },
    /// Two zones of one code.
    #[error("zone code `{code}` is used twice")]
    #[diagnostic(code(SU014), help("give each zone a code of its own"))]
    ZoneTwice {
        /// The code.
        code: String,
    },
    /// A zone whose code is the name of a thing that can adjoin.
    #[error("`{code}` is the name of a thing that can adjoin a zone, so it cannot be a zone code too")]
    #[diagnostic(code(SU015), help("give the zone another code"))]
    ZoneNamedAsThing {
        /// The code.
        code: String,
    },
    /// `adjoins` names nothing.
    #[error("`{name}` is neither a zone of this survey nor a thing that the rulebook knows")]
    #[diagnostic(code(SU016), help("{mend}"))]
    AdjoinsNothing {
        /// The name.
        name: String,
        /// The nearest name, or the things known.
        mend: String,
    },
    /// `adjoins` names the zone itself.
    #[error("zone `{code}` cannot adjoin itself")]
    #[diagnostic(code(SU017), help("take it out of the list"))]
    AdjoinsItself {
        /// The code.
        code: String,
    },
    /// A permeance with no thickness to it.
    #[error("{figure} of {material} is given without its thickness")]
    #[diagnostic(code(SU018), help("{mend}"))]
    PermeanceWithoutThickness {
        /// Permeance or rate, with its article.
        figure: &'static str,
        /// The material.
        material: String,
        /// What the figure says, and how to mend it.
        mend: String,
    },
    /// Two figures for the same thing, such as a permeance and a resistance factor.
    #[error("{whole} has both `{one}` and `{two}`")]
    #[diagnostic(code(SU019), help("keep the one that was tested; each follows from the other"))]
    TwoFigures {
        /// The layer or film, with its article.
        whole: String,
        /// One key.
        one: &'static str,
        /// The other.
        two: &'static str,
    },
    /// A fact that belongs elsewhere in the survey.
    #[error("`{fact}` is asked of {owner}, not of {whole}")]
    #[diagnostic(code(SU020), help("answer it under {owner}"))]
    OtherOwner {
        /// The fact.
        fact: String,
        /// Where it belongs.
        owner: &'static str,
        /// Where it stands.
        whole: String,
    },
    /// A worked fact is not answered by hand.
    #[error("`{fact}` is worked out and cannot be answered")]
    #[diagnostic(
        code(SU021),
        help("leave it out; it follows from the wall, coats, cracks, sizes, neighbours and readings")
    )]
    Worked {
        /// The fact.
        fact: String,
    },
    /// A reading without its value.
    #[error("a reading of `{fact}` has no `value`")]
    #[diagnostic(code(SU022), help("add `value: …`, or `value: unknown`"))]
    NoValue {
        /// The fact.
        fact: String,
    },
    /// The old coats name a coat that says there is none.
    #[error("`none` is not a coat")]
    #[diagnostic(code(SU023), help("write `coats: []` where there is no old coat"))]
    NoCoat,
    /// Openings and bare areas that together exceed the zone.
    #[error("the openings and the area not coated of zone `{code}` are larger than the zone")]
    #[diagnostic(code(SU024), help("check `size`, `openings` and `not-coated`"))]
    LargerThanZone {
        /// The zone.
        code: String,
    },
    /// A departure or a release names no zone of this survey.
    #[error("`{code}` is not a zone of this survey")]
    #[diagnostic(code(SU025), help("{mend}"))]
    NoSuchZone {
        /// What was written.
        code: String,
        /// The nearest zone, or all of them.
        mend: String,
    },
    /// A departure or a release names no rule of the book.
    #[error("`{name}` is not a rule of this rulebook")]
    #[diagnostic(code(SU026), help("{mend}"))]
    NoSuchRule {
        /// What was written.
        name: String,
        /// The nearest rule, or where to find the names.
        mend: String,
    },
    /// A departure from what nobody may depart from.
    #[error("no departure is allowed from `{rule}`")]
    #[diagnostic(code(SU027), help("{why}"))]
    DepartureBarred {
        /// The rule.
        rule: String,
        /// Why not.
        why: String,
    },
    /// A departure from a rule that neither refuses nor limits.
    #[error("`{rule}` refuses nothing and limits nothing, so there is nothing to depart from")]
    #[diagnostic(
        code(SU028),
        help("name the rule whose refusal or limit is set aside; the reasons record gives its name")
    )]
    NothingToDepartFrom {
        /// The rule.
        rule: String,
    },
    /// A release of something that is not there to be released.
    #[error("`{name}` is not a {kind} of this rulebook")]
    #[diagnostic(code(SU029), help("{mend}"))]
    NothingToRelease {
        /// What was written.
        name: String,
        /// Stop or hold point.
        kind: &'static str,
        /// The nearest, or all of them.
        mend: String,
    },
    /// A release by somebody who may not give it.
    #[error("`{name}` is released by {wanted}, not by {role}")]
    #[diagnostic(code(SU030), help("have the paper signed by {wanted}, then write `role: {wanted}`"))]
    OtherRole {
        /// What is released.
        name: String,
        /// Who may release it.
        wanted: String,
        /// Who did.
        role: String,
    },
    /// A release of a stop or hold point that the zone does not have.
    #[error("there is no {kind} `{name}` in zone `{code}` to release")]
    #[diagnostic(
        code(SU031),
        help("take the zone out of the release, or check the facts that should bring it about")
    )]
    NothingStands {
        /// Stop or hold point.
        kind: &'static str,
        /// Its name.
        name: String,
        /// The zone.
        code: String,
    },
    /// The book lacks what the survey's answer is read by.
    #[error("{what} cannot be read, for the rulebook has no {lacks}")]
    #[diagnostic(code(SU032), help("choose a rulebook that has it, or leave the key out"))]
    BookLacks {
        /// What is being read.
        what: String,
        /// What is not there.
        lacks: String,
    },
    /// An answer that means nothing without another.
    #[error("`{fact}` is given without `{lacks}`")]
    #[diagnostic(code(SU033), help("{because}; answer `{lacks}` too, or leave `{fact}` out"))]
    ToldAlone {
        /// The answer given.
        fact: String,
        /// The answers that are not.
        lacks: String,
        /// Why it means nothing without them, as the rulebook says.
        because: String,
    },
    /// A vapour transmission rate with no climate to it.
    #[error("the vapour transmission rate of {whole} is given without its test climate")]
    #[diagnostic(
        code(SU034),
        help(
            "the vapour pressure across the sample makes the rate: a film passes a sixth more over a desiccant than in \
             the wet cup; write `transmission: {{value: …, climate: wet-cup}}`, or `desiccant`, or `water`"
        )
    )]
    RateWithoutClimate {
        /// The layer or film, with its article.
        whole: String,
    },
    /// Plaster on the outside of the wall behind it.
    #[error("{inner} stands inside of {outer}, which is plaster")]
    #[diagnostic(
        code(SU040),
        help(
            "list the layers from outside to inside; what is laid on the outside of a wall is a render, such as `lime-render`"
        )
    )]
    PlasterOutside {
        /// The plaster.
        outer: String,
        /// What lies behind it.
        inner: String,
    },
    /// A render with nothing but plaster, or nothing at all, behind it.
    #[error("{render} stands inside of {outer}, with no masonry behind it")]
    #[diagnostic(
        code(SU041),
        help(
            "list the layers from outside to inside; what is laid on the inside is a plaster, such as `lime-plaster`"
        )
    )]
    RenderInside {
        /// The render.
        render: String,
        /// The masonry on its outer side.
        outer: String,
    },
    /// A render between two leaves of masonry: odd, but it happens.
    #[error("assumed: {render} was built over, for masonry stands on both sides of it")]
    #[diagnostic(code(SU042), help("check the order of the layers, from outside to inside"))]
    BuiltOver {
        /// The render.
        render: String,
    },
    /// A weather file that does not lie beside the survey.
    #[error("`{file}` does not name a file beside the survey")]
    #[diagnostic(
        code(SU043),
        help(
            "put the weather file into the folder of the survey and give its name alone, such as `weather.csv`"
        )
    )]
    NotBeside {
        /// What was written.
        file: String,
    },
    /// Two elevations of one code.
    #[error("elevation code `{code}` is used twice")]
    #[diagnostic(code(SU044), help("give each elevation a code of its own"))]
    ElevationTwice {
        /// The code.
        code: String,
    },
    /// A place that reaches over an edge of its elevation.
    #[error("{what} of elevation `{code}` reaches {over} over its {edge}")]
    #[diagnostic(
        code(SU045),
        help(
            "check `from-left`, `from-base`, `width` and `height` here, and the size of the elevation; places are seen from outside"
        )
    )]
    OutsideElevation {
        /// What reaches over, with its article.
        what: &'static str,
        /// The elevation.
        code: String,
        /// How far.
        over: String,
        /// Which edge.
        edge: &'static str,
    },
    /// Two things of a kind in one place of an elevation.
    #[error("{what} of elevation `{code}` overlap")]
    #[diagnostic(
        code(SU046),
        help(
            "check where each lies and how large it is; write a zone that goes around another as several places"
        )
    )]
    DrawnTwice {
        /// What overlaps.
        what: &'static str,
        /// The elevation.
        code: String,
    },
    /// The elevations draw another area of a zone than the zone says.
    #[error("`{key}` of zone `{code}` comes to {told}, but its places on the elevations to {drawn}")]
    #[diagnostic(
        code(SU047),
        help(
            "the two may differ by one part in twenty; check `{key}` of the zone and what lies on its places under `elevations`"
        )
    )]
    DrawnOtherwise {
        /// What differs: `size`, `openings` or `not-coated`.
        key: &'static str,
        /// The zone.
        code: String,
        /// Area drawn.
        drawn: String,
        /// Area that the zone gives.
        told: String,
    },
}
