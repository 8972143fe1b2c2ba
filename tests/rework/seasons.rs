//! Two seasons against a walk over every pair of recipes on a small grid.

use std::collections::BTreeMap;

use meltmargin::{
    behaviour::Firmness,
    contract::answer,
    equilibrium::{Blend, CrystalState, Mixture, Part},
    recipe::{Line, Recipe},
    rework::{Demand, Group, Problem, Progress, Scope, Seasons, figure, seasons_as_demanded},
    substances::{self, Class},
};

use serde_json::json;

use crate::{
    MENU, Random,
    brute::{cost, is_no_crumb},
    pot,
};

/// Amounts in millionths of a percent.
type Amounts = Vec<i64>;

fn line(id: &str, percent: f64) -> Line {
    Line::of(substances::find(id).unwrap(), percent)
}

/// How a question is drawn.
struct Shape {
    lines: usize,
    pantry: usize,
    step: f64,
    /// How many steps each line may move, where it is bounded.
    room: Option<usize>,
    /// Whether the wishes are to be about as some recipe of the grid is, another in either season, so that
    /// few are good.
    narrow: bool,
}

/// The same recipe, asked for summer and for winter.
fn draw(random: &mut Random, case: usize, shape: &Shape) -> Option<[Problem; 2]> {
    let mut menu = MENU.to_vec();
    let mut take = |random: &mut Random| menu.swap_remove(random.below(menu.len()));
    let step = shape.step;
    let mut left = (100.0 / step).round() as usize;
    let mut lines = Vec::new();
    for place in 0..shape.lines {
        let rest = shape.lines - place;
        let share = if rest == 1 { left } else { random.below(2 * left / rest).max(1).min(left - rest + 1) };
        left -= share;
        lines.push(line(take(random), share as f64 * step));
    }
    // Every fourth recipe is not on the step of the scale.
    if case % 4 == 3 {
        let off = 0.3 * step;
        lines[0].percent += off;
        lines[1].percent -= off;
    }
    let pantry: Vec<Line> = (0..shape.pantry).map(|_| line(take(random), 0.0)).collect();
    let mut bounds = BTreeMap::new();
    for line in lines.iter().chain(&pantry) {
        if let Some(room) = shape.room {
            let room = step * (1 + random.below(room)) as f64;
            bounds
                .insert(line.key.clone(), ((line.percent - room).max(0.0), (line.percent + room).min(100.0)));
        }
    }
    let scope = Scope {
        step,
        changes: if case % 5 == 4 { 2 } else { 3 },
        bounds,
        keep_lead: case % 6 == 5,
        caps: vec![(Group::Class(Class::Wax), 10.0), (Group::Class(Class::FattyAcid), 10.0)],
        ..Scope::default()
    };
    let cold = 6.0 + random.below(8) as f64;
    let firmness = [Firmness::Soft, Firmness::Scoopable, Firmness::Firm][random.below(3)];
    let wishes = [(cold + 12.0, cold + 18.0), (cold, cold + 10.0)].map(|storage| pot(storage, firmness));
    let recipe = Recipe::new(lines).unwrap();
    let mut problems = Vec::new();
    for wishes in wishes {
        let mut problem = Problem::new(&recipe, pantry.clone(), wishes, &scope).ok()?;
        if shape.narrow {
            narrow(random, &mut problem)?;
        }
        problems.push(problem);
    }
    problems.try_into().ok()
}

/// Wishes that a recipe of the grid meets, and few others do.
fn narrow(random: &mut Random, problem: &mut Problem) -> Option<()> {
    let grid = grid(problem);
    let amounts = grid.get(random.below(grid.len().max(1)))?;
    let parts: Vec<Part<'_>> = problem.candidates.iter().map(|it| it.line.part()).collect();
    let mixture = Blend::new(&parts, CrystalState::Settled).mixture(amounts);
    let width = [0.02, 0.2, 1.0][random.below(3)];
    for demand in &mut problem.demands {
        let now = figure(demand.band.quantity, &mixture.at(demand.celsius));
        (demand.band.low, demand.band.high) = (now - width * random.share(), now + width * random.share());
    }
    Some(())
}

fn whole(percents: &[f64]) -> Amounts {
    percents.iter().map(|percent| (percent * 1e6).round() as i64).collect()
}

/// Lines that differ, and what moves.
fn distance(a: &Amounts, b: &Amounts) -> (usize, i64) {
    let lines = a.iter().zip(b).filter(|(a, b)| a != b).count();
    (lines, a.iter().zip(b).map(|(a, b)| (b - a).max(0)).sum())
}

/// The order of merit: lines that differ; lines changed in both together; where one recipe serves both, what
/// it costs as a rework does; what moves against the present recipe, in both together; what moves between the
/// two.
fn merit(problem: &Problem, now: &Amounts, a: &Amounts, b: &Amounts) -> (usize, usize, (i64, u8), i64, i64) {
    let (differ, between) = distance(a, b);
    let (to_a, to_b) = (distance(now, a), distance(now, b));
    let steps = |amounts: &Amounts| -> Vec<i64> {
        amounts.iter().map(|it| (*it as f64 / 1e6 / problem.step).round() as i64).collect()
    };
    let cost = if differ == 0 { cost(problem, &steps(a), &steps(now), problem.step) } else { (0, 0) };
    (differ, to_a.0 + to_b.0, cost, to_a.1 + to_b.1, between)
}

/// Every recipe that changes no more lines than may be, the largest of them taking up the remainder.
fn grid(problem: &Problem) -> Vec<Vec<f64>> {
    let now = problem.amounts();
    let count = now.len();
    let mut found = vec![now.clone()];
    let mut add = |lines: &[usize]| {
        let mut lines = lines.to_vec();
        // The earliest of the largest.
        let most = lines.iter().map(|at| now[*at]).fold(0.0, f64::max);
        let largest = lines.iter().position(|at| now[*at] == most).unwrap();
        let remainder = lines.remove(largest);
        let shared: f64 = now[remainder] + lines.iter().map(|at| now[*at]).sum::<f64>();
        let most = (shared / problem.step + 1e-7).floor() as usize;
        for b in 0..=most {
            for c in 0..=(if lines.len() == 2 { most - b } else { 0 }) {
                let mut amounts = now.clone();
                for (at, steps) in lines.iter().zip([b, c]) {
                    amounts[*at] = steps as f64 * problem.step;
                }
                amounts[remainder] = (shared - (b + c) as f64 * problem.step).max(0.0);
                let changed = distance(&whole(&now), &whole(&amounts)).0;
                if changed == lines.len() + 1 {
                    found.push(amounts);
                }
            }
        }
    };
    for i in 0..count {
        for j in i + 1..count {
            add(&[i, j]);
            for k in (j + 1..count).filter(|_| problem.changes == 3) {
                add(&[i, j, k]);
            }
        }
    }
    found.retain(|amounts| problem.admits(amounts) && is_no_crumb(problem, amounts));
    found
}

/// Those that are good for a season.
fn good(problem: &Problem, grid: &[Vec<f64>]) -> Vec<Amounts> {
    let parts: Vec<Part<'_>> = problem.candidates.iter().map(|it| it.line.part()).collect();
    let blend = Blend::new(&parts, CrystalState::Settled);
    let meets = |amounts: &[f64]| {
        let mixture: Mixture = blend.mixture(amounts);
        let met = |it: &Demand| it.band.miss(figure(it.band.quantity, &mixture.at(it.celsius))) == 0.0;
        problem.demands.iter().all(met)
    };
    grid.iter().filter(|amounts| meets(amounts)).map(|amounts| whole(amounts)).collect()
}

fn found(problems: &[Problem; 2]) -> Seasons {
    seasons_as_demanded(&problems[0], &problems[1], &mut |_| true)
}

/// Holds questions to a walk over all pairs; gives how many lines the best pairs differ in, one count for
/// each, and last how many questions have no pair.
fn walked(seed: u64, cases: usize, shape: &Shape) -> [usize; 8] {
    let mut random = Random::xorshift(seed);
    let mut counts = [0; 8];
    let mut case = 0;
    while case < cases {
        let Some(problems) = draw(&mut random, case, shape) else { continue };
        let grid = grid(&problems[0]);
        let [summer, winter] = [0, 1].map(|at| good(&problems[at], &grid));
        let now = whole(&problems[0].amounts());
        let best = summer.iter().flat_map(|a| winter.iter().map(|b| merit(&problems[0], &now, a, b))).min();
        let told = found(&problems);
        assert!(told.complete);
        match (best, told.pair) {
            (None, None) => {
                assert_eq!(told.lacks, Some(usize::from(!summer.is_empty())), "case {case}");
                counts[7] += 1;
            }
            (Some(best), Some(pair)) => {
                let (a, b) = (whole(&pair.summer.after.amounts), whole(&pair.winter.after.amounts));
                assert!(summer.contains(&a) && winter.contains(&b), "case {case}: {a:?} {b:?}");
                assert_eq!(merit(&problems[0], &now, &a, &b), best, "case {case}: {a:?} {b:?}");
                assert_eq!((pair.differ.len(), told.at_least), (best.0, best.0), "case {case}");
                counts[best.0] += 1;
            }
            (best, pair) => unreachable!("case {case}: {best:?} {pair:?}"),
        }
        case += 1;
    }
    counts
}

#[test]
fn no_pair_of_good_versions_is_closer() {
    let counts = walked(
        0x51ed_270b_0f3a_9d11,
        60,
        &Shape { lines: 3, pantry: 1, step: 5.0, room: None, narrow: false },
    );
    println!("lines that differ, from 0 to 6, and no pair: {counts:?}");
    assert!(counts[0] >= 5 && counts[2] >= 5 && counts[7] >= 5, "{counts:?}");
}

#[test]
fn nor_where_every_line_has_little_room() {
    let counts = walked(
        0x3c6e_f372_fe94_f82b,
        150,
        &Shape { lines: 5, pantry: 2, step: 5.0, room: Some(3), narrow: false },
    );
    println!("lines that differ, from 0 to 6, and no pair: {counts:?}");
    assert!(counts[0] >= 5 && counts[2] >= 5 && counts[7] >= 5, "{counts:?}");
}

#[test]
fn nor_where_few_recipes_are_good() {
    let shape = Shape { lines: 4, pantry: 2, step: 5.0, room: None, narrow: true };
    let counts = walked(0x6a09_e667_f3bc_c909, 300, &shape);
    println!("lines that differ, from 0 to 6, and no pair: {counts:?}");
    // Either season's wishes are what some recipe does, so that there always is a pair.
    assert!(counts[2..6].iter().all(|count| *count >= 5) && counts[7] == 0, "{counts:?}");
}

#[test]
fn a_search_that_is_stopped_tells_what_it_knows() {
    let shape = Shape { lines: 5, pantry: 4, step: 1.0, room: None, narrow: true };
    let mut random = Random::xorshift(0x51ed_270b_0f3a_9d11);
    let (mut stopped, mut with_a_pair, mut past_one_for_both) = (0, 0, 0);
    for case in 0..24 {
        let Some(problems) = draw(&mut random, case, &shape) else { continue };
        let mut all = 0;
        let whole = seasons_as_demanded(&problems[0], &problems[1], &mut |_| {
            all += 1;
            true
        });
        // At the first report, at the last, and at three between.
        let mut stops: Vec<usize> = (0..5).map(|part| 1 + (all - 1) * part / 4).collect();
        stops.dedup();
        for stop in stops {
            let (mut reports, mut last) = (0, 0);
            let part = seasons_as_demanded(&problems[0], &problems[1], &mut |progress: Progress| {
                assert!(progress.decided <= progress.total && progress.total > 0, "{progress:?}");
                reports += 1;
                last = progress.decided;
                reports < stop
            });
            assert!(reports <= stop && (reports < 2 || last > 0));
            assert!(part.at_least <= whole.at_least && (part.complete || part.lacks.is_none()));
            stopped += usize::from(!part.complete);
            past_one_for_both += usize::from(!part.complete && part.at_least > 0);
            if let Some(pair) = part.pair {
                for (problem, version) in problems.iter().zip([&pair.summer, &pair.winter]) {
                    let amounts = std::slice::from_ref(&version.after.amounts);
                    assert_eq!(good(problem, amounts).len(), 1, "{amounts:?}");
                }
                assert!(pair.differ.len() >= whole.at_least);
                with_a_pair += usize::from(!part.complete);
            }
        }
    }
    println!("{stopped} stopped, {with_a_pair} with a pair, {past_one_for_both} past one for both");
    assert!(stopped >= 40 && with_a_pair >= 5 && past_one_for_both >= 10);
}

#[test]
fn two_seasons_stop_after_the_work_allowed() {
    let season = |coldest: f64, hottest: f64| {
        json!({
            "format": "whipped", "storage_c": {"coldest": coldest, "hottest": hottest}, "firmness": "scoopable", "on_skin": "melts",
        })
    };
    let mut request = json!({
        "ask": "seasons", "summer": season(24.0, 30.0), "winter": season(8.0, 18.0),
        "recipe": [
            {"id": "shea-butter", "percent": 70}, {"id": "coconut-oil", "percent": 15}, {"id": "sunflower-oil", "percent": 15},
        ],
        "limits": {"pantry": ["cocoa-butter", "kokum-butter", "mango-butter", "beeswax", "stearic-acid", "cetyl-alcohol"]},
    });
    let whole = answer(&request)["answer"].clone();
    assert_eq!(whole["complete"], true, "{whole}");
    let took = whole["proof"]["equilibria"].as_u64().unwrap();
    assert!(took > 1_200, "{took}");
    request["limits"]["work"] = json!(1_000);
    let cut = answer(&request);
    let told = cut["answer"]["proof"]["equilibria"].as_u64();
    assert!(cut["answer"]["complete"] == false || cut["error"]["kind"] == "conflict", "{cut}");
    assert!(told.is_none_or(|told| (1_000..took).contains(&told)), "{told:?} of {took}");
}
