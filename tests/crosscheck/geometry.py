"""Roots, circles and stacks."""

import itertools
import math

import numpy as np
from scipy import optimize
from common import check, metric, near, run, same


@check("tape: tip circle against scipy.optimize.brentq")
def tape():
    def draw(random):
        blades = int(random.integers(3, 31))
        lead, trail = random.uniform(60, 250), random.uniform(60, 250)
        land = min(random.uniform(0, 0.9) * min(lead, trail) * math.pi / blades, 12.7)
        return metric(
            blades=blades,
            lead=lead,
            trail=trail,
            land=land,
            reel_temperature=random.uniform(-10, 60),
            tape_temperature=random.uniform(-10, 60),
        )

    def compare(one, answer):
        def grown(temperature):
            return 1 + 11.5e-6 * (temperature - 20)

        for end in ["lead", "trail"]:
            blades, land, reading = one["blades"], one["land"], one[end]
            tips = math.pi / blades

            def equation(d):
                return blades * (land + d * math.sin(tips - land / d)) - math.pi * reading

            low, high = land / tips * (1 + 1e-15) + 1e-9, reading * tips / math.sin(tips) * (1 + 1e-9)
            root = optimize.brentq(equation, low, high, xtol=1e-13, rtol=8.9e-16)
            expected = root * grown(one["tape_temperature"]) / grown(one["reel_temperature"])
            near(f"diameter.{end}", one, answer["diameter"][end], expected)
        near("cone", one, answer["cone"], one["lead"] - one["trail"], absolute=1e-13)

    return run("tape", draw, compare, 3000, 6)


@check("relief: blade angle against scipy.optimize.brentq on the angle itself")
def relief():
    def draw(random):
        return metric(
            reel_diameter=random.uniform(80, 260),
            wheel_diameter=random.uniform(80, 300),
            relief_angle=random.uniform(5, 40),
            wheel_offset=random.uniform(-10, 10),
        )

    def compare(one, answer):
        reel, wheel, alpha = one["reel_diameter"] / 2, one["wheel_diameter"] / 2, math.radians(one["relief_angle"])

        def equation(beta):
            return beta + math.asin((reel * math.sin(beta) - one["wheel_offset"]) / wheel) - alpha

        def angle(sine):
            return math.asin(max(-1.0, min(1.0, sine / reel)))

        low, high = angle(one["wheel_offset"] - wheel), angle(one["wheel_offset"] + wheel)
        beta = optimize.brentq(equation, low * (1 - 1e-12), high * (1 - 1e-12), xtol=1e-15, rtol=8.9e-16)
        near("blade_angle", one, answer["blade_angle"], math.degrees(beta), absolute=1e-9)
        near("finger_offset", one, answer["finger_offset"], reel * math.sin(beta), absolute=1e-9)

    return run("relief", draw, compare, 3000, 7)


def face_after(land, diameter, removed, angle):
    """The land where the new circle meets the straight relief face, found along the face."""
    radius, smaller, alpha = diameter / 2, (diameter - removed) / 2, math.radians(angle)
    # The face starts at the end of the land, here (radius, 0), and falls at alpha below the tangent.
    point = lambda s: np.array([radius - s * math.sin(alpha), s * math.cos(alpha)])  # noqa: E731
    # In units of the drop, so that the root is told from the start of the face.
    along = optimize.brentq(
        lambda s: np.hypot(*point(s)) - smaller, 0, radius * math.sin(alpha), xtol=1e-14, rtol=8.9e-16
    )
    x, y = point(along)
    return smaller * (land / radius + math.atan2(y, x))


@check("land: exact intersection of circle and relief face by scipy.optimize.brentq")
def land():
    def draw(random):
        return metric(
            land=random.uniform(0, 2),
            diameter=random.uniform(80, 260),
            removed=random.uniform(0.02, 2),
            relief_angle=random.uniform(15, 40),
            land_limit=random.uniform(2.5, 4),
        )

    def compare(one, answer):
        expected = face_after(one["land"], one["diameter"], one["removed"], one["relief_angle"])
        # The brute force knows the radius to about 1e-14 of 100 mm, over the slope of the face.
        near("land_after", one, answer["land_after"], expected, absolute=1e-11)
        near("growth", one, answer["growth"], expected - one["land"], absolute=1e-11)

        def over_limit(removed):
            return face_after(one["land"], one["diameter"], removed, one["relief_angle"]) - one["land_limit"]

        most = one["diameter"] * (1 - math.cos(math.radians(one["relief_angle"]))) * (1 - 1e-9)
        if over_limit(most) > 0:
            reached = optimize.brentq(over_limit, 1e-9, most, xtol=1e-13, rtol=8.9e-16)
            near("removals_to_limit", one, answer["removals_to_limit"], reached / one["removed"])

    return run("land", draw, compare, 2000, 8)


@check("plan: land, passes and schedule by grinding")
def plan():
    def draw(random):
        lead = random.uniform(110, 200)
        return metric(
            lead=lead,
            trail=lead + random.uniform(-0.6, 0.6),
            wear_limit=random.uniform(100, 109),
            cleanup=random.uniform(0.01, 0.2),
            infeed=random.uniform(0.01, 0.1),
            sparkout=int(random.integers(0, 6)),
            stroke=random.uniform(300, 900),
            traverse=random.uniform(600, 6000),
            usual_removal=random.uniform(0.05, 0.4),
            dial=random.choice(["diameter", "radius"]).item(),
            **{"yield": random.uniform(0.3, 1.2)},
            land=random.uniform(0.5, 1.5),
            relief_angle=random.uniform(20, 35),
        )

    def compare(one, answer):
        final = min(one["lead"], one["trail"]) - one["cleanup"]
        stock = max(one["lead"], one["trail"]) - final
        near("final_diameter", one, answer["final_diameter"], final)
        near("stock", one, answer["stock"], stock)
        still, dials, dial = stock / one["yield"], [], 0.0
        scale = 1 if one["dial"] == "diameter" else 0.5
        while still > 1e-9 * one["infeed"]:
            fed = min(one["infeed"], still)
            still, dial = still - fed, dial + fed * scale
            dials.append(dial)
        same("passes", one, answer["passes"], len(dials))
        for told, expected in zip(answer["schedule"], dials, strict=True):
            near("schedule", one, told, expected)
        minutes = (len(dials) + one["sparkout"]) * one["stroke"] / one["traverse"]
        near("minutes", one, answer["minutes"], minutes)
        same("grinds_left", one, answer["grinds_left"], int((final - one["wear_limit"]) // one["usual_removal"]))
        for end in ["lead", "trail"]:
            expected = face_after(one["land"], one[end], one[end] - final, one["relief_angle"])
            near(f"land_after.{end}", one, answer["land_after"][end], expected, absolute=1e-11)

    return run("plan", draw, compare, 2000, 9)


@check("knife: worn edge by turning the bed bar, scipy.optimize.brentq")
def knife():
    def draw(random):
        diameter = random.uniform(110, 200)
        height = random.uniform(2, 12)
        return metric(
            reel_diameter=diameter,
            axis_height=height + diameter / 2 * random.uniform(0.95, 0.995),
            height_of_cut=height,
            gap=random.uniform(0, 0.05),
            pivot={"x": random.uniform(60, 110), "z": random.uniform(30, 80), "reel_x": random.uniform(-5, 5)},
            worn_diameter=diameter - random.uniform(0.1, 4),
        )

    def compare(one, answer):
        reach = one["reel_diameter"] / 2 + one["gap"]
        below = one["axis_height"] - one["height_of_cut"]
        behind = math.sqrt(reach**2 - below**2)
        near("behind_centre", one, answer["behind_centre"], behind)
        near("contact_angle", one, answer["contact_angle"], math.degrees(math.acos(below / reach)))
        axis = complex(one["pivot"]["reel_x"], one["axis_height"])
        pivot = complex(one["pivot"]["x"], one["pivot"]["z"])
        edge = axis + complex(behind, -below)
        worn = one["worn_diameter"] / 2 + one["gap"]

        def gap_at(turn):
            return abs(pivot + (edge - pivot) * np.exp(1j * turn) - axis) - worn

        # The nearest place on either side at which the gap closes.
        found = []
        for way in [1, -1]:
            turns = way * np.linspace(0, math.pi, 4001)
            gaps = gap_at(turns)
            closes = np.flatnonzero(gaps[1:] <= 0)
            if closes.size:
                first = closes[0]
                found.append(optimize.brentq(gap_at, turns[first], turns[first + 1], xtol=1e-15, rtol=8.9e-16))
        turn = min(found, key=abs)
        new = pivot + (edge - pivot) * np.exp(1j * turn)
        near("worn_height_of_cut", one, answer["worn_height_of_cut"], new.imag, absolute=1e-9)
        near("worn_behind_centre", one, answer["worn_behind_centre"], new.real - axis.real, absolute=1e-9)
        near("roller_move", one, answer["roller_move"], new.imag - one["height_of_cut"], absolute=1e-9)

    return run("knife", draw, compare, 1500, 10)


@check("centre: touch of two circles, scipy.optimize.brentq")
def centre():
    def draw(random):
        return metric(
            reel_diameter=random.uniform(80, 260),
            wheel_diameter=random.uniform(80, 300),
            offset_zero=random.uniform(-8, 8),
            offset_other=random.uniform(-8, 8),
            dial=random.choice(["diameter", "radius"]).item(),
            allowed_error=random.uniform(0.002, 0.05),
        )

    def compare(one, answer):
        k = 2 if one["dial"] == "diameter" else 1
        apart = (one["reel_diameter"] + one["wheel_diameter"]) / 2

        def higher(offset):
            return optimize.brentq(
                lambda rise: math.hypot(offset, apart - rise) - apart, 0, apart / 2, xtol=1e-14, rtol=8.9e-16
            )

        zero, other = k * higher(one["offset_zero"]), k * higher(one["offset_other"])
        near("dial_error_zero", one, answer["dial_error_zero"], zero, absolute=1e-12)
        near("dial_error_other", one, answer["dial_error_other"], other, absolute=1e-12)
        near("false_tilt", one, answer["false_tilt"], (other - zero) / k, absolute=1e-12)
        near("false_cone", one, answer["false_cone"], 2 / k * (zero - other), absolute=1e-12)
        allowed = k * higher(answer["allowed_offset"])
        near("the error at allowed_offset", one, allowed, one["allowed_error"], absolute=1e-12)

    return run("centre", draw, compare, 2000, 11)


@check("shims: every stack by brute force")
def shims():
    def draw(random):
        stock = random.choice(np.arange(5, 100), random.integers(1, 6), replace=False).tolist()
        target, most = int(random.integers(1, 400)), int(random.integers(0, 6))
        return metric(target=target / 1000, stock=[thickness / 1000 for thickness in stock], most=most)

    def compare(one, answer):
        target, stock = round(one["target"] * 1000), [round(thickness * 1000) for thickness in one["stock"]]
        stacks = (c for n in range(one["most"] + 1) for c in itertools.combinations_with_replacement(stock, n))
        best = min((abs(sum(stack) - target), len(stack), sum(stack)) for stack in stacks)
        total = round(answer["total"] * 1000)
        same("stack", one, (abs(total - target), len(answer["stack"]), total), best)
        near("total", one, answer["total"], math.fsum(answer["stack"]), absolute=1e-12)
        near("error", one, answer["error"], (total - target) / 1000, absolute=1e-12)

    return run("shims", draw, compare, 2000, 12)
