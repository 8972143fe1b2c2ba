//! What a maker waits for: `behave` (aim: 2 ms) and a day of heat (aim: 30 ms), by the public contract.

use std::hint::black_box;

use criterion::Criterion;
use meltmargin::contract::answer_json_line;

const BEHAVE: &str = r#"{"ask":"behave","recipe":[{"id":"shea-butter","percent":50},{"id":"cocoa-butter","percent":15},
    {"id":"coconut-oil","percent":15},{"id":"sweet-almond-oil","percent":17},{"id":"beeswax","percent":3}],
    "format":"whipped","storage_c":{"coldest":16,"hottest":30},"firmness":"scoopable","on_skin":"melts"}"#;
const DAY: &str = r#"{"ask":"expose","recipe":[{"id":"shea-butter","percent":60},{"id":"coconut-oil","percent":15},
    {"id":"sweet-almond-oil","percent":25}],"format":"pot","air":{"preset":"mailbox"}}"#;
const BOXED: &str = r#"{"ask":"expose","recipe":[{"id":"shea-butter","percent":60},{"id":"coconut-oil","percent":15},
    {"id":"sweet-almond-oil","percent":25}],"format":"pot","air":{"preset":"parked-car-sun"},
    "parcel":{"insulation_mm":30,"cold_pack_g":300}}"#;
const BATCH: &str = r#"{"ask":"batch","recipe":[{"id":"shea-butter","percent":60},{"id":"coconut-oil","percent":15},
    {"id":"sweet-almond-oil","percent":25}],"batch_g":1234}"#;

fn asks(criterion: &mut Criterion) {
    for (name, request) in
        [("behave", BEHAVE), ("expose a day", DAY), ("expose a day, boxed", BOXED), ("batch", BATCH)]
    {
        let line = request.replace('\n', " ");
        assert!(answer_json_line(line.as_bytes()).starts_with(r#"{"answer":"#), "{name} is refused");
        criterion.bench_function(name, |bench| bench.iter(|| answer_json_line(black_box(line.as_bytes()))));
    }
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    asks(&mut criterion);
    criterion.final_summary();
}
