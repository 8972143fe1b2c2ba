//! How hot the air gets: courses of temperature, with where they come from.

use serde::{Deserialize, Serialize};

/// A course of air temperature, from published measurements as far as they go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Preset {
    /// A day in the cabin of a car parked in the sun.
    ParkedCarSun,
    /// A day in the cabin of a car parked in the shade.
    ParkedCarShade,
    /// On the dashboard of a car parked in the sun.
    Dashboard,
    /// A day's round in an uncooled delivery van.
    DeliveryVan,
    /// A day in a parcel box in the sun.
    Mailbox,
    /// Three days in a sea container.
    SeaContainer,
    /// A room at 30 °C for a week: a warm home or shop.
    WarmRoom,
}

impl Preset {
    /// Each of them.
    pub const ALL: [Preset; 7] = [
        Preset::ParkedCarSun,
        Preset::ParkedCarShade,
        Preset::Dashboard,
        Preset::DeliveryVan,
        Preset::Mailbox,
        Preset::SeaContainer,
        Preset::WarmRoom,
    ];
}

/// A course of air temperature.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct Course {
    /// Corners: hour and °C, hours rising from 0; straight between them.
    pub points: Vec<(f64, f64)>,
    /// What it stands for.
    pub air: Air,
    /// Where the figures come from, and what is assumed.
    pub source: &'static str,
}

/// What a course of air stands for.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Air {
    /// See [`Preset::ParkedCarSun`].
    ParkedCarSun,
    /// See [`Preset::ParkedCarShade`].
    ParkedCarShade,
    /// See [`Preset::Dashboard`].
    Dashboard,
    /// See [`Preset::DeliveryVan`].
    DeliveryVan,
    /// See [`Preset::Mailbox`].
    Mailbox,
    /// See [`Preset::SeaContainer`].
    SeaContainer,
    /// See [`Preset::WarmRoom`].
    WarmRoom {
        /// °C.
        at_c: f64,
    },
    /// One temperature.
    Constant {
        /// °C.
        at_c: f64,
        /// For how long, hours.
        for_h: f64,
    },
    /// Corners that were asked for.
    Listed,
}

impl Preset {
    /// The course that it stands for.
    pub fn course(self) -> Course {
        let (points, air, source): (&[(f64, f64)], Air, &'static str) = match self {
            Preset::ParkedCarSun => (
                &[
                    (0.0, 30.0),
                    (0.5, 47.5),
                    (1.0, 52.0),
                    (3.0, 68.0),
                    (5.0, 68.0),
                    (8.0, 50.0),
                    (11.0, 32.0),
                    (24.0, 26.0),
                ],
                Air::ParkedCarSun,
                "Rise of 22 °C within an hour, 80 % of it in half: McLaren 2005 (from memory). Summit: mean of daily cabin maxima on clear summer days, 68 °C, Grundstein 2009. The rest of the day's shape is assumed.",
            ),
            Preset::ParkedCarShade => (
                &[(0.0, 30.0), (1.0, 38.0), (5.0, 41.0), (9.0, 35.0), (24.0, 27.0)],
                Air::ParkedCarShade,
                "38 °C in the cabin and 41–48 °C on its surfaces after an hour on days above 35 °C: Vanos 2018, as summarised. The rest of the day's shape is assumed.",
            ),
            Preset::Dashboard => (
                &[(0.0, 30.0), (1.0, 69.0), (5.0, 69.0), (8.0, 50.0), (11.0, 32.0), (24.0, 26.0)],
                Air::Dashboard,
                "69 °C after an hour on days above 35 °C: Vanos 2018, as summarised. How long it lasts is assumed.",
            ),
            Preset::DeliveryVan => (
                &[(0.0, 25.0), (2.0, 40.0), (4.0, 50.0), (8.0, 50.0), (10.0, 35.0), (24.0, 25.0)],
                Air::DeliveryVan,
                "Assumed: 50 °C for four hours. No published logger study of vans was found; they are known to exceed the air outside in sun.",
            ),
            Preset::Mailbox => (
                &[(0.0, 27.0), (4.0, 37.0), (7.0, 46.7), (10.0, 44.0), (14.0, 33.0), (24.0, 27.0)],
                Air::Mailbox,
                "Courier boxes in direct sun: 27.1–46.7 °C, mean 37.2 (polymer), 18.4–44.1, mean 31.8 (steel): Hart & Wiencek, abstract. The hours between are assumed.",
            ),
            Preset::SeaContainer => (
                &[
                    (0.0, 25.0),
                    (8.0, 57.0),
                    (12.0, 57.0),
                    (24.0, 27.0),
                    (32.0, 57.0),
                    (36.0, 57.0),
                    (48.0, 27.0),
                    (56.0, 57.0),
                    (60.0, 57.0),
                    (72.0, 27.0),
                ],
                Air::SeaContainer,
                "Containers reach 57 °C (Xerox study) and wine containers at sea 50 °C (2008 review). The daily swing is assumed.",
            ),
            Preset::WarmRoom => (
                &[(0.0, 30.0), (168.0, 30.0)],
                Air::WarmRoom { at_c: 30.0 },
                "The long-term test temperature of the hot climatic zones (ICH Q1F).",
            ),
        };
        Course { points: points.to_vec(), air, source }
    }
}

impl Course {
    /// Air, °C, at an hour; beyond the ends, the end's.
    pub fn at_c(&self, hour: f64) -> f64 {
        let next = self.points.partition_point(|point| point.0 <= hour);
        match (next.checked_sub(1).and_then(|at| self.points.get(at)), self.points.get(next)) {
            (Some(low), Some(high)) => low.1 + (high.1 - low.1) * (hour - low.0) / (high.0 - low.0),
            (Some(end), None) | (None, Some(end)) => end.1,
            (None, None) => 0.0,
        }
    }

    /// How long it goes on, hours.
    pub fn hours(&self) -> f64 {
        self.points.last().map_or(0.0, |point| point.0)
    }

    /// The hottest air, °C.
    pub fn hottest_c(&self) -> f64 {
        self.points.iter().map(|point| point.1).fold(f64::NEG_INFINITY, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn presets_are_courses_with_a_source() {
        for preset in Preset::ALL {
            let course = preset.course();
            assert!(course.points.windows(2).all(|pair| pair[0].0 < pair[1].0), "{preset:?}");
            assert!(course.points[0].0 == 0.0 && !course.source.is_empty());
        }
    }

    #[test]
    fn presets_agree_with_what_they_cite() {
        // McLaren: about 22 °C in an hour, 80 % of it in half.
        let sun = Preset::ParkedCarSun.course();
        assert!((sun.at_c(1.0) - sun.at_c(0.0) - 22.0).abs() < 0.5);
        assert!(((sun.at_c(0.5) - sun.at_c(0.0)) / (sun.at_c(1.0) - sun.at_c(0.0)) - 0.8).abs() < 0.02);
        // Grundstein: summer maxima 41 to 76, mean 68.
        assert!((sun.hottest_c() - 68.0).abs() < 0.1);
        // Hart & Wiencek: a mean of 37.2 over the hours of sun in a polymer box, 27.1 to 46.7.
        let mailbox = Preset::Mailbox.course();
        let hours = 0..=100;
        let mean: f64 = hours.clone().map(|i| mailbox.at_c(0.14 * f64::from(i))).sum::<f64>() / 101.0;
        assert!((mean - 37.2).abs() < 2.0, "{mean}");
    }
}
