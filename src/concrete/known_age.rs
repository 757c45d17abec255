//! The age limit as those know it who send loads: the one that the site will hold a load to, at the temperature that is
//! written for the hour at which it comes.
//!
//! No load is sent that would be too old on site, by the minutes that drivers reckon with, whatever the desk believes: batchers
//! know which sites lie too far. With `mixes` the desk, the drivers and redirects know the table's shortest limit in the hour
//! in which the load comes, in the air that is written for it and as much warmer or colder as the day is, by the mix's
//! retarder. Up to the arrival where the table runs so far, else to the end of the stay. Revolutions are not reckoned with, and
//! nobody counts on a waiver. An order may have a limit of its own, and concrete with a stabilizer may be older by its minutes.

use super::{AgeLimit, AgeTable, AirTemperature, ConcreteTemperature, Conditions, Until};
use crate::units::Millis;

/// The limit of a contract, ready to be looked up while loads are sent.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownAge {
    minutes: Minutes,
    until: Until,
    /// Temperature of the concrete by that of the air, which some tables ask for.
    concrete: ConcreteTemperature,
}

#[derive(Clone, Debug, PartialEq)]
enum Minutes {
    /// The same for every load.
    Written(Millis),
    /// By a table.
    Table {
        table: AgeTable,
        /// The warmest that the air is written to be in each hour of the day, °F.
        warmest_f: [f64; 24],
        /// Whether the air changes anything.
        by_air: bool,
    },
}

/// What an order says of the age of its loads, beside the limit that holds for all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OrderAge {
    /// In place of the minutes of all, to the end of discharge. None: those of all.
    pub limit: Option<Millis>,
    /// How much longer a stabilizer, an extended-set admixture, keeps its concrete.
    pub stabilized: Millis,
}

impl OrderAge {
    /// Nothing of its own.
    pub const USUAL: Self = Self {
        limit: None,
        stabilized: Millis::ZERO,
    };

    /// Its minutes, and up to where they run, where those of all are these.
    pub fn of(&self, all: Millis, until: Until) -> (Millis, Until) {
        let (limit, until) = match self.limit {
            Some(own) => (own, Until::Discharged),
            None => (all, until),
        };
        ((limit + self.stabilized).min(Millis::NEVER), until)
    }
}

/// When and how a load comes on site.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coming {
    /// Start of batching.
    pub batched: Millis,
    /// Arrival on site.
    pub arrives: Millis,
    /// The stay there, up to the end of discharge at least.
    pub stay: Millis,
    /// Whether its mix has a retarder.
    pub retarder: bool,
    /// What its order says of its age.
    pub order: OrderAge,
    /// How much warmer the day is than written, °F.
    pub warmer_f: f64,
}

impl KnownAge {
    /// These minutes, to the end of discharge.
    pub fn written(limit: Millis) -> Self {
        Self {
            minutes: Minutes::Written(limit),
            until: Until::Discharged,
            concrete: ConcreteTemperature::USUAL,
        }
    }

    /// By a table, or by the minutes that are written in place of its own.
    pub fn of_table(
        table: AgeTable,
        in_place: Option<Millis>,
        air: AirTemperature,
        concrete: ConcreteTemperature,
    ) -> Self {
        let at = |air_f: f64, retarder: bool| table.limit(&conditions(air_f, air_f, retarder));
        // Frost and the worst heat: no table has a step that lies beyond both.
        let by_air = [false, true]
            .iter()
            .any(|retarder| at(-40.0, *retarder).age != at(140.0, *retarder).age);
        let minutes = match in_place {
            Some(limit) => Minutes::Written(limit),
            None => Minutes::Table {
                table,
                warmest_f: std::array::from_fn(|hour| warmest_f(air, hour as i64)),
                by_air,
            },
        };
        Self {
            minutes,
            until: at(70.0, false).until,
            concrete,
        }
    }

    /// Whether it depends on the air.
    pub fn by_air(&self) -> bool {
        matches!(self.minutes, Minutes::Table { by_air: true, .. })
    }

    /// Up to where the minutes run.
    pub fn until(&self) -> Until {
        self.until
    }

    /// The shortest limit of the hour in which the load comes on site, on a day that is `warmer_f` warmer than written, °F.
    pub fn limit(&self, arrives: Millis, retarder: bool, warmer_f: f64) -> Millis {
        match &self.minutes {
            Minutes::Written(limit) => *limit,
            Minutes::Table {
                table, warmest_f, ..
            } => {
                let hour = arrives.0.rem_euclid(Millis::DAY.0) / Millis::HOUR.0;
                let air_f = warmest_f[hour as usize] + warmer_f;
                let AgeLimit { age, .. } =
                    table.limit(&conditions(air_f, self.concrete.at(air_f), retarder));
                age
            }
        }
    }

    /// Whether such a load would be too old on site. A waiver is nothing to plan with: whether the load can be placed without
    /// water is seen there.
    pub fn passed_by(&self, load: &Coming) -> bool {
        load.arrives > self.latest(load)
    }

    /// The last moment at which it may come on site, by the limit of the hour for which it is reckoned to come.
    pub fn latest(&self, load: &Coming) -> Millis {
        let (too_old, until) = self.ends(load);
        match until {
            Until::Discharged => too_old - load.stay,
            Until::Delivered => too_old,
        }
    }

    /// When such a load is too old.
    pub fn too_old_from(&self, load: &Coming) -> Millis {
        self.ends(load).0
    }

    fn ends(&self, load: &Coming) -> (Millis, Until) {
        let all = self.limit(load.arrives, load.retarder, load.warmer_f);
        let (limit, until) = load.order.of(all, self.until);
        (load.batched + limit, until)
    }
}

fn conditions(air_f: f64, concrete_f: f64, retarder: bool) -> Conditions {
    Conditions {
        air_f,
        concrete_f,
        retarder,
        agitating: true,
    }
}

/// The warmest minute of an hour of the day.
fn warmest_f(air: AirTemperature, hour: i64) -> f64 {
    let minute = |minute: i64| air.at(Millis(hour * Millis::HOUR.0 + minute * Millis::MINUTE.0));
    (0..=60).map(minute).fold(f64::NEG_INFINITY, f64::max)
}
