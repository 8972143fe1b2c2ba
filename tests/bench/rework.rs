//! The backward search. `cargo bench --bench rework`; aims: 8 lines and a pantry of 20 within 60 ms, 15 and
//! 40 within 600 ms, proof included. The work is asserted in `tests/rework/proof.rs`; here it is timed.
#![allow(missing_docs, clippy::unwrap_used)]

use std::{hint::black_box, time::Duration};

use criterion::Criterion;
use meltmargin::contract::answer;

#[path = "../rework/questions.rs"]
mod questions;

fn main() {
    let mut criterion = Criterion::default()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(500))
        .measurement_time(Duration::from_secs(4))
        .configure_from_args();
    for questions::Question { name, request, lines, meets_all } in questions::questions() {
        let reply = answer(&request);
        let first = &reply["answer"]["proposals"][0];
        let changes = first["changes"].as_array().map(Vec::len);
        assert_eq!((first["meets_all"] == true, changes), (meets_all, Some(lines)), "{name}: {reply}");
        criterion.bench_function(&name, |bench| bench.iter(|| answer(black_box(&request))));
    }
    criterion.final_summary();
}
