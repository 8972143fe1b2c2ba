//! Reads a value as a type; what is wrong is named with its place, such as `recipe[1].id`.

use std::{fmt, slice};

use serde::de::{
    self, Deserialize, DeserializeOwned, DeserializeSeed, Deserializer, EnumAccess, Expected,
    IntoDeserializer, MapAccess, SeqAccess, Unexpected, VariantAccess, Visitor, value::StrDeserializer,
};
use serde_json::{Value, map};

use crate::failure::Failure;

/// Reads the whole value as a `T`.
pub(in crate::contract) fn read<T: DeserializeOwned>(value: &Value) -> Result<T, Failure> {
    T::deserialize(Reader(value)).map_err(|fault| Failure::malformed(fault.0.at, fault.0.message))
}

/// Why a value cannot be read, and where; boxed, for it passes through every function here.
#[derive(Debug)]
struct Fault(Box<Parts>);

#[derive(Debug)]
struct Parts {
    at: String,
    message: String,
}

impl Fault {
    #[cold]
    fn new(message: String) -> Self {
        Fault(Box::new(Parts { at: String::new(), message }))
    }

    #[cold]
    fn wrong_type(found: &Value, expected: &dyn Expected) -> Self {
        let found = match found {
            Value::Null => Unexpected::Unit,
            Value::Bool(value) => Unexpected::Bool(*value),
            Value::Number(number) => match (number.as_u64(), number.as_i64()) {
                (Some(value), _) => Unexpected::Unsigned(value),
                (None, Some(value)) => Unexpected::Signed(value),
                (None, None) => Unexpected::Float(number.as_f64().unwrap_or(f64::NAN)),
            },
            Value::String(text) => Unexpected::Str(text),
            Value::Array(_) => Unexpected::Seq,
            Value::Object(_) => Unexpected::Map,
        };
        de::Error::invalid_type(found, expected)
    }

    /// The same fault seen from what holds the value at `step`: a field's name, or `[index]`.
    #[cold]
    #[inline(never)]
    fn below(mut self, step: &str) -> Self {
        let at = &mut self.0.at;
        if !at.is_empty() && !at.starts_with('[') {
            at.insert(0, '.');
        }
        at.insert_str(0, step);
        self
    }

    #[cold]
    #[inline(never)]
    fn below_index(self, index: usize) -> Self {
        self.below(&format!("[{index}]"))
    }
}

/// What was found, in JSON's words.
#[cold]
fn words(found: Unexpected) -> String {
    match found {
        Unexpected::Unit => "null".to_owned(),
        Unexpected::Float(value) => format!("floating point `{value:?}`"),
        other => other.to_string(),
    }
}

impl de::Error for Fault {
    #[cold]
    fn custom<T: fmt::Display>(message: T) -> Self {
        Fault::new(message.to_string())
    }

    #[cold]
    fn invalid_type(found: Unexpected, expected: &dyn Expected) -> Self {
        Fault::new(format!("invalid type: {}, expected {expected}", words(found)))
    }

    #[cold]
    fn invalid_value(found: Unexpected, expected: &dyn Expected) -> Self {
        Fault::new(format!("invalid value: {}, expected {expected}", words(found)))
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.message)
    }
}

impl std::error::Error for Fault {}

/// One value of the request.
#[derive(Clone, Copy)]
struct Reader<'a>(&'a Value);

/// A whole number as what it is; the visitor says whether it fits.
macro_rules! whole {
    ($($name:ident)*) => { $(
        fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
            match self.0 {
                Value::Number(number) => match (number.as_u64(), number.as_i64()) {
                    (Some(value), _) => visitor.visit_u64(value),
                    (None, Some(value)) => visitor.visit_i64(value),
                    (None, None) => Err(Fault::wrong_type(self.0, &visitor)),
                },
                other => Err(Fault::wrong_type(other, &visitor)),
            }
        }
    )* };
}

macro_rules! text {
    ($($name:ident)*) => { $(
        fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
            match self.0 {
                Value::String(text) => visitor.visit_str(text),
                other => Err(Fault::wrong_type(other, &visitor)),
            }
        }
    )* };
}

impl<'de> Deserializer<'de> for Reader<'de> {
    type Error = Fault;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.0 {
            Value::Null => visitor.visit_unit(),
            Value::Bool(_) => self.deserialize_bool(visitor),
            Value::Number(number) if number.is_f64() => self.deserialize_f64(visitor),
            Value::Number(_) => self.deserialize_u64(visitor),
            Value::String(_) => self.deserialize_str(visitor),
            Value::Array(_) => self.deserialize_seq(visitor),
            Value::Object(_) => self.deserialize_map(visitor),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.0 {
            Value::Bool(value) => visitor.visit_bool(*value),
            other => Err(Fault::wrong_type(other, &visitor)),
        }
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.0.as_f64() {
            Some(value) => visitor.visit_f64(value),
            None => Err(Fault::wrong_type(self.0, &visitor)),
        }
    }

    fn deserialize_f32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_f64(visitor)
    }

    whole! {
        deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64
        deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64
    }

    text! {
        deserialize_char deserialize_str deserialize_string deserialize_bytes deserialize_byte_buf
        deserialize_identifier
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        if self.0.is_null() { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_unit<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        if self.0.is_null() { visitor.visit_unit() } else { Err(Fault::wrong_type(self.0, &visitor)) }
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Fault> {
        self.deserialize_unit(visitor)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Fault> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        let Value::Array(list) = self.0 else {
            return Err(Fault::wrong_type(self.0, &visitor));
        };
        let mut elements = Elements { rest: list.iter(), read: 0 };
        let sequence = visitor.visit_seq(&mut elements)?;
        match elements.rest.len() {
            0 => Ok(sequence),
            _ => Err(de::Error::invalid_length(list.len(), &"fewer elements in array")),
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Fault> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, Fault> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        match self.0 {
            Value::Object(object) => visitor.visit_map(Entries { rest: object.iter(), current: None }),
            other => Err(Fault::wrong_type(other, &visitor)),
        }
    }

    /// By names only: a list of a form's fields in their order is refused.
    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        self.deserialize_map(visitor)
    }

    /// A word, as the contract writes it, or an object with that word as its only key and `null`.
    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        visitor.visit_enum(Word::of(self.0)?)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Fault> {
        visitor.visit_unit()
    }
}

/// The elements of a list.
struct Elements<'a> {
    rest: slice::Iter<'a, Value>,
    read: usize,
}

impl<'de> SeqAccess<'de> for &mut Elements<'de> {
    type Error = Fault;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Fault> {
        let Some(value) = self.rest.next() else { return Ok(None) };
        self.read += 1;
        match seed.deserialize(Reader(value)) {
            Ok(element) => Ok(Some(element)),
            Err(fault) => Err(fault.below_index(self.read - 1)),
        }
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.rest.len())
    }
}

/// The fields of an object.
struct Entries<'a> {
    rest: map::Iter<'a>,
    current: Option<(&'a String, &'a Value)>,
}

impl<'de> MapAccess<'de> for Entries<'de> {
    type Error = Fault;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Fault> {
        self.current = self.rest.next();
        match self.current {
            Some((key, _)) => seed.deserialize(text(key)).map(Some),
            None => Ok(None),
        }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Fault> {
        // serde asks for a value after its key only.
        let Some((key, value)) = self.current else { return Err(Fault::new("no such field".to_owned())) };
        seed.deserialize(Reader(value)).map_err(|fault| fault.below(key))
    }
}

fn text(text: &str) -> StrDeserializer<'_, Fault> {
    text.into_deserializer()
}

/// The choice among an enum's words.
struct Word<'a> {
    word: &'a str,
    content: Option<&'a Value>,
}

impl<'a> Word<'a> {
    fn of(value: &'a Value) -> Result<Self, Fault> {
        match value {
            Value::String(word) => Ok(Word { word, content: None }),
            Value::Object(object) => {
                let mut entries = object.iter();
                match (entries.next(), entries.next()) {
                    (Some((word, content)), None) => Ok(Word { word, content: Some(content) }),
                    _ => Err(de::Error::invalid_value(Unexpected::Map, &"map with a single key")),
                }
            }
            other => Err(Fault::wrong_type(other, &"string or map")),
        }
    }

    fn content(self) -> (&'a str, Reader<'a>) {
        (self.word, Reader(self.content.unwrap_or(&Value::Null)))
    }
}

impl<'de> EnumAccess<'de> for Word<'de> {
    type Error = Fault;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Fault> {
        Ok((seed.deserialize(text(self.word))?, self))
    }
}

impl<'de> VariantAccess<'de> for Word<'de> {
    type Error = Fault;

    fn unit_variant(self) -> Result<(), Fault> {
        let (word, content) = self.content();
        <()>::deserialize(content).map_err(|fault| fault.below(word))
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Fault> {
        let (word, content) = self.content();
        seed.deserialize(content).map_err(|fault| fault.below(word))
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, visitor: V) -> Result<V::Value, Fault> {
        let (word, content) = self.content();
        content.deserialize_seq(visitor).map_err(|fault| fault.below(word))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Fault> {
        let (word, content) = self.content();
        content.deserialize_map(visitor).map_err(|fault| fault.below(word))
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use serde::Deserialize;
    use serde_json::json;

    use super::*;
    use crate::contract::Item;

    #[derive(Debug, PartialEq, Deserialize)]
    struct Form {
        recipe: Vec<Item>,
        #[serde(default)]
        points: Vec<(f64, f64)>,
        #[serde(default)]
        count: Option<u32>,
        #[serde(default)]
        on: bool,
        #[serde(default)]
        bounds: BTreeMap<String, (f64, f64)>,
    }

    /// serde_json's own reader is the measure: what it makes of a request, this one must.
    #[test]
    fn reads_and_refuses_as_serde_json_does_and_names_the_place() {
        let requests = [
            (json!({"recipe": [{"id": "shea-butter", "percent": 100}], "x": [1, {}]}), ""),
            (json!({"recipe": [], "points": [[20, 1.5]], "count": 3, "on": true}), ""),
            (json!({"recipe": [], "count": null, "bounds": {"a": [0, 5]}}), ""),
            (json!({"recipe": [{"percent": 1, "spread": {"seed": null}, "composition": {"SOS": 100}}]}), ""),
            (json!({}), ""),
            (json!(null), ""),
            (json!({"recipe": 1}), "recipe"),
            (json!({"recipe": [{"percent": 1}, {"id": "x"}]}), "recipe[1]"),
            (json!({"recipe": [{"percent": "1"}]}), "recipe[0].percent"),
            (json!({"recipe": [{"percent": 1, "id": 2.5}]}), "recipe[0].id"),
            (json!({"recipe": [{"percent": 1, "class": "lard"}]}), "recipe[0].class"),
            (json!({"recipe": [{"percent": 1, "class": 7}]}), "recipe[0].class"),
            (json!({"recipe": [{"percent": 1, "class": {}}]}), "recipe[0].class"),
            (json!({"recipe": [{"percent": 1, "class": {"wax": 1}}]}), "recipe[0].class.wax"),
            (json!({"recipe": [{"percent": 1, "composition": {"SOS": []}}]}), "recipe[0].composition.SOS"),
            (json!({"recipe": [], "points": [[1, 2], [1, true]]}), "points[1][1]"),
            (json!({"recipe": [], "points": [[1]]}), "points[0]"),
            (json!({"recipe": [], "points": [[1, 2, 3]]}), "points[0]"),
            (json!({"recipe": [], "count": 1.5}), "count"),
            (json!({"recipe": [], "count": -1}), "count"),
            (json!({"recipe": [], "count": 4_294_967_296_u64}), "count"),
            (json!({"recipe": [], "on": 1}), "on"),
            (json!({"recipe": [], "bounds": {"a": [0, null]}}), "bounds.a[1]"),
        ];
        for (request, at) in requests {
            match (read::<Form>(&request), Form::deserialize(&request)) {
                (Ok(ours), Ok(theirs)) => assert_eq!(ours, theirs),
                (Err(ours), Err(theirs)) => {
                    assert_eq!(ours.at, at, "{request}");
                    let said = ours.message.split_once(" cannot be read: ").map(|(_, said)| said);
                    assert_eq!(said, Some(theirs.to_string().as_str()), "{request}");
                }
                (ours, theirs) => panic!("{request}: {ours:?} but {theirs:?}"),
            }
        }
    }

    #[test]
    fn a_form_s_fields_have_names() {
        assert!(read::<Form>(&json!([[]])).is_err());
    }
}
