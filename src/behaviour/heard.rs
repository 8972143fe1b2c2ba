//! What a maker's own words say of a butter that went wrong.

use super::Sign::{self, Grainy, OilPool, SeparatedLayers, SoftTop, TooHardInTheCold, TurnsToOil};

/// Words that tell a sign whatever else is said: the first that occurs counts. A space stands for the edge of a word.
const CLEAR: &[(&str, Option<Sign>)] = &[
    (" hard to say", None),
    (" hard to tell", None),
    (" pool", Some(OilPool)),
    (" puddle", Some(OilPool)),
    (" layers ", Some(SeparatedLayers)),
    (" firm layer", Some(SeparatedLayers)),
    (" hard layer", Some(SeparatedLayers)),
    (" oily layer", Some(OilPool)),
    (" oil layer", Some(OilPool)),
    (" layer of oil", Some(OilPool)),
    (" oil on top", Some(OilPool)),
    (" oil on the top", Some(OilPool)),
    (" oily on top", Some(OilPool)),
    (" beads of oil", Some(OilPool)),
    (" oil beads", Some(OilPool)),
    (" drops of oil", Some(OilPool)),
    (" droplets", Some(OilPool)),
    (" in oil ", Some(OilPool)),
    (" in the oil ", Some(OilPool)),
    (" leak", Some(OilPool)),
    (" weep", Some(OilPool)),
    (" seep", Some(OilPool)),
    // A foam needs as much structure to hold its air as a butter to hold its oil (`Format::least_structure_percent`).
    (" deflat", Some(OilPool)),
    (" collaps", Some(OilPool)),
    (" lost its air ", Some(OilPool)),
    (" grain", Some(Grainy)),
    (" grit", Some(Grainy)),
    (" sandy", Some(Grainy)),
    (" hard lump", Some(Grainy)),
    (" bloom", Some(Grainy)),
    (" white spot", Some(Grainy)),
    (" white dot", Some(Grainy)),
    (" layer ", Some(SeparatedLayers)),
    (" separat", Some(SeparatedLayers)),
    (" split", Some(SeparatedLayers)),
    (" sweat", Some(SoftTop)),
    (" wet ", Some(SoftTop)),
    (" greasy top", Some(SoftTop)),
    (" soft top", Some(SoftTop)),
    (" soft on top", Some(SoftTop)),
    (" soft on the top", Some(SoftTop)),
    (" melted on top", Some(SoftTop)),
];

/// Words that tell one only where no other here tells another kind of trouble, with what they say plainly, and denied.
const DOUBTFUL: &[(&str, Option<Sign>, Option<Sign>)] = &[
    (" liquid", Some(TurnsToOil), None),
    (" melted ", Some(TurnsToOil), None),
    (" to oil ", Some(TurnsToOil), None),
    (" all oil ", Some(TurnsToOil), None),
    (" runny ", Some(TurnsToOil), None),
    (" soup", Some(TurnsToOil), None),
    (" set ", None, Some(TurnsToOil)),
    (" sets ", None, Some(TurnsToOil)),
    (" setting ", None, Some(TurnsToOil)),
    (" solid", None, Some(TurnsToOil)),
    (" soft", Some(SoftTop), Some(TooHardInTheCold)),
    (" hard ", Some(TooHardInTheCold), Some(SoftTop)),
    (" harder ", Some(TooHardInTheCold), Some(SoftTop)),
    (" harden", Some(TooHardInTheCold), Some(SoftTop)),
    (" firm ", None, Some(SoftTop)),
    (" stiff", Some(TooHardInTheCold), Some(SoftTop)),
    (" crumbl", Some(TooHardInTheCold), None),
    (" crack", Some(TooHardInTheCold), None),
    (" brittle ", Some(TooHardInTheCold), None),
    (" scoop", None, Some(TooHardInTheCold)),
    (" spread", None, Some(TooHardInTheCold)),
    (" lump", Some(Grainy), None),
    (" bead", Some(Grainy), None),
];

/// Words that deny what follows, apostrophes left out.
const DENIALS: &str = " not no never nor wont dont doesnt didnt isnt wasnt arent cant cannot couldnt wouldnt hasnt havent hardly barely without failed fails refused refuses ";

/// How many words back a denial reaches: "never gets really hard".
const REACH: usize = 3;

/// The sign that a maker's words speak of; `None` where they name none, or such as contradict each other.
pub fn heard(words: &str) -> Option<Sign> {
    let words = plain(words);
    let said = |word: &str| {
        words.match_indices(word).map(|(at, _)| denied(&words[..at])).collect::<Vec<bool>>().into_iter()
    };
    if let Some((_, sign)) = CLEAR.iter().find(|(word, _)| said(word).any(|denied| !denied)) {
        return *sign;
    }
    let mut found = DOUBTFUL.iter().flat_map(|&(word, plainly, denied)| {
        said(word).filter_map(move |is| if is { denied } else { plainly })
    });
    let first = found.next()?;
    let kind = |sign| match sign {
        TurnsToOil => SoftTop,
        other => other,
    };
    found.all(|other| kind(other) == kind(first)).then_some(first)
}

/// Small letters with one space around each word, a full stop for whatever parts two clauses.
fn plain(words: &str) -> String {
    let mut plain = " ".to_owned();
    for letter in words.chars() {
        match letter.to_ascii_lowercase() {
            '\'' | '’' | '‘' | 'ʼ' | '´' | '`' => {}
            letter if letter.is_ascii_alphanumeric() => plain.push(letter),
            '.' | ',' | ';' | ':' | '!' | '?' | '(' | ')' | '–' | '—' => plain.push_str(" . "),
            _ => plain.push(' '),
        }
    }
    plain.push(' ');
    let mut one = " ".to_owned();
    for word in plain.split_ascii_whitespace() {
        one.push_str(word);
        one.push(' ');
    }
    one
}

/// Whether what stands before a word denies it, in the same clause.
fn denied(before: &str) -> bool {
    before
        .rsplit(' ')
        .take_while(|word| !matches!(*word, "." | "but" | "and"))
        .take(REACH)
        .any(|word| !word.is_empty() && DENIALS.contains(&format!(" {word} ")))
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
