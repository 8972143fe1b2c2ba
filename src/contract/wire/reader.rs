//! Reads a value as a form; what is wrong is named with its place, such as `recipe[1].id`.

use serde_json::Value;

use crate::{
    failure::{Failure, nearest},
    ordered::Ordered,
};

/// What a part of a request can be read as.
///
/// A form is read into a blank one, and the first fault is kept by the [`Reader`]: so no field has a way out of its own.
pub(in crate::contract) trait Read {
    /// What stands there until it is read.
    fn blank() -> Self
    where
        Self: Sized;

    /// Takes the reader's value.
    fn read(&mut self, from: &mut Reader<'_>);
}

/// Reads the whole value as far as the form goes; what else it holds is left alone.
pub(in crate::contract) fn read<T: Read>(value: &Value) -> Result<T, Failure> {
    let mut whole = T::blank();
    let mut reader = Reader { value, fault: None, known: None, strict: false, whole: true };
    whole.read(&mut reader);
    reader.end()?;
    Ok(whole)
}

/// Reads the whole value as several forms at once, each with fields of its own. A field that none of them has is refused: what is
/// misspelt must not be taken for what is left out.
pub(in crate::contract) fn read_all(value: &Value, forms: &mut [&mut dyn Read]) -> Result<(), Failure> {
    let mut reader = Reader { value, fault: None, known: None, strict: false, whole: true };
    let known: Vec<&str> = forms.iter_mut().flat_map(|form| reader.names(*form)).collect();
    reader.refuse_others(&known);
    for form in forms {
        // What is within is seen to by each form.
        reader.strict = true;
        reader.whole = true;
        form.read(&mut reader);
    }
    reader.end()
}

/// One value of the request, and the first fault that was found.
pub(in crate::contract) struct Reader<'a> {
    value: &'a Value,
    fault: Option<Fault>,
    /// The fields of a form, while only they are asked for.
    known: Option<Vec<&'static str>>,
    /// Whether fields that a form does not have are refused.
    strict: bool,
    /// Whether this is the whole request, of which several forms are read.
    whole: bool,
}

/// Why a value cannot be read, and where.
struct Fault {
    at: String,
    message: String,
}

impl<'a> Reader<'a> {
    /// Begins a form, by its name.
    pub(in crate::contract) fn form(&mut self, name: &str, form: &mut dyn Read) {
        if self.known.is_some() {
            return;
        }
        if !self.value.is_object() {
            self.wrong_type(&format!("struct {name}"));
        }
        if self.strict && !std::mem::take(&mut self.whole) {
            let known = self.names(form);
            self.refuse_others(&known);
        }
    }

    /// Reads a field that must be there.
    pub(in crate::contract) fn must(&mut self, field: &'static str, into: &mut dyn Read) {
        if !self.asked(field) && !self.field(field, into) {
            self.fault(format!("missing field `{field}`"));
        }
    }

    /// Reads a field that may be left out.
    pub(in crate::contract) fn may(&mut self, field: &'static str, into: &mut dyn Read) {
        if !self.asked(field) {
            self.field(field, into);
        }
    }

    /// The names of a form's fields.
    fn names(&mut self, form: &mut dyn Read) -> Vec<&'static str> {
        self.known = Some(Vec::new());
        form.read(self);
        self.known.take().unwrap_or_default()
    }

    /// Whether only the names of fields are asked for; then this is one.
    fn asked(&mut self, field: &'static str) -> bool {
        self.known.as_mut().map(|known| known.push(field)).is_some()
    }

    /// Refuses what has another name than these.
    fn refuse_others(&mut self, known: &[&str]) {
        let other =
            self.value.as_object().and_then(|all| all.keys().find(|key| !known.contains(&key.as_str())));
        if let (Some(other), None) = (other, &self.fault) {
            let message = match nearest(other, &mut known.iter().copied()) {
                Some(near) => format!("there is no such field; did you mean `{near}`?"),
                None => format!("there is no such field here, but {}", known.join(", ")),
            };
            self.fault = Some(Fault { at: other.clone(), message });
        }
    }

    fn end(self) -> Result<(), Failure> {
        self.fault.map_or(Ok(()), |fault| Err(Failure::malformed(fault.at, fault.message)))
    }

    /// Which of these words it is.
    pub(in crate::contract) fn word(&mut self, words: &[&str]) -> Option<usize> {
        let Value::String(word) = self.value else {
            self.wrong_type("string");
            return None;
        };
        let choice = words.iter().position(|known| known == word);
        if choice.is_none() {
            let known: Vec<String> = words.iter().map(|known| format!("`{known}`")).collect();
            self.fault(format!("unknown variant `{word}`, expected one of {}", known.join(", ")));
        }
        choice
    }

    /// Whether the field is there.
    fn field(&mut self, field: &str, into: &mut dyn Read) -> bool {
        match self.value.get(field) {
            Some(value) => {
                self.part(value, into, &|at| {
                    if !at.is_empty() && !at.starts_with('[') {
                        at.insert(0, '.');
                    }
                    at.insert_str(0, field);
                });
                true
            }
            None => false,
        }
    }

    /// The elements of a list.
    fn list(&mut self, expected: &str) -> &'a [Value] {
        match self.value {
            Value::Array(list) => list,
            _ => {
                self.wrong_type(expected);
                &[]
            }
        }
    }

    fn element(&mut self, index: usize, value: &'a Value, into: &mut dyn Read) {
        self.part(value, into, &|at| {
            if !at.is_empty() && !at.starts_with('[') {
                at.insert(0, '.');
            }
            at.insert_str(0, &format!("[{index}]"));
        });
    }

    /// Reads a part of this value; `place` puts before the place of a fault where the part is.
    fn part(&mut self, value: &'a Value, into: &mut dyn Read, place: &dyn Fn(&mut String)) {
        if self.fault.is_some() {
            return;
        }
        let whole = std::mem::replace(&mut self.value, value);
        into.read(self);
        self.value = whole;
        if let Some(fault) = &mut self.fault {
            place(&mut fault.at);
        }
    }

    #[cold]
    fn fault(&mut self, message: String) {
        self.fault.get_or_insert(Fault { at: String::new(), message });
    }

    #[cold]
    fn wrong_type(&mut self, expected: &str) {
        let found = match self.value {
            Value::Null => "null".to_owned(),
            Value::Bool(value) => format!("boolean `{value}`"),
            Value::Number(number) => match (number.as_i64(), number.as_f64()) {
                (None, Some(value)) => format!("floating point `{value}`"),
                (whole, _) => format!("integer `{}`", whole.unwrap_or(i64::MAX)),
            },
            Value::String(text) => format!("string \"{text}\""),
            Value::Array(_) => "sequence".to_owned(),
            Value::Object(_) => "map".to_owned(),
        };
        self.fault(format!("invalid type: {found}, expected {expected}"));
    }
}

impl Read for f64 {
    fn blank() -> Self {
        0.0
    }

    fn read(&mut self, from: &mut Reader<'_>) {
        match from.value.as_f64() {
            Some(value) => *self = value,
            None => from.wrong_type("f64"),
        }
    }
}

impl Read for u32 {
    fn blank() -> Self {
        0
    }

    fn read(&mut self, from: &mut Reader<'_>) {
        let Some(value) = from.value.as_i64() else {
            return from.wrong_type("u32");
        };
        match u32::try_from(value) {
            Ok(value) => *self = value,
            Err(_) => from.fault(format!("invalid value: integer `{value}`, expected u32")),
        }
    }
}

impl Read for usize {
    fn blank() -> Self {
        0
    }

    /// Up to what 32 bits hold, so that every machine refuses the same.
    fn read(&mut self, from: &mut Reader<'_>) {
        let mut value = u32::blank();
        value.read(from);
        *self = value as usize;
    }
}

impl Read for bool {
    fn blank() -> Self {
        false
    }

    fn read(&mut self, from: &mut Reader<'_>) {
        match from.value {
            Value::Bool(value) => *self = *value,
            _ => from.wrong_type("a boolean"),
        }
    }
}

impl Read for String {
    fn blank() -> Self {
        String::new()
    }

    fn read(&mut self, from: &mut Reader<'_>) {
        match from.value {
            Value::String(text) => self.clone_from(text),
            _ => from.wrong_type("a string"),
        }
    }
}

/// `null` is nothing.
impl<T: Read> Read for Option<T> {
    fn blank() -> Self {
        None
    }

    fn read(&mut self, from: &mut Reader<'_>) {
        if from.value.is_null() {
            *self = None;
        } else {
            self.insert(T::blank()).read(from);
        }
    }
}

impl<T: Read> Read for Vec<T> {
    fn blank() -> Self {
        Vec::new()
    }

    fn read(&mut self, from: &mut Reader<'_>) {
        self.clear();
        for (index, value) in from.list("a sequence").iter().enumerate() {
            let mut element = T::blank();
            from.element(index, value, &mut element);
            self.push(element);
        }
    }
}

impl<A: Read, B: Read> Read for (A, B) {
    fn blank() -> Self {
        (A::blank(), B::blank())
    }

    fn read(&mut self, from: &mut Reader<'_>) {
        const PAIR: &str = "a tuple of size 2";
        match from.list(PAIR) {
            [first, second] => {
                from.element(0, first, &mut self.0);
                from.element(1, second, &mut self.1);
            }
            other => from.fault(format!("invalid length {}, expected {PAIR}", other.len())),
        }
    }
}

impl<T: Read> Read for Ordered<String, T> {
    fn blank() -> Self {
        Ordered::new()
    }

    fn read(&mut self, from: &mut Reader<'_>) {
        self.clear();
        let Value::Object(entries) = from.value else {
            return from.wrong_type("a map");
        };
        for name in entries.keys() {
            let mut value = T::blank();
            from.field(name, &mut value);
            self.insert(name.clone(), value);
        }
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::contract::{Item, wire::reads};

    #[derive(Debug, PartialEq)]
    struct Form {
        recipe: Vec<Item>,
        points: Vec<(f64, f64)>,
        count: Option<u32>,
        on: bool,
        bounds: Ordered<String, (f64, f64)>,
    }

    reads! { Form { recipe, points = Vec::new(), count = None, on = true, bounds = Ordered::new() } }

    #[test]
    fn what_is_left_out_is_what_the_form_says() {
        let form: Form = read(&json!({"recipe": [], "x": [1, {}]})).unwrap();
        let expected =
            Form { recipe: Vec::new(), points: Vec::new(), count: None, on: true, bounds: Ordered::new() };
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
            (json!({}), "", "missing field `recipe`"),
            (json!(null), "", "invalid type: null, expected struct Form"),
            (json!([[]]), "", "invalid type: sequence, expected struct Form"),
            (json!({"recipe": 1}), "recipe", "invalid type: integer `1`, expected a sequence"),
            (json!({"recipe": [{"percent": 1}, {"id": "x"}]}), "recipe[1]", "missing field `percent`"),
            (
                json!({"recipe": [{"percent": "1"}]}),
                "recipe[0].percent",
                "invalid type: string \"1\", expected f64",
            ),
            (
                json!({"recipe": [{"percent": 1, "id": 2.5}]}),
                "recipe[0].id",
                "invalid type: floating point `2.5`, expected a string",
            ),
            (
                json!({"recipe": [{"percent": 1, "spread": "lard"}]}),
                "recipe[0].spread",
                "unknown variant `lard`, expected one of `seed`, `pulp`, `random`",
            ),
            (
                json!({"recipe": [{"percent": 1, "class": {}}]}),
                "recipe[0].class",
                "invalid type: map, expected string",
            ),
            (
                json!({"recipe": [{"percent": 1, "composition": {"SOS": []}}]}),
                "recipe[0].composition.SOS",
                "invalid type: sequence, expected f64",
            ),
            (
                json!({"recipe": [], "points": [[1, 2], [1, true]]}),
                "points[1][1]",
                "invalid type: boolean `true`, expected f64",
            ),
            (
                json!({"recipe": [], "points": [[1]]}),
                "points[0]",
                "invalid length 1, expected a tuple of size 2",
            ),
            (
                json!({"recipe": [], "count": 1.5}),
                "count",
                "invalid type: floating point `1.5`, expected u32",
            ),
            (json!({"recipe": [], "count": -1}), "count", "invalid value: integer `-1`, expected u32"),
            (
                json!({"recipe": [], "count": 4_294_967_296_u64}),
                "count",
                "invalid value: integer `4294967296`, expected u32",
            ),
            (json!({"recipe": [], "on": 1}), "on", "invalid type: integer `1`, expected a boolean"),
            (
                json!({"recipe": [], "bounds": {"a": [0, null]}}),
                "bounds.a[1]",
                "invalid type: null, expected f64",
            ),
        ];
        for (request, at, said) in refused {
            let failure = read::<Form>(&request).unwrap_err();
            assert_eq!(failure.at, at, "{request}");
            assert!(failure.message.ends_with(&format!(" cannot be read: {said}")), "{}", failure.message);
        }
    }
}
