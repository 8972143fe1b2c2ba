//! Every curve is bit for bit what was recorded in `digests.csv`; `tests/wasm` holds the browser to the same
//! file.
#![allow(clippy::panic, clippy::unwrap_used, reason = "a test that cannot be set up fails")]

mod digest;

#[test]
fn curves_are_bit_for_bit_as_recorded() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/golden/digests.csv");
    let found = digest::digests();
    if std::env::var_os("MINT").is_some() {
        std::fs::write(path, &found).unwrap();
    }
    let recorded = std::fs::read_to_string(path).unwrap();
    let lines = |text: &str| text.lines().map(str::to_owned).collect::<Vec<_>>();
    let (found, recorded) = (lines(&found), lines(&recorded));
    let moved: Vec<&String> = found.iter().filter(|line| !recorded.contains(line)).collect();
    assert!(
        moved.is_empty() && found.len() == recorded.len(),
        "{} of {} curves are not those recorded, {} are recorded; first {:?}. If the data or the physics were changed, that is \
         why: look at `MINT=1 cargo test --test published report`, then MINT=1 cargo test --test golden. If not, \
         something is no longer the same on every machine: a platform's own exp or ln, a fused multiply, or an order \
         that is not fixed",
        moved.len(),
        found.len(),
        recorded.len(),
        moved.first()
    );
}
