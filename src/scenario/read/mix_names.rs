//! The names of mixes, which plants list, orders ask for and `concrete` may describe: nobody defines them, so that a misspelt one is
//! found only by looking at all of them together.

use std::collections::BTreeMap;
use std::ops::Range;

use super::super::Material;
use super::super::decode::{Names, Spanned};
use super::super::problem::{Problem, Problems, listed, misspelt, nearest};
use super::super::tree::Span;

/// The mixes that plants list.
pub(super) struct Made {
    /// Those of all plants, one plant's behind another's.
    names: Names,
    /// Which of them belong to one plant.
    plants: Vec<Range<usize>>,
    /// Whether a plant lists none and so makes every mix.
    any: bool,
}

impl Default for Made {
    fn default() -> Self {
        Self {
            names: Names::of("mix that a plant makes"),
            plants: Vec::new(),
            any: false,
        }
    }
}

impl Made {
    /// Takes down what one plant lists.
    pub(super) fn plant(&mut self, mixes: &[Spanned<String>]) {
        self.any |= mixes.is_empty();
        let first = self.names.len();
        mixes.iter().for_each(|mix| self.names.adopt(mix));
        self.plants.push(first..self.names.len());
    }

    /// Takes down that a plant cannot be read.
    pub(super) fn unread(&mut self) {
        self.names.unread();
    }

    /// Whether a plant, by its position, makes a mix.
    pub(super) fn makes(&self, plant: usize, mix: &str) -> bool {
        let Some(listed) = self.plants.get(plant).cloned() else {
            return true; // it cannot be read
        };
        let mut names = listed.clone().map(|at| self.names.name(at));
        listed.is_empty() || names.any(|name| name == mix)
    }

    /// Each name as often as it is listed.
    fn all(&self) -> impl Iterator<Item = &str> {
        (0..self.names.len()).map(|at| self.names.name(at))
    }

    fn lists(&self, mix: &str) -> usize {
        self.all().filter(|name| *name == mix).count()
    }
}

/// The mixes that orders ask for.
#[derive(Default)]
pub(super) struct Asked {
    /// By name, each place where it is asked for.
    mixes: BTreeMap<String, Vec<Place>>,
}

struct Place {
    span: Span,
    /// Whether it is the usual mix of an order that names none; then the place is the order's.
    left_out: bool,
}

impl Asked {
    /// An order names its mix.
    pub(super) fn written(&mut self, mix: &Spanned<String>) {
        self.add(&mix.value, mix.span.clone(), false);
    }

    /// An order, which begins here, names none and so asks for the usual one.
    pub(super) fn left_out(&mut self, usual: &str, order: Span) {
        self.add(usual, order, true);
    }

    fn add(&mut self, mix: &str, span: Span, left_out: bool) {
        let places = self.mixes.entry(mix.to_owned()).or_default();
        places.push(Place { span, left_out });
    }

    /// What is asked for must be made somewhere and, where mixes are described, be described; and no name may be nearly the same
    /// as another one that it most likely stands for.
    pub(super) fn check(&self, made: &Made, material: Option<&Material>, problems: &Problems) {
        let described: Option<Vec<&str>> = material.map(|material| {
            let mixes = material.mixes.iter();
            mixes.map(|mix| mix.name.as_str()).collect()
        });
        for (mix, places) in &self.mixes {
            if let Some(described) = &described
                && !described.contains(&mix.as_str())
            {
                places
                    .iter()
                    .for_each(|place| undescribed(mix, place, described, problems));
                continue;
            }
            if made.names.position(mix).is_some() {
                continue;
            }
            let like = made.all().filter(|name| misspelt(mix, name));
            match nearest(mix, like) {
                // The rarer of the two is the misspelt one.
                Some(like) if self.nobody_asks(like) && made.lists(like) <= places.len() => {}
                Some(like) => places
                    .iter()
                    .for_each(|place| asked_like(mix, like, place, made, problems)),
                None if made.any => {}
                None => places
                    .iter()
                    .for_each(|place| not_made(mix, place, made, problems)),
            }
        }
        self.check_lists(made, described.as_deref().unwrap_or_default(), problems);
    }

    /// No plant lists a name that nobody asks for and that is nearly the name of a mix that it does not list.
    fn check_lists(&self, made: &Made, described: &[&str], problems: &Problems) {
        let known = || {
            let asked = self.mixes.keys().map(String::as_str);
            asked.chain(described.iter().copied())
        };
        for plant in &made.plants {
            let lists = |mix: &str| plant.clone().any(|at| made.names.name(at) == mix);
            for at in plant.clone() {
                let mix = made.names.name(at);
                if !self.nobody_asks(mix) || described.contains(&mix) {
                    continue;
                }
                let like = known().filter(|name| misspelt(mix, name) && !lists(name));
                let Some(like) = nearest(mix, like) else {
                    continue;
                };
                // Where the order's name is the rarer one, it has been reported.
                let asked = self.mixes.get(like).map_or(&[][..], Vec::as_slice);
                if !asked.is_empty()
                    && made.names.position(like).is_none()
                    && made.lists(mix) > asked.len()
                {
                    continue;
                }
                listed_like(mix, like, made.names.span(at), asked, problems);
            }
        }
    }

    fn nobody_asks(&self, mix: &str) -> bool {
        !self.mixes.contains_key(mix)
    }
}

fn undescribed(mix: &str, place: &Place, described: &[&str], problems: &Problems) {
    let title = format!("the mix {mix:?} is not described in `concrete`");
    let mut problem = Problem::new(place.span.clone(), title)
        .label(format!("expected one of {}", listed(described)));
    if let Some(near) = nearest(mix, described.iter().copied()) {
        problem = problem.help(format!("a similar one exists: {near:?}"));
    }
    problems.add::<()>(problem);
}

/// No plant makes what is asked for.
fn not_made(mix: &str, place: &Place, made: &Made, problems: &Problems) {
    if !place.left_out {
        made.names.find_at(mix, &place.span, problems);
    } else if !made.names.is_incomplete() {
        let title = format!("no plant makes the usual mix {mix:?}");
        problems.add::<()>(
            Problem::new(place.span.clone(), title)
                .label("expected a `mix` in the block that begins here"),
        );
    }
}

/// What is asked for is not listed by any plant, and something that is nearly the same is.
fn asked_like(mix: &str, like: &str, place: &Place, made: &Made, problems: &Problems) {
    let title = format!("no plant lists the mix {mix:?}, and one lists {like:?}");
    let mut problem = Problem::new(place.span.clone(), title);
    problem = match place.left_out {
        true => problem.label(format!(
            "expected `mix: {like:?}` in the block that begins here, which asks for the usual mix, or a name less like it"
        )),
        false => problem
            .label(format!("expected {like:?}, or a name less like it"))
            .replace(
                place.span.clone(),
                format!("{like:?}"),
                format!("a similar name exists: {like:?}"),
            ),
    };
    if let Some(at) = made.names.position(like) {
        problem = problem.also(made.names.span(at), "this mix is listed");
    }
    problems.add::<()>(problem);
}

/// Nobody asks for what a plant lists, and something that is nearly the same is asked for or described.
fn listed_like(mix: &str, like: &str, span: Span, asked: &[Place], problems: &Problems) {
    let title = match asked.first() {
        Some(_) => format!("no order asks for the mix {mix:?}, and one asks for {like:?}"),
        None => format!("the mix {mix:?} is not described in `concrete`, and {like:?} is"),
    };
    let mut problem = Problem::new(span.clone(), title)
        .label(format!("expected {like:?}, or a name less like it"))
        .replace(
            span,
            format!("{like:?}"),
            format!("a similar name exists: {like:?}"),
        );
    if let Some(first) = asked.first() {
        let said = match first.left_out {
            true => format!("this order names no mix and so asks for {like:?}"),
            false => "this mix is asked for".to_owned(),
        };
        problem = problem.also(first.span.clone(), said);
    }
    problems.add::<()>(problem);
}
