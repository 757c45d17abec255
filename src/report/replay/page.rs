//! The page: what the day was, a player over a schematic map, every truck through the day, and what went wrong with jumps to
//! it. One file that works from the disk, offline.

use super::{
    Shown, against, data, differing, late as late_loads, map, refusals, sentences, tables,
};
use crate::observe::Doing;
use crate::report::answer::page;
use crate::report::chart::trucks;
use crate::report::fonts;
use crate::report::made_from;
use crate::report::number::count;
use crate::scenario::{Origin, Scenario};
use crate::studies::Replay;
use crate::units::{Millis, TruckId};
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("../page.css");
const OWN_STYLE: &str = include_str!("page.css");
/// One script out of the files of its parts, apart from everything else on the page.
const PLAYER: &str = concat!(
    "(() => {\n\"use strict\";\n",
    include_str!("player/common.js"),
    include_str!("player/names.js"),
    include_str!("player/map.js"),
    include_str!("player/happenings.js"),
    include_str!("player/strip.js"),
    include_str!("player/player.js"),
    "})();\n"
);
/// Nothing is loaded from anywhere; the only script is the page's own.
const POLICY: &str = "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'";

/// Lines of refusals that a page has room for.
const REFUSALS: usize = 200;

/// The page as HTML text.
pub(super) fn page(shown: &Shown<'_>, scenario: &Scenario) -> String {
    let answer = shown.first();
    let (about, decision, recipe) = match shown.against {
        None => (
            sentences::which(answer),
            sentences::summary(answer),
            super::recipe(answer, scenario),
        ),
        Some(found) => (
            against::which(found),
            against::decision(found, scenario),
            against::recipe(found, scenario),
        ),
    };
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Replay " (answer.replication) ": " (answer.scenario) }
                style { (PreEscaped(fonts::css())) (PreEscaped(STYLE)) (PreEscaped(OWN_STYLE)) (PreEscaped(colors(shown))) }
            }
            body {
                main.two[shown.against.is_some()] {
                    h1 { (answer.scenario) }
                    p.about { (about) "." }
                    div.decision { p { (decision) } }
                    noscript { p { "The moving map needs scripts; everything below it does not." } }
                    (player(shown, &map::of(answer, scenario).said))
                    @if let Some(found) = shown.against { (differing::section(found, scenario)) }
                    (strip(shown))
                    @if shown.against.is_none() { (late(answer, scenario)) }
                    section {
                        h2 { "Stranded drivers" }
                        (side_by_side(shown, |replay| stranded(replay, scenario)))
                    }
                    @if let Some(told) = answer.told {
                        section {
                            h2 { (refusals::heading(told)) }
                            (side_by_side(shown, |replay| refused(replay, scenario)))
                        }
                    }
                    (figures(shown))
                    (notes(shown, &recipe, &scenario.origin))
                }
                script type="application/json" id="data" { (PreEscaped(data::text(shown, scenario))) }
                script { (PreEscaped(PLAYER)) }
            }
        }
    };
    markup.into_string()
}

/// What is told of each rule: beside each other, below its name, if there are two.
fn side_by_side(shown: &Shown<'_>, told: impl Fn(&Replay) -> Markup) -> Markup {
    html! {
        div.sides {
            @for replay in &shown.replays {
                div {
                    @if shown.against.is_some() { h3 { (title(replay)) } }
                    (told(replay))
                }
            }
        }
    }
}

/// `Under today's "Nearest on the map"`.
pub(super) fn title(replay: &Replay) -> String {
    format!("Under {}", sentences::rule(replay))
}

/// What trucks do here, for legends.
pub(super) fn doings(shown: &Shown<'_>) -> impl Iterator<Item = Doing> + use<> {
    let mut stints = shown.replays.iter().flat_map(|replay| &replay.stints);
    Doing::told(stints.any(|stint| stint.doing == Doing::BrokenDown))
}

/// Of what a truck does: the class of its mark on the map, in the order of `Doing::ALL`. Shared with `player/common.js`.
const KINDS: [&str; Doing::ALL.len()] = [
    "free",
    "waiting",
    "loading",
    "loaded",
    "waiting-on-site",
    "unloading",
    "back",
    "out-of-hours",
    "broken-down",
];

/// The colors of what trucks do: those of the chart. Marks on the map have a darker edge; a truck without a load is an outline.
fn colors(shown: &Shown<'_>) -> String {
    let mut style = String::new();
    for (at, (doing, kind)) in doings(shown).zip(KINDS).enumerate() {
        let (fill, edge) = (trucks::color(doing), trucks::edge(doing));
        style += &format!(".fill{at} {{ fill: {fill}; }} .{kind} .mark {{ stroke: {edge}; ");
        style += &match doing {
            Doing::Free | Doing::DrivingBack => "}\n".to_owned(),
            _ => format!("fill: {fill}; }}\n"),
        };
    }
    style
}

/// The player: filled and moved by the script. One clock moves a map for each rule.
fn player(shown: &Shown<'_>, layout: &str) -> Markup {
    html! {
        section #player hidden aria-label="The day as a moving map" {
            div.clockwork {
                div.controls {
                    button #play type="button" aria-keyshortcuts="Space" { "Play" }
                    output #clock aria-hidden="true" {}
                    button #earlier type="button" title="to the previous late load or stranded driver" { "‹ previous problem" }
                    button #later type="button" title="to the next late load or stranded driver" { "next problem ›" }
                    label {
                        "speed "
                        select #speed {
                            @for minutes in [2, 5, 10, 30, 60] {
                                option value=(minutes) selected[minutes == 10] { (minutes) " min a second" }
                            }
                        }
                    }
                    label { "truck " select #follow { option value="" { "all" } } }
                }
                div.time {
                    @for _ in &shown.replays { div.marks aria-hidden="true" {} }
                    input #time type="range" step="1" aria-label="Time of the day, in minutes";
                    div #hours aria-hidden="true" {}
                }
            }
            p #said .quiet aria-live="polite" {}
            div.panels {
                @for (nth, replay) in shown.replays.iter().enumerate() { (panel(shown, nth, replay)) }
            }
            p.note #layout { (layout) }
            p.note {
                "Keys: space plays and pauses, left and right move a minute, page up and down an hour, home and end to the first "
                "and last moment; in the list up and down, and enter to jump. The map is schematic: trucks move on straight "
                "lines at an even pace, whatever way they take."
                @if shown.against.is_some() {
                    " Marks over the slider: late loads and stranded drivers, the first rule's above, the second's below."
                }
            }
        }
    }
}

/// The map of one rule, with its counts and its events.
fn panel(shown: &Shown<'_>, nth: usize, replay: &Replay) -> Markup {
    let (width, height) = map::SIZE;
    let happens = format!("happens-{nth}");
    let which = match shown.against {
        None => String::new(),
        Some(_) => format!(" under {}", sentences::rule(replay)),
    };
    html! {
        div.panel {
            @if shown.against.is_some() { h2 { (title(replay)) } }
            p.tally {}
            ul.legend {
                @for doing in doings(shown) {
                    li { svg width="22" height="22" viewBox="-11 -11 22 22" aria-hidden="true" {} span.words { (doing.words()) } " " b { "0" } }
                }
            }
            p.following {}
            div.stage {
                svg.map viewBox=(format!("0 0 {width} {height}")) role="img" aria-label=(format!("Schematic map{which}: plants, sites and every truck on duty")) {}
                div.happens {
                    h2 id=(happens) { "Events" }
                    ol.events aria-labelledby=(happens) {}
                }
            }
        }
    }
}

fn strip(shown: &Shown<'_>) -> Markup {
    html! {
        section #trucks hidden {
            h2 #strip-heading { "Every truck through the day" }
            p.note {
                "Colors as above; a bar marks a late load, a cross a stranded driver. A click on a row goes to that moment."
            }
            (side_by_side(shown, |_| html! { div.strip {} p.note.idle {} }))
        }
    }
}

/// A button that the script makes jump.
pub(super) fn jump(
    answer: &Replay,
    scenario: &Scenario,
    at: Millis,
    truck: Option<TruckId>,
) -> Markup {
    let name = truck.map(|truck| scenario.trucks[truck.at()].name.as_str());
    html! {
        button.jump type="button" data-at=(at.0 / 1000) data-truck=[name] { (sentences::clock(answer, at)) }
    }
}

fn late(answer: &Replay, scenario: &Scenario) -> Markup {
    let lines = late_loads::lines(answer, scenario);
    html! {
        section {
            h2 { "Late loads" }
            @if lines.is_empty() {
                p { "No load came late." }
            } @else {
                p.note {
                    "Latest first. What made a load late adds up to its minutes; time recovered on the way cancels what was lost first."
                    @if !answer.never.is_empty() {
                        " A load that never came is late by the end of its day; its button goes to when its site was ready for it."
                    }
                }
                ul.troubles {
                    @for line in lines {
                        li {
                            (jump(answer, scenario, line.at, line.truck))
                            p { b { (line.load) ": " (line.late) } (line.with) ": " (line.because) "." }
                        }
                    }
                }
            }
        }
    }
}

fn stranded(answer: &Replay, scenario: &Scenario) -> Markup {
    html! {
        @if answer.stranded.is_empty() {
            p { "Nobody was stranded." }
        } @else {
            ul.troubles {
                @for stranded in &answer.stranded {
                    li {
                        (jump(answer, scenario, stranded.at, Some(stranded.truck)))
                        p { (sentences::stranding(answer, scenario, stranded)) }
                    }
                }
            }
        }
    }
}

fn refused(answer: &Replay, scenario: &Scenario) -> Markup {
    let lines = refusals::lines(answer, scenario);
    html! {
        @if lines.is_empty() {
            p { "Nobody was refused." }
        } @else {
            p { (refusals::summary(answer)) "." }
            p.note {
                "Each driver once for a load from a plant until the reason changes; the load waits, or somebody else takes it. "
                "Of the hours limits that a check looks at, the one with the least left is named."
            }
            ul.troubles {
                @for line in lines.iter().take(REFUSALS) {
                    li {
                        (jump(answer, scenario, line.at, None))
                        p { b { (line.load) ": " (line.who) } ": " (line.why) }
                    }
                }
            }
            @if lines.len() > REFUSALS {
                p { "And " (count((lines.len() - REFUSALS) as u64)) " more in the file of the events." }
            }
        }
    }
}

fn figures(shown: &Shown<'_>) -> Markup {
    html! {
        section {
            h2 { "This run against the average" }
            (page::table(&tables::figures(&shown.replays)))
        }
    }
}

fn notes(shown: &Shown<'_>, recipe: &str, origin: &Origin) -> Markup {
    let events = match shown.against {
        None => "events.csv".to_owned(),
        Some(_) => differing::SIDES
            .map(|side| format!("events-{side}.csv"))
            .join(" and "),
    };
    html! {
        section {
            h2 { "How to get this replay again" }
            (made_from::markup(&shown.first().scenario, Some(origin)))
            p { code { (recipe) } }
            p.note { "Everything that happened, with truck, driver and place, is in " (events) "." }
            @if shown.against.is_some() { p.note { (against::SAME_DAY) } }
            h2 { "Cautions" }
            ul {
                li { "One simulated day is an example, not a forecast: it was drawn by chance, or picked because it is bad." }
                @for line in crate::report::assumptions::CAUTIONS { li { (line) } }
            }
        }
    }
}
