//! Every finding that a reply can hold, listed for the check of how they are
//! said (`pkg-config/src/words.rs`).

use std::collections::BTreeMap;
use std::path::Path;

use ts_rs::{Config, TS};

use super::{BatchNote, LabelNote, LinkRemark, Remark, SeasonsFinding};
use crate::{
    behaviour::{
        Air, Firmness,
        judgement::{
            Advice, Afterwards, Cause, Caution, DabMelts, DoseNote, Feel, Journey, Miss, MissKind, NoButter,
            PackKind, PackVerdict, Packing, Reading, Remedy, Settling, Sign, SkinFeel, Step, VerdictFinding,
        },
    },
    reading::{LineProblem, TextRemark},
    rework::{AtMost, Carrier, ReworkFinding},
};

/// Of each kind, its figures.
type Kinds = BTreeMap<String, Vec<String>>;

/// The TypeScript form of a type, without what is explained in it.
fn form<T: TS>() -> String {
    let mut form = T::inline(&Config::default());
    while let Some((begin, end)) = form.find("/**").zip(form.find("*/")) {
        form.replace_range(begin..end + 2, "");
    }
    form
}

/// The names of the figures of an object.
fn figures(object: &str) -> Vec<String> {
    let names = object.trim_matches(['{', '}', ' ', ',']).split(", ").filter_map(|part| part.split_once(':'));
    names.map(|(name, _)| name.trim().to_owned()).filter(|name| !name.contains("kind")).collect()
}

/// The kinds of a type with their figures: those of a finding are objects that begin with their
/// kind, those of a word are the word.
fn kinds<T: TS>() -> Kinds {
    let variants = form::<T>();
    let kind = |variant: &str| variant.rsplit('"').nth(1).map(str::to_owned);
    variants.split(" | ").map(|it| (kind(it).expect("a kind"), figures(it))).collect()
}

/// The kinds of a form that gives all of them the same figures.
fn of_one_form<T: TS, K: TS>() -> Kinds {
    let figures = figures(&form::<T>());
    kinds::<K>().into_keys().map(|kind| (kind, figures.clone())).collect()
}

/// Every subject that something is said of, with its kinds.
fn subjects() -> BTreeMap<&'static str, Kinds> {
    [
        ("advice", kinds::<Advice>()),
        ("afterwards", kinds::<Afterwards>()),
        ("air", kinds::<Air>()),
        ("at-most", kinds::<AtMost>()),
        ("batch-note", kinds::<BatchNote>()),
        ("carrier", kinds::<Carrier>()),
        ("caution", kinds::<Caution>()),
        ("cause", kinds::<Cause>()),
        ("dab", kinds::<DabMelts>()),
        ("dose-note", kinds::<DoseNote>()),
        ("feel", kinds::<Feel>()),
        ("firmness", kinds::<Firmness>()),
        ("journey", kinds::<Journey>()),
        ("label-note", kinds::<LabelNote>()),
        ("line-problem", kinds::<LineProblem>()),
        ("link-remark", kinds::<LinkRemark>()),
        ("miss", of_one_form::<Miss, MissKind>()),
        ("no-butter", kinds::<NoButter>()),
        ("pack", of_one_form::<PackVerdict, PackKind>()),
        ("packing", kinds::<Packing>()),
        ("reading", kinds::<Reading>()),
        ("remark", kinds::<Remark>()),
        ("remedy", kinds::<Remedy>()),
        ("rework", kinds::<ReworkFinding>()),
        ("seasons", kinds::<SeasonsFinding>()),
        ("settling", kinds::<Settling>()),
        ("sign", kinds::<Sign>()),
        ("skin", kinds::<SkinFeel>()),
        ("step", kinds::<Step>()),
        ("text-remark", kinds::<TextRemark>()),
        ("verdict", kinds::<VerdictFinding>()),
    ]
    .into()
}

#[test]
fn the_list_is_that_of_the_types() {
    // A line for each kind, so that a change is a line.
    let subjects = subjects().into_iter().map(|(subject, kinds)| {
        let kinds = kinds.into_iter().map(|(kind, figures)| format!("    {kind:?}: {figures:?}"));
        format!("  {subject:?}: {{\n{}\n  }}", kinds.collect::<Vec<_>>().join(",\n"))
    });
    let list = format!("{{\n{}\n}}\n", subjects.collect::<Vec<_>>().join(",\n"));
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/words/findings.json");
    if std::env::var_os("MINT").is_some() {
        std::fs::write(&file, &list).expect("the list can be written");
    }
    let committed = std::fs::read_to_string(&file).expect("the list can be read");
    assert_eq!(
        list, committed,
        "if that is meant: MINT=1 cargo test --lib findings, and say it in www/words/en.ftl"
    );
}

#[test]
fn forms_are_read_as_they_are_declared() {
    let steps = kinds::<Step>();
    assert_eq!(steps["pour"], ["from_c", "to_c"]);
    assert!(steps["fill-cool"].is_empty());
    assert_eq!(kinds::<SkinFeel>().len(), 5);
    assert_eq!(of_one_form::<PackVerdict, PackKind>()["stains"], ["pack", "holds", "hottest_c"]);
    assert_eq!(kinds::<LabelNote>()["own-names"], ["ids"]);
}
