//! What loads weigh, and whether anybody looks.

use super::{Concrete, RoadTable};
use crate::concrete::CONCRETE_LB_PER_YD3;

impl Concrete {
    /// What a yd³ of this mix weighs, lb: its masses where mixes are described, else that of normal concrete.
    pub fn lb_per_yd3(&self, mix: &str) -> f64 {
        let mut mixes = self.material.iter().flat_map(|material| &material.mixes);
        let described = mixes.find(|described| described.name == mix);
        described.map_or(CONCRETE_LB_PER_YD3, |described| described.mix.lb_per_yd3())
    }
}

impl RoadTable {
    /// Whether some link has a weigh station.
    pub fn has_weigh_stations(&self) -> bool {
        let mut links = self.network.iter().flat_map(|network| &network.links);
        links.any(|link| link.weigh_station.is_some())
    }
}
