//! Why a candidate was refused.

use crate::hours::Clock;
use std::borrow::Cow;

/// Why a plant and truck were not considered for a load. Every refusal is counted and shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Refusal {
    /// There is no way from the plant to the site, or from the truck to the plant.
    NoWay,
    /// The plant is closed when loading could start.
    PlantClosed,
    /// The truck's home is another plant, and the rule does not lend for this.
    NotLent,
    /// Nothing may be loaded: room kept or legal weight leave no volume.
    Weight,
    /// The driver would pass the duty window before reaching lawful parking: the driver does not start.
    DutyWindow,
    /// Later than the company's last-load limit.
    CompanyLimit,
    /// Somebody takes the truck over by then.
    Relieved,
    /// Later than the rule's last-load gate.
    LastLoadGate,
    /// Not home within every clock with the probability that the rule asks for: this one leaves the least.
    HomeGate(Clock),
    /// A nearer plant can still be in time, or late by less than the rule accepts.
    NearerPlant,
    /// The concrete would pass its age limit before it is out of the drum, as those reckon who know the hour of the day.
    Age,
    /// The driver would drive too long before reaching lawful parking.
    DrivingHours,
    /// The driver would be on duty too long before reaching lawful parking.
    OnDutyHours,
    /// The driver needs a break first.
    BreakDue,
    /// The driver's weekly hours end before lawful parking is reached.
    WeeklyHours,
    /// The driver would be released later than the company wants.
    CompanyFinish,
    /// Not home with as much left on every clock as the rule keeps: this one leaves the least.
    KeepGate(Clock),
    /// The last driver of the plant who could still help a stranded one is kept in reserve. Others stand free there, and of the one
    /// of them who may drive longest this clock leaves too little; none: nobody else stands there.
    ReserveGate(Option<Clock>),
    /// The driver says that this clock will end on the way home, and is heard.
    DriversWord(Clock),
    /// The truck has broken down, and is believed to come too late.
    BrokenDown,
}

impl Refusal {
    /// All reasons, each clock of a gate by itself, in the order of their positions.
    pub const ALL: [Self; 37] = [
        Self::NoWay,
        Self::PlantClosed,
        Self::NotLent,
        Self::Weight,
        Self::DutyWindow,
        Self::CompanyLimit,
        Self::Relieved,
        Self::LastLoadGate,
        Self::NearerPlant,
        Self::Age,
        Self::DrivingHours,
        Self::OnDutyHours,
        Self::BreakDue,
        Self::WeeklyHours,
        Self::CompanyFinish,
        Self::HomeGate(Clock::Driving),
        Self::HomeGate(Clock::Window),
        Self::HomeGate(Clock::OnDuty),
        Self::HomeGate(Clock::Break),
        Self::HomeGate(Clock::Cycle),
        Self::KeepGate(Clock::Driving),
        Self::KeepGate(Clock::Window),
        Self::KeepGate(Clock::OnDuty),
        Self::KeepGate(Clock::Break),
        Self::KeepGate(Clock::Cycle),
        Self::ReserveGate(None),
        Self::ReserveGate(Some(Clock::Driving)),
        Self::ReserveGate(Some(Clock::Window)),
        Self::ReserveGate(Some(Clock::OnDuty)),
        Self::ReserveGate(Some(Clock::Break)),
        Self::ReserveGate(Some(Clock::Cycle)),
        Self::DriversWord(Clock::Driving),
        Self::DriversWord(Clock::Window),
        Self::DriversWord(Clock::OnDuty),
        Self::DriversWord(Clock::Break),
        Self::DriversWord(Clock::Cycle),
        Self::BrokenDown,
    ];

    /// Its position in [`Refusal::ALL`].
    pub fn position(self) -> usize {
        let position = Self::ALL.iter().position(|reason| *reason == self);
        position.expect("the list holds every reason")
    }

    /// The reason in plain words: `duty window`, `get-home check, duty window could end before home`.
    pub fn words(self) -> Cow<'static, str> {
        Cow::Borrowed(match self {
            Self::NoWay => "no route",
            Self::PlantClosed => "plant closed",
            Self::NotLent => "truck not loaned out",
            Self::Weight => "weight",
            Self::DutyWindow => "duty window",
            Self::CompanyLimit => "company's last load",
            Self::Relieved => "change of drivers",
            Self::LastLoadGate => "last-load check",
            Self::NearerPlant => "held for the nearest or usual plant",
            Self::Age => "too old on site",
            Self::DrivingHours => "driving hours",
            Self::OnDutyHours => "hours on duty",
            Self::BreakDue => "break due",
            Self::WeeklyHours => "weekly hours",
            Self::CompanyFinish => "company's finish",
            Self::HomeGate(clock) => {
                return format!("get-home check, {} before home", ends(clock, "could")).into();
            }
            Self::KeepGate(clock) => {
                let of_which = match clock {
                    Clock::Break => "before a break is due".into(),
                    _ => format!("of the {}", name(clock)),
                };
                return format!("minutes kept back, too few left {of_which}").into();
            }
            Self::ReserveGate(None) => "kept in reserve, nobody else stands free there",
            Self::ReserveGate(Some(clock)) => {
                let lack = match clock {
                    Clock::Break => "need a break first".into(),
                    _ => format!("are short of {}", name(clock)),
                };
                return format!("kept in reserve, the others there {lack}").into();
            }
            Self::DriversWord(clock) => {
                return format!("driver's objection, {} before home", ends(clock, "would")).into();
            }
            Self::BrokenDown => "truck broken down",
        })
    }

    /// The reason that a clock gives.
    pub fn of_clock(clock: Clock) -> Self {
        match clock {
            Clock::Driving => Self::DrivingHours,
            Clock::Window => Self::DutyWindow,
            Clock::OnDuty => Self::OnDutyHours,
            Clock::Break => Self::BreakDue,
            Clock::Cycle => Self::WeeklyHours,
        }
    }

    /// The clock that is the reason, if one is: by law, or because a gate of the rule or the driver looks at it.
    pub fn clock(self) -> Option<Clock> {
        match self {
            Self::HomeGate(clock) | Self::KeepGate(clock) | Self::DriversWord(clock) => Some(clock),
            Self::ReserveGate(clock) => clock,
            _ => self.law(),
        }
    }

    /// The clock by which the law is the reason, if it is.
    pub fn law(self) -> Option<Clock> {
        Clock::ALL
            .into_iter()
            .find(|rule| Self::of_clock(*rule) == self)
    }

    /// Whether hours are the reason: legal, the company's, or the rule's gates.
    pub fn is_of_hours(self) -> bool {
        !matches!(
            self,
            Self::NoWay
                | Self::PlantClosed
                | Self::NotLent
                | Self::Weight
                | Self::NearerPlant
                | Self::Age
                | Self::BrokenDown
        )
    }
}

/// The clock in the words of a refusal by it.
fn name(clock: Clock) -> Cow<'static, str> {
    Refusal::of_clock(clock).words()
}

/// `duty window could end`.
fn ends(clock: Clock, may: &str) -> String {
    match clock {
        Clock::Break => format!("a break {may} be due"),
        _ => format!("{} {may} end", name(clock)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_reason_has_a_position_and_words_of_its_own() {
        let mut words = BTreeSet::new();
        for (position, reason) in Refusal::ALL.into_iter().enumerate() {
            assert_eq!(reason.position(), position, "{reason:?}");
            assert!(words.insert(reason.words()), "{}", reason.words());
        }
    }

    #[test]
    fn a_gate_that_looks_at_clocks_names_the_one_that_refused() {
        for clock in Clock::ALL {
            let reasons = [
                Refusal::of_clock(clock),
                Refusal::HomeGate(clock),
                Refusal::KeepGate(clock),
                Refusal::ReserveGate(Some(clock)),
                Refusal::DriversWord(clock),
            ];
            for reason in reasons {
                assert_eq!(reason.clock(), Some(clock));
                assert_eq!(Refusal::ALL[reason.position()], reason);
                let told = match clock {
                    Clock::Break => "break",
                    _ => &name(clock),
                };
                assert!(reason.words().contains(told), "{}", reason.words());
            }
        }
        assert_eq!(Refusal::HomeGate(Clock::Window).law(), None);
        assert_eq!(Refusal::DutyWindow.law(), Some(Clock::Window));
    }
}
