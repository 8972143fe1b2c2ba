//! Bands that belong to a recipe: nine in ten of its lots lie within.

use super::{
    Remainder, Unknowns,
    band::{LotBand, percent, range},
    lots::{Drawn, LookFurther, POWERS_PER_LOT, Probe},
    odds::{self, Odds, figure},
    temperatures::{Fall, Softening, Sought},
    widths::ByKind,
};
use crate::behaviour::{self, Melting, Quantity, Solids, Where, Wishes};

/// What one place looks like over the lots.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaceSpread {
    /// Solid fat content, percent by mass.
    pub solid_percent: LotBand,
    /// Structure, percent.
    pub structure_percent: LotBand,
}

/// How a recipe varies in a climate.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// How likely each wish is met.
    pub odds: Odds,
    /// At the places, in the order of [`PLACES`].
    places: [PlaceSpread; 4],
    /// Where the format stops keeping its shape, °C; `None` where as it is on record it never keeps it.
    pub softening_c: Option<LotBand>,
    /// Slip point, °C; `None` where as it is on record it has none.
    pub slip_c: Option<LotBand>,
    /// Clear point, °C; likewise.
    pub clear_c: Option<LotBand>,
}

impl Drawn {
    /// The band of the solids at a probe.
    fn solid_percent(&self, probe: usize, remainder: f64) -> LotBand {
        let values: Vec<f64> = self.lots.iter().map(|lot| lot[probe].fat_percent()).collect();
        percent(range(&values, remainder))
    }

    /// The band of the structure at a probe.
    fn structure_percent(&self, probe: usize, remainder: f64) -> LotBand {
        let of_lot = |(lot, powers): (&Vec<Solids>, &[ByKind; POWERS_PER_LOT])| {
            powers.map(|powers| figure(Quantity::Structure, &lot[probe], &powers))
        };
        let values: Vec<f64> = self.lots.iter().zip(&self.powers).flat_map(of_lot).collect();
        percent(range(&values, remainder))
    }
}

/// The places, the one that decides most first: along it lots lie most evenly.
const PLACES: [Where; 4] = [Where::Hottest, Where::Coldest, Where::Skin, Where::Usual];

fn probe_of(place: Where) -> usize {
    PLACES.iter().position(|known| *known == place).unwrap_or(0)
}

impl Spread {
    /// What a place looks like.
    pub fn place(&self, place: Where) -> PlaceSpread {
        self.places[probe_of(place)]
    }
}

impl Unknowns {
    /// How the recipe varies in a climate; `settled` is the recipe as it is on record.
    pub fn spread(&self, wishes: &Wishes, settled: &mut Melting<'_>) -> Spread {
        let (level, quantity) = (wishes.format.least_percent(), wishes.format.held_by());
        let softens = settled.softens_c(level, quantity.figure());
        let softening = softens.map(|at_c| Fall { quantity, level, at_c });
        let [slip, clear] = points(settled);
        let Remainder { solid_percent: points, slip_k, clear_k } = self.remainder();
        let mut softening = softening.map(|fall| Softening::of(fall, points));
        let mut sought = [slip, clear].map(|fall| fall.map(|fall| Sought::of(settled, fall)));
        let (drawn, odds) = self.judged(wishes, &mut |lot, solids, powers| {
            if let Some(softening) = &mut softening {
                let known =
                    PLACES.map(|place| wishes.temperature_c(place)).into_iter().zip(solids.iter().copied());
                softening.look(lot, &known.collect::<Vec<_>>(), powers);
            }
            sought.iter_mut().flatten().for_each(|sought| sought.look(lot));
        });
        let place = |at: usize| PlaceSpread {
            solid_percent: drawn.solid_percent(at, points),
            structure_percent: drawn.structure_percent(at, points),
        };
        let band =
            |sought: &Option<Sought>, remainder_k| sought.as_ref().map(|sought| sought.band(remainder_k));
        Spread {
            odds,
            places: [0, 1, 2, 3].map(place),
            softening_c: softening.and_then(|softening| softening.band(slip_k)),
            slip_c: band(&sought[0], slip_k),
            clear_c: band(&sought[1], clear_k),
        }
    }

    /// How likely wishes are met.
    pub fn odds(&self, wishes: &Wishes) -> Odds {
        self.judged(wishes, &mut |_, _, _| ()).1
    }

    fn judged(&self, wishes: &Wishes, look: &mut LookFurther<'_>) -> (Drawn, Odds) {
        let bands = wishes.bands();
        let probes = PLACES.map(|place| {
            let band = bands.iter().find(|band| band.place == place);
            Probe { celsius: wishes.temperature_c(place), figure: band.map(|band| band.quantity.figure()) }
        });
        let drawn = self.drawn(&probes, look);
        let odds = odds::odds(&drawn, &odds::wanted(&bands, probe_of), self.remainder().solid_percent);
        (drawn, odds)
    }

    /// The band of the solids at each of these temperatures, °C, percent by mass.
    pub fn solid_percent(&self, at_c: &[f64]) -> Vec<LotBand> {
        let probes: Vec<Probe> = at_c
            .iter()
            .map(|celsius| Probe { celsius: *celsius, figure: Some(Solids::fat_percent) })
            .collect();
        let drawn = self.drawn(&probes, &mut |_, _, _| ());
        (0..at_c.len()).map(|at| drawn.solid_percent(at, self.remainder().solid_percent)).collect()
    }

    /// The bands of the slip and of the clear point, °C; `None` where the
    /// recipe, as it is on record, has none.
    pub fn points_c(&self, settled: &mut Melting<'_>) -> [Option<LotBand>; 2] {
        self.melts(&[], settled).1
    }

    /// The band of the solids at each of these temperatures, and those of the slip and of the
    /// clear point, from one set of lots.
    pub fn melts(&self, at_c: &[f64], settled: &mut Melting<'_>) -> (Vec<LotBand>, [Option<LotBand>; 2]) {
        let falls = points(settled);
        let asked = at_c.iter().copied().chain(falls.iter().flatten().map(|fall| fall.at_c));
        let probes: Vec<Probe> =
            asked.map(|celsius| Probe { celsius, figure: Some(Solids::fat_percent) }).collect();
        let mut sought = falls.map(|fall| fall.map(|fall| Sought::of(settled, fall)));
        let drawn = self
            .drawn(&probes, &mut |lot, _, _| sought.iter_mut().flatten().for_each(|sought| sought.look(lot)));
        let Remainder { solid_percent, slip_k, clear_k } = self.remainder();
        let band =
            |sought: &Option<Sought>, remainder_k| sought.as_ref().map(|sought| sought.band(remainder_k));
        let solids = (0..at_c.len()).map(|at| drawn.solid_percent(at, solid_percent)).collect();
        (solids, [band(&sought[0], slip_k), band(&sought[1], clear_k)])
    }
}

/// Where the make-up on record slips and clears.
fn points(settled: &mut Melting<'_>) -> [Option<Fall>; 2] {
    let fall =
        |level: f64, at_c: Option<f64>| at_c.map(|at_c| Fall { quantity: Quantity::Solid, level, at_c });
    let slip = fall(behaviour::SLIP_SOLID_PERCENT, settled.slip_c());
    let clear_c = settled.clear_c();
    let left = clear_c.map_or(0.0, |at_c| settled.solids(at_c).fat_percent());
    [slip, fall(left, clear_c)]
}
