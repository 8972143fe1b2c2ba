//! Requests and replies as one dynamic value: the reader says where a request goes wrong.
//!
//! serde's derived code is compiled once for every type that reads or writes it. Here there is one of either, with
//! small errors and what can be shared kept out of generic code: the page's engine was 90 kB larger with
//! general-purpose ones.

mod reader;
mod writer;

pub(super) use reader::read;
pub(super) use writer::write;
