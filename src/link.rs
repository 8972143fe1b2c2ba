//! The share link: the whole state of the page as the fragment of an address.
//!
//! A fragment is never sent to a server. It is readable, and short enough for a chat:
//!
//! ```text
//! v1&recipe=shea-butter:62.5,sunflower-oil:37.5&as=whipped&store=16~31&feel=scoopable,melts
//! ```
//!
//! `v1` is the version; later versions of the program read earlier links for ever (the golden links in the tests
//! hold them to it). Then come parts, `key=value`, in any order, each at most once:
//!
//! | key | value | absent means |
//! | --- | --- | --- |
//! | `name` | what the maker calls the recipe | no name |
//! | `recipe` | lines `id:percent`, or `id!name:percent`, or an own ingredient (below) | empty |
//! | `price` | prices of a kilogram, one a line of the recipe in its order, empty where there is none | no prices |
//! | `as` | `whipped`, `pot` or `bar` | `pot` |
//! | `pack` | `jar`, `glass-jar`, `tin`, `tube`, `paper-tube` or `wrap` | not said |
//! | `store` | coldest`~`hottest, °C | 18~25 |
//! | `skin` | °C | 32.5 |
//! | `feel` | a firmness, what happens on skin, or both | no wish |
//! | `wax`, `acid`, `step`, `changes` | limits of a rework | 3, 6, 0.5, 3 |
//! | `alcohol`, `powder` | the most of a fatty alcohol and of powder, percent | what is usual, or in the recipe |
//! | `keep` | ids or own names that a rework leaves alone | none |
//! | `within` | `id:least~most`, percent | free |
//! | `avoid` | ids, classes or allergen groups that may not be in it | none |
//! | `hold` | any of `lead` (the first on the label stays first) and `weighing` (a step weighed wrong does no harm) | neither |
//! | `margin` | points that the prediction may err | 0 |
//! | `aim` | `now`: as close as can be to how it behaves now | the wishes |
//! | `pantry` | ids that a rework may add | the page's usual ones |
//! | `made` | grams of a batch that is made`~`grams of it that are used or lost | no batch |
//! | `other` | coldest`~`hottest of the other season, °C | one season |
//! | `picture` | hardeners of the teaching picture | no picture |
//! | `swap` | `oil` or `all`: what the hardener replaces | `oil` |
//! | `dose` | percent | 5 |
//! | `way` | what air it travels in: a word such as `mailbox`, `steady:`°C`~`hours, or `hourly:` and its corners, hour`~`°C, between `;` | it does not travel |
//! | `parcel` | mL in each pack`~`mm of foam`~`g of cold packs | 120~0~0 |
//!
//! An own ingredient is `!name!like!species!fatty-acids!points!known:percent`, without what is empty at the end: species as
//! `SOS~26;POS~40`, fatty acids as `palmitic~26;stearic~36`, measured solids as `10~60;20~35` (°C, percent), and what else is known
//! as any of `spread~pulp`, `class~soft-butter`, `melts~34`, `free~0.5`, `unsap~1`, `di~2`.
//!
//! Text is percent-encoded UTF-8 with `+` for a space. Amounts are carried to 0.001. Ingredients that this catalogue
//! does not know travel along: a link may come from a later version, or from another maker's shelf.

mod read;
mod write;

pub use read::open;
pub use write::fragment;

use serde::{Deserialize, Serialize};

use crate::behaviour::{Firmness, Format, OnSkin, Pack, Preset};
use crate::rework;
use crate::substances::{Class, Rule};

/// The longest fragment that is read, in bytes: far above any real recipe, low enough that a hostile link is
/// refused before it costs anything.
pub const LONGEST: usize = 16_000;
/// The most lines of a recipe.
pub const MOST_LINES: usize = 60;
/// How many lines a rework may change: those that it answers.
pub const CHANGES: (f64, f64) = (*rework::CHANGES.start() as f64, *rework::CHANGES.end() as f64);
/// The longest name, in characters.
pub const LONGEST_NAME: usize = 80;
/// The most species in one own make-up.
pub const MOST_SPECIES: usize = 60;
/// Temperatures that a link may carry, °C: what a jar can see, with room to spare.
pub const TEMPERATURES_C: (f64, f64) = (-40.0, 100.0);
/// Grams of a batch that a link may carry.
pub const GRAMS: (f64, f64) = (0.0, 1e6);
/// A price of a kilogram that a link may carry, in any currency.
pub const PRICES: (f64, f64) = (0.0, 1e6);
/// The most corners of a course of temperatures.
pub const MOST_CORNERS: usize = 100;
/// Hours on the way that a link may carry.
pub const HOURS: (f64, f64) = (0.0, 1000.0);
/// Fill of one pack that a link may carry, mL.
pub const FILL_ML: (f64, f64) = (1.0, 5000.0);
/// Foam around a parcel that a link may carry, mm.
pub const FOAM_MM: (f64, f64) = (0.0, 200.0);
/// Cold packs in a parcel that a link may carry, g.
pub const COLD_PACK_G: (f64, f64) = (0.0, 50_000.0);
/// Temperatures of an own ingredient's melting that a link may carry, °C.
pub const MELTS_C: (f64, f64) = (-50.0, 150.0);

/// One line of a shared recipe.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// The catalogue id, if it has one.
    pub id: Option<String>,
    /// What the maker calls it.
    pub name: Option<String>,
    /// Percent by mass.
    pub percent: f64,
    /// An own make-up: species id and percent by mass; empty for a catalogue ingredient.
    pub composition: Vec<(String, f64)>,
    /// With an own make-up: the ingredient it resembles.
    pub like: Option<String>,
    /// An own make-up by fatty acids: name and percent by mass.
    pub fatty_acids: Vec<(String, f64)>,
    /// An own make-up by measured solids: °C and percent by mass.
    pub solid_points: Vec<(f64, f64)>,
    /// What else is known of an own ingredient.
    pub known: Known,
    /// Price of a kilogram, in any currency.
    pub price: Option<f64>,
}

/// What else is known of an own ingredient.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Known {
    /// How fatty acids are spread.
    pub spread: Option<Rule>,
    /// Its class.
    pub class: Option<Class>,
    /// Slip point, °C.
    pub melts_at_c: Option<f64>,
    /// Percent by mass.
    pub free_acid_percent: Option<f64>,
    /// Percent by mass.
    pub unsaponifiable_percent: Option<f64>,
    /// Percent by mass.
    pub diglyceride_percent: Option<f64>,
}

/// What the maker lets a rework do.
#[derive(Clone, Debug, PartialEq)]
pub struct Allowed {
    /// The most wax, percent.
    pub wax_percent: f64,
    /// The most free fatty acid, percent.
    pub fatty_acid_percent: f64,
    /// The most fatty alcohol, percent; `None`: what is usual, or in the recipe.
    pub fatty_alcohol_percent: Option<f64>,
    /// The most powder, percent; `None`: what is usual, or in the recipe.
    pub powder_percent: Option<f64>,
    /// The step of the scale, percent.
    pub step_percent: f64,
    /// The most lines that change.
    pub changes: u32,
    /// Ids or own names left alone.
    pub locked: Vec<String>,
    /// Ids that may be added; `None`: the page's usual ones.
    pub pantry: Option<Vec<String>>,
    /// Least and most, percent, by id or own name.
    pub bounds: Vec<(String, f64, f64)>,
    /// Ids, classes or allergen groups that may not be in it.
    pub refuse: Vec<String>,
    /// Whether to come as close as can be to how it behaves now, rather than to the wishes.
    pub as_now: bool,
    /// Whether the line that is first on the label stays first.
    pub keep_lead: bool,
    /// Whether the wishes must be met with any line weighed a step wrong.
    pub any_step: bool,
    /// Points that the prediction may err without a wish being missed.
    pub margin_points: f64,
}

impl Default for Allowed {
    fn default() -> Self {
        Allowed {
            wax_percent: 3.0,
            fatty_acid_percent: 6.0,
            fatty_alcohol_percent: None,
            powder_percent: None,
            step_percent: 0.5,
            changes: 3,
            locked: Vec::new(),
            pantry: None,
            bounds: Vec::new(),
            refuse: Vec::new(),
            as_now: false,
            keep_lead: false,
            any_step: false,
            margin_points: 0.0,
        }
    }
}

/// What a hardener replaces in the teaching picture.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Swap {
    /// The liquid oils only.
    #[default]
    Oil,
    /// Everything in proportion.
    All,
}

/// The teaching picture: how hardeners move the melting point of the recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// Catalogue ids, one to four.
    pub hardeners: Vec<String>,
    /// What they replace.
    pub swap: Swap,
    /// The dose looked at, percent.
    pub dose_percent: f64,
}

/// How the butter travels: in exactly one of a preset, one temperature, and a course.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(default)]
pub struct Journey {
    /// A course from published measurements.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub preset: Option<Preset>,
    /// °C throughout.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub constant_c: Option<f64>,
    /// For how long, with `constant_c`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hours: Option<f64>,
    /// Corners of a course: hour and °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub points: Option<Vec<(f64, f64)>>,
    /// Fill of one pack, mL.
    pub volume_ml: f64,
    /// Foam around it, mm.
    pub insulation_mm: f64,
    /// Cold packs in the box, g.
    pub cold_pack_g: f64,
}

impl Default for Journey {
    fn default() -> Self {
        // Fixed for version 1.
        Journey {
            preset: None,
            constant_c: None,
            hours: None,
            points: None,
            volume_ml: 120.0,
            insulation_mm: 0.0,
            cold_pack_g: 0.0,
        }
    }
}

/// Everything that a link carries.
#[derive(Clone, Debug, PartialEq)]
pub struct Shared {
    /// What the maker calls the recipe.
    pub name: Option<String>,
    /// The recipe; it need not sum to 100 yet.
    pub recipe: Vec<Line>,
    /// How it is sold.
    pub format: Format,
    /// What it is packed in, if that is said.
    pub pack: Option<Pack>,
    /// °C.
    pub coldest_c: f64,
    /// °C.
    pub hottest_c: f64,
    /// °C.
    pub skin_c: f64,
    /// How firm.
    pub firmness: Option<Firmness>,
    /// What on skin.
    pub on_skin: Option<OnSkin>,
    /// What a rework may do.
    pub allowed: Allowed,
    /// A batch that is made, to be rescued: grams, and how many of them are used or lost.
    pub made: Option<(f64, f64)>,
    /// Coldest and hottest storage of the other season, °C.
    pub other_c: Option<(f64, f64)>,
    /// The teaching picture, if it is open.
    pub picture: Option<Picture>,
    /// How it travels, if that is looked at.
    pub journey: Option<Journey>,
}

impl Default for Shared {
    fn default() -> Self {
        Shared {
            name: None,
            recipe: Vec::new(),
            format: Format::Pot,
            pack: None,
            coldest_c: 18.0,
            hottest_c: 25.0,
            // Fixed for version 1, whatever the engine assumes later: a link must mean what it meant.
            skin_c: 32.5,
            firmness: None,
            on_skin: None,
            allowed: Allowed::default(),
            made: None,
            other_c: None,
            picture: None,
            journey: None,
        }
    }
}

/// A word of the link for each value of a choice; the words are those of the contract.
trait Word: Copy + PartialEq + 'static {
    const ALL: &'static [Self];
    const WORDS: &'static [&'static str];

    fn word(self) -> &'static str {
        Self::ALL.iter().position(|value| *value == self).map_or("", |at| Self::WORDS[at])
    }

    fn from_word(word: &str) -> Option<Self> {
        place(Self::WORDS, word).map(|at| Self::ALL[at])
    }
}

/// Where a word stands: once for every choice, since what is generic is compiled for each.
fn place(words: &[&str], word: &str) -> Option<usize> {
    words.iter().position(|known| *known == word)
}

impl Word for Format {
    const ALL: &'static [Self] = &[Format::Whipped, Format::Pot, Format::Bar];
    const WORDS: &'static [&'static str] = &["whipped", "pot", "bar"];
}

impl Word for Firmness {
    const ALL: &'static [Self] = &[
        Firmness::Pourable,
        Firmness::Slack,
        Firmness::Soft,
        Firmness::Scoopable,
        Firmness::Firm,
        Firmness::Hard,
        Firmness::Snapping,
    ];
    const WORDS: &'static [&'static str] =
        &["pourable", "slack", "soft", "scoopable", "firm", "hard", "snapping"];
}

impl Word for OnSkin {
    const ALL: &'static [Self] = &[OnSkin::Melts, OnSkin::Lingers, OnSkin::Stays];
    const WORDS: &'static [&'static str] = &["melts", "lingers", "stays"];
}

impl Word for Rule {
    const ALL: &'static [Self] = &[Rule::Seed, Rule::Pulp, Rule::Random];
    const WORDS: &'static [&'static str] = &["seed", "pulp", "random"];
}

impl Word for Class {
    const ALL: &'static [Self] = &Class::ALL;
    const WORDS: &'static [&'static str] =
        &["hard-butter", "soft-butter", "liquid-oil", "fatty-acid", "fatty-alcohol", "wax", "other"];
}

impl Word for Pack {
    const ALL: &'static [Self] =
        &[Pack::Jar, Pack::GlassJar, Pack::Tin, Pack::Tube, Pack::PaperTube, Pack::Wrap];
    const WORDS: &'static [&'static str] = &["jar", "glass-jar", "tin", "tube", "paper-tube", "wrap"];
}

impl Word for Preset {
    const ALL: &'static [Self] = &Preset::ALL;
    const WORDS: &'static [&'static str] = &[
        "parked-car-sun",
        "parked-car-shade",
        "dashboard",
        "delivery-van",
        "mailbox",
        "sea-container",
        "warm-room",
    ];
}

impl Word for Swap {
    const ALL: &'static [Self] = &[Swap::Oil, Swap::All];
    const WORDS: &'static [&'static str] = &["oil", "all"];
}

/// What is wrong with the corners of a course.
fn amiss(corners: &[(f64, f64)]) -> Option<&'static str> {
    if corners.len() < 2 || corners.len() > MOST_CORNERS {
        Some("give from 2 to 100 corners, each an hour and a temperature")
    } else if corners.windows(2).any(|two| two[1].0 <= two[0].0) {
        Some("its hours do not rise")
    } else {
        None
    }
}

/// Characters that would let a name rewrite the text around it: controls and bidirectional overrides.
fn is_unruly(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests;
