//! JSON as it must be typed here: no key twice, and what is no finite number kept so that its field can be named.

use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};
use std::fmt;

/// The only key of the object that stands for what is no finite number; its value is the text as typed. An object,
/// because no field of any calculation could be read from it.
pub const NOT_FINITE: &str = "not a finite number";

/// Parses one JSON value and refuses a key that stands twice in one object.
pub fn parse(text: &str) -> Result<Value, serde_json::Error> {
    serde_json::from_str::<Strict>(&wrap_non_finite(text)).map(|Strict(value)| value)
}

struct Strict(Value);

impl<'de> Deserialize<'de> for Strict {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(StrictVisitor).map(Strict)
    }
}

struct StrictVisitor;

impl<'de> Visitor<'de> for StrictVisitor {
    type Value = Value;

    fn expecting(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str("a JSON value")
    }

    fn visit_unit<E: Error>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_str<E: Error>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut elements: A) -> Result<Value, A::Error> {
        let mut list = Vec::new();
        while let Some(Strict(element)) = elements.next_element()? {
            list.push(element);
        }
        Ok(Value::Array(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Value, A::Error> {
        let mut map = Map::new();
        while let Some(key) = entries.next_key::<String>()? {
            let Strict(value) = entries.next_value()?;
            if map.contains_key(&key) {
                return Err(A::Error::custom(format_args!("{key:?} stands twice in one object")));
            }
            map.insert(key, value);
        }
        Ok(Value::Object(map))
    }
}

/// Wraps NaN, Infinity and numbers too large for a double. JSON has none of them, but many programs write them, and
/// a parser that stops there could not say which field it was.
fn wrap_non_finite(text: &str) -> String {
    let mut wrapped = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = if first == '"' {
            string_length(rest)
        } else {
            let of_number = |c: char| c.is_ascii_alphanumeric() || matches!(c, '+' | '-' | '.');
            rest.find(|c| !of_number(c)).unwrap_or(rest.len()).max(first.len_utf8())
        };
        let (token, after) = rest.split_at(length);
        if token.parse::<f64>().is_ok_and(|number| !number.is_finite()) {
            wrapped.push_str(&format!(r#"{{"{NOT_FINITE}":"{token}"}}"#));
        } else {
            wrapped.push_str(token);
        }
        rest = after;
    }
    wrapped
}

/// Length in bytes of the string literal that the text starts with, or of all the text when it does not end.
fn string_length(text: &str) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    text.len()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;

    #[test]
    fn what_is_no_number_is_kept() {
        for (text, wrapped) in [
            (r#"{"a": NaN}"#, r#"{"a": {"not a finite number":"NaN"}}"#),
            (
                r#"{"a":-Infinity,"b":1e999}"#,
                r#"{"a":{"not a finite number":"-Infinity"},"b":{"not a finite number":"1e999"}}"#,
            ),
            (r#"{"NaN \" NaN": 1.5e3}"#, r#"{"NaN \" NaN": 1.5e3}"#),
            (r#"[true,false,null,"é",-0.5]"#, r#"[true,false,null,"é",-0.5]"#),
            (r#"{"a": "unended NaN"#, r#"{"a": "unended NaN"#),
        ] {
            assert_eq!(wrap_non_finite(text), wrapped);
        }
    }

    #[test]
    fn numbers_keep_every_bit() {
        let value = parse("[0.1, 5.0200000000000005, 1e-300, 18446744073709551615]").unwrap();
        assert_eq!(value.to_string(), "[0.1,5.0200000000000005,1e-300,18446744073709551615]");
    }

    #[test]
    fn a_key_twice_is_refused() {
        let error = parse(r#"{"a": {"lead": 1, "lead": 1}}"#).unwrap_err().to_string();
        assert!(error.contains("\"lead\" stands twice"), "{error}");
        assert!(parse(r#"{"a": {"lead": 1}, "lead": 1}"#).is_ok());
        assert!(parse("{} {}").is_err());
        assert!(parse(&"[".repeat(100_000)).is_err());
    }
}
