//! What the numbers of a request and of a link may be, from and to: each range once,
//! for the questions and for links.

use crate::{recipe, rework};

/// The least and the most.
pub(super) type Range = (f64, f64);

/// Storage, °C: from a freezer to a dashboard.
pub(super) const STORAGE_C: Range = (-20.0, 60.0);
/// Skin, °C.
pub(super) const SKIN_C: Range = (20.0, 40.0);
/// Any share, percent.
pub(super) const PERCENT: Range = (0.0, 100.0);
/// The most wax that a rework may be allowed, percent.
pub(super) const WAX_PERCENT: Range = (0.0, rework::MOST_WAX_PERCENT);
/// The step of the scale that a rework works in, percent.
pub(super) const STEP_PERCENT: Range = rework::STEP_PERCENT;
/// How many lines may change.
pub(super) const CHANGES: Range = (*rework::CHANGES.start() as f64, *rework::CHANGES.end() as f64);
/// Points of margin that a link of version 1 may ask for.
pub(super) const MARGIN_POINTS: Range = (0.0, 20.0);
/// After how many equilibria a search may be told to stop: from enough for a first answer.
pub(super) const WORK: Range = (1_000.0, 1e12);
/// Price of a kilogram, in any currency.
pub(super) const PRICE: Range = (0.0, 1e9);
/// A batch that is made, g.
pub(super) const MADE_G: Range = (1.0, 1e6);
/// What of it is used, or melted in, or the step of the scale, g; how they go together, the rescue tells.
pub(super) const USED_G: Range = (0.0, 1e7);
/// A dose of a hardener, percent.
pub(super) const DOSE_PERCENT: Range = (0.0, 50.0);
/// Air on the way, °C.
pub(super) const AIR_C: Range = (-40.0, 100.0);
/// Time on the way, h.
pub(super) const HOURS: Range = (0.01, 1000.0);
/// An hour of a course.
pub(super) const HOUR: Range = (-10_000.0, 10_000.0);
/// How far apart the hours of a course are at least, h: a link carries thousandths, and what it rounds to one
/// hour would not be read back.
pub(super) const HOURS_APART: f64 = 0.002;
/// Fill of one pack, mL.
pub(super) const FILL_ML: Range = (1.0, 5000.0);
/// Foam around a parcel, mm.
pub(super) const FOAM_MM: Range = (0.0, 200.0);
/// Cold packs in a parcel, g.
pub(super) const COLD_PACK_G: Range = (0.0, 50_000.0);
/// A stated slip point, °C.
pub(super) const MELTS_C: Range = (*recipe::STATABLE_C.start(), *recipe::STATABLE_C.end());
/// How much higher a lot's crystals melt than on record, K.
pub(super) const LOT_SHIFT_K: Range = (-recipe::MOST_SHIFT_K, recipe::MOST_SHIFT_K);
/// The natural logarithm of how many times as much of a lot crystallises.
pub(super) const LOT_SHARE_LOG: Range = (-1.5, 1.5);
/// What is left unknown of a lot's shift, K.
pub(super) const LOT_SHIFT_LEFT_K: Range = (0.0, 5.0);
/// What is left unknown of its share.
pub(super) const LOT_SHARE_LEFT_LOG: Range = (0.0, 1.0);
/// Where a pot is looked at, °C: from a freezer to a water bath.
pub(super) const SEEN_C: Range = (-20.0, 100.0);
/// What of a pot a laboratory finds solid, percent.
pub(super) const SEEN_SOLID_PERCENT: Range = (0.1, 99.0);
/// How two figures go together.
pub(super) const TOGETHER: Range = (-1.0, 1.0);
/// Where solids are measured, °C.
pub(super) const MEASURED_C: Range = (*recipe::MEASURABLE_C.start(), *recipe::MEASURABLE_C.end());
/// Where cold packs melt, °C.
pub(super) const COLD_PACK_C: Range = (-25.0, 30.0);
/// Packs that share a box.
pub(super) const PACKS: Range = (1.0, 1000.0);
/// Height of a fill over its diameter.
pub(super) const SLENDERNESS: Range = (0.05, 20.0);
/// Air whipped in, percent of the volume before.
pub(super) const OVERRUN_PERCENT: Range = (0.0, 300.0);
/// A batch to weigh, g.
pub(super) const BATCH_G: Range = (0.01, 1e7);
/// Jars to fill.
pub(super) const JARS: Range = (1.0, 1e5);
/// The step of a scale, in its unit.
pub(super) const SCALE_STEP: Range = (1e-4, 1000.0);
/// A dab on skin, g.
pub(super) const DAB_G: Range = (0.01, 100.0);
/// Its thickness, mm.
pub(super) const FILM_MM: Range = (0.1, 10.0);
