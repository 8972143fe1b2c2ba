//! The backward search against a plain walk over the whole grid, and as a maker asks it.

#![allow(clippy::unwrap_used, reason = "a test that cannot be set up fails")]

mod allowance;
mod asked;
mod bounds;
mod brute;
mod cannot_be;
mod caps;
mod carried;
mod first;
mod learned;
mod limits;
mod maximum;
mod proof;
mod questions;
mod scale;
mod seasons;
mod usual;
mod worked;

#[path = "../support/ask.rs"]
mod ask;
#[path = "../support/random.rs"]
mod random;

pub(crate) use random::Random;

use meltmargin::behaviour::{Firmness, Format, OnSkin, Wishes};

/// Findings that are of wishes, which one that is to be as now does not have.
pub(crate) const OF_WISHES: [&str; 4] = ["good-as-it-is", "nothing-nearer", "nearest", "holds-less-surely"];

/// A butter in a pot that should melt on skin.
pub(crate) fn pot((coldest_c, hottest_c): (f64, f64), firmness: Firmness) -> Wishes {
    Wishes {
        format: Format::Pot,
        coldest_c,
        hottest_c,
        skin_c: 32.5,
        firmness: Some(firmness),
        on_skin: Some(OnSkin::Melts),
    }
}

/// What random recipes are drawn from.
pub(crate) const MENU: [&str; 22] = [
    "cocoa-butter",
    "shea-butter",
    "mango-butter",
    "kokum-butter",
    "sal-butter",
    "illipe-butter",
    "murumuru-butter",
    "coconut-oil",
    "babassu-oil",
    "palm-oil",
    "palm-stearin",
    "olive-oil",
    "sweet-almond-oil",
    "sunflower-oil",
    "castor-oil",
    "jojoba-oil",
    "stearic-acid",
    "cetyl-alcohol",
    "glyceryl-stearate",
    "beeswax",
    "candelilla-wax",
    "hydrogenated-vegetable-oil",
];
