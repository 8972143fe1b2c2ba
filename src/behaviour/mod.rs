//! What a maker notices: the melt curve, melting points, texture, what happens on skin, and how it fares in heat.

mod air;
mod exposure;
mod fared;
mod heard;
pub mod heat;
mod making;
mod melting;
mod pack;
mod points;
mod profile;
mod regime;
mod settling;
pub mod skin;
mod structure;
mod texture;
mod trouble;
mod verdict;
mod wishes;

pub use air::{Course, Preset};
pub use exposure::{Parcel, expose};
pub use fared::{Fared, SLUMPS_PERCENT};
pub use heard::heard;
pub use making::{Made, Making, WHIP_PERCENT, making};
pub use melting::Melting;
pub use pack::{Pack, PackVerdict};
pub use points::{
    CLEAR_SOLID_PERCENT, LAST_SOLID_PERCENT, MeltingPoint, RANGE_C, SLIP_SOLID_PERCENT, clear_point,
    falls_to, slip_point,
};
pub use profile::{Profile, grid_c};
pub use regime::{MARGIN_K, Regime, degrees};
pub use settling::{Fresh, FreshPlace, settling};
pub use structure::{Power, Solids};
pub use texture::{Firmness, Format};
pub use trouble::{SIGNS, Shows, Sign, Trouble, shows, trouble, troubles};
pub use verdict::{Findings, Mood, WAXY_PERCENT, sentence, skin_words};
pub use wishes::{Band, OnSkin, Quantity, Where, Wish, Wishes};

/// Skin surface temperature assumed unless the maker says otherwise, °C: protruding parts and hands run 32 to 34
/// (Bierman 1936; skin-absorption test practice is 32 ± 1, OECD 428, from memory).
pub const SKIN_C: f64 = 32.5;
