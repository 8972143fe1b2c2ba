//! Version 2 of the link: every field of the state as a part of its own, by the table `FIELDS` of the state.
//!
//! The grammar is in the chapter on the contract. Every character is one that an address may hold as it is,
//! so that no program has a reason to encode or to cut it; the letters at the end tell where one did all the
//! same.

use serde_json::{Map, Value, json};

use super::{LONGEST, LinkRemark, bad, quoted, unknown_part};
use crate::contract::{
    ErrorKind, Failure, Picture, State, Way,
    check::unfit,
    ranges::{PERCENT, Range},
    state::{FIELDS, Field, MOST_LINES, Shape},
    wire, written,
};
use crate::decimal::decimal;

/// Between parts.
const PART: char = '_';
/// Between a key and its value, and within the value.
const TOKEN: char = '~';
/// What is not set, where that is not the default.
const NOT_SET: &str = ".n";

/// What is wrong within a value, and where.
struct Amiss {
    at: String,
    what: String,
}

fn amiss<T>(at: impl Into<String>, what: impl Into<String>) -> Result<T, Amiss> {
    Err(Amiss { at: at.into(), what: what.into() })
}

/// Writes a state; what it writes, [`read`] reads back.
///
/// # Errors
/// Names the field that no box of the page could hold.
pub(super) fn write(state: &State) -> Result<String, Failure> {
    state.check()?;
    let (told, usual) = (written(state), usual());
    let mut link = String::from("v2");
    let mut tell = |field: &Field, at: &str, value: &Value, begins: bool| {
        let tokens = match value {
            Value::Null => vec![NOT_SET.to_owned()],
            value => field.shape.tokens(value).map_err(|Amiss { at: within, what }| {
                Failure::new(ErrorKind::OutOfRange, format!("{at}{within}"), what)
            })?,
        };
        if begins {
            link.push(PART);
            link.push_str(field.key);
        }
        for token in tokens {
            link.push(TOKEN);
            link.push_str(&token);
        }
        Ok::<_, Failure>(())
    };
    for field in FIELDS {
        match field.at.split_once("[]") {
            None => {
                let value = within(&told, field.at);
                let form = field.at.rsplit_once('.').map_or(&told, |(form, _)| within(&told, form));
                if !form.is_null() && value != within(&usual, field.at) {
                    tell(field, field.at, value, true)?;
                }
            }
            Some((list, "")) => {
                let lines = within(&told, list).as_array().map_or(&[][..], Vec::as_slice);
                if lines.len() > MOST_LINES {
                    let message = format!("the recipe has more than {MOST_LINES} lines: take some out");
                    return Err(Failure::new(ErrorKind::OutOfRange, list, message));
                }
                // Lines of which nothing else is said share a part.
                let mut begins = true;
                for (index, line) in lines.iter().enumerate() {
                    tell(field, &format!("{list}[{index}]"), line, begins)?;
                    begins = false;
                    for of_line in FIELDS {
                        let Some((_, name)) = of_line.at.split_once("[].") else { continue };
                        let value = within(line, name);
                        if !value.is_null() {
                            tell(of_line, &format!("{list}[{index}].{name}"), value, true)?;
                            begins = true;
                        }
                    }
                }
            }
            // Told with its line.
            Some(_) => {}
        }
    }
    let link = closed(link);
    if link.len() > LONGEST {
        let message = "this is too long for a link: shorten names, or take lines out of the recipe";
        return Err(Failure::new(ErrorKind::OutOfRange, "", message));
    }
    Ok(link)
}

/// A link with the letters at its end.
pub(super) fn closed(mut link: String) -> String {
    link.push(PART);
    let check = check_letters(&link);
    link.push_str(&check);
    link
}

/// Reads the text of a link of version 2. Returns the state and remarks on parts that were left out because
/// this version does not know them.
pub(super) fn read(text: &str) -> Result<(State, Vec<LinkRemark>), Failure> {
    // Some programs take a full stop or a bracket after an address for a part of it.
    let text = text.trim_end_matches(|letter: char| !letter.is_ascii_alphanumeric());
    let whole = text.rfind(PART).filter(|at| check_letters(&text[..=*at]) == text[at + 1..]);
    let Some(end) = whole else {
        return Err(bad("", "it is not whole: its end is missing, or a letter of it was changed"));
    };
    let mut told = Value::Object(Map::new());
    let mut remarks = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    for part in text[..end].split(PART).skip(1) {
        let mut tokens = part.split(TOKEN);
        let key = tokens.next().unwrap_or_default();
        let Some(field) = FIELDS.iter().find(|field| field.key == key) else {
            remarks.push(unknown_part(key));
            continue;
        };
        if seen.contains(&key) {
            return Err(bad(key, "it comes twice"));
        }
        match field.at.split_once("[]") {
            // A new line: what is of a line may come again.
            Some((_, "")) => {
                seen.retain(|key| !FIELDS.iter().any(|it| it.key == *key && it.at.contains("[].")))
            }
            _ => seen.push(key),
        }
        let tokens: Vec<&str> = tokens.collect();
        let value = match tokens[..] {
            [NOT_SET] => Value::Null,
            _ => field.shape.value(&tokens).map_err(|what| bad(key, &what))?,
        };
        let mut fits = true;
        match (&field.shape, value) {
            (Shape::Line, Value::Array(lines)) => {
                for line in lines {
                    fits &= put(&mut told, field.at, line);
                }
            }
            (_, value) => fits = put(&mut told, field.at, value),
        }
        if !fits {
            return Err(bad(key, "it tells of a line of the recipe, and no line comes before it"));
        }
    }
    if within(&told, "recipe").as_array().is_some_and(|lines| lines.len() > MOST_LINES) {
        return Err(bad("of", &format!("the recipe has more than {MOST_LINES} lines")));
    }
    let state: State = wire::read_what_is_known(&told).map_err(|failure| bad_at(&failure))?;
    state.check().map_err(|failure| bad_at(&failure))?;
    Ok((state, remarks))
}

/// What a link leaves out. Where a form as a whole may be absent, its own defaults stand for what is left out
/// of it.
fn usual() -> Value {
    let mut usual = written(&State::default());
    let mut picture = written(&Picture::default());
    // Without any hardener the picture is open all the same.
    picture["hardeners"] = Value::Null;
    usual["picture"] = picture;
    usual["journey"] = written(&Way::default());
    usual
}

/// The place of the state that a failure names, as the part of the link that tells it.
pub(super) fn bad_at(failure: &Failure) -> Failure {
    let mut place = String::new();
    let mut within_index = false;
    for letter in failure.at.chars() {
        within_index = (within_index || letter == '[') && letter != ']';
        if !within_index || letter == '[' {
            place.push(letter);
        }
    }
    let field = FIELDS.iter().filter(|field| place.starts_with(field.at)).max_by_key(|field| field.at.len());
    // Of a value of another kind, what is wrong, and not again where: a link has no such places.
    let what = failure.message.split_once(" cannot be read: ").map_or(&*failure.message, |(_, what)| what);
    bad(field.map_or("", |field| field.key), what)
}

/// What stands at a place such as `limits.step_percent`; `null` where nothing does.
fn within<'v>(value: &'v Value, at: &str) -> &'v Value {
    at.split('.').fold(value, |value, name| value.get(name).unwrap_or(&Value::Null))
}

/// Puts a value at a place; `false` where that is in a line and there is none.
fn put(told: &mut Value, at: &str, value: Value) -> bool {
    let mut place = told;
    let mut names = at.split('.').peekable();
    while let Some(name) = names.next() {
        if let Some(list) = name.strip_suffix("[]") {
            if place[list].is_null() {
                place[list] = json!([]);
            }
            let Some(lines) = place[list].as_array_mut() else { return false };
            if names.peek().is_none() {
                lines.push(Value::Null);
            }
            let Some(line) = lines.last_mut() else { return false };
            place = line;
        } else {
            place = &mut place[name];
        }
    }
    match (place, value) {
        // The numbers of a form may come in several parts.
        (Value::Object(fields), Value::Object(more)) => fields.extend(more),
        (place, value) => *place = value,
    }
    true
}

impl Shape {
    /// The tokens that tell a value.
    fn tokens(&self, value: &Value) -> Result<Vec<String>, Amiss> {
        let list = || value.as_array().map_or(&[][..], Vec::as_slice);
        let entries = || value.as_object().into_iter().flatten();
        let few = |found: usize, most: usize| match found > most {
            true => amiss("", format!("{found} are too many: give at most {most}")),
            false => Ok(()),
        };
        let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
        let name = |at: String, name: &str| match unfit(name) {
            Some(what) => amiss(at, what),
            None => Ok(encoded(name)),
        };
        match self {
            Shape::Name => Ok(vec![name(String::new(), &text(value))?]),
            Shape::Word => Ok(vec![text(value)]),
            Shape::Number(range) => Ok(vec![number("", value, *range)?]),
            Shape::Flag => Ok(vec![if value == &Value::Bool(true) { "y" } else { "n" }.to_owned()]),
            Shape::Names(most) => {
                few(list().len(), *most)?;
                list().iter().enumerate().map(|(at, it)| name(format!("[{at}]"), &text(it))).collect()
            }
            Shape::Numbers(fields) => numbers("", value, fields),
            Shape::Pairs(first, second, most) => {
                few(list().len(), *most)?;
                let pair = |(at, pair): (usize, &Value)| {
                    let token = |end: usize, range| number(&format!("[{at}][{end}]"), &pair[end], range);
                    Ok([token(0, *first)?, token(1, *second)?])
                };
                let pairs: Vec<_> = list().iter().enumerate().map(pair).collect::<Result<_, _>>()?;
                Ok(pairs.concat())
            }
            Shape::ByName(range, most) => {
                few(entries().count(), *most)?;
                let entry = |(key, value): (&String, &Value)| {
                    let at = format!(".{key}");
                    Ok([name(at.clone(), key)?, number(&at, value, *range)?])
                };
                let tokens: Vec<_> = entries().map(entry).collect::<Result<_, _>>()?;
                Ok(tokens.concat())
            }
            Shape::FormByName(fields, most) => {
                few(entries().count(), *most)?;
                let entry = |(key, value): (&String, &Value)| {
                    let at = format!(".{key}");
                    Ok([vec![name(at.clone(), key)?], numbers(&at, value, fields)?].concat())
                };
                let tokens: Vec<_> = entries().map(entry).collect::<Result<_, _>>()?;
                Ok(tokens.concat())
            }
            Shape::Line => {
                let id = match &value["id"] {
                    Value::String(id) => name(".id".to_owned(), id)?,
                    _ => NOT_SET.to_owned(),
                };
                Ok(vec![id, number(".percent", &value["percent"], PERCENT)?])
            }
        }
    }

    /// The value that tokens tell, or what is wrong with them.
    fn value(&self, tokens: &[&str]) -> Result<Value, String> {
        let one = || match tokens {
            [token] => Ok(*token),
            _ => Err(format!("it should be one value, not {}", tokens.len())),
        };
        match self {
            Shape::Name => Ok(decoded(one()?)?.into()),
            Shape::Word => Ok(one()?.into()),
            Shape::Number(range) => figure(one()?, *range),
            Shape::Flag => match one()? {
                "y" => Ok(true.into()),
                "n" => Ok(false.into()),
                other => Err(format!("`{}` is neither `y` nor `n`", quoted(other))),
            },
            Shape::Names(most) => {
                few(tokens.len(), *most)?;
                tokens.iter().map(|token| decoded(token).map(Value::from)).collect()
            }
            Shape::Numbers(fields) => form(tokens, fields),
            Shape::Pairs(first, second, most) => {
                let pairs = groups(tokens, 2, *most)?;
                pairs.map(|pair| Ok(json!([figure(pair[0], *first)?, figure(pair[1], *second)?]))).collect()
            }
            Shape::ByName(range, most) => {
                let entries = groups(tokens, 2, *most)?;
                by_name(entries.map(|entry| Ok((decoded(entry[0])?, figure(entry[1], *range)?))))
            }
            Shape::FormByName(fields, most) => {
                let entries = groups(tokens, 1 + fields.len(), *most)?;
                by_name(entries.map(|entry| Ok((decoded(entry[0])?, form(&entry[1..], fields)?))))
            }
            Shape::Line => {
                let lines = groups(tokens, 2, MOST_LINES)?;
                let line = |line: &[&str]| match line {
                    [NOT_SET, percent] => Ok(json!({"percent": figure(percent, PERCENT)?})),
                    [id, percent] => Ok(json!({"id": decoded(id)?, "percent": figure(percent, PERCENT)?})),
                    _ => Ok(Value::Null),
                };
                lines.map(line).collect()
            }
        }
    }
}

fn few(found: usize, most: usize) -> Result<(), String> {
    if found > most { Err(format!("it has more than {most} entries")) } else { Ok(()) }
}

/// Tokens so many at a time.
fn groups<'t>(
    tokens: &'t [&'t str],
    size: usize,
    most: usize,
) -> Result<impl Iterator<Item = &'t [&'t str]>, String> {
    few(tokens.len() / size, most)?;
    if !tokens.len().is_multiple_of(size) {
        return Err(format!("an entry should be {size} values, and the last has fewer"));
    }
    Ok(tokens.chunks_exact(size))
}

fn by_name(entries: impl Iterator<Item = Result<(String, Value), String>>) -> Result<Value, String> {
    Ok(Value::Object(entries.collect::<Result<_, _>>()?))
}

fn form(tokens: &[&str], fields: &[(&str, Range)]) -> Result<Value, String> {
    if tokens.len() != fields.len() {
        return Err(format!("it should be {} numbers, not {}", fields.len(), tokens.len()));
    }
    let told = tokens.iter().zip(fields);
    by_name(told.map(|(token, (name, range))| Ok(((*name).to_owned(), figure(token, *range)?))))
}

/// A plain decimal: no exponent, no `inf`, no `NaN`. Whole numbers are told as such, for what is counted.
fn figure(token: &str, (least, most): Range) -> Result<Value, String> {
    let value = decimal(token).ok_or_else(|| format!("`{}` is not a number", quoted(token)))?;
    if !(least..=most).contains(&value) {
        return Err(format!("{} is not from {least} to {most}", quoted(token)));
    }
    Ok(if value.fract() == 0.0 && value.abs() < 1e15 { json!(value as i64) } else { json!(value) })
}

fn numbers(at: &str, value: &Value, fields: &[(&str, Range)]) -> Result<Vec<String>, Amiss> {
    fields.iter().map(|(name, range)| number(&format!("{at}.{name}"), &value[*name], *range)).collect()
}

/// To 0.001, without trailing zeros.
fn number(at: &str, value: &Value, (least, most): Range) -> Result<String, Amiss> {
    let value = value.as_f64().unwrap_or(f64::NAN);
    if !(least..=most).contains(&value) {
        return amiss(at, format!("{value} does not fit here: give a number from {least} to {most}"));
    }
    let rounded = (value * 1000.0).round() / 1000.0;
    // Turns -0 into 0.
    Ok(format!("{}", rounded + 0.0))
}

/// Letters, digits and single hyphens stay, a space is `.-`; other characters are told by their numbers, as
/// in `.e9.` or `.6a39-8336.`.
fn encoded(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    let letters: Vec<char> = name.chars().collect();
    let plain =
        |out: &str, letter: char| letter.is_ascii_alphanumeric() || (letter == '-' && !out.ends_with('-'));
    let mut at = 0;
    while let Some(letter) = letters.get(at) {
        let mut next = at + 1;
        if plain(&out, *letter) {
            out.push(*letter);
        } else {
            while letters.get(next).is_some_and(|letter| !plain("-", *letter)) {
                next += 1;
            }
            let numbers: Vec<String> =
                letters[at..next].iter().map(|letter| format!("{:x}", u32::from(*letter))).collect();
            match &letters[at..next] {
                [' '] => out.push_str(".-"),
                _ => {
                    out.push('.');
                    out.push_str(&numbers.join("-"));
                    out.push('.');
                }
            }
        }
        at = next;
    }
    out
}

fn decoded(token: &str) -> Result<String, String> {
    let garbled = || format!("`{}` is not how a link writes a name", quoted(token));
    let mut name = String::with_capacity(token.len());
    let mut rest = token;
    while let Some(letter) = rest.chars().next() {
        if let Some(after) = rest.strip_prefix(".-") {
            name.push(' ');
            rest = after;
        } else if let Some(escape) = rest.strip_prefix('.') {
            let (numbers, after) = escape.split_once('.').ok_or_else(garbled)?;
            for number in numbers.split('-') {
                let number = u32::from_str_radix(number, 16).ok().and_then(char::from_u32);
                name.push(number.ok_or_else(garbled)?);
            }
            rest = after;
        } else if letter.is_ascii_alphanumeric() || letter == '-' {
            name.push(letter);
            rest = &rest[1..];
        } else {
            return Err(garbled());
        }
    }
    unfit(&name).map_or(Ok(name), Err)
}

/// Three letters that a link which was cut, or in which a letter was changed, has by chance only: 15 bits of
/// its FNV-1a sum.
fn check_letters(text: &str) -> String {
    const LETTERS: &[u8; 32] = b"0123456789abcdefghjkmnpqrstvwxyz";
    let sum =
        text.bytes().fold(0x811c_9dc5_u32, |sum, byte| (sum ^ u32::from(byte)).wrapping_mul(0x0100_0193));
    let folded = sum ^ (sum >> 15);
    (0..3).map(|at| char::from(LETTERS[(folded >> (5 * at)) as usize % 32])).collect()
}
