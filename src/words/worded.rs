//! Owns the step from a typed value to a tree that can be put into words: a serialiser that keeps the names of types.

use serde::{
    Serialize, Serializer,
    ser::{
        Impossible, SerializeSeq, SerializeStruct, SerializeStructVariant, SerializeTuple,
        SerializeTupleStruct, SerializeTupleVariant,
    },
};

/// A value on its way into words.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    /// Text as it is: names, what somebody typed.
    Text(String),
    /// A whole number.
    Whole(i64),
    /// A computed number.
    Number(f64),
    /// A decimal number as a display shows it, its point a dot.
    Decimal(String),
    /// Yes or no.
    Flag(bool),
    /// An option without a value.
    Absent,
    /// Several.
    List(Vec<Node>),
    /// Something that a message says.
    Message {
        /// The message's name in the files.
        id: String,
        /// The bare name of the variant; empty for a struct.
        is: String,
        /// Its arguments.
        fields: Vec<(String, Node)>,
    },
}

/// The tree of a value. A map, or whatever else has no place in a message, is shown as text of its fault: messages
/// hold none, and the test over all of them finds one that does.
pub fn node_of<T: Serialize + ?Sized>(value: &T) -> Node {
    value.serialize(Worder).unwrap_or_else(|fault| Node::Text(format!("[{fault}]")))
}

/// `CleanTerminal` as `clean-terminal`.
pub(super) fn kebab(name: &str) -> String {
    let mut text = String::with_capacity(name.len() + 4);
    for letter in name.chars() {
        if letter.is_uppercase() && !text.is_empty() {
            text.push('-');
        }
        text.extend(letter.to_lowercase());
    }
    text
}

fn message(name: &str, variant: &str, fields: Vec<(String, Node)>) -> Node {
    let id = if variant.is_empty() { kebab(name) } else { format!("{}-{variant}", kebab(name)) };
    Node::Message { id, is: variant.to_owned(), fields }
}

/// Why a value cannot be put into words.
#[derive(Debug, thiserror::Error)]
#[error("{0}")]
pub(super) struct NoMessage(String);

impl serde::ser::Error for NoMessage {
    fn custom<T: std::fmt::Display>(text: T) -> Self {
        Self(text.to_string())
    }
}

struct Worder;

/// Collects what stands in a list, struct or variant.
struct Parts {
    name: &'static str,
    variant: &'static str,
    fields: Vec<(String, Node)>,
}

impl Parts {
    fn new(name: &'static str, variant: &'static str) -> Self {
        Self { name, variant, fields: Vec::new() }
    }

    fn push<T: Serialize + ?Sized>(&mut self, key: &str, value: &T) -> Result<(), NoMessage> {
        self.fields.push((kebab_key(key), value.serialize(Worder)?));
        Ok(())
    }

    fn list(self) -> Node {
        Node::List(self.fields.into_iter().map(|(_, node)| node).collect())
    }

    fn message(self) -> Node {
        message(self.name, self.variant, self.fields)
    }

    fn next_key(&self) -> &'static str {
        ["first", "second", "third", "fourth", "fifth"].get(self.fields.len()).copied().unwrap_or("further")
    }
}

/// Fields are written with dashes in the files.
pub(super) fn kebab_key(key: &str) -> String {
    key.replace('_', "-")
}

macro_rules! whole {
    ($($method:ident $type:ty),*) => {$(
        fn $method(self, v: $type) -> Result<Node, NoMessage> {
            Ok(i64::try_from(v).map_or_else(|_| Node::Text(v.to_string()), Node::Whole))
        }
    )*};
}

impl Serializer for Worder {
    type Ok = Node;
    type Error = NoMessage;
    type SerializeSeq = Parts;
    type SerializeTuple = Parts;
    type SerializeTupleStruct = Parts;
    type SerializeTupleVariant = Parts;
    type SerializeMap = Impossible<Node, NoMessage>;
    type SerializeStruct = Parts;
    type SerializeStructVariant = Parts;

    whole!(
        serialize_i8 i8, serialize_i16 i16, serialize_i32 i32, serialize_i64 i64, serialize_u8 u8, serialize_u16 u16,
        serialize_u32 u32, serialize_u64 u64
    );

    fn serialize_bool(self, v: bool) -> Result<Node, NoMessage> {
        Ok(Node::Flag(v))
    }

    fn serialize_f32(self, v: f32) -> Result<Node, NoMessage> {
        Ok(Node::Number(f64::from(v)))
    }

    fn serialize_f64(self, v: f64) -> Result<Node, NoMessage> {
        Ok(Node::Number(v))
    }

    fn serialize_char(self, v: char) -> Result<Node, NoMessage> {
        Ok(Node::Text(v.to_string()))
    }

    fn serialize_str(self, v: &str) -> Result<Node, NoMessage> {
        Ok(Node::Text(v.to_owned()))
    }

    fn serialize_bytes(self, _: &[u8]) -> Result<Node, NoMessage> {
        Err(NoMessage("bytes have no words".to_owned()))
    }

    fn serialize_none(self) -> Result<Node, NoMessage> {
        Ok(Node::Absent)
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<Node, NoMessage> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<Node, NoMessage> {
        Ok(Node::Absent)
    }

    fn serialize_unit_struct(self, name: &'static str) -> Result<Node, NoMessage> {
        Ok(message(name, "", Vec::new()))
    }

    fn serialize_unit_variant(
        self,
        name: &'static str,
        _: u32,
        variant: &'static str,
    ) -> Result<Node, NoMessage> {
        Ok(message(name, variant, Vec::new()))
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        name: &'static str,
        value: &T,
    ) -> Result<Node, NoMessage> {
        Ok(match (name, value.serialize(Self)?) {
            ("Decimal", Node::Text(text)) => Node::Decimal(text),
            // Names of circuits, pins and the like are their text, numbers without a unit their number.
            (_, node @ (Node::Text(_) | Node::Message { .. } | Node::List(_))) => node,
            (_, node) => message(name, "", vec![("it".to_owned(), node)]),
        })
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        name: &'static str,
        _: u32,
        variant: &'static str,
        value: &T,
    ) -> Result<Node, NoMessage> {
        Ok(message(name, variant, vec![("it".to_owned(), value.serialize(Self)?)]))
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Parts, NoMessage> {
        Ok(Parts::new("", ""))
    }

    fn serialize_tuple(self, _: usize) -> Result<Parts, NoMessage> {
        Ok(Parts::new("", ""))
    }

    fn serialize_tuple_struct(self, name: &'static str, _: usize) -> Result<Parts, NoMessage> {
        Ok(Parts::new(name, ""))
    }

    fn serialize_tuple_variant(
        self,
        name: &'static str,
        _: u32,
        variant: &'static str,
        _: usize,
    ) -> Result<Parts, NoMessage> {
        Ok(Parts::new(name, variant))
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Self::SerializeMap, NoMessage> {
        Err(NoMessage("a map has no words".to_owned()))
    }

    fn serialize_struct(self, name: &'static str, _: usize) -> Result<Parts, NoMessage> {
        Ok(Parts::new(name, ""))
    }

    fn serialize_struct_variant(
        self,
        name: &'static str,
        _: u32,
        variant: &'static str,
        _: usize,
    ) -> Result<Parts, NoMessage> {
        Ok(Parts::new(name, variant))
    }

    fn is_human_readable(&self) -> bool {
        true
    }
}

macro_rules! unnamed {
    ($($trait:ident $method:ident $end:ident;)*) => {$(
        impl $trait for Parts {
            type Ok = Node;
            type Error = NoMessage;

            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), NoMessage> {
                let key = self.next_key();
                self.push(key, value)
            }

            fn end(self) -> Result<Node, NoMessage> {
                Ok(self.$end())
            }
        }
    )*};
}

unnamed! {
    SerializeSeq serialize_element list;
    SerializeTuple serialize_element list;
    SerializeTupleStruct serialize_field message;
    SerializeTupleVariant serialize_field message;
}

macro_rules! named {
    ($($trait:ident)*) => {$(
        impl $trait for Parts {
            type Ok = Node;
            type Error = NoMessage;

            fn serialize_field<T: Serialize + ?Sized>(&mut self, key: &'static str, value: &T) -> Result<(), NoMessage> {
                self.push(key, value)
            }

            fn end(self) -> Result<Node, NoMessage> {
                Ok(self.message())
            }
        }
    )*};
}

named! { SerializeStruct SerializeStructVariant }
