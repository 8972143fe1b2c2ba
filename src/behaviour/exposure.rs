//! What heat did to a packed butter on its way, and how it is noted.

use serde::Serialize;

use super::Firmness;

/// What heat did to it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Exposure {
    /// The moments reported, hours.
    pub hours: Vec<f64>,
    /// Air, °C.
    pub air_c: Vec<f64>,
    /// The outermost shell of the butter, °C.
    pub surface_c: Vec<f64>,
    /// Its middle, °C.
    pub middle_c: Vec<f64>,
    /// Share of the solids that it had at the start which has melted, percent.
    pub melted_percent: Vec<f64>,
    /// Share of the mass whose structure is below what the format needs, percent.
    pub slack_percent: Vec<f64>,
    /// The most that was melted, percent.
    pub most_melted_percent: f64,
    /// When it starts to slump, hours; `null` where it does not.
    pub slumps_at_h: Option<f64>,
    /// Share of the mass that lost its structure at some time, percent: it sets
    /// again, but flat, dense or grainy.
    pub lost_percent: f64,
    /// The hottest that the middle of the butter got, °C.
    pub hottest_middle_c: f64,
    /// The hottest, °C, at the depth outside of which a tenth of its mass lies: what keeps its
    /// structure there does not slump.
    pub hottest_rind_c: f64,
    /// Whether all of it would have poured at some time.
    pub poured: bool,
    /// Heat taken up less heat that came in, over the larger of the two: the solver's own check.
    pub energy_error: f64,
    /// Steps taken.
    pub steps: usize,
}

/// Share of the mass that is slack when it starts to slump, percent: ours. The outside goes first, and a
/// tenth of a jar is a skin of 2 mm or so.
pub const SLUMPS_PERCENT: f64 = 10.0;

/// What is gathered on the way.
pub(super) struct Recorder {
    pub(super) exposure: Exposure,
    /// Of each shell, kg.
    masses: Vec<f64>,
    slack_before: (f64, f64),
    slack_percent: f64,
    /// The most of each shell that was slack at one time.
    lost: Vec<f64>,
    poured: Vec<bool>,
}

impl Recorder {
    pub(super) fn new(masses: Vec<f64>) -> Recorder {
        Recorder {
            lost: vec![0.0; masses.len()],
            poured: vec![false; masses.len()],
            masses,
            exposure: Exposure {
                hours: Vec::new(),
                air_c: Vec::new(),
                surface_c: Vec::new(),
                middle_c: Vec::new(),
                melted_percent: Vec::new(),
                slack_percent: Vec::new(),
                most_melted_percent: 0.0,
                slumps_at_h: None,
                lost_percent: 0.0,
                hottest_middle_c: f64::NEG_INFINITY,
                hottest_rind_c: f64::NEG_INFINITY,
                poured: false,
                energy_error: 0.0,
                steps: 0,
            },
            slack_before: (0.0, 0.0),
            slack_percent: 0.0,
        }
    }

    /// Looks at the structure of the shells and at what the format is held by, percent, the outermost first.
    pub(super) fn see(&mut self, hour: f64, melted: f64, (structure, held): (&[f64], &[f64]), needs: f64) {
        let (mut slack_kg, mut lost_kg, mut total_kg) = (0.0, 0.0, 0.0);
        for (at, mass_kg) in self.masses.iter().enumerate() {
            let slack = slack_share(held, at, needs);
            self.lost[at] = self.lost[at].max(slack);
            self.poured[at] |= structure[at] < Firmness::Pourable.limits().1;
            slack_kg += mass_kg * slack;
            lost_kg += mass_kg * self.lost[at];
            total_kg += mass_kg;
        }
        self.slack_percent = (100.0 * slack_kg / total_kg).min(100.0);
        let exposure = &mut self.exposure;
        exposure.most_melted_percent = exposure.most_melted_percent.max(melted);
        exposure.lost_percent = (100.0 * lost_kg / total_kg).min(100.0);
        exposure.poured = self.poured.iter().all(|poured| *poured);
        if exposure.slumps_at_h.is_none() && self.slack_percent >= SLUMPS_PERCENT {
            let (before_h, before) = self.slack_before;
            let rise = self.slack_percent - before;
            let share = if rise > 0.0 { ((SLUMPS_PERCENT - before) / rise).clamp(0.0, 1.0) } else { 1.0 };
            exposure.slumps_at_h = Some(before_h + share * (hour - before_h));
        }
        self.slack_before = (hour, self.slack_percent);
    }

    /// Looks at the temperatures of the shells, °C, the outermost first.
    pub(super) fn feel(&mut self, celsius: &[f64]) {
        let exposure = &mut self.exposure;
        if let Some(middle_c) = celsius.last() {
            exposure.hottest_middle_c = exposure.hottest_middle_c.max(*middle_c);
        }
        exposure.hottest_rind_c = exposure.hottest_rind_c.max(rind_c(&self.masses, celsius));
    }

    pub(super) fn note(&mut self, hour: f64, air_c: f64, surface_c: f64, middle_c: f64, melted: f64) {
        self.exposure.hours.push(hour);
        self.exposure.air_c.push(air_c);
        self.exposure.surface_c.push(surface_c);
        self.exposure.middle_c.push(middle_c);
        self.exposure.melted_percent.push(melted);
        self.exposure.slack_percent.push(self.slack_percent);
    }
}

/// The temperature, °C, at the depth outside of which [`SLUMPS_PERCENT`] of the mass lies, by a straight line
/// between the middles of shells.
fn rind_c(masses: &[f64], celsius: &[f64]) -> f64 {
    let mark = 0.01 * SLUMPS_PERCENT * masses.iter().sum::<f64>();
    let (mut outside, mut before) = (0.0, None);
    for (mass, here) in masses.iter().zip(celsius) {
        let middle = outside + 0.5 * mass;
        if middle >= mark {
            return before.map_or(*here, |(at, there)| {
                let share: f64 = (mark - at) / (middle - at);
                there + share * (here - there)
            });
        }
        before = Some((middle, *here));
        outside += mass;
    }
    before.map_or(f64::NEG_INFINITY, |(_, there)| there)
}

/// The share of a shell that is slack, 0..=1. Structure is known in the middle of each and
/// taken to run straight between.
fn slack_share(structure: &[f64], at: usize, needs: f64) -> f64 {
    let own = structure[at];
    let half = |neighbour: Option<&f64>| {
        let other = neighbour.copied().unwrap_or(own);
        // Where between the middles the structure passes what is needed; this shell ends half-way.
        let pass = if (own < needs) == (other < needs) { 1.0 } else { (needs - own) / (other - own) };
        let near = (2.0 * pass).min(1.0);
        0.5 * if own < needs { near } else { 1.0 - near }
    };
    half(at.checked_sub(1).and_then(|before| structure.get(before))) + half(structure.get(at + 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tenth_lies_outside_of_the_rind() {
        let masses = [1.0, 1.0, 8.0, 10.0];
        // Two of twenty are outside at the end of the second shell, a ninth of the way from
        // its middle to that of the third.
        let celsius = rind_c(&masses, &[40.0, 38.0, 29.0, 20.0]);
        assert!((celsius - 37.0).abs() < 1e-12, "{celsius}");
        assert_eq!(rind_c(&[5.0, 5.0], &[30.0, 20.0]), 30.0);
    }

    /// Two shells of four, and the third to where 10 lies between 8 and 16: a quarter of the way.
    #[test]
    fn what_is_slack_ends_between_shells() {
        let structure = [2.0, 8.0, 16.0, 20.0];
        let shares: Vec<f64> = (0..4).map(|at| slack_share(&structure, at, 10.0)).collect();
        assert_eq!(shares, [1.0, 0.75, 0.0, 0.0]);
        assert!((slack_share(&[2.0, 8.0, 10.5, 20.0], 2, 10.0) - 0.3).abs() < 1e-12);
    }
}
