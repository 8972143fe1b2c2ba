//! Plain decimal numbers: those of the data files, of links and of pasted recipes.

/// The number that a decimal such as `-12.25` is; `None` where the text is anything else, an exponent included.
///
/// With up to 15 digits it is the nearest `f64`: whole numbers that large and their quotient with a power of ten round
/// once only. Decimals after those, and after the 18th place, are left out. (The standard library's reader gets any
/// number of digits right, with a table that weighs 9 kB in the page.)
pub(crate) fn decimal(text: &str) -> Option<f64> {
    const LAST_DIGIT: u64 = 100_000_000_000_000;
    const LAST_PLACE: u64 = 1_000_000_000_000_000_000;
    let (negative, text) = text.strip_prefix('-').map_or((false, text), |rest| (true, rest));
    let (mut digits, mut scale, mut point, mut any) = (0_u64, 1_u64, false, false);
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => {
                any = true;
                if point {
                    if digits >= LAST_DIGIT || scale >= LAST_PLACE {
                        continue;
                    }
                    scale *= 10;
                }
                digits = digits.saturating_mul(10).saturating_add(u64::from(byte - b'0'));
            }
            b'.' if !point => point = true,
            _ => return None,
        }
    }
    let size = digits as f64 / scale as f64;
    any.then_some(if negative { -size } else { size })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_as_the_standard_library_does() {
        for text in [
            "0",
            "-0",
            "0.1",
            "12.25",
            "-12.25",
            "5.",
            ".5",
            "007",
            "33.333",
            "0.00001",
            "0.123456789012345",
            "123456789012345",
            "1234567.12345678",
            "",
            ".",
            "-",
            "--1",
            "1.2.3",
            "1-",
            "abc",
            "1 ",
        ] {
            assert_eq!(decimal(text).map(f64::to_bits), text.parse().ok().map(f64::to_bits), "{text}");
        }
        for thousandths in 0..100_000 {
            let text = format!("{}", f64::from(thousandths) / 1000.0);
            assert_eq!(decimal(&text), text.parse().ok(), "{text}");
        }
    }

    #[test]
    fn what_is_no_plain_decimal_is_refused_and_many_digits_do_no_harm() {
        for text in ["1e5", "inf", "NaN", "+1", "１"] {
            assert_eq!(decimal(text), None, "{text}");
        }
        let near = |text: &str| (decimal(text).unwrap() / text.parse::<f64>().unwrap() - 1.0).abs() < 1e-14;
        assert!(near("33.333333333333336") && near("0.12345678901234567890123"));
        assert!(decimal(&"9".repeat(400)).unwrap() > 1e18);
        assert_eq!(decimal(&format!("0.{}1", "0".repeat(400))), Some(0.0));
    }
}
