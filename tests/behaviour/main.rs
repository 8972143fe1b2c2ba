//! How it feels and how it fares, by the public contract.

mod ask;
mod batch;
mod climate;
mod expose;
mod properties;
mod symptom;
mod wax;
