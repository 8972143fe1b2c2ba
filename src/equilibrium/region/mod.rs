//! Many mixtures of one blend at one temperature: their states one after another, bounds on all mixtures of a
//! region, and how a figure moves with each ingredient.

mod affine;
mod bounds;
mod gathered;
mod hull;
mod section;
mod slice;
mod slopes;
mod view;

pub use bounds::Enclosure;
pub(crate) use hull::CORNERS;
pub use section::{IsothermalSection, Weighting};
pub(crate) use slopes::Slope;
pub use view::View;
