//! What the figures mean for a maker: the verdict, what to mind, what went wrong, what to do.
//!
//! Nothing is said here. A *finding* is what there is to say, as data: its kind, and the figures that a
//! sentence about it needs. How it is said stands in `www/words`, by the name of the subject and of the kind,
//! so that a kind added here is a line added there; `contract/findings.rs` lists them all. A figure's name
//! ends in its unit: `_c` for a temperature in °C, `_k` for how far two are apart, `_percent`, `_g`, `_h`,
//! `_s`; a finding within a finding goes by the name of its subject.
#![allow(missing_docs, reason = "a figure is what its name says, in the unit that its name ends in")]

mod complaint;
mod dab;
mod diagnosis;
mod feel;
mod gap;
mod hardener;
mod journey;
mod miss;
mod pack;
mod settling;
mod signs;
mod skin;
mod steps;
mod verdict;

pub use complaint::{sign_in, way_in};
pub use dab::DabMelts;
pub use diagnosis::{Cause, Diagnosis, Reading, Remedy, diagnose, readings};
pub use feel::{Feel, Felt, feels};
pub use gap::{Gap, MARGIN_K};
pub use hardener::{DoseLine, DoseNote, Dosed, MOST_WAX_PERCENT, NoButter};
pub use journey::{Advice, Afterwards, Journey, Packing};
pub use miss::{Miss, MissKind};
pub use pack::{PackKind, PackVerdict};
pub use settling::{Settling, settles};
pub use signs::{Onset, SIGNS, Sign, onset, prone_to};
pub use skin::SkinFeel;
pub use steps::{Caution, Step, cautions, steps};
pub use verdict::{EVEN, Judged, LIKELY, Mood, SURE, VerdictFinding, in_counts, verdict};
