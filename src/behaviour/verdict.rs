//! The verdict: a sentence before it is a number.

use serde::Serialize;

use super::{
    Firmness, Format, OnSkin, Where, Wishes,
    regime::{MARGIN_K, Regime, degrees},
};

/// How good the news is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Mood {
    /// It does what is wanted.
    Good,
    /// It nearly does, or only just.
    Doubtful,
    /// It does not.
    Bad,
}

/// What the sentence is made from.
#[derive(Clone, Copy, Debug)]
pub struct Findings<'a> {
    /// What is wanted.
    pub wishes: &'a Wishes,
    /// Where the format stops keeping its shape, °C.
    pub softening_c: Option<f64>,
    /// Solids on skin, percent.
    pub skin_solid_percent: f64,
    /// Powder in it, percent.
    pub powder_percent: f64,
    /// How firm it is in the middle of the storage range.
    pub usual: Firmness,
    /// Whether it is harder in the cold than the wish, or than the format can bear.
    pub too_hard_in_cold: bool,
    /// The largest miss of any wish, percent points.
    pub worst_miss: f64,
    /// Whether any wish is missed.
    pub misses: bool,
}

/// Misses up to this, percent points, are within what the prediction can tell apart (measured fits of solid-fat
/// curves are off by 2, J Oil Palm Res 30:579, 2018): doubtful rather than bad.
const SMALL_MISS: f64 = 2.0;

/// Mood and sentence.
pub fn sentence(findings: &Findings<'_>) -> (Mood, String) {
    let Findings { wishes, softening_c, .. } = *findings;
    let (coldest, hottest) = (degrees(wishes.coldest_c), degrees(wishes.hottest_c));
    let shape = match wishes.format {
        Format::Whipped => "keeps its whip",
        Format::Pot => "holds its shape",
        Format::Bar => "stays firm enough for a bar",
    };
    let (mut mood, mut text) = match softening_c {
        Some(softens) if softens < wishes.coldest_c => (
            Mood::Bad,
            format!(
                "It {shape} only below {} °C, so it is too soft even at your coldest {coldest} °C",
                degrees(softens)
            ),
        ),
        Some(softens) if softens < wishes.hottest_c => (
            Mood::Bad,
            format!(
                "It {shape} {} {} °C, so it will {} on your hottest days ({hottest} °C)",
                // Two temperatures that round alike must not read as if they were one.
                if degrees(softens) == hottest { "to just under" } else { "to" },
                degrees(softens),
                match wishes.format {
                    Format::Whipped => "collapse",
                    Format::Pot => "slump",
                    Format::Bar => "soften",
                }
            ),
        ),
        Some(softens) => {
            let room = softens - wishes.hottest_c;
            let above = match room {
                _ if room < NEAR_K => "just above",
                _ if room < MARGIN_K => "above",
                _ => "well above",
            };
            (
                Mood::Good,
                format!("It {shape} to {} °C, {above} your hottest days ({hottest} °C)", degrees(softens)),
            )
        }
        None => (Mood::Bad, format!("It never {}", never(wishes.format))),
    };
    if softening_c.is_some_and(|c| c >= wishes.hottest_c && c < wishes.hottest_c + NEAR_K) {
        mood = Mood::Doubtful;
    }
    if findings.powder_percent > MOSTLY_PERCENT {
        return (
            Mood::Bad,
            format!(
                "{:.0} % of it is powder, more than its fat can bind: it crumbles, and is no butter.",
                findings.powder_percent
            ),
        );
    }
    if softening_c.is_some() {
        let (skin, wanted) = on_skin(findings);
        text.push_str(&format!("; {skin}"));
        if !wanted && mood == Mood::Good {
            mood = Mood::Doubtful;
        }
    }
    let usual_c = degrees(wishes.temperature_c(Where::Usual));
    let wanted = wishes.firmness.filter(|_| mood != Mood::Bad);
    if wanted.is_some_and(|wanted| findings.usual > wanted) {
        text.push_str(&format!(", but at {usual_c} °C it is harder than you want"));
    } else if wanted.is_some_and(|wanted| findings.usual < wanted) {
        text.push_str(&format!(", but at {usual_c} °C it is softer than you want"));
    } else if findings.too_hard_in_cold {
        text.push_str(&format!(", and at {coldest} °C it is hard to take out"));
    }
    if findings.misses && mood != Mood::Bad {
        mood = if findings.worst_miss <= SMALL_MISS { Mood::Doubtful } else { Mood::Bad };
    }
    if Regime::of(wishes.hottest_c, wishes.skin_c) == Regime::Closed && mood == Mood::Good {
        mood = Mood::Doubtful;
    }
    text.push('.');
    (mood, text)
}

/// More powder than this, percent, crumbles: powders take up about their own mass of oil (oil absorption of starches and clays,
/// common practice).
const MOSTLY_PERCENT: f64 = 50.0;

/// Closer to the hottest storage than this, K, and the prediction cannot promise that it holds: slip points are predicted
/// to about this (the mean misfit of published blends).
const NEAR_K: f64 = 1.5;

fn never(format: Format) -> &'static str {
    match format {
        Format::Whipped => "has enough crystals to hold air: it is an oil at any storage",
        Format::Pot => "sets: it is an oil at any storage",
        Format::Bar => "gets firm enough for a bar at any storage",
    }
}

/// What it does on skin, and whether that is wanted.
fn on_skin(findings: &Findings<'_>) -> (String, bool) {
    let solid = findings.skin_solid_percent;
    let wanted = findings.wishes.on_skin.is_none_or(|wish| {
        let (low, high) = wish.limits();
        (low..=high).contains(&solid)
    });
    (format!("on skin it {}", skin_words(solid)), wanted)
}

/// What this much solid on skin, percent, amounts to.
pub fn skin_words(solid_percent: f64) -> &'static str {
    if solid_percent <= WAXY_PERCENT {
        "melts"
    } else if solid_percent <= OnSkin::Melts.limits().1 {
        "melts and leaves a light film"
    } else if solid_percent <= OnSkin::Lingers.limits().1 {
        "melts slowly and leaves some body"
    } else {
        "stays as a waxy film"
    }
}

/// Solids at skin temperature from which they are felt as waxy, percent: margarine should be below 3.5 at 33.3 °C
/// (Krawczyk 1996 and others, from memory).
pub const WAXY_PERCENT: f64 = 3.5;

#[cfg(test)]
mod tests {
    use super::*;

    fn findings(wishes: &Wishes, softening_c: Option<f64>, skin_solid_percent: f64) -> Findings<'_> {
        Findings {
            wishes,
            softening_c,
            skin_solid_percent,
            powder_percent: 0.0,
            usual: Firmness::Scoopable,
            too_hard_in_cold: false,
            worst_miss: 0.0,
            misses: false,
        }
    }

    const WISHES: Wishes = Wishes {
        format: Format::Pot,
        coldest_c: 16.0,
        hottest_c: 31.0,
        skin_c: 32.5,
        firmness: None,
        on_skin: Some(OnSkin::Melts),
    };

    #[test]
    fn slumping_is_said_plainly() {
        let (mood, text) = sentence(&findings(&WISHES, Some(29.1), 1.0));
        assert_eq!(mood, Mood::Bad);
        assert_eq!(
            text,
            "It holds its shape to 29 °C, so it will slump on your hottest days (31 °C); on skin it melts."
        );
    }

    #[test]
    fn a_hair_below_the_hottest_day_reads_as_below() {
        let (_, text) = sentence(&findings(&WISHES, Some(30.9), 1.0));
        assert!(text.starts_with("It holds its shape to just under 31 °C, so it will slump"), "{text}");
    }

    #[test]
    fn moods_follow_the_findings() {
        let cool = Wishes { hottest_c: 24.0, ..WISHES };
        assert_eq!(sentence(&findings(&cool, Some(30.0), 2.0)).0, Mood::Good);
        assert_eq!(sentence(&findings(&cool, Some(24.5), 2.0)).0, Mood::Doubtful);
        assert_eq!(sentence(&findings(&cool, Some(30.0), 30.0)).0, Mood::Doubtful);
        assert_eq!(sentence(&findings(&cool, None, 0.0)).0, Mood::Bad);
        let missed = Findings { misses: true, worst_miss: 8.0, ..findings(&cool, Some(30.0), 2.0) };
        assert_eq!(sentence(&missed).0, Mood::Bad);
        let firm = Wishes { firmness: Some(Firmness::Firm), ..cool };
        let hard = Findings {
            usual: Firmness::Hard,
            misses: true,
            worst_miss: 8.0,
            ..findings(&firm, Some(30.0), 2.0)
        };
        assert!(sentence(&hard).1.ends_with(", but at 20 °C it is harder than you want."));
        let hot = Wishes { hottest_c: 36.0, on_skin: None, ..WISHES };
        assert_eq!(sentence(&findings(&hot, Some(50.0), 40.0)).0, Mood::Doubtful);
    }
}
