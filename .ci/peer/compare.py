"""Three models in plantday and in two general-purpose simulation libraries, each with luck of its own.

    python compare.py SHUTTLE_DAY RUSH_HOURS PRIORITY_BAY

Takes the folders that `plantday compare` wrote. Every mean must agree with that of both libraries: |z| at most 3.5.
"""

import csv
import math
import statistics
import sys
from pathlib import Path

import models
import with_salabim
import with_simpy

LARGEST_Z = 3.5
LIBRARIES = {"SimPy": (with_simpy, 600), "salabim": (with_salabim, 200)}  # days of the shuttle
WAITED = {"Slabs": "slabs late in all, min", "Curbs": "curbs late in all, min"}


def table(folder, name):
    with open(Path(folder) / name, newline="") as lines:
        return list(csv.DictReader(lines))


def mean_and_error(values):
    return statistics.fmean(values), statistics.stdev(values) / math.sqrt(len(values))


def shuttle(folder):
    """Mean and standard error of each figure, as plantday has them."""
    rows = table(folder, "figures.csv")
    keys = {"loads a day": "loads", "wait for a bay, min": "bay_wait_min", "wait on site, min": "site_wait_min"}
    return {words: mean_and_error([float(row[key]) for row in rows]) for words, key in keys.items()}


def priority_bay(folder, rule):
    waits = [float(row["bay_wait_min"]) for row in table(folder, "figures.csv") if row["rule"] == rule]
    ours = {"wait for the bay, min": mean_and_error(waits)}
    for customer, words in WAITED.items():
        (row,) = (
            row for row in table(folder, "by_customer.csv")
            if (row["rule"], row["customer"], row["figure"]) == (rule, customer, "minutes_late")
        )
        # Its interval at 95% reaches 1.96 standard errors to each side.
        ours[words] = float(row["mean"]), (float(row["mean_high"]) - float(row["mean_low"])) / 3.92
    return ours


def main():
    shuttle_folder, rush_folder, priority_folder = sys.argv[1:]
    agreed = True

    def hold(model, library, ours, theirs):
        nonlocal agreed
        for (words, (mean, error)), values in zip(ours.items(), zip(*theirs)):
            their_mean, their_error = mean_and_error(values)
            z = (mean - their_mean) / math.hypot(error, their_error)
            agreed &= abs(z) <= LARGEST_Z
            print(f"{model}, {words}: plantday {mean:.3f}, {library} {their_mean:.3f} ({len(values)} days), z = {z:+.2f}")

    for library, (peer, days) in LIBRARIES.items():
        for name, model, folder in [
            ("Shuttle day", models.SHUTTLE_DAY, shuttle_folder),
            ("Rush hours", models.RUSH_HOURS, rush_folder),
        ]:
            theirs = [peer.shuttle(model, f"{name} {library} {day}") for day in range(days)]
            hold(name, library, shuttle(folder), theirs)
        for rule, sequence in models.SEQUENCES.items():
            theirs = [peer.priority_bay(sequence, f"bay {library} {day}") for day in range(2 * days)]
            hold(f"Bay with priorities, {rule}", library, priority_bay(priority_folder, rule), theirs)
    if not agreed:
        sys.exit(f"plantday and a peer differ by more than {LARGEST_Z} standard errors")


if __name__ == "__main__":
    main()
