//! Curves boiled down to a digest each, the same natively and in a browser.

use meltmargin::{
    behaviour::{clear_point, slip_point},
    equilibrium::{CrystalState, Sweep},
    recipe::{Line, Recipe},
    substances,
};

/// Recipes of our own invention, beside every ingredient by itself.
const RECIPES: [(&str, &[(&str, f64)]); 5] = [
    ("whipped shea and oil", &[("shea-butter", 70.0), ("sweet-almond-oil", 25.0), ("beeswax", 5.0)]),
    (
        "cocoa bar",
        &[("cocoa-butter", 60.0), ("mango-butter", 20.0), ("jojoba-oil", 18.0), ("candelilla-wax", 2.0)],
    ),
    (
        "coconut pot",
        &[("coconut-oil", 60.0), ("olive-oil", 30.0), ("stearic-acid", 7.0), ("cetyl-alcohol", 3.0)],
    ),
    ("palm and palm kernel", &[("palm-oil", 50.0), ("palm-kernel-oil", 40.0), ("palm-stearin", 10.0)]),
    (
        "everything hard",
        &[
            ("kokum-butter", 20.0),
            ("sal-butter", 20.0),
            ("illipe-butter", 20.0),
            ("carnauba-wax", 10.0),
            ("rice-bran-wax", 10.0),
            ("glyceryl-stearate", 10.0),
            ("hydrogenated-vegetable-oil", 10.0),
        ],
    ),
];

/// `name,digest` of every ingredient and recipe, a line each.
pub(crate) fn digests() -> String {
    let single = substances::catalogue().iter().map(|found| (found.id(), vec![(found.id(), 100.0)]));
    let blends = RECIPES.iter().map(|(name, parts)| (*name, parts.to_vec()));
    single.chain(blends).map(|(name, parts)| format!("{name},{:016x}\n", digest(&parts))).collect()
}

/// Solids at 161 temperatures, slip and clear point, settled and fresh.
fn digest(parts: &[(&str, f64)]) -> u64 {
    let lines = parts
        .iter()
        .map(|(id, percent)| Line::of(substances::find(id).expect("an id of the catalogue"), *percent))
        .collect();
    let recipe = Recipe::new(lines).expect("a recipe that sums to 100");
    let mut digest = Fnv(0xcbf2_9ce4_8422_2325);
    for state in [CrystalState::Settled, CrystalState::Fresh] {
        let mixture = recipe.mixture(state);
        let mut sweep = Sweep::new(&mixture);
        for step in 0..=160 {
            digest.take(sweep.rising(-5.0 + 0.5 * f64::from(step)).solid_percent);
        }
        digest.take(slip_point(&mixture).celsius.unwrap_or(-1000.0));
        digest.take(clear_point(&mixture).celsius.unwrap_or(-1000.0));
    }
    digest.0
}

/// FNV-1a over the bits of numbers (Fowler, Noll & Vo).
struct Fnv(u64);

impl Fnv {
    fn take(&mut self, number: f64) {
        for byte in number.to_bits().to_le_bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
}
