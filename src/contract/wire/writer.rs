//! Writes an answer as a value.

use std::fmt;

use serde::ser::{self, Impossible, Serialize, Serializer};
use serde_json::{Map, Number, Value};

use crate::failure::Failure;

/// The value that an answer is.
pub(in crate::contract) fn write<T: Serialize>(answer: &T) -> Result<Value, Failure> {
    answer.serialize(Writer).map_err(|Unwritable| Failure::unwritable())
}

/// Something that no answer of the contract holds: a map whose keys are not text, or an enum with content.
#[derive(Debug)]
struct Unwritable;

impl ser::Error for Unwritable {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Unwritable
    }
}

impl fmt::Display for Unwritable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an answer holds what JSON cannot")
    }
}

impl std::error::Error for Unwritable {}

type Written<T> = Result<T, Unwritable>;

struct Writer;

macro_rules! whole {
    ($($name:ident $from:ty;)*) => { $(
        fn $name(self, value: $from) -> Written<Value> {
            Ok(Value::Number(value.into()))
        }
    )* };
}

impl Serializer for Writer {
    type Ok = Value;
    type Error = Unwritable;
    type SerializeSeq = Elements;
    type SerializeTuple = Elements;
    type SerializeTupleStruct = Elements;
    type SerializeTupleVariant = Impossible<Value, Unwritable>;
    type SerializeMap = Fields;
    type SerializeStruct = Fields;
    type SerializeStructVariant = Impossible<Value, Unwritable>;

    whole! {
        serialize_i8 i8; serialize_i16 i16; serialize_i32 i32; serialize_i64 i64;
        serialize_u8 u8; serialize_u16 u16; serialize_u32 u32; serialize_u64 u64;
    }

    fn serialize_bool(self, value: bool) -> Written<Value> {
        Ok(Value::Bool(value))
    }

    fn serialize_f32(self, value: f32) -> Written<Value> {
        self.serialize_f64(f64::from(value))
    }

    /// `null` where it is not finite, as JSON wants it.
    fn serialize_f64(self, value: f64) -> Written<Value> {
        Ok(Number::from_f64(value).map_or(Value::Null, Value::Number))
    }

    fn serialize_char(self, value: char) -> Written<Value> {
        Ok(Value::String(value.into()))
    }

    fn serialize_str(self, text: &str) -> Written<Value> {
        Ok(Value::String(text.to_owned()))
    }

    fn serialize_bytes(self, bytes: &[u8]) -> Written<Value> {
        Ok(Value::Array(bytes.iter().map(|byte| Value::Number((*byte).into())).collect()))
    }

    fn serialize_none(self) -> Written<Value> {
        Ok(Value::Null)
    }

    fn serialize_some<T: ?Sized + Serialize>(self, value: &T) -> Written<Value> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Written<Value> {
        Ok(Value::Null)
    }

    fn serialize_unit_struct(self, _: &'static str) -> Written<Value> {
        Ok(Value::Null)
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, word: &'static str) -> Written<Value> {
        self.serialize_str(word)
    }

    fn serialize_newtype_struct<T: ?Sized + Serialize>(self, _: &'static str, value: &T) -> Written<Value> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: ?Sized + Serialize>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: &T,
    ) -> Written<Value> {
        Err(Unwritable)
    }

    fn serialize_seq(self, length: Option<usize>) -> Written<Elements> {
        Ok(Elements(Vec::with_capacity(length.unwrap_or(0))))
    }

    fn serialize_tuple(self, length: usize) -> Written<Elements> {
        self.serialize_seq(Some(length))
    }

    fn serialize_tuple_struct(self, _: &'static str, length: usize) -> Written<Elements> {
        self.serialize_seq(Some(length))
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Written<Self::SerializeTupleVariant> {
        Err(Unwritable)
    }

    fn serialize_map(self, _: Option<usize>) -> Written<Fields> {
        Ok(Fields { object: Map::new(), key: String::new() })
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Written<Fields> {
        self.serialize_map(None)
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Written<Self::SerializeStructVariant> {
        Err(Unwritable)
    }
}

/// A list as far as it is written.
struct Elements(Vec<Value>);

impl ser::SerializeSeq for Elements {
    type Ok = Value;
    type Error = Unwritable;

    fn serialize_element<T: ?Sized + Serialize>(&mut self, value: &T) -> Written<()> {
        self.0.push(value.serialize(Writer)?);
        Ok(())
    }

    fn end(self) -> Written<Value> {
        Ok(Value::Array(self.0))
    }
}

impl ser::SerializeTuple for Elements {
    type Ok = Value;
    type Error = Unwritable;

    fn serialize_element<T: ?Sized + Serialize>(&mut self, value: &T) -> Written<()> {
        ser::SerializeSeq::serialize_element(self, value)
    }

    fn end(self) -> Written<Value> {
        ser::SerializeSeq::end(self)
    }
}

impl ser::SerializeTupleStruct for Elements {
    type Ok = Value;
    type Error = Unwritable;

    fn serialize_field<T: ?Sized + Serialize>(&mut self, value: &T) -> Written<()> {
        ser::SerializeSeq::serialize_element(self, value)
    }

    fn end(self) -> Written<Value> {
        ser::SerializeSeq::end(self)
    }
}

/// An object as far as it is written.
struct Fields {
    object: Map<String, Value>,
    /// Of the value to come, where the two are written one after the other.
    key: String,
}

impl Fields {
    #[inline(never)]
    fn insert(&mut self, key: &str, value: Value) {
        self.object.insert(key.to_owned(), value);
    }
}

impl ser::SerializeStruct for Fields {
    type Ok = Value;
    type Error = Unwritable;

    fn serialize_field<T: ?Sized + Serialize>(&mut self, key: &'static str, value: &T) -> Written<()> {
        self.insert(key, value.serialize(Writer)?);
        Ok(())
    }

    fn end(self) -> Written<Value> {
        Ok(Value::Object(self.object))
    }
}

impl ser::SerializeMap for Fields {
    type Ok = Value;
    type Error = Unwritable;

    fn serialize_key<T: ?Sized + Serialize>(&mut self, key: &T) -> Written<()> {
        match key.serialize(Writer)? {
            Value::String(key) => {
                self.key = key;
                Ok(())
            }
            _ => Err(Unwritable),
        }
    }

    fn serialize_value<T: ?Sized + Serialize>(&mut self, value: &T) -> Written<()> {
        let value = value.serialize(Writer)?;
        self.object.insert(std::mem::take(&mut self.key), value);
        Ok(())
    }

    fn end(self) -> Written<Value> {
        Ok(Value::Object(self.object))
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use serde::Serialize;

    use super::*;

    #[derive(Serialize)]
    struct Inner {
        rest: Option<f64>,
        word: crate::contract::ErrorKind,
    }

    #[derive(Serialize)]
    struct Form {
        text: &'static str,
        #[serde(skip_serializing_if = "Option::is_none")]
        absent: Option<f64>,
        pairs: Vec<(f64, u32)>,
        by_name: BTreeMap<String, i64>,
        not_finite: f64,
        #[serde(flatten)]
        inner: Inner,
    }

    /// serde_json's own writer is the measure.
    #[test]
    fn writes_as_serde_json_does() {
        let form = Form {
            text: "a \"b\"",
            absent: None,
            pairs: vec![(0.1, 1), (20.0, u32::MAX)],
            by_name: [("x".to_owned(), -1), ("a".to_owned(), 2)].into(),
            not_finite: f64::NAN,
            inner: Inner { rest: None, word: crate::contract::ErrorKind::BadLink },
        };
        assert_eq!(write(&form).unwrap(), serde_json::to_value(&form).unwrap());
    }

    #[test]
    fn keys_that_are_no_text_are_our_fault() {
        assert_eq!(write(&BTreeMap::from([(1, 2)])).unwrap_err().kind, crate::contract::ErrorKind::Internal);
    }
}
