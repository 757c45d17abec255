"""Spreads that plantday finds in tickets, against SciPy on the same tickets.

    python tickets.py TICKETS_CSV FOUND_FOLDER

For each leg whose usual length is known once the numbers of numbers.csv are (slump rack, after unloading, loading, unloading) the minutes
are read from the tickets afresh, turned into luck, and every family is fitted by scipy.stats: the family of the smallest corrected Akaike
criterion must be the one found, with the same parameters and the same likelihood. Fixed minutes and minutes a yard of loading are found
once more by solving their equations with scipy.optimize.
"""

import csv
import math
import sys

import numpy as np
from scipy import optimize, stats
from scipy.special import digamma, gamma as gamma_function

PARAMETERS, LIKELIHOOD = 2e-4, 1e-5  # relative; per value
SEARCHED = 5e-3  # of a triangular's ends, which both sides search


def seconds(text):
    text, days = (text[:-2].strip(), 1) if text.endswith("+1") else (text, 0)
    hours, minutes, rest = text.split(":")
    return days * 86400 + int(hours) * 3600 + int(minutes) * 60 + float(rest)


def minutes(row, start, end):
    if not row[start] or not row[end]:
        return None
    return (seconds(row[end]) - seconds(row[start])) / 60


def families(x):
    """Name, parameters as a scenario writes them, ln L, number of parameters."""
    n = len(x)
    s, _, scale = stats.lognorm.fit(x, floc=0)
    mean = scale * math.exp(s * s / 2)
    yield "Lognormal", {"mean": mean, "cv": math.sqrt(math.expm1(s * s))}, stats.lognorm.logpdf(x, s, 0, scale).sum(), 2
    off = math.log(x.mean()) - np.log(x).mean()
    k = optimize.brentq(lambda k: math.log(k) - digamma(k) - off, 1e-3, 1e5, xtol=1e-12)
    yield "Gamma", {"mean": x.mean(), "cv": 1 / math.sqrt(k)}, stats.gamma.logpdf(x, k, 0, x.mean() / k).sum(), 2
    y = x / x.max()
    slope = lambda c: (y**c * np.log(y)).sum() / (y**c).sum() - 1 / c - np.log(y).mean()
    c = optimize.brentq(slope, 0.05, 200, xtol=1e-12)
    scale = x.max() * (y**c).mean() ** (1 / c)
    yield "Weibull", {"mean": scale * gamma_function(1 + 1 / c), "shape": c}, stats.weibull_min.logpdf(x, c, 0, scale).sum(), 2
    cut = lambda p: -stats.truncnorm.logpdf(x, -p[0] / math.exp(p[1]), np.inf, p[0], math.exp(p[1])).sum()
    best = optimize.minimize(cut, [x.mean(), math.log(x.std())], method="Nelder-Mead", options={"xatol": 1e-9, "fatol": 1e-11, "maxiter": 4000})
    if best.x[0] >= 0:
        yield "Normal", {"mean": best.x[0], "sd": math.exp(best.x[1])}, -best.fun, 2

    def three(p):
        low, high = x.min() - math.exp(p[0]), x.max() + math.exp(p[1])
        return low, low + (high - low) / (1 + math.exp(-p[2])), high

    def triangular(p):
        low, mode, high = three(p)
        return -stats.triang.logpdf(x, (mode - low) / (high - low), low, high - low).sum()

    wide = math.log(x.max() - x.min())
    starts = [[wide - a, wide - b, c] for a in (2, 4) for b in (2, 4) for c in (-1, 0)]
    options = {"xatol": 1e-9, "fatol": 1e-10, "maxiter": 4000}
    best = min((optimize.minimize(triangular, start, method="Nelder-Mead", options=options) for start in starts), key=lambda found: found.fun)
    if three(best.x)[0] >= 0:
        yield "Triangular", dict(zip(("low", "mode", "high"), three(best.x))), -best.fun, 3
    yield "Uniform", {"low": x.min(), "high": x.max()}, -n * math.log(x.max() - x.min()), 2
    yield "Exponential", {"mean": x.mean()}, stats.expon.logpdf(x, 0, x.mean()).sum(), 1


def fixed_and_per_yard(volume, took):
    def off(p):
        usual = p[0] + p[1] * volume
        return [((took - usual) / usual**2).sum(), (volume * (took - usual) / usual**2).sum()]

    return optimize.root(off, np.polyfit(volume, took, 1)[::-1], tol=1e-12).x


def main():
    tickets, found = sys.argv[1:]
    with open(tickets, newline="") as lines:
        rows = list(csv.DictReader(lines))
    with open(f"{found}/legs.csv", newline="") as lines:
        legs = list(csv.DictReader(lines))
    with open(f"{found}/numbers.csv", newline="") as lines:
        numbers = {(row["leg"], row["of"], row["number"]): float(row["value"]) for row in csv.DictReader(lines)}
    wrong = []
    compared = 0

    def same(what, ours, theirs, within):
        if not abs(ours - theirs) <= within * max(abs(theirs), 1e-9):
            wrong.append(f"{what}: plantday {ours}, SciPy {theirs}")

    for leg in legs:
        name, plant = leg["leg"].split(",")[0], leg["plant"]
        ours = [row for row in rows if not plant or row["plant"] == plant]
        if name == "slump rack":
            luck = [minutes(row, "loaded", "left plant") for row in ours]
        elif name == "after unloading":
            luck = [minutes(row, "end unloading", "left site") for row in ours]
        elif name == "loading":
            told = [(float(row["yd3"]), minutes(row, "ticketed", "loaded")) for row in ours]
            volume, took = (np.array(column) for column in zip(*told))
            fixed, each = fixed_and_per_yard(volume, took)
            # The mean of the fitted luck is 1, that of the tickets nearly: the two lengths go with it.
            level = numbers["loading", plant, "fixed"] / fixed
            same(f"{leg['leg']}, per yd³ over fixed", numbers["loading", plant, "per yd³"], each * level, PARAMETERS)
            same(f"{leg['leg']}, fixed", level, 1.0, 0.02)
            luck = list(took / (level * (fixed + each * volume)))
        elif name == "unloading":
            luck = []
            for row in ours:
                rate = numbers.get(("unloading", f"{row['site']}, {row['order']}", "rate")) or numbers["unloading", row["site"], "rate"]
                took = minutes(row, "start unloading", "end unloading")
                if took is not None:
                    luck.append(took * rate / float(row["placed yd3"]))
        else:
            continue
        x = np.array([value for value in luck if value])
        assert len(x) == int(leg["tickets"]), (leg["leg"], len(x), leg["tickets"])
        fits = list(families(x))
        n = len(x)
        criterion = lambda fit: 2 * fit[3] - 2 * fit[2] + 2 * fit[3] * (fit[3] + 1) / (n - fit[3] - 1)
        best = min(fits, key=criterion)
        family = leg["spread"].split("(")[0]
        if family != best[0]:
            wrong.append(f"{leg['leg']}: plantday chooses {family}, SciPy {best[0]}")
            continue
        same(f"{leg['leg']}, ln L", float(leg["ln_likelihood"]), best[2], LIKELIHOOD * n / max(abs(best[2]), 1e-9))
        for key, value in best[1].items():
            ours = numbers.get((name, plant, key), 1.0 if key == "mean" else None)
            if (name, plant, key) not in numbers and key == "mean":
                same(f"{leg['leg']}, mean of the luck", value, 1.0, PARAMETERS)
                continue
            same(f"{leg['leg']}, {key}", ours, value, SEARCHED if best[0] == "Triangular" else PARAMETERS)
        compared += 1
        print(f"{leg['leg']}: {family}, {n} tickets, ln L {float(leg['ln_likelihood']):.4f} and {best[2]:.4f}")
    if compared < 5:
        wrong.append(f"only {compared} legs were compared")
    if wrong:
        sys.exit("\n".join(wrong))


if __name__ == "__main__":
    main()
