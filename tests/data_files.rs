//! What the build refuses in the data files, and how it says so.
//!
//! Each case copies the files of `src/substances/data`, breaks one, and reads them as the build does.

#![allow(clippy::panic, clippy::unwrap_used)]

#[path = "../src/substances/build/data/mod.rs"]
#[allow(dead_code)]
mod data;

use std::{
    fs,
    path::{Path, PathBuf},
};

use data::Data;

/// A copy of the data files for one case.
struct Copy(PathBuf);

impl Copy {
    fn new(case: &str) -> Copy {
        let copy = Copy(Path::new(env!("CARGO_TARGET_TMPDIR")).join("data-files").join(case));
        let _ = fs::remove_dir_all(&copy.0);
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/substances/data");
        copy_folder(&from, &copy.0);
        copy
    }

    /// Adds rows to a file, which need not be there yet.
    fn add(self, file: &str, rows: &str) -> Copy {
        let path = self.0.join(file);
        let text = fs::read_to_string(&path).unwrap_or_default();
        fs::write(&path, text + rows + "\n").unwrap();
        self
    }

    /// Changes what stands in a file.
    #[track_caller]
    fn change(self, file: &str, from: &str, to: &str) -> Copy {
        let path = self.0.join(file);
        let text = fs::read_to_string(&path).unwrap();
        assert!(text.contains(from), "{file} has no {from:?}");
        fs::write(&path, text.replacen(from, to, 1)).unwrap();
        self
    }

    #[track_caller]
    fn expect_refusal(self, parts_of_the_message: &[&str]) {
        let Err(message) = Data::read(&self.0) else { panic!("{} is not refused", self.0.display()) };
        for part in parts_of_the_message {
            assert!(message.contains(part), "{part:?} is not in {message:?}");
        }
    }
}

fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let path = entry.unwrap().path();
        let to = to.join(path.file_name().unwrap());
        if path.is_dir() {
            copy_folder(&path, &to);
        } else {
            fs::copy(&path, &to).unwrap();
        }
    }
}

/// A row of `ingredients.csv`: an invented fat, with so much in its columns from `class` to `melting_source`.
fn ingredient(id: &str, class_to_melting_source: &str) -> String {
    format!("{id},Moonnut,Moonnut Seed Butter,{class_to_melting_source},,,,,,,,1")
}

/// An invented fat: one row in each of two files.
fn with_a_fat(case: &str, class_to_melting_source: &str) -> Copy {
    Copy::new(case)
        .add("ingredients.csv", &ingredient("moonnut-butter", class_to_melting_source))
        .add("profiles/from-memory-literature.csv", "moonnut-butter,seed,C18:1 50; C18:0 50,,,,")
}

/// `class` and nothing else.
const PLAIN: &str = "soft-butter,,,,,";

#[test]
fn an_ingredient_with_its_source_is_a_row_in_each_of_two_files() {
    let data = Data::read(&with_a_fat("two-rows", PLAIN).0).unwrap();
    let found = data.ingredients.iter().find(|one| one.row.id == "moonnut-butter").unwrap();
    assert_eq!(Vec::from_iter(&found.make_up_sources), ["from-memory-literature"]);
}

#[test]
fn a_derived_fat_has_the_corrections_of_what_it_is_made_from_but_for_its_own() {
    let copy = with_a_fat("derived", "soft-butter,palm-olein,,,,")
        .add("corrections.csv", "moonnut-butter,long-trisaturated,-1,,,fit-own-melting,points,");
    let data = Data::read(&copy.0).unwrap();
    let shifts = |id: &str| -> Vec<(data::Family, Option<f64>)> {
        let found = data.ingredients.iter().find(|one| one.row.id == id).unwrap();
        found.corrections.iter().map(|row| (row.family, row.shift_k)).collect()
    };
    let mut expected = shifts("palm-oil");
    assert_eq!(expected[0], (data::Family::LongTrisaturated, Some(-9.47)));
    expected[0].1 = Some(-1.0);
    assert_eq!(shifts("moonnut-butter"), expected);
}

#[test]
fn an_unknown_source_expect_refusal() {
    with_a_fat("source-of-a-figure", "soft-butter,,30,35,slip,moon-2031").expect_refusal(&[
        "ingredients.csv, line",
        "no source `moon-2031` in sources.csv",
        "add a row there",
    ]);
    Copy::new("source-of-a-file")
        .add("melting/moon-2031.csv", "species,form,melting_c,fusion_kj_mol,note")
        .expect_refusal(&["melting/moon-2031.csv", "no source `moon-2031`"]);
    Copy::new("source-of-a-part")
        .change("compositions/akihisa-2011.csv", "codex-cxs-325r: liquid", "moon-2031: liquid")
        .expect_refusal(&["compositions/akihisa-2011.csv, line 2", "no source `moon-2031`"]);
    Copy::new("source-of-a-fit")
        .change("corrections.csv", "fit-coconut", "fit-moonnut")
        .expect_refusal(&["corrections.csv, line", "no source `fit-moonnut`"]);
    Copy::new("doi")
        .change("sources.csv", "10.5650/jos.60.385", "https://doi.org/10.5650/jos.60.385")
        .expect_refusal(&["sources.csv, line", "a DOI begins with `10.`"]);
}

#[test]
fn rows_that_stand_twice_are_refused() {
    with_a_fat("ingredient-twice", PLAIN)
        .add("ingredients.csv", &ingredient("moonnut-butter", PLAIN))
        .expect_refusal(&["ingredient `moonnut-butter` stands already in ingredients.csv, line", "keep one"]);
    with_a_fat("make-up-twice", PLAIN)
        .add("compositions/by-definition.csv", "moonnut-butter,liquid 100,,")
        .expect_refusal(&[
            "the make-up of `moonnut-butter` stands already in compositions/by-definition.csv",
        ]);
    Copy::new("source-twice")
        .add("sources.csv", "hpe,published,The handbook once more,")
        .expect_refusal(&["source `hpe` stands already in sources.csv, line"]);
    Copy::new("species-twice")
        .add("species.csv", "stearic-acid,acid,284.48,")
        .expect_refusal(&["species `stearic-acid` stands already"]);
    Copy::new("correction-twice")
        .add("corrections.csv", "tallow,long-trisaturated,-4,,1,fit-own-melting,points,")
        .expect_refusal(&["the correction of `tallow` for LongTrisaturated stands already"]);
    Copy::new("melting-point-twice").add("melting/crc.csv", "POP,beta,37.0,,").expect_refusal(&[
        "the melting point of POP in Beta stands already in",
        "leave out the one that gives way",
    ]);
    Copy::new("part-twice")
        .change("compositions/by-definition.csv", "liquid-ester 100", "liquid-ester 50; liquid-ester 50")
        .expect_refusal(&["`liquid-ester` stands twice; add the two up"]);
}

#[test]
fn a_parent_that_is_not_there_or_a_circle_of_parents_expect_refusal() {
    with_a_fat("parent-unknown", "soft-butter,moonnut-oil,,,,")
        .expect_refusal(&["`moonnut-butter` is made from `moonnut-oil`, which is not in ingredients.csv"]);
    with_a_fat("parent-itself", "soft-butter,moonnut-butter,,,,")
        .expect_refusal(&["in a circle", "moonnut-butter, moonnut-butter"]);
    with_a_fat("parent-circle", "soft-butter,moonnut-oil,,,,")
        .add("ingredients.csv", &ingredient("moonnut-oil", "liquid-oil,moonnut-butter,,,,"))
        .expect_refusal(&["in a circle", "moonnut-butter, moonnut-oil, moonnut-butter"]);
}

#[test]
fn make_ups_that_cannot_be_are_refused() {
    let with = |case, parts: &str| {
        with_a_fat(case, PLAIN).change(
            "profiles/from-memory-literature.csv",
            "moonnut-butter,seed,C18:1 50; C18:0 50",
            &format!("moonnut-butter,seed,{parts}"),
        )
    };
    with("sum", "C18:1 50; C18:0 40").expect_refusal(&["the parts sum to 90.00, not to 100"]);
    with("acid", "C18:1 50; C17:3 50").expect_refusal(&["`C17:3` is no fatty acid that the engine knows"]);
    with("percentage", "C18:1 50; C18:0 half")
        .expect_refusal(&["`C18:0 half` is no part with its percentage"]);
    with("negative", "C18:1 150; C18:0 -50").expect_refusal(&["`C18:0 -50` is no part"]);
    Copy::new("species-of-a-part")
        .change("compositions/by-definition.csv", "liquid-ester", "liquid-estre")
        .expect_refusal(&[
            "compositions/by-definition.csv, line",
            "`liquid-estre` is neither a triglyceride nor",
        ]);
    Copy::new("no-ingredient")
        .add("compositions/by-definition.csv", "moonnut-butter,liquid 100,,")
        .expect_refusal(&["no ingredient `moonnut-butter` in ingredients.csv; add a row there"]);
    Copy::new("no-make-up")
        .add("ingredients.csv", &ingredient("moonnut-butter", PLAIN))
        .expect_refusal(&["`moonnut-butter` has no make-up"]);
    Copy::new("no-part-left")
        .change(
            "compositions/akihisa-2011.csv",
            "codex-cxs-325r: liquid",
            "codex-cxs-325r: liquid SOS SOO OOO",
        )
        .expect_refusal(&["no part is left for `akihisa-2011`"]);
}

#[test]
fn words_that_the_engine_does_not_know_are_refused() {
    with_a_fat("class", "soft-buter,,,,,").expect_refusal(&[
        "ingredients.csv, line",
        "unknown variant `soft-buter`",
        "`soft-butter`",
    ]);
    Copy::new("family").change("corrections.csv", "lauric-30", "lauric-31").expect_refusal(&[
        "corrections.csv, line 2",
        "unknown variant `lauric-31`",
        "`lauric-30`",
    ]);
    Copy::new("quantities")
        .add("corrections.csv", "tallow,own,-4,,1,fit-own-melting,slip,")
        .expect_refusal(&["`slip` in `quantities` is none of solids, points, gel-clear"]);
    with_a_fat("melting-range", "soft-butter,,35,30,slip,codex-cxs-325r")
        .expect_refusal(&["the melting range of `moonnut-butter` needs two ends, the lower first"]);
    with_a_fat("no-source", "soft-butter,,30,35,slip,")
        .expect_refusal(&["ingredients.csv, line", "a figure without its source; fill in `melting_source`"]);
    Copy::new("not-a-number")
        .change("species.csv", "284.48", "NaN")
        .expect_refusal(&["species.csv, line", "the molar mass of `stearic-acid` is no positive number"]);
}
