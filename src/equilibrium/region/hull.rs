//! A region of mixtures, corner by corner: moles, the ends of K, and the sums over a phase that bounds are
//! made of.

#![allow(clippy::needless_range_loop, reason = "corners of several arrays go hand in hand")]

use std::ops::Range;

use super::{
    affine::{Affine, Amounts, value},
    section::{ABOUT, Weighting},
    slice::{NOTHING_LEFT, sums_at},
    view::View,
};
use crate::{
    equilibrium::model::PhaseCorrection,
    extremes::{greater, lesser},
    substances::OuterChains,
};

/// The most corners.
pub(crate) const CORNERS: usize = 4;

/// Beyond this K nothing is bounded: below it no product overflows, so that every comparison is one of
/// numbers.
const MOST_K: f64 = 1e90;

/// A figure at each corner; the last corner is repeated where there are fewer.
pub(super) type PerCorner = [f64; CORNERS];

/// The end at which K is least and most is left out of the crystals: so dissolved moles are greatest, and
/// solids least.
pub(super) const LOW: usize = 0;
/// The end at which K is greatest and least is left out.
pub(super) const HIGH: usize = 1;

/// A solute over the region.
struct HullSolute {
    moles: PerCorner,
    /// K at either end.
    k: [f64; 2],
    /// What a mole of its solid counts for.
    weight: f64,
}

/// A phase over the region.
pub(super) struct HullPhase {
    /// Where its solutes lie.
    members: Range<usize>,
    /// σ in the centre.
    pub(super) sigma: f64,
    /// The share that may crystallise, at either end.
    pub(super) inside: [f64; 2],
    /// Whether both ends are one.
    pub(super) is_fixed: bool,
    pub(super) moles: PerCorner,
    /// Moles times weight.
    pub(super) weighted: PerCorner,
    /// Σ n K at either end, the moles of liquid below which it appears.
    pub(super) onset: [PerCorner; 2],
}

impl HullPhase {
    /// Whether it has one member.
    pub(super) fn is_pure(&self) -> bool {
        self.members.len() == 1
    }

    /// The sums where σ is 0, so that every q is 1.
    pub(super) fn all_dissolved(&self, end: usize) -> Sums {
        Sums { dissolved: self.moles, saturated: self.onset[end], weighted: self.weighted }
    }
}

/// Sums over a phase at one σ, with q = 1/(1 + σK): Σ n q, Σ n K q and Σ w n q.
#[derive(Clone, Copy, Default)]
pub(super) struct Sums {
    pub(super) dissolved: PerCorner,
    pub(super) saturated: PerCorner,
    pub(super) weighted: PerCorner,
}

/// How those fall with σ: Σ n K q², Σ n K² q² and Σ w n K q².
#[derive(Clone, Copy, Default)]
pub(super) struct Falls {
    pub(super) dissolved: PerCorner,
    pub(super) saturated: PerCorner,
    pub(super) weighted: PerCorner,
}

/// A region of mixtures.
#[derive(Default)]
pub(super) struct Hull {
    /// The phases, but for those that are absent down to `down_to` moles of liquid: they belong to the
    /// solvent.
    pub(super) phases: Vec<HullPhase>,
    pub(super) down_to: f64,
    /// The share of each corner in a mean over them.
    shares: PerCorner,
    solutes: Vec<HullSolute>,
    pub(super) solvent: PerCorner,
    pub(super) powder: PerCorner,
    pub(super) mass: PerCorner,
}

pub(super) fn least(figures: &PerCorner) -> f64 {
    lesser(lesser(figures[0], figures[1]), lesser(figures[2], figures[3]))
}

pub(super) fn most(figures: &PerCorner) -> f64 {
    greater(greater(figures[0], figures[1]), greater(figures[2], figures[3]))
}

/// Adds so many times `figures`. It is written out, since the page's engine is compiled for size, which
/// leaves loops and calls as they are.
#[inline(always)]
pub(super) fn add_times(sum: &mut PerCorner, factor: f64, figures: &PerCorner) {
    sum[0] += factor * figures[0];
    sum[1] += factor * figures[1];
    sum[2] += factor * figures[2];
    sum[3] += factor * figures[3];
}

/// A figure at each corner.
#[inline(always)]
fn per_corner(parts: &Affine, at: &[Amounts; CORNERS]) -> PerCorner {
    [value(parts, &at[0]), value(parts, &at[1]), value(parts, &at[2]), value(parts, &at[3])]
}

impl Hull {
    /// Takes up the mixtures between `corners`, of which there must be one to four. Phases that are absent in
    /// the centre are left out if they are absent everywhere down to `down_to` moles of liquid. `None` where
    /// K is beyond all measure.
    pub(super) fn take_up(
        &mut self,
        view: &View,
        down_to: f64,
        corners: &[Amounts],
        weighting: &Weighting,
    ) -> Option<()> {
        let View { slice, gathered, solved, .. } = view;
        let mut at = [[0.0; 3]; CORNERS];
        for (number, corner) in at.iter_mut().enumerate() {
            *corner = *corners.get(number).or(corners.last())?;
        }
        self.shares = [0.0; CORNERS];
        for share in self.shares.iter_mut().take(corners.len()) {
            *share = 1.0 / corners.len() as f64;
        }
        let per_corner = |parts: &Affine| per_corner(parts, &at);
        self.solutes.clear();
        self.phases.clear();
        self.down_to = down_to;
        self.solvent = per_corner(&gathered.solvent);
        self.powder = per_corner(&slice.powder);
        self.mass = per_corner(&slice.mass);
        for (index, members) in gathered.phases.iter().enumerate() {
            let ends = CorrectionExtremes::of(view, index, &at);
            let sigma = solved.sigma[index];
            if sigma <= 0.0 {
                // Sums of moles are affine in the amounts, as those of one solute are.
                let (mut moles, mut onset) = ([0.0; 4], [0.0; 4]);
                for solute in members.clone() {
                    let parts = &gathered.moles[solute];
                    add_times(&mut moles, 1.0, parts);
                    add_times(&mut onset, ends.k(view, solute)[HIGH], parts);
                }
                if most(&per_corner(&onset)) <= down_to {
                    add_times(&mut self.solvent, 1.0, &per_corner(&moles));
                    continue;
                }
            }
            let start = self.solutes.len();
            let mut phase = HullPhase {
                members: start..start + members.len(),
                sigma,
                inside: [1.0 - ends.left_out[1], 1.0 - ends.left_out[0]],
                is_fixed: ends.correction.is_none(),
                moles: [0.0; CORNERS],
                weighted: [0.0; CORNERS],
                onset: [[0.0; CORNERS]; 2],
            };
            for solute in members.clone() {
                let moles = per_corner(&gathered.moles[solute]);
                let (k, weight) = (ends.k(view, solute), weighting.solutes[gathered.solutes[solute]]);
                if k[HIGH] > MOST_K {
                    return None;
                }
                add_times(&mut phase.moles, 1.0, &moles);
                add_times(&mut phase.weighted, weight, &moles);
                add_times(&mut phase.onset[LOW], k[LOW], &moles);
                add_times(&mut phase.onset[HIGH], k[HIGH], &moles);
                self.solutes.push(HullSolute { moles, k, weight });
            }
            self.phases.push(phase);
        }
        Some(())
    }

    /// The mean over the corners.
    pub(super) fn mean(&self, figures: &PerCorner) -> f64 {
        let shares = &self.shares;
        shares[0] * figures[0] + shares[1] * figures[1] + shares[2] * figures[2] + shares[3] * figures[3]
    }

    pub(super) fn sums(&self, phase: &HullPhase, sigma: f64, end: usize) -> Sums {
        let mut sums = Sums::default();
        for solute in &self.solutes[phase.members.clone()] {
            let k = solute.k[end];
            let q = 1.0 / (1.0 + sigma * k);
            add_times(&mut sums.dissolved, q, &solute.moles);
            add_times(&mut sums.saturated, k * q, &solute.moles);
            add_times(&mut sums.weighted, solute.weight * q, &solute.moles);
        }
        sums
    }

    /// How Σ n K q falls with σ.
    pub(super) fn saturated_falls(&self, phase: &HullPhase, sigma: f64, end: usize) -> PerCorner {
        let mut falls = [0.0; CORNERS];
        for solute in &self.solutes[phase.members.clone()] {
            let k = solute.k[end];
            let kq = k / (1.0 + sigma * k);
            add_times(&mut falls, kq * kq, &solute.moles);
        }
        falls
    }

    /// The sums and how they fall, at once.
    pub(super) fn sums_and_falls(&self, phase: &HullPhase, sigma: f64, end: usize) -> (Sums, Falls) {
        let (mut sums, mut falls) = (Sums::default(), Falls::default());
        for solute in &self.solutes[phase.members.clone()] {
            let k = solute.k[end];
            let q = 1.0 / (1.0 + sigma * k);
            let kq = k * q;
            add_times(&mut sums.dissolved, q, &solute.moles);
            add_times(&mut sums.saturated, kq, &solute.moles);
            add_times(&mut sums.weighted, solute.weight * q, &solute.moles);
            add_times(&mut falls.dissolved, kq * q, &solute.moles);
            add_times(&mut falls.saturated, kq * kq, &solute.moles);
            add_times(&mut falls.weighted, solute.weight * kq * q, &solute.moles);
        }
        (sums, falls)
    }

    /// The greatest K of a phase.
    pub(super) fn most_k(&self, phase: &HullPhase) -> f64 {
        let mut most = 0.0;
        for solute in &self.solutes[phase.members.clone()] {
            most = greater(most, solute.k[HIGH]);
        }
        most
    }

    /// What the members lose whose e q, with e = α + βK − w, is concave and not convex in v = 1/(1 + σ K₀),
    /// K₀ being the pivot: by how much the tangent at `sigmas[1]` can exceed them between `sigmas[0]` and
    /// `sigmas[2]`. A concave function is furthest from its tangent at an end.
    pub(super) fn concave_gap(
        &self,
        phase: &HullPhase,
        (alpha, beta): (f64, f64),
        pivot: f64,
        sigmas: [f64; 3],
        end: usize,
    ) -> PerCorner {
        let mut gap = [0.0; CORNERS];
        for solute in &self.solutes[phase.members.clone()] {
            let k = solute.k[end];
            let factor = alpha + beta * k - solute.weight;
            if factor * (pivot - k) <= 0.0 {
                continue;
            }
            let q = sigmas.map(|sigma| 1.0 / (1.0 + sigma * k));
            let off = |at: usize| {
                // q at the tangent point and, from there, dq/dv times the way in v.
                let tangent = q[1]
                    + k * q[1] * q[1] * (sigmas[1] - sigmas[at]) * (1.0 + sigmas[1] * pivot)
                        / (1.0 + sigmas[at] * pivot);
                factor * (tangent - q[at])
            };
            let most = greater(greater(off(0), off(2)), 0.0);
            add_times(&mut gap, most, &solute.moles);
        }
        gap
    }
}

/// The extremes of a phase's correction over some corners.
struct CorrectionExtremes {
    /// The least and the greatest share left out.
    left_out: [f64; 2],
    /// The extremes of the net shift, K, and of the excess; none where K is that of pure crystals everywhere.
    correction: Option<([f64; 2], [f64; 2])>,
}

impl CorrectionExtremes {
    const PURE: CorrectionExtremes = CorrectionExtremes { left_out: [0.0; 2], correction: None };

    fn of(view: &View, phase: usize, corners: &[Amounts]) -> CorrectionExtremes {
        let Some(parts) = &view.gathered.sums[phase] else { return CorrectionExtremes::PURE };
        // Quotients of affine sums are extreme at corners; a corner without the phase adds nothing to either.
        let mut shift = [f64::INFINITY, f64::NEG_INFINITY];
        let mut excess = shift;
        let mut outer = [OuterChains::default(); CORNERS];
        let mut ends = 0;
        let widen = |interval: &mut [f64; 2], value: f64| {
            *interval = [lesser(interval[0], value), greater(interval[1], value)];
        };
        for corner in corners {
            let sums = sums_at(parts, corner);
            // Where all of the phase is taken away, rounding leaves some.
            if sums.moles > NOTHING_LEFT * parts[0].moles {
                widen(&mut shift, sums.shift / sums.moles);
                widen(&mut excess, sums.enthalpy_excess / sums.moles);
                outer[ends] = sums.outer;
                ends += 1;
            }
        }
        if shift[0] > shift[1] {
            return CorrectionExtremes::PURE;
        }
        let family = view.section.phases[view.gathered.places[phase]].family;
        let (least, most) = family.disorder_between(&outer[..ends]);
        let left_out = [least.left_out, most.left_out];
        let shift = [shift[0] - most.lowering_k, shift[1] - least.lowering_k];
        let is_pure = shift == [0.0; 2] && excess == [0.0; 2] && left_out == [0.0; 2];
        CorrectionExtremes { left_out, correction: (!is_pure).then_some((shift, excess)) }
    }

    /// The least and the greatest K of a solute that was gathered.
    fn k(&self, view: &View, solute: usize) -> [f64; 2] {
        let Some((shift, excess)) = self.correction else {
            return [view.solved.k[solute]; 2];
        };
        // K rises with the shift, and is monotone in the excess at either end of it.
        let place = view.gathered.solutes[solute];
        let k = |shift_k: f64, enthalpy_excess: f64| {
            let correction = PhaseCorrection { shift_k, enthalpy_excess, ..PhaseCorrection::default() };
            view.section.k_about(place, &correction)
        };
        let mut found = [k(shift[0], excess[0]), k(shift[1], excess[0])];
        if excess[0] != excess[1] {
            let more = [k(shift[0], excess[1]), k(shift[1], excess[1])];
            let all = [found[0], found[1], more[0], more[1]];
            found = [least(&all), most(&all)];
        }
        [found[0] * (1.0 - ABOUT), found[1] * (1.0 + ABOUT)]
    }
}
