//! How long concrete may wait: minutes and revolutions from the start of batching, by published tables. The limit never
//! resets.
//!
//! Which limit holds is a matter of the contract; the tables are examples of what contracts and agencies have written.

use crate::units::Millis;

/// What a limit depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// Air temperature, °F.
    pub air_f: f64,
    /// Temperature of the concrete, °F.
    pub concrete_f: f64,
    /// Whether the mix has a retarder (ASTM C494 type B, D or G, or a hydration inhibitor).
    pub retarder: bool,
    /// Whether the truck agitates: a mixer does.
    pub agitating: bool,
}

/// Up to where the minutes run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Until {
    /// The end of discharge.
    Discharged,
    /// Arrival; the wait on site is not counted.
    Delivered,
}

/// A limit in force for one load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AgeLimit {
    /// Time since the start of batching. [`Millis::NEVER`]: none.
    pub age: Millis,
    /// Revolutions of the drum. None: not counted.
    pub revolutions: Option<f64>,
    /// What must be over by then.
    pub until: Until,
    /// Whether the purchaser waives it for a load that can still be placed without added water, as ASTM C94 lets him.
    pub waived: bool,
}

/// What a load is to its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AgeVerdict {
    /// Within it.
    Within,
    /// Beyond it, and taken by waiver.
    Waived,
    /// Too old.
    TooOld,
    /// Young enough, and too many revolutions.
    TooManyRevolutions,
}

impl AgeLimit {
    /// 90 minutes to the end of discharge, no cap on revolutions: ASTM C94 from 2013 to 2021; since then the parties state
    /// the limit.
    pub const USUAL: Self = Self {
        age: Millis(90 * 60_000),
        revolutions: None,
        until: Until::Discharged,
        waived: false,
    };

    /// What a load of this age and these revolutions is to it. `placeable`: it can be placed without water added.
    pub fn judge(&self, age: Millis, revolutions: f64, placeable: bool) -> AgeVerdict {
        let too_old = age > self.age;
        let turned = self.revolutions.is_some_and(|most| revolutions > most);
        match (too_old || turned, self.waived && placeable) {
            (false, _) => AgeVerdict::Within,
            (true, true) => AgeVerdict::Waived,
            (true, false) if too_old => AgeVerdict::TooOld,
            (true, false) => AgeVerdict::TooManyRevolutions,
        }
    }
}

/// A published table of limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AgeTable {
    /// 90 min.
    Default,
    /// 90 min and 300 revolutions.
    AstmC94To2013,
    /// California DOT, section 90-6 (metric-era text).
    Caltrans,
    /// Florida DOT, 346-7.6.
    Florida,
    /// Wording common in project specifications: shorter in hot air.
    HotAir,
    /// A village code of Ohio, 1361.06.
    OhioVillage,
    /// British Standard 8500-2, 14.2.
    Bs8500,
    /// Practice in Hong Kong: to in the forms.
    HongKong,
    /// Texas DOT, item 421.
    Texas,
    /// North Carolina DOT, 1000-4.
    NorthCarolina,
    /// Illinois DOT, 1020.11.
    Illinois,
    /// Washington DOT, 6-02.3(4)D.
    Washington,
}

impl AgeTable {
    /// All of them.
    pub const ALL: [Self; 12] = [
        Self::Default,
        Self::AstmC94To2013,
        Self::Caltrans,
        Self::Florida,
        Self::HotAir,
        Self::OhioVillage,
        Self::Bs8500,
        Self::HongKong,
        Self::Texas,
        Self::NorthCarolina,
        Self::Illinois,
        Self::Washington,
    ];

    /// Name in a scenario.
    pub fn name(self) -> &'static str {
        match self {
            Self::Default => "default",
            Self::AstmC94To2013 => "astm_c94_to_2013",
            Self::Caltrans => "caltrans",
            Self::Florida => "florida",
            Self::HotAir => "hot_air",
            Self::OhioVillage => "ohio_village",
            Self::Bs8500 => "bs_8500",
            Self::HongKong => "hong_kong",
            Self::Texas => "texas",
            Self::NorthCarolina => "north_carolina",
            Self::Illinois => "illinois",
            Self::Washington => "washington",
        }
    }

    /// Where its minutes come from.
    pub fn source(self) -> &'static str {
        match self {
            Self::Default => "ASTM C94-13 to C94-20, as quoted in the trade press",
            Self::AstmC94To2013 => "ASTM C94 before June 2013, as quoted in Concrete Construction",
            Self::Caltrans => {
                "Caltrans Standard Specifications 90-6, metric-era text, as reproduced by a county"
            }
            Self::Florida => {
                "Florida DOT Specifications 346-7.6, Table 6, as reproduced by a county"
            }
            Self::HotAir => "project specification 32 13 13, master-spec wording",
            Self::OhioVillage => "codified ordinance 1361.06 of an Ohio village",
            Self::Bs8500 => {
                "BS 8500-2:2015+A2:2019, 14.2, in The Concrete Society, \"Limits to time in transit\""
            }
            Self::HongKong => "IEEE paper 5429729 (2009), introduction",
            Self::Texas => "Texas DOT item 421, from memory",
            Self::NorthCarolina => "North Carolina DOT 1000-4, from memory",
            Self::Illinois => "Illinois DOT 1020.11, from memory",
            Self::Washington => "Washington DOT 6-02.3(4)D, from memory",
        }
    }

    /// The limit under these conditions, not waived.
    pub fn limit(self, on: &Conditions) -> AgeLimit {
        AgeLimit {
            age: Millis::from_minutes(self.minutes(on)),
            revolutions: self.revolutions(on),
            until: match self {
                Self::Bs8500 => Until::Delivered,
                _ => Until::Discharged,
            },
            waived: false,
        }
    }

    fn minutes(self, on: &Conditions) -> f64 {
        let slow = on.retarder;
        let or = |with: f64, without: f64| if slow { with } else { without };
        match self {
            Self::Default | Self::AstmC94To2013 => 90.0,
            // The longer limit needs concrete of at most 30 °C.
            Self::Caltrans if on.agitating => or_if(slow && on.concrete_f <= 86.0, 120.0, 90.0),
            Self::Caltrans => or_if(on.concrete_f >= 86.0, 45.0, 60.0),
            Self::Florida if on.agitating => or(90.0, 60.0),
            Self::Florida => or(75.0, 45.0),
            Self::HotAir => by_warmth(on.air_f, [(85.0, 90.0), (90.0, 75.0)], 60.0),
            Self::OhioVillage => or_if(on.air_f > 70.0, 60.0, 90.0),
            Self::Bs8500 => or_if(on.agitating, 120.0, 60.0),
            Self::HongKong => 105.0,
            Self::Texas if on.air_f >= 90.0 => or(75.0, 45.0),
            Self::Texas if on.air_f >= 75.0 => or(90.0, 60.0),
            Self::Texas => or(120.0, 90.0),
            Self::NorthCarolina if on.air_f >= 90.0 => or(75.0, 30.0),
            Self::NorthCarolina if on.air_f >= 80.0 => or(90.0, 45.0),
            Self::NorthCarolina => or(105.0, 60.0),
            Self::Illinois => or_if(on.air_f >= 65.0 && !slow, 60.0, 90.0),
            Self::Washington => or_if(on.concrete_f < 75.0, 105.0, 90.0),
        }
    }

    fn revolutions(self, on: &Conditions) -> Option<f64> {
        match self {
            Self::AstmC94To2013 => Some(300.0),
            Self::Caltrans if !on.agitating => None,
            Self::Caltrans => Some(or_if(on.retarder && on.concrete_f <= 86.0, 300.0, 250.0)),
            _ => None,
        }
    }
}

fn or_if(holds: bool, then: f64, otherwise: f64) -> f64 {
    if holds { then } else { otherwise }
}

/// The minutes of the first step whose warmth is not passed: below 85 °F 90, from 85 to 90 °F 75, above 60.
fn by_warmth(air_f: f64, [(cool_f, cool), (warm_f, warm)]: [(f64, f64); 2], hot: f64) -> f64 {
    match air_f {
        f if f < cool_f => cool,
        f if f <= warm_f => warm,
        _ => hot,
    }
}
