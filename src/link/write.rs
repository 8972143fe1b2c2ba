//! From state to fragment.

use std::fmt::Write as _;

use super::{
    Allowed, CHANGES, COLD_PACK_G, FILL_ML, FOAM_MM, GRAMS, HOURS, Journey, Known, LONGEST, LONGEST_NAME,
    Line, MELTS_C, MOST_LINES, MOST_SPECIES, PRICES, Shared, Swap, TEMPERATURES_C, Word, amiss, is_unruly,
};
use crate::failure::{ErrorKind, Failure};

/// Writes the state as a fragment, without the leading `#`. What it writes, [`super::open`] reads back.
///
/// # Errors
/// A name or list is longer than a link carries, or a number is not one.
pub fn fragment(shared: &Shared) -> Result<String, Failure> {
    check(shared)?;
    let usual = Shared::default();
    let mut parts = Parts(vec!["v1".to_owned()]);
    if let Some(name) = &shared.name {
        parts.put("name", encoded(name));
    }
    if !shared.recipe.is_empty() {
        parts.put("recipe", shared.recipe.iter().map(line).collect::<Vec<_>>().join(","));
    }
    let prices: Vec<String> =
        shared.recipe.iter().map(|line| line.price.map(number).unwrap_or_default()).collect();
    let prices = prices.join(",");
    let prices = prices.trim_end_matches(',');
    if !prices.is_empty() {
        parts.put("price", prices.to_owned());
    }
    parts.put("as", shared.format.word().to_owned());
    if let Some(pack) = shared.pack {
        parts.put("pack", pack.word().to_owned());
    }
    parts.two("store", Some((shared.coldest_c, shared.hottest_c)));
    parts.number("skin", Some(shared.skin_c), Some(usual.skin_c));
    let feel: Vec<&str> =
        [shared.firmness.map(Word::word), shared.on_skin.map(Word::word)].into_iter().flatten().collect();
    if !feel.is_empty() {
        parts.put("feel", feel.join(","));
    }
    limits(&shared.allowed, &usual.allowed, &mut parts);
    parts.two("made", shared.made);
    parts.two("other", shared.other_c);
    if let Some(picture) = &shared.picture {
        parts.put("picture", list(&picture.hardeners));
        if picture.swap != Swap::default() {
            parts.put("swap", picture.swap.word().to_owned());
        }
        parts.number("dose", Some(picture.dose_percent), None);
    }
    if let Some(journey) = &shared.journey {
        parts.put("way", way(journey));
        let parcel = |one: &Journey| [one.volume_ml, one.insulation_mm, one.cold_pack_g];
        if parcel(journey) != parcel(&Journey::default()) {
            parts.put("parcel", parcel(journey).map(number).join("~"));
        }
    }
    let text = parts.0.join("&");
    if text.len() > LONGEST {
        return Err(too_long("the whole", LONGEST));
    }
    Ok(text)
}

/// What is written so far.
struct Parts(Vec<String>);

impl Parts {
    fn put(&mut self, key: &str, value: String) {
        self.0.push(format!("{key}={value}"));
    }

    /// Not what is absent, or as usual.
    fn number(&mut self, key: &str, value: Option<f64>, usual: Option<f64>) {
        if let Some(value) = value
            && Some(value) != usual
        {
            self.put(key, number(value));
        }
    }

    fn two(&mut self, key: &str, two: Option<(f64, f64)>) {
        if let Some(two) = two {
            self.put(key, pairs(&[two]));
        }
    }

    fn list(&mut self, key: &str, texts: &[String]) {
        if !texts.is_empty() {
            self.put(key, list(texts));
        }
    }
}

fn way(journey: &Journey) -> String {
    if let Some(preset) = journey.preset {
        preset.word().to_owned()
    } else if let Some(celsius) = journey.constant_c {
        format!("steady:{}", pairs(&[(celsius, journey.hours.unwrap_or(24.0))]))
    } else {
        format!("hourly:{}", pairs(journey.points.as_deref().unwrap_or_default()))
    }
}

fn limits(allowed: &Allowed, usual: &Allowed, parts: &mut Parts) {
    for (key, value, usual) in [
        ("wax", Some(allowed.wax_percent), Some(usual.wax_percent)),
        ("acid", Some(allowed.fatty_acid_percent), Some(usual.fatty_acid_percent)),
        ("alcohol", allowed.fatty_alcohol_percent, None),
        ("powder", allowed.powder_percent, None),
        ("step", Some(allowed.step_percent), Some(usual.step_percent)),
        ("changes", Some(f64::from(allowed.changes)), Some(f64::from(usual.changes))),
    ] {
        parts.number(key, value, usual);
    }
    parts.list("keep", &allowed.locked);
    if !allowed.bounds.is_empty() {
        let bound =
            |(id, least, most): &(String, f64, f64)| format!("{}:{}", encoded(id), pairs(&[(*least, *most)]));
        parts.put("within", allowed.bounds.iter().map(bound).collect::<Vec<_>>().join(","));
    }
    if let Some(pantry) = &allowed.pantry {
        parts.put("pantry", list(pantry));
    }
    parts.list("avoid", &allowed.refuse);
    if allowed.as_now {
        parts.put("aim", "now".to_owned());
    }
    let held = match (allowed.keep_lead, allowed.any_step) {
        (true, true) => "lead,weighing",
        (true, false) => "lead",
        (false, true) => "weighing",
        (false, false) => "",
    };
    if !held.is_empty() {
        parts.put("hold", held.to_owned());
    }
    parts.number("margin", Some(allowed.margin_points), Some(usual.margin_points));
}

fn line(line: &Line) -> String {
    let text = |field: &Option<String>| field.as_deref().map(encoded).unwrap_or_default();
    let mut fields = vec![text(&line.id), text(&line.name), text(&line.like)];
    let share = |(name, percent): &(String, f64)| format!("{}~{}", encoded(name), number(*percent));
    let shares = |shares: &[(String, f64)]| shares.iter().map(share).collect::<Vec<_>>().join(";");
    fields.push(shares(&line.composition));
    fields.push(shares(&line.fatty_acids));
    fields.push(pairs(&line.solid_points));
    fields.push(known(&line.known));
    while fields.len() > 1 && fields.last().is_some_and(String::is_empty) {
        fields.pop();
    }
    format!("{}:{}", fields.join("!"), number(line.percent))
}

/// `10~60;20~35`.
fn pairs(pairs: &[(f64, f64)]) -> String {
    let pair = |(one, two): &(f64, f64)| format!("{}~{}", number(*one), number(*two));
    pairs.iter().map(pair).collect::<Vec<_>>().join(";")
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
        ("limits.fatty_alcohol_percent", allowed.fatty_alcohol_percent.unwrap_or(0.0)),
        ("limits.powder_percent", allowed.powder_percent.unwrap_or(0.0)),
        ("limits.step_percent", allowed.step_percent),
        ("limits.margin_points", allowed.margin_points),
        ("picture.dose_percent", shared.picture.as_ref().map_or(0.0, |picture| picture.dose_percent)),
    ] {
        within(at, percent, (0.0, 100.0))?;
    }
    within("limits.changes", f64::from(allowed.changes), CHANGES)?;
    if let Some(journey) = &shared.journey {
        travels(journey)?;
    }
    name("name", shared.name.as_deref())?;
    for (at, line) in shared.recipe.iter().enumerate() {
        let at = format!("recipe[{at}]");
        within(&at, line.percent, (0.0, 100.0))?;
        within("prices", line.price.unwrap_or(0.0), PRICES)?;
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

fn travels(journey: &Journey) -> Result<(), Failure> {
    let Journey { preset, constant_c, hours, points, .. } = journey;
    let wrong = |what: &str| Err(Failure::new(ErrorKind::Conflict, "journey", what));
    if u8::from(preset.is_some()) + u8::from(constant_c.is_some()) + u8::from(points.is_some()) != 1 {
        return wrong("give exactly one of `preset`, `constant_c` and `points`");
    }
    if let Some(what) = points.as_ref().and_then(|points| amiss(points)) {
        return wrong(what);
    }
    let hours = hours.iter().chain(points.iter().flatten().map(|(hour, _)| hour));
    let celsius = constant_c.iter().chain(points.iter().flatten().map(|(_, celsius)| celsius));
    hours.copied().try_for_each(|hours| within("journey.hours", hours, HOURS))?;
    celsius.copied().try_for_each(|celsius| within("journey.constant_c", celsius, TEMPERATURES_C))?;
    within("journey.volume_ml", journey.volume_ml, FILL_ML)?;
    within("journey.insulation_mm", journey.insulation_mm, FOAM_MM)?;
    within("journey.cold_pack_g", journey.cold_pack_g, COLD_PACK_G)
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
