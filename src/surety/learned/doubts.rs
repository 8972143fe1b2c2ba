//! What contradicts the rest.

use serde::Serialize;

use super::{
    Bench, Seen,
    centre::{Likeliest, Straight},
    crossing::{Crossing, Mixed},
    seen::{Measured, Said},
    terms::{Compared, Ends},
};
use crate::equilibrium::CrystalState;

/// How a look agrees with the others and with what is published of such lots.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Agrees {
    /// As one would expect.
    Yes,
    /// It is off by more than nine in ten would be, and may be so by chance.
    Strained,
    /// It contradicts the others, or what is published, and was left out.
    No,
}

/// Why a look may contradict the others.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Because {
    /// The butter had not settled.
    NotSettled,
    /// The temperature was not what it was taken for.
    Thermometer,
    /// It was made of another lot.
    AnotherLot,
}

/// How one look agrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// Whether it does.
    pub agrees: Agrees,
    /// Of looks at other times so far off or farther, the share, by what all others say.
    pub share_as_far_off: f64,
    /// The temperature at which, by all the others, it should have been seen, °C; of a class that of its warm
    /// end, and where it has none, of its cold one.
    pub expected_c: f64,
    /// Nine in ten such readings would lie so near to that, K.
    pub within_k: f64,
    /// The likeliest reason, where it does not agree.
    pub because: Option<Because>,
    /// Another look at the same pot that cannot be true beside it.
    pub against: Option<usize>,
}

/// About one set of true looks in so many is accused wrongly. So of n looks, one is accused where fewer than
/// one in n times so many would be so far off.
const ACCUSED_ONCE_IN: f64 = 30.0;

/// The looks that contradict the rest, the worst first. One after the other is left out, at most a third of
/// them (but one always), so that what is left still says something.
pub(super) fn doubted(bench: &Bench, straight: &Straight<'_>, centre: &[f64]) -> Vec<usize> {
    let counting: Vec<usize> = (0..bench.looks.len()).filter(|at| bench.looks[*at].counts).collect();
    let mut out: Vec<usize> = Vec::new();
    let most = (counting.len() / 3).max(1);
    let mut from = centre.to_vec();
    while out.len() < most {
        let counts = |at: usize| counting.contains(&at) && !out.contains(&at);
        let all = straight.likeliest(&counts, &from);
        let mut shares: Vec<(usize, f64)> = counting
            .iter()
            .filter(|at| !out.contains(at) && !bench.looks[**at].insisted)
            .map(|at| {
                let (ends, left) = straight.without(*at, &all);
                (*at, ends.share_as_far_off(left))
            })
            .collect();
        shares.sort_by(|one, other| one.1.total_cmp(&other.1));
        let accused = |share: f64| share * counting.len() as f64 * ACCUSED_ONCE_IN < 1.0;
        // A parabola may err where it matters: the few that look worst are looked at again, without it.
        let worst = shares
            .iter()
            .take(AGAIN)
            .filter(|(_, share)| accused(AS_GOOD_AS * share))
            .map(|(at, _)| (*at, share_without(straight, *at, &counts, &all.z)))
            .min_by(|one, other| one.1.total_cmp(&other.1));
        from = all.z;
        match worst {
            Some((at, share)) if accused(share) => out.push(at),
            _ => break,
        }
    }
    out
}

/// So many looks are looked at again, if by a parabola their share is not far above what is accused.
const AGAIN: usize = 3;
const AS_GOOD_AS: f64 = 0.05;

/// How far off a look is by all others.
fn share_without(straight: &Straight<'_>, at: usize, counts: &dyn Fn(usize) -> bool, from: &[f64]) -> f64 {
    let rest = straight.likeliest(&|other| other != at && counts(other), from);
    straight.ends(at, &rest.z).share_as_far_off(straight.left(at, &rest.curved))
}

/// How each look agrees with the others, where these are left out.
pub(super) fn told(
    bench: &Bench,
    straight: &Straight<'_>,
    mixed: &[Mixed],
    out: &[usize],
    rest: &Likeliest,
) -> Vec<Doubt> {
    let counts = |at: usize| bench.looks[at].counts && !out.contains(&at);
    let doubt = |at: usize| {
        let (ends, left) = if counts(at) {
            straight.without(at, rest)
        } else {
            (straight.ends(at, &rest.z), straight.left(at, &rest.curved))
        };
        let share = ends.share_as_far_off(left);
        let agrees = match () {
            () if out.contains(&at) => Agrees::No,
            () if share < 0.1 => Agrees::Strained,
            () => Agrees::Yes,
        };
        let term = &straight.terms[at];
        let shown = match term.compared {
            Compared::Read(_) => 0,
            Compared::Between { above, .. } => usize::from(above.is_none()),
        };
        let further = match ends {
            Ends::Read(off) => off,
            Ends::Between { high, low } => [high, low][shown],
        };
        Doubt {
            agrees,
            share_as_far_off: share.min(1.0),
            expected_c: bench.looks[at].at_c + further * term.noise_k,
            within_k: 1.645 * term.noise_k * libm::hypot(1.0, left[shown]),
            because: (agrees == Agrees::No).then(|| because(bench, straight, mixed, at, &rest.z)),
            against: against(bench, at),
        }
    };
    (0..bench.looks.len()).map(doubt).collect()
}

/// How likely it is, before anything is seen, that a look is wrong for each reason (ours): a
/// butter that is called settled is often not; thermometers are wrong more often the rougher they
/// are; bags are mistaken rarely.
fn usual(reason: Because, measured: Measured, is_settled: bool) -> f64 {
    match (reason, measured) {
        (Because::NotSettled, _) => {
            if is_settled {
                0.3
            } else {
                0.0
            }
        }
        (Because::Thermometer, Measured::Probe) => 0.1,
        (Because::Thermometer, Measured::Kitchen) => 0.3,
        (Because::Thermometer, Measured::RoomGuess) => 0.5,
        (Because::AnotherLot, _) => 0.2,
    }
}

/// A temperature that is not what it was taken for is off by so much, K, as a standard deviation: ours.
const MISTAKEN_K: f64 = 4.0;

/// The likeliest reason: how often it is one, times how likely it makes what was seen.
fn because(bench: &Bench, straight: &Straight<'_>, mixed: &[Mixed], at: usize, rest: &[f64]) -> Because {
    let (look, term) = (&bench.looks[at], &straight.terms[at]);
    let pot = &bench.pots[look.pot];
    let expected = |ends: Ends, left: [f64; 2]| match ends {
        Ends::Read(off) => {
            let all = libm::hypot(1.0, left[0]);
            libm::exp(-0.5 * (off / all) * (off / all)) / all
        }
        Ends::Between { .. } => ends.share_as_far_off(left),
    };
    let ends = straight.ends(at, rest);
    let mistaken = [MISTAKEN_K / term.noise_k; 2];
    let fresh = || {
        let fresh = super::Pot { state: CrystalState::Fresh, ..pot.clone() };
        let fresh = Mixed::of(&fresh, &bench.lots);
        let moved_k = |level| {
            let [fresh, settled] = [&fresh, &mixed[look.pot]]
                .map(|mixed| Crossing::of(mixed, level, straight.unknown, straight.centre).at_c);
            (fresh - settled) / term.noise_k
        };
        match (look.seen.said(pot.format), ends) {
            (Said::Here(level), Ends::Read(off)) => Ends::Read(off + moved_k(level)),
            (Said::Between { no_colder, no_hotter }, Ends::Between { high, low }) => Ends::Between {
                high: high + no_colder.map_or(0.0, moved_k),
                low: low + no_hotter.map_or(0.0, moved_k),
            },
            (_, ends) => ends,
        }
    };
    let is_settled = pot.state == CrystalState::Settled;
    let on_record = vec![0.0; rest.len()];
    let reasons = [
        (Because::NotSettled, if is_settled { expected(fresh(), [0.5; 2]) } else { 0.0 }),
        (Because::Thermometer, expected(ends, mistaken)),
        (Because::AnotherLot, expected(straight.ends(at, &on_record), straight.left_at_first(at))),
    ];
    let measured = bench.thermometers[look.thermometer];
    let likely = |(reason, share): &(Because, f64)| share * usual(*reason, measured, is_settled);
    let best = reasons.iter().max_by(|one, other| likely(one).total_cmp(&likely(other)));
    best.map_or(Because::Thermometer, |(reason, _)| *reason)
}

/// Another look at the same pot that cannot be true beside this one, whatever the lots: it held where it
/// is warmer than where it slumped.
fn against(bench: &Bench, at: usize) -> Option<usize> {
    let one = &bench.looks[at];
    let clash = |other: &super::Look| {
        let (held, slumped) = match (one.seen, other.seen) {
            (Seen::Held, Seen::Slumped) => (one.at_c, other.at_c),
            (Seen::Slumped, Seen::Held) => (other.at_c, one.at_c),
            _ => return false,
        };
        other.pot == one.pot && other.counts && held > slumped
    };
    bench.looks.iter().position(clash)
}
