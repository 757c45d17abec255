//! Why a candidate was refused.

use crate::hours::Rule;

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
    /// Later than the rule's last-load gate.
    LastLoadGate,
    /// Not home within the window with the probability that the rule asks for.
    HomeGate,
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
    /// Not home with as much left on every clock as the rule keeps.
    KeepGate,
    /// The last driver of the plant who could still help a stranded one is kept in reserve.
    ReserveGate,
    /// The driver says that the way home will not fit, and is heard.
    DriversWord,
}

impl Refusal {
    /// All reasons, in the order of their positions.
    pub const ALL: [Self; 18] = [
        Self::NoWay,
        Self::PlantClosed,
        Self::NotLent,
        Self::Weight,
        Self::DutyWindow,
        Self::CompanyLimit,
        Self::LastLoadGate,
        Self::HomeGate,
        Self::NearerPlant,
        Self::Age,
        Self::DrivingHours,
        Self::OnDutyHours,
        Self::BreakDue,
        Self::WeeklyHours,
        Self::CompanyFinish,
        Self::KeepGate,
        Self::ReserveGate,
        Self::DriversWord,
    ];

    /// The reason in plain words.
    pub fn words(self) -> &'static str {
        match self {
            Self::NoWay => "no way",
            Self::PlantClosed => "plant closed",
            Self::NotLent => "not lent",
            Self::Weight => "weight",
            Self::DutyWindow => "duty window",
            Self::CompanyLimit => "company's last load",
            Self::LastLoadGate => "last-load gate",
            Self::HomeGate => "home gate",
            Self::NearerPlant => "nearer plant",
            Self::Age => "too old on site",
            Self::DrivingHours => "driving hours",
            Self::OnDutyHours => "hours on duty",
            Self::BreakDue => "break due",
            Self::WeeklyHours => "weekly hours",
            Self::CompanyFinish => "company's finish",
            Self::KeepGate => "minutes kept on the clock",
            Self::ReserveGate => "kept in reserve",
            Self::DriversWord => "driver's word on the way home",
        }
    }

    /// The reason that a clock gives.
    pub fn of_clock(rule: Rule) -> Self {
        match rule {
            Rule::Driving => Self::DrivingHours,
            Rule::Window => Self::DutyWindow,
            Rule::OnDuty => Self::OnDutyHours,
            Rule::Break => Self::BreakDue,
            Rule::Cycle => Self::WeeklyHours,
        }
    }

    /// The clock that is the reason, if one is.
    pub fn clock(self) -> Option<Rule> {
        Rule::ALL
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
        )
    }
}
