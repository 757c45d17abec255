//! A rule: one complete dispatch policy, as a scenario writes it.

use super::YardPractice;
use crate::roads::Belief;
use crate::units::Millis;

/// One complete dispatch policy.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    /// Name, unique in the scenario.
    pub name: String,
    /// One plain sentence on how such a yard is run; may be empty.
    pub about: String,
    /// Whether this is the rule that the plants run today. At most one; without any, the first listed.
    pub today: bool,
    /// What the dispatcher takes a trip to last.
    pub belief: Belief,
    /// When loads are sent.
    pub send: Send,
    /// Minutes by which every load is sent earlier than its believed minutes ask for, 0 to 240.
    pub early_min: f64,
    /// Minutes that the dispatcher allows for the wait for a bay, 0 to 240.
    pub bay_wait_min: f64,
    /// Whether the dispatcher counts the trucks that are to load before at each plant, and allows for them if that is longer.
    pub bay_queue_seen: bool,
    /// The spacing at which the desk sends the loads of an order, as a multiple of the ordered one, 0.5 to 2. Due times stay as
    /// ordered.
    pub spacing_factor: f64,
    /// Which waiting load is served first.
    pub sequence: Sequence,
    /// Which plant and truck are chosen among those that no gate refuses.
    pub choose: Choose,
    /// Which plants may serve a load.
    pub plants: Plants,
    /// Gates on the driver's hours, all of which must let a candidate pass.
    pub gates: Vec<Gate>,
    /// Whether a truck may load at a plant that is not its home.
    pub lend: Lend,
    /// How an order is cut into loads.
    pub load_size: LoadSize,
    /// Room kept free in every drum for corrections, yd³, 0 to 3.
    pub room_kept_yd3: f64,
    /// Pounds kept below the legal gross weight, 0 to 20,000.
    pub weight_margin_lb: f64,
    /// What is done when a driver is stranded.
    pub retrieval: Retrieval,
    /// What is done in the yard, a warning on the ticket included.
    pub yard: YardPractice,
    /// Whether drivers use the once-a-week longer window where their rule book has one and they may.
    pub long_day: bool,
    /// When drivers report.
    pub shift: Shift,
    /// When drivers without work are sent home.
    pub send_home: SendHome,
    /// Where an empty truck heads for.
    pub after_discharge: AfterDischarge,
    /// When the rule's own gates on hours are overridden.
    pub override_gates: Override,
    /// What becomes of a driver's word that the way home does not fit.
    pub drivers_word: DriversWord,
    /// What becomes of orders that are added to the day.
    pub additions: Additions,
    /// How long plants are open.
    pub plant_hours: PlantHours,
    /// What a loaded truck does whose site is not ready.
    pub redirect: Redirect,
}

impl Rule {
    /// What a rule decides of which a scenario says no more than that it is one: it has no name yet.
    pub const USUAL: Self = Self {
        name: String::new(),
        about: String::new(),
        today: false,
        belief: Belief::TimeOfDay { quantile: None },
        send: Send::AsOrdered,
        early_min: 0.0,
        bay_wait_min: 0.0,
        bay_queue_seen: false,
        spacing_factor: 1.0,
        sequence: Sequence::EarliestDue,
        choose: Choose::Nearest,
        plants: Plants::Any,
        gates: Vec::new(),
        lend: Lend::Never,
        load_size: LoadSize::FullThenRemainder,
        room_kept_yd3: 0.0,
        weight_margin_lb: 0.0,
        retrieval: Retrieval::RestOut,
        yard: YardPractice::USUAL,
        long_day: false,
        shift: Shift::Rostered,
        send_home: SendHome::ShiftEnd,
        after_discharge: AfterDischarge::HomePlant,
        override_gates: Override::Never,
        drivers_word: DriversWord::NotAsked,
        additions: Additions::TakeAll,
        plant_hours: PlantHours::AsPosted,
        redirect: Redirect::Wait,
    };
}

/// What a loaded truck does that comes to a site which does not take loads yet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Redirect {
    /// It waits.
    Wait,
    /// If the site will not be ready for this long, the load goes on to the nearest order that waits for a load of the same mix, at
    /// least as large, if it will be out of the drum within the age limit and its driver may take it there. It becomes that
    /// order's next load, with its times; what it was made for asks again. Once for a load. Where the roads know no way from
    /// site to site, by way of the plant.
    SameMix {
        /// Minutes, 0 to 1,440.
        wait_min: f64,
    },
}

/// How long plants are open.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlantHours {
    /// As posted.
    AsPosted,
    /// At the end of the posted hours, and of every hour thereafter, a plant with a driver on duty stays open for another hour if
    /// the loads that it would refuse in it are believed to cost more than its crew: undelivered ones, or late ones if it opens
    /// again on their day. A load counts at the nearest plant that makes its mix, if no other that does is open.
    KeptOpen {
        /// Hours beyond the posted ones at most, more than 0, at most 12.
        hours: f64,
    },
}

/// What becomes of orders that are added to the day: those with a chance below 1 or a time of calling in, when they are called in.
/// An order *holds* if in every half hour that it keeps a truck under way in, the drivers on shift at its plant (the nearest that
/// makes its mix) are as many as the trucks that it and all other known orders there keep under way, each load from its send time
/// on an empty road until the truck is back.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Additions {
    /// Every order is taken.
    TakeAll,
    /// An order is taken if it holds, and refused otherwise: it leaves the base of all lateness, is counted apart and is a lost sale.
    OnlyIfHolds,
    /// An order is taken for the first time at which it holds, half hour by half hour, on its day; refused if there is none.
    FirstFreeTime {
        /// Hours by which it may be moved at most, 0.5 to 24.
        hours: f64,
    },
}

/// When the rule's own gates on hours ([`Gate`]) are overridden. The law, and the company's limit, are never: a driver who may not
/// take a load does not take it. Modelled as a behaviour of desks, to show what it costs; never a recommendation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Override {
    /// Never.
    Never,
    /// When the load is believed this late even so, and no truck that passes the gates would be earlier.
    IfLate {
        /// Minutes beyond the time at which it should be on site, 0 to 1,440.
        minutes: f64,
    },
    /// For this share of loads, drawn for each attempt at a load.
    Share {
        /// Share, more than 0, at most 1.
        share: f64,
    },
}

/// What becomes of a driver's word, at the promise of a load, that the way home will not fit into the window. Nobody drives past a
/// limit for it: a driver who has been overruled stops where the law says, is stranded, and is counted as overruled. Modelled as a
/// behaviour of desks, to show what it costs; never a recommendation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DriversWord {
    /// Nobody asks the driver.
    NotAsked,
    /// The load goes to somebody else, or waits.
    Heard,
    /// The load is loaded all the same.
    Overruled,
}

/// Where a truck heads for after its discharge. Drivers end the day at the home plant all the same: a truck heads elsewhere only
/// if the way there and home fits into the driver's window, and starts for home from there while that way still fits. A truck
/// with a rejected load, or whose driver's shift is over, drives home.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AfterDischarge {
    /// Its home plant.
    HomePlant,
    /// The plant believed nearest.
    NearestPlant,
    /// The plant with the most volume that waits for a truck, per truck that stands there or heads there; a load counts at the
    /// nearest plant that makes its mix. Home if nothing waits.
    MostWork,
}

/// When drivers report. Whoever takes over a truck from another driver of the same day keeps the roster's time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shift {
    /// As the scenario's drivers say.
    Rostered,
    /// The drivers of a plant one after the other, in the roster's order, from the first report of the plant on; at most 18 h
    /// after it.
    Staggered {
        /// Minutes between two reports, 0 to 240. None: evenly up to the last of the plant's rostered reports.
        minutes: Option<f64>,
    },
    /// Called each day at the company's call time (the first time when the period begins) for the next day's orders as far as they are known:
    /// each load counts at the nearest plant that makes its mix and is open then, from its send time on an empty road until the truck
    /// is back. Whenever more trucks are under way in a half hour than drivers are on duty, one more is called for its beginning. Whoever
    /// is not needed is not called and not paid.
    Matched {
        /// Drivers called beyond the need, 0 to 100.
        spare: u32,
    },
}

/// When drivers without work are sent home. Nobody is held beyond the end of the shift.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SendHome {
    /// At the end of the shift, or when no order asks for anything before it.
    ShiftEnd,
    /// As soon as the trucks on duty are more than the loads still to come can keep under way at once, and `hold` besides:
    /// whoever has stood idle longest goes first. Counted by plant, over all plants where trucks are lent.
    FirstInFirstOut {
        /// Drivers held in reserve until their plant closes.
        hold: u32,
    },
    /// So; whoever reported first goes first.
    LongestDay {
        /// Drivers held in reserve until their plant closes.
        hold: u32,
    },
    /// So; the lowest seniority goes first.
    Seniority {
        /// Drivers held in reserve until their plant closes.
        hold: u32,
    },
}

/// When loads are sent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Send {
    /// For the time that the order says, whatever the site does.
    AsOrdered,
    /// Never before the site, at the pace it really unloads, can take the load.
    Paced,
}

/// Which waiting load is served first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sequence {
    /// The load that is due first.
    EarliestDue,
    /// Orders that have begun before orders that have not; then the load that is due first.
    RunningPoursFirst,
    /// The order with the most volume; then the load that is due first.
    BiggestFirst,
}

/// Which of the candidates that no gate refuses is chosen. Ties go to the earlier at the bay, then to the listed order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choose {
    /// The plant believed nearest to the site; there, the truck that is soonest at the bay.
    Nearest,
    /// The truck that has stood idle longest; one that is still coming back ranks behind all that stand.
    LongestIdle,
    /// The plant and truck believed soonest on site; among those believed in time, the shortest way.
    SoonestOnSite,
    /// The driver with the fewest hours since reporting.
    FewestHours,
    /// The most senior driver: the lower number first, equals in the order written.
    Seniority,
    /// The plant and truck believed cheapest in the scenario's money: driving (to the bay, out and home), the paid wait for the
    /// send time, the penalty if the load is believed late, and overtime until the driver is home.
    Cheapest,
}

/// Which plants may serve a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Plants {
    /// Every plant that makes the mix, from the moment at which the farthest of them would have to send.
    Any,
    /// The nearest open plant that makes the mix, from its own send time on. The others serve the load only once even a truck
    /// that came free at the nearest would be believed this late.
    NearestFirst {
        /// Minutes late, 0 or more.
        late_min: f64,
    },
    /// So, but that the plant which the order names as its usual one stands for the nearest: an order that names none, or whose
    /// usual plant is closed or too far for the concrete's age, goes by the nearest.
    UsualFirst {
        /// Minutes late, 0 or more.
        late_min: f64,
    },
}

/// One gate on the driver's hours.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Gate {
    /// No load whose loading is believed to start later than this many hours after the driver reported, more than 0.
    LastLoadBy {
        /// Hours since report.
        hours: f64,
    },
    /// The driver is believed to be home within the duty window with at least this probability, 0.5 to 0.999.
    HomeWithin {
        /// Probability.
        probability: f64,
    },
    /// At least so many minutes are believed to be left on every clock of the driver when home, 0 to 600.
    KeepMinutes {
        /// Minutes.
        minutes: f64,
    },
    /// One driver who stands free at the plant, and whose clocks have at least so many hours left, is not sent: somebody who
    /// can fetch. More than 0.
    Reserve {
        /// Hours.
        hours: f64,
    },
}

/// Whether a truck may load at a plant that is not its home.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lend {
    /// Only at its home plant.
    Never,
    /// At another plant if the load is then believed on site this many minutes sooner than with any truck at its own.
    IfSaves {
        /// Minutes, 0 or more.
        minutes: f64,
    },
    /// At any plant.
    Always,
}

/// What is done when a driver is stranded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Retrieval {
    /// The driver rests beside the truck and drives it home.
    RestOut,
    /// The nearest helper who is on call long enough drives out and brings driver and truck home; without one the driver
    /// rests.
    Fetch(Fetch),
    /// The nearest helper who is on call long enough, whatever the licence, brings the driver home alone. The truck stays until
    /// its next driver is driven out to it. Without a helper, or without a further report in the period, the driver rests.
    FetchDriver(Fetch),
}

/// How the stranded are fetched.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Fetch {
    /// Between these times of day nobody sets out: after the rush.
    pub not_between: Option<(Millis, Millis)>,
    /// If nobody can go now, the driver waits for the next helper who comes on call, if that is sooner than a rest.
    pub waits: bool,
    /// The helper sets out when the truck is on site and the way home is seen not to fit, not when it happens.
    pub foreseen: bool,
    /// Free drivers of the own fleet at the truck's home plant help too.
    pub own_drivers: bool,
}

impl Retrieval {
    /// How the stranded are fetched, if they are.
    pub fn fetch(&self) -> Option<&Fetch> {
        match self {
            Self::RestOut => None,
            Self::Fetch(fetch) | Self::FetchDriver(fetch) => Some(fetch),
        }
    }
}

/// How an order is cut into loads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadSize {
    /// Loads of the nominal size, then what is left.
    FullThenRemainder,
    /// The same number of loads, all equal.
    Equal,
}
