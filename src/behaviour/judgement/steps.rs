//! How to make it, step by step, and what to be careful of.

use serde::Serialize;

use crate::behaviour::{Format, Making, REST_C, WHIP_PERCENT};

/// A step of the making.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Step {
    /// Melt everything out and keep it there.
    MeltOut { melt_out_c: f64, hold_min: f64 },
    /// It cannot be whipped: it never has the crystals that hold air.
    CannotBeWhipped,
    /// Cool it quickly, with stirring, through the range in which its highest-melting part sets alone.
    CoolFastStirring { from_c: f64, to_c: f64, rest_from_c: f64, rest_to_c: f64 },
    /// Cool it steadily, with stirring.
    CoolStirring,
    /// Whip it while so much of it is crystals.
    Whip { from_c: f64, to_c: f64, from_percent: f64, to_percent: f64 },
    /// Pour it as cool as it still flows.
    Pour { from_c: f64, to_c: f64 },
    /// Cool what is filled quickly through that range.
    CoolFilledFast { format: Format, from_c: f64, to_c: f64, rest_from_c: f64, rest_to_c: f64 },
    /// Let what is filled cool steadily.
    CoolFilled { format: Format, rest_from_c: f64, rest_to_c: f64 },
    /// Nothing in it has to set before it is filled.
    FillCool,
    /// Take bars out of the mould.
    Demould { below_c: f64 },
    /// Judge it after some days: it firms up.
    JudgeLater,
    /// Judge it the day after.
    JudgeNextDay,
}

/// What to be careful of.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Caution {
    /// A water bath, and nobody leaves: fats burn.
    OpenHeat { flash_from_c: f64, flash_to_c: f64 },
    /// No water in hot fat, nor on burning fat.
    Water,
    /// How a burn by hot fat is cooled.
    Burns,
    /// Its light part gives off vapour that catches fire.
    Vapour { flash_from_c: f64, flash_to_c: f64 },
    /// Hotter than this, beeswax darkens and oils age.
    Darkens { above_c: f64 },
}

/// What flows in any workshop flows below this, °C.
const WORKSHOP_C: f64 = 18.0;

/// The steps, in order, for a butter that firms up in its first days or does not.
pub fn steps(making: &Making, format: Format, firms: bool) -> Vec<Step> {
    let (rest_from_c, rest_to_c) = REST_C;
    let mut steps = vec![Step::MeltOut { melt_out_c: making.melt_out_c, hold_min: making.hold_min }];
    match (format, making.whip_c, making.pour_c) {
        (Format::Whipped, None, _) => steps.push(Step::CannotBeWhipped),
        (Format::Whipped, Some((from_c, to_c)), _) => {
            steps.push(match making.hurry_c {
                Some((bulk_c, cloud_c)) => {
                    Step::CoolFastStirring { from_c: cloud_c, to_c: bulk_c, rest_from_c, rest_to_c }
                }
                None => Step::CoolStirring,
            });
            let (from_percent, to_percent) = WHIP_PERCENT;
            steps.push(Step::Whip { from_c, to_c, from_percent, to_percent });
        }
        (_, _, Some((from_c, to_c))) if from_c >= WORKSHOP_C => {
            steps.push(Step::Pour { from_c, to_c });
            // Poured as cool as it flows, part of the range is behind it.
            steps.push(match making.hurry_c {
                Some((bulk_c, cloud_c)) => Step::CoolFilledFast {
                    format,
                    from_c: cloud_c.min(to_c),
                    to_c: bulk_c,
                    rest_from_c,
                    rest_to_c,
                },
                None => Step::CoolFilled { format, rest_from_c, rest_to_c },
            });
        }
        _ => steps.push(Step::FillCool),
    }
    steps.extend(making.demould_c.map(|below_c| Step::Demould { below_c }));
    steps.push(if firms { Step::JudgeLater } else { Step::JudgeNextDay });
    steps
}

/// Stearic acid and paraffin burn from about here on, °C: safety data sheets; flash points from the Handbook
/// of Pharmaceutical Excipients and from memory.
const FLASH_C: (f64, f64) = (195.0, 200.0);
/// Beeswax discolours above this, °C (an encyclopaedia, not traced further); laboratories melt waxes in oil
/// at 75 to 90 (Callau et al. 2021 and others).
const GENTLE_C: f64 = 85.0;

/// Essential oils and light alkanes do from here on, °C: safety data sheets, from memory (limonene and
/// eucalyptol 48, undecane 60 to 65, linalool 76, tridecane 79 to 94).
const VAPOUR_FLASH_C: (f64, f64) = (45.0, 95.0);

/// What to be careful of with hot fat, and with what is volatile in it: safety data sheets.
pub fn cautions(melt_out_c: f64, is_volatile: bool) -> Vec<Caution> {
    let (flash_from_c, flash_to_c) = FLASH_C;
    let mut cautions = vec![Caution::OpenHeat { flash_from_c, flash_to_c }];
    if is_volatile {
        let (flash_from_c, flash_to_c) = VAPOUR_FLASH_C;
        cautions.push(Caution::Vapour { flash_from_c, flash_to_c });
    }
    cautions.extend([Caution::Water, Caution::Burns]);
    if melt_out_c > GENTLE_C {
        cautions.push(Caution::Darkens { above_c: GENTLE_C });
    }
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::behaviour::making::tests::made;

    fn told(lines: &[(&str, f64)], format: Format) -> Vec<Step> {
        steps(&made(lines, format).0, format, true)
    }

    #[test]
    fn pouring_comes_before_chilling_and_an_oil_is_just_filled() {
        let pot = told(&[("beeswax", 5.0), ("shea-butter", 60.0), ("olive-oil", 35.0)], Format::Pot);
        assert!(
            matches!(
                pot[..],
                [Step::MeltOut { .. }, Step::Pour { .. }, Step::CoolFilledFast { .. }, Step::JudgeLater]
            ),
            "{pot:?}"
        );
        assert_eq!(told(&[("olive-oil", 100.0)], Format::Pot)[1], Step::FillCool);
        assert_eq!(told(&[("tapioca-starch", 100.0)], Format::Pot)[1], Step::FillCool);
    }

    #[test]
    fn what_cannot_be_whipped_is_said_so() {
        assert_eq!(told(&[("sunflower-oil", 100.0)], Format::Whipped)[1], Step::CannotBeWhipped);
        let whipped = told(&[("shea-butter", 80.0), ("sunflower-oil", 20.0)], Format::Whipped);
        assert!(whipped.iter().any(|step| matches!(step, Step::Whip { .. })), "{whipped:?}");
    }

    #[test]
    fn open_heat_is_warned_of_first() {
        assert!(matches!(
            cautions(60.0, false)[..],
            [Caution::OpenHeat { .. }, Caution::Water, Caution::Burns]
        ));
        assert_eq!(cautions(92.0, false).last(), Some(&Caution::Darkens { above_c: GENTLE_C }));
        assert!(
            matches!(cautions(60.0, true)[1], Caution::Vapour { flash_from_c, .. } if flash_from_c < 60.0)
        );
    }
}
