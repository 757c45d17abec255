//! Trucks, drivers, plants and orders before anything has happened.

use super::super::state::{AfterBreak, Driver, Load, NOT_OFFERED, Order, Phase, Plant, Truck};
use crate::dispatch::Rank;
use crate::engine::{Entity, Luck};
use crate::hours::{Drivable, TourRecord};
use crate::roads::Haul;
use crate::units::{Millis, OrderId, PlaceId, PlantId, Purpose, SpotId, Volume};
use std::collections::VecDeque;

const NO_RANK: Rank = (0, 0);

pub(super) const FRESH_DRIVER: Driver = Driver {
    on_duty: false,
    away: false,
    reported: Millis::ZERO,
    shift_over: Millis::ZERO,
    day: 0,
    rested: Millis::ZERO,
    released: Millis::ZERO,
    stranded: Millis::ZERO,
    tours: TourRecord::SETTLED,
    beyond: Millis::ZERO,
    short: false,
    restart: None,
    in_row: 0,
    last_day: i64::MIN,
};

pub(super) fn fresh_truck(luck: &Luck) -> Truck {
    let nothing = Load {
        order: OrderId(0),
        spot: SpotId(0),
        plant: PlantId(0),
        number: 0,
        attempt: 0,
        volume: Volume::ZERO,
        before: Volume::ZERO,
        due: Millis::ZERO,
        ready: Millis::ZERO,
        send: Millis::ZERO,
        outlet: 0,
        batched: Millis::ZERO,
        reused: Volume::ZERO,
        dry_up: false,
        wet: false,
        spare: Volume::ZERO,
        given_up: false,
        lateness: None,
        overridden: false,
        redirected: false,
        luck: luck.block(Purpose::Load, Entity(0), 0, 0),
    };
    Truck {
        phase: Phase::Off,
        driver: None,
        next_driver: None,
        slot: NOT_OFFERED,
        load: nothing,
        promised: false,
        full: false,
        returned: None,
        since: Millis::ZERO,
        begun: Millis::ZERO,
        drive: (PlaceId(0), Haul::Empty),
        rank: NO_RANK,
        moves: 0,
        near_at: Millis::NEVER,
        limit: Drivable {
            until: Millis::NEVER,
            by: None,
        },
        after_break: AfterBreak::Nothing,
        fetch: None,
        home_fitted: true,
        out_excess: Millis::ZERO,
        load_set: false,
        fetches: 0,
    }
}

pub(super) fn fresh_plant() -> Plant {
    Plant {
        span: 0,
        stayed_until: Millis::ZERO,
        kept_until: Millis::ZERO,
        queue: VecDeque::new(),
        bays_busy: 0,
        batcher_busy: false,
        batcher_queue: VecDeque::new(),
        rack_busy: 0,
        rack_queue: VecDeque::new(),
        down: 0,
        back_at: Millis::ZERO,
        outages: 0,
    }
}

pub(super) fn fresh_order() -> Order {
    Order {
        volume: Volume::ZERO,
        booked: Volume::ZERO,
        reached: Volume::ZERO,
        balance_called: false,
        promised: Volume::ZERO,
        placed: Volume::ZERO,
        spared: Volume::ZERO,
        pace: 1.0,
        hold_drawn: None,
        hold_over: false,
        held_until: Millis::ZERO,
        held_from: Millis::ZERO,
        ideal_hold: None,
        next_number: 0,
        ahead: 0,
        waiting: false,
        ask_at: Millis::NEVER,
        look_again: Millis::ZERO,
        rank: NO_RANK,
        again: Vec::new(),
        arrived: VecDeque::new(),
        arrivals: 0,
        came: Millis::ZERO,
        known_loads: 0,
        begun: false,
        closed: false,
        opens: Millis::ZERO,
        turn: 0,
        moved: Millis::ZERO,
        ideal_done: 0,
    }
}
