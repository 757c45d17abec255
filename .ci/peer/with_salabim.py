"""The models in salabim: components that hold, request and release."""

import itertools
import random
import statistics

import salabim
from models import OUT, RACK, lognormal, loads_of_a_day


def environment():
    return salabim.Environment(trace=False, yieldless=False)


def shuttle(model, seed):
    """Loads of a day, and the mean waits for a bay and on site in minutes."""
    draw = random.Random(seed)
    env = environment()
    bays = salabim.Resource(capacity=model.bays, monitor=False)
    sites = itertools.cycle([(salabim.Resource(capacity=1, monitor=False), roads) for roads in model.roads])
    bay_waits, site_waits = [], []

    class Truck(salabim.Component):
        def process(self):
            start = env.now()
            while env.now() - start < model.takes_loads_for:
                place, (out, back) = next(sites)
                asked = env.now()
                yield self.request(bays)
                bay_waits.append(env.now() - asked)
                yield self.hold(model.loading(draw))
                self.release(bays)
                yield self.hold(model.rack)
                yield self.hold(self.drive(out))
                asked = env.now()
                yield self.request(place)
                site_waits.append(env.now() - asked)
                yield self.hold(model.unloading(draw))
                self.release(place)
                yield self.hold(model.washing)
                yield self.hold(self.drive(back))

        def drive(self, minutes):
            return model.traffic.drive(env.now(), minutes * lognormal(draw, 1, model.road_cv))

    for number in range(model.trucks):
        Truck(at=model.apart * number)
    env.run()
    return len(site_waits), statistics.fmean(bay_waits), statistics.fmean(site_waits)


def priority_bay(sequence, seed):
    """The mean wait for the bay, and how late slabs and curbs come in all, in minutes."""
    env = environment()
    bay = salabim.Resource(capacity=1, monitor=False)
    waits, late = [], {"Slabs": 0.0, "Curbs": 0.0}

    class Truck(salabim.Component):
        def setup(self, load):
            self.load = load

        def process(self):
            yield self.request((bay, 1, sequence(self.load)))
            waits.append(env.now() - self.load.sent)
            yield self.hold(self.load.loading)
            self.release(bay)
            yield self.hold(RACK + OUT)
            late[self.load.customer] += max(0.0, env.now() - self.load.due)

    for load in loads_of_a_day(seed):
        Truck(load=load, at=load.sent)
    env.run()
    return statistics.fmean(waits), late["Slabs"], late["Curbs"]
