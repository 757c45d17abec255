//! A tree as the text of a scenario.

use super::{Kind, Node};

/// The value on one line; read again it is the same.
pub fn written(node: &Node) -> String {
    match &node.kind {
        Kind::Nothing => "None".to_owned(),
        Kind::Bool(value) => value.to_string(),
        Kind::Number {
            whole: Some(whole), ..
        } => whole.to_string(),
        Kind::Number { value, .. } => value.to_string(),
        Kind::Text(text) => quoted(text),
        Kind::Cell { text, .. } => text.clone(),
        Kind::Tag(name) => name.clone(),
        Kind::Tagged(tag, inside) => match &inside.kind {
            Kind::List(items) => format!("{}({})", tag.name, joined(items)),
            _ => format!("{}{}", tag.name, written(inside)),
        },
        Kind::Fields(fields) => {
            let is_name = |key: &str| {
                key.starts_with(|c: char| c.is_ascii_lowercase())
                    && key
                        .bytes()
                        .all(|byte| byte.is_ascii_alphanumeric() || byte == b'_')
            };
            let block = fields.iter().all(|field| is_name(&field.key));
            let fields = fields.iter().map(|field| match block {
                true => format!("{}: {}", field.key, written(&field.value)),
                false => format!("{}: {}", quoted(&field.key), written(&field.value)),
            });
            let fields: Vec<String> = fields.collect();
            match block {
                true => format!("({})", fields.join(", ")),
                false => format!("{{ {} }}", fields.join(", ")),
            }
        }
        Kind::List(items) => {
            let number = |node: &Node| matches!(node.kind, Kind::Number { .. });
            match items[..] {
                // `(18, 22)`, `("07:00", 17)`
                [_, ref second] if number(second) => format!("({})", joined(items)),
                _ => format!("[{}]", joined(items)),
            }
        }
        Kind::Unread | Kind::Asked | Kind::Other(_) => String::new(),
    }
}

/// A text in quotes, as a scenario writes it.
pub fn quoted(text: &str) -> String {
    ron::to_string(text).expect("any text can be written")
}

fn joined(items: &[Node]) -> String {
    let items: Vec<String> = items.iter().map(written).collect();
    items.join(", ")
}
