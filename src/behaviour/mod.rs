#![doc = include_str!("README.md")]

mod air;
pub mod dab;
mod exposure;
mod firmness;
pub mod heat;
pub mod judgement;
mod making;
mod melting;
mod pack;
mod parcel;
mod points;
mod profile;
mod quantity;
mod settling;
mod structure;
mod wishes;

pub use air::{Air, Course, Preset};
pub use exposure::{Exposure, SLUMPS_PERCENT};
pub use firmness::{Firmness, Format};
pub use making::{Making, MakingFrom, REST_C, WHIP_PERCENT, making};
pub use melting::{Melting, RANGE_C};
pub use pack::Pack;
pub use parcel::{Parcel, expose};
pub use points::{
    CLEAR_SOLID_PERCENT, LAST_SOLID_PERCENT, MeltingPoint, SLIP_SOLID_PERCENT, clear_point, falls_to,
    slip_point,
};
pub use profile::{MeltingProfile, grid_c};
pub use quantity::Quantity;
pub use settling::{Fresh, FreshPlace};
pub(crate) use structure::WEEPS_BELOW_PERCENT;
pub use structure::{Power, Solids};
pub use wishes::{Band, OnSkin, RUBBED_K, Where, Wish, Wishes};

/// Skin surface temperature assumed unless the maker says otherwise, °C: protruding parts and hands run 32 to
/// 34 (Bierman 1936; skin-absorption test practice is 32 ± 1, OECD 428, from memory).
pub const SKIN_C: f64 = 32.5;
