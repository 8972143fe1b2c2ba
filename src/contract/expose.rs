//! `expose`: how a packed butter fares in hot air.

use serde::{Deserialize, Serialize};

use super::{
    ErrorKind, Failure, Item,
    check::within,
    item::{recipe, skin_c},
    ranges::*,
};
use crate::{
    behaviour::{
        Air, Course, Exposure, Format, MeltingProfile, Pack, Parcel, Preset,
        dab::ROOM_C,
        expose as follow,
        judgement::{Advice, Afterwards, Journey, Packing},
    },
    equilibrium::CrystalState,
};

/// `{"ask":"expose"}`: a packed butter in air that follows a course.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
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
#[cfg_attr(test, derive(ts_rs::TS))]
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
#[cfg_attr(test, derive(ts_rs::TS))]
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
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct ExposeAnswer {
    /// Whether it keeps its shape throughout.
    pub survives: bool,
    /// How it comes through.
    pub journey: Journey,
    /// What becomes of it afterwards.
    pub afterwards: Vec<Afterwards>,
    /// What helps, best first; empty where it survives.
    pub advice: Vec<Advice>,
    /// The same parcel better packed, where it does not survive.
    pub packed_better: Vec<PackedBetter>,
    /// The course followed.
    pub course: Course,
    /// What happened on the way.
    #[serde(flatten)]
    pub exposure: Exposure,
}

/// The same parcel better packed.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct PackedBetter {
    /// What is around it.
    pub packing: Packing,
    /// Foam, mm.
    pub insulation_mm: f64,
    /// Cold packs, g.
    pub cold_pack_g: f64,
    /// When it starts to slump, hours; `null` where it does not.
    pub slumps_at_h: Option<f64>,
    /// Share of the mass that lost its structure, percent.
    pub lost_percent: f64,
}

/// Works out [`ExposeRequest`].
pub(super) fn expose(request: ExposeRequest) -> Result<ExposeAnswer, Failure> {
    let course = course(&request.air)?;
    let parcel = parcel(&request.parcel, request.format)?;
    let skin_c = within(request.skin_c, SKIN_C, "skin_c", "skin", "°C")?;
    let (profile, _) = MeltingProfile::of(&recipe(&request.recipe)?.mixture(CrystalState::Settled));
    let format = request.format;
    let exposure = follow(&profile, &parcel, &course, format);
    let survives = exposure.slumps_at_h.is_none();
    // What is slack from the start no packing helps.
    let set = exposure.slumps_at_h.is_none_or(|hours| hours > 0.0);
    let packed_better =
        if survives || !set { Vec::new() } else { packed_better(&profile, &parcel, &course, format) };
    let packed: Vec<(Packing, Option<f64>)> =
        packed_better.iter().map(|better| (better.packing, better.slumps_at_h)).collect();
    Ok(ExposeAnswer {
        survives,
        journey: Journey::of(&exposure, course.air),
        afterwards: Afterwards::of(&exposure, format, parcel.pack),
        advice: Advice::of(&exposure, skin_c, &packed),
        packed_better,
        course,
        exposure,
    })
}

fn course(air: &AirRequest) -> Result<Course, Failure> {
    let conflict = |at: &str, message: &str| Err(Failure::new(ErrorKind::Conflict, at, message));
    match (air.preset, air.constant_c, &air.points) {
        (Some(preset), None, None) => Ok(preset.course()),
        (None, Some(celsius), None) => {
            let celsius = within(celsius, AIR_C, "air.constant_c", "the air on its way", "°C")?;
            let hours = within(air.hours.unwrap_or(24.0), HOURS, "air.hours", "the time on its way", "h")?;
            Ok(Course {
                points: vec![(0.0, celsius), (hours, celsius)],
                air: Air::Constant { at_c: celsius, for_h: hours },
                source: "as asked",
            })
        }
        (None, None, Some(points)) => listed(points),
        (None, None, None) => conflict(
            "air",
            "the air on its way is not given: name a place such as parked-car-sun, one temperature, or points of hour and °C",
        ),
        (Some(_), Some(_), _) => conflict("air.constant_c", AIR_TWICE),
        _ => conflict("air.points", AIR_TWICE),
    }
}

/// What is wrong where a place, one temperature, and points are more than one.
pub(super) const AIR_TWICE: &str =
    "the air on its way is given twice: keep one of a place, one temperature, and points";

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
        within(*hour, HOUR, &format!("air.points[{at}][0]"), &format!("the hour of point {}", at + 1), "h")?;
        within(
            *celsius,
            AIR_C,
            &format!("air.points[{at}][1]"),
            &format!("the air of point {}", at + 1),
            "°C",
        )?;
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
    within(last - start, HOURS, "air.points", "the time on its way", "h in all")?;
    Ok(Course { points: corners, air: Air::Listed, source: "as asked" })
}

fn parcel(request: &ParcelRequest, format: Format) -> Result<Parcel, Failure> {
    let usual_overrun = if format == Format::Whipped { WHIPPED_PERCENT } else { 0.0 };
    let usual_pack = match format {
        Format::Bar => Pack::Wrap,
        Format::Stick => Pack::Tube,
        Format::Whipped | Format::Pot => Pack::Jar,
    };
    let slenderness = request
        .slenderness
        .map(|slenderness| {
            within(
                slenderness,
                SLENDERNESS,
                "parcel.slenderness",
                "the height of the fill over its width",
                "",
            )
        })
        .transpose()?;
    within(f64::from(request.packs), PACKS, "parcel.packs", "the number of packs in the box", "")?;
    Ok(Parcel {
        pack: request.pack.unwrap_or(usual_pack),
        volume_ml: within(request.volume_ml, FILL_ML, "parcel.volume_ml", "the fill of a pack", "mL")?,
        slenderness,
        overrun_percent: within(
            request.overrun_percent.unwrap_or(usual_overrun),
            OVERRUN_PERCENT,
            "parcel.overrun_percent",
            "the air whipped in",
            "%",
        )?,
        packs: request.packs,
        insulation_mm: within(
            request.insulation_mm,
            FOAM_MM,
            "parcel.insulation_mm",
            "the foam around the parcel",
            "mm",
        )?,
        cold_pack_g: within(request.cold_pack_g, COLD_PACK_G, "parcel.cold_pack_g", "the cold packs", "g")?,
        cold_pack_c: within(
            request.cold_pack_c,
            COLD_PACK_C,
            "parcel.cold_pack_c",
            "the melting point of the cold packs",
            "°C",
        )?,
        start_c: within(request.start_c, STORAGE_C, "parcel.start_c", "the butter before it is sent", "°C")?,
    })
}

/// The foam and the cold packs that are tried, mm and g for one pack: for many, by the surface of their
/// box, through which heat comes in.
const BETTER: [(f64, f64); 3] = [(30.0, 0.0), (30.0, 300.0), (50.0, 800.0)];

fn packed_better(
    profile: &MeltingProfile,
    parcel: &Parcel,
    course: &Course,
    format: Format,
) -> Vec<PackedBetter> {
    let surfaces = libm::cbrt(f64::from(parcel.packs) * f64::from(parcel.packs));
    // Cold packs are sold by the 100 g.
    let for_all = |cold: f64| 100.0 * libm::ceil(0.01 * cold * surfaces - 1e-9);
    BETTER
        .into_iter()
        .map(|(foam, cold)| (foam, for_all(cold)))
        .filter(|(foam, cold)| *foam > parcel.insulation_mm || *cold > parcel.cold_pack_g)
        .map(|(foam, cold)| {
            let insulation_mm = foam.max(parcel.insulation_mm);
            let cold_pack_g = cold.max(parcel.cold_pack_g);
            let exposure = follow(profile, &Parcel { insulation_mm, cold_pack_g, ..*parcel }, course, format);
            PackedBetter {
                packing: Packing::of(insulation_mm, cold_pack_g),
                insulation_mm,
                cold_pack_g,
                slumps_at_h: exposure.slumps_at_h,
                lost_percent: exposure.lost_percent,
            }
        })
        .collect()
}
