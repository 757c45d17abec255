//! Queueing theory, on the engine and through the whole program; intervals and selection.

#[path = "../support/agree.rs"]
mod agree;
#[path = "../support/agreement.rs"]
mod agreement;
#[path = "../support/queue_network.rs"]
mod queue_network;
#[path = "../support/shelf.rs"]
mod shelf;
#[path = "../support/uniforms.rs"]
mod uniforms;

mod coverage;
mod engine;
mod montecarlo;
mod random_streams;
mod scaling;
mod scenarios;
mod selection;
mod shapley;
mod statements;
mod statistics;
mod two_way;
