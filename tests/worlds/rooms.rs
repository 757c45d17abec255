//! The rooms of `src/` form one straight way down: reads every path between rooms and refuses an arrow up.
//! No published source: the order is the one drawn in `src/lib.rs`.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

/// Top to bottom: a room knows only rooms further down.
const ROOMS: [&str; 14] = [
    "cli",
    "report",
    "studies",
    "montecarlo",
    "observe",
    "plant",
    "scenario",
    "dispatch",
    "roads",
    "hours",
    "concrete",
    "engine",
    "statistics",
    "units",
];

/// These stand on the ground directly: they know nothing of the others but `units`.
const ON_THE_GROUND: [&str; 4] = ["hours", "concrete", "engine", "statistics"];

/// What is wrong with the paths in one file, given as `room/file.rs` and its text.
fn arrows_up(file: &str, text: &str) -> Vec<String> {
    let modules = module_path(file);
    let Some(from) = modules.first() else {
        return Vec::new();
    };
    rooms_named(text, modules.len())
        .into_iter()
        .filter(|to| !allowed(from, to))
        .map(|to| format!("src/{file} must not know `{to}`"))
        .collect()
}

fn allowed(from: &str, to: &str) -> bool {
    let height = |room: &str| ROOMS.iter().position(|known| *known == room);
    match (height(from), height(to)) {
        _ if from == to => true,
        // The program itself may only call the front door: `cli::run`, at the root.
        _ if from == "main" => to == "run",
        (Some(from_height), Some(to_height)) => {
            from_height < to_height && (to == "units" || !ON_THE_GROUND.contains(&from))
        }
        // Not a room: a re-export at the crate root would be a way round this test.
        _ => false,
    }
}

/// `report/chart/differences.rs` is the module `report::chart::differences`; the crate root has no room.
fn module_path(file: &str) -> Vec<&str> {
    match file.strip_suffix(".rs").unwrap_or(file) {
        "lib" => Vec::new(),
        path => path.split('/').collect(),
    }
}

/// The first names after every `crate::`, `plantday::` and every chain of `super::` long enough to leave the room.
fn rooms_named(text: &str, depth: usize) -> Vec<String> {
    let mut found = Vec::new();
    for root in ["crate::", "plantday::"] {
        for (at, _) in text.match_indices(root) {
            let whole_word =
                !text[..at].ends_with(|c: char| c.is_alphanumeric() || "_$".contains(c));
            if whole_word {
                found.extend(first_names(&text[at + root.len()..]));
            }
        }
    }
    for (at, _) in text.match_indices("super::") {
        if text[..at].ends_with("super::") {
            continue;
        }
        let mut rest = &text[at..];
        let mut steps = 0;
        while let Some(after) = rest.strip_prefix("super::") {
            rest = after;
            steps += 1;
        }
        // Inline modules need longer chains, so a long chain leaves the room only if it arrives at one.
        if steps >= depth {
            let names = first_names(rest);
            found.extend(
                names
                    .into_iter()
                    .filter(|name| ROOMS.contains(&name.as_str())),
            );
        }
    }
    found
}

/// `units::Millis` → `units`; `{units::{Cents, Millis}, engine}` → `units`, `engine`.
fn first_names(path: &str) -> Vec<String> {
    let Some(group) = path.strip_prefix('{') else {
        return vec![name_at_start(path)];
    };
    let mut names = Vec::new();
    let (mut nested, mut start) = (0, 0);
    for (at, c) in group.char_indices() {
        match c {
            '{' => nested += 1,
            '}' if nested > 0 => nested -= 1,
            ',' | '}' if nested == 0 => {
                names.push(name_at_start(group[start..at].trim_start()));
                start = at + 1;
                if c == '}' {
                    break;
                }
            }
            _ => {}
        }
    }
    names.retain(|name| !name.is_empty());
    names
}

fn name_at_start(path: &str) -> String {
    if path.starts_with('*') {
        return "*".into();
    }
    path.chars()
        .take_while(|c| c.is_alphanumeric() || *c == '_')
        .collect()
}

fn each_source_file(folder: &Path, visit: &mut dyn FnMut(&Path)) {
    let mut entries: Vec<_> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            each_source_file(&path, visit);
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            visit(&path);
        }
    }
}

#[test]
fn no_arrow_goes_up() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let (mut wrong, mut files) = (Vec::new(), 0);
    each_source_file(&src, &mut |path| {
        let file = path.strip_prefix(&src).unwrap().to_str().unwrap();
        let text = fs::read_to_string(path).unwrap();
        wrong.extend(arrows_up(&file.replace('\\', "/"), &text));
        files += 1;
    });
    assert!(files > 10, "only {files} source files were read");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn everything_under_src_is_a_room() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for entry in fs::read_dir(src).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_stem().unwrap().to_str().unwrap();
        let is_root = path.is_file() && ["lib", "main"].contains(&name);
        assert!(is_root || ROOMS.contains(&name), "src/{name} is no room");
    }
}

/// A room is public with the feature that the crate's own tests turn on, though in no documentation, and private without it.
#[test]
fn every_room_is_private_but_for_tests() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let text = fs::read_to_string(src.join("lib.rs")).unwrap();
    for room in ROOMS {
        let both = format!(
            "#[cfg(not(feature = \"rooms\"))]\nmod {room};\n#[cfg(feature = \"rooms\")]\n#[doc(hidden)]\npub mod {room};\n"
        );
        assert!(text.contains(&both), "{room}");
    }
    let declared = text.matches("\npub mod ").count();
    let of_the_root = ["checks", "duty", "past", "draw"];
    assert_eq!(declared, ROOMS.len() + of_the_root.len());
}

#[test]
fn the_checker_sees_arrows_up() {
    for (file, text) in [
        ("engine.rs", "use crate::plant::World;"),
        ("plant/site.rs", "use crate::observe::Figures;"),
        ("statistics/best.rs", "use crate::engine::Spread;"),
        ("hours/clock.rs", "let x = crate::roads::quickest();"),
        (
            "roads.rs",
            "use crate::{units::{Cents, Millis}, scenario::Place};",
        ),
        (
            "roads.rs",
            "use crate::{\n    units::Millis,\n    dispatch,\n};",
        ),
        ("roads/network.rs", "use super::super::plant::World;"),
        ("units.rs", "use super::engine;"),
        ("scenario/read.rs", "use crate::*;"),
        ("scenario/read.rs", "use crate::Shortcut;"),
        ("studies/compare.rs", "pub(in crate::report) fn draw() {}"),
        ("main.rs", "use plantday::studies::compare;"),
        ("main.rs", "use plantday::compare;"),
        ("report/page.rs", "use crate::draw::compare;"),
    ] {
        assert_eq!(arrows_up(file, text).len(), 1, "{file}: {text}");
    }
}

#[test]
fn the_checker_lets_arrows_down_pass() {
    for (file, text) in [
        ("main.rs", "fn main() { plantday::run() }"),
        (
            "plant/site.rs",
            "use crate::{concrete::Mix, units::Millis};\nuse crate::plant::World;",
        ),
        (
            "report/chart/frame.rs",
            "use super::super::table;\nuse super::palette;",
        ),
        (
            "report/chart.rs",
            "mod tests { use super::super::table; use super::*; }",
        ),
        ("hours/clock.rs", "use crate::units::Millis;"),
        ("lib.rs", "pub use studies::compare;"),
        (
            "engine.rs",
            "macro_rules! m { () => { $crate::engine::x } }",
        ),
        ("engine.rs", "use othercrate::plant;"),
    ] {
        assert_eq!(arrows_up(file, text), Vec::<String>::new());
    }
}

/// What a file of the room `plant` names of that room's own files; a folder is one with its file. A name from the room's front door
/// would hide from which file it comes.
fn files_named(file: &str, text: &str) -> Vec<String> {
    let depth = module_path(file).len();
    let mut found = Vec::new();
    for (at, _) in text.match_indices("crate::plant::") {
        found.extend(first_names(&text[at + "crate::plant::".len()..]));
    }
    let chain = "super::".repeat(depth - 1);
    for (at, _) in text.match_indices(&chain) {
        let rest = &text[at + chain.len()..];
        if !text[..at].ends_with("super::") && !rest.starts_with("super::") {
            found.extend(first_names(rest));
        }
    }
    found
}

/// Of these files, those that are left when again and again those go that name none of the others: nothing, unless there is a circle.
fn circle(mut names: BTreeMap<String, BTreeSet<String>>) -> Vec<String> {
    loop {
        let known: BTreeSet<String> = names.keys().cloned().collect();
        let before = names.len();
        names.retain(|_, named| named.intersection(&known).next().is_some());
        if names.len() == before {
            return known.into_iter().collect();
        }
    }
}

/// What there is (`state`, `plan`) knows no handler, and handlers do not know each other in turn: what one brings about for another goes by the
/// world, which all of them know.
#[test]
fn the_files_of_the_world_name_each_other_in_no_circle() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut names: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    each_source_file(&src.join("plant"), &mut |path| {
        let file = path.strip_prefix(&src).unwrap().to_str().unwrap();
        let file = file.replace('\\', "/");
        let own = module_path(&file)[1].to_owned();
        let text = fs::read_to_string(path).unwrap();
        let named = files_named(&file, &text);
        for name in &named {
            let a_file = src.join(format!("plant/{name}.rs")).is_file();
            assert!(a_file, "src/{file} names {name} by no file of its own");
        }
        let others = named.into_iter().filter(|name| *name != own);
        names.entry(own.clone()).or_default().extend(others);
    });
    assert!(names.len() > 30, "only {} files were read", names.len());
    assert_eq!(circle(names), Vec::<String>::new());
}

#[test]
fn a_circle_is_seen() {
    let of = |pairs: &[(&str, &str)]| {
        let mut names: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for (from, to) in pairs {
            let named = names.entry((*from).to_owned()).or_default();
            named.insert((*to).to_owned());
        }
        circle(names)
    };
    assert_eq!(
        of(&[("a", "b"), ("b", "c"), ("a", "c")]),
        Vec::<String>::new()
    );
    assert_eq!(of(&[("a", "b"), ("b", "c"), ("c", "b")]), ["a", "b", "c"]);
    let text = "use super::super::{state::Load, world};\nuse super::rack;";
    assert_eq!(files_named("plant/yard/bay.rs", text), ["state", "world"]);
    assert_eq!(
        files_named("plant/yard.rs", "use super::world::World;"),
        ["world"]
    );
}
