//! Letters of pasted text.
//!
//! The standard library knows every script, with tables that weigh 7 kB gzipped in the page's engine. Here a letter is
//! compared with the Latin names of a catalogue, and nothing is lost when others stay as they are.

/// A Latin letter (ASCII and Latin-1) as a small one; others as they are.
pub(super) fn small(letter: char) -> char {
    match letter {
        '×' => letter,
        'À'..='Þ' => char::from_u32(letter as u32 + 0x20).unwrap_or(letter),
        _ => letter.to_ascii_lowercase(),
    }
}

/// Whether it belongs to a word or a number, rather than between two.
pub(super) fn belongs_to_word(letter: char) -> bool {
    match letter {
        '\0'..='\x7f' => letter.is_ascii_alphanumeric(),
        'ª' | 'µ' | 'º' | '²' | '³' | '¹' | '¼'..='¾' => true,
        '\u{80}'..='¿' | '×' | '÷' => false,
        // Fractions and Roman numerals, among the signs.
        '⅐'..='\u{2189}' => true,
        // Marks upon letters, signs and punctuation, pictures.
        '\u{300}'..='\u{36f}' | '\u{2000}'..='\u{2bff}' | '\u{3000}'..='\u{3004}' => false,
        '\u{e000}'..='\u{f8ff}' | '\u{fe00}'..='\u{fe6f}' | '\u{1f000}'..='\u{1faff}' => false,
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_letters_are_those_of_the_standard_library() {
        for letter in '\0'..='ÿ' {
            assert!(letter.to_lowercase().eq([small(letter)]), "{letter}");
        }
    }

    #[test]
    fn words_are_those_of_the_standard_library_in_the_scripts_of_europe_and_east_asia() {
        let differ = |from: char, to: char| {
            (from..=to)
                .filter(|letter| letter.is_alphanumeric() != belongs_to_word(*letter))
                .collect::<String>()
        };
        assert_eq!(differ('\0', 'ˁ'), "");
        assert_eq!(differ('А', 'ҁ'), "");
        assert_eq!(differ('α', 'ϵ'), "");
        assert_eq!(differ('\u{2010}', '\u{206f}'), "");
        assert_eq!(differ('←', '⑟'), "");
        assert_eq!(differ('一', '龥'), "");
    }
}
