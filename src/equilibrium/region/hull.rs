//! A region of mixtures, corner by corner: moles, the ends of K, and the sums over a family that bounds are made of.

#![allow(clippy::needless_range_loop, reason = "corners of several arrays go hand in hand")]

use std::ops::Range;

use super::{
    isotherm::{ABOUT, Adjustment, Totals},
    load::NOTHING_LEFT,
    view::{View, mix},
};
use crate::{
    ordered::{greater, lesser},
    substances::OuterChains,
};

/// The most corners.
pub(crate) const CORNERS: usize = 4;

/// Relative slack for rounding, far above what sums of some hundred terms lose.
pub(super) const ROUNDING: f64 = 1e-10;

/// Beyond this K nothing is bounded: below it no product overflows, so that every comparison is one of numbers.
const MOST_K: f64 = 1e90;

/// A figure at each corner; the last corner is repeated where there are fewer.
pub(super) type Lanes = [f64; CORNERS];

/// The end at which K is least and most is left out of the crystals: so dissolved moles are greatest, and solids least.
pub(super) const LOW: usize = 0;
/// The end at which K is greatest and least is left out.
pub(super) const HIGH: usize = 1;

/// A species over the region.
struct Site {
    moles: Lanes,
    k: [f64; 2],
    /// What a mole of its solid counts for.
    weight: f64,
}

/// A family over the region.
pub(super) struct Crystal {
    range: Range<usize>,
    /// σ in the middle.
    pub(super) sigma: f64,
    /// The share that may crystallise, at either end.
    pub(super) inside: [f64; 2],
    /// Whether both ends are one.
    pub(super) fixed: bool,
    /// Moles.
    pub(super) moles: Lanes,
    /// Moles by weight.
    pub(super) weighed: Lanes,
    /// Σ n K, at either end.
    pub(super) free: [Lanes; 2],
}

impl Crystal {
    /// Whether it has one member.
    pub(super) fn is_pure(&self) -> bool {
        self.range.len() == 1
    }

    /// The sums where σ is 0, so that every q is 1.
    pub(super) fn all_dissolved(&self, end: usize) -> Sums {
        Sums { dissolved: self.moles, held: self.free[end], weighed: self.weighed }
    }
}

/// Sums at one σ, with q = 1/(1 + σK): Σ n q, Σ n K q and Σ w n q.
#[derive(Clone, Copy, Default)]
pub(super) struct Sums {
    pub(super) dissolved: Lanes,
    pub(super) held: Lanes,
    pub(super) weighed: Lanes,
}

/// How those fall with σ: Σ n K q², Σ n K² q² and Σ w n K q².
#[derive(Clone, Copy, Default)]
pub(super) struct Falls {
    pub(super) dissolved: Lanes,
    pub(super) held: Lanes,
    pub(super) weighed: Lanes,
}

/// A region of mixtures being bounded.
#[derive(Default)]
pub(super) struct Hull {
    /// The families, but for those that are absent wherever there is more liquid than `enough`, moles: they belong to the inert.
    pub(super) crystals: Vec<Crystal>,
    pub(super) enough: f64,
    /// The share of each corner in a mean over them.
    shares: Lanes,
    sites: Vec<Site>,
    pub(super) inert: Lanes,
    pub(super) powder: Lanes,
    pub(super) mass: Lanes,
}

pub(super) fn least(lanes: &Lanes) -> f64 {
    lesser(lesser(lanes[0], lanes[1]), lesser(lanes[2], lanes[3]))
}

pub(super) fn most(lanes: &Lanes) -> f64 {
    greater(greater(lanes[0], lanes[1]), greater(lanes[2], lanes[3]))
}

/// Adds so many times `lanes`. Written out: the engine for the page is compiled for size, which leaves loops and calls as they are.
#[inline(always)]
pub(super) fn add_times(sum: &mut Lanes, factor: f64, lanes: &Lanes) {
    sum[0] += factor * lanes[0];
    sum[1] += factor * lanes[1];
    sum[2] += factor * lanes[2];
    sum[3] += factor * lanes[3];
}

/// A sum over the fixed part and each changing ingredient, at each corner.
#[inline(always)]
fn lanes(parts: &[f64; 4], at: &[[f64; 3]; CORNERS]) -> Lanes {
    [mix(parts, &at[0]), mix(parts, &at[1]), mix(parts, &at[2]), mix(parts, &at[3])]
}

impl Hull {
    /// Takes up the mixtures between `corners`, of which there must be one to four, with families that are absent in the middle left
    /// out if they are wherever there is more liquid than `enough`. `None` where K is beyond all measure.
    pub(super) fn take_up(
        &mut self,
        view: &View,
        enough: f64,
        corners: &[[f64; 3]],
        worth: &[f64],
    ) -> Option<()> {
        let mut at = [[0.0; 3]; CORNERS];
        for (lane, corner) in at.iter_mut().enumerate() {
            *corner = *corners.get(lane).or(corners.last())?;
        }
        self.shares = [0.0; CORNERS];
        for share in self.shares.iter_mut().take(corners.len()) {
            *share = 1.0 / corners.len() as f64;
        }
        let lanes = |parts: &[f64; 4]| lanes(parts, &at);
        self.sites.clear();
        self.crystals.clear();
        self.enough = enough;
        self.inert = lanes(&view.inert);
        self.powder = lanes(&view.powder);
        self.mass = lanes(&view.mass);
        for (index, (range, _)) in view.crystals.iter().enumerate() {
            let ends = Ends::of(view, index, &at);
            let sigma = view.sigma[index];
            if sigma <= 0.0 {
                // As for an ingredient: sums of moles are linear in the amounts.
                let (mut all, mut free) = ([0.0; 4], [0.0; 4]);
                for site in range.clone() {
                    let moles = &view.moles[site];
                    add_times(&mut all, 1.0, moles);
                    add_times(&mut free, ends.distribution(view, site)[HIGH], moles);
                }
                if most(&lanes(&free)) <= enough {
                    add_times(&mut self.inert, 1.0, &lanes(&all));
                    continue;
                }
            }
            let start = self.sites.len();
            let mut crystal = Crystal {
                range: start..start + range.len(),
                sigma,
                inside: [1.0 - ends.left_out[1], 1.0 - ends.left_out[0]],
                fixed: ends.shift.is_none(),
                moles: [0.0; CORNERS],
                weighed: [0.0; CORNERS],
                free: [[0.0; CORNERS]; 2],
            };
            for site in range.clone() {
                let moles = lanes(&view.moles[site]);
                let (k, weight) = (ends.distribution(view, site), worth[view.sites[site]]);
                if k[HIGH] > MOST_K {
                    return None;
                }
                add_times(&mut crystal.moles, 1.0, &moles);
                add_times(&mut crystal.weighed, weight, &moles);
                add_times(&mut crystal.free[LOW], k[LOW], &moles);
                add_times(&mut crystal.free[HIGH], k[HIGH], &moles);
                self.sites.push(Site { moles, k, weight });
            }
            self.crystals.push(crystal);
        }
        Some(())
    }

    /// The mean over the corners.
    pub(super) fn mean(&self, lanes: &Lanes) -> f64 {
        let shares = &self.shares;
        shares[0] * lanes[0] + shares[1] * lanes[1] + shares[2] * lanes[2] + shares[3] * lanes[3]
    }

    pub(super) fn sums(&self, crystal: &Crystal, sigma: f64, end: usize) -> Sums {
        let mut sums = Sums::default();
        for site in &self.sites[crystal.range.clone()] {
            let k = site.k[end];
            let q = 1.0 / (1.0 + sigma * k);
            add_times(&mut sums.dissolved, q, &site.moles);
            add_times(&mut sums.held, k * q, &site.moles);
            add_times(&mut sums.weighed, site.weight * q, &site.moles);
        }
        sums
    }

    /// How Σ n K q falls with σ.
    pub(super) fn falls(&self, crystal: &Crystal, sigma: f64, end: usize) -> Lanes {
        let mut falls = [0.0; CORNERS];
        for site in &self.sites[crystal.range.clone()] {
            let k = site.k[end];
            let kq = k / (1.0 + sigma * k);
            add_times(&mut falls, kq * kq, &site.moles);
        }
        falls
    }

    /// Sums and how they fall, at once.
    pub(super) fn sums_and_falls(&self, crystal: &Crystal, sigma: f64, end: usize) -> (Sums, Falls) {
        let (mut sums, mut falls) = (Sums::default(), Falls::default());
        for site in &self.sites[crystal.range.clone()] {
            let k = site.k[end];
            let q = 1.0 / (1.0 + sigma * k);
            let kq = k * q;
            add_times(&mut sums.dissolved, q, &site.moles);
            add_times(&mut sums.held, kq, &site.moles);
            add_times(&mut sums.weighed, site.weight * q, &site.moles);
            add_times(&mut falls.dissolved, kq * q, &site.moles);
            add_times(&mut falls.held, kq * kq, &site.moles);
            add_times(&mut falls.weighed, site.weight * kq * q, &site.moles);
        }
        (sums, falls)
    }

    /// The greatest K of a family.
    pub(super) fn most_k(&self, crystal: &Crystal) -> f64 {
        let mut most = 0.0;
        for site in &self.sites[crystal.range.clone()] {
            most = greater(most, site.k[HIGH]);
        }
        most
    }

    /// What the members lose whose e q, with e = α + βK − w, is concave and not convex in 1/(1 + σK₀): by how much the tangent at
    /// `sigmas[1]` can exceed them between `sigmas[0]` and `sigmas[2]`. A concave function is furthest from its tangent at an end.
    pub(super) fn concave(
        &self,
        crystal: &Crystal,
        (alpha, beta): (f64, f64),
        pivot: f64,
        sigmas: [f64; 3],
        end: usize,
    ) -> Lanes {
        let mut gap = [0.0; CORNERS];
        for site in &self.sites[crystal.range.clone()] {
            let k = site.k[end];
            let factor = alpha + beta * k - site.weight;
            if factor * (pivot - k) <= 0.0 {
                continue;
            }
            let q = sigmas.map(|sigma| 1.0 / (1.0 + sigma * k));
            let off = |at: usize| {
                // dq/dv · (v − v₁), v = 1/(1 + σK₀).
                let tangent = q[1]
                    + k * q[1] * q[1] * (sigmas[1] - sigmas[at]) * (1.0 + sigmas[1] * pivot)
                        / (1.0 + sigmas[at] * pivot);
                factor * (tangent - q[at])
            };
            let most = greater(greater(off(0), off(2)), 0.0);
            add_times(&mut gap, most, &site.moles);
        }
        gap
    }
}

/// The extremes of a family's correction over some corners.
struct Ends {
    /// The least and the greatest share left out.
    left_out: [f64; 2],
    /// The extremes of the shift and of the excess; `None` where K is the plain one everywhere.
    shift: Option<([f64; 2], [f64; 2])>,
}

impl Ends {
    fn of(view: &View, crystal: usize, corners: &[[f64; 3]]) -> Ends {
        let Some(totals) = view.totals(crystal) else { return Ends { left_out: [0.0; 2], shift: None } };
        // Quotients of linear sums are extreme at corners; a corner without the family adds nothing to either.
        let mut shift = [f64::INFINITY, f64::NEG_INFINITY];
        let mut excess = shift;
        let mut outer = [OuterChains::default(); CORNERS];
        let mut ends = 0;
        let widen = |interval: &mut [f64; 2], value: f64| {
            *interval = [lesser(interval[0], value), greater(interval[1], value)];
        };
        for corner in corners {
            let Totals { moles, shift: shifts, excess: excesses, outer: chains, .. } =
                Totals::mix(totals, corner);
            // Of what all is taken from, dust stays.
            if moles > NOTHING_LEFT * totals[0].moles {
                widen(&mut shift, shifts / moles);
                widen(&mut excess, excesses / moles);
                outer[ends] = chains;
                ends += 1;
            }
        }
        if shift[0] > shift[1] {
            return Ends { left_out: [0.0; 2], shift: None };
        }
        let (least, most) = view.crystals[crystal].1.disorder_between(&outer[..ends]);
        let left_out = [least.left_out, most.left_out];
        let shift = [shift[0] - most.lowering_k, shift[1] - least.lowering_k];
        let plain = shift == [0.0; 2] && excess == [0.0; 2] && left_out == [0.0; 2];
        Ends { left_out, shift: (!plain).then_some((shift, excess)) }
    }

    /// The least and the greatest K of a site.
    fn distribution(&self, view: &View, site: usize) -> [f64; 2] {
        let Some((shift, excess)) = self.shift else {
            return [view.k[site]; 2];
        };
        // K rises with the shift, and is monotone in the excess at either end of it.
        let value = |shift_k: f64, excess: f64| {
            view.distribution_about(site, &Adjustment { shift_k, excess, left_out: 0.0 })
        };
        let mut found = [value(shift[0], excess[0]), value(shift[1], excess[0])];
        if excess[0] != excess[1] {
            let more = [value(shift[0], excess[1]), value(shift[1], excess[1])];
            let values = [found[0], found[1], more[0], more[1]];
            found = [least(&values), most(&values)];
        }
        [found[0] * (1.0 - ABOUT), found[1] * (1.0 + ABOUT)]
    }
}
