//! Version 1 of the link, which is read for ever; the chapter on the contract has its grammar.

use serde::de::DeserializeOwned;

use super::{LinkRemark, bad, decoded, is_unruly, quoted, unknown_part};
use crate::behaviour::{Firmness, Format, OnSkin};
use crate::contract::{
    Aim, Bounds, Failure, Item, Limits, Made, Picture, State, StorageC, Swap, Way,
    ranges::{
        AIR_C, CHANGES, COLD_PACK_G, DOSE_PERCENT, FILL_ML, FOAM_MM, HOUR, HOURS, HOURS_APART, MADE_G,
        MARGIN_POINTS, MEASURED_C, MELTS_C, PERCENT, PRICE, Range, SKIN_C, STEP_PERCENT, STORAGE_C, USED_G,
        WAX_PERCENT,
    },
    wire::of_word,
};
use crate::{decimal::decimal, surety::Surety};

/// The most lines of a recipe.
const MOST_LINES: usize = 60;
/// The longest name, in characters.
const LONGEST_NAME: usize = 80;
/// The most parts of one own make-up.
const MOST_SPECIES: usize = 60;
/// The most corners of a course of temperatures.
const MOST_CORNERS: usize = 100;

/// What a link of version 1 means by what it leaves out, whatever the engine assumes later.
fn usual() -> State {
    // What joined since, such a link says nothing of.
    State {
        name: None,
        recipe: Vec::new(),
        format: Format::Pot,
        pack: None,
        storage_c: StorageC { coldest: 18.0, hottest: 25.0 },
        skin_c: 32.5,
        firmness: None,
        on_skin: None,
        limits: Limits {
            wax_percent: None,
            fatty_acid_percent: None,
            fatty_alcohol_percent: None,
            powder_percent: None,
            step_percent: 0.5,
            changes: 3,
            pantry: None,
            keep_lead: false,
            use_ceilings: true,
            surety: Surety::Likely,
            work: None,
            ..Limits::default()
        },
        aim: Aim::Wishes,
        made: None,
        other_storage_c: None,
        picture: None,
        journey: None,
        prices: Default::default(),
        ..State::default()
    }
}

fn usual_way() -> Way {
    Way { volume_ml: 120.0, insulation_mm: 0.0, cold_pack_g: 0.0, ..Way::default() }
}

/// Reads the text of a link of version 1. Returns the state and remarks on parts that were left out because
/// this version does not know them.
///
/// # Errors
/// `bad-link`, naming the part that cannot be read.
pub(super) fn read(text: &str) -> Result<(State, Vec<LinkRemark>), Failure> {
    let parts = text.split('&').skip(1);
    let mut state = usual();
    let mut remarks = Vec::new();
    // A margin, or bands that were to hold by whatever a scale errs: what surety has taken the place of.
    let mut sure = false;
    let mut seen: Vec<&str> = Vec::new();
    let (mut hardeners, mut swap, mut dose) = (None, None, 5.0);
    let (mut journey, mut travels, mut prices) = (usual_way(), false, "");
    for part in parts.filter(|part| !part.is_empty()) {
        let (key, value) = part.split_once('=').unwrap_or((part, ""));
        if seen.contains(&key) {
            return Err(bad(key, "it comes twice"));
        }
        seen.push(key);
        let limits = &mut state.limits;
        match key {
            "name" => state.name = Some(text_of(key, value)?),
            "recipe" => state.recipe = items(key, value, MOST_LINES, |item| line(key, item))?,
            "as" => state.format = word(key, value)?,
            "pack" => state.pack = Some(word(key, value)?),
            "price" => prices = value,
            "store" => state.storage_c = storage(key, value)?,
            "skin" => state.skin_c = number(key, value, SKIN_C)?,
            "feel" => {
                for word in value.split(',') {
                    match (of_word::<Firmness>(word).ok(), of_word::<OnSkin>(word).ok()) {
                        (Some(firmness), _) if state.firmness.is_none() => state.firmness = Some(firmness),
                        (_, Some(on_skin)) if state.on_skin.is_none() => state.on_skin = Some(on_skin),
                        _ => {
                            return Err(bad(
                                key,
                                &format!("`{}` is not a feel, or is one too many", quoted(word)),
                            ));
                        }
                    }
                }
            }
            "keep" => limits.locked = items(key, value, MOST_LINES, |item| text_of(key, item))?,
            "within" => {
                let bounds = items(key, value, MOST_LINES, |item| {
                    let (id, bounds) =
                        item.rsplit_once(':').ok_or_else(|| bad(key, "a bound lacks its `:`"))?;
                    let (min, max) = pair(key, bounds, PERCENT, PERCENT)?;
                    Ok((text_of(key, id)?, Bounds { min, max }))
                })?;
                limits.bounds = bounds.into_iter().collect();
            }
            "pantry" => limits.pantry = Some(items(key, value, 4 * MOST_LINES, |item| text_of(key, item))?),
            "avoid" => limits.refuse = items(key, value, MOST_LINES, |item| text_of(key, item))?,
            "aim" if value == "now" => state.aim = Aim::AsNow,
            "aim" => return Err(bad(key, &format!("`{}` is not `now`", quoted(value)))),
            "hold" => {
                for word in value.split(',') {
                    match word {
                        "lead" => limits.keep_lead = true,
                        "weighing" => sure = true,
                        _ => {
                            return Err(bad(key, &format!("`{}` is not `lead` or `weighing`", quoted(word))));
                        }
                    }
                }
            }
            "made" => {
                let (grams, used_grams) = pair(key, value, MADE_G, USED_G)?;
                state.made = Some(Made { grams, used_grams, step_grams: None, most_grams: None });
            }
            "other" => state.other_storage_c = Some(storage(key, value)?),
            "picture" => hardeners = Some(items(key, value, 4, |item| text_of(key, item))?),
            "swap" => swap = Some(word(key, value)?),
            "way" => {
                travels = true;
                way(key, value, &mut journey)?;
            }
            "parcel" => {
                let (volume, rest) = two(key, value)?;
                journey.volume_ml = number(key, volume, FILL_ML)?;
                (journey.insulation_mm, journey.cold_pack_g) = {
                    let (foam, cold) = two(key, rest)?;
                    (number(key, foam, FOAM_MM)?, number(key, cold, COLD_PACK_G)?)
                };
            }
            "wax" => limits.wax_percent = Some(number(key, value, WAX_PERCENT)?),
            "acid" => limits.fatty_acid_percent = Some(number(key, value, PERCENT)?),
            "alcohol" => limits.fatty_alcohol_percent = Some(number(key, value, PERCENT)?),
            "powder" => limits.powder_percent = Some(number(key, value, PERCENT)?),
            "step" => limits.step_percent = number(key, value, STEP_PERCENT)?,
            "margin" => sure |= number(key, value, MARGIN_POINTS)? > 0.0,
            "dose" => dose = number(key, value, DOSE_PERCENT)?,
            "changes" => {
                let lines = number(key, value, CHANGES)?;
                if lines.fract() != 0.0 {
                    return Err(bad(key, &format!("{} is not a whole number", quoted(value))));
                }
                limits.changes = lines as u32;
            }
            _ => remarks.push(unknown_part(key)),
        }
    }
    if sure {
        state.limits.surety = Surety::Sure;
        remarks.push(LinkRemark::MarginIsSurety);
    }
    if let Some(hardeners) = hardeners {
        state.picture = Some(Picture { hardeners, swap: swap.unwrap_or(Swap::Oil), dose_percent: dose });
    }
    if travels {
        state.journey = Some(journey);
    }
    if !prices.is_empty() {
        let mut lines = state.recipe.iter();
        for price in prices.split(',') {
            let line =
                lines.next().ok_or_else(|| bad("price", "it has more prices than the recipe has lines"))?;
            if !price.is_empty() {
                state.prices.insert(line.key().to_owned(), number("price", price, PRICE)?);
            }
        }
    }
    Ok((state, remarks))
}

fn way(key: &str, value: &str, journey: &mut Way) -> Result<(), Failure> {
    let Some((kind, figures)) = value.split_once(':') else {
        journey.preset = Some(word(key, value)?);
        return Ok(());
    };
    if kind == "steady" {
        let (celsius, hours) = two(key, figures)?;
        journey.constant_c = Some(number(key, celsius, AIR_C)?);
        journey.hours = Some(number(key, hours, HOURS)?);
    } else if kind == "hourly" {
        let corners = points(key, figures, HOUR, AIR_C)?;
        if corners.len() < 2 || corners.len() > MOST_CORNERS {
            return Err(bad(key, "give from 2 to 100 corners, each an hour and a temperature"));
        }
        if corners.windows(2).any(|two| two[1].0 - two[0].0 < HOURS_APART) {
            return Err(bad(key, "its hours do not rise"));
        }
        journey.points = Some(corners);
    } else {
        return Err(bad(key, &format!("`{}` is neither `steady` nor `hourly`", quoted(kind))));
    }
    Ok(())
}

/// `10~60;20~35`.
fn points(key: &str, text: &str, one: Range, other: Range) -> Result<Vec<(f64, f64)>, Failure> {
    entries(text)
        .map(|point| {
            let (first, second) = two(key, point)?;
            Ok((number(key, first, one)?, number(key, second, other)?))
        })
        .collect()
}

fn items<'a, T>(
    key: &str,
    value: &'a str,
    most: usize,
    read: impl Fn(&'a str) -> Result<T, Failure>,
) -> Result<Vec<T>, Failure> {
    let items: Vec<T> = value
        .split(',')
        .filter(|item| !item.is_empty())
        .take(most + 1)
        .map(read)
        .collect::<Result<_, _>>()?;
    if items.len() > most {
        return Err(bad(key, &format!("it has more than {most} entries")));
    }
    Ok(items)
}

fn line(key: &str, item: &str) -> Result<Item, Failure> {
    let (what, percent) =
        item.rsplit_once(':').ok_or_else(|| bad(key, &format!("`{}` has no percentage", quoted(item))))?;
    let mut fields = what.split('!');
    let mut field = || fields.next().unwrap_or("");
    let (id, name, like, make_up) = (field(), field(), field(), field());
    let (acids, solids, more) = (field(), field(), field());
    if fields.next().is_some() {
        return Err(bad(key, &format!("`{}` has too many fields", quoted(item))));
    }
    let optional = |text: &str| if text.is_empty() { Ok(None) } else { text_of(key, text).map(Some) };
    let mut line = Item {
        id: optional(id)?,
        name: optional(name)?,
        percent: number(key, percent, PERCENT)?,
        like: optional(like)?,
        ..Item::default()
    };
    if line.id.is_none() && line.name.is_none() {
        return Err(bad(key, "a line has neither id nor name"));
    }
    let (composition, fatty_acids) = (shares(key, make_up)?, shares(key, acids)?);
    let solid_points = points(key, solids, MEASURED_C, PERCENT)?;
    for found in [composition.len(), fatty_acids.len(), solid_points.len()] {
        if found > MOST_SPECIES {
            return Err(bad(key, &format!("a make-up has more than {MOST_SPECIES} parts")));
        }
    }
    line.composition = (!composition.is_empty()).then(|| composition.into_iter().collect());
    line.fatty_acids = (!fatty_acids.is_empty()).then(|| fatty_acids.into_iter().collect());
    line.solid_points = (!solid_points.is_empty()).then_some(solid_points);
    known(key, more, &mut line)?;
    Ok(line)
}

fn entries(text: &str) -> impl Iterator<Item = &str> {
    text.split(';').filter(|entry| !entry.is_empty())
}

fn shares(key: &str, text: &str) -> Result<Vec<(String, f64)>, Failure> {
    entries(text)
        .map(|entry| {
            let (name, percent) =
                entry.split_once('~').ok_or_else(|| bad(key, "a species or fatty acid has no percentage"))?;
            Ok((text_of(key, name)?, number(key, percent, PERCENT)?))
        })
        .collect()
}

fn known(key: &str, text: &str, line: &mut Item) -> Result<(), Failure> {
    for entry in entries(text) {
        let (what, value) = entry.split_once('~').unwrap_or((entry, ""));
        match what {
            "spread" => line.spread = Some(word(key, value)?),
            "class" => line.class = Some(word(key, value)?),
            "melts" => line.melts_at_c = Some(number(key, value, MELTS_C)?),
            "free" => line.free_acid_percent = Some(number(key, value, PERCENT)?),
            "unsap" => line.unsaponifiable_percent = Some(number(key, value, PERCENT)?),
            "di" => line.diglyceride_percent = Some(number(key, value, PERCENT)?),
            _ => {
                return Err(bad(key, &format!("`{}` is nothing known of an own ingredient", quoted(what))));
            }
        }
    }
    Ok(())
}

fn word<T: DeserializeOwned>(key: &str, value: &str) -> Result<T, Failure> {
    of_word(value).map_err(|what| bad(key, &what))
}

fn storage(key: &str, value: &str) -> Result<StorageC, Failure> {
    let (coldest, hottest) = pair(key, value, STORAGE_C, STORAGE_C)?;
    Ok(StorageC { coldest, hottest })
}

fn pair(key: &str, value: &str, one: Range, other: Range) -> Result<(f64, f64), Failure> {
    let (first, second) = two(key, value)?;
    Ok((number(key, first, one)?, number(key, second, other)?))
}

fn two<'a>(key: &str, value: &'a str) -> Result<(&'a str, &'a str), Failure> {
    value.split_once('~').ok_or_else(|| bad(key, "it should be two numbers with `~` between"))
}

/// A plain decimal: no exponent, no `inf`, no `NaN`.
fn number(key: &str, value: &str, (least, most): Range) -> Result<f64, Failure> {
    let number = decimal(value).ok_or_else(|| bad(key, &format!("`{}` is not a number", quoted(value))))?;
    if !(least..=most).contains(&number) {
        return Err(bad(key, &format!("{} is not from {least} to {most}", quoted(value))));
    }
    Ok(number + 0.0)
}

/// Decodes a name: percent-encoded UTF-8, at most [`LONGEST_NAME`] characters, none of them unruly.
fn text_of(key: &str, value: &str) -> Result<String, Failure> {
    let text = decoded(value).ok_or_else(|| bad(key, "a name is not percent-encoded UTF-8"))?;
    if text.trim().is_empty() {
        return Err(bad(key, "a name is empty"));
    }
    if text.chars().count() > LONGEST_NAME {
        return Err(bad(key, &format!("a name is longer than {LONGEST_NAME} characters")));
    }
    if text.chars().any(is_unruly) {
        return Err(bad(key, "a name has control or direction-override characters in it"));
    }
    Ok(text)
}
