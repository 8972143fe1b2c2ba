//! A ratio series: one butter with ever more of one hardener.

use serde::{Deserialize, Serialize};

use super::{PotLine, bench::NamedBench};
use crate::{
    contract::{ErrorKind, Failure, check::within},
    surety::learned::Series,
};

/// A ratio series of one butter and one hardener.
#[derive(Clone, Debug, Deserialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SeriesRequest {
    /// The butter: the name of a lot, or else a catalogue id.
    pub butter: String,
    /// The hardener, likewise.
    pub hardener: String,
    /// The largest dose, percent, 1 to 40; 20 unless said otherwise.
    #[serde(default = "most_dose")]
    pub most_percent: u32,
    /// How many doses to make, 1 to 10; 5 unless said otherwise.
    #[serde(default = "five")]
    pub doses: u32,
}

fn most_dose() -> u32 {
    20
}

fn five() -> u32 {
    5
}

/// A ratio series.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SeriesAnswer {
    /// What is unknown now of the slip points over the series, K, as a standard deviation.
    pub now_k: f64,
    /// The doses worth making, percent, the one that tells most first.
    pub doses: Vec<SeriesDose>,
    /// What as many evenly spaced doses would leave, K.
    pub evenly_k: f64,
}

/// A dose of a series.
#[derive(Clone, Copy, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct SeriesDose {
    /// Percent of the hardener.
    pub percent: f64,
    /// How much of the butter goes into its pot, g.
    pub butter_g: f64,
    /// How much of the hardener, g.
    pub hardener_g: f64,
    /// Where, by all that is known, it will be read to slip, °C.
    pub expected_c: f64,
    /// Nine in ten such readings lie so near to that, K.
    pub within_k: f64,
    /// What is left unknown of the whole series after it and those before it, K.
    pub left_k: f64,
}

impl SeriesAnswer {
    /// Of pots that weigh so much each, g.
    pub(super) fn of(Series { now_k, doses, evenly_k }: Series, grams: f64) -> SeriesAnswer {
        let doses = doses.into_iter().map(|dose| {
            let percent = f64::from(dose.percent);
            let hardener_g = 0.01 * percent * grams;
            SeriesDose {
                percent,
                butter_g: grams - hardener_g,
                hardener_g,
                expected_c: dose.expected_c,
                within_k: dose.within_k,
                left_k: dose.left_k,
            }
        });
        SeriesAnswer { now_k, doses: doses.collect(), evenly_k }
    }
}

impl NamedBench {
    /// The butter and the hardener of a series.
    pub(super) fn ends_of(&mut self, series: &SeriesRequest) -> Result<(usize, usize), Failure> {
        let most = f64::from(series.most_percent);
        within(most, (1.0, 40.0), "series.most_percent", "the largest dose", "%")?;
        within(f64::from(series.doses), (1.0, 10.0), "series.doses", "how many doses to make", "")?;
        let mut end = |name: &str, at: &str| {
            let is_lot = self.names.iter().any(|known| known == name);
            let (lot, id) =
                if is_lot { (Some(name.to_owned()), None) } else { (None, Some(name.to_owned())) };
            self.lot(&PotLine { lot, id, percent: 0.0 }, at)
                .map_err(|failure| failure.placed(|_| at.to_owned()))
        };
        let ends = (end(&series.butter, "series.butter")?, end(&series.hardener, "series.hardener")?);
        if ends.0 == ends.1 {
            return Err(Failure::new(
                ErrorKind::Conflict,
                "series.hardener",
                "the butter and the hardener of the series are one: choose another hardener",
            ));
        }
        Ok(ends)
    }
}
