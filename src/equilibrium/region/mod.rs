//! Many mixtures of one blend at one temperature: their states one after another, bounds on all of them, and how they move.

mod bounds;
mod hull;
mod isotherm;
mod load;
mod slopes;
mod view;

pub(crate) use hull::CORNERS;
pub use isotherm::Isotherm;
pub(crate) use slopes::Slope;
pub use view::View;
