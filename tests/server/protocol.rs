//! Whether messages are as the Language Server Protocol 3.17 has them: by its meta model, as `protocol.json` has it
//! (`protocol.py` says where from; `LICENCES.md` on what terms), and by a few sentences of its text.

use serde::Deserialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// What the messages of the protocol are made of.
pub static PROTOCOL: LazyLock<Protocol> =
    LazyLock::new(|| serde_json::from_str(include_str!("protocol.json")).unwrap());

/// The text that samples of parameters name.
pub const SAMPLE_URI: &str = "untitled:sample";

#[derive(Deserialize)]
pub struct Protocol {
    messages: BTreeMap<String, Message>,
    structures: BTreeMap<String, BTreeMap<String, Property>>,
    enumerations: BTreeMap<String, Vec<Value>>,
}

#[derive(Deserialize)]
struct Message {
    direction: String,
    params: Option<Type>,
    /// Of a request.
    result: Option<Type>,
}

#[derive(Deserialize)]
struct Property {
    #[serde(rename = "type")]
    kind: Type,
    #[serde(default)]
    optional: bool,
}

#[derive(Deserialize, Debug)]
#[serde(untagged)]
enum Type {
    Name(String),
    Made(Made),
}

#[derive(Deserialize, Debug)]
#[serde(rename_all = "lowercase")]
enum Made {
    Array(Box<Type>),
    Map(Box<Type>),
    Or(Vec<Type>),
    Tuple(Vec<Type>),
    #[serde(rename = "one of")]
    OneOf(Vec<String>),
}

/// What does not fit, and where.
type Fit = Result<(), String>;

impl Protocol {
    /// What a client may send, requests or notifications.
    pub fn of_client(&self, requests: bool) -> impl Iterator<Item = &str> {
        let ours = self.messages.iter().filter(|(_, it)| it.direction != "serverToClient");
        ours.filter(move |(_, it)| it.result.is_some() == requests).map(|(name, _)| &**name)
    }

    /// Whether a method takes a parameter of this name.
    pub fn takes(&self, method: &str, name: &str) -> bool {
        match self.messages.get(method).and_then(|it| it.params.as_ref()) {
            Some(Type::Name(kind)) => self.structures.get(kind).is_some_and(|it| it.contains_key(name)),
            _ => false,
        }
    }

    /// The names of the properties of a structure.
    pub fn properties(&self, structure: &str) -> impl Iterator<Item = &str> {
        self.structures[structure].keys().map(String::as_str)
    }

    /// Parameters for a method, as few and small as can be.
    pub fn sample_of(&self, method: &str) -> Value {
        self.messages[method].params.as_ref().map_or(Value::Null, |kind| self.sample(kind, ""))
    }

    /// A value of a type; `name` is that of the property that holds it.
    fn sample(&self, kind: &Type, name: &str) -> Value {
        match kind {
            Type::Name(kind) => match (kind.as_str(), name) {
                ("string", "uri" | "oldUri" | "newUri") => json!(SAMPLE_URI),
                ("string", _) => json!("a"),
                ("boolean", _) => json!(true),
                ("uinteger" | "integer" | "decimal", _) => json!(0),
                ("any" | "null", _) => Value::Null,
                // Where a text may have an id.
                ("Position", _) => json!({"line": 2, "character": 8}),
                ("ExecuteCommandParams", _) => {
                    json!({"command": "gridsetter.showMistakes", "arguments": [SAMPLE_URI]})
                }
                (kind, _) => match self.structures.get(kind) {
                    Some(structure) => {
                        let needed = structure.iter().filter(|(_, property)| !property.optional);
                        let all = needed.map(|(name, it)| (name.clone(), self.sample(&it.kind, name)));
                        Value::Object(all.collect())
                    }
                    None => self.enumerations[kind][0].clone(),
                },
            },
            Type::Made(Made::Array(_)) => json!([]),
            Type::Made(Made::Map(_)) => json!({}),
            Type::Made(Made::Or(kinds)) => self.sample(&kinds[0], name),
            Type::Made(Made::Tuple(kinds)) => kinds.iter().map(|kind| self.sample(kind, name)).collect(),
            Type::Made(Made::OneOf(words)) => json!(words[0]),
        }
    }

    /// Whether a request or notification is one of the protocol, from this side, with the right parameters.
    pub fn is_message(&self, from_server: bool, method: &str, params: Option<&Value>, asks: bool) -> Fit {
        let wrong_side = if from_server { "clientToServer" } else { "serverToClient" };
        let known = self.messages.get(method).filter(|it| it.direction != wrong_side);
        let Some(message) = known.filter(|it| it.result.is_some() == asks) else {
            return Err(format!("{method} is none of the protocol"));
        };
        match (&message.params, params) {
            (None, None | Some(Value::Null)) => Ok(()),
            (None, Some(_)) => Err(format!("{method} takes no parameters")),
            (Some(kind), params) => self.fits(kind, params.unwrap_or(&Value::Null), method),
        }
    }

    /// Whether that can be the result of such a request.
    pub fn is_result(&self, method: &str, result: &Value) -> Fit {
        let kind = self.messages.get(method).and_then(|it| it.result.as_ref());
        self.fits(kind.ok_or_else(|| format!("{method} has no result"))?, result, method)
    }

    /// Whether a value is of a type; `at` says where it stands.
    fn fits(&self, kind: &Type, value: &Value, at: &str) -> Fit {
        let wrong = || Err(format!("{at}: {value} is no {kind:?}"));
        let check = |holds: bool| if holds { Ok(()) } else { wrong() };
        match kind {
            Type::Name(name) => match name.as_str() {
                "any" => Ok(()),
                "null" => check(value.is_null()),
                "string" => check(value.is_string()),
                "boolean" => check(value.is_boolean()),
                "decimal" => check(value.is_number()),
                "integer" => check(value.as_i64().is_some_and(|it| i32::try_from(it).is_ok())),
                "uinteger" => check(value.as_i64().is_some_and(|it| (0..1 << 31).contains(&it))),
                name => match (self.structures.get(name), self.enumerations.get(name)) {
                    (Some(structure), _) => {
                        self.is_made_of(structure, value, at).and_then(|()| sensible(name, value, at))
                    }
                    (_, Some(values)) => check(values.contains(value)),
                    _ => Err(format!("{at}: there is no type {name}")),
                },
            },
            Type::Made(Made::Array(kind)) => match value.as_array() {
                Some(all) => {
                    all.iter().enumerate().try_for_each(|(i, it)| self.fits(kind, it, &format!("{at}[{i}]")))
                }
                None => wrong(),
            },
            Type::Made(Made::Map(kind)) => match value.as_object() {
                Some(all) => {
                    all.iter().try_for_each(|(name, it)| self.fits(kind, it, &format!("{at}.{name}")))
                }
                None => wrong(),
            },
            Type::Made(Made::Or(kinds)) => {
                let misfits: Vec<String> =
                    kinds.iter().map_while(|kind| self.fits(kind, value, at).err()).collect();
                if misfits.len() < kinds.len() { Ok(()) } else { Err(misfits.join("\n  or ")) }
            }
            Type::Made(Made::Tuple(kinds)) => match value.as_array() {
                Some(all) if all.len() == kinds.len() => {
                    kinds.iter().zip(all).try_for_each(|(kind, it)| self.fits(kind, it, at))
                }
                _ => wrong(),
            },
            Type::Made(Made::OneOf(words)) => check(words.iter().any(|word| value == word)),
        }
    }

    /// Whether a value has the properties that it must have, and no others.
    fn is_made_of(&self, structure: &BTreeMap<String, Property>, value: &Value, at: &str) -> Fit {
        let Some(object) = value.as_object() else { return Err(format!("{at}: {value} is no object")) };
        if let Some(name) = object.keys().find(|name| !structure.contains_key(*name)) {
            return Err(format!("{at}: there is no property {name}"));
        }
        structure.iter().try_for_each(|(name, property)| match object.get(name) {
            Some(value) => self.fits(&property.kind, value, &format!("{at}.{name}")),
            None if property.optional => Ok(()),
            None => Err(format!("{at}: {name} is missing")),
        })
    }
}

/// What the text of the specification demands of a structure beyond what it is made of.
fn sensible(name: &str, value: &Value, at: &str) -> Fit {
    let within = |inner: &Value, outer: &Value| {
        place(&outer["start"]) <= place(&inner["start"]) && place(&inner["end"]) <= place(&outer["end"])
    };
    let (holds, demand) = match name {
        "Range" => (place(&value["start"]) <= place(&value["end"]), "it ends before it starts"),
        "DocumentSymbol" => {
            (within(&value["selectionRange"], &value["range"]), "it is selected outside of it")
        }
        "SelectionRange" => {
            let parent = value.get("parent");
            (
                parent.is_none_or(|parent| within(&value["range"], &parent["range"])),
                "it is outside of its parent",
            )
        }
        "SemanticTokens" => {
            (value["data"].as_array().unwrap().len().is_multiple_of(5), "a token has five numbers")
        }
        _ => (true, ""),
    };
    if holds { Ok(()) } else { Err(format!("{at}: {demand}: {value}")) }
}

/// Line and column.
pub fn place(position: &Value) -> (u64, u64) {
    (position["line"].as_u64().unwrap(), position["character"].as_u64().unwrap())
}

fn is(name: &str, value: &Value) -> bool {
    PROTOCOL.fits(&Type::Name(name.to_owned()), value, "here").is_ok()
}

/// The checks can fail: a part that is missing, wrong, unknown, too large, or against the text.
#[test]
fn what_is_not_of_the_protocol_is_refused() {
    let range =
        |line: i64| json!({"start": {"line": line, "character": 3}, "end": {"line": 1, "character": 0}});
    assert!(is("Range", &range(0)));
    assert!(![1, -1, 1 << 31].iter().any(|line| is("Range", &range(*line))));
    let hover = |contents: &Value| is("Hover", &json!({"contents": contents}));
    assert!(
        hover(&json!({"kind": "markdown", "value": ""})) && hover(&json!("text")) && hover(&json!(["text"]))
    );
    assert!(
        ![json!({"kind": "html", "value": ""}), json!({"kind": "markdown"}), json!(3), Value::Null]
            .iter()
            .any(hover)
    );
    assert!(!is("Hover", &json!({"contents": "", "title": ""})) && !is("Hover", &json!({})));
    assert!(
        is("CodeAction", &json!({"title": "", "kind": "source.fixAll.gridsetter"})),
        "kinds may be one's own"
    );
    assert!(!is("Diagnostic", &json!({"range": range(0), "message": "", "severity": 5})));
    assert!(
        !is("Diagnostic", &json!({"range": range(0), "message": "", "source": null})),
        "nothing is left out"
    );
    assert!(is("OptionalVersionedTextDocumentIdentifier", &json!({"uri": "", "version": null})));
    assert!(!is("OptionalVersionedTextDocumentIdentifier", &json!({"uri": ""})));
    assert!(!is("SemanticTokens", &json!({"data": [1, 2, 3]})));
    assert!(PROTOCOL.is_result("textDocument/hover", &Value::Null).is_ok());
    assert!(PROTOCOL.is_result("textDocument/hover", &json!([])).is_err());
    assert!(PROTOCOL.is_result("shutdown", &json!({})).is_err());
    let hover = |server| PROTOCOL.is_message(server, "textDocument/hover", Some(&json!({})), true);
    assert!(hover(false).is_err() && hover(true).is_err());
}
