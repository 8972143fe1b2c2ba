//! From fragment to state: everything is checked on the way in.

use super::{
    CHANGES, COLD_PACK_G, FILL_ML, FOAM_MM, GRAMS, HOURS, Journey, Known, LONGEST, LONGEST_NAME, Line,
    MELTS_C, MOST_LINES, MOST_SPECIES, PRICES, Picture, Shared, TEMPERATURES_C, Word, amiss, is_unruly,
    place,
};
use crate::behaviour::{Firmness, OnSkin};
use crate::decimal::decimal;
use crate::failure::{ErrorKind, Failure};

/// Reads a fragment, with or without its `#`. Returns the state and remarks on parts that were left out because
/// this version does not know them.
///
/// # Errors
/// [`ErrorKind::BadLink`], naming the part that cannot be read.
pub fn open(fragment: &str) -> Result<(Shared, Vec<String>), Failure> {
    let fragment = fragment.trim();
    let text = fragment.strip_prefix('#').unwrap_or(fragment);
    if text.len() > LONGEST {
        return Err(bad("", &format!("it is longer than {LONGEST} bytes")));
    }
    let mut parts = text.split('&');
    match parts.next() {
        Some("v1") => {}
        Some(version) if is_version(version) => {
            return Err(Failure::new(
                ErrorKind::BadLink,
                "fragment",
                "this link was made by a later version of the page: reload the page to update it, then open the link again",
            ));
        }
        _ => return Err(bad("", "it does not begin with its version, `v1`")),
    }
    let mut shared = Shared::default();
    let mut remarks = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    let (mut hardeners, mut swap, mut dose) = (None, None, 5.0);
    let (mut journey, mut travels, mut prices) = (Journey::default(), false, "");
    for part in parts.filter(|part| !part.is_empty()) {
        let (key, value) = part.split_once('=').unwrap_or((part, ""));
        if seen.contains(&key) {
            return Err(bad(key, "it comes twice"));
        }
        seen.push(key);
        let allowed = &mut shared.allowed;
        match key {
            "name" => shared.name = Some(text_of(key, value)?),
            "recipe" => shared.recipe = items(key, value, MOST_LINES, |item| line(key, item))?,
            "as" => shared.format = word(key, value)?,
            "pack" => shared.pack = Some(word(key, value)?),
            "price" => prices = value,
            "store" => (shared.coldest_c, shared.hottest_c) = pair(key, value, TEMPERATURES_C)?,
            "skin" => shared.skin_c = number(key, value, TEMPERATURES_C)?,
            "feel" => {
                for word in value.split(',') {
                    match (Firmness::from_word(word), OnSkin::from_word(word)) {
                        (Some(firmness), _) if shared.firmness.is_none() => shared.firmness = Some(firmness),
                        (_, Some(on_skin)) if shared.on_skin.is_none() => shared.on_skin = Some(on_skin),
                        _ => {
                            return Err(bad(
                                key,
                                &format!("`{}` is not a feel, or is one too many", shown(word)),
                            ));
                        }
                    }
                }
            }
            "keep" => allowed.locked = items(key, value, MOST_LINES, |item| text_of(key, item))?,
            "within" => {
                allowed.bounds = items(key, value, MOST_LINES, |item| {
                    let (id, bounds) =
                        item.rsplit_once(':').ok_or_else(|| bad(key, "a bound lacks its `:`"))?;
                    let (least, most) = pair(key, bounds, PERCENT)?;
                    Ok((text_of(key, id)?, least, most))
                })?;
            }
            "pantry" => allowed.pantry = Some(items(key, value, 4 * MOST_LINES, |item| text_of(key, item))?),
            "avoid" => allowed.refuse = items(key, value, MOST_LINES, |item| text_of(key, item))?,
            "aim" if value == "now" => allowed.as_now = true,
            "aim" => return Err(bad(key, &format!("`{}` is not `now`", shown(value)))),
            "hold" => {
                for word in value.split(',') {
                    match word {
                        "lead" => allowed.keep_lead = true,
                        "weighing" => allowed.any_step = true,
                        _ => return Err(bad(key, &format!("`{}` is not `lead` or `weighing`", shown(word)))),
                    }
                }
            }
            "made" => shared.made = Some(pair(key, value, GRAMS)?),
            "other" => shared.other_c = Some(pair(key, value, TEMPERATURES_C)?),
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
            "wax" | "acid" | "alcohol" | "powder" | "step" | "margin" | "dose" => {
                let percent = number(key, value, PERCENT)?;
                match key {
                    "wax" => allowed.wax_percent = percent,
                    "acid" => allowed.fatty_acid_percent = percent,
                    "alcohol" => allowed.fatty_alcohol_percent = Some(percent),
                    "powder" => allowed.powder_percent = Some(percent),
                    "step" => allowed.step_percent = percent,
                    "margin" => allowed.margin_points = percent,
                    _ => dose = percent,
                }
            }
            "changes" => {
                let lines = number(key, value, CHANGES)?;
                if lines.fract() != 0.0 {
                    return Err(bad(key, &format!("{} is not a whole number", shown(value))));
                }
                allowed.changes = lines as u32;
            }
            _ => remarks.push(format!(
                "The link has a part, `{}`, that this version does not know; it was left out.",
                shown(key)
            )),
        }
    }
    if let Some(hardeners) = hardeners {
        shared.picture = Some(Picture { hardeners, swap: swap.unwrap_or_default(), dose_percent: dose });
    }
    if travels {
        shared.journey = Some(journey);
    }
    if !prices.is_empty() {
        let mut lines = shared.recipe.iter_mut();
        for price in prices.split(',') {
            let line =
                lines.next().ok_or_else(|| bad("price", "it has more prices than the recipe has lines"))?;
            if !price.is_empty() {
                line.price = Some(number("price", price, PRICES)?);
            }
        }
    }
    Ok((shared, remarks))
}

fn way(key: &str, value: &str, journey: &mut Journey) -> Result<(), Failure> {
    let Some((kind, figures)) = value.split_once(':') else {
        journey.preset = Some(word(key, value)?);
        return Ok(());
    };
    if kind == "steady" {
        let (celsius, hours) = two(key, figures)?;
        journey.constant_c = Some(number(key, celsius, TEMPERATURES_C)?);
        journey.hours = Some(number(key, hours, HOURS)?);
    } else if kind == "hourly" {
        let corners = points(key, figures, HOURS, TEMPERATURES_C)?;
        if let Some(what) = amiss(&corners) {
            return Err(bad(key, what));
        }
        journey.points = Some(corners);
    } else {
        return Err(bad(key, &format!("`{}` is neither `steady` nor `hourly`", shown(kind))));
    }
    Ok(())
}

/// `10~60;20~35`.
fn points(key: &str, text: &str, one: (f64, f64), other: (f64, f64)) -> Result<Vec<(f64, f64)>, Failure> {
    entries(text)
        .map(|point| {
            let (first, second) = two(key, point)?;
            Ok((number(key, first, one)?, number(key, second, other)?))
        })
        .collect()
}

const PERCENT: (f64, f64) = (0.0, 100.0);

fn is_version(text: &str) -> bool {
    text.strip_prefix('v')
        .is_some_and(|digits| !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit()))
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

fn line(key: &str, item: &str) -> Result<Line, Failure> {
    let (what, percent) =
        item.rsplit_once(':').ok_or_else(|| bad(key, &format!("`{}` has no percentage", shown(item))))?;
    let mut fields = what.split('!');
    let mut field = || fields.next().unwrap_or("");
    let (id, name, like, make_up) = (field(), field(), field(), field());
    let (acids, solids, more) = (field(), field(), field());
    if fields.next().is_some() {
        return Err(bad(key, &format!("`{}` has too many fields", shown(item))));
    }
    let optional = |text: &str| if text.is_empty() { Ok(None) } else { text_of(key, text).map(Some) };
    let line = Line {
        id: optional(id)?,
        name: optional(name)?,
        percent: number(key, percent, PERCENT)?,
        composition: shares(key, make_up)?,
        like: optional(like)?,
        fatty_acids: shares(key, acids)?,
        solid_points: points(key, solids, MELTS_C, PERCENT)?,
        known: known(key, more)?,
        price: None,
    };
    if line.id.is_none() && line.name.is_none() {
        return Err(bad(key, "a line has neither id nor name"));
    }
    for found in [line.composition.len(), line.fatty_acids.len(), line.solid_points.len()] {
        if found > MOST_SPECIES {
            return Err(bad(key, &format!("a make-up has more than {MOST_SPECIES} parts")));
        }
    }
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

fn known(key: &str, text: &str) -> Result<Known, Failure> {
    let mut known = Known::default();
    for entry in entries(text) {
        let (what, value) = entry.split_once('~').unwrap_or((entry, ""));
        match what {
            "spread" => known.spread = Some(word(key, value)?),
            "class" => known.class = Some(word(key, value)?),
            "melts" => known.melts_at_c = Some(number(key, value, MELTS_C)?),
            "free" => known.free_acid_percent = Some(number(key, value, PERCENT)?),
            "unsap" => known.unsaponifiable_percent = Some(number(key, value, PERCENT)?),
            "di" => known.diglyceride_percent = Some(number(key, value, PERCENT)?),
            _ => {
                return Err(bad(key, &format!("`{}` is nothing known of an own ingredient", shown(what))));
            }
        }
    }
    Ok(known)
}

fn word<T: Word>(key: &str, value: &str) -> Result<T, Failure> {
    Ok(T::ALL[one_of(key, value, T::WORDS)?])
}

fn one_of(key: &str, value: &str, words: &[&str]) -> Result<usize, Failure> {
    place(words, value)
        .ok_or_else(|| bad(key, &format!("`{}` is none of {}", shown(value), words.join(", "))))
}

fn pair(key: &str, value: &str, range: (f64, f64)) -> Result<(f64, f64), Failure> {
    let (low, high) = two(key, value)?;
    Ok((number(key, low, range)?, number(key, high, range)?))
}

fn two<'a>(key: &str, value: &'a str) -> Result<(&'a str, &'a str), Failure> {
    value.split_once('~').ok_or_else(|| bad(key, "it should be two numbers with `~` between"))
}

/// A plain decimal: no exponent, no `inf`, no `NaN`.
fn number(key: &str, value: &str, (least, most): (f64, f64)) -> Result<f64, Failure> {
    let number = decimal(value).ok_or_else(|| bad(key, &format!("`{}` is not a number", shown(value))))?;
    if !(least..=most).contains(&number) {
        return Err(bad(key, &format!("{} is not from {least} to {most}", shown(value))));
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

fn decoded(value: &str) -> Option<String> {
    let mut bytes = Vec::with_capacity(value.len());
    let mut rest = value.bytes();
    while let Some(byte) = rest.next() {
        match byte {
            b'%' => {
                let digit = |byte: u8| char::from(byte).to_digit(16);
                let (high, low) = (digit(rest.next()?)?, digit(rest.next()?)?);
                bytes.push(u8::try_from(high * 16 + low).ok()?);
            }
            b'+' => bytes.push(b' '),
            other => bytes.push(other),
        }
    }
    String::from_utf8(bytes).ok()
}

/// A piece of the link to show in a message: short, and without unruly characters.
fn shown(text: &str) -> String {
    text.chars().filter(|letter| !is_unruly(*letter)).take(24).collect()
}

fn bad(key: &str, what: &str) -> Failure {
    let place = if key.is_empty() { String::new() } else { format!(" in its part `{}`", shown(key)) };
    Failure::new(
        ErrorKind::BadLink,
        "fragment",
        format!(
            "This link cannot be read{place}: {what}. Ask for it again, or start from the recipe on the screen."
        ),
    )
}
