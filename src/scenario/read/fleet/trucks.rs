//! Trucks.

use std::ops::Range;

use super::groups::{alone, group, written_out};
use crate::concrete::{Axle, AxleLayout};
use crate::scenario::decode::name;
use crate::scenario::decode::{Fields, Limits, Names, list, minutes, number, spanned, whole};
use crate::scenario::defaults;
use crate::scenario::problem::{Problem, Problems};
use crate::scenario::read::licences::need;
use crate::scenario::read::places::Places;
use crate::scenario::tree::{Kind, Node};
use crate::scenario::{Breakdowns, Truck};
use crate::units::{Millis, PlantId, Volume};

/// Most trucks of a scenario.
const MOST_TRUCKS: usize = 5_000;

/// The trucks read so far.
pub(in crate::scenario::read) struct Trucks {
    pub(super) list: Vec<Truck>,
    /// Every truck's name.
    names: Names,
    /// The names as written: of groups, and of trucks that stand alone.
    groups: Names,
    members: Vec<Range<usize>>,
}

impl Trucks {
    pub(in crate::scenario::read) fn new() -> Self {
        Self {
            list: Vec::new(),
            names: Names::of("truck"),
            groups: Names::of("truck or group"),
            members: Vec::new(),
        }
    }

    /// Of which nothing is known.
    pub(in crate::scenario::read) fn unread() -> Self {
        let mut trucks = Self::new();
        trucks.groups.unread();
        trucks
    }

    pub(in crate::scenario::read) fn into_list(self) -> Vec<Truck> {
        self.list
    }

    /// Whether some truck can carry anything with so much room kept in the drum and so much weight kept below the legal
    /// gross. True also if not all trucks could be read.
    pub(in crate::scenario::read) fn can_carry(
        &self,
        room_kept_yd3: f64,
        weight_margin_lb: f64,
    ) -> bool {
        self.groups.is_incomplete()
            || self.list.iter().any(|truck| {
                truck.capacity > Volume::from_yd3(room_kept_yd3)
                    && truck.payload_lb() > weight_margin_lb
            })
    }

    /// The largest drum; none before there are trucks.
    pub(in crate::scenario::read) fn largest(&self) -> Option<Volume> {
        self.list.iter().map(|truck| truck.capacity).max()
    }

    /// `(name: "N", count?: 1, home: "Plant", capacity_yd3?: 10, empty_lb?: 28000, legal_gross_lb?: 69000, axles?: [ … ])`
    pub(in crate::scenario::read) fn read(
        &mut self,
        node: &Node,
        places: &Places,
        problems: &Problems,
    ) -> Option<()> {
        let mut fields = Fields::of(node, "truck", problems);
        let name = fields
            .as_mut()
            .and_then(|fields| fields.required("name", spanned(name)));
        if name.is_none() {
            self.groups.unread();
        }
        let mut fields = fields?;
        let count = fields.optional("count", group("trucks of a group", MOST_TRUCKS), alone());
        let home = fields.required("home", |node, problems| places.find_plant(node, problems));
        let capacity = fields.usual(
            &defaults::CAPACITY_YD3,
            number(Limits::between("yd³", 1.0, 20.0)),
        );
        let lb = Limits::between("lb", 0.0, 200_000.0);
        let empty_lb = fields.usual(&defaults::EMPTY_LB, number(lb));
        let legal_gross_lb = fields.usual_or_none(&defaults::LEGAL_GROSS_LB, number(lb));
        let needs = fields.off(&defaults::NEEDS, need);
        if let Some(gross) = legal_gross_lb.filter(|gross| *gross <= empty_lb) {
            let span = fields
                .place("legal_gross_lb")
                .or(fields.place("empty_lb"))
                .unwrap_or(fields.opening());
            problems.add::<()>(
                Problem::new(
                    span,
                    format!("the truck may weigh {gross} lb and weighs {empty_lb} lb empty"),
                )
                .label("expected a legal gross weight above the empty weight"),
            );
        }
        let breakdowns = fields.off(&defaults::BREAKDOWNS, breakdowns);
        let axles = fields.off(&defaults::AXLES, axles);
        let empty_lb = axles.map_or(empty_lb, |axles| axles.empty_lb());
        fields.finish();
        let name = name?;
        let names = written_out(
            &name,
            &count,
            self.list.len(),
            MOST_TRUCKS,
            "truck",
            problems,
        );
        if names.is_none() {
            self.groups.unread();
        }
        let names = names?;
        let known = self.groups.position(&name.value).is_some();
        self.groups.define(&name, problems);
        self.members
            .push(self.list.len()..self.list.len() + names.len());
        for name in names {
            if known {
                // The group itself is reported; its trucks would be again.
                self.names.adopt(&name);
            } else {
                self.names.define(&name, problems);
            }
            // A truck whose home is wrong still has its name, so that its drivers are not wrong besides.
            let home = home.unwrap_or(PlantId(0));
            let capacity = Volume::from_yd3(capacity);
            self.list.push(Truck {
                name: name.value,
                home,
                capacity,
                empty_lb,
                legal_gross_lb,
                breakdowns: breakdowns.clone(),
                axles,
                needs: needs.clone(),
            });
        }
        home.map(|_| ())
    }

    /// The trucks that a node names: a group's or one.
    pub(super) fn find(&self, node: &Node, problems: &Problems) -> Option<Range<usize>> {
        if let Kind::Text(text) | Kind::Cell { text, .. } = &node.kind
            && self.groups.position(text).is_none()
            && let Some(truck) = self.names.position(text)
        {
            return Some(truck..truck + 1);
        }
        self.groups
            .find(node, problems)
            .map(|group| self.members[group].clone())
    }
}

/// See [`Breakdowns`] for how it is written.
fn breakdowns(node: &Node, problems: &Problems) -> Option<Breakdowns> {
    let mut fields = Fields::of(node, "breakdowns block", problems)?;
    let between = fields.required("mean_h_between", number(Limits::above("hours", 0.0, 1e6)));
    let length = fields.required("minutes", minutes);
    let up_to = |most| number(Limits::between("minutes", 0.0, most));
    let call = fields.usual(&defaults::BREAKDOWN_CALL_MIN, up_to(240.0));
    let share = number(Limits::between("share of breakdowns", 0.0, 1.0));
    let drum_turns = fields.usual(&defaults::DRUM_TURNS_SHARE, share);
    let empty = fields.usual(&defaults::BREAKDOWN_EMPTY_MIN, up_to(1_440.0));
    let out_days = fields.usual(
        &defaults::OUT_DAYS,
        whole(Limits::between("days", 0.0, 365.0)),
    );
    fields.finish();
    Some(Breakdowns {
        mean_h_between: between?,
        minutes: length?,
        call: Millis::from_minutes(call),
        drum_turns,
        empty: Millis::from_minutes(empty),
        out_days,
    })
}

/// `[(at_ft: 0, empty_lb: 12000, share: 0.2), …]`
fn axles(node: &Node, problems: &Problems) -> Option<AxleLayout> {
    let axles = list(1..=20, "axle", |node, problems| {
        let mut fields = Fields::of(node, "axle", problems)?;
        let at_ft = fields.required("at_ft", number(Limits::between("feet", 0.0, 100.0)));
        let empty_lb = fields.required("empty_lb", number(Limits::between("lb", 0.0, 50_000.0)));
        let share = fields.required(
            "share",
            number(Limits::between("share of the load", -1.0, 2.0)),
        );
        fields.finish();
        Some(Axle {
            at_ft: at_ft?,
            empty_lb: empty_lb?,
            share: share?,
        })
    })(node, problems)?;
    match AxleLayout::new(&axles) {
        Ok(layout) if layout.largest_legal(None).payload_lb > 0.0 => Some(layout),
        Ok(layout) => problems.add(
            Problem::new(
                node.span.clone(),
                format!(
                    "the truck of {} lb may carry nothing on these axles",
                    layout.empty_lb()
                ),
            )
            .label("expected axles that bear more than the empty truck"),
        ),
        Err(error) => problems.add(
            Problem::new(node.span.clone(), error.to_string())
                .label("expected axles from front to back, with shares that add up to 1"),
        ),
    }
}
