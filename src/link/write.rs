//! From state to fragment.

use std::fmt::Write as _;

use super::{
    Allowed, GRAMS, Known, LONGEST, LONGEST_NAME, Line, MELTS_C, MOST_LINES, MOST_SPECIES, Shared, Swap,
    TEMPERATURES_C, Word, is_unruly,
};
use crate::failure::{ErrorKind, Failure};

/// Writes the state as a fragment, without the leading `#`. What it writes, [`super::open`] reads back.
///
/// # Errors
/// A name or list is longer than a link carries, or a number is not one.
pub fn fragment(shared: &Shared) -> Result<String, Failure> {
    check(shared)?;
    let usual = Shared::default();
    let mut parts = vec!["v1".to_owned()];
    let mut part = |key: &str, value: String| parts.push(format!("{key}={value}"));
    if let Some(name) = &shared.name {
        part("name", encoded(name));
    }
    if !shared.recipe.is_empty() {
        part("recipe", shared.recipe.iter().map(line).collect::<Vec<_>>().join(","));
    }
    part("as", shared.format.word().to_owned());
    part("store", format!("{}~{}", number(shared.coldest_c), number(shared.hottest_c)));
    if shared.skin_c != usual.skin_c {
        part("skin", number(shared.skin_c));
    }
    let feel: Vec<&str> =
        [shared.firmness.map(Word::word), shared.on_skin.map(Word::word)].into_iter().flatten().collect();
    if !feel.is_empty() {
        part("feel", feel.join(","));
    }
    limits(&shared.allowed, &mut part);
    if let Some((grams, used)) = shared.made {
        part("made", format!("{}~{}", number(grams), number(used)));
    }
    if let Some((coldest, hottest)) = shared.other_c {
        part("other", format!("{}~{}", number(coldest), number(hottest)));
    }
    if let Some(picture) = &shared.picture {
        part("picture", list(&picture.hardeners));
        if picture.swap != Swap::default() {
            part("swap", picture.swap.word().to_owned());
        }
        part("dose", number(picture.dose_percent));
    }
    let text = parts.join("&");
    if text.len() > LONGEST {
        return Err(too_long("the whole", LONGEST));
    }
    Ok(text)
}

fn limits(allowed: &Allowed, part: &mut impl FnMut(&str, String)) {
    let usual = Allowed::default();
    for (key, value, usual) in [
        ("wax", allowed.wax_percent, usual.wax_percent),
        ("acid", allowed.fatty_acid_percent, usual.fatty_acid_percent),
        ("step", allowed.step_percent, usual.step_percent),
    ] {
        if value != usual {
            part(key, number(value));
        }
    }
    if allowed.changes != usual.changes {
        part("changes", allowed.changes.to_string());
    }
    if !allowed.locked.is_empty() {
        part("keep", list(&allowed.locked));
    }
    if !allowed.bounds.is_empty() {
        let bound = |(id, least, most): &(String, f64, f64)| {
            format!("{}:{}~{}", encoded(id), number(*least), number(*most))
        };
        part("within", allowed.bounds.iter().map(bound).collect::<Vec<_>>().join(","));
    }
    if let Some(pantry) = &allowed.pantry {
        part("pantry", list(pantry));
    }
    if !allowed.refuse.is_empty() {
        part("avoid", list(&allowed.refuse));
    }
    if allowed.as_now {
        part("aim", "now".to_owned());
    }
    let held = [(allowed.keep_lead, "lead"), (allowed.any_step, "weighing")];
    let held: Vec<&str> = held.into_iter().filter(|(held, _)| *held).map(|(_, word)| word).collect();
    if !held.is_empty() {
        part("hold", held.join(","));
    }
    if allowed.margin_points != 0.0 {
        part("margin", number(allowed.margin_points));
    }
}

fn line(line: &Line) -> String {
    let text = |field: &Option<String>| field.as_deref().map(encoded).unwrap_or_default();
    let mut fields = vec![text(&line.id), text(&line.name), text(&line.like)];
    let share = |(name, percent): &(String, f64)| format!("{}~{}", encoded(name), number(*percent));
    let shares = |shares: &[(String, f64)]| shares.iter().map(share).collect::<Vec<_>>().join(";");
    fields.push(shares(&line.composition));
    fields.push(shares(&line.fatty_acids));
    let point = |(celsius, percent): &(f64, f64)| format!("{}~{}", number(*celsius), number(*percent));
    fields.push(line.solid_points.iter().map(point).collect::<Vec<_>>().join(";"));
    fields.push(known(&line.known));
    while fields.len() > 1 && fields.last().is_some_and(String::is_empty) {
        fields.pop();
    }
    format!("{}:{}", fields.join("!"), number(line.percent))
}

fn known(known: &Known) -> String {
    let mut parts = Vec::new();
    if let Some(spread) = known.spread {
        parts.push(format!("spread~{}", spread.word()));
    }
    if let Some(class) = known.class {
        parts.push(format!("class~{}", class.word()));
    }
    for (key, value) in [
        ("melts", known.melts_at_c),
        ("free", known.free_acid_percent),
        ("unsap", known.unsaponifiable_percent),
        ("di", known.diglyceride_percent),
    ] {
        if let Some(value) = value {
            parts.push(format!("{key}~{}", number(value)));
        }
    }
    parts.join(";")
}

fn list(texts: &[String]) -> String {
    texts.iter().map(|text| encoded(text)).collect::<Vec<_>>().join(",")
}

/// To 0.001, without trailing zeros.
fn number(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    // Turns -0 into 0.
    format!("{}", rounded + 0.0)
}

/// Percent-encoded UTF-8; letters, digits, `-`, `_` and `.` stay, a space is `+`.
fn encoded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' => out.push(char::from(byte)),
            b' ' => out.push('+'),
            // Writing to a string cannot fail.
            _ => {
                let _ = write!(out, "%{byte:02X}");
            }
        }
    }
    out
}

fn check(shared: &Shared) -> Result<(), Failure> {
    let allowed = &shared.allowed;
    let lists = [
        ("recipe", shared.recipe.len(), MOST_LINES),
        ("limits.locked", allowed.locked.len(), MOST_LINES),
        ("limits.bounds", allowed.bounds.len(), MOST_LINES),
        ("limits.pantry", allowed.pantry.as_ref().map_or(0, Vec::len), 4 * MOST_LINES),
        ("limits.refuse", allowed.refuse.len(), MOST_LINES),
        ("picture.hardeners", shared.picture.as_ref().map_or(0, |picture| picture.hardeners.len()), 4),
    ];
    for (at, found, most) in lists {
        if found > most {
            return Err(too_long(at, most));
        }
    }
    for (at, celsius) in [
        ("storage_c.coldest", shared.coldest_c),
        ("storage_c.hottest", shared.hottest_c),
        ("skin_c", shared.skin_c),
    ] {
        within(at, celsius, TEMPERATURES_C)?;
    }
    let (coldest_c, hottest_c) = shared.other_c.unwrap_or_default();
    within("other_storage_c.coldest", coldest_c, TEMPERATURES_C)?;
    within("other_storage_c.hottest", hottest_c, TEMPERATURES_C)?;
    let (grams, used_grams) = shared.made.unwrap_or_default();
    within("made.grams", grams, GRAMS)?;
    within("made.used_grams", used_grams, GRAMS)?;
    for (at, percent) in [
        ("limits.wax_percent", allowed.wax_percent),
        ("limits.fatty_acid_percent", allowed.fatty_acid_percent),
        ("limits.step_percent", allowed.step_percent),
        ("limits.margin_points", allowed.margin_points),
        ("picture.dose_percent", shared.picture.as_ref().map_or(0.0, |picture| picture.dose_percent)),
    ] {
        within(at, percent, (0.0, 100.0))?;
    }
    within("limits.changes", allowed.changes as f64, (0.0, 100.0))?;
    name("name", shared.name.as_deref())?;
    for (at, line) in shared.recipe.iter().enumerate() {
        let at = format!("recipe[{at}]");
        within(&at, line.percent, (0.0, 100.0))?;
        for text in [&line.id, &line.name, &line.like] {
            name(&at, text.as_deref())?;
        }
        if line.id.as_deref().unwrap_or("").is_empty() && line.name.as_deref().unwrap_or("").is_empty() {
            return Err(Failure::new(ErrorKind::Empty, at, "this line has neither id nor name: give it one"));
        }
        for entries in [line.composition.len(), line.fatty_acids.len(), line.solid_points.len()] {
            if entries > MOST_SPECIES {
                return Err(too_long(&at, MOST_SPECIES));
            }
        }
        for (species, percent) in line.composition.iter().chain(&line.fatty_acids) {
            name(&at, Some(species))?;
            within(&at, *percent, (0.0, 100.0))?;
        }
        for (celsius, percent) in &line.solid_points {
            within(&at, *celsius, MELTS_C)?;
            within(&at, *percent, (0.0, 100.0))?;
        }
        let known = &line.known;
        if let Some(celsius) = known.melts_at_c {
            within(&at, celsius, MELTS_C)?;
        }
        for percent in [known.free_acid_percent, known.unsaponifiable_percent, known.diglyceride_percent] {
            within(&at, percent.unwrap_or(0.0), (0.0, 100.0))?;
        }
    }
    for (id, least, most) in &allowed.bounds {
        name("limits.bounds", Some(id))?;
        within("limits.bounds", *least, (0.0, 100.0))?;
        within("limits.bounds", *most, (0.0, 100.0))?;
    }
    let pantry = allowed.pantry.iter().flatten();
    let hardeners = shared.picture.iter().flat_map(|picture| &picture.hardeners);
    allowed
        .locked
        .iter()
        .chain(&allowed.refuse)
        .chain(pantry)
        .chain(hardeners)
        .try_for_each(|id| name("limits", Some(id)))
}

fn name(at: &str, text: Option<&str>) -> Result<(), Failure> {
    let Some(text) = text else { return Ok(()) };
    if text.trim().is_empty() {
        return Err(Failure::new(ErrorKind::Empty, at, "a name is empty: leave it out, or write one"));
    }
    if text.chars().count() > LONGEST_NAME {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            at,
            format!("a name is longer than {LONGEST_NAME} characters: shorten it"),
        ));
    }
    if text.chars().any(is_unruly) {
        return Err(Failure::new(
            ErrorKind::OutOfRange,
            at,
            "a name has control or direction-override characters in it: write it in plain letters",
        ));
    }
    Ok(())
}

fn within(at: &str, value: f64, (least, most): (f64, f64)) -> Result<(), Failure> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err(Failure::new(
        ErrorKind::OutOfRange,
        at,
        format!("{value} does not fit here: give a number from {least} to {most}"),
    ))
}

fn too_long(at: &str, most: usize) -> Failure {
    Failure::new(ErrorKind::OutOfRange, at, format!("{at} is too long for a link: at most {most}"))
}
