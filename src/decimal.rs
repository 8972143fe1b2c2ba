//! Plain decimal numbers: those of the data files, of links and of pasted recipes.

/// The number that a decimal such as `-12.25` is; `None` where the text is anything else: an exponent, `inf`
/// or `NaN`, which the standard library would read too. Zero has no sign, so that none is said.
pub(crate) fn decimal(text: &str) -> Option<f64> {
    let plain = text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.' || byte == b'-');
    text.parse().ok().filter(|number: &f64| plain && number.is_finite()).map(|number| number + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plain_decimal_is_read_and_nothing_else() {
        for (text, number) in
            [("0", 0.0), ("12.25", 12.25), ("-12.25", -12.25), ("5.", 5.0), (".5", 0.5), ("007", 7.0)]
        {
            assert_eq!(decimal(text), Some(number), "{text}");
        }
        for zero in ["-0", "-0.00", "0"] {
            assert!(decimal(zero).is_some_and(f64::is_sign_positive), "{zero}");
        }
        let long = "9".repeat(400);
        for text in
            ["", ".", "-", "--1", "1.2.3", "1-", "1 ", "abc", "1e5", "inf", "NaN", "+1", "１", long.as_str()]
        {
            assert_eq!(decimal(text), None, "{text}");
        }
    }
}
