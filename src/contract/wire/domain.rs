//! How what the domain knows is asked for and told.

use super::{words, writes};
use crate::{
    behaviour::{
        Course, Fared, Firmness, Format, Fresh, FreshPlace, Making, Mood, OnSkin, Pack, PackVerdict, Preset,
        Regime, Sign, Trouble, Wish,
    },
    equilibrium::State,
    failure::{ErrorKind, Fault},
    substances::{Class, Rule},
};

words! { ErrorKind {
    NotJson "not-json", Malformed "malformed", UnknownQuestion "unknown-question",
    UnknownIngredient "unknown-ingredient", UnknownSpecies "unknown-species", OutOfRange "out-of-range",
    SumNotHundred "sum-not-hundred", Empty "empty", Conflict "conflict", BadLink "bad-link",
} }
words! { Pack {
    Jar "jar", GlassJar "glass-jar", Tin "tin", Tube "tube", PaperTube "paper-tube", Wrap "wrap",
} }
words! { Format { Whipped "whipped", Pot "pot", Bar "bar" } }
words! { Firmness {
    Pourable "pourable", Slack "slack", Soft "soft", Scoopable "scoopable", Firm "firm", Hard "hard",
    Snapping "snapping",
} }
words! { OnSkin { Melts "melts", Lingers "lingers", Stays "stays" } }
words! { Wish {
    HoldsAtHottest "holds-at-hottest", FirmEnoughAtHottest "firm-enough-at-hottest",
    FirmnessAtUsual "firmness-at-usual", SoftEnoughAtColdest "soft-enough-at-coldest", OnSkin "on-skin",
} }
words! { Mood { Good "good", Doubtful "doubtful", Bad "bad" } }
words! { Regime { Open "open", Closing "closing", Closed "closed" } }
words! { Sign {
    TurnsToOil "turns-to-oil", OilPool "oil-pool", SoftTop "soft-top",
    SeparatedLayers "separated-layers", Grainy "grainy", TooHardInTheCold "too-hard-in-the-cold",
} }
words! { Preset {
    ParkedCarSun "parked-car-sun", ParkedCarShade "parked-car-shade", Dashboard "dashboard",
    DeliveryVan "delivery-van", Mailbox "mailbox", SeaContainer "sea-container", WarmRoom "warm-room",
} }
words! { State { Settled "settled", Fresh "fresh" } }
words! { Rule { Seed "seed", Pulp "pulp", Random "random" } }
words! { Class {
    HardButter "hard-butter", SoftButter "soft-butter", LiquidOil "liquid-oil", FattyAcid "fatty-acid",
    FattyAlcohol "fatty-alcohol", Wax "wax", Other "other",
} }

writes! { Fault { kind, at, message } }
writes! { Fared {
    hours, air_c, surface_c, middle_c, melted_percent, slack_percent, most_melted_percent, slumps_at_h,
    lost_percent, hottest_middle_c, hottest_rind_c, poured, energy_error, steps,
} }
writes! { PackVerdict { pack, holds, words } }
writes! { Making { melt_out_c, hold_min, pour_c, whip_c, demould_c, hurry_c, steps, cautions } }
writes! { Trouble { sign, cause, remedies } }
writes! { Course { points, words, source } }
writes! { Fresh { coldest, usual, hottest, skin, slip_c, remark } }
writes! { FreshPlace { at_c, solid_percent, structure_percent, firmness, firms_by_percent } }
