//! Which sites are near and far for the drivers of a plant, the same for all of them.

use super::last_loads::DriverLasts;
use crate::units::{PlaceId, PlantId};
use std::collections::BTreeMap;

/// The sites for which the drivers of a plant can load.
#[derive(Clone, Debug, PartialEq)]
pub struct PlantSites {
    /// Where they load.
    pub plant: PlantId,
    /// Each with the trip out in minutes, on the mean over these drivers; the nearest first.
    pub sites: Vec<(PlaceId, f64)>,
    /// Those of them that no other plant is nearer to; all, if there are none.
    pub own: Vec<(PlaceId, f64)>,
}

impl PlantSites {
    fn of(plant: PlantId, drivers: &[DriverLasts]) -> Self {
        let mut trips: BTreeMap<PlaceId, Vec<f64>> = BTreeMap::new();
        for lasts in drivers.iter().filter(|lasts| lasts.plant == plant) {
            for load in &lasts.loads {
                trips.entry(load.site).or_default().push(load.out_min);
            }
        }
        let mean = |(site, trips): (PlaceId, Vec<f64>)| {
            (site, trips.iter().sum::<f64>() / trips.len() as f64)
        };
        let mut sites: Vec<(PlaceId, f64)> = trips.into_iter().map(mean).collect();
        sites.sort_by(|a, b| a.1.total_cmp(&b.1));
        let own = sites.clone();
        Self { plant, sites, own }
    }

    /// Of all plants whose drivers are asked about.
    pub(super) fn of_all(
        plants: impl Iterator<Item = PlantId>,
        drivers: &[DriverLasts],
    ) -> Vec<Self> {
        let mut all: Vec<Self> = plants.map(|plant| Self::of(plant, drivers)).collect();
        let mut nearest: BTreeMap<PlaceId, f64> = BTreeMap::new();
        for (site, out) in all.iter().flat_map(|plant| &plant.sites) {
            let least = nearest.entry(*site).or_insert(*out);
            *least = least.min(*out);
        }
        for plant in &mut all {
            let own = plant
                .sites
                .iter()
                .filter(|(site, out)| *out <= nearest[site]);
            let own: Vec<_> = own.copied().collect();
            if !own.is_empty() {
                plant.own = own;
            }
        }
        all
    }

    /// Of its own sites the nearest, the one in the middle and the farthest, as far as they are three.
    pub fn spread(&self) -> [Option<(PlaceId, f64)>; 3] {
        let at = |place: usize| self.own.get(place).copied();
        match self.own.len() {
            0 | 1 => [at(0), None, None],
            2 => [at(0), None, at(1)],
            many => [at(0), at(many / 2), at(many - 1)],
        }
    }
}
