//! How much heat can be had where what is asked for cannot: the hottest storage at which every wish is met as
//! surely as was asked.

use super::{
    best_rung::as_it_is,
    on_rung::{TRIES, more_room},
    progress::{REPORT_AFTER, Watch},
    smallest::{FoundRecipe, Search},
};
use crate::{
    behaviour::{Band, Where, Wish, Wishes},
    rework::question::{Demand, Problem, Rung},
};

/// The grid of the answer, K: half a degree, as closely as a prediction is worth saying.
const STEP_C: f64 = 0.5;

/// Searches to the end, or until stopped.
pub(crate) fn finish(problem: &Problem, watch: &mut Watch<'_>) -> Option<FoundRecipe> {
    let mut search = Search::new(problem);
    let mut counted = 0;
    loop {
        let progress = search.step(REPORT_AFTER);
        let solved = search.proof().equilibria;
        if watch.spends(solved - counted) || watch.passes_on(progress) {
            return None;
        }
        counted = solved;
        if progress.done {
            return search.found().into_iter().next();
        }
    }
}

/// The hottest storage, and what can be had there.
pub(crate) struct Hottest {
    /// The question as it is with that storage.
    pub(crate) problem: Problem,
    /// The best recipe that meets all of it.
    pub(crate) found: FoundRecipe,
}

/// A recipe that meets every wish as surely as was asked, where there is one; `demands` says what is demanded
/// with room for so many standard deviations. Whether it holds is judged by lots, as everywhere.
fn met(
    problem: &Problem,
    demands: &dyn Fn(&Problem) -> Vec<Demand>,
    watch: &mut Watch<'_>,
) -> Option<FoundRecipe> {
    let rung = Rung { odds: problem.surety.odds(), cooler_k: 0.0 };
    let asked = |room: f64| {
        let on = problem.on(rung, room);
        Problem { demands: demands(&on), ..on }
    };
    if let Some(present) = as_it_is(&asked(rung.deviations()), None, rung) {
        return Some(present);
    }
    let mut room = rung.deviations();
    for _ in 0..TRIES {
        let found = finish(&asked(room), watch)?;
        let odds = problem.odds(&found.amounts, rung);
        if odds >= rung.odds {
            return Some(found);
        }
        room += more_room(rung, odds);
    }
    None
}

/// Every wish counts first: what misses any is no answer here.
fn all_first(problem: &Problem) -> Vec<Demand> {
    Demand::all_but(&problem.demands, &[])
}

/// The same question with another hottest storage.
fn stored_to(problem: &Problem, hottest_c: f64) -> Problem {
    Problem { wishes: Wishes { hottest_c, ..problem.wishes }, ..problem.clone() }
}

/// The best recipe that meets every wish as surely as was asked, as the question stands.
pub(crate) fn meets_all(problem: &Problem, watch: &mut Watch<'_>) -> Option<FoundRecipe> {
    met(problem, &all_first, watch)
}

/// What is demanded at a cooler hottest storage, but for one thing: that it be no firmer in the middle of the
/// storage range is asked at `usual_c`, the middle as it was.
///
/// Without that, cooler storage is not always easier to serve: its middle is cooler too, and there a butter
/// may be firmer than wanted. With it, it is. For let a recipe meet this at a hottest of h, and let h' be
/// cooler. Whatever is asked at the hottest, or is asked at the least in the middle, is so much structure or
/// more; both temperatures fall with h, and structure only grows as it cools, in every lot. What is asked at
/// the most stays where it was, and so do the coldest and skin. So the recipe meets this at h' as well. And
/// what meets every wish at h meets this: the middle at h is no warmer than `usual_c`, and what is soft
/// enough where it is cooler is soft enough where it is warmer.
fn eased(problem: &Problem, usual_c: f64) -> Vec<Demand> {
    let mut demands = all_first(problem);
    let mut warmer: Vec<Demand> = Vec::new();
    for demand in &mut demands {
        if demand.band.wish == Wish::FirmnessAtUsual && demand.celsius < usual_c {
            let no_firmer = Band { low: 0.0, ..demand.band };
            warmer.push(Demand { celsius: usual_c, band: no_firmer, ..*demand });
            demand.band.high = f64::INFINITY;
        }
    }
    demands.extend(warmer);
    demands
}

/// The storage that may be asked for, the hottest first: what is asked, every half degree below, and the
/// coldest.
fn cooler(wishes: &Wishes) -> Vec<f64> {
    let coldest_c = wishes.temperature_c(Where::Coldest);
    let first = (wishes.hottest_c / STEP_C).ceil() - 1.0;
    let halves = (0..).map(|step| STEP_C * (first - f64::from(step)));
    let mut all = vec![wishes.hottest_c];
    all.extend(halves.take_while(|celsius| *celsius > coldest_c));
    if wishes.hottest_c > coldest_c {
        all.push(coldest_c);
    }
    all
}

/// The hottest storage, up to what is asked, at which every wish can be met as surely as was asked; `None`
/// where there is none down to the coldest, or the watch has stopped it. `fails` says that nothing meets them
/// where it is asked, if that is known.
///
/// What is [`eased`] can be served the better, the cooler: so halving finds the hottest at which it can, and
/// above that nothing meets every wish. From there down, the first at which every wish can be met is the
/// answer; without a wish for firmness the two are one, with it they mostly are.
pub(crate) fn holds_at_most(problem: &Problem, fails: bool, watch: &mut Watch<'_>) -> Option<Hottest> {
    let mut storage = cooler(&problem.wishes);
    if fails {
        storage.remove(0);
    }
    let usual_c = problem.wishes.temperature_c(Where::Usual);
    // Before `easy` nothing can be had; from `known` on, something.
    let (mut easy, mut known) = (0, storage.len());
    while easy < known {
        let middle = usize::midpoint(easy, known);
        let there = stored_to(problem, storage[middle]);
        let served = met(&there, &|asked| eased(asked, usual_c), watch).is_some();
        if watch.is_stopped() {
            return None;
        }
        if served {
            known = middle;
        } else {
            easy = middle + 1;
        }
    }
    for hottest_c in &storage[easy..] {
        let there = stored_to(problem, *hottest_c);
        let found = meets_all(&there, watch);
        if watch.is_stopped() {
            return None;
        }
        if let Some(found) = found {
            return Some(Hottest { problem: there, found });
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::Format;

    #[test]
    fn storage_goes_down_by_half_degrees_to_the_coldest() {
        let wishes = |coldest_c, hottest_c| Wishes {
            format: Format::Pot,
            coldest_c,
            hottest_c,
            skin_c: 32.5,
            firmness: None,
            on_skin: None,
        };
        assert_eq!(cooler(&wishes(28.0, 30.0)), [30.0, 29.5, 29.0, 28.5, 28.0]);
        assert_eq!(cooler(&wishes(28.3, 29.7)), [29.7, 29.5, 29.0, 28.5, 28.3]);
        assert_eq!(cooler(&wishes(28.0, 28.0)), [28.0]);
    }
}
