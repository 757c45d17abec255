//! The rack: a driver who reads the slump meter before the admixture is mixed in adds water that the load does not need.

use crate::units::Volume;

/// What happens at the rack, in shares of loads.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RackPractice {
    /// Share of loads whose reading is taken too early and answered with water, 0 to 1.
    pub misread: f64,
    /// The same where the ticket carries a warning, 0 to 1.
    pub misread_if_warned: f64,
    /// Share of the wet loads that are found at the rack; the others are rejected on site. 0 to 1.
    pub found: f64,
    /// Room in the drum that a dry-up takes.
    pub dry_up_room: Volume,
}

/// What became of a load at the rack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RackOutcome {
    /// As ordered.
    Fine,
    /// Too wet, and the drum has room: back to the bay for cement and fine aggregate.
    DryUp,
    /// Too wet, and the drum has no room: dumped and made again.
    MakeAgain,
    /// Too wet, and nobody has seen it: the site will.
    WetUnseen,
}

impl RackPractice {
    /// The outcome for a load with this much room left in the drum, with luck `u` in (0, 1) for the reading and `v` for its
    /// being found.
    pub fn outcome(&self, warned: bool, room: Volume, u: f64, v: f64) -> RackOutcome {
        let misread = if warned {
            self.misread_if_warned
        } else {
            self.misread
        };
        if u >= misread {
            RackOutcome::Fine
        } else if v >= self.found {
            RackOutcome::WetUnseen
        } else if room >= self.dry_up_room {
            RackOutcome::DryUp
        } else {
            RackOutcome::MakeAgain
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_warning_room_and_attention_decide() {
        let practice = RackPractice {
            misread: 0.2,
            misread_if_warned: 0.05,
            found: 0.75,
            dry_up_room: Volume::from_yd3(0.5),
        };
        let (room, none) = (Volume::from_yd3(0.5), Volume::ZERO);
        assert_eq!(practice.outcome(false, room, 0.2, 0.1), RackOutcome::Fine);
        assert_eq!(practice.outcome(true, room, 0.1, 0.1), RackOutcome::Fine);
        assert_eq!(practice.outcome(false, room, 0.1, 0.1), RackOutcome::DryUp);
        assert_eq!(
            practice.outcome(false, none, 0.1, 0.1),
            RackOutcome::MakeAgain
        );
        assert_eq!(
            practice.outcome(false, none, 0.1, 0.8),
            RackOutcome::WetUnseen
        );
    }
}
