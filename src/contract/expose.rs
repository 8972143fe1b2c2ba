//! `expose`: how a packed butter fares in hot air.

use serde::{Deserialize, Serialize};

use super::{
    ErrorKind, Failure, Item,
    check::within,
    item::{recipe, skin_c},
    ranges::*,
};
use crate::{
    behaviour::{Course, Fared, Format, Pack, Parcel, Preset, Profile, expose as follow, skin::ROOM_C},
    equilibrium::State,
};

/// `{"ask":"expose"}`: a packed butter in air that follows a course.
#[derive(Clone, Debug, Deserialize)]
pub struct ExposeRequest {
    /// The recipe; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// How it is sold.
    pub format: Format,
    /// The air.
    pub air: AirRequest,
    /// What it is packed in.
    #[serde(default)]
    pub parcel: ParcelRequest,
    /// Skin, °C, for the advice; 32.5 unless said otherwise.
    #[serde(default = "skin_c")]
    pub skin_c: f64,
}

/// The air: exactly one of `preset`, `constant_c` with `hours`, and `points`.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(default)]
pub struct AirRequest {
    /// A course from published measurements.
    pub preset: Option<Preset>,
    /// °C throughout.
    pub constant_c: Option<f64>,
    /// For how long, with `constant_c`; 24 unless said otherwise.
    pub hours: Option<f64>,
    /// Corners of a course: hour and °C, hours rising.
    pub points: Option<Vec<(f64, f64)>>,
}

/// What it is packed in.
#[derive(Clone, Debug, Deserialize)]
#[serde(default)]
pub struct ParcelRequest {
    /// The pack; absent: a jar, for a bar a wrap.
    pub pack: Option<Pack>,
    /// Fill of one pack, mL, 1 to 5000.
    pub volume_ml: f64,
    /// Height of the fill over its diameter, 0.05 to 20; absent: what is usual for the pack.
    pub slenderness: Option<f64>,
    /// Air whipped in, percent of the volume before, 0 to 300; absent: 60 for a whipped butter, else none.
    pub overrun_percent: Option<f64>,
    /// Packs that share a box, 1 to 1000.
    pub packs: u32,
    /// Foam around them, mm, 0 to 200.
    pub insulation_mm: f64,
    /// Cold packs in the box, g, 0 to 50 000.
    pub cold_pack_g: f64,
    /// Where they melt, °C, −25 to 30; 0 for water gel.
    pub cold_pack_c: f64,
    /// The butter before, °C.
    pub start_c: f64,
}

impl Default for ParcelRequest {
    fn default() -> Self {
        ParcelRequest {
            pack: None,
            volume_ml: 120.0,
            slenderness: None,
            overrun_percent: None,
            packs: 1,
            insulation_mm: 0.0,
            cold_pack_g: 0.0,
            cold_pack_c: 0.0,
            start_c: ROOM_C,
        }
    }
}

/// Air in a whipped butter unless said otherwise, percent of the volume before (common practice: 50 to 100).
const WHIPPED_PERCENT: f64 = 60.0;

/// The answer to [`ExposeRequest`].
#[derive(Clone, Debug, Serialize)]
pub struct ExposeAnswer {
    /// Whether it keeps its shape throughout.
    pub survives: bool,
    /// How it fares, in a sentence.
    pub sentence: String,
    /// What becomes of it afterwards.
    pub afterwards: String,
    /// What helps, best first; empty where it survives.
    pub advice: Vec<String>,
    /// The same parcel better packed, where it does not survive.
    pub packed_better: Vec<PackedBetter>,
    /// The course followed.
    pub course: Course,
    /// What happened on the way.
    #[serde(flatten)]
    pub fared: Fared,
    /// What the figures leave out.
    pub assumed: &'static str,
}

/// The same parcel better packed.
#[derive(Clone, Debug, Serialize)]
pub struct PackedBetter {
    /// What was added.
    pub words: String,
    /// Foam, mm.
    pub insulation_mm: f64,
    /// Cold packs, g.
    pub cold_pack_g: f64,
    /// When it starts to slump, hours; `null` where it does not.
    pub slumps_at_h: Option<f64>,
    /// Share of the mass that lost its structure, percent.
    pub lost_percent: f64,
}

const ASSUMED: &str = "Assumed: still air, one pack as a body of its size and surface, the same melting curve in both directions (a real fat lags behind it), no sun directly on the pack. Not checked against loggers in parcels.";

/// Works out [`ExposeRequest`].
pub(super) fn expose(request: ExposeRequest) -> Result<ExposeAnswer, Failure> {
    let course = course(&request.air)?;
    let parcel = parcel(&request.parcel, request.format)?;
    let skin_c = within(request.skin_c, SKIN_C, "skin_c", "°C")?;
    let (profile, _) = Profile::of(&recipe(&request.recipe)?.mixture(State::Settled));
    let format = request.format;
    let fared = follow(&profile, &parcel, &course, format);
    let survives = fared.slumps_at_h.is_none();
    // What is slack from the start no packing helps.
    let set = fared.slumps_at_h.is_none_or(|hours| hours > 0.0);
    let packed_better =
        if survives || !set { Vec::new() } else { packed_better(&profile, &parcel, &course, format) };
    Ok(ExposeAnswer {
        survives,
        sentence: sentence(&fared, &course),
        afterwards: afterwards(&fared, format, parcel.pack),
        advice: if survives { Vec::new() } else { advice(&fared, skin_c, &packed_better) },
        packed_better,
        course,
        fared,
        assumed: ASSUMED,
    })
}

fn course(air: &AirRequest) -> Result<Course, Failure> {
    let conflict = |message: &str| Err(Failure::new(ErrorKind::Conflict, "air", message));
    match (air.preset, air.constant_c, &air.points) {
        (Some(preset), None, None) => Ok(preset.course()),
        (None, Some(celsius), None) => {
            let celsius = within(celsius, AIR_C, "air.constant_c", "°C")?;
            let hours = within(air.hours.unwrap_or(24.0), HOURS, "air.hours", "h")?;
            Ok(Course {
                points: vec![(0.0, celsius), (hours, celsius)],
                words: format!("{celsius} °C for {hours} hours"),
                source: "as asked",
            })
        }
        (None, None, Some(points)) => listed(points),
        (None, None, None) => conflict(
            "the air is not given: name a `preset` such as parked-car-sun, a `constant_c` with `hours`, or `points` as [hour, °C]",
        ),
        _ => conflict("the air is given twice: keep one of `preset`, `constant_c` and `points`"),
    }
}

/// The most corners of a course.
const MOST_POINTS: usize = 1000;

fn listed(points: &[(f64, f64)]) -> Result<Course, Failure> {
    if points.len() < 2 || points.len() > MOST_POINTS {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            "air.points",
            format!("there are {} points: give 2 to {MOST_POINTS}, each [hour, °C]", points.len()),
        ));
    }
    let start = points[0].0;
    let mut last = f64::NEG_INFINITY;
    let mut corners = Vec::with_capacity(points.len());
    for (at, (hour, celsius)) in points.iter().enumerate() {
        within(*hour, HOUR, &format!("air.points[{at}][0]"), "h")?;
        within(*celsius, AIR_C, &format!("air.points[{at}][1]"), "°C")?;
        if *hour <= last {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                format!("air.points[{at}][0]"),
                format!(
                    "hour {hour} does not come after hour {last}: put the points in order, each hour once"
                ),
            ));
        }
        last = *hour;
        corners.push((hour - start, *celsius));
    }
    within(last - start, HOURS, "air.points", "h in all")?;
    Ok(Course { points: corners, words: "the course that you gave".to_owned(), source: "as asked" })
}

fn parcel(request: &ParcelRequest, format: Format) -> Result<Parcel, Failure> {
    let usual_overrun = if format == Format::Whipped { WHIPPED_PERCENT } else { 0.0 };
    let usual_pack = if format == Format::Bar { Pack::Wrap } else { Pack::Jar };
    let slenderness = request
        .slenderness
        .map(|slenderness| within(slenderness, SLENDERNESS, "parcel.slenderness", ""))
        .transpose()?;
    within(f64::from(request.packs), PACKS, "parcel.packs", "")?;
    Ok(Parcel {
        pack: request.pack.unwrap_or(usual_pack),
        volume_ml: within(request.volume_ml, FILL_ML, "parcel.volume_ml", "mL")?,
        slenderness,
        overrun_percent: within(
            request.overrun_percent.unwrap_or(usual_overrun),
            OVERRUN_PERCENT,
            "parcel.overrun_percent",
            "%",
        )?,
        packs: request.packs,
        insulation_mm: within(request.insulation_mm, FOAM_MM, "parcel.insulation_mm", "mm")?,
        cold_pack_g: within(request.cold_pack_g, COLD_PACK_G, "parcel.cold_pack_g", "g")?,
        cold_pack_c: within(request.cold_pack_c, COLD_PACK_C, "parcel.cold_pack_c", "°C")?,
        start_c: within(request.start_c, STORAGE_C, "parcel.start_c", "°C")?,
    })
}

/// The foam and the cold packs that are tried, mm and g a pack.
const BETTER: [(f64, f64); 3] = [(30.0, 0.0), (30.0, 300.0), (50.0, 800.0)];

fn packed_better(profile: &Profile, parcel: &Parcel, course: &Course, format: Format) -> Vec<PackedBetter> {
    BETTER
        .into_iter()
        .map(|(foam, cold)| (foam, cold * f64::from(parcel.packs)))
        .filter(|(foam, cold)| *foam > parcel.insulation_mm || *cold > parcel.cold_pack_g)
        .map(|(foam, cold)| {
            let insulation_mm = foam.max(parcel.insulation_mm);
            let cold_pack_g = cold.max(parcel.cold_pack_g);
            let fared = follow(profile, &Parcel { insulation_mm, cold_pack_g, ..*parcel }, course, format);
            let words = if cold_pack_g > 0.0 {
                format!("in {insulation_mm:.0} mm of foam with {cold_pack_g:.0} g of cold packs")
            } else {
                format!("in {insulation_mm:.0} mm of foam")
            };
            PackedBetter {
                words,
                insulation_mm,
                cold_pack_g,
                slumps_at_h: fared.slumps_at_h,
                lost_percent: fared.lost_percent,
            }
        })
        .collect()
}

fn sentence(fared: &Fared, course: &Course) -> String {
    let melted = fared.most_melted_percent;
    match fared.slumps_at_h {
        None if fared.lost_percent > 0.0 => format!(
            "It comes through {} with its shape; its outside softens ({:.0} % of it), and {melted:.0} % of its solids melt at most.",
            course.words, fared.lost_percent
        ),
        None => format!(
            "It comes through {} with its shape: {melted:.0} % of its solids melt at most.",
            course.words
        ),
        Some(hours) if hours <= 0.0 => {
            "It is too soft for its format from the start, whatever the air does.".to_owned()
        }
        Some(hours) => format!(
            "It starts to slump after {} of {}; {:.0} % of it loses its structure, and {melted:.0} % of its solids melt.",
            time(hours),
            course.words,
            fared.lost_percent
        ),
    }
}

/// Hours for a sentence.
fn time(hours: f64) -> String {
    let minutes = (60.0 * hours).round();
    if minutes < 100.0 {
        format!("{minutes:.0} minutes")
    } else if hours < 48.0 {
        format!("{hours:.1} hours")
    } else {
        format!("{:.1} days", hours / 24.0)
    }
}

/// Share of the solids, percent, at which all counts as melted.
const ALL_PERCENT: f64 = 99.0;

/// Share of the solids that may melt and set again before grains are to be feared, percent: ours.
const REGROWS_PERCENT: f64 = 100.0 / 3.0;

fn afterwards(fared: &Fared, format: Format, pack: Pack) -> String {
    if fared.slumps_at_h.is_none() {
        let words = if fared.most_melted_percent >= REGROWS_PERCENT {
            "It keeps its shape, but what melted sets again slowly on the crystals that are left: grains may show after some days."
        } else if fared.lost_percent > 0.0 {
            "It sets again as it was, but for a smoother or greasier skin where the outside softened."
        } else {
            "It stays as it was."
        };
        return words.to_owned();
    }
    if fared.slumps_at_h.is_some_and(|hours| hours <= 0.0) {
        return "It is afterwards what it was before: it never held its shape.".to_owned();
    }
    let all = fared.most_melted_percent >= ALL_PERCENT;
    let mut words = match format {
        Format::Pot if all => {
            "It sets again in its pack, slowly and with nothing to seed it, so coarse: expect grains, a sunken middle, or softness for days."
        }
        Format::Whipped => "It sets again, but without its air: lower in the jar, dense and glossy.",
        Format::Pot => {
            "It sets again in its pack, slowly and on what crystals are left, so coarse: expect grains, a sunken middle or oil on top."
        }
        Format::Bar => "It sets again out of shape, and may be grainy or bloomed.",
    }
    .to_owned();
    if fared.poured {
        words.push_str(if pack.leaks() {
            " All of it poured: paper and board leak."
        } else {
            " All of it poured: only a tight lid keeps it in."
        });
    }
    words
}

fn advice(fared: &Fared, skin_c: f64, packed_better: &[PackedBetter]) -> Vec<String> {
    if fared.slumps_at_h.is_some_and(|hours| hours <= 0.0) {
        return vec![
            "Recipe: ask for a rework to the storage that it sees first; what does not hold there holds in no parcel.".to_owned(),
        ];
    }
    let mut advice = Vec::new();
    let outside_c = fared.hottest_rind_c;
    let no_butter = outside_c >= skin_c;
    if no_butter {
        advice.push(format!(
            "Packed like this the outer tenth of it reaches {outside_c:.1} °C, as warm as skin ({skin_c} °C) or warmer: no butter that melts on skin comes through that, whatever the recipe."
        ));
    } else {
        advice.push(format!(
            "Packed like this the outer tenth of it reaches {outside_c:.1} °C, below skin ({skin_c} °C): a rework that holds at {:.0} °C can come through.",
            outside_c.ceil()
        ));
    }
    match packed_better.iter().find(|better| better.slumps_at_h.is_none()) {
        Some(better) => advice.push(format!("Packaging: {} it keeps its shape throughout.", better.words)),
        None => {
            let longest =
                packed_better.iter().filter_map(|better| Some((better.slumps_at_h?, better))).next_back();
            if let Some((hours, better)) = longest {
                advice.push(format!(
                    "Packaging alone does not do: even {} it slumps after {}.",
                    better.words,
                    time(hours)
                ));
            }
        }
    }
    if let Some(hours) = fared.slumps_at_h {
        advice.push(format!(
            "Speed: as it is packed, it must be out of the heat within {}; if it is sent, then early in the week and to a pick-up point indoors.",
            time(hours)
        ));
    }
    advice.push("Season: send it in the cool months, and say so in the shop.".to_owned());
    if no_butter {
        advice.push(
            "Another product: a lotion or cream, an emulsion with water, does not depend on melting and stands such heat (it needs a preservative and its own safety assessment)."
                .to_owned(),
        );
    }
    advice
}
