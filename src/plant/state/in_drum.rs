//! What is in a drum, and how it changes by turning, water and what is put on top.

use crate::concrete::{
    BeyondTicket, DryUp, Load, MIXING_RPM, Masses, Mix, WATER_LB_PER_GAL, WetBy,
    water_between_gal_yd3,
};
use crate::units::Millis;

/// Drum speed on the road, in queues and on site, rpm: haul is below 2 rpm (NRMCA, "Delivery of ready mixed concrete"); the
/// loss per minute is the same below.
const AGITATING_RPM: f64 = 2.0;

/// Readings above this say little of the water: the curve is flat there.
pub(in crate::plant) const READABLE_IN: f64 = 10.0;

/// What is in a drum.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) struct InDrum {
    pub(in crate::plant) concrete: Load,
    /// The mix as the yard sees it: without the HRWR that goes in on site, until it does.
    pub(in crate::plant) mix: Mix,
    /// Up to when the drum has been turned in the reckoning.
    pub(in crate::plant) turned: Millis,
    /// At mixing speed until then.
    pub(in crate::plant) mixing_until: Millis,
    /// HRWR that goes in on site, lb.
    pub(in crate::plant) hrwr_to_come_lb: f64,
    /// Water added since batching that is still in it, lb.
    pub(in crate::plant) added_lb: f64,
    /// Of it, what was added for HRWR that the meter had not seen, lb.
    pub(in crate::plant) for_unseen_hrwr_lb: f64,
    /// Water and binder in it as the ticket has them, lb: without the aggregates' error.
    pub(in crate::plant) ticket: (f64, f64),
    /// What the check at the rack has come to.
    pub(in crate::plant) verdict: Verdict,
    pub(in crate::plant) seen: Seen,
    /// Dry-ups so far.
    pub(in crate::plant) dry_ups: u32,
    pub(in crate::plant) retempered: bool,
}

impl InDrum {
    /// Nothing.
    pub(in crate::plant) fn empty(mix: Mix) -> Self {
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
    pub(in crate::plant) fn turn_to(&mut self, now: Millis, concrete_f: f64) {
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

    pub(in crate::plant) fn add_water(&mut self, gal: f64) {
        self.concrete.add_water(&self.mix, gal);
        self.added_lb += gal * WATER_LB_PER_GAL;
        self.ticket.0 += gal * WATER_LB_PER_GAL;
    }

    /// Water that the ticket leaves up to the mix's largest w/c, gal.
    pub(in crate::plant) fn ticket_leaves_gal(&self) -> f64 {
        let (water, binder) = self.ticket;
        ((self.mix.most_wc() * binder - water) / WATER_LB_PER_GAL).max(0.0)
    }

    /// Of everything in it this share is left, 0 to 1.
    pub(in crate::plant) fn keeps(&mut self, share: f64) {
        self.added_lb *= share;
        self.for_unseen_hrwr_lb *= share;
        self.ticket.0 *= share;
        self.ticket.1 *= share;
    }

    /// Why it is found too wet, at this slump.
    pub(in crate::plant) fn wet_by(&self, found_in: f64) -> WetBy {
        let slump_in = self.concrete.slump_in(&self.mix);
        let misread_gal_yd3 =
            water_between_gal_yd3(slump_in.min(READABLE_IN), found_in.min(READABLE_IN));
        let moisture_lb = self.concrete.in_drum().water_lb - self.ticket.0;
        let beyond = BeyondTicket {
            for_unseen_hrwr: self.for_unseen_hrwr_lb / WATER_LB_PER_GAL,
            added: (self.added_lb - self.for_unseen_hrwr_lb) / WATER_LB_PER_GAL,
            moisture: moisture_lb / WATER_LB_PER_GAL,
            cool_or_air: self.concrete.air_as_water_gal(&self.mix)
                - self.concrete.lost_gal(&self.mix),
            reading: misread_gal_yd3 * self.concrete.volume_yd3(&self.mix),
        };
        WetBy::of(&beyond)
    }

    /// Freshly batched on top of what is left of an older load.
    pub(in crate::plant) fn on_top_of(self, under: &Self) -> Self {
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

    pub(in crate::plant) fn dry_up(&mut self, needed: &DryUp) {
        let before = self.concrete.volume_yd3(&self.mix);
        self.concrete.dry_up(&self.mix, needed);
        if before > 0.0 {
            self.keeps((1.0 - needed.dump.yd3() / before).max(0.0));
        }
        self.ticket.1 += needed.masses.cement_lb;
        self.dry_ups += 1;
    }
}

/// What the check at the rack comes to.
#[derive(Clone, Copy, Debug)]
pub(in crate::plant) enum Verdict {
    /// Out it goes.
    Fine,
    /// Back to the bay, for so much.
    DryUp(DryUp),
    /// Too wet beyond help.
    MakeAgain,
}

/// What was seen and done at the rack.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::plant) struct Seen {
    pub(in crate::plant) reading_in: f64,
    pub(in crate::plant) watered_gal: f64,
    pub(in crate::plant) waited_min: f64,
    pub(in crate::plant) wet: Option<WetBy>,
}
