//! A scrambled Sobol sequence: points that fill a square, or a cube of a few
//! dimensions, evenly, by integers only.

use super::normal::quantile;

/// How many dimensions there are.
const DIMENSIONS: usize = 5;

/// How many bits of a point's number count: as many points as can be told apart.
const BITS: usize = 10;

/// Of each dimension after the first, its primitive polynomial (degree, and coefficients between the first
/// and the last) and the first direction numbers: Joe and Kuo (2008), the file `new-joe-kuo-6`, from memory.
const POLYNOMIALS: [(usize, u32, [u32; 3]); DIMENSIONS - 1] =
    [(1, 0, [1, 0, 0]), (2, 1, [1, 3, 0]), (3, 1, [1, 3, 1]), (3, 2, [1, 1, 1])];

/// The direction numbers of each dimension, by bits of the point's number.
const DIRECTIONS: [[u32; BITS]; DIMENSIONS] = directions();

const fn directions() -> [[u32; BITS]; DIMENSIONS] {
    let mut all = [[0; BITS]; DIMENSIONS];
    let mut bit = 0;
    while bit < BITS {
        all[0][bit] = 1 << (31 - bit);
        bit += 1;
    }
    let mut dimension = 1;
    while dimension < DIMENSIONS {
        let (degree, coefficients, first) = POLYNOMIALS[dimension - 1];
        let mut bit = 0;
        while bit < BITS {
            all[dimension][bit] = if bit < degree {
                first[bit] << (31 - bit)
            } else {
                let mut direction = all[dimension][bit - degree] ^ (all[dimension][bit - degree] >> degree);
                let mut back = 1;
                while back < degree {
                    if (coefficients >> (degree - 1 - back)) & 1 == 1 {
                        direction ^= all[dimension][bit - back];
                    }
                    back += 1;
                }
                direction
            };
            bit += 1;
        }
        dimension += 1;
    }
    all
}

/// Scrambles an integer so that whatever of it is cut off at the end, what is left still differs where it did
/// (Owen's nested scrambling, by a hash after Laine and Karras 2011, constants of Burley 2020, from memory).
fn scrambled(x: u32, seed: u32) -> u32 {
    let mut x = x.reverse_bits();
    x ^= x.wrapping_mul(0x3d20_adea);
    x = x.wrapping_add(seed);
    x = x.wrapping_mul((seed >> 16) | 1);
    x ^= x.wrapping_mul(0x0552_6c56);
    x ^= x.wrapping_mul(0x53a2_2864);
    x.reverse_bits()
}

/// Mixes the bits of a seed, so that seeds nearby have nothing to do with each other
/// (the finaliser of MurmurHash3).
fn mixed(mut x: u32) -> u32 {
    x ^= x >> 16;
    x = x.wrapping_mul(0x85eb_ca6b);
    x ^= x >> 13;
    x = x.wrapping_mul(0xc2b2_ae35);
    x ^ (x >> 16)
}

/// The coordinate of a point, above 0 and below 1. Points of different seeds have nothing to do with each
/// other; those of one seed fill space evenly in every power of two of them from the first on.
pub(super) fn share(point: u32, dimension: usize, seed: u32) -> f64 {
    // The order of the points is scrambled too, else every seed would begin in the same corner.
    let point = scrambled(point << (32 - BITS), mixed(seed ^ 0x5bf0_3635)) >> (32 - BITS);
    let plain = (0..BITS)
        .filter(|bit| (point >> bit) & 1 == 1)
        .fold(0, |sum, bit| sum ^ DIRECTIONS[dimension % DIMENSIONS][bit]);
    let scrambled = scrambled(plain, mixed(seed.wrapping_add(mixed(dimension as u32 + 1))));
    (f64::from(scrambled) + 0.5) / 4_294_967_296.0
}

/// The same as a standard normal number.
pub(super) fn standard(point: u32, dimension: usize, seed: u32) -> f64 {
    quantile(share(point, dimension, seed))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SEEDS: [u32; 4] = [0, 1, 0xdead_beef, 77];

    #[test]
    fn each_coordinate_has_one_point_in_every_sixty_fourth() {
        for seed in SEEDS {
            for dimension in 0..DIMENSIONS {
                let mut seen = [0; 64];
                for point in 0..64 {
                    seen[(64.0 * share(point, dimension, seed)) as usize] += 1;
                }
                assert_eq!(seen, [1; 64], "{seed} {dimension}");
            }
        }
    }

    /// The first two dimensions are a net of the best kind: every box of a 64th of the
    /// square holds one of 64 points.
    #[test]
    fn the_first_two_fill_the_square() {
        for seed in SEEDS {
            for wide in 0..=6 {
                let mut seen = [0; 64];
                for point in 0..64 {
                    let across = (f64::from(1 << wide) * share(point, 0, seed)) as usize;
                    let up = (f64::from(64 >> wide) * share(point, 1, seed)) as usize;
                    seen[across * (64 >> wide) + up] += 1;
                }
                assert_eq!(seen, [1; 64], "{seed} {wide}");
            }
        }
    }

    #[test]
    fn seeds_have_nothing_to_do_with_each_other() {
        for (at, one) in SEEDS.iter().enumerate() {
            for other in &SEEDS[at + 1..] {
                let numbers = |seed: u32| (0..64).map(move |point| standard(point, 0, seed));
                let together: f64 = numbers(*one).zip(numbers(*other)).map(|(one, other)| one * other).sum();
                // Of independent numbers it is within three standard deviations, 0.375.
                assert!((together / 64.0).abs() < 0.375, "{one} {other}: {}", together / 64.0);
            }
        }
    }
}
