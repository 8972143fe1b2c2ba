//! Letters and signs: what does not show is taken out, and what is written in several ways becomes one. The
//! table of accents is our own: the crates that fold all of Unicode weigh more than the whole of this module.

/// What stands for a change of the direction of writing: what is seen after it is not what is stored.
pub(super) const TURNED: char = '\u{202e}';
/// A space that keeps its neighbours on one line, as in the thousands of “1 000”.
pub(super) const FIXED_SPACE: char = '\u{a0}';

/// The text as the rest of this module reads it: without tags, escapes and characters that do not show, lines
/// ended by line feeds, digits and signs of other scripts as those of ours.
pub(super) fn clean(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        let length = match letter {
            '\u{1b}' => escape(rest),
            '<' => tag(rest),
            '&' => entity(rest, &mut out),
            '%' => space_of_an_address(rest, &out),
            'h' | 'w' | 'H' | 'W' => address(rest, &out),
            _ => 0,
        };
        if length > 0 {
            out.push(' ');
            rest = &rest[length..];
            continue;
        }
        rest = &rest[letter.len_utf8()..];
        match letter {
            '\r' if rest.starts_with('\n') => {}
            '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' | '।' => out.push('\n'),
            '\n' | '\t' => out.push(letter),
            '\u{202d}' | TURNED => out.push(TURNED),
            FIXED_SPACE | '\u{2007}'..='\u{200a}' | '\u{202f}' => out.push(FIXED_SPACE),
            _ if shows_nothing(letter) => {}
            '\u{ff01}'..='\u{ff5e}' => out.extend(char::from_u32(letter as u32 - 0xfee0)),
            '٪' => out.push('%'),
            '٫' => out.push('.'),
            '،' => out.push(','),
            '、' | '؛' | '。' => out.push(';'),
            '٬' | '’' | '‘' | 'ʼ' | '′' => out.push('\''),
            '“' | '”' | '„' | '«' | '»' => out.push('"'),
            '⁄' => out.push('/'),
            _ if letter.is_whitespace() => out.push(' '),
            _ => out.push(digit(letter).unwrap_or(letter)),
        }
    }
    out
}

/// The digit of ours that an Arabic, Persian, Devanagari or Bengali one is.
fn digit(letter: char) -> Option<char> {
    let zero = ['\u{660}', '\u{6f0}', '\u{966}', '\u{9e6}']
        .into_iter()
        .find(|zero| (*zero as u32..*zero as u32 + 10).contains(&(letter as u32)))?;
    char::from_digit(letter as u32 - zero as u32, 10)
}

/// Whether nothing is seen of a character: controls, joiners, marks of direction, soft hyphens, fillers,
/// tags.
fn shows_nothing(letter: char) -> bool {
    letter.is_control()
        || matches!(
            letter,
            '\u{ad}' | '\u{61c}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202c}' | '\u{2060}'..='\u{206f}'
                | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{180b}'..='\u{180f}' | '\u{3164}' | '\u{fff9}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e0fff}'
        )
}

/// The longest tag, entity or escape that is looked for, in bytes: so that no text takes more than its
/// length.
const LOOK_AHEAD: usize = 200;

fn within(rest: &str, end: char) -> Option<usize> {
    let line = &rest.as_bytes()[..rest.len().min(LOOK_AHEAD)];
    let at = line.iter().position(|byte| *byte == end as u8 || *byte == b'\n')?;
    (line[at] == end as u8).then_some(at)
}

/// The length of a terminal's colour, 0 where it is none.
fn escape(rest: &str) -> usize {
    if rest.as_bytes().get(1) == Some(&b'[') { within(rest, 'm').map_or(0, |end| end + 1) } else { 0 }
}

/// The length of a tag, with what it runs if it is a script.
fn tag(rest: &str) -> usize {
    let begins = rest.as_bytes().get(1).is_some_and(|byte| byte.is_ascii_alphabetic() || *byte == b'/');
    let Some(end) = within(rest, '>').filter(|_| begins) else { return 0 };
    if rest.starts_with("<script") {
        let close = b"</script>";
        let bytes = &rest.as_bytes()[..rest.len().min(LOOK_AHEAD)];
        if let Some(at) = bytes.windows(close.len()).position(|window| window == close) {
            return at + close.len();
        }
    }
    end + 1
}

/// The length of an entity of HTML; what it means is written.
fn entity(rest: &str, out: &mut String) -> usize {
    let Some(end) = within(rest, ';').filter(|end| *end < 10) else { return 0 };
    let meaning = match &rest[1..end] {
        "nbsp" | "#160" => " ",
        "amp" | "#38" => "&",
        "lt" => "<",
        "gt" => ">",
        "quot" | "#34" | "apos" | "#39" => "'",
        "ndash" | "mdash" | "#8211" | "#8212" | "minus" => " – ",
        name if name.starts_with('#') || name.bytes().all(|byte| byte.is_ascii_alphabetic()) => " ",
        _ => return 0,
    };
    out.push_str(meaning);
    end + 1
}

/// The length of `%20` between two letters.
fn space_of_an_address(rest: &str, before: &str) -> usize {
    let letters = before.ends_with(char::is_alphabetic)
        && rest.get(3..).is_some_and(|after| after.starts_with(char::is_alphabetic));
    if letters && rest.starts_with("%20") { 3 } else { 0 }
}

/// The length of the address of a page.
fn address(rest: &str, before: &str) -> usize {
    let begins = ["http://", "https://", "www."].iter().any(|begin| rest.starts_with(begin));
    if !begins || before.ends_with(char::is_alphanumeric) {
        return 0;
    }
    rest.find(|letter: char| letter.is_whitespace() || matches!(letter, ')' | '|' | '<'))
        .unwrap_or(rest.len())
}

/// Whether a character belongs to a word. The signs of Indian scripts are no letters to Unicode, but stand in
/// words.
pub(crate) fn in_word(letter: char) -> bool {
    letter.is_alphanumeric()
        || ('\u{900}'..='\u{dff}').contains(&letter)
        || ('\u{300}'..='\u{36f}').contains(&letter)
        || matches!(letter, TURNED | char::REPLACEMENT_CHARACTER)
}

/// Letters that are one but for their accents.
const ACCENTS: &[(&str, char)] = &[
    ("àáâãäåāăą", 'a'),
    ("çćč", 'c'),
    ("ďđ", 'd'),
    ("èéêëēėęě", 'e'),
    ("ğ", 'g'),
    ("ìíîïīįı", 'i'),
    ("łľ", 'l'),
    ("ñńň", 'n'),
    ("òóôõöøōő", 'o'),
    ("ŕř", 'r'),
    ("śşšș", 's'),
    ("ţťț", 't'),
    ("ùúûüūůű", 'u'),
    ("ýÿ", 'y'),
    ("źżž", 'z'),
];

/// Words in small letters without accents, a space between two; everything that is no part of a word parts
/// two, but for a full stop between letters (“e.o.”), which is dropped. What strikes letters out stays, so
/// that they match nothing.
pub(crate) fn fold(text: &str) -> String {
    #[cfg(test)]
    WORK.set(WORK.get() + text.len());
    let mut out = String::with_capacity(text.len());
    for letter in text.chars().flat_map(char::to_lowercase) {
        match letter {
            'a'..='z' | '0'..='9' => out.push(letter),
            '.' => {}
            'ß' => out.push_str("ss"),
            'œ' => out.push_str("oe"),
            'æ' => out.push_str("ae"),
            '\u{300}'..='\u{333}' | '\u{339}'..='\u{36f}' => {}
            other if in_word(other) => {
                let plain = ACCENTS.iter().find(|(accented, _)| accented.contains(other));
                out.push(plain.map_or(other, |(_, plain)| *plain));
            }
            _ if out.is_empty() || out.ends_with(' ') => {}
            _ => out.push(' '),
        }
    }
    out.truncate(out.trim_end().len());
    out
}

/// The words of a list, parted by spaces, in the order in which [`one_of`] looks one up.
pub(super) fn word_list(words: &'static str) -> Vec<&'static str> {
    let mut list: Vec<&str> = words.split(' ').collect();
    list.sort_unstable();
    list
}

/// Whether a word is in a list.
pub(super) fn one_of(list: &[&str], word: &str) -> bool {
    list.binary_search(&word).is_ok()
}

#[cfg(test)]
thread_local! {
    /// How many bytes were folded: what the reader does most of, counted by a test.
    pub(super) static WORK: std::cell::Cell<usize> = const { std::cell::Cell::new(0) };
}
