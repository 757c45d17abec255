"""The models in SimPy: processes that are generators, resources that are asked for."""

import itertools
import random
import statistics

import simpy
from models import OUT, RACK, lognormal, loads_of_a_day


def shuttle(model, seed):
    """Loads of a day, and the mean waits for a bay and on site in minutes."""
    draw = random.Random(seed)
    env = simpy.Environment()
    bays = simpy.Resource(env, model.bays)
    sites = itertools.cycle([(simpy.Resource(env, 1), roads) for roads in model.roads])
    bay_waits, site_waits = [], []

    def drive(minutes):
        return env.timeout(model.traffic.drive(env.now, minutes * lognormal(draw, 1, model.road_cv)))

    def truck(start):
        yield env.timeout(start)
        while env.now - start < model.takes_loads_for:
            place, (out, back) = next(sites)
            asked = env.now
            with bays.request() as bay:
                yield bay
                bay_waits.append(env.now - asked)
                yield env.timeout(model.loading(draw))
            yield env.timeout(model.rack)
            yield drive(out)
            asked = env.now
            with place.request() as spot:
                yield spot
                site_waits.append(env.now - asked)
                yield env.timeout(model.unloading(draw))
            yield env.timeout(model.washing)
            yield drive(back)

    for number in range(model.trucks):
        env.process(truck(model.apart * number))
    env.run()
    return len(site_waits), statistics.fmean(bay_waits), statistics.fmean(site_waits)


def priority_bay(sequence, seed):
    """The mean wait for the bay, and how late slabs and curbs come in all, in minutes."""
    env = simpy.Environment()
    bay = simpy.PriorityResource(env, 1)
    waits, late = [], {"Slabs": 0.0, "Curbs": 0.0}

    def run(load):
        yield env.timeout(load.sent)
        with bay.request(priority=sequence(load)) as mine:
            yield mine
            waits.append(env.now - load.sent)
            yield env.timeout(load.loading)
        yield env.timeout(RACK + OUT)
        late[load.customer] += max(0.0, env.now - load.due)

    for load in loads_of_a_day(seed):
        env.process(run(load))
    env.run()
    return statistics.fmean(waits), late["Slabs"], late["Curbs"]
