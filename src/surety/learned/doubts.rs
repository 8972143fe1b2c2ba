//! What contradicts the rest.

use serde::Serialize;

use super::{
    Bench, Seen,
    centre::{Likeliest, Straight},
    crossing::{Crossing, Mixed},
    seen::{Measured, Said},
    terms::{Compared, Ends, HALF_LOG_2_PI},
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
    /// It and others contradict each other, and which of them is wrong is open: none of them counts.
    Disputed,
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
    /// Whether no other look that counts is of its lots: then it is compared with what is published alone.
    pub is_alone: bool,
}

/// About one set of true looks in so many is accused wrongly. So of n looks, one is accused where fewer than
/// one in n times so many would be so far off.
const ACCUSED_ONCE_IN: f64 = 30.0;

/// What is not learned from.
pub(super) struct Doubted {
    /// The looks that do not count, the worst first.
    pub(super) out: Vec<usize>,
    /// Those of them that contradict each other, where it is open which is wrong.
    disputed: Vec<usize>,
}

/// Where looks contradict each other, one of them is taken to be the wrong one only if that is so many times
/// likelier than that another of them is (ours).
const CLEAR_ODDS: f64 = 20.0;

/// A temperature that is wrong lies anywhere within so many kelvin, and what is wrongly said to have held did
/// as likely as not (ours): to compare a reading with what lies between.
const WRONG_WITHIN_K: f64 = 20.0;
const WRONGLY_HELD: f64 = 0.5;

/// Whether so many looks that do not fit, of so many, are too many to call the rest right: more than a third,
/// but one alone never is (ours).
fn too_many_out(out: usize, of: usize) -> bool {
    out > 1 && 3 * out > of
}

/// The looks that contradict the rest. One after the other is left out, the worst first, until the rest fits.
/// Where another could be left out instead, or where too many would have to be, they are disputed, and none
/// of them counts.
pub(super) fn doubted(bench: &Bench, straight: &Straight<'_>, centre: &[f64]) -> Doubted {
    let counting: Vec<usize> = (0..bench.looks.len()).filter(|at| bench.looks[*at].counts).collect();
    let accused = |share: f64| share * counting.len() as f64 * ACCUSED_ONCE_IN < 1.0;
    let may_go = |at: usize| !bench.looks[at].insisted;
    let mut out: Vec<usize> = Vec::new();
    let mut from = centre.to_vec();
    // Once it is most of them, all of them are disputed anyway.
    while 2 * out.len() <= counting.len() {
        let counts = |at: usize| counting.contains(&at) && !out.contains(&at);
        let all = straight.likeliest(&counts, &from);
        let mut shares: Vec<(usize, f64)> = counting
            .iter()
            .filter(|at| !out.contains(at) && may_go(**at))
            .map(|at| {
                let (ends, left) = straight.without(*at, &all);
                (*at, ends.share_as_far_off(left))
            })
            .collect();
        shares.sort_by(|one, other| one.1.total_cmp(&other.1));
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
    let mut disputed: Vec<usize> = Vec::new();
    let mut dispute = |at: usize| {
        if may_go(at) && !disputed.contains(&at) {
            disputed.push(at);
        }
    };
    let pot_of = |at: usize| bench.looks[at].pot;
    let pots = || {
        (0..bench.pots.len())
            .map(|pot| -> Vec<usize> { counting.iter().copied().filter(|at| pot_of(*at) == pot).collect() })
    };
    for group in pots().chain(linked(bench, &counting)) {
        if too_many_out(group.iter().filter(|at| out.contains(at)).count(), group.len()) {
            group.into_iter().for_each(&mut dispute);
        }
    }
    for wrong in &out {
        let counts = |at: usize| counting.contains(&at) && !out.contains(&at);
        let with = straight.likeliest(&|at| counts(at) || at == *wrong, &from);
        let share = |at: usize| {
            let (ends, left) = straight.without(at, &with);
            ends.share_as_far_off(left)
        };
        let rivals = counting.iter().copied().filter(|at| counts(*at) && may_go(*at) && accused(share(*at)));
        for rival in rivals {
            let rest = straight.likeliest(&|at| at != rival && counts(at), &from);
            let likely = |at: usize| {
                let all = libm::hypot(1.0, straight.left(at, &rest.curved)[0]);
                match straight.ends(at, &rest.z) {
                    Ends::Read(off) => {
                        let density =
                            -0.5 * (off / all) * (off / all) - libm::log(all * straight.terms[at].noise_k);
                        density - HALF_LOG_2_PI + libm::log(WRONG_WITHIN_K)
                    }
                    ends @ Ends::Between { .. } => {
                        let share = ends.share_as_far_off(straight.left(at, &rest.curved));
                        libm::log(share.max(f64::MIN_POSITIVE) / WRONGLY_HELD)
                    }
                }
            };
            if likely(rival) - likely(*wrong) < libm::log(CLEAR_ODDS) {
                [*wrong, rival].into_iter().for_each(&mut dispute);
            }
        }
    }
    out.extend(disputed.iter().copied().filter(|at| !out.contains(at)).collect::<Vec<_>>());
    Doubted { out, disputed }
}

/// Whether another look that counts is of a lot of this one's pot, or linked to it by others.
fn is_linked(bench: &Bench, at: usize, counts: &dyn Fn(usize) -> bool) -> bool {
    let looks: Vec<usize> = (0..bench.looks.len()).filter(|other| *other == at || counts(*other)).collect();
    linked(bench, &looks).iter().any(|group| group.contains(&at) && group.len() > 1)
}

/// These looks, those together whose pots have a lot in common, or are linked so by others.
fn linked(bench: &Bench, looks: &[usize]) -> Vec<Vec<usize>> {
    let share_a_lot = |one: usize, other: usize| {
        let lines = |at: usize| &bench.pots[bench.looks[at].pot].lines;
        lines(one).iter().any(|(lot, _)| lines(other).iter().any(|(same, _)| lot == same))
    };
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for at in looks {
        let (with, mut without): (Vec<_>, Vec<_>) =
            groups.into_iter().partition(|group| group.iter().any(|other| share_a_lot(*at, *other)));
        without.push(with.into_iter().flatten().chain([*at]).collect());
        groups = without;
    }
    groups
}

/// So many looks are looked at again, if by a parabola their share is not far above what is accused.
const AGAIN: usize = 3;
/// A share up to twenty times that which is accused is looked at again.
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
    Doubted { out, disputed }: &Doubted,
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
        let agrees = if disputed.contains(&at) {
            Agrees::Disputed
        } else if out.contains(&at) {
            Agrees::No
        } else if share < 0.1 {
            Agrees::Strained
        } else {
            Agrees::Yes
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
            within_k: super::NINE_IN_TEN * term.noise_k * libm::hypot(1.0, left[shown]),
            because: (agrees == Agrees::No).then(|| because(bench, straight, mixed, at, &rest.z)),
            against: against(bench, at),
            is_alone: !is_linked(bench, at, &counts),
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
