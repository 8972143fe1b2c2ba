//! Writes an answer as a value.

use serde_json::{Map, Number, Value};

use crate::ordered::Ordered;

/// What a part of an answer is written as.
pub(in crate::contract) trait Write {
    /// As a value.
    fn write(&self) -> Value;
}

pub(in crate::contract) fn text(text: &str) -> Value {
    Value::String(text.to_owned())
}

/// An object as far as it is written.
#[derive(Default)]
pub(in crate::contract) struct Fields(Map<String, Value>);

impl Fields {
    pub(in crate::contract) fn put(&mut self, name: &str, value: &dyn Write) {
        self.0.insert(name.to_owned(), value.write());
    }

    /// Unless it is `None` or empty.
    pub(in crate::contract) fn put_given(&mut self, name: &str, value: &dyn Write) {
        match value.write() {
            Value::Null => {}
            Value::Array(list) if list.is_empty() => {}
            value => {
                self.0.insert(name.to_owned(), value);
            }
        }
    }

    /// The fields of a form, among the others.
    pub(in crate::contract) fn put_inline(&mut self, form: &dyn Write) {
        if let Value::Object(fields) = form.write() {
            for (name, value) in fields {
                self.0.insert(name, value);
            }
        }
    }

    pub(in crate::contract) fn end(self) -> Value {
        Value::Object(self.0)
    }
}

/// Written alike.
macro_rules! numbers {
    ($($number:ty)*) => { $(
        impl Write for $number {
            fn write(&self) -> Value {
                Value::Number((*self).into())
            }
        }
    )* };
}

numbers! { i32 i64 u32 u64 usize }

/// `null` where it is not finite, since JSON has no such number.
impl Write for f64 {
    fn write(&self) -> Value {
        Number::from_f64(*self).map_or(Value::Null, Value::Number)
    }
}

impl Write for bool {
    fn write(&self) -> Value {
        Value::Bool(*self)
    }
}

impl Write for String {
    fn write(&self) -> Value {
        text(self)
    }
}

impl Write for &str {
    fn write(&self) -> Value {
        text(self)
    }
}

impl<T: Write> Write for Option<T> {
    fn write(&self) -> Value {
        self.as_ref().map_or(Value::Null, T::write)
    }
}

impl<T: Write> Write for &[T] {
    fn write(&self) -> Value {
        list(self.len(), &|at| self[at].write())
    }
}

impl<T: Write> Write for Vec<T> {
    fn write(&self) -> Value {
        list(self.len(), &|at| self[at].write())
    }
}

fn list(length: usize, element: &dyn Fn(usize) -> Value) -> Value {
    Value::Array((0..length).map(element).collect())
}

impl<A: Write, B: Write> Write for (A, B) {
    fn write(&self) -> Value {
        Value::Array(vec![self.0.write(), self.1.write()])
    }
}

impl<T: Write> Write for Ordered<String, T> {
    fn write(&self) -> Value {
        let mut fields = Fields::default();
        for (name, value) in self {
            fields.put(name, value);
        }
        fields.end()
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::contract::{ErrorKind, wire::writes};

    struct Inner {
        rest: Option<f64>,
        word: ErrorKind,
        kept: f64,
    }

    writes! { Inner { rest, word } without { kept } }

    struct Form {
        text: &'static str,
        absent: Option<f64>,
        empty: Vec<f64>,
        present: Option<bool>,
        pairs: Vec<(f64, u32)>,
        by_name: Ordered<String, i64>,
        not_finite: f64,
        inner: Inner,
    }

    writes! {
        Form { text, pairs, by_name, not_finite } if given { absent, empty, present } inline { inner }
    }

    #[test]
    fn an_answer_is_written_as_its_form_says() {
        let form = Form {
            text: "a \"b\"",
            absent: None,
            empty: Vec::new(),
            present: Some(false),
            pairs: vec![(0.1, 1), (20.0, u32::MAX)],
            by_name: [("x".to_owned(), -1), ("a".to_owned(), 2)].into(),
            not_finite: f64::NAN,
            inner: Inner { rest: None, word: ErrorKind::BadLink, kept: 1.0 },
        };
        let expected = json!({
            "text": "a \"b\"", "present": false, "pairs": [[0.1, 1], [20.0, 4_294_967_295_u32]],
            "by_name": {"a": 2, "x": -1}, "not_finite": null, "rest": null, "word": "bad-link",
        });
        assert_eq!(form.write(), expected);
        assert_eq!(form.inner.kept, 1.0, "what is not told is there all the same");
    }
}
