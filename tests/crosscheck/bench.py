"""The person, the turf, the wheel, and what is due."""

import math
from datetime import date, timedelta

import numpy as np
from common import check, near, run, same


@check("dose: 29 CFR 1910.95 Appendix A, as printed there")
def dose():
    def draw(random):
        count = random.integers(1, 12)
        segments = zip(random.uniform(60, 130, count).tolist(), random.uniform(0, 3, count).tolist())
        return {"segments": [{"level": level, "hours": hours} for level, hours in segments]}

    def compare(one, answer):
        counted = [s for s in one["segments"] if s["level"] >= 80]
        expected = 100 * sum(s["hours"] / (8 / 2 ** ((s["level"] - 90) / 5)) for s in counted)
        near("dose_percent", one, answer["dose_percent"], expected)
        if expected > 0:
            twa = 5 / math.log10(2) * math.log10(expected / 100) + 90
            near("twa", one, answer["twa"], twa, absolute=1e-9)
            # The printed factor is 16.61.
            near("twa", one, answer["twa"], 16.61 * math.log10(expected / 100) + 90, relative=0, absolute=0.002)
        same("action_level", one, answer["action_level"], expected >= 50)
        same("over_limit", one, answer["over_limit"], expected > 100)

    return run("dose", draw, compare, 3000, 19)


@check("lift: revised lifting equation, DHHS (NIOSH) 94-110, in pounds and inches")
def lift():
    def draw(random):
        return {
            "load": random.uniform(5, 120),
            "horizontal": random.uniform(5, 25),
            "vertical": random.uniform(0, 70),
            "travel": random.uniform(0, 70),
            "asymmetry": random.uniform(0, 135),
            "frequency_multiplier": random.uniform(0.2, 1),
            "coupling": random.choice(["good", "fair", "poor"]).item(),
        }

    def compare(one, answer):
        low = one["vertical"] < 30
        coupling = {"good": 1.0, "fair": 0.95 if low else 1.0, "poor": 0.90}[one["coupling"]]
        limit = 51 * coupling * one["frequency_multiplier"] * (1 - 0.0032 * one["asymmetry"])
        limit *= 10 / max(10, one["horizontal"]) * (1 - 0.0075 * abs(one["vertical"] - 30))
        limit *= 0.82 + 1.8 / max(10, one["travel"])
        near("recommended_weight", one, answer["recommended_weight"], limit)
        near("lifting_index", one, answer["lifting_index"], one["load"] / limit)
        same("verdict", one, answer["verdict"], "one_person" if one["load"] <= limit else "assist")

    return run("lift", draw, compare, 2000, 20)


@check("clip and wheel: from the definitions, scallop by differences of long numbers")
def clip_and_wheel():
    def draw_clip(random):
        return {
            "ground_speed": random.uniform(2, 8),
            "blades": int(random.integers(5, 15)),
            "reel_rpm": random.uniform(800, 2400),
            "height_of_cut": random.uniform(0.08, 1),
            "reel_diameter": random.uniform(4, 8),
        }

    def compare_clip(one, answer):
        travelled = one["ground_speed"] * 5280 * 12 / 60 / (one["blades"] * one["reel_rpm"])
        near("clip", one, answer["clip"], travelled)
        near("ratio", one, answer["ratio"], travelled / one["height_of_cut"])
        near("rpm_for_match", one, answer["rpm_for_match"], one["reel_rpm"] * travelled / one["height_of_cut"])
        radius, half = np.longdouble(one["reel_diameter"]) / 2, np.longdouble(travelled) / 2
        near("scallop", one, answer["scallop"], float(radius - np.sqrt(radius**2 - half**2)), absolute=1e-15)

    def draw_wheel(random):
        rated = random.uniform(2000, 6000)
        return {"diameter": random.uniform(3, 12), "spindle_rpm": rated * random.uniform(0.5, 1.2), "rated_rpm": rated}

    def compare_wheel(one, answer):
        near("surface_speed", one, answer["surface_speed"], math.pi * one["diameter"] / 12 * one["spindle_rpm"])
        near("margin", one, answer["margin"], 1 - one["spindle_rpm"] / one["rated_rpm"], absolute=1e-12)
        fast = one["spindle_rpm"] > one["rated_rpm"]
        same("verdict", one, answer["verdict"], "overspeed" if fast else "within_rating")

    return run("clip", draw_clip, compare_clip, 2000, 21) + run("wheel", draw_wheel, compare_wheel, 1000, 22)


@check("match and due: medians with NumPy, open days counted one by one")
def match_and_due():
    def draw_match(random):
        units = [{"tag": f"Q-{at}", "diameter": random.uniform(4.9, 5.1)} for at in range(random.integers(1, 12))]
        return {"units": units, "tolerance": random.uniform(0.002, 0.1)}

    def compare_match(one, answer):
        diameters = np.array([unit["diameter"] for unit in one["units"]])
        far = np.abs(diameters - np.median(diameters)) > one["tolerance"]
        near("spread", one, answer["spread"], np.ptp(diameters), absolute=1e-12)
        near("bring_to", one, answer["bring_to"], diameters.min())
        same("odd_ones", one, answer["odd_ones"], [unit["tag"] for unit, odd in zip(one["units"], far) if odd])

    def draw_due(random):
        month = lambda: f"{random.integers(1, 13):02}-{random.integers(1, 29):02}"  # noqa: E731
        last = date(2024, 1, 1) + timedelta(days=int(random.integers(0, 900)))
        return {
            "last_grind": str(last),
            "interval_days": int(random.integers(1, 300)),
            "season": {"from": month(), "to": month()},
            "today": str(last + timedelta(days=int(random.integers(0, 900)))),
        }

    def compare_due(one, answer):
        first, last = one["season"]["from"], one["season"]["to"]

        def is_open(day):
            text = f"{day.month:02}-{day.day:02}"
            return first <= text <= last if first <= last else text >= first or text <= last

        day, passed = date.fromisoformat(one["last_grind"]), 0
        while passed < one["interval_days"]:
            day += timedelta(days=1)
            passed += is_open(day)
        same("due", one, answer["due"], str(day))
        same("reason", one, answer["reason"], "interval")
        same("overdue_days", one, answer["overdue_days"], max(0, (date.fromisoformat(one["today"]) - day).days))

    return run("match", draw_match, compare_match, 1500, 23) + run("due", draw_due, compare_due, 1000, 24)
