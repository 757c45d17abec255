//! A network of queues on the engine: stations with servers, limited room, priorities and random routes; customers from
//! outside, or a fixed number that never leaves.

use crate::engine::SEED;
use crate::uniforms::Uniforms;
use plantday::engine::{Calendar, Class, Luck, Sampler, Spread, TimeIntegral};
use plantday::units::Millis;
use std::collections::VecDeque;

pub(crate) const UNLIMITED: u32 = u32::MAX;

const FINISH: Class = Class(0);
const ARRIVE: Class = Class(1);

/// A station. Customers of a lower class are served first; within a class, first come first served.
#[derive(Clone)]
pub(crate) struct Station {
    pub(crate) servers: u32,
    /// Customers present at most, in service included; further ones are lost.
    pub(crate) room: u32,
    /// By class; the last one serves all higher classes.
    pub(crate) service: Vec<Sampler>,
    /// Shares that go on to each station; the rest leaves.
    pub(crate) routes: Vec<f64>,
}

impl Station {
    /// A station of `servers` from which everybody leaves.
    pub(crate) fn new(servers: u32, service: Spread) -> Self {
        Self {
            servers,
            room: UNLIMITED,
            service: vec![service.sampler()],
            routes: Vec::new(),
        }
    }

    pub(crate) fn room(mut self, room: u32) -> Self {
        self.room = room;
        self
    }

    pub(crate) fn routes(mut self, routes: &[f64]) -> Self {
        self.routes = routes.to_vec();
        self
    }
}

/// Where customers come from.
#[derive(Clone)]
pub(crate) struct Source {
    pub(crate) gap: Sampler,
    pub(crate) station: usize,
    pub(crate) class: usize,
}

impl Source {
    pub(crate) fn poisson(rate: f64, station: usize) -> Self {
        Self::renewal(Spread::Exponential { mean: 1.0 / rate }, station)
    }

    pub(crate) fn renewal(gap: Spread, station: usize) -> Self {
        Self {
            gap: gap.sampler(),
            station,
            class: 0,
        }
    }

    pub(crate) fn class(mut self, class: usize) -> Self {
        self.class = class;
        self
    }
}

/// A network and how long it is watched.
#[derive(Clone)]
pub(crate) struct Network {
    pub(crate) stations: Vec<Station>,
    pub(crate) sources: Vec<Source>,
    /// Customers who start at station 0 and never leave.
    pub(crate) residents: u32,
    /// Milliseconds per unit of time.
    pub(crate) unit: f64,
    /// Units of time left out at the start.
    pub(crate) warm_up: f64,
    /// Units of time after which nobody comes any more and nobody goes on to another station.
    pub(crate) end: f64,
    /// Waits above this many units, and moments with more customers than this in a station, are counted.
    pub(crate) long_wait: f64,
    pub(crate) crowd: u32,
}

impl Network {
    /// Watches 200,000 times the mean service time `service`, after a warm-up of 10,000 times.
    pub(crate) fn new(stations: Vec<Station>, sources: Vec<Source>, service: f64) -> Self {
        Self {
            stations,
            sources,
            residents: 0,
            unit: 10_000.0 / service,
            warm_up: 10_000.0 * service,
            end: 210_000.0 * service,
            long_wait: f64::INFINITY,
            crowd: UNLIMITED,
        }
    }

    /// The figures of one replication: the mean of a run and of its mirror image, in which every u is 1 − u (antithetic
    /// variates), because together they come nearer the expectation than two unrelated runs.
    pub(crate) fn pair(&self, replication: u64, figures: impl Fn(&Seen) -> Vec<f64>) -> Vec<f64> {
        let (first, second) = (self.run(replication, false), self.run(replication, true));
        let both = figures(&first).into_iter().zip(figures(&second));
        both.map(|(a, b)| (a + b) / 2.0).collect()
    }

    fn run(&self, replication: u64, mirrored: bool) -> Seen {
        let mut run = Run::new(self, replication, mirrored);
        run.start();
        while let Some((now, command)) = run.calendar.pop() {
            match command {
                Command::Arrive { source } => run.come(now, source),
                Command::Finish { station, customer } => run.finish(now, station, customer),
            }
        }
        run.seen()
    }
}

/// Time averages and means over the watched window, in the network's unit of time.
pub(crate) struct Seen {
    pub(crate) stations: Vec<StationSeen>,
    /// Mean time between entering and leaving the network.
    pub(crate) time_in_network: f64,
}

pub(crate) struct StationSeen {
    pub(crate) mean_present: f64,
    pub(crate) mean_waiting: f64,
    /// Mean share of the servers that is busy.
    pub(crate) utilisation: f64,
    pub(crate) empty: f64,
    pub(crate) crowded: f64,
    /// Customers served per unit of time.
    pub(crate) throughput: f64,
    pub(crate) mean_stay: f64,
    pub(crate) mean_wait: f64,
    pub(crate) mean_wait_by_class: Vec<f64>,
    /// Of those who came in: share that found no free server, share that waited long.
    pub(crate) waited: f64,
    pub(crate) waited_long: f64,
    /// Share of those who came that found no room.
    pub(crate) lost: f64,
}

#[derive(Clone, Copy)]
struct Customer {
    class: u8,
    /// Whether the customer came to this station in the window.
    watched: bool,
    entered: Millis,
    came: Millis,
}

#[derive(Clone, Copy)]
enum Command {
    Arrive { source: u8 },
    Finish { station: u8, customer: Customer },
}

struct Place {
    queues: Vec<VecDeque<Customer>>,
    waiting: u32,
    busy: u32,
    present_integral: TimeIntegral,
    busy_integral: TimeIntegral,
    empty_integral: TimeIntegral,
    crowd_integral: TimeIntegral,
    /// Over the whole run, which starts and ends empty: for Little's law.
    whole: TimeIntegral,
    stays: i64,
    draws: Uniforms,
    finished: u64,
    came: u64,
    lost: u64,
    waited: u64,
    waited_long: u64,
    watched_stays: i64,
    waits: Vec<(u64, i64)>,
}

impl Place {
    fn change_present(&mut self, now: Millis, delta: i32, crowd: u32) {
        self.whole.add(now, delta);
        self.present_integral.add(now, delta);
        let present = self.present_integral.level();
        if present <= 1 {
            self.empty_integral.set(now, u32::from(present == 0));
        }
        if crowd != UNLIMITED {
            self.crowd_integral.set(now, u32::from(present > crowd));
        }
    }
}

struct Run<'a> {
    network: &'a Network,
    calendar: Calendar<Command>,
    places: Vec<Place>,
    sources: Vec<Uniforms>,
    from: Millis,
    end: Millis,
    long_wait: i64,
    left: u64,
    time_in_network: i64,
}

impl<'a> Run<'a> {
    fn new(network: &'a Network, replication: u64, mirrored: bool) -> Self {
        let luck = Luck::new(SEED, replication);
        let millis = |time: f64| Millis((time * network.unit).round() as i64);
        let (from, end) = (millis(network.warm_up), millis(network.end));
        let classes = 1 + network.sources.iter().map(|s| s.class).max().unwrap_or(0);
        let integral = || TimeIntegral::new(from, end);
        let place = |station| {
            let draws = Uniforms::new(luck, &format!("station {station}"), mirrored);
            let mut empty_integral = integral();
            empty_integral.set(Millis::ZERO, 1);
            Place {
                queues: vec![VecDeque::new(); classes],
                waiting: 0,
                busy: 0,
                present_integral: integral(),
                busy_integral: integral(),
                empty_integral,
                crowd_integral: integral(),
                whole: TimeIntegral::new(Millis::ZERO, Millis::NEVER),
                stays: 0,
                draws,
                finished: 0,
                came: 0,
                lost: 0,
                waited: 0,
                waited_long: 0,
                watched_stays: 0,
                waits: vec![(0, 0); classes],
            }
        };
        let source = |source| Uniforms::new(luck, &format!("source {source}"), mirrored);
        Self {
            network,
            calendar: Calendar::with_capacity(64),
            places: (0..network.stations.len()).map(place).collect(),
            sources: (0..network.sources.len()).map(source).collect(),
            from,
            end,
            long_wait: (network.long_wait * network.unit).min(1e15) as i64,
            left: 0,
            time_in_network: 0,
        }
    }

    fn start(&mut self) {
        for source in 0..self.network.sources.len() {
            self.schedule_next(Millis::ZERO, source as u8);
        }
        for _ in 0..self.network.residents {
            self.enter(Millis::ZERO, 0, 0, Millis::ZERO);
        }
    }

    fn span(&self, time: f64) -> Millis {
        Millis((time * self.network.unit + 0.5) as i64)
    }

    fn schedule_next(&mut self, now: Millis, source: u8) {
        let place = usize::from(source);
        let gap = self.network.sources[place]
            .gap
            .at(self.sources[place].draw());
        let at = now + self.span(gap);
        if at < self.end {
            self.calendar
                .schedule(at, ARRIVE, Command::Arrive { source });
        }
    }

    fn come(&mut self, now: Millis, source: u8) {
        let Source { station, class, .. } = self.network.sources[usize::from(source)];
        self.enter(now, station, class as u8, now);
        self.schedule_next(now, source);
    }

    fn enter(&mut self, now: Millis, station: usize, class: u8, entered: Millis) {
        let form = &self.network.stations[station];
        let place = &mut self.places[station];
        let watched = now >= self.from && now < self.end;
        place.came += u64::from(watched);
        if place.busy + place.waiting >= form.room {
            place.lost += u64::from(watched);
            return;
        }
        let customer = Customer {
            class,
            watched,
            entered,
            came: now,
        };
        place.change_present(now, 1, self.network.crowd);
        if place.busy < form.servers {
            self.serve(now, station, customer);
        } else {
            place.waited += u64::from(watched);
            place.waiting += 1;
            place.queues[usize::from(class)].push_back(customer);
        }
    }

    fn serve(&mut self, now: Millis, station: usize, customer: Customer) {
        let place = &mut self.places[station];
        place.busy += 1;
        place.busy_integral.add(now, 1);
        if customer.watched {
            let wait = (now - customer.came).0;
            let (count, sum) = &mut place.waits[usize::from(customer.class)];
            *count += 1;
            *sum += wait;
            place.waited_long += u64::from(wait > self.long_wait);
        }
        let service = &self.network.stations[station].service;
        let class = usize::from(customer.class).min(service.len() - 1);
        let time = service[class].at(place.draws.draw());
        let station = station as u8;
        let at = now + self.span(time);
        self.calendar
            .schedule(at, FINISH, Command::Finish { station, customer });
    }

    fn finish(&mut self, now: Millis, station: u8, customer: Customer) {
        let station = usize::from(station);
        let place = &mut self.places[station];
        place.busy -= 1;
        place.busy_integral.add(now, -1);
        place.change_present(now, -1, self.network.crowd);
        let stay = (now - customer.came).0;
        place.stays += stay;
        place.finished += u64::from(now >= self.from && now < self.end);
        if customer.watched {
            place.watched_stays += stay;
        }
        if let Some(next) = place.queues.iter_mut().find_map(VecDeque::pop_front) {
            place.waiting -= 1;
            self.serve(now, station, next);
        }
        self.go_on(now, station, customer);
    }

    fn go_on(&mut self, now: Millis, station: usize, customer: Customer) {
        let routes = &self.network.stations[station].routes;
        if now < self.end && !routes.is_empty() {
            let mut share = self.places[station].draws.draw();
            for (next, &part) in routes.iter().enumerate() {
                if share < part {
                    return self.enter(now, next, customer.class, customer.entered);
                }
                share -= part;
            }
        }
        if customer.entered >= self.from && customer.entered < self.end {
            self.left += 1;
            self.time_in_network += (now - customer.entered).0;
        }
    }

    fn seen(&self) -> Seen {
        let stations = self.network.stations.iter().zip(&self.places);
        Seen {
            stations: stations
                .map(|(form, place)| self.station_seen(form, place))
                .collect(),
            time_in_network: self.time_in_network as f64 / self.left as f64 / self.network.unit,
        }
    }

    fn station_seen(&self, form: &Station, place: &Place) -> StationSeen {
        let end = self.calendar.now().max(self.end);
        // Little's law without expectation: the station starts and ends empty, so customers × time and the sum of stays
        // are the same area. (Little 1961; Stidham 1974)
        let (area, stays) = (place.whole.total(end), place.stays as f64);
        assert!(
            (area - stays).abs() <= 1e-9 * stays,
            "Little: {area} and {stays}"
        );
        let unit = self.network.unit;
        let length = (self.end - self.from).0 as f64 / unit;
        let admitted = (place.came - place.lost) as f64;
        let waits: i64 = place.waits.iter().map(|&(_, sum)| sum).sum();
        let mean_wait = |&(count, sum): &(u64, i64)| sum as f64 / count as f64 / unit;
        StationSeen {
            mean_present: place.present_integral.mean(end),
            mean_waiting: place.present_integral.mean(end) - place.busy_integral.mean(end),
            utilisation: place.busy_integral.mean(end) / f64::from(form.servers),
            empty: place.empty_integral.mean(end),
            crowded: place.crowd_integral.mean(end),
            throughput: place.finished as f64 / length,
            mean_stay: place.watched_stays as f64 / admitted / unit,
            mean_wait: waits as f64 / admitted / unit,
            mean_wait_by_class: place.waits.iter().map(mean_wait).collect(),
            waited: place.waited as f64 / admitted,
            waited_long: place.waited_long as f64 / admitted,
            lost: place.lost as f64 / place.came as f64,
        }
    }
}
