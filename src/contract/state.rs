//! The state of the page: what is on its bench, as links, files and the device keep it.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{
    Aim, ErrorKind, Failure, Item, Limits, Made, Rescued, SeenSign, StorageC, expose::AIR_TWICE, item,
    ranges::*,
};
use crate::{
    behaviour::{Firmness, Format, OnSkin, Pack, Preset, SKIN_C as USUAL_SKIN_C},
    surety::learned::Measured,
};

/// The state of the page: a recipe, a climate, wishes, limits. The recipe need not sum to 100.
///
/// What is left out is as here by default; links rely on that, and `tests/links/` holds it.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(default)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct State {
    /// What the maker calls the recipe.
    pub name: Option<String>,
    /// The recipe.
    pub recipe: Vec<Item>,
    /// How it is sold.
    pub format: Format,
    /// What it is packed in; absent: not said.
    pub pack: Option<Pack>,
    /// Where the jar lives.
    pub storage_c: StorageC,
    /// Skin surface, °C.
    pub skin_c: f64,
    /// How firm; absent: no wish.
    pub firmness: Option<Firmness>,
    /// What on skin; absent: no wish.
    pub on_skin: Option<OnSkin>,
    /// What a rework may do.
    pub limits: Limits,
    /// What a rework aims at.
    pub aim: Aim,
    /// A batch that is made, if it is one that needs mending.
    pub made: Option<Made>,
    /// If the recipe is that of a batch that was rescued: how it is weighed.
    pub rescued: Option<Rescued>,
    /// Where the jar lives in the other season, if two versions are wanted.
    pub other_storage_c: Option<StorageC>,
    /// The teaching picture, if it is open.
    pub picture: Option<Picture>,
    /// How it travels, if that is looked at.
    pub journey: Option<Way>,
    /// If the recipe is that of a pot of which something is to be seen: what, for the notebook.
    pub look: Option<ToSee>,
    /// Prices of a kilogram, in any currency, by id or own name. A link carries
    /// those of what is in the recipe.
    pub prices: BTreeMap<String, f64>,
}

impl Default for State {
    fn default() -> Self {
        State {
            name: None,
            recipe: Vec::new(),
            format: Format::Pot,
            pack: None,
            storage_c: StorageC { coldest: 18.0, hottest: 25.0 },
            skin_c: USUAL_SKIN_C,
            firmness: None,
            on_skin: None,
            limits: Limits::default(),
            aim: Aim::default(),
            made: None,
            rescued: None,
            other_storage_c: None,
            picture: None,
            journey: None,
            look: None,
            prices: BTreeMap::new(),
        }
    }
}

/// The teaching picture: how hardeners move the melting point of the recipe.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(default)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Picture {
    /// Catalogue ids, at most four.
    pub hardeners: Vec<String>,
    /// What they replace.
    pub swap: Swap,
    /// The dose looked at, percent.
    pub dose_percent: f64,
}

impl Default for Picture {
    fn default() -> Self {
        Picture { hardeners: Vec::new(), swap: Swap::Oil, dose_percent: 5.0 }
    }
}

/// What a hardener replaces.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Swap {
    /// The liquid oils only.
    Oil,
    /// Everything in proportion.
    All,
}

/// How the butter travels: in exactly one of a preset, one temperature, and a course.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[serde(default)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct Way {
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

impl Default for Way {
    fn default() -> Self {
        Way {
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

/// What is to be seen of a pot: a planned look, which its sheet opens in a notebook.
#[derive(Clone, Debug, PartialEq, Deserialize, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ToSee {
    /// What to look for; of `held` and `slumped`, whichever it does.
    pub seen: SeenSign,
    /// Where it is kept, °C; absent: the reading tells.
    pub at_c: Option<f64>,
    /// How it is measured; absent: not said.
    pub measured: Option<Measured>,
}

/// How a link carries one field of the state.
pub(super) struct Field {
    /// What the link calls it.
    pub(super) key: &'static str,
    /// Where it is in the state; `[]` stands for each of a list.
    pub(super) at: &'static str,
    pub(super) shape: Shape,
}

/// What a field can hold, which is also what its box on the page can.
pub(super) enum Shape {
    /// What a maker calls something.
    Name,
    /// A choice: the state's own reader knows its words.
    Word,
    /// A number.
    Number(Range),
    /// Yes or no.
    Flag,
    /// Names, at most so many.
    Names(usize),
    /// A form of numbers, told in this order.
    Numbers(&'static [(&'static str, Range)]),
    /// Pairs of numbers, at most so many.
    Pairs(Range, Range, usize),
    /// A number for each of some names, at most so many.
    ByName(Range, usize),
    /// The same with the numbers of a form.
    FormByName(&'static [(&'static str, Range)], usize),
    /// Lines of the recipe: of each its id, if it has one, and its percentage. What else
    /// is of the last of them follows.
    Line,
}

/// The most lines of a recipe, and the most that can be said of lines.
pub(super) const MOST_LINES: usize = 60;
/// The longest pantry.
const MOST_PANTRY: usize = 240;
/// The most parts of an own make-up.
const MOST_PARTS: usize = 60;
/// The most corners of a course of temperatures that a link carries.
const MOST_CORNERS: usize = 100;
/// The most hardeners in the teaching picture.
const MOST_HARDENERS: usize = 4;

const STORAGE: Shape = Shape::Numbers(&[("coldest", STORAGE_C), ("hottest", STORAGE_C)]);

const fn field(key: &'static str, at: &'static str, shape: Shape) -> Field {
    Field { key, at, shape }
}

/// Every field of the state that a link carries, in the order that it is written. A new field of the state
/// needs one row here; a key that was once given is never given to something else.
pub(super) const FIELDS: &[Field] = &[
    field("name", "name", Shape::Name),
    field("of", "recipe[]", Shape::Line),
    field("called", "recipe[].name", Shape::Name),
    field("like", "recipe[].like", Shape::Name),
    field("species", "recipe[].composition", Shape::ByName(PERCENT, MOST_PARTS)),
    field("acids", "recipe[].fatty_acids", Shape::ByName(PERCENT, MOST_PARTS)),
    field("spread", "recipe[].spread", Shape::Word),
    field("free", "recipe[].free_acid_percent", Shape::Number(PERCENT)),
    field("unsap", "recipe[].unsaponifiable_percent", Shape::Number(PERCENT)),
    field("di", "recipe[].diglyceride_percent", Shape::Number(PERCENT)),
    field("solids", "recipe[].solid_points", Shape::Pairs(MEASURED_C, PERCENT, MOST_PARTS)),
    field("melts", "recipe[].melts_at_c", Shape::Number(MELTS_C)),
    field("class", "recipe[].class", Shape::Word),
    field("lot", "recipe[].lot", Shape::Numbers(item::LOT)),
    field("price", "prices", Shape::ByName(PRICE, MOST_LINES)),
    field("as", "format", Shape::Word),
    field("pack", "pack", Shape::Word),
    field("store", "storage_c", STORAGE),
    field("skin", "skin_c", Shape::Number(SKIN_C)),
    field("feel", "firmness", Shape::Word),
    field("rub", "on_skin", Shape::Word),
    field("wax", "limits.wax_percent", Shape::Number(WAX_PERCENT)),
    field("acid", "limits.fatty_acid_percent", Shape::Number(PERCENT)),
    field("alcohol", "limits.fatty_alcohol_percent", Shape::Number(PERCENT)),
    field("powder", "limits.powder_percent", Shape::Number(PERCENT)),
    field("step", "limits.step_percent", Shape::Number(STEP_PERCENT)),
    field("changes", "limits.changes", Shape::Number(CHANGES)),
    field("keep", "limits.locked", Shape::Names(MOST_LINES)),
    field("within", "limits.bounds", Shape::FormByName(&[("min", PERCENT), ("max", PERCENT)], MOST_LINES)),
    field("pantry", "limits.pantry", Shape::Names(MOST_PANTRY)),
    field("avoid", "limits.refuse", Shape::Names(MOST_LINES)),
    field("active", "limits.actives", Shape::Names(MOST_LINES)),
    field("lead", "limits.keep_lead", Shape::Flag),
    field("ceilings", "limits.use_ceilings", Shape::Flag),
    field("holds", "limits.surety", Shape::Word),
    field("work", "limits.work", Shape::Number(WORK)),
    field("aim", "aim", Shape::Word),
    field("made", "made", Shape::Numbers(&[("grams", MADE_G), ("used_grams", USED_G)])),
    field("weighs", "made.step_grams", Shape::Number(USED_G)),
    field("most", "made.most_grams", Shape::Number(USED_G)),
    field("batch", "rescued.batch_grams", Shape::Number(MADE_G)),
    field("added", "rescued.added", Shape::ByName(USED_G, MOST_LINES)),
    field("other", "other_storage_c", STORAGE),
    field("picture", "picture.hardeners", Shape::Names(MOST_HARDENERS)),
    field("swap", "picture.swap", Shape::Word),
    field("dose", "picture.dose_percent", Shape::Number(DOSE_PERCENT)),
    field("way", "journey.preset", Shape::Word),
    field("steady", "journey.constant_c", Shape::Number(AIR_C)),
    field("hours", "journey.hours", Shape::Number(HOURS)),
    field("course", "journey.points", Shape::Pairs(HOUR, AIR_C, MOST_CORNERS)),
    field("see", "look.seen", Shape::Word),
    field("looked", "look.at_c", Shape::Number(SEEN_C)),
    field("by", "look.measured", Shape::Word),
    field("fill", "journey.volume_ml", Shape::Number(FILL_ML)),
    field("foam", "journey.insulation_mm", Shape::Number(FOAM_MM)),
    field("cold", "journey.cold_pack_g", Shape::Number(COLD_PACK_G)),
];

impl State {
    /// Whether what it holds goes together, as far as boxes on the page could not help it.
    pub(super) fn check(&self) -> Result<(), Failure> {
        for (at, line) in self.recipe.iter().enumerate() {
            if line.id.is_none() && line.name.is_none() {
                return Err(Failure::new(
                    ErrorKind::Empty,
                    format!("recipe[{at}]"),
                    format!(
                        "line {} of the recipe has neither an ingredient nor a name: give it one",
                        at + 1
                    ),
                ));
            }
        }
        self.journey.as_ref().map_or(Ok(()), Way::check)
    }
}

impl Way {
    fn check(&self) -> Result<(), Failure> {
        let wrong =
            |at: String, what: &str| Err(Failure::new(ErrorKind::Conflict, format!("journey{at}"), what));
        let given = [
            (".preset", self.preset.is_some()),
            (".constant_c", self.constant_c.is_some()),
            (".points", self.points.is_some()),
        ];
        let mut given = given.iter().filter(|(_, given)| *given);
        match (given.next(), given.next()) {
            (None, _) => {
                return wrong(
                    String::new(),
                    "the air on its way is not given: name a place, one temperature, or points of hour and °C",
                );
            }
            (_, Some((second, _))) => {
                return wrong((*second).to_owned(), AIR_TWICE);
            }
            _ => {}
        }
        let Some(points) = &self.points else { return Ok(()) };
        if points.len() < 2 {
            return wrong(
                ".points".to_owned(),
                "its course has fewer than 2 points: give from 2 to 100, each an hour and a temperature",
            );
        }
        match points.windows(2).position(|two| two[1].0 - two[0].0 < HOURS_APART) {
            Some(at) => wrong(
                format!(".points[{}][0]", at + 1),
                "the hours of its course do not rise: put its points in order, each hour once",
            ),
            None => Ok(()),
        }
    }
}
