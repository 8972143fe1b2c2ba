//! `behave`: what a maker notices of a recipe in its climate.

use serde::{Deserialize, Serialize};

use super::{
    ErrorBand, Failure, Item, UsualLimits,
    dab::{self, DabAnswer, DabRequest},
    item::recipe,
    remarks::{Remark, RemarksFrom, remarks},
    wishes::misses,
};
use crate::{
    behaviour::{
        self, Firmness, Fresh, Making, Melting, MeltingProfile, Pack, Quantity, Solids, Where, Wishes,
        judgement::{
            self, Caution, Diagnosis, Gap, Judged, MARGIN_K, Miss, Mood, PackVerdict, Settling, SkinFeel,
            Step,
        },
    },
    equilibrium::CrystalState,
    surety::{LotBand, Odds, Spread, Unknowns},
};

/// `{"ask":"behave"}`; its wishes (`format`, `storage_c`, ..) are read as [`super::WishesRequest`].
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct BehaveRequest {
    /// The recipe; percentages sum to 100 within 0.01.
    pub recipe: Vec<Item>,
    /// What it is packed in; absent: not judged.
    pub pack: Option<Pack>,
    /// The dab whose melting on skin is followed.
    #[serde(default)]
    pub dab: DabRequest,
}

/// The answer to [`BehaveRequest`].
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct BehaveAnswer {
    /// Whether it does what is wanted.
    pub verdict: Verdict,
    /// How likely a batch does what is wanted, if lots vary as published.
    pub odds: Odds,
    /// What it is like at each of the temperatures that decide.
    pub places: Places,
    /// The wishes that are not met; empty when all are.
    pub misses: Vec<Miss>,
    /// What keeps the format's shape, and how much of it that takes.
    pub holding: Holding,
    /// Where the jar stops holding its shape, °C: the structure falls to the least that the format needs;
    /// `null` where it never holds.
    pub softening_c: Option<f64>,
    /// The band of the same: nine in ten of its lots lie within, °C.
    pub softening_band_c: (Option<f64>, Option<f64>),
    /// Slip point, °C; `null` where the recipe is liquid at every temperature considered.
    pub slip_c: Option<f64>,
    /// Clear point, °C; `null` likewise.
    pub clear_c: Option<f64>,
    /// The band of the slip point, °C; `null` where there is none.
    pub slip_band_c: Option<LotBand>,
    /// The band of the clear point, °C; likewise.
    pub clear_band_c: Option<LotBand>,
    /// How far solids and both points may be off, either way.
    pub band: ErrorBand,
    /// How much room the climate leaves.
    pub room: Room,
    /// What is left on skin.
    pub residue: Residue,
    /// How fast a dab melts.
    pub dab: DabAnswer,
    /// Whether the pack holds it; `null` where none was named.
    pub pack: Option<PackVerdict>,
    /// The temperatures that a maker needs.
    pub making: Making,
    /// How to make it, step by step.
    pub steps: Vec<Step>,
    /// What to be careful of while it is hot.
    pub cautions: Vec<Caution>,
    /// What it is like fresh, before its crystals settle; everything else here is of the settled butter.
    pub fresh: Fresh,
    /// What to expect of it in its first days.
    pub settling: Vec<Settling>,
    /// The signs of trouble that it is prone to in this climate.
    pub troubles: Vec<Diagnosis>,
    /// What stands for each cap of a rework that was not set.
    pub usual_limits: UsualLimits,
    /// Solids over temperature.
    pub curve: Curve,
    /// The largest violation of the optimality conditions over every state solved for this answer.
    pub certificate: f64,
    /// How many equilibria were solved for it.
    #[serde(skip)]
    pub states: usize,
}

/// What keeps a format's shape.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Holding {
    /// The figure that decides: `structure`, or in a whipped butter its `crystals` but wax.
    pub by: Quantity,
    /// The least of it, percent, at which the shape is kept.
    pub least_percent: f64,
}

/// The verdict: whether it does what is wanted, before it is a number.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Verdict {
    /// `good`, `doubtful` or `bad`.
    pub mood: Mood,
    /// Whether it holds, what it does on skin, what is not as wanted.
    pub findings: Vec<judgement::VerdictFinding>,
    /// What else there is to say: warnings, and what was not checked.
    pub remarks: Vec<Remark>,
}

/// The recipe at the temperatures that decide.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Places {
    /// The coldest storage.
    pub coldest: Place,
    /// The middle of the storage range.
    pub usual: Place,
    /// The hottest storage.
    pub hottest: Place,
    /// On skin.
    pub skin: Place,
}

/// The recipe at one temperature.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Place {
    /// °C.
    pub at_c: f64,
    /// Solid fat content, percent by mass.
    pub solid_percent: f64,
    /// The band of the same: nine in ten of its lots lie within.
    pub solid_band_percent: LotBand,
    /// Structure, percent: solids counted by what they do; a wax crystal counts several times.
    pub structure_percent: f64,
    /// The band of the same: nine in ten of its lots lie within.
    pub structure_band_percent: (f64, f64),
    /// The class that the structure falls in.
    pub firmness: Firmness,
    /// The yield value that Haighton's scale gives a fat of this class, kPa: from and to, `null` where the
    /// scale ends.
    pub yield_value_kpa: (Option<f64>, Option<f64>),
    /// The softest and the hardest class within the band.
    pub firmness_band: (Firmness, Firmness),
    /// Oil that the crystals cannot hold, percent by mass of the whole.
    pub weeping_oil_percent: f64,
    /// Whether the format keeps its shape here.
    pub holds: bool,
}

/// The room that a climate leaves between storage and skin.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Room {
    /// From the hottest storage to skin, K; negative where storage is warmer than skin.
    pub storage_to_skin_k: f64,
    /// From the hottest storage to where the jar stops holding its shape, K; `null` where it never holds.
    pub storage_to_softening_k: Option<f64>,
    /// How far above storage a butter should hold, K (common practice).
    pub usual_margin_k: f64,
    /// What that amounts to.
    pub gap: Gap,
}

/// What is left on skin, percent by mass.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Residue {
    /// How it feels.
    pub feel: SkinFeel,
    /// Solids that skin does not melt: felt as waxy from about 3.5.
    pub waxy_percent: f64,
    /// Liquid: felt as oily until it is rubbed in.
    pub oily_percent: f64,
}

/// Solids over temperature, column by column.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Curve {
    /// °C, rising.
    pub at_c: Vec<f64>,
    /// Solid fat content, percent by mass.
    pub solid_percent: Vec<f64>,
    /// Structure, percent.
    pub structure_percent: Vec<f64>,
    /// Crystals but wax, percent by mass: what holds air.
    pub crystals_percent: Vec<f64>,
    /// The class that the structure falls in.
    pub firmness: Vec<Firmness>,
}

/// Works out [`BehaveRequest`].
pub(super) fn behave(request: BehaveRequest, wishes: Wishes) -> Result<BehaveAnswer, Failure> {
    let recipe = recipe(&request.recipe)?;
    let mixture = recipe.mixture(CrystalState::Settled);
    let (mut melting, profile) = MeltingProfile::sampled(&mixture);
    let dab = dab::follow(&request.dab, &profile, &wishes)?;
    let mut solids_at = |place: Where| melting.solids(wishes.temperature_c(place));
    let [coldest, usual, hottest, skin] =
        [Where::Coldest, Where::Usual, Where::Hottest, Where::Skin].map(|place| (place, solids_at(place)));
    let misses = misses(&wishes, |place, quantity| {
        let solids = match place {
            Where::Coldest => &coldest.1,
            Where::Usual => &usual.1,
            Where::Hottest => &hottest.1,
            Where::Skin => &skin.1,
        };
        quantity.of(solids)
    });
    let (clear_c, slip_c) = (melting.clear_c(), melting.slip_c());
    let softening_c = melting.softens_c(wishes.format.least_percent(), wishes.format.held_by().figure());
    let spread = Unknowns::of(&recipe).spread(&wishes, &mut melting);
    let fresh_mixture = recipe.mixture(CrystalState::Fresh);
    let mut unsettled = Melting::of(&fresh_mixture);
    let settled = |place: Where| {
        [&coldest, &usual, &hottest, &skin]
            .into_iter()
            .find(|(at, _)| *at == place)
            .map_or(coldest.1, |it| it.1)
    };
    let fresh = Fresh::of(&mut unsettled, settled, &wishes);
    let fresh_to_c = unsettled.softens_c(wishes.format.least_percent(), wishes.format.held_by().figure());
    let gels = super::remarks::gels_oil(&recipe);
    let (mood, findings) = judgement::verdict(&Judged {
        wishes: &wishes,
        softening_c,
        skin: &skin.1,
        powder_percent: hottest.1.powder,
        gels,
        usual: Firmness::of(usual.1.structure_percent()),
        too_hard_in_cold: wishes.too_hard(Firmness::of(coldest.1.structure_percent())),
        misses: !misses.is_empty(),
        holds: spread.odds.holds,
        fresh_holds: fresh.hottest.holds,
        fresh_to_c,
        perfume_percent: super::remarks::perfume_percent(&recipe),
    });
    let pack = request.pack.map(|pack| PackVerdict::of(pack, &hottest.1, wishes.hottest_c));
    let remarks = remarks(&RemarksFrom {
        wishes: &wishes,
        recipe: &recipe,
        profile: &profile,
        hottest: &hottest.1,
        hottest_band: spread.place(Where::Hottest).structure_percent,
        softening_c,
        softest_c: spread.softening_c.map(|(softest, _)| softest),
        slip_c,
    });
    let usual_c = wishes.temperature_c(Where::Usual);
    let made = behaviour::MakingFrom {
        profile: &profile,
        settled: &mut melting,
        fresh: &mut unsettled,
        format: wishes.format,
        usual_c,
    };
    let making = behaviour::making(made);
    let place = |(place, solids): (Where, Solids)| self::place(&wishes, place, &solids, &spread);
    Ok(BehaveAnswer {
        verdict: Verdict { mood, findings, remarks },
        odds: spread.odds.clone(),
        places: Places {
            coldest: place(coldest),
            usual: place(usual),
            hottest: place(hottest),
            skin: place(skin),
        },
        misses,
        holding: Holding { by: wishes.format.held_by(), least_percent: wishes.format.least_percent() },
        softening_c,
        softening_band_c: (spread.softening_c.map(|band| band.0), spread.softening_c.map(|band| band.1)),
        slip_c,
        clear_c,
        slip_band_c: spread.slip_c,
        clear_band_c: spread.clear_c,
        band: ErrorBand::of_spread(&recipe, &spread),
        room: Room {
            storage_to_skin_k: wishes.skin_c - wishes.hottest_c,
            storage_to_softening_k: softening_c.map(|c| c - wishes.hottest_c),
            usual_margin_k: MARGIN_K,
            gap: Gap::of(wishes.hottest_c, wishes.skin_c),
        },
        residue: Residue {
            feel: SkinFeel::of(&skin.1),
            waxy_percent: skin.1.fat_percent(),
            oily_percent: (100.0 - skin.1.fat_percent() - skin.1.powder).max(0.0),
        },
        dab,
        pack,
        steps: judgement::steps(&making, wishes.format, fresh.firms()),
        cautions: judgement::cautions(making.melt_out_c, super::remarks::is_volatile(&recipe)),
        making,
        settling: judgement::settles(&fresh, slip_c),
        fresh,
        troubles: judgement::prone_to(&profile, &wishes)
            .into_iter()
            // Each is of crystals that are too few, which a gel makes up for, or says nothing of a gel.
            .filter(|_| !gels)
            .map(|sign| judgement::diagnose(&profile, &wishes, sign))
            .collect(),
        usual_limits: UsualLimits::of(&recipe, wishes.format),
        curve: Curve {
            at_c: profile.at_c().to_vec(),
            solid_percent: profile.solids().iter().map(Solids::fat_percent).collect(),
            structure_percent: profile.solids().iter().map(Solids::structure_percent).collect(),
            crystals_percent: profile.solids().iter().map(Solids::crystals_percent).collect(),
            firmness: profile
                .solids()
                .iter()
                .map(|solids| Firmness::of(solids.structure_percent()))
                .collect(),
        },
        certificate: melting.certificate().max(unsettled.certificate()),
        states: melting.states() + unsettled.states(),
    })
}

fn place(wishes: &Wishes, place: Where, solids: &Solids, spread: &Spread) -> Place {
    let structure_percent = solids.structure_percent();
    let bands = spread.place(place);
    let band = bands.structure_percent;
    let firmness = Firmness::of(structure_percent);
    Place {
        at_c: wishes.temperature_c(place),
        solid_percent: solids.fat_percent(),
        solid_band_percent: bands.solid_percent,
        structure_percent,
        structure_band_percent: band,
        firmness,
        yield_value_kpa: firmness.yield_value_kpa(),
        firmness_band: (Firmness::of(band.0), Firmness::of(band.1)),
        weeping_oil_percent: solids.weeping_oil_percent(),
        holds: wishes.format.holds(solids),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::Format;

    /// The work is counted, not timed: 161 states draw the curve, and all else is read from what they
    /// bracket.
    #[test]
    fn few_equilibria_are_solved_for_an_answer() {
        let item = |id: &str, percent| Item { id: Some(id.to_owned()), percent, ..Item::default() };
        for (format, hottest_c) in [(Format::Whipped, 30.0), (Format::Pot, 24.7), (Format::Bar, 41.3)] {
            let recipe = vec![
                item("shea-butter", 50.0),
                item("cocoa-butter", 15.0),
                item("coconut-oil", 15.0),
                item("sweet-almond-oil", 17.0),
                item("beeswax", 3.0),
            ];
            let wishes =
                Wishes { format, coldest_c: 16.0, hottest_c, skin_c: 32.5, firmness: None, on_skin: None };
            let request = BehaveRequest { recipe, pack: None, dab: DabRequest::default() };
            let answer = behave(request, wishes).expect("answers");
            assert!(answer.states < 250, "{format:?}: {}", answer.states);
            assert!(answer.certificate < 1e-9, "{}", answer.certificate);
        }
    }

    /// A picture drawn from the curve and the line of what holds says what the verdict says: where they
    /// cross, the jar gives way.
    #[test]
    fn the_curve_crosses_what_holds_where_the_butter_softens() {
        let item = |id: &str, percent| Item { id: Some(id.to_owned()), percent, ..Item::default() };
        for format in [Format::Whipped, Format::Pot, Format::Bar, Format::Stick] {
            let recipe =
                vec![item("shea-butter", 60.0), item("sweet-almond-oil", 30.0), item("beeswax", 10.0)];
            let wishes = Wishes {
                format,
                coldest_c: 16.0,
                hottest_c: 30.0,
                skin_c: 32.5,
                firmness: None,
                on_skin: None,
            };
            let request = BehaveRequest { recipe, pack: None, dab: DabRequest::default() };
            let answer = behave(request, wishes).expect("answers");
            let BehaveAnswer { holding, curve, softening_c, .. } = answer;
            let column = match holding.by {
                Quantity::Crystals => &curve.crystals_percent,
                _ => &curve.structure_percent,
            };
            let softening_c = softening_c.expect("it holds somewhere");
            let above = curve.at_c.partition_point(|at_c| *at_c < softening_c);
            assert!(column[above - 1] >= holding.least_percent, "{format:?} {softening_c}");
            assert!(column[above] <= holding.least_percent, "{format:?} {softening_c}");
        }
    }
}
