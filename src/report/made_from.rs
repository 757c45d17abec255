//! What an answer was made from: plantday's version, and the scenario's file with its checksum. No clock time and no folder: the
//! same input gives the same bytes anywhere.

use super::plain_text::one_line;
use crate::scenario::Origin;
use maud::{Markup, html};
use serde_json::{Value, json};

const VERSION: &str = env!("CARGO_PKG_VERSION");

/// For a page, up to the command that follows.
pub(super) fn markup(scenario: &str, origin: Option<&Origin>) -> Markup {
    html! {
        p {
            "plantday " (VERSION)
            @if let Some(origin) = origin {
                @match &origin.file {
                    Some(file) => { ", the scenario \"" (scenario) "\" in the file " code { (one_line(file)) } }
                    None => { ", the built-in scenario \"" (scenario) "\"" }
                }
                ", its SHA-256 checksum being " code { (origin.sha256) }
            }
            ":"
        }
    }
}

/// For programs; null what there is not.
pub(super) fn json(origin: Option<&Origin>) -> Value {
    json!({
        "plantday": VERSION,
        "scenario_file": origin.and_then(|origin| origin.file.as_deref()),
        "built_in": origin.map(|origin| origin.file.is_none()),
        "sha256": origin.map(|origin| origin.sha256.as_str()),
    })
}
