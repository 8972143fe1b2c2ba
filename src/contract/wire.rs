//! Reads the forms of a request from the one dynamic value that both edges pass.
//!
//! A form declares its fields once, by serde's derive. What is wrong is told with its place, such as
//! `recipe[1].percent`, and a field that no form has is refused, at every depth: what is misspelt must not
//! be taken for what is left out.

use std::{fmt, iter::Enumerate, slice};

use serde::de::{
    self, DeserializeOwned, DeserializeSeed, Deserializer, Expected, IntoDeserializer, MapAccess, SeqAccess,
    Unexpected, Visitor, value::StrDeserializer,
};
use serde_json::{Value, map};

use super::Failure;
use crate::{failure::nearest, quote::quoted};

/// What becomes of a field that the form does not have.
#[derive(Clone, Copy, PartialEq)]
enum Others {
    Refused,
    LeftOut,
}

/// Reads a form from the whole request; what else that holds is left to other forms, but
/// what is within must be the form's.
pub(super) fn read<T: DeserializeOwned>(request: &Value) -> Result<T, Failure> {
    deserialize(RequestPart { value: request, here: Others::LeftOut, within: Others::Refused })
}

/// Reads a form from a value that must hold nothing else.
pub(super) fn read_alone<T: DeserializeOwned>(value: &Value) -> Result<T, Failure> {
    deserialize(RequestPart { value, here: Others::Refused, within: Others::Refused })
}

/// As [`read`], leaving out what is not known, however deep.
pub(super) fn read_what_is_known<T: DeserializeOwned>(request: &Value) -> Result<T, Failure> {
    deserialize(RequestPart { value: request, here: Others::LeftOut, within: Others::LeftOut })
}

fn deserialize<T: DeserializeOwned>(part: RequestPart<'_>) -> Result<T, Failure> {
    T::deserialize(part).map_err(Refusal::failure)
}

/// The choice that a word names, or what is wrong with it.
pub(super) fn of_word<T: DeserializeOwned>(word: &str) -> Result<T, String> {
    let word: StrDeserializer<'_, Refusal> = word.into_deserializer();
    T::deserialize(word).map_err(|refusal| refusal.0.message)
}

/// Refuses a request with a field that none of its forms has.
pub(super) fn refuse_others(request: &Value, forms: &[&[&str]]) -> Result<(), Failure> {
    let known = forms.concat();
    match request.as_object().and_then(|fields| stranger(fields.keys(), &known)) {
        Some(refusal) => Err(refusal.failure()),
        None => Ok(()),
    }
}

/// The names of a form's fields.
pub(super) fn fields<T: DeserializeOwned>() -> &'static [&'static str] {
    let mut names: &'static [&'static str] = &[];
    // It stops as soon as the names are heard.
    let _ = T::deserialize(Names(&mut names));
    names
}

/// The first name that is not known.
fn stranger<'a>(mut names: impl Iterator<Item = &'a String>, known: &[&str]) -> Option<Refusal> {
    let name = names.find(|name| !known.contains(&name.as_str()))?;
    let message = match nearest(name, &mut known.iter().copied()) {
        Some(near) => format!("there is no such field; did you mean `{near}`?"),
        None => format!("there is no such field here, but {}", known.join(", ")),
    };
    Some(Refusal::of(message).within(name))
}

/// Why a value cannot be read. Its place grows at the front, on the way out of the forms that it is in.
#[derive(Debug)]
struct Refusal(Box<Unreadable>);

#[derive(Debug)]
struct Unreadable {
    at: String,
    message: String,
}

impl Refusal {
    fn of(message: String) -> Self {
        Refusal(Box::new(Unreadable { at: String::new(), message }))
    }

    /// As told of what this is a field or, with brackets around its number, an element of.
    fn within(mut self, part: &str) -> Self {
        let inner = &self.0.at;
        let between = if inner.is_empty() || inner.starts_with('[') { "" } else { "." };
        self.0.at = [part, between, inner].concat();
        self
    }

    fn failure(self) -> Failure {
        Failure::malformed(self.0.at, &self.0.message)
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0.message)
    }
}

impl std::error::Error for Refusal {}

impl de::Error for Refusal {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Refusal::of(message.to_string())
    }

    fn invalid_type(found: Unexpected<'_>, expected: &dyn Expected) -> Self {
        let found = match found {
            Unexpected::Unit => "null".to_owned(),
            Unexpected::Bool(value) => value.to_string(),
            Unexpected::Unsigned(value) => format!("the number {value}"),
            Unexpected::Signed(value) => format!("the number {value}"),
            Unexpected::Float(value) => format!("the number {value}"),
            Unexpected::Str(text) => format!("the text \"{}\"", quoted(text)),
            Unexpected::Seq => "a list".to_owned(),
            Unexpected::Map => "an object".to_owned(),
            other => other.to_string(),
        };
        de::Error::custom(format_args!("it is {found}, where {} is needed", needed(expected)))
    }

    fn invalid_value(found: Unexpected<'_>, expected: &dyn Expected) -> Self {
        match found {
            // What is counted, and is past what can be.
            Unexpected::Unsigned(value) => de::Error::custom(format_args!("{value} is too large")),
            Unexpected::Signed(value) => {
                de::Error::custom(format_args!("it is {value}, where 0 or more is needed"))
            }
            found => de::Error::invalid_type(found, expected),
        }
    }

    fn invalid_length(length: usize, expected: &dyn Expected) -> Self {
        de::Error::custom(format_args!("it has {length} entries, where {} is needed", needed(expected)))
    }

    fn unknown_variant(word: &str, known: &'static [&'static str]) -> Self {
        let near = nearest(word, &mut known.iter().copied());
        let meant = near.map_or(String::new(), |near| format!("; did you mean `{near}`?"));
        de::Error::custom(format_args!("`{}` is none of {}{meant}", quoted(word), known.join(", ")))
    }

    fn missing_field(field: &'static str) -> Self {
        de::Error::custom(format_args!("its field `{field}` is missing"))
    }
}

/// What serde expects, as those who write JSON say it.
fn needed(expected: &dyn Expected) -> String {
    let expected = expected.to_string();
    let known = match expected.as_str() {
        "f64" => "a number",
        "u32" | "u64" | "usize" => "a whole number",
        "a string" => "a text",
        "a boolean" => "true or false",
        "a sequence" => "a list",
        "a tuple of size 2" => "a pair",
        "a map" => "an object",
        form if form.starts_with("struct ") => "an object",
        other => other,
    };
    known.to_owned()
}

/// A value within a request.
#[derive(Clone, Copy)]
struct RequestPart<'a> {
    value: &'a Value,
    /// Of this value, if it is a form.
    here: Others,
    /// Of what is in it.
    within: Others,
}

impl<'a> RequestPart<'a> {
    fn part(self, value: &'a Value) -> RequestPart<'a> {
        RequestPart { value, here: self.within, within: self.within }
    }

    fn unexpected(self) -> Unexpected<'a> {
        match self.value {
            Value::Null => Unexpected::Unit,
            Value::Bool(value) => Unexpected::Bool(*value),
            Value::Number(number) => match (number.as_u64(), number.as_i64()) {
                (Some(value), _) => Unexpected::Unsigned(value),
                (_, Some(value)) => Unexpected::Signed(value),
                _ => Unexpected::Float(number.as_f64().unwrap_or(f64::NAN)),
            },
            Value::String(text) => Unexpected::Str(text),
            Value::Array(_) => Unexpected::Seq,
            Value::Object(_) => Unexpected::Map,
        }
    }

    fn refuse<T>(self, expected: &dyn Expected) -> Result<T, Refusal> {
        Err(de::Error::invalid_type(self.unexpected(), expected))
    }
}

impl<'a> IntoDeserializer<'a, Refusal> for RequestPart<'a> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for RequestPart<'de> {
    type Error = Refusal;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        match self.value {
            Value::Null => visitor.visit_unit(),
            Value::Bool(value) => visitor.visit_bool(*value),
            Value::Number(number) => match (number.as_u64(), number.as_i64(), number.as_f64()) {
                (Some(value), ..) => visitor.visit_u64(value),
                (_, Some(value), _) => visitor.visit_i64(value),
                (.., value) => visitor.visit_f64(value.unwrap_or(f64::NAN)),
            },
            Value::String(text) => visitor.visit_borrowed_str(text),
            Value::Array(list) => visitor.visit_seq(Elements { of: self, left: list.iter().enumerate() }),
            Value::Object(fields) => {
                visitor.visit_map(Fields { of: self, known: None, left: fields.iter(), value: None })
            }
        }
    }

    /// `null` is nothing.
    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Refusal> {
        if self.value.is_null() { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, length: usize, visitor: V) -> Result<V::Value, Refusal> {
        match self.value {
            Value::Array(list) if list.len() != length => {
                Err(de::Error::invalid_length(list.len(), &visitor))
            }
            _ => self.deserialize_any(visitor),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        known: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        let Value::Object(fields) = self.value else { return self.refuse(&visitor) };
        if self.here == Others::Refused
            && let Some(refusal) = stranger(fields.keys(), known)
        {
            return Err(refusal);
        }
        visitor.visit_map(Fields { of: self, known: Some(known), left: fields.iter(), value: None })
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Refusal> {
        match self.value {
            Value::String(word) => word.as_str().into_deserializer().deserialize_enum(name, words, visitor),
            _ => self.refuse(&"a word"),
        }
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit unit_struct
        newtype_struct seq tuple_struct map identifier ignored_any
    }
}

/// What is in a list.
struct Elements<'a> {
    of: RequestPart<'a>,
    left: Enumerate<slice::Iter<'a, Value>>,
}

impl<'de> SeqAccess<'de> for Elements<'de> {
    type Error = Refusal;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, Refusal> {
        let Some((index, value)) = self.left.next() else { return Ok(None) };
        match seed.deserialize(self.of.part(value)) {
            Ok(element) => Ok(Some(element)),
            Err(refusal) => Err(refusal.within(&format!("[{index}]"))),
        }
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.left.len())
    }
}

/// What is in an object.
struct Fields<'a> {
    of: RequestPart<'a>,
    /// The names that a form has; others are passed over.
    known: Option<&'static [&'static str]>,
    left: map::Iter<'a>,
    /// What belongs to the name that was heard last.
    value: Option<(&'a str, &'a Value)>,
}

impl<'de> MapAccess<'de> for Fields<'de> {
    type Error = Refusal;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, Refusal> {
        let known = self.known;
        let mut own = self.left.by_ref().map(|(name, value)| (name.as_str(), value));
        self.value = own.find(|(name, _)| known.is_none_or(|known| known.contains(name)));
        self.value.map(|(name, _)| seed.deserialize(name.into_deserializer())).transpose()
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Refusal> {
        let Some((name, value)) = self.value.take() else {
            return Err(de::Error::custom("a value without its name"));
        };
        seed.deserialize(self.of.part(value)).map_err(|refusal| refusal.within(name))
    }
}

/// Hears the names of a form's fields.
struct Names<'n>(&'n mut &'static [&'static str]);

impl<'de> Deserializer<'de> for Names<'_> {
    type Error = de::value::Error;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Self::Error> {
        Err(de::Error::custom("not a form"))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Self::Error> {
        *self.0 = fields;
        self.deserialize_any(visitor)
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map enum identifier ignored_any
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
        count: Option<u32>,
        #[serde(default = "yes")]
        on: bool,
        #[serde(default)]
        bounds: BTreeMap<String, (f64, f64)>,
    }

    fn yes() -> bool {
        true
    }

    #[test]
    fn what_is_left_out_is_what_the_form_says() {
        let form: Form = read(&json!({"recipe": [], "x": [1, {}]})).unwrap();
        let expected =
            Form { recipe: Vec::new(), points: Vec::new(), count: None, on: true, bounds: BTreeMap::new() };
        assert_eq!(form, expected);
        assert_eq!(read::<Form>(&json!({"recipe": [], "count": null})).unwrap(), expected);
    }

    #[test]
    fn what_is_given_is_read() {
        let request = json!({
            "recipe": [{"percent": 1, "spread": "pulp", "composition": {"SOS": 100}}],
            "points": [[20, 1.5]], "count": 3, "on": false, "bounds": {"b": [1, 2], "a": [0, 5]},
        });
        let form: Form = read(&request).unwrap();
        assert_eq!((form.points, form.count, form.on), (vec![(20.0, 1.5)], Some(3), false));
        assert_eq!(form.bounds, [("a".to_owned(), (0.0, 5.0)), ("b".to_owned(), (1.0, 2.0))].into());
        let item = &form.recipe[0];
        assert_eq!((item.percent, item.spread), (1.0, Some(crate::substances::Rule::Pulp)));
        assert_eq!(item.composition, Some([("SOS".to_owned(), 100.0)].into()));
    }

    #[test]
    fn what_is_wrong_is_named_with_its_place() {
        let refused = [
            (json!({}), "", "its field `recipe` is missing"),
            (
                json!({"recipe": [{"percent": 1}, {"percnt": 1}]}),
                "recipe[1].percnt",
                "there is no such field; did you mean `percent`?",
            ),
            (json!(null), "", "it is null, where an object is needed"),
            (json!([[]]), "", "it is a list, where an object is needed"),
            (json!({"recipe": 1}), "recipe", "it is the number 1, where a list is needed"),
            (json!({"recipe": [{"percent": 1}, {"id": "x"}]}), "recipe[1]", "its field `percent` is missing"),
            (
                json!({"recipe": [{"percent": "1"}]}),
                "recipe[0].percent",
                "it is the text \"1\", where a number is needed",
            ),
            (
                json!({"recipe": [{"percent": 1, "id": 2.5}]}),
                "recipe[0].id",
                "it is the number 2.5, where a text is needed",
            ),
            (
                json!({"recipe": [{"percent": 1, "spread": "lard"}]}),
                "recipe[0].spread",
                "`lard` is none of seed, pulp, random",
            ),
            (
                json!({"recipe": [{"percent": 1, "class": {}}]}),
                "recipe[0].class",
                "it is an object, where a word is needed",
            ),
            (
                json!({"recipe": [{"percent": 1, "composition": {"SOS": []}}]}),
                "recipe[0].composition.SOS",
                "it is a list, where a number is needed",
            ),
            (
                json!({"recipe": [], "points": [[1, 2], [1, true]]}),
                "points[1][1]",
                "it is true, where a number is needed",
            ),
            (json!({"recipe": [], "points": [[1]]}), "points[0]", "it has 1 entries, where a pair is needed"),
            (
                json!({"recipe": [], "count": 1.5}),
                "count",
                "it is the number 1.5, where a whole number is needed",
            ),
            (json!({"recipe": [], "count": -1}), "count", "it is -1, where 0 or more is needed"),
            (json!({"recipe": [], "count": 4_294_967_296_u64}), "count", "4294967296 is too large"),
            (json!({"recipe": [], "on": 1}), "on", "it is the number 1, where true or false is needed"),
            (
                json!({"recipe": [], "bounds": {"a": [0, null]}}),
                "bounds.a[1]",
                "it is null, where a number is needed",
            ),
        ];
        for (request, at, said) in refused {
            let failure = read::<Form>(&request).unwrap_err();
            assert_eq!(failure.at, at, "{request}");
            assert!(failure.message.ends_with(&format!(" cannot be read: {said}")), "{}", failure.message);
        }
    }
}
