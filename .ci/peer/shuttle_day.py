"""The shuttle day in a general-purpose simulation library, compared with the figures of plantday.

    python shuttle_day.py FIGURES_CSV DAYS

Forty trucks start two minutes apart. While less than 660 minutes have passed since its own start, a truck takes the next
of six sites in turn, waits for one of two bays (first come, first served), loads, frees the bay, is checked, drives out,
waits for the site's single place, unloads, frees the place, washes and drives back. The same model is written as
scenarios/shuttle_day.ron. Loads a day and the mean wait for a bay must agree: |z| at most 3.5.
"""

import csv
import itertools
import math
import random
import statistics
import sys

import simpy

TRUCKS, BAYS, SITES = 40, 2, 6
LARGEST_Z = 3.5


def lognormal(draw, mean, cv):
    sigma = math.sqrt(math.log(1 + cv * cv))
    return draw.lognormvariate(math.log(mean) - sigma * sigma / 2, sigma)


def gamma(draw, mean, cv):
    shape = 1 / (cv * cv)
    return draw.gammavariate(shape, mean / shape)


def one_day(seed):
    """Loads of a day and the mean wait for a bay, minutes."""
    draw = random.Random(seed)
    env = simpy.Environment()
    bays = simpy.Resource(env, BAYS)
    places = [simpy.Resource(env, 1) for _ in range(SITES)]
    turn = itertools.cycle(places)
    waits = []
    loads = 0

    def truck(start):
        nonlocal loads
        yield env.timeout(start)
        while env.now - start < 660:
            place = next(turn)
            asked = env.now
            with bays.request() as bay:
                yield bay
                waits.append(env.now - asked)
                yield env.timeout(lognormal(draw, 6, 0.3))
            yield env.timeout(4)
            yield env.timeout(lognormal(draw, 25, 0.3))
            with place.request() as spot:
                yield spot
                yield env.timeout(gamma(draw, 12, 0.5))
            loads += 1
            yield env.timeout(6)
            yield env.timeout(lognormal(draw, 22, 0.3))

    for number in range(TRUCKS):
        env.process(truck(2 * number))
    env.run()
    return loads, statistics.fmean(waits)


def main():
    path, days = sys.argv[1], int(sys.argv[2])
    with open(path, newline="") as lines:
        rows = list(csv.DictReader(lines))
    peer = [one_day(f"shuttle day {day}") for day in range(days)]
    agreed = True
    for position, (name, column) in enumerate([("loads a day", "loads"), ("wait for a bay, min", "bay_wait_min")]):
        ours = [float(row[column]) for row in rows]
        theirs = [day[position] for day in peer]
        mean_ours, mean_theirs = statistics.fmean(ours), statistics.fmean(theirs)
        error = math.sqrt(statistics.variance(ours) / len(ours) + statistics.variance(theirs) / len(theirs))
        z = (mean_ours - mean_theirs) / error
        agreed &= abs(z) <= LARGEST_Z
        print(f"{name}: plantday {mean_ours:.3f} ({len(ours)} days), peer {mean_theirs:.3f} ({len(theirs)} days), z = {z:+.2f}")
    if not agreed:
        sys.exit(f"plantday and its peer differ by more than {LARGEST_Z} standard errors")


if __name__ == "__main__":
    main()
