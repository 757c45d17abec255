//! Why a load is found too wet: what makes most of the water that it has, or seems to have, beyond its target.
//!
//! The causes add up to the loads found wet at the rack and rejected as wet on site.

/// What made a load be found too wet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WetBy {
    /// Water added on a reading that did not see all of the HRWR.
    UnseenHrwr,
    /// Water added on a reading that saw all there was to see, or on site.
    AddedWater,
    /// More water on the aggregates than the batcher believed.
    Moisture,
    /// Concrete cooler than the plant reckoned with, or with more air: it slumps more.
    CoolOrAir,
    /// The reading, or the cone, shows more than there is.
    Reading,
}

/// What is found in a drum beyond the ticket, as water, gal; below zero: less.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BeyondTicket {
    /// Added for HRWR that was not seen.
    pub for_unseen_hrwr: f64,
    /// Added else.
    pub added: f64,
    /// On the aggregates beyond what was believed.
    pub moisture: f64,
    /// What cooler concrete and more air act like.
    pub cool_or_air: f64,
    /// What the reading shows beyond what is there.
    pub reading: f64,
}

impl WetBy {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::UnseenHrwr,
        Self::AddedWater,
        Self::Moisture,
        Self::CoolOrAir,
        Self::Reading,
    ];

    /// The cause of a load found too wet: the largest of what is found beyond the ticket, the first of equals.
    pub fn of(beyond: &BeyondTicket) -> Self {
        let parts = [
            (Self::UnseenHrwr, beyond.for_unseen_hrwr),
            (Self::AddedWater, beyond.added),
            (Self::Moisture, beyond.moisture),
            (Self::CoolOrAir, beyond.cool_or_air),
            (Self::Reading, beyond.reading),
        ];
        let mut most = parts[0];
        for part in &parts[1..] {
            if part.1 > most.1 {
                most = *part;
            }
        }
        most.0
    }

    /// In a few words: `by water to taste`.
    pub fn words(self) -> &'static str {
        match self {
            Self::UnseenHrwr => "by water for HRWR that the meter did not see",
            Self::AddedWater => "by water to taste",
            Self::Moisture => "by moisture on the aggregates",
            Self::CoolOrAir => "by concrete cooler, or with more air, than reckoned with",
            Self::Reading => "by an error of the reading",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{BeyondTicket, WetBy};

    #[test]
    fn the_most_water_is_the_cause() {
        let beyond = BeyondTicket {
            for_unseen_hrwr: 3.0,
            added: 1.0,
            moisture: 4.0,
            cool_or_air: -2.0,
            reading: 2.0,
        };
        assert_eq!(WetBy::of(&beyond), WetBy::Moisture);
        let watered = BeyondTicket {
            moisture: -4.0,
            ..beyond
        };
        assert_eq!(WetBy::of(&watered), WetBy::UnseenHrwr);
        let cool = BeyondTicket {
            moisture: 0.5,
            cool_or_air: 0.6,
            ..BeyondTicket::default()
        };
        assert_eq!(WetBy::of(&cool), WetBy::CoolOrAir);
        let misread = BeyondTicket {
            reading: 0.7,
            ..cool
        };
        assert_eq!(WetBy::of(&misread), WetBy::Reading);
    }
}
