"""Straight lines and charts."""

import json
from datetime import date, timedelta

import numpy as np
import statsmodels.api as sm
from scipy import optimize, stats
from common import Disagreement, check, metric, near, run, same


@check("master: slope and straightness against scipy.stats.linregress and statsmodels OLS")
def master():
    def draw(random):
        ys = np.cumsum(random.uniform(20, 120, random.integers(3, 12)))
        dials = random.uniform(-2, 2) + ys * random.uniform(-2e-4, 2e-4) + random.normal(0, 0.02, ys.size)
        readings = [{"y": y, "dial": dial} for y, dial in zip(ys.tolist(), dials.tolist())]
        dial = random.choice(["diameter", "radius"]).item()
        return metric(readings=readings, dial=dial, span=random.uniform(300, 800), tolerance=0.0127)

    def compare(one, answer):
        k = 2 if one["dial"] == "diameter" else 1
        ys = np.array([reading["y"] for reading in one["readings"]])
        heights = np.array([reading["dial"] for reading in one["readings"]]) / k
        line = stats.linregress(ys, heights)
        fitted = sm.OLS(heights, sm.add_constant(ys)).fit()
        straightness = np.ptp(fitted.resid)
        # A slope of nearly nothing is a difference of heights: what a double keeps of them over the length.
        floor = 1e-14 * np.abs(heights).max() / np.ptp(ys)
        near("slope", one, answer["slope"], line.slope, absolute=floor)
        near("slope", one, answer["slope"], fitted.params[1], absolute=floor)
        near("parallel_error", one, answer["parallel_error"], line.slope * one["span"], absolute=floor * one["span"])
        near("straightness", one, answer["straightness"], straightness, absolute=1e-12)
        within = max(abs(line.slope * one["span"]), straightness) <= one["tolerance"]
        same("verdict", one, answer["verdict"], "true" if within else "out_of_true")

    return run("master", draw, compare, 2000, 1)


@check("wear: slope, line and 95 % interval against scipy.stats.theilslopes")
def wear():
    def draw(random):
        days = np.cumsum(random.integers(1, 200, random.integers(4, 20)))
        fall = random.uniform(0.0002, 0.002)
        diameters = 128 - fall * days + random.normal(0, 0.02, days.size)
        # Read to the tape's graduation, so that diameters tie.
        diameters = np.round(diameters / 0.0254) * 0.0254 if random.random() < 0.5 else diameters
        start = date(2015, 1, 1)
        history = [
            {"date": str(start + timedelta(days=day)), "diameter": diameter}
            for day, diameter in zip(days.tolist(), diameters.tolist())
        ]
        random.shuffle(history)
        return metric(history=history, wear_limit=random.uniform(118, 126))

    def compare(one, answer):
        dates = [date.fromisoformat(record["date"]) for record in one["history"]]
        xs = np.array([(day - dates[0]).days for day in dates], dtype=float)
        ys = np.array([record["diameter"] for record in one["history"]])
        slope, intercept, low, high = stats.theilslopes(ys, xs, 0.95, method="separate")
        near("per_year", one, answer["per_year"], slope * 365.25, absolute=1e-12)

        def meets(slope):
            if slope >= 0:
                return None
            days = np.median(xs) + (one["wear_limit"] - np.median(ys)) / slope
            return days if days < 60_000 else None

        def day(what, told, days):
            if days is None:
                # No day, or one beyond the calendar.
                if told is not None and date.fromisoformat(told) < date(2150, 1, 1):
                    raise Disagreement(f"{what} is {told} instead of none for {json.dumps(one)}")
                return
            # The day that the line's place belongs to; a whole day may come out just short of itself.
            if told is None or not -1e-5 <= days - (date.fromisoformat(told) - dates[0]).days < 1 + 1e-5:
                raise Disagreement(f"{what} is {told} instead of day {days} for {json.dumps(one)}")

        assert np.isclose(intercept, np.median(ys) - slope * np.median(xs))
        day("at_limit", answer["at_limit"], meets(slope))
        ends = [meets(low), meets(high)]
        if np.median(ys) < one["wear_limit"]:
            ends.reverse()
        day("earliest", answer["earliest"], ends[0])
        day("latest", answer["latest"], ends[1])

    return run("wear", draw, compare, 2000, 2)


@check("yield: least squares through the origin against statsmodels OLS without a constant")
def infeed_yield():
    def draw(random):
        infeed = random.uniform(0.05, 1.5, random.integers(1, 20))
        removed = infeed * random.uniform(0.3, 1.1) + random.normal(0, 0.02, infeed.size)
        grinds = [{"infeed": fed, "removed": off} for fed, off in zip(infeed.tolist(), removed.tolist())]
        return metric(grinds=grinds, wanted_removal=random.uniform(0.05, 0.5))

    def compare(one, answer):
        infeed = np.array([grind["infeed"] for grind in one["grinds"]])
        removed = np.array([grind["removed"] for grind in one["grinds"]])
        slope = sm.OLS(removed, infeed).fit().params[0]
        near("yield", one, answer["yield"], slope)
        if slope > 0:
            near("suggested_infeed", one, answer["suggested_infeed"], one["wanted_removal"] / slope)

    return run("yield", draw, compare, 2000, 3)


@check("spring: fraction against scipy.optimize.least_squares, passes by going on")
def spring():
    def draw(random):
        fraction, pending = random.uniform(0.2, 0.95), 0.0
        infeed, removed = random.uniform(0.01, 0.1, random.integers(2, 12)).tolist(), []
        for fed in infeed:
            off = fraction * (pending + fed) + random.normal(0, 0.001)
            pending += fed - off
            removed.append(off)
        return metric(infeed=infeed, removed=removed, tolerance=random.uniform(0.001, 0.01))

    def compare(one, answer):
        infeed, removed = np.array(one["infeed"]), np.array(one["removed"])
        pending = np.cumsum(infeed) - np.concatenate(([0.0], np.cumsum(removed)[:-1]))
        fitted = optimize.least_squares(lambda f: removed - f * pending, [0.5], xtol=1e-15, ftol=1e-15, gtol=1e-15)
        near("fraction", one, answer["fraction"], fitted.x[0], relative=1e-7)
        near("fraction", one, answer["fraction"], np.linalg.lstsq(pending[:, None], removed)[0][0])
        left = infeed.sum() - removed.sum()
        near("left", one, answer["left"], left, absolute=1e-12)
        passes, still = 0, left
        while still > one["tolerance"]:
            still, passes = still * (1 - answer["fraction"]), passes + 1
        same("passes_without_infeed", one, answer["passes_without_infeed"], passes)

    return run("spring", draw, compare, 2000, 4)


@check("chart: limits and what stands out, from the definition with NumPy")
def chart():
    def draw(random):
        values = random.normal(random.uniform(-50, 50), random.uniform(0.001, 5), random.integers(2, 80))
        values[random.integers(values.size)] += random.choice([0, 10]).item()
        return {"values": values.tolist()}

    def compare(one, answer):
        values = np.array(one["values"])
        centre, mean_range = values.mean(), np.abs(np.diff(values)).mean()
        lower, upper = centre - 3 * mean_range / 1.128, centre + 3 * mean_range / 1.128
        for what, expected in [("centre", centre), ("mean_range", mean_range), ("lower", lower), ("upper", upper)]:
            near(what, one, answer[what], expected, absolute=1e-12)
        near("range_upper", one, answer["range_upper"], 3.267 * mean_range, absolute=1e-12)
        same("outside", one, answer["outside"], np.flatnonzero((values < lower) | (values > upper)).tolist())
        sides = np.sign(values - centre)
        runs = [at for at in range(7, values.size) if abs(sides[at - 7 : at + 1].sum()) == 8]
        same("runs", one, answer["runs"], runs)

    return run("chart", draw, compare, 3000, 5)
