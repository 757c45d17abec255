//! The rule books of a scenario, and how one is named.

use super::{unknown, written};
use crate::hours::{NAMES, RuleBook, RuleSet, built_in};
use crate::scenario::decode::{
    Contents, Limits, Names, Spanned, list, number, variant, wrong_kind,
};
use crate::scenario::defaults;
use crate::scenario::problem::Problems;
use crate::scenario::tree::{Kind, Node};
use crate::units::Millis;

/// The rule books of a scenario: those written in it, and the built-in ones that are used.
#[derive(Debug, Default)]
pub(in crate::scenario::read) struct Books {
    sets: Vec<RuleSet>,
    /// Which of them are lone duty windows: nobody can name those.
    windows: Vec<u16>,
    /// Names of books written in the scenario that cannot be read.
    unread: Vec<String>,
}

impl Books {
    pub(in crate::scenario::read) fn into_sets(self) -> Vec<RuleSet> {
        self.sets
    }

    /// The limits where none are written: what is left of them in any rule book for property carriers, the 14-hour window.
    pub(in crate::scenario::read) fn usual(&mut self) -> RuleBook {
        self.window(RuleSet::lone_window(
            Millis::from_hours(defaults::WINDOW_H.value),
            Millis::from_hours(defaults::REST_H.value),
        ))
    }

    /// A lone duty window, each once.
    fn window(&mut self, window: RuleSet) -> RuleBook {
        let same = |at: &&u16| self.sets[usize::from(**at)] == window;
        if let Some(at) = self.windows.iter().find(same) {
            return RuleBook::Set(*at);
        }
        let at = self.sets.len() as u16;
        self.sets.push(window);
        self.windows.push(at);
        RuleBook::Set(at)
    }

    /// The list `rule_books`.
    pub(in crate::scenario::read) fn read(
        &mut self,
        node: &Node,
        problems: &Problems,
    ) -> Option<()> {
        let mut names = Names::of("rule book");
        for taken in NAMES {
            // A built-in name stays what it is.
            let taken = Spanned {
                value: taken.to_owned(),
                span: node.span.start..node.span.start,
            };
            names.adopt(&taken);
        }
        list(0..=50, "rule book", |node, problems| {
            match written(node, &mut names, problems) {
                Some(set) => self.sets.push(set),
                None => self.unread.extend(name_of(node)),
            }
            Some(())
        })(node, problems)?;
        Some(())
    }

    /// `"none"`, `DutyWindow(hours: 14, rest_hours?: 10)`, or the name of a rule book.
    pub(in crate::scenario::read) fn find(
        &mut self,
        node: &Node,
        problems: &Problems,
    ) -> Option<RuleBook> {
        match &node.kind {
            Kind::Text(text) | Kind::Cell { text, .. } if text == "none" => {
                Some(RuleBook::Unlimited)
            }
            Kind::Text(text) | Kind::Cell { text, .. } => {
                if let Some((at, _)) = self.named().find(|(_, set)| set.name == *text) {
                    return Some(RuleBook::Set(at));
                }
                if let Some(set) = built_in(text) {
                    self.sets.push(set);
                    return Some(RuleBook::Set((self.sets.len() - 1) as u16));
                }
                // What is wrong in its own book has been said there.
                if self.unread.contains(text) {
                    return None;
                }
                unknown(text, node, self.names(), problems)
            }
            Kind::Asked => {
                variant("rule book", &WINDOWS)(node, problems);
                wrong_kind(
                    node,
                    "\"none\" or the name of a rule book in quotes",
                    problems,
                )
            }
            Kind::Tag(_) | Kind::Tagged(..) => {
                let window = variant("rule book", &WINDOWS)(node, problems)?;
                Some(self.window(window))
            }
            _ => wrong_kind(
                node,
                "a rule book: \"none\", DutyWindow(hours: 14) or the name of one",
                problems,
            ),
        }
    }

    /// A rule book with a radius from the home plant, and its air miles.
    pub(in crate::scenario::read) fn radius(&self) -> Option<(&str, f64)> {
        self.sets.iter().find_map(|set| {
            let exception = set.short_haul.as_ref()?;
            Some((&*set.name, exception.radius_air_miles))
        })
    }

    /// When the carrier's day starts under a rule book.
    pub(in crate::scenario::read) fn day_start(&self, book: RuleBook) -> Millis {
        match book {
            RuleBook::Set(at) => self.sets[usize::from(at)].day_start,
            RuleBook::Unlimited => Millis::ZERO,
        }
    }

    /// Those with a name that a scenario can use, with their positions.
    fn named(&self) -> impl Iterator<Item = (u16, &RuleSet)> {
        (0..)
            .zip(&self.sets)
            .filter(|(at, _)| !self.windows.contains(at))
    }

    fn names(&self) -> Vec<&str> {
        let own = self.named().map(|(_, set)| &*set.name);
        let mut names: Vec<&str> = ["none"].into_iter().chain(NAMES).chain(own).collect();
        names.sort_unstable();
        names.dedup();
        names
    }
}

/// The name of a rule book of which other things may be wrong.
fn name_of(node: &Node) -> Option<String> {
    let Kind::Fields(fields) = &node.kind else {
        return None;
    };
    let name = fields.iter().find(|field| field.key == "name")?;
    match &name.value.kind {
        Kind::Text(text) | Kind::Cell { text, .. } => Some(text.clone()),
        _ => None,
    }
}

type ReadWindow = fn(Contents<'_>) -> Option<RuleSet>;

static WINDOWS: [(&str, ReadWindow); 1] = [("DutyWindow", duty_window)];

fn duty_window(contents: Contents<'_>) -> Option<RuleSet> {
    let mut fields = contents.fields(&["hours", "rest_hours"])?;
    let hours = fields.required("hours", number(Limits::above("hours", 0.0, 24.0)));
    let rest = number(Limits::between("hours", 0.0, 24.0));
    let rest = fields.usual(&defaults::REST_H, rest);
    fields.finish();
    Some(RuleSet::lone_window(
        Millis::from_hours(hours?),
        Millis::from_hours(rest),
    ))
}
