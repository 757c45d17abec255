//! Why a candidate was refused.

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
    /// The driver says that the way home will not fit, and is heard.
    DriversWord,
}

impl Refusal {
    /// All reasons, in the order of their positions.
    pub const ALL: [Self; 11] = [
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
            Self::DriversWord => "driver's word on the way home",
        }
    }
}
