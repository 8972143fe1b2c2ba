//! How surely a butter is to hold.

use serde::{Deserialize, Serialize};

use crate::behaviour::judgement::{EVEN, LIKELY, SURE};

/// How surely a butter is to keep its shape at the hottest storage, if lots vary as published.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
#[cfg_attr(test, derive(ts_rs::TS))]
pub enum Surety {
    /// An even chance.
    Even,
    /// 3 batches in 4.
    #[default]
    Likely,
    /// 9 batches in 10.
    Sure,
}

impl Surety {
    /// All, the least sure first.
    pub const ALL: [Surety; 3] = [Surety::Even, Surety::Likely, Surety::Sure];

    /// The odds that it asks for.
    pub fn odds(self) -> f64 {
        match self {
            Surety::Even => EVEN,
            Surety::Likely => LIKELY,
            Surety::Sure => SURE,
        }
    }
}
