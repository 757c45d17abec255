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

/// A published table of limits, called by what it says; its source stands beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AgeTable {
    /// 90 min. ASTM C94-13 to C94-20.
    Default,
    /// 90 min and 300 revolutions. ASTM C94 before June 2013.
    AstmC94To2013,
    /// 90 min, 120 with a retarder in concrete of at most 86 °F; revolutions too. California DOT, section 90-6 (metric-era text).
    Retarder120,
    /// 60 min, 90 with a retarder. Florida DOT, 346-7.6, Table 6.
    Retarder90,
    /// 90 min, 75 from 85 °F air, 60 above 90 °F. Wording common in project specifications, 32 13 13.
    HotAir,
    /// 90 min, 60 in air above 70 °F. A village code of Ohio, 1361.06.
    WarmAir60,
    /// 120 min to the arrival. British Standard 8500-2, 14.2.
    Bs8500,
    /// 105 min. Practice in Hong Kong, as an IEEE paper tells it: to in the forms.
    Minutes105,
    /// 90 min, 60 from 75 °F air, 45 from 90 °F; 30 more with a retarder. Texas DOT, item 421.
    Air90To45,
    /// 60 min, 45 from 80 °F air, 30 from 90 °F; 45 more with a retarder. North Carolina DOT, 1000-4.
    Air60To30,
    /// 90 min, 60 from 65 °F air without a retarder. Illinois DOT, 1020.11.
    MildAir60,
    /// 105 min below 75 °F concrete, else 90. Washington DOT, 6-02.3(4)D.
    CoolConcrete105,
}

impl AgeTable {
    /// All of them.
    pub const ALL: [Self; 12] = [
        Self::Default,
        Self::AstmC94To2013,
        Self::Retarder120,
        Self::Retarder90,
        Self::HotAir,
        Self::WarmAir60,
        Self::Bs8500,
        Self::Minutes105,
        Self::Air90To45,
        Self::Air60To30,
        Self::MildAir60,
        Self::CoolConcrete105,
    ];

    /// Name in a scenario.
    pub fn name(self) -> &'static str {
        match self {
            Self::Default => "default",
            Self::AstmC94To2013 => "astm_c94_to_2013",
            Self::Retarder120 => "retarder_120",
            Self::Retarder90 => "retarder_90",
            Self::HotAir => "hot_air",
            Self::WarmAir60 => "warm_air_60",
            Self::Bs8500 => "bs_8500",
            Self::Minutes105 => "minutes_105",
            Self::Air90To45 => "air_90_to_45",
            Self::Air60To30 => "air_60_to_30",
            Self::MildAir60 => "mild_air_60",
            Self::CoolConcrete105 => "cool_concrete_105",
        }
    }

    /// What it says, in words: minutes from batching to the end of discharge unless another end is named.
    pub fn about(self) -> &'static str {
        match self {
            Self::Default => "90 min",
            Self::AstmC94To2013 => "90 min and 300 revolutions",
            Self::Retarder120 => {
                "90 min and 250 revolutions, 120 min and 300 with a retarder up to 86 °F concrete"
            }
            Self::Retarder90 => "60 min, 90 with a retarder",
            Self::HotAir => "90 min, 75 from 85 °F air, 60 above 90 °F",
            Self::WarmAir60 => "90 min, 60 above 70 °F air",
            Self::Bs8500 => "120 min to the arrival on site",
            Self::Minutes105 => "105 min",
            Self::Air90To45 => "90 min, 60 from 75 °F air, 45 from 90 °F; 30 more with a retarder",
            Self::Air60To30 => "60 min, 45 from 80 °F air, 30 from 90 °F; 45 more with a retarder",
            Self::MildAir60 => "90 min, 60 from 65 °F air without a retarder",
            Self::CoolConcrete105 => "90 min, 105 below 75 °F concrete",
        }
    }

    /// Where its minutes come from.
    pub const fn source(self) -> &'static str {
        match self {
            Self::Default => "ASTM C94-13 to C94-20, as quoted in the trade press",
            Self::AstmC94To2013 => "ASTM C94 before June 2013, as quoted in Concrete Construction",
            Self::Retarder120 => "Caltrans Standard Specifications 90-6, metric-era text",
            Self::Retarder90 => "Florida DOT Specifications 346-7.6, Table 6",
            Self::HotAir => "project specification 32 13 13, master-spec wording",
            Self::WarmAir60 => "a village code, codified ordinance 1361.06",
            Self::Bs8500 => {
                "BS 8500-2:2015+A2:2019, 14.2, in The Concrete Society, \"Limits to time in transit\""
            }
            Self::Minutes105 => "IEEE paper 5429729 (2009), introduction",
            Self::Air90To45 => "Texas DOT item 421, from memory",
            Self::Air60To30 => "North Carolina DOT 1000-4, from memory",
            Self::MildAir60 => "Illinois DOT 1020.11, from memory",
            Self::CoolConcrete105 => "Washington DOT 6-02.3(4)D, from memory",
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
            Self::Retarder120 if on.agitating => or_if(slow && on.concrete_f <= 86.0, 120.0, 90.0),
            Self::Retarder120 => or_if(on.concrete_f >= 86.0, 45.0, 60.0),
            Self::Retarder90 if on.agitating => or(90.0, 60.0),
            Self::Retarder90 => or(75.0, 45.0),
            Self::HotAir => by_warmth(on.air_f, [(85.0, 90.0), (90.0, 75.0)], 60.0),
            Self::WarmAir60 => or_if(on.air_f > 70.0, 60.0, 90.0),
            Self::Bs8500 => or_if(on.agitating, 120.0, 60.0),
            Self::Minutes105 => 105.0,
            Self::Air90To45 if on.air_f >= 90.0 => or(75.0, 45.0),
            Self::Air90To45 if on.air_f >= 75.0 => or(90.0, 60.0),
            Self::Air90To45 => or(120.0, 90.0),
            Self::Air60To30 if on.air_f >= 90.0 => or(75.0, 30.0),
            Self::Air60To30 if on.air_f >= 80.0 => or(90.0, 45.0),
            Self::Air60To30 => or(105.0, 60.0),
            Self::MildAir60 => or_if(on.air_f >= 65.0 && !slow, 60.0, 90.0),
            Self::CoolConcrete105 => or_if(on.concrete_f < 75.0, 105.0, 90.0),
        }
    }

    fn revolutions(self, on: &Conditions) -> Option<f64> {
        match self {
            Self::AstmC94To2013 => Some(300.0),
            Self::Retarder120 if !on.agitating => None,
            Self::Retarder120 => Some(or_if(on.retarder && on.concrete_f <= 86.0, 300.0, 250.0)),
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
