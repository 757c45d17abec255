//! What is in a drum, and how it changes by turning, water and what is put on top.

use super::rack::{READABLE_IN, Seen, Verdict};
use crate::concrete::{
    BeyondTicket, DryUp, Load, MIXING_RPM, Masses, Mix, WATER_LB_PER_GAL, WetBy,
    water_between_gal_yd3,
};
use crate::units::Millis;

/// Drum speed on the road, in queues and on site, rpm: haul is below 2 rpm (NRMCA, "Delivery of ready mixed concrete"); the
/// loss per minute is the same below.
const AGITATING_RPM: f64 = 2.0;

/// What is in a drum.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct InDrum {
    pub(super) concrete: Load,
    /// The mix as the yard sees it: without the HRWR that goes in on site, until it does.
    pub(super) mix: Mix,
    /// Up to when the drum has been turned in the reckoning.
    pub(super) turned: Millis,
    /// At mixing speed until then.
    pub(super) mixing_until: Millis,
    /// HRWR that goes in on site, lb.
    pub(super) hrwr_to_come_lb: f64,
    /// Water added since batching that is still in it, lb.
    pub(super) added_lb: f64,
    /// Of it, what was added for HRWR that the meter had not seen, lb.
    pub(super) for_unseen_hrwr_lb: f64,
    /// Water and binder in it as the ticket has them, lb: without the aggregates' error.
    pub(super) ticket: (f64, f64),
    /// What the check at the rack has come to.
    pub(super) verdict: Verdict,
    pub(super) seen: Seen,
    /// Dry-ups so far.
    pub(super) dry_ups: u32,
    pub(super) retempered: bool,
}

impl InDrum {
    /// Nothing.
    pub(super) fn empty(mix: Mix) -> Self {
        Self {
            concrete: Load::batched(Masses::default(), 0.0),
            mix,
            turned: Millis::ZERO,
            mixing_until: Millis::ZERO,
            hrwr_to_come_lb: 0.0,
            added_lb: 0.0,
            for_unseen_hrwr_lb: 0.0,
            ticket: (0.0, 0.0),
            verdict: Verdict::Fine,
            seen: Seen::default(),
            dry_ups: 0,
            retempered: false,
        }
    }

    /// Turns the drum up to this moment: at mixing speed as long as that was asked for, then agitating.
    pub(super) fn turn_to(&mut self, now: Millis, concrete_f: f64) {
        let mixed = self.mixing_until.min(now).max(self.turned);
        let mixing = (mixed - self.turned).minutes();
        if mixing > 0.0 {
            self.concrete.turn(mixing, MIXING_RPM, concrete_f);
        }
        let agitating = (now - mixed).minutes();
        if agitating > 0.0 {
            self.concrete.turn(agitating, AGITATING_RPM, concrete_f);
        }
        self.turned = self.turned.max(now);
    }

    /// What the concrete in it weighs, lb.
    pub(in crate::plant) fn weight_lb(&self) -> f64 {
        self.concrete.weight_lb()
    }

    pub(super) fn add_water(&mut self, gal: f64) {
        self.concrete.add_water(gal);
        self.added_lb += gal * WATER_LB_PER_GAL;
        self.ticket.0 += gal * WATER_LB_PER_GAL;
    }

    /// Water that the ticket leaves up to the mix's largest w/c, gal.
    pub(super) fn ticket_leaves_gal(&self) -> f64 {
        let (water, binder) = self.ticket;
        ((self.mix.most_wc() * binder - water) / WATER_LB_PER_GAL).max(0.0)
    }

    /// Of everything in it this share is left, 0 to 1.
    pub(super) fn keeps(&mut self, share: f64) {
        self.added_lb *= share;
        self.for_unseen_hrwr_lb *= share;
        self.ticket.0 *= share;
        self.ticket.1 *= share;
    }

    /// Why it is found too wet, at this slump.
    pub(super) fn wet_by(&self, found_in: f64) -> WetBy {
        let slump_in = self.concrete.slump_in(&self.mix);
        let misread_gal_yd3 =
            water_between_gal_yd3(slump_in.min(READABLE_IN), found_in.min(READABLE_IN));
        let moisture_lb = self.concrete.in_drum().water_lb - self.ticket.0;
        let beyond = BeyondTicket {
            for_unseen_hrwr: self.for_unseen_hrwr_lb / WATER_LB_PER_GAL,
            added: (self.added_lb - self.for_unseen_hrwr_lb) / WATER_LB_PER_GAL,
            moisture: moisture_lb / WATER_LB_PER_GAL,
            cool: -self.concrete.lost_gal(&self.mix),
            reading: misread_gal_yd3 * self.concrete.volume_yd3(&self.mix),
        };
        WetBy::of(&beyond)
    }

    /// Freshly batched on top of what is left of an older load.
    pub(super) fn on_top_of(self, under: &Self) -> Self {
        Self {
            concrete: self.concrete.on_top_of(&under.concrete, &self.mix),
            added_lb: self.added_lb + under.added_lb,
            for_unseen_hrwr_lb: self.for_unseen_hrwr_lb + under.for_unseen_hrwr_lb,
            ticket: (
                self.ticket.0 + under.ticket.0,
                self.ticket.1 + under.ticket.1,
            ),
            ..self
        }
    }

    pub(super) fn dry_up(&mut self, needed: &DryUp) {
        let before = self.concrete.volume_yd3(&self.mix);
        self.concrete.dry_up(&self.mix, needed);
        if before > 0.0 {
            self.keeps((1.0 - needed.dump.yd3() / before).max(0.0));
        }
        self.ticket.1 += needed.masses.cement_lb;
        self.dry_ups += 1;
    }
}
