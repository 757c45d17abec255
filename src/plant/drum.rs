//! The concrete in a truck's drum, computed: what is batched, how it ages, where it goes. What is done at the rack and what
//! the site makes of it stand in files of their own.

mod rack;
mod site;

use super::event::{Event, Observer};
use super::material::{Components, MaterialStep};
use super::state::Load as Promised;
use super::world::World;
use crate::concrete::{
    AirTemperature, Consistency, Drum, DryUp, Load, Masses, Mix, Moisture, SlumpTarget,
    WATER_LB_PER_GAL, concrete_f,
};
use crate::dispatch::HrwrAt;
use crate::engine::{Block, Entity, Purpose};
use crate::scenario::{Material, Scenario};
use crate::units::{Millis, OrderId, TruckId, Volume};
pub(super) use rack::Verdict;
pub(super) use site::{OnSite, mixing_on_site_min};

/// Draws that belong to the batching of an attempt at a load, and to what the site makes of it.
const BATCH: Purpose = Purpose(50);
/// Draws that belong to one stay at the rack of an attempt at a load.
const RACK: Purpose = Purpose(51);
/// Draws that belong to a day: the level of its air temperature.
const AIR: Purpose = Purpose(52);

/// Lanes of the block of a batch.
mod lane {
    pub(super) const FINE: usize = 0;
    pub(super) const COARSE: usize = 1;
    pub(super) const AIR: usize = 2;
    pub(super) const WRONG_MIX: usize = 3;
    pub(super) const TESTED: usize = 4;
    pub(super) const FIRST_TEST: usize = 5;
    pub(super) const SECOND_TEST: usize = 6;
}

/// Drum speed on the road, in queues and on site, rpm: haul is below 2 rpm (NRMCA, "Delivery of ready mixed concrete"); the
/// loss per minute is the same below.
const AGITATING_RPM: f64 = 2.0;

/// What the drums of a scenario are reckoned with.
#[derive(Clone, Debug)]
pub(super) struct DrumPlan {
    pub(super) material: Material,
    /// By order: position of its mix.
    mixes: Vec<usize>,
    /// By driver.
    care: Vec<f64>,
}

impl DrumPlan {
    /// None where the scenario describes no mixes.
    pub(super) fn new(scenario: &Scenario) -> Option<Self> {
        let material = scenario.concrete.material.clone()?;
        let position = |name: &str| {
            let found = material.mixes.iter().position(|mix| mix.name == name);
            found.expect("the reader has seen that every mix is described")
        };
        let ordered = scenario.orders.iter().map(|order| &order.mix);
        let endless = scenario.endless.iter().map(|order| &order.mix);
        Some(Self {
            mixes: ordered.chain(endless).map(|mix| position(mix)).collect(),
            care: scenario.drivers.iter().map(|driver| driver.care).collect(),
            material,
        })
    }
}

/// What is in a drum.
#[derive(Clone, Copy, Debug)]
pub(super) struct InDrum {
    concrete: Load,
    /// The mix as the yard sees it: without the HRWR that goes in on site, until it does.
    mix: Mix,
    /// Up to when the drum has been turned in the reckoning.
    turned: Millis,
    /// At mixing speed until then.
    mixing_until: Millis,
    /// HRWR that goes in on site, lb.
    hrwr_to_come_lb: f64,
    /// Water added since batching that is still in it, lb.
    added_lb: f64,
    /// Water and binder in it as the ticket has them, lb: without the aggregates' error.
    ticket: (f64, f64),
    /// What the check at the rack has come to.
    verdict: rack::Verdict,
    seen: rack::Seen,
    /// Dry-ups so far.
    dry_ups: u32,
    retempered: bool,
}

impl InDrum {
    /// Nothing.
    fn empty(mix: Mix) -> Self {
        Self {
            concrete: Load::batched(Masses::default(), 0.0),
            mix,
            turned: Millis::ZERO,
            mixing_until: Millis::ZERO,
            hrwr_to_come_lb: 0.0,
            added_lb: 0.0,
            ticket: (0.0, 0.0),
            verdict: rack::Verdict::Fine,
            seen: rack::Seen::default(),
            dry_ups: 0,
            retempered: false,
        }
    }

    /// Turns the drum up to this moment: at mixing speed as long as that was asked for, then agitating.
    fn turn_to(&mut self, now: Millis, concrete_f: f64) {
        let mixed = self.mixing_until.min(now).max(self.turned);
        let mixing = (mixed - self.turned).minutes();
        if mixing > 0.0 {
            self.concrete
                .turn(mixing, crate::concrete::MIXING_RPM, concrete_f);
        }
        let agitating = (now - mixed).minutes();
        if agitating > 0.0 {
            self.concrete.turn(agitating, AGITATING_RPM, concrete_f);
        }
        self.turned = self.turned.max(now);
    }

    /// What the concrete in it weighs, lb.
    pub(super) fn weight_lb(&self) -> f64 {
        self.concrete.weight_lb()
    }

    fn add_water(&mut self, gal: f64) {
        self.concrete.add_water(gal);
        self.added_lb += gal * WATER_LB_PER_GAL;
        self.ticket.0 += gal * WATER_LB_PER_GAL;
    }

    /// Water that the ticket leaves up to the mix's largest w/c, gal.
    fn ticket_leaves_gal(&self) -> f64 {
        let (water, binder) = self.ticket;
        ((self.mix.most_wc() * binder - water) / WATER_LB_PER_GAL).max(0.0)
    }

    /// Of everything in it this share is left, 0 to 1.
    fn keeps(&mut self, share: f64) {
        self.added_lb *= share;
        self.ticket.0 *= share;
        self.ticket.1 *= share;
    }

    /// Freshly batched on top of what is left of an older load.
    fn on_top_of(self, under: &Self) -> Self {
        Self {
            concrete: self.concrete.on_top_of(&under.concrete, &self.mix),
            added_lb: self.added_lb + under.added_lb,
            ticket: (
                self.ticket.0 + under.ticket.0,
                self.ticket.1 + under.ticket.1,
            ),
            ..self
        }
    }

    fn dry_up(&mut self, needed: &DryUp) {
        let before = self.concrete.volume_yd3(&self.mix);
        self.concrete.dry_up(&self.mix, needed);
        if before > 0.0 {
            self.keeps((1.0 - needed.dump.yd3() / before).max(0.0));
        }
        self.ticket.1 += needed.masses.cement_lb;
        self.dry_ups += 1;
    }
}

impl<'p> World<'p> {
    /// What drums are reckoned with, where they are.
    #[inline]
    pub(super) fn drum_plan(&self) -> Option<&'p DrumPlan> {
        self.plan.drums.as_ref()
    }

    /// An empty drum for each truck, where they are reckoned; once for a world.
    pub(super) fn empty_drums(plan: &super::Plan) -> Vec<InDrum> {
        match &plan.drums {
            Some(drums) => vec![InDrum::empty(drums.material.mixes[0].mix); plan.trucks.len()],
            None => Vec::new(),
        }
    }

    /// Keeps what is in a drum as it is before the check at the rack, which is gone through at once: a fork made during the
    /// check goes through it anew.
    pub(super) fn keep_drum(&mut self, truck: TruckId) {
        if let Some(drum) = self.drums.get(truck.at()) {
            self.unchecked[truck.at()] = *drum;
        }
    }

    /// Temperature of the concrete now, °F.
    fn concrete_f(&self, drums: &DrumPlan) -> f64 {
        concrete_f(self.air_f(drums), drums.material.concrete_at_70_f)
    }

    /// Air temperature now, °F.
    fn air_f(&self, drums: &DrumPlan) -> f64 {
        self.air_today(drums).at(self.now)
    }

    fn air_today(&self, drums: &DrumPlan) -> AirTemperature {
        let material = &drums.material;
        if material.air_sd_f == 0.0 {
            return material.air;
        }
        let today = self.luck_told_at(Millis::midnight(self.now.day()));
        let luck = today.block(AIR, Entity(0), self.now.day() as u32, 0);
        material.air.drawn(material.air_sd_f, luck.uniform(0))
    }

    /// The block of this purpose for a load; `more` tells blocks of one attempt apart, 0 to 3.
    fn load_luck(&self, purpose: Purpose, load: &Promised, more: u32) -> Block {
        let entity = self.plan.orders[load.order.at()].entity;
        self.luck
            .block(purpose, entity, load.number, load.attempt << 2 | more)
    }

    /// The slump that the site takes of this load.
    fn site_slump(&self, drums: &DrumPlan, load: &Promised) -> SlumpTarget {
        drums.material.mixes[drums.mixes[load.order.at()]].site_slump
    }

    fn tell_step<O: Observer>(&self, truck: TruckId, step: MaterialStep, observer: &mut O) {
        let order = self.trucks[truck.at()].load.order;
        self.tell(observer, Event::Material { order, truck, step });
    }

    /// A load leaves the bay: batched with the water that is really on its aggregates, or dried up.
    pub(super) fn fill_drum<O: Observer>(&mut self, truck: TruckId, observer: &mut O) {
        let Some(drums) = self.drum_plan() else {
            return;
        };
        if self.trucks[truck.at()].load.dry_up {
            self.fill_dry_up(truck, drums, observer);
        } else {
            self.batch(truck, drums, observer);
        }
    }

    fn batch<O: Observer>(&mut self, truck: TruckId, drums: &DrumPlan, observer: &mut O) {
        let load = self.trucks[truck.at()].load;
        let fresh = load.fresh();
        let luck = self.load_luck(BATCH, &load, 0);
        let material = &drums.material;
        let water = &material.moisture;
        let left = if self.policy.yard.probe {
            water.probe_share
        } else {
            1.0
        };
        let mut mix = material.mixes[drums.mixes[load.order.at()]].mix;
        let mut hrwr_to_come_lb = 0.0;
        if self.policy.yard.hrwr == HrwrAt::OnSite {
            hrwr_to_come_lb = mix.per_yd3.hrwr_lb * fresh.yd3();
            mix = without_hrwr(mix);
        }
        let masses = mix.batched(
            fresh,
            Moisture::drawn(water.fine, left * water.fine_sd, luck.uniform(lane::FINE)),
            Moisture::drawn(
                water.coarse,
                left * water.coarse_sd,
                luck.uniform(lane::COARSE),
            ),
        );
        let air = mix
            .air
            .drawn(material.on_site.air_sd, luck.uniform(lane::AIR));
        let mut concrete = Load::batched(masses, air);
        // The plant reckons with the weather as it is written; the day has its own level.
        let at_70_f = material.concrete_at_70_f;
        let reckoned_f = concrete_f(material.air.at(self.now), at_70_f);
        concrete.warmed(reckoned_f, self.concrete_f(drums));
        let ordered = mix.per_yd3 * fresh.yd3();
        let drum = InDrum {
            concrete,
            turned: self.now,
            hrwr_to_come_lb,
            ticket: (ordered.water_lb, ordered.cement_lb + ordered.binder_lb),
            ..InDrum::empty(mix)
        };
        self.drums[truck.at()] = if load.reused > Volume::ZERO {
            let mut under = self.drums[truck.at()];
            under.turn_to(self.now, self.concrete_f(drums));
            let left = under.concrete.in_drum();
            self.tell_step(truck, MaterialStep::Under(left.into()), observer);
            drum.on_top_of(&under)
        } else {
            drum
        };
        self.tell_step(truck, MaterialStep::Batched(masses.into()), observer);
    }

    fn fill_dry_up<O: Observer>(&mut self, truck: TruckId, drums: &DrumPlan, observer: &mut O) {
        let concrete_f = self.concrete_f(drums);
        let now = self.now;
        let drum = &mut self.drums[truck.at()];
        let rack::Verdict::DryUp(needed) = drum.verdict else {
            return;
        };
        drum.turn_to(now, concrete_f);
        let dumped = drum.concrete.ledger.dumped;
        drum.dry_up(&needed);
        let dumped = drum.concrete.ledger.dumped - dumped;
        debug_assert!(drum.concrete.ledger.balances(), "masses come from nowhere");
        if dumped.total_lb() > 0.0 {
            let yd3 = needed.dump.yd3() as f32;
            self.tell_step(truck, MaterialStep::PartDumped { yd3 }, observer);
            self.tell_step(truck, MaterialStep::Dumped(dumped.into()), observer);
        }
        let step = MaterialStep::DriedUp {
            cement_lb: needed.masses.cement_lb as f32,
            fine_lb: needed.masses.fine_lb as f32,
        };
        self.tell_step(truck, step, observer);
    }

    /// Nobody takes what is in the drum: it is dumped, now or at the plant.
    pub(super) fn dump_drum<O: Observer>(&mut self, truck: TruckId, observer: &mut O) {
        if self.drum_plan().is_none() {
            return;
        }
        let dumped = self.drums[truck.at()].concrete.dump_rest();
        self.drum_is_empty(truck);
        self.tell_step(truck, MaterialStep::Dumped(dumped.into()), observer);
    }

    /// Concrete that came back and is not reused is got rid of at the plant.
    pub(super) fn dump_returned<O: Observer>(
        &mut self,
        truck: TruckId,
        order: OrderId,
        observer: &mut O,
    ) {
        if self.drum_plan().is_none() {
            return;
        }
        let dumped = self.drums[truck.at()].concrete.dump_rest();
        self.drum_is_empty(truck);
        let step = MaterialStep::Dumped(dumped.into());
        self.tell(observer, Event::Material { order, truck, step });
    }

    /// The load is discharged: what was ordered is placed. A dry-up makes more than that; the surplus comes back. What is not
    /// needed stays in the drum where it may be reused.
    pub(super) fn place_drum<O: Observer>(&mut self, truck: TruckId, observer: &mut O) {
        if self.drum_plan().is_none() {
            return;
        }
        self.tell_strength(truck, observer);
        let load = &self.trucks[truck.at()].load;
        let (volume, spare) = (load.volume - load.spare, load.spare);
        let kept = self.trucks[truck.at()].returned.is_some();
        let drum = &mut self.drums[truck.at()];
        // What is not needed goes back, and is counted as such; what a dry-up has added beyond the load is dumped.
        let surplus_yd3 = if drum.dry_ups > 0 {
            (drum.concrete.volume_yd3(&drum.mix) - (volume + spare).yd3()).max(0.0)
        } else {
            0.0
        };
        let surplus = surplus_yd3 > 0.0 || spare > Volume::ZERO;
        let all_yd3 = drum.concrete.volume_yd3(&drum.mix);
        let placed = if surplus {
            drum.concrete.place(&drum.mix, volume)
        } else {
            drum.concrete.place_rest()
        };
        let dumped = match kept {
            false => surplus.then(|| drum.concrete.dump_rest()),
            true => (surplus_yd3 > 0.0).then(|| {
                let surplus = Volume::from_yd3(surplus_yd3);
                drum.concrete.dump(&drum.mix, surplus)
            }),
        };
        if kept {
            drum.keeps(drum.concrete.volume_yd3(&drum.mix) / all_yd3);
            debug_assert!(drum.concrete.ledger.balances(), "masses come from nowhere");
        } else {
            self.drum_is_empty(truck);
        }
        self.tell_step(truck, MaterialStep::Placed(placed.into()), observer);
        if let Some(dumped) = dumped {
            let yd3 = surplus_yd3 as f32;
            if surplus_yd3 > 0.0 {
                self.tell_step(truck, MaterialStep::PartDumped { yd3 }, observer);
            }
            self.tell_step(truck, MaterialStep::Dumped(dumped.into()), observer);
        }
    }

    /// Accepted, and a liability: strength below the specified one that the added water took away.
    fn tell_strength<O: Observer>(&self, truck: TruckId, observer: &mut O) {
        let drum = &self.drums[truck.at()];
        let masses = drum.concrete.in_drum();
        let binder = masses.cement_lb + masses.binder_lb;
        if binder <= 0.0 {
            return;
        }
        let psi = drum.concrete.psi(&drum.mix);
        let without = drum.mix.law.psi((masses.water_lb - drum.added_lb) / binder);
        let specified = drum.mix.specified_psi;
        if psi < specified && without >= specified {
            let (psi, lost_psi) = (psi as f32, (without - psi) as f32);
            let step = MaterialStep::BelowStrength { psi, lost_psi };
            self.tell_step(truck, step, observer);
        }
    }

    fn drum_is_empty(&self, truck: TruckId) {
        let ledger = &self.drums[truck.at()].concrete.ledger;
        debug_assert!(
            ledger.balances()
                && ledger.in_drum().total_lb().abs() <= 1e-6 * ledger.came_in_lb().max(1.0),
            "came in = placed + dumped: {ledger:?}"
        );
    }

    /// The drum as a mixer, with the room that the rule keeps.
    fn mixer(&self, truck: TruckId) -> Drum {
        Drum::rated(self.truck_views[truck.at()].capacity, self.policy.room_kept)
    }
}

/// The mix as it is before its HRWR goes in.
fn without_hrwr(mut mix: Mix) -> Mix {
    let bare = mix.without_hrwr();
    mix.slump.target_in = bare.slump_in();
    // Concrete that is stiffer than zero slump keeps the reckoning of its water.
    debug_assert!(bare >= Consistency::from_slump(0.0) || mix.slump.target_in == 0.0);
    mix.per_yd3.hrwr_lb = 0.0;
    mix
}

impl MaterialStep {
    /// The masses of a step that moves all components.
    pub fn components(&self) -> Option<Components> {
        match self {
            Self::Under(lb) | Self::Batched(lb) | Self::Dumped(lb) | Self::Placed(lb) => Some(*lb),
            _ => None,
        }
    }
}
