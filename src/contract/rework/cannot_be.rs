//! What can be had where what is asked for cannot.

use serde::Serialize;

use super::{Proposal, ReworkRequest, problem, proposal};
use crate::{
    behaviour::{Format, Wishes},
    rework::{self as engine, AtMost, GivenUp, Problem},
};

/// What can be had instead.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS), ts(optional_fields))]
pub struct CannotBe {
    /// The most heat that can be borne with what else is wished for, as surely as was asked.
    pub at_most: AtMost,
    /// What does so; absent where nothing does, however cool it is stored.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cooler: Option<CoolerStorage>,
    /// The formats that could do what is asked, the most like the present one first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[cfg_attr(test, ts(as = "Option<Vec<FormatThatDoes>>", optional))]
    pub formats: Vec<FormatThatDoes>,
    /// Whether a maker would feel that the first proposal is nearer to what is asked than the recipe as it
    /// is.
    pub nearest_is_felt: bool,
}

impl CannotBe {
    /// Every recipe in it.
    pub(super) fn proposals(&mut self) -> impl Iterator<Item = &mut Proposal> {
        let cooler = self.cooler.iter_mut().map(|it| &mut it.proposal);
        cooler.chain(self.formats.iter_mut().map(|it| &mut it.proposal))
    }
}

/// Storage that is cool enough.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct CoolerStorage {
    /// The hottest that it may be, °C.
    pub hottest_c: f64,
    /// What cannot be had even so.
    pub given_up: Vec<GivenUp>,
    /// The recipe for it.
    pub proposal: Proposal,
}

/// A format that needs less to keep its shape.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(test, derive(ts_rs::TS))]
pub struct FormatThatDoes {
    /// Which.
    pub format: Format,
    /// The recipe for it.
    pub proposal: Proposal,
}

/// What can be had, where `nearest` is the best that there is for what is asked; `None` where it was stopped.
pub(super) fn cannot_be(
    request: &ReworkRequest,
    asked: &Problem,
    nearest: &engine::Rework,
    watch: &mut engine::Watch<'_>,
) -> Option<CannotBe> {
    let (at_most, found) = engine::holds_at_most(asked, watch)?;
    let tell = |found: &engine::AtMostFound| CoolerStorage {
        hottest_c: found.hottest_c,
        given_up: found.given_up.clone(),
        proposal: proposal(request, &found.problem, &found.proposal),
    };
    let formats = easier(asked.wishes.format).iter().filter_map(|format| {
        let wishes = Wishes { format: *format, ..asked.wishes };
        let there = problem(request, wishes).ok()?;
        let found = engine::meets_all(&there, watch)?;
        Some(FormatThatDoes { format: *format, proposal: proposal(request, &there, &found) })
    });
    let formats: Vec<FormatThatDoes> = formats.collect();
    let nearest_is_felt = engine::is_felt(asked, nearest);
    (!watch.is_stopped()).then(|| CannotBe {
        at_most,
        cooler: found.as_ref().map(tell),
        formats,
        nearest_is_felt,
    })
}

/// The formats that need less to keep their shape, the most like it first (common practice, no source).
fn easier(format: Format) -> &'static [Format] {
    match format {
        Format::Whipped => &[Format::Pot],
        Format::Bar => &[Format::Stick, Format::Pot],
        Format::Stick => &[Format::Pot],
        Format::Pot => &[],
    }
}
