//! The decisions of a rule, one by one: what two rules differ in, and a rule with one decision of another.

use super::Rule;

/// One decision: a field of a rule with its parameters, or fields that depend on each other and so change together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Habit {
    /// For the ordered time, or at the site's pace.
    Send,
    /// The spacing in place of the ordered one.
    Spacing,
    /// By how many minutes a load is sent early.
    Early,
    /// Minutes allowed for the bay, or the queue there.
    BayWait,
    /// What a trip is taken to last.
    Belief,
    /// Which waiting load goes first.
    Sequence,
    /// Which plant and truck.
    Choose,
    /// Which plants may serve a load.
    Plants,
    /// The check of the driver's hours, and when it is overridden.
    HoursCheck,
    /// Loans between plants, and where an empty truck heads for: elsewhere only where trucks are lent.
    Lend,
    /// How an order is cut.
    LoadSize,
    /// Room kept in the drum and weight kept below the limit: together they say what a truck carries.
    Payload,
    /// What is done for the stranded.
    Retrieval,
    /// The warning on the ticket.
    Warning,
    /// When the slump is read.
    ReadAfter,
    /// Who adds water in the yard, and how much at most.
    Water,
    /// Moisture probes.
    Probe,
    /// Where HRWR goes in.
    Hrwr,
    /// Whether the once-a-week longer window is used.
    LongDay,
    /// When drivers report.
    Shift,
    /// When drivers go home.
    SendHome,
    /// What becomes of a driver's word.
    DriversWord,
    /// What becomes of added orders.
    Additions,
    /// How long plants are open.
    PlantHours,
    /// What a loaded truck does whose site is not ready.
    Redirect,
}

impl Habit {
    /// All, in the order in which people are told of them.
    pub const ALL: [Self; 25] = [
        Self::Send,
        Self::Spacing,
        Self::Early,
        Self::BayWait,
        Self::Belief,
        Self::Sequence,
        Self::Choose,
        Self::Plants,
        Self::HoursCheck,
        Self::Lend,
        Self::LoadSize,
        Self::Payload,
        Self::Retrieval,
        Self::Warning,
        Self::ReadAfter,
        Self::Water,
        Self::Probe,
        Self::Hrwr,
        Self::LongDay,
        Self::Shift,
        Self::SendHome,
        Self::DriversWord,
        Self::Additions,
        Self::PlantHours,
        Self::Redirect,
    ];

    /// The name in files: the field of the rule, the first of them where there are several.
    pub fn key(self) -> &'static str {
        match self {
            Self::Belief => "belief",
            Self::Send => "send",
            Self::Spacing => "spacing_factor",
            Self::Early => "early_min",
            Self::BayWait => "bay_wait_min",
            Self::Sequence => "sequence",
            Self::Choose => "choose",
            Self::Plants => "plants",
            Self::HoursCheck => "gates",
            Self::Lend => "lend",
            Self::LoadSize => "load_size",
            Self::Payload => "room_kept_yd3",
            Self::Retrieval => "retrieval",
            Self::Warning => "yard.warning",
            Self::ReadAfter => "yard.read_after",
            Self::Water => "yard.water_by",
            Self::Probe => "yard.probe",
            Self::Hrwr => "yard.hrwr",
            Self::LongDay => "long_day",
            Self::Shift => "shift",
            Self::SendHome => "send_home",
            Self::DriversWord => "drivers_word",
            Self::Additions => "additions",
            Self::PlantHours => "plant_hours",
            Self::Redirect => "redirect",
        }
    }

    /// Gives a rule this decision of another.
    pub fn take(self, from: &Rule, to: &mut Rule) {
        match self {
            Self::Belief => to.belief = from.belief,
            Self::Send => to.send = from.send,
            Self::Spacing => to.spacing_factor = from.spacing_factor,
            Self::Early => to.early_min = from.early_min,
            Self::BayWait => {
                to.bay_wait_min = from.bay_wait_min;
                to.bay_queue_seen = from.bay_queue_seen;
            }
            Self::Sequence => to.sequence = from.sequence,
            Self::Choose => to.choose = from.choose,
            Self::Plants => to.plants = from.plants,
            Self::HoursCheck => {
                to.gates.clone_from(&from.gates);
                to.override_gates = from.override_gates;
            }
            Self::Lend => (to.lend, to.after_discharge) = (from.lend, from.after_discharge),
            Self::LoadSize => to.load_size = from.load_size,
            Self::Payload => {
                to.room_kept_yd3 = from.room_kept_yd3;
                to.weight_margin_lb = from.weight_margin_lb;
            }
            Self::Retrieval => to.retrieval = from.retrieval,
            Self::Warning => to.yard.warning = from.yard.warning,
            Self::ReadAfter => to.yard.read_after = from.yard.read_after,
            Self::Water => {
                to.yard.water_by = from.yard.water_by;
                to.yard.most_gal_yd3 = from.yard.most_gal_yd3;
            }
            Self::Probe => to.yard.probe = from.yard.probe,
            Self::Hrwr => to.yard.hrwr = from.yard.hrwr,
            Self::LongDay => to.long_day = from.long_day,
            Self::Shift => to.shift = from.shift,
            Self::SendHome => to.send_home = from.send_home,
            Self::DriversWord => to.drivers_word = from.drivers_word,
            Self::Additions => to.additions = from.additions,
            Self::PlantHours => to.plant_hours = from.plant_hours,
            Self::Redirect => to.redirect = from.redirect,
        }
    }

    /// Whether two rules differ in it.
    pub fn differs(self, a: &Rule, b: &Rule) -> bool {
        let mut changed = a.clone();
        self.take(b, &mut changed);
        changed != *a
    }

    /// What two rules differ in. With all of it taken the one rule decides as the other.
    pub fn differing(a: &Rule, b: &Rule) -> Vec<Self> {
        let differing = Self::ALL.into_iter().filter(|habit| habit.differs(a, b));
        differing.collect()
    }

    /// A rule with these decisions of another, under its own name.
    pub fn mixed<'h>(
        rule: &Rule,
        other: &Rule,
        habits: impl IntoIterator<Item = &'h Self>,
    ) -> Rule {
        let mut mixed = rule.clone();
        for habit in habits {
            habit.take(other, &mut mixed);
        }
        mixed
    }
}
