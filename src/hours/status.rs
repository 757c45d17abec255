//! What a driver is doing, as a log of duty status tells it.

use serde::{Deserialize, Serialize};

/// What a driver is doing. The first four are the lines of a graph grid (49 CFR 395.8); the others are kinds of waiting and
/// riding that rule books and carriers judge differently.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum DutyStatus {
    /// Relieved of all duty.
    OffDuty,
    /// In a sleeper berth; counts as rest. Pairs of split berth periods are not modelled, since mixers have no berth.
    Sleeper,
    /// On duty, not driving: loading, discharging, washing, inspecting, waiting for dispatch.
    OnDuty,
    /// At the controls on a road. Moving within a closed yard is on duty, not driving.
    Driving,
    /// On duty, waiting with the truck at a job site or terminal, doing no other work.
    Waiting,
    /// Waiting while someone else watches the truck. Duty unless the rule book says that it is not.
    RelievedWaiting,
    /// Carried as a passenger, such as home after being fetched. Duty unless the rule book says that it is not.
    Riding,
}
