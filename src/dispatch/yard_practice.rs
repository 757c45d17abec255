//! Yard practice as part of a rule: what is printed, when the slump is read, who may add water, where HRWR goes in.
//!
//! The desk knows its own yard's practice where concrete is computed: minutes at the rack are the rack's mean or, if longer,
//! what the rule has every driver wait before the reading; HRWR that goes in on site is mixed in beside positioning, from the
//! arrival on. The usual two minutes count as part of the rack's mean, and who waits longer for a warning is not known
//! beforehand. Pacing does not reckon with HRWR: a truck that waits for the loads ahead mixes meanwhile.

/// What drivers at the rack and batchers do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct YardPractice {
    /// On which tickets the warning not to read the slump too early is printed.
    pub warning: Warning,
    /// How long the drum turns at mixing speed before anybody reads the slump. None: two minutes, as is usual, which are part
    /// of the minutes that a rack is known to take.
    pub read_after: Option<ReadAfter>,
    /// Who may add water in the yard.
    pub water_by: WaterBy,
    /// The most water added in the yard, gal/yd³, 0 to 20.
    pub most_gal_yd3: f64,
    /// Whether moisture probes stand in the aggregate bins.
    pub probe: bool,
    /// Where HRWR goes in.
    pub hrwr: HrwrAt,
}

/// On which tickets the warning is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Warning {
    /// On none.
    Never,
    /// On those of mixes with HRWR.
    OnAdmixture,
    /// On all, where it wears off.
    OnEverything,
}

/// How long the drum turns before the reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ReadAfter {
    /// Minutes at mixing speed, 0 to 60.
    Minutes(f64),
    /// Revolutions at mixing speed, 0 to 500.
    Revolutions(f64),
}

/// Who may add water in the yard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WaterBy {
    /// The driver, up to the yard's limit.
    Driver,
    /// The batcher on the driver's word, and never beyond the mix's w/c as the ticket has it.
    Batcher,
    /// Nobody.
    Nobody,
}

/// Where HRWR goes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HrwrAt {
    /// At the bay.
    AtPlant,
    /// On site, and mixed in there before discharge.
    OnSite,
}

impl YardPractice {
    /// Where nothing is written: no warning, a reading after two minutes, water by the driver.
    pub const USUAL: Self = Self {
        warning: Warning::Never,
        read_after: None,
        water_by: WaterBy::Driver,
        most_gal_yd3: 5.0,
        probe: false,
        hrwr: HrwrAt::AtPlant,
    };

    /// Whether some tickets warn of reading the slump before the admixture is mixed in.
    pub fn warns(&self) -> bool {
        self.warning != Warning::Never
    }

    /// How long the drum turns before the reading, as written or usual.
    pub fn reading(&self) -> ReadAfter {
        self.read_after.unwrap_or(ReadAfter::Minutes(2.0))
    }
}

impl ReadAfter {
    /// Minutes at a mixing speed of so many rpm, more than 0.
    pub fn minutes(self, rpm: f64) -> f64 {
        match self {
            Self::Minutes(minutes) => minutes,
            Self::Revolutions(revolutions) => revolutions / rpm,
        }
    }
}
