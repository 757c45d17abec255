//! Which plants are still to be looked at, while all idle drivers are.
//!
//! Among a thousand trucks hundreds may stand idle when an order is done, and each asks the same of its plant.

use crate::units::PlantId;

/// While all idle drivers are looked at: the plants that need not be looked at again. Nobody is left there who is not needed, until a
/// driver takes a truck.
#[derive(Clone, Debug, Default)]
pub(super) struct PlantsLeft {
    on: bool,
    done: Vec<Option<PlantId>>,
}

impl PlantsLeft {
    pub(super) fn begin(&mut self) {
        self.on = true;
        self.done.clear();
    }

    pub(super) fn end(&mut self) {
        self.on = false;
        self.done.clear();
    }

    pub(super) fn are_without(&self, group: Option<PlantId>) -> bool {
        self.done.contains(&group)
    }

    pub(super) fn leave_out(&mut self, group: Option<PlantId>) {
        if self.on {
            self.done.push(group);
        }
    }
}
