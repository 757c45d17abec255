"""Three models as two general-purpose simulation libraries are given them: numbers and draws. How trucks move through them is written
once for each library, in its own terms. The same models stand as scenarios: scenarios/shuttle_day.ron, priority_bay.ron, rush_hours.ron.

The shuttle day: forty trucks start two minutes apart. While less than 660 minutes have passed since its own start, a truck takes the next
of six sites in turn, waits for one of two bays (first come, first served), loads, frees the bay, is checked, drives out,
waits for the site's single place, unloads, frees the place, washes and drives back.

Rush hours: the same with three sites at different distances, and every drive goes through the factors of the hours that it crosses.

A bay with priorities: loads are due at random times and line up at one bay, sent so that nothing but luck or waiting makes them late.
The earlier due is loaded first, or the bigger order.
"""

import bisect
import math
import random
from typing import NamedTuple


def lognormal(draw, mean, cv):
    sigma = math.sqrt(math.log(1 + cv * cv))
    return draw.lognormvariate(math.log(mean) - sigma * sigma / 2, sigma)


def gamma(draw, mean, cv):
    shape = 1 / (cv * cv)
    return draw.gammavariate(shape, mean / shape)


def poisson(draw, mean):
    """Knuth's: how many uniform factors until the product falls below e^-mean."""
    count, product = 0, draw.random()
    while product > math.exp(-mean):
        count, product = count + 1, product * draw.random()
    return count


class Traffic:
    """So many times the minutes of the empty road from each hour on; a drive goes through the pieces that it crosses."""

    def __init__(self, factors):
        self.starts = [0.0] + [60.0 * hour for hour, _ in factors]
        self.factors = [1.0] + [factor for _, factor in factors]

    def drive(self, at, empty_minutes):
        start = at
        while True:
            piece = bisect.bisect_right(self.starts, at) - 1
            factor = self.factors[piece]
            end = self.starts[piece + 1] if piece + 1 < len(self.starts) else math.inf
            if at + empty_minutes * factor <= end:
                return at + empty_minutes * factor - start
            empty_minutes -= (end - at) / factor
            at = end


class Shuttle(NamedTuple):
    """Trucks between one plant and its sites, in turn."""

    trucks: int
    apart: float
    bays: int
    loading: object
    rack: float
    roads: list  # minutes out and back, by site
    road_cv: float
    traffic: Traffic
    unloading: object
    washing: float
    takes_loads_for: float = 660.0


SHUTTLE_DAY = Shuttle(
    trucks=40, apart=2, bays=2, loading=lambda draw: lognormal(draw, 6, 0.3), rack=4, roads=[(25, 22)] * 6, road_cv=0.3,
    traffic=Traffic([]), unloading=lambda draw: gamma(draw, 12, 0.5), washing=6,
)
RUSH_HOURS = Shuttle(
    trucks=30, apart=3, bays=2, loading=lambda draw: gamma(draw, 7, 0.4), rack=3, roads=[(18, 15), (30, 28), (45, 40)], road_cv=0.25,
    traffic=Traffic([(1, 1.2), (2, 2.5), (4, 1.1), (8, 1.6), (9.5, 3), (11, 1.3)]),
    unloading=lambda draw: lognormal(draw, 9, 0.5), washing=5,
)


class Load(NamedTuple):
    customer: str
    volume: float
    due: float
    sent: float
    loading: float


RACK, OUT = 4.0, 20.0


def loads_of_a_day(seed):
    """Forty slabs of 10 yd³ and seventy curbs of 4 yd³ on average, due at any time from six to six."""
    draw = random.Random(seed)
    loads = []
    for customer, mean, volume in [("Slabs", 40, 10.0), ("Curbs", 70, 4.0)]:
        usual = 1.5 + 0.6 * volume
        for _ in range(poisson(draw, mean)):
            due = draw.uniform(360, 1080)
            loads.append(Load(customer, volume, due, due - usual - RACK - OUT, usual * lognormal(draw, 1, 0.6)))
    return loads


SEQUENCES = {"Earliest due": lambda load: load.due, "Biggest first": lambda load: load.due - 1e6 * load.volume}
