//! The corpus of pasted recipes (`README.md`), read by the public contract: how many are read right, asked
//! about, and wrong in silence.

#![allow(clippy::panic, clippy::unwrap_used, reason = "a test that cannot be set up fails")]

mod compare;
mod corpus;

use compare::{Outcome, outcome};

/// The files of the corpus, each a shape.
const SHAPES: [&str; 7] = ["chat", "tables", "inci", "languages", "amounts", "hostile", "people"];

#[test]
fn at_least_95_percent_right_and_none_wrong_in_silence() {
    let (mut all, mut right) = (0, 0);
    let mut silent = Vec::new();
    println!("{:<10} {:>5} {:>6} {:>6} {:>7}", "shape", "texts", "right", "asked", "silent");
    for shape in SHAPES {
        let (mut of_shape, mut asked) = ([0; 3], Vec::new());
        for text in corpus::texts(shape) {
            match outcome(&text) {
                Outcome::Right => of_shape[0] += 1,
                Outcome::AskedAbout(why) => {
                    of_shape[1] += 1;
                    asked.push(format!("  asked  {}: {why}", text.name));
                }
                Outcome::WrongInSilence(why) => {
                    of_shape[2] += 1;
                    silent.push(format!("  silent {}: {why}", text.name));
                }
            }
        }
        let texts: usize = of_shape.iter().sum();
        println!("{shape:<10} {texts:>5} {:>6} {:>6} {:>7}", of_shape[0], of_shape[1], of_shape[2]);
        println!("{}", asked.join("\n"));
        (all, right) = (all + texts, right + of_shape[0]);
    }
    println!("{right} of {all} right: {:.1} %", right as f64 / all as f64 * 100.0);
    assert!(silent.is_empty(), "{} wrong in silence:\n{}", silent.len(), silent.join("\n"));
    assert!(right * 100 >= all * 95, "{right} of {all} are read right, fewer than 95 %");
}
