//! Decimal numbers of the data files.

/// The number that a decimal such as `-12.25` is: its digits over a power of ten, which is the nearest `f64` as long as
/// there are no more than 15 digits. `None` where the text is anything else.
pub(super) fn decimal(text: &str) -> Option<f64> {
    let (negative, text) = text.strip_prefix('-').map_or((false, text), |rest| (true, rest));
    let (mut digits, mut scale, mut point, mut count) = (0_u64, 1_u64, false, 0);
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => {
                digits = 10 * digits + u64::from(byte - b'0');
                scale *= if point { 10 } else { 1 };
                count += 1;
            }
            b'.' if !point => point = true,
            _ => return None,
        }
        if count > 15 {
            return None;
        }
    }
    let size = digits as f64 / scale as f64;
    (count > 0).then_some(if negative { -size } else { size })
}
