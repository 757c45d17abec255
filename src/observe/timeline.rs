//! What every truck did, as spans of one day: for a picture.

use crate::plant::{Event, Observer};
use crate::units::{Millis, TruckId};

/// What a truck with a driver on duty is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Activity {
    /// Standing without a load.
    Idle,
    /// In the queue for a bay.
    BayQueue,
    /// In a bay or at the rack.
    Loading,
    /// Driving loaded.
    Out,
    /// On site, not discharging.
    SiteWait,
    /// Discharging.
    Discharging,
    /// Washing the chute and driving back.
    Back,
}

impl Activity {
    /// All, in the order of a load's life.
    pub const ALL: [Self; 7] = [
        Self::Idle,
        Self::BayQueue,
        Self::Loading,
        Self::Out,
        Self::SiteWait,
        Self::Discharging,
        Self::Back,
    ];

    /// In plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Idle => "no load",
            Self::BayQueue => "queue for a bay",
            Self::Loading => "loading, rack",
            Self::Out => "driving loaded",
            Self::SiteWait => "waiting on site",
            Self::Discharging => "discharging",
            Self::Back => "wash, driving back",
        }
    }
}

/// One activity of one truck.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span {
    /// Which truck.
    pub truck: TruckId,
    /// What it does.
    pub activity: Activity,
    /// From when.
    pub from: Millis,
    /// Until when.
    pub to: Millis,
}

/// Spans, late arrivals and strandings of a replication.
#[derive(Clone, Debug, Default)]
pub struct Timeline {
    /// In the order in which they end.
    pub spans: Vec<Span>,
    /// Loads that came late beyond tolerance, in the order in which they were taken: when they came, which truck.
    pub late: Vec<(Millis, TruckId)>,
    /// Strandings: when, which truck.
    pub stranded: Vec<(Millis, TruckId)>,
    now: Vec<Option<(Activity, Millis)>>,
}

impl Timeline {
    /// For so many trucks.
    pub fn new(trucks: usize) -> Self {
        Self {
            now: vec![None; trucks],
            ..Self::default()
        }
    }

    fn turn(&mut self, at: Millis, truck: TruckId, next: Option<Activity>) {
        let next = next.map(|activity| (activity, at));
        if let Some((activity, from)) = std::mem::replace(&mut self.now[truck.at()], next)
            && from < at
        {
            self.spans.push(Span {
                truck,
                activity,
                from,
                to: at,
            });
        }
    }

    /// The day on which most loads came late (with equal numbers most drivers were stranded, or else the first), 0 for the first
    /// of the period.
    pub fn worst_day(&self) -> i64 {
        let marks = self.late.iter().chain(&self.stranded);
        let last = marks.map(|(at, _)| at.day()).max().unwrap_or(0);
        (0..=last)
            .max_by_key(|day| (self.trouble_on(*day), -day))
            .unwrap_or(0)
    }

    /// How many loads came late on a day, 0 for the first, and how many drivers were stranded.
    pub fn trouble_on(&self, day: i64) -> (usize, usize) {
        let on = |marks: &[(Millis, TruckId)]| {
            let on_day = |(at, _): &&(Millis, TruckId)| at.day() == day;
            marks.iter().filter(on_day).count()
        };
        (on(&self.late), on(&self.stranded))
    }
}

impl Observer for Timeline {
    fn event(&mut self, at: Millis, event: &Event) {
        match *event {
            Event::Reported { truck, .. } if self.now[truck.at()].is_none() => {
                self.turn(at, truck, Some(Activity::Idle));
            }
            Event::Released { truck, .. } => self.turn(at, truck, None),
            Event::BayJoined { truck, .. } => self.turn(at, truck, Some(Activity::BayQueue)),
            Event::BayEntered { truck, .. } => self.turn(at, truck, Some(Activity::Loading)),
            Event::RackLeft { truck, .. } | Event::Redirected { truck, .. } => {
                self.turn(at, truck, Some(Activity::Out))
            }
            Event::SiteReached { truck, .. } => self.turn(at, truck, Some(Activity::SiteWait)),
            Event::Taken {
                truck,
                came,
                lateness,
                ..
            } if lateness.is_late() => self.late.push((came, truck)),
            Event::DischargeBegun { truck, .. } => {
                self.turn(at, truck, Some(Activity::Discharging));
            }
            Event::DischargeEnded { truck, .. } | Event::Rejected { truck, .. } => {
                self.turn(at, truck, Some(Activity::Back));
            }
            // Told on arrival: at a site the next event says so.
            Event::Drove { truck, .. }
            | Event::LoadLost { truck, .. }
            | Event::Emptied { truck, .. }
            | Event::BayQuit { truck, .. } => self.turn(at, truck, Some(Activity::Idle)),
            Event::Stranded { truck, .. } => self.stranded.push((at, truck)),
            _ => {}
        }
    }
}
