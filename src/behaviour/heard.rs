//! What a maker's own words say of a butter that went wrong.

use super::Sign::{self, Grainy, OilPool, SeparatedLayers, SoftTop, TooHardInTheCold, TurnsToOil};

/// Words that tell a sign whatever else is said: the first that occurs counts. A space stands for the edge of a word.
const CLEAR: &[(Option<Sign>, &str)] = &[
    (None, " hard to say| hard to tell"),
    (Some(OilPool), " pool| puddle"),
    (Some(SeparatedLayers), " layers | firm layer| hard layer"),
    (Some(OilPool), " oily layer| oil layer| layer of oil| oil on top| oil on the top| oily on top"),
    (
        Some(OilPool),
        " beads of oil| oil beads| drops of oil| droplets| in oil | in the oil | leak| weep| seep",
    ),
    // A foam needs as much structure to hold its air as a butter to hold its oil (`Format::least_structure_percent`).
    (Some(OilPool), " deflat| collaps| lost its air "),
    (Some(Grainy), " grain| grit| sandy| hard lump| bloom| white spot| white dot"),
    (Some(SeparatedLayers), " layer | separat| split"),
    (Some(SoftTop), " sweat| wet | greasy top| soft top| soft on top| soft on the top| melted on top"),
];

/// Words that tell one only where no other here tells another kind of trouble, with what they say plainly, and denied.
const DOUBTFUL: &[(Option<Sign>, Option<Sign>, &str)] = &[
    (Some(TurnsToOil), None, " liquid| melted | to oil | all oil | runny | soup"),
    (None, Some(TurnsToOil), " set | sets | setting | solid"),
    (Some(SoftTop), Some(TooHardInTheCold), " soft"),
    (Some(TooHardInTheCold), Some(SoftTop), " hard | harder | harden| stiff"),
    (None, Some(SoftTop), " firm "),
    (Some(TooHardInTheCold), None, " crumbl| crack| brittle "),
    (None, Some(TooHardInTheCold), " scoop| spread"),
    (Some(Grainy), None, " lump| bead"),
];

/// Words that deny what follows, apostrophes left out.
const DENIALS: &str = " not no never nor wont dont doesnt didnt isnt wasnt arent cant cannot couldnt wouldnt hasnt havent hardly barely without failed fails refused refuses ";

/// How many words back a denial reaches: "never gets really hard".
const REACH: usize = 3;

/// The sign that a maker's words speak of; `None` where they name none, or such as contradict each other.
pub fn heard(words: &str) -> Option<Sign> {
    let words = plain(words);
    // Byte by byte: the library's search for a text in a text is much code for a few words.
    let said = |any: &str, deny: bool| {
        any.split('|').any(|word| {
            let found = |at: usize| words[at..].starts_with(word.as_bytes()) && denied(&words[..at]) == deny;
            (0..words.len()).any(found)
        })
    };
    for &(sign, any) in CLEAR {
        if said(any, false) {
            return sign;
        }
    }
    let mut first = None;
    for &(plainly, denied, any) in DOUBTFUL {
        for (deny, sign) in [(false, plainly), (true, denied)] {
            let Some(sign) = sign.filter(|_| said(any, deny)) else { continue };
            if first.is_some_and(|first| kind(first) != kind(sign)) {
                return None;
            }
            first = first.or(Some(sign));
        }
    }
    first
}

/// Too soft is of one kind, however soft.
fn kind(sign: Sign) -> Sign {
    if sign == TurnsToOil { SoftTop } else { sign }
}

/// Small letters with one space around each word, a full stop for whatever parts two clauses.
fn plain(words: &str) -> Vec<u8> {
    let mut plain = vec![b' '];
    for letter in words.chars() {
        match letter {
            '\'' | '’' | '‘' | 'ʼ' | '´' | '`' => continue,
            letter if letter.is_ascii_alphanumeric() => plain.push(letter.to_ascii_lowercase() as u8),
            '.' | ',' | ';' | ':' | '!' | '?' | '(' | ')' | '–' | '—' => plain.extend(b" . "),
            _ => plain.push(b' '),
        }
    }
    plain.push(b' ');
    plain.dedup_by(|a, b| *a == b' ' && *b == b' ');
    plain
}

/// Whether what stands before a word denies it, in the same clause.
fn denied(before: &[u8]) -> bool {
    for word in before.rsplit(|letter| *letter == b' ').take(REACH) {
        if matches!(word, b"." | b"but" | b"and") {
            return false;
        }
        if !word.is_empty() && DENIALS.as_bytes().split(|letter| *letter == b' ').any(|denial| denial == word)
        {
            return true;
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    const SAID: &[(&str, Option<Sign>)] = &[
        ("It went GRAINY after a hot week", Some(Grainy)),
        ("white spots all over", Some(Grainy)),
        ("gritty, like sand", Some(Grainy)),
        ("little hard lumps in it", Some(Grainy)),
        ("tiny beads in the butter", Some(Grainy)),
        ("lumps that won’t rub out", Some(Grainy)),
        ("no grains, but there is a pool of oil", Some(OilPool)),
        ("a pool of oil with soft bits", Some(OilPool)),
        ("lumps in a pool of oil", Some(OilPool)),
        ("hard lumps in the oil", Some(OilPool)),
        ("beads of oil on top", Some(OilPool)),
        ("oil on top", Some(OilPool)),
        ("oily layer on top", Some(OilPool)),
        ("a layer of oil formed", Some(OilPool)),
        ("it leaks", Some(OilPool)),
        ("oil is seeping out", Some(OilPool)),
        ("my whipped butter deflated", Some(OilPool)),
        ("it collapsed overnight", Some(OilPool)),
        ("two layers", Some(SeparatedLayers)),
        ("a firm layer and an oily one", Some(SeparatedLayers)),
        ("it separated", Some(SeparatedLayers)),
        ("it hasn't split; it is grainy", Some(Grainy)),
        ("the top is wet", Some(SoftTop)),
        ("it sweats", Some(SoftTop)),
        ("soft on top, hard below", Some(SoftTop)),
        ("far too soft", Some(SoftTop)),
        ("too soft, never gets hard", Some(SoftTop)),
        ("not hard enough", Some(SoftTop)),
        ("it stays soft and won't harden", Some(SoftTop)),
        ("it stays soft and won’t harden", Some(SoftTop)),
        ("it isn’t firm enough", Some(SoftTop)),
        ("turned to oil in the van", Some(TurnsToOil)),
        ("it won't set", Some(TurnsToOil)),
        ("It won’t set!", Some(TurnsToOil)),
        ("it never really sets", Some(TurnsToOil)),
        ("didn't solidify", Some(TurnsToOil)),
        ("soupy in summer", Some(TurnsToOil)),
        ("melted in the post and went soft", Some(TurnsToOil)),
        ("it set rock hard", Some(TooHardInTheCold)),
        ("rock-hard in winter", Some(TooHardInTheCold)),
        ("not soft enough", Some(TooHardInTheCold)),
        ("my bar cracked", Some(TooHardInTheCold)),
        ("I can't scoop it", Some(TooHardInTheCold)),
        ("not grainy, just stiff", Some(TooHardInTheCold)),
        // What these mean is to be asked.
        ("hardly melts on skin", None),
        ("hard in winter, runny in summer", None),
        ("hard to say what happened", None),
        ("no grains, no layers", None),
        ("it smells", None),
        ("I was reset by the weather", None),
        ("", None),
        ("’’’ … 🧈", None),
    ];

    #[test]
    fn words_are_understood() {
        for (words, sign) in SAID {
            assert_eq!(heard(words), *sign, "{words}");
        }
    }
}
