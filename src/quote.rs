//! Text that somebody else wrote, as a message shows it.

/// Characters that would let a text rewrite what stands around it, or look like another: controls,
/// marks of direction, and what is not seen. The two joiners, which Persian, Hindi and others are
/// written with, are none of them.
pub(crate) fn is_unruly(letter: char) -> bool {
    letter.is_control()
        || matches!(
            letter,
            '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}'
        )
}

/// The longest piece of a text that is shown, in characters: longer than any name of the catalogue.
const LONGEST: usize = 60;

/// A text as a message quotes it: without unruly characters, and cut where it is long.
pub(crate) fn quoted(text: &str) -> String {
    let mut letters = text.chars().filter(|letter| !is_unruly(*letter));
    let mut quoted: String = letters.by_ref().take(LONGEST).collect();
    if letters.next().is_some() {
        quoted.push('…');
    }
    quoted
}

#[cfg(test)]
mod tests {
    use super::quoted;

    #[test]
    fn a_text_is_shown_short_and_harmless() {
        assert_eq!(quoted("shea butter"), "shea butter");
        assert_eq!(quoted("shea\u{202e}\n butter"), "shea butter");
        assert_eq!(quoted(&"ä".repeat(1000)), format!("{}…", "ä".repeat(60)));
    }
}
