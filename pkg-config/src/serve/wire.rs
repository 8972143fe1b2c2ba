//! The words of the protocol: what a request asks, and a reply as it goes over the wire.

use httparse::{Header, Request};

/// Said with an answer after which nothing more is read.
pub(super) const CLOSES: (&str, &str) = ("Connection", "close");

/// Whether a request only asks for something.
pub(super) fn is_served(request: &Request<'_, '_>) -> bool {
    matches!(request.method, Some("GET" | "HEAD"))
}

/// Whether a body follows the head of a request.
pub(super) fn has_body(headers: &[Header<'_>]) -> bool {
    headers.iter().any(|header| {
        header.name.eq_ignore_ascii_case("Transfer-Encoding")
            || (header.name.eq_ignore_ascii_case("Content-Length") && header.value != b"0")
    })
}

/// A reply as it goes over the wire.
pub(super) fn reply(status: &str, headers: &[(&str, &str)], body: &[u8], head_only: bool) -> Vec<u8> {
    let mut head = format!("HTTP/1.1 {status}\r\nContent-Length: {}\r\n", body.len());
    for (name, value) in headers {
        head.extend([name, ": ", value, "\r\n"]);
    }
    head.push_str("\r\n");
    let body = if head_only { &[][..] } else { body };
    [head.as_bytes(), body].concat()
}

/// Whether a header holds this word.
pub(super) fn is(headers: &[Header<'_>], name: &str, word: &str) -> bool {
    headers.iter().any(|header| {
        header.name.eq_ignore_ascii_case(name)
            && String::from_utf8_lossy(header.value).to_ascii_lowercase().contains(word)
    })
}
