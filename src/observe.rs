//! What is made of events: observers of the world. The world never reads them back.

mod cause;
mod clock_figures;
mod columns;
mod cost_part;
mod day_watch;
mod deliveries;
mod figure_unit;
mod figures;
mod half_hours;
mod late_loads;
mod ledger;
mod log;
mod losses;
mod material;
mod order_watch;
mod playback;
mod pour_watch;
mod pours;
mod profile;
mod queues;
mod refusals;
mod rescue_watch;
mod site_wait;
mod ticket_book;
mod trip_watch;
mod wages;
mod whom;

pub use cause::{Causes, LateCause};
pub use columns::{Better, Column, Needs, columns, figure};
pub use cost_part::{CostPart, MoneyKind};
pub use day_watch::{DaySeen, DayWatch};
pub use deliveries::{Deliveries, Delivery};
pub use figure_unit::FigureUnit;
pub use figures::Figures;
pub use half_hours::HalfHours;
pub use late_loads::{LateLoad, LateLoads, Never};
pub use ledger::Ledger;
pub use log::Log;
pub use losses::Loss;
pub use order_watch::{OrderSeen, OrderWatch};
pub use playback::{Doing, Happening, Playback, Stint, Stranding};
pub use pour_watch::{
    HOURS, PEAK_MOST, POUR_FIGURES, PourSums, PourWatch, ROUND_BIN, ROUND_BINS, pour,
};
pub use profile::{LATE_BIN, LATE_BINS, MARGIN_BIN, MARGIN_BINS, Profile, Profiler};
pub use refusals::{RefusedCandidate, ToldRefusals};
pub use rescue_watch::{RescueSeen, RescueWatch};
pub use site_wait::WaitCause;
pub use ticket_book::TicketBook;
pub use trip_watch::{TripSeen, TripWatch};
pub use whom::{ForWhom, WhomFigures, of_driver, of_order, whom_columns, whom_unit};
