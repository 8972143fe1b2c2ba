//! JSON in which no object has a key twice. Of two values the parser would keep the last, and whoever wrote
//! both would not hear that one of them does not count.

use std::{cell::RefCell, fmt};

use serde::de::{DeserializeSeed, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};

/// Why a line was not read.
pub(super) enum Fault {
    /// It is no JSON, with what the parser says.
    NotJson(String),
    /// A key stands twice; its path.
    Twice(String),
}

/// Reads a line.
pub(super) fn value(line: &[u8]) -> Result<Value, Fault> {
    let twice = RefCell::new(None);
    let mut parser = serde_json::Deserializer::from_slice(line);
    let read = At { place: Place::Root, twice: &twice }.deserialize(&mut parser);
    match read.and_then(|value| parser.end().map(|()| value)) {
        Ok(value) => Ok(value),
        Err(error) => Err(twice.take().map_or_else(|| Fault::NotJson(error.to_string()), Fault::Twice)),
    }
}

/// Where a value stands, written out only when there is something to say of it.
#[derive(Clone, Copy)]
enum Place<'a> {
    Root,
    Key(&'a Place<'a>, &'a str),
    Number(&'a Place<'a>, usize),
}

impl fmt::Display for Place<'_> {
    fn fmt(&self, out: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Place::Root => Ok(()),
            Place::Key(Place::Root, key) => out.write_str(key),
            Place::Key(above, key) => write!(out, "{above}.{key}"),
            Place::Number(above, number) => write!(out, "{above}[{number}]"),
        }
    }
}

/// Reads the value of a place.
struct At<'a> {
    place: Place<'a>,
    twice: &'a RefCell<Option<String>>,
}

impl<'de> DeserializeSeed<'de> for At<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, parser: D) -> Result<Value, D::Error> {
        parser.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for At<'_> {
    type Value = Value;

    fn expecting(&self, out: &mut fmt::Formatter) -> fmt::Result {
        out.write_str("any JSON value")
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    /// Zero has no sign, so that none is said.
    fn visit_f64<E>(self, value: f64) -> Result<Value, E> {
        Ok((value + 0.0).into())
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut parser: A) -> Result<Value, A::Error> {
        let mut all = Vec::new();
        loop {
            let place = Place::Number(&self.place, all.len());
            match parser.next_element_seed(At { place, twice: self.twice })? {
                Some(value) => all.push(value),
                None => return Ok(Value::Array(all)),
            }
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, mut parser: A) -> Result<Value, A::Error> {
        let mut all = Map::new();
        while let Some(key) = parser.next_key::<String>()? {
            let place = Place::Key(&self.place, &key);
            if all.contains_key(&key) {
                *self.twice.borrow_mut() = Some(place.to_string());
                return Err(A::Error::custom("a key stands twice"));
            }
            let value = parser.next_value_seed(At { place, twice: self.twice })?;
            all.insert(key, value);
        }
        Ok(Value::Object(all))
    }
}
