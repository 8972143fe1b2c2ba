//! Ingredients that the catalogue lacks, described by whoever has one in hand.

use std::collections::BTreeMap;

use super::{Line, check_percent, solid_points, unknown_ingredient};
use crate::{
    behaviour::{self, SLIP_SOLID_PERCENT},
    equilibrium::{Blend, CrystalState, Mixture, Part, shift},
    failure::{ErrorKind, Failure, FaultPlace, OfLine},
    quote::quoted,
    roots,
    substances::{
        self, Class, Correction, DIGLYCERIDE_PERCENT, FREE_ACID_PERCENT, Fat, FattyAcid, Ingredient, Make,
        Rule, Species, UNSAPONIFIABLE_PERCENT,
    },
};

/// How far the parts of an own make-up may sum from 100: certificates of analysis are rounded.
pub const MAKE_TOLERANCE: f64 = 0.5;

/// How far fatty acids may sum from 100: certificates leave traces out.
pub const ACIDS_TOLERANCE: f64 = 2.0;

/// How far a stated melting point may move the crystals of an ingredient, K: about what lies
/// between the forms of one triglyceride (alpha to beta of PPP and SOS: 20 K; Wesdorp et al.
/// 2012); more makes it another fat.
pub const MOST_SHIFT_K: f64 = 15.0;

/// Melting points that can be stated, °C.
pub const STATABLE_C: std::ops::RangeInclusive<f64> = -15.0..=115.0;

/// A stated slip point that its own make-up already meets within this, K, moves nothing.
const MEETS_K: f64 = 2e-6;

/// How closely the shift that meets a stated slip point is found, K.
const SHIFT_RESOLUTION_K: f64 = 1e-9;

/// What is known of an own ingredient: one of `composition`, `fatty_acids` and
/// `solid_points`, or `like` alone.
#[derive(Clone, Copy, Debug, Default)]
pub struct Own<'a> {
    /// Percent by mass over species ids.
    pub composition: Option<&'a BTreeMap<String, f64>>,
    /// Percent by mass over fatty acids, by any name of [`FattyAcid::named`].
    pub fatty_acids: Option<&'a BTreeMap<String, f64>>,
    /// With `fatty_acids`: how they are spread; unless said otherwise at random in a
    /// lauric fat, else as in a seed fat.
    pub spread: Option<Rule>,
    /// With `fatty_acids`: free fatty acids, percent by mass.
    pub free_acid_percent: Option<f64>,
    /// With `fatty_acids`: unsaponifiable matter, percent by mass.
    pub unsaponifiable_percent: Option<f64>,
    /// With `fatty_acids`: diglycerides, percent by mass.
    pub diglyceride_percent: Option<f64>,
    /// Measured solid fat content: °C and percent by mass.
    pub solid_points: Option<&'a [(f64, f64)]>,
    /// The catalogue ingredient that it is like: it lends its class, what was fitted to it, and, where
    /// nothing else says what the own one is made of, its make-up.
    pub like: Option<&'a str>,
    /// Slip point of the settled fat, °C: all its crystals are moved alike until they meet it.
    pub melts_at_c: Option<f64>,
    /// Its class; that of `like`, else `other`, unless said otherwise.
    pub class: Option<Class>,
}

impl Line {
    /// A line of an own ingredient; `line` is which of the recipe it is, counted from 0, for what is
    /// told where something is wrong.
    ///
    /// ```
    /// use std::collections::BTreeMap;
    ///
    /// use meltmargin::{
    ///     behaviour::slip_point,
    ///     equilibrium::CrystalState,
    ///     recipe::{Line, Own, Recipe},
    /// };
    ///
    /// // A lot of shea butter by its certificate of analysis, percent by mass, and its slip point.
    /// let acids =
    ///     [("palmitic", 4.0), ("stearic", 42.0), ("oleic", 46.0), ("linoleic", 6.0), ("other", 2.0)];
    /// let fatty_acids = BTreeMap::from(acids.map(|(acid, percent)| (acid.to_owned(), percent)));
    /// let own = Own { fatty_acids: Some(&fatty_acids), melts_at_c: Some(33.0), ..Own::default() };
    /// let line = Line::own("my shea butter", 100.0, &own, 0).unwrap();
    /// let mixture = Recipe::new(vec![line]).unwrap().mixture(CrystalState::Settled);
    /// assert!((slip_point(&mixture).celsius.unwrap() - 33.0).abs() < 1e-3);
    /// ```
    ///
    /// # Errors
    /// Names what is missing, contradictory, unknown or out of reach, and what to do.
    pub fn own(name: &str, percent: f64, own: &Own<'_>, line: usize) -> Result<Line, Failure> {
        let (called, at) = (&quoted(name), |what| FaultPlace::Line(line, what));
        own.check_fields(called).map_err(|failure| failure.placed(at))?;
        let like = own
            .like
            .map(|id| substances::find(id).ok_or_else(|| unknown_ingredient(id, at(OfLine::Like))))
            .transpose()?;
        let mut corrections = like.map_or_else(Vec::new, |like| like.corrections().to_vec());
        let make = if let Some(composition) = own.composition {
            by_species(called, composition).map_err(|failure| failure.placed(at))?
        } else if let Some(fatty_acids) = own.fatty_acids {
            own.by_fatty_acids(called, fatty_acids).map_err(|failure| failure.placed(at))?
        } else if let Some(points) = own.solid_points {
            let found = solid_points::make(called, points).map_err(|failure| failure.placed(at))?;
            corrections = vec![found.1];
            found.0
        } else {
            // `check_fields` has seen to it that there is a `like`.
            like.map_or_else(Make::new, |like| like.make().clone())
        };
        if let Some(celsius) = own.melts_at_c {
            corrections =
                matched(called, &make, corrections, celsius).map_err(|failure| failure.placed(at))?;
        }
        let class = own.class.unwrap_or(like.map_or(Class::Other, Ingredient::class));
        let by_acids = own.fatty_acids.map(|_| own.melts_at_c.is_some());
        let make_known = own.composition.is_some() || own.solid_points.is_some();
        let slip_known = own.melts_at_c.is_some();
        Ok(Line {
            by_acids,
            make_known,
            slip_known,
            ..Line::made(name, percent, class, like, make, corrections)
        })
    }
}

/// What of a line is meant, in a sentence.
fn words(what: &OfLine) -> &'static str {
    match what {
        OfLine::Composition => "its make-up by species",
        OfLine::FattyAcids => "its fatty acids",
        OfLine::SolidPoints => "its measured solids",
        OfLine::FreeAcid => "free fatty acids",
        OfLine::Unsaponifiable => "unsaponifiable matter",
        OfLine::Diglyceride => "diglycerides",
        OfLine::Spread => "the places of the fatty acids",
        _ => "a part",
    }
}

impl Own<'_> {
    /// Whether it says anything at all.
    pub fn is_empty(&self) -> bool {
        self.makes().is_empty()
            && self.needing_acids().is_empty()
            && self.like.is_none()
            && self.melts_at_c.is_none()
            && self.class.is_none()
    }

    /// Whether it leaves open what the ingredient is made of, but for a `like`.
    pub fn says_no_make(&self) -> bool {
        self.makes().is_empty()
    }

    /// What says what it is made of.
    fn makes(&self) -> Vec<OfLine> {
        [
            (OfLine::Composition, self.composition.is_some()),
            (OfLine::FattyAcids, self.fatty_acids.is_some()),
            (OfLine::SolidPoints, self.solid_points.is_some()),
        ]
        .into_iter()
        .filter_map(|(what, given)| given.then_some(what))
        .collect()
    }

    /// What means something only beside fatty acids.
    fn needing_acids(&self) -> Vec<OfLine> {
        [
            (OfLine::Spread, self.spread.is_some()),
            (OfLine::FreeAcid, self.free_acid_percent.is_some()),
            (OfLine::Unsaponifiable, self.unsaponifiable_percent.is_some()),
            (OfLine::Diglyceride, self.diglyceride_percent.is_some()),
        ]
        .into_iter()
        .filter_map(|(what, given)| given.then_some(what))
        .collect()
    }

    fn check_fields(&self, name: &str) -> Result<(), Failure<OfLine>> {
        let conflict =
            |at: &OfLine, message: String| Err(Failure::new(ErrorKind::Conflict, at.clone(), message));
        let makes = self.makes();
        if let [first, second, ..] = &makes[..] {
            return conflict(
                second,
                format!(
                    "{name} says what it is made of more than once, by {} and by {}: keep one",
                    words(first),
                    words(second)
                ),
            );
        }
        if makes.is_empty() && self.like.is_none() {
            return Err(Failure::new(
                ErrorKind::Empty,
                OfLine::Whole,
                format!(
                    "{name} does not say what it is made of: give its fatty acids, its measured solids, its make-up by species, or the catalogue ingredient that it is like"
                ),
            ));
        }
        if let (None, [what, ..]) = (self.fatty_acids, &self.needing_acids()[..]) {
            return conflict(
                what,
                format!(
                    "{} of {name} mean something only beside its fatty acids: give those too, or leave them out",
                    words(what)
                ),
            );
        }
        if self.solid_points.is_some() && self.melts_at_c.is_some() {
            return conflict(
                &OfLine::MeltsAt,
                format!("the measured solids of {name} already say where it melts: leave its slip point out"),
            );
        }
        Ok(())
    }

    fn by_fatty_acids(
        &self,
        name: &str,
        fatty_acids: &BTreeMap<String, f64>,
    ) -> Result<Make, Failure<OfLine>> {
        let mut acids = Vec::new();
        for (given, percent) in fatty_acids {
            let place = || OfLine::FattyAcid(given.clone());
            let said = quoted(given);
            let acid = FattyAcid::named(given).ok_or_else(|| {
                let known: Vec<String> =
                    FattyAcid::all().map(|acid| format!("{} ({})", acid.name, acid.common)).collect();
                Failure::new(
                    ErrorKind::UnknownSpecies,
                    place(),
                    format!(
                        "there is no fatty acid `{said}`: count it as `other`, or use one of {}",
                        known.join(", ")
                    ),
                )
            })?;
            check_percent(*percent, place(), &format!("the share of {said} in {name}"))?;
            if *percent > 0.0 {
                acids.push((acid, *percent));
            }
        }
        let sum: f64 = acids.iter().map(|(_, percent)| percent).sum();
        check_sum(
            sum,
            ACIDS_TOLERANCE,
            &format!("the fatty acids of {name} sum"),
            "other",
            OfLine::FattyAcids,
        )?;
        let mut minor = 0.0;
        let mut minor_percent = |given: Option<f64>, usual: f64, at: OfLine| {
            let percent = given.unwrap_or(usual);
            let what = format!("the share of {} in {name}", words(&at));
            check_percent(percent, at, &what)?;
            minor += percent;
            Ok(percent)
        };
        let fat = Fat {
            rule: self.spread.unwrap_or_else(|| usual_spread(&acids)),
            fatty_acids: acids,
            unsaponifiable_percent: minor_percent(
                self.unsaponifiable_percent,
                UNSAPONIFIABLE_PERCENT,
                OfLine::Unsaponifiable,
            )?,
            free_acid_percent: minor_percent(self.free_acid_percent, FREE_ACID_PERCENT, OfLine::FreeAcid)?,
            diglyceride_percent: minor_percent(
                self.diglyceride_percent,
                DIGLYCERIDE_PERCENT,
                OfLine::Diglyceride,
            )?,
        };
        if minor > 100.0 {
            return Err(Failure::new(
                ErrorKind::OutOfRange,
                OfLine::Whole,
                format!(
                    "unsaponifiable matter, free fatty acids and diglycerides of {name} come to {minor:.1} %: lower them to 100 or less in all"
                ),
            ));
        }
        Ok(fat.make())
    }
}

/// From so much of acids up to myristic on a fat is taken for a lauric one, percent: coconut and palm kernel
/// have 70 to 80, milk fat 20 to 25 (Codex CXS 210 and handbooks, from memory).
const LAURIC_FROM_PERCENT: f64 = 40.0;

/// How the acids of a fat are spread where nothing says it.
fn usual_spread(acids: &[(FattyAcid, f64)]) -> Rule {
    let is_short = |acid: &FattyAcid| acid.chain.is_some_and(|it| it.is_saturated() && it.carbons() <= 14);
    let percent: f64 = acids.iter().filter(|(acid, _)| is_short(acid)).map(|(_, percent)| percent).sum();
    if percent >= LAURIC_FROM_PERCENT { Rule::Random } else { Rule::Seed }
}

/// A make-up by species.
fn by_species(name: &str, composition: &BTreeMap<String, f64>) -> Result<Make, Failure<OfLine>> {
    let mut make = Make::new();
    for (id, amount) in composition {
        let place = || OfLine::Species(id.clone());
        let said = quoted(id);
        let species = Species::find(id).map_err(|_| {
            Failure::new(
                ErrorKind::UnknownSpecies,
                place(),
                format!(
                    "there is no species `{said}`: use triglyceride letters such as SOS or LaLaM, an acid such as stearic-acid, an alcohol such as hexadecanol, or `liquid` for the rest"
                ),
            )
        })?;
        check_percent(*amount, place(), &format!("the share of {said} in {name}"))?;
        if *amount > 0.0 {
            make.push((species, *amount));
        }
    }
    let sum: f64 = make.iter().map(|(_, amount)| amount).sum();
    check_sum(sum, MAKE_TOLERANCE, &format!("the make-up of {name} sums"), "liquid", OfLine::Composition)?;
    for (_, amount) in &mut make {
        *amount *= 100.0 / sum;
    }
    Ok(make)
}

fn check_sum(sum: f64, tolerance: f64, what: &str, rest: &str, at: OfLine) -> Result<(), Failure<OfLine>> {
    if (sum - 100.0).abs() <= tolerance {
        return Ok(());
    }
    let advice = if sum <= 0.0 {
        "give at least one of them a share".to_owned()
    } else if sum < 100.0 {
        format!("add the missing {:.2} % as `{rest}`, or raise all in proportion", 100.0 - sum)
    } else {
        format!("take off {:.2} %, from one or from all in proportion", sum - 100.0)
    };
    // A negative zero is said without its sign.
    let sum = sum + 0.0;
    Err(Failure::new(ErrorKind::SumNotHundred, at, format!("{what} to {sum:.2} %, not 100: {advice}")))
}

/// These corrections, moved by one shift of every crystal so that the slip point is `celsius`.
///
/// At the wanted slip point the solids rise with the shift, so the root is bracketed and halved.
fn matched(
    name: &str,
    make: &Make,
    corrections: Vec<Correction>,
    celsius: f64,
) -> Result<Vec<Correction>, Failure<OfLine>> {
    let out_of_range = |message: String| Err(Failure::new(ErrorKind::OutOfRange, OfLine::MeltsAt, message));
    if !STATABLE_C.contains(&celsius) {
        return out_of_range(format!(
            "{name} cannot melt at {celsius} °C: give its slip point, from {} to {} °C",
            STATABLE_C.start(),
            STATABLE_C.end()
        ));
    }
    let mixture =
        Blend::new(&[Part { make, corrections: &corrections }], CrystalState::Settled).mixture(&[100.0]);
    let slip_c = |mixture: &Mixture| behaviour::slip_point(mixture).celsius;
    if slip_c(&mixture).is_some_and(|slip_c| (slip_c - celsius).abs() <= MEETS_K) {
        return Ok(corrections);
    }
    let firmer =
        |shift_k: f64| mixture.clone().shifted(shift_k).at(celsius).solid_percent > SLIP_SOLID_PERCENT;
    let (low, high) = (-MOST_SHIFT_K, MOST_SHIFT_K);
    if firmer(low) || !firmer(high) {
        let edge = |shift_k: f64| slip_c(&mixture.clone().shifted(shift_k));
        return out_of_range(match (edge(low), edge(high)) {
            (_, None) => format!(
                "{name} has too few solids to have a slip point at all: leave its slip point out, or check its make-up"
            ),
            (None, Some(high)) => format!(
                "{name} cannot be made to melt at {celsius} °C: with this make-up it reaches up to {high:.1} °C; check the make-up, or the melting point"
            ),
            (Some(low), Some(high)) => format!(
                "{name} cannot be made to melt at {celsius} °C: with this make-up it reaches {low:.1} to {high:.1} °C; check the make-up, or the melting point"
            ),
        });
    }
    let shift_k = roots::bisect((low, high), SHIFT_RESOLUTION_K, |shift_k| !firmer(shift_k));
    Ok(shifted(make, corrections, shift_k))
}

/// These corrections with every family of `make` moved by `shift_k` more.
fn shifted(make: &Make, mut corrections: Vec<Correction>, shift_k: f64) -> Vec<Correction> {
    shift(make, &mut corrections, shift_k);
    corrections
}
