//! What a maker's own words say of a butter that went wrong.

use super::Sign::{
    self, Grainy, GreasyOnSkin, HarmsSkin, OilPool, SeparatedLayers, SmellsOff, SoftTop, TooHardInTheCold,
    TurnsToOil, WaterInIt, WaxyOnSkin,
};
use crate::behaviour::Preset;

/// How many of [`SPOKEN`], from the first, tell a sign whatever else is said.
const CLEAR: usize = 14;

/// Each row: the sign that the words tell plainly, the one that they tell where they are denied ("never gets
/// hard"), and the words themselves, with `|` between. A space stands for the edge of a word. The first row
/// whose words occur counts. After the clear words come those that tell a sign only where no other such word
/// tells another kind of trouble.
const SPOKEN: &[(Option<Sign>, Option<Sign>, &str)] = &[
    (None, None, " hard to say"),
    // Who is harmed comes first.
    (
        Some(HarmsSkin),
        None,
        " rash| itch| stings| stung| hives| allerg| swell| swollen| redness| red skin| burned my| burnt my| burns my| burn on",
    ),
    // What is spoiled is not mended by what melts.
    (
        Some(SmellsOff),
        None,
        " rancid| stink| smells off| smells bad| smells odd| smells wrong| smells old| bad smell| off smell| gone off | went off | sour | mould| mold ",
    ),
    (
        Some(WaterInIt),
        None,
        " water drop| drops of water| droplets of water| beads of water| water on | water in | condens| damp ",
    ),
    (Some(OilPool), None, " pool| puddle"),
    (Some(SeparatedLayers), None, " layers "),
    (Some(OilPool), None, " oily layer| oil layer| layer of oil| oil on top| oil on the top| oily on top"),
    (Some(OilPool), None, " beads of oil| drops of oil| droplets| in oil | in the oil | leak| weep| seep"),
    // A foam needs as much structure to hold its air as a butter to hold its oil (`Format::least_percent`).
    (Some(OilPool), None, " deflat| collaps| lost its air "),
    (Some(Grainy), None, " grain| grit| sandy| hard lump| bloom| white spot| white dot"),
    (Some(SeparatedLayers), None, " layer | separat| split"),
    (Some(SoftTop), None, " sweat| wet | greasy top| soft top| soft on top| soft on the top| melted on top"),
    (
        Some(WaxyOnSkin),
        None,
        " wax film| waxy| drag| tacky| sticky| film on| leaves a film| left a film| sits on | stays on the skin| stays on skin| stays on my skin",
    ),
    (
        Some(GreasyOnSkin),
        None,
        " greas| oily on | oily feel| feels oily| feel oily| too oily| oily skin| slick",
    ),
    (Some(TurnsToOil), None, " liquid| melted | to oil | all oil | runny | soup"),
    (None, Some(TurnsToOil), " set | sets | setting | solid"),
    (Some(SoftTop), Some(TooHardInTheCold), " soft"),
    (Some(TooHardInTheCold), Some(SoftTop), " hard | harder | harden| stiff"),
    (None, Some(SoftTop), " firm "),
    (Some(TooHardInTheCold), None, " crumbl| crack| brittle "),
    (None, Some(TooHardInTheCold), " scoop| spread"),
    (Some(Grainy), None, " lump| bead"),
    (
        None,
        Some(WaxyOnSkin),
        " melts on | melt on | melts in | melts away| absorb| sinks in| sink in| rubs in| rub in",
    ),
    (Some(SmellsOff), None, " smell| odour| odor"),
];

/// Words that deny what follows, apostrophes left out.
const DENIALS: &str =
    " not no never wont dont doesnt didnt isnt wasnt cant cannot hasnt hardly barely without refuses";

/// How many words a denial reaches: "never gets really hard".
const REACH: usize = 3;

/// The sign that a maker's words speak of; `None` where they name none, or such as contradict each other.
pub fn sign_in(words: &str) -> Option<Sign> {
    let words = plain(words);
    let (mut clear, mut first, mut torn, mut denied) = (CLEAR, None, false, 0);
    // Byte by byte: the library's search for a text in a text is much code for a few words.
    for at in (0..words.len()).filter(|at| words[*at] == b' ') {
        let rest = &words[at..];
        for (row, &(plainly, not, any)) in SPOKEN.iter().enumerate() {
            if !any.split('|').any(|word| rest.starts_with(word.as_bytes())) {
                continue;
            }
            if row < CLEAR {
                clear = if denied == 0 { clear.min(row) } else { clear };
            } else if let Some(sign) = if denied == 0 { plainly } else { not } {
                let (of, other) = first.unwrap_or((row, sign));
                torn |= kind(other) != kind(sign);
                first = Some(if row < of { (row, sign) } else { (of, other) });
            }
        }
        let end = rest[1..].iter().position(|letter| *letter == b' ').unwrap_or(0);
        denied = match &rest[1..=end] {
            b"." | b"but" | b"and" => 0,
            word if DENIALS.split(' ').any(|denial| denial.as_bytes() == word) => REACH,
            _ => denied.max(1) - 1,
        };
    }
    if clear < CLEAR {
        return SPOKEN[clear].0;
    }
    first.filter(|_| !torn).map(|(_, sign)| sign)
}

/// Words for the ways that a parcel takes; the first row whose words occur counts.
const WAYS: &[(Preset, &str)] = &[
    (Preset::Dashboard, " dashboard"),
    (Preset::DeliveryVan, " van | courier| delivery| lorry| truck"),
    (Preset::SeaContainer, " sea container| shipping container| by sea "),
    (Preset::Mailbox, " mailbox| letterbox| parcel| post | postal| mail | shipping| shipped"),
    (Preset::ParkedCarShade, " car in the shade| parked in the shade"),
    (Preset::ParkedCarSun, " car | boot of"),
];

/// The way that a maker's words say a butter was on.
pub fn way_in(words: &str) -> Option<Preset> {
    let words = plain(words);
    let said = |any: &str| {
        let mut starts = (0..words.len()).filter(|at| words[*at] == b' ');
        starts.any(|at| any.split('|').any(|word| words[at..].starts_with(word.as_bytes())))
    };
    WAYS.iter().find(|(_, any)| said(any)).map(|(way, _)| *way)
}

/// Too soft is of one kind, however soft.
fn kind(sign: Sign) -> Sign {
    if sign == TurnsToOil { SoftTop } else { sign }
}

/// Small letters, a space around each word, a full stop for whatever parts two clauses.
fn plain(words: &str) -> Vec<u8> {
    let mut plain = vec![b' '];
    for letter in words.chars() {
        match letter {
            '\'' | '’' | '‘' | 'ʼ' | '´' | '`' => continue,
            letter if letter.is_ascii_alphanumeric() => plain.push(letter.to_ascii_lowercase() as u8),
            '.' | ',' | ';' | ':' | '!' | '?' | '(' | ')' | '–' | '—' => plain.extend(b" . "),
            _ if plain.last() == Some(&b' ') => {}
            _ => plain.push(b' '),
        }
    }
    plain.push(b' ');
    plain
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
        ("it drags on skin", Some(WaxyOnSkin)),
        ("draggy", Some(WaxyOnSkin)),
        ("too waxy", Some(WaxyOnSkin)),
        ("waxy and hard", Some(WaxyOnSkin)),
        ("sticky, leaves a film", Some(WaxyOnSkin)),
        ("hardly melts on skin", Some(WaxyOnSkin)),
        ("it doesn't sink in", Some(WaxyOnSkin)),
        ("not waxy, but grainy", Some(Grainy)),
        ("greasy", Some(GreasyOnSkin)),
        ("soft and greasy", Some(GreasyOnSkin)),
        ("it feels oily", Some(GreasyOnSkin)),
        ("greasy top", Some(SoftTop)),
        ("smells off", Some(SmellsOff)),
        ("a customer got a rash and it is grainy", Some(HarmsSkin)),
        ("it burned my hand", Some(HarmsSkin)),
        ("water drops under the lid", Some(WaterInIt)),
        ("mould on top", Some(SmellsOff)),
        ("it smells", Some(SmellsOff)),
        ("rancid and grainy", Some(SmellsOff)),
        ("grainy, smells fine", Some(Grainy)),
        // What these mean is to be asked.
        ("hard in winter, runny in summer", None),
        ("hard to say what happened", None),
        ("no grains, no layers", None),
        ("I was reset by the weather", None),
        ("", None),
        ("’’’ … 🧈", None),
    ];

    #[test]
    fn ways_are_understood() {
        for (words, way) in [
            ("melted in a hot van", Some(Preset::DeliveryVan)),
            ("it went soft in the post.", Some(Preset::Mailbox)),
            ("Left in the car, all oil", Some(Preset::ParkedCarSun)),
            ("in the car in the shade", Some(Preset::ParkedCarShade)),
            ("the carton got wet", None),
            ("grainy", None),
        ] {
            assert_eq!(way_in(words), way, "{words}");
        }
    }

    #[test]
    fn words_are_understood() {
        for (words, sign) in SAID {
            assert_eq!(sign_in(words), *sign, "{words}");
        }
    }
}
