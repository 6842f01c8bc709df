"""Front and what it is worth, Rear, Prove and the height of cut."""

import json
import math

import numpy as np
import uncertainties
from uncertainties import umath
from common import Disagreement, answered, calc, check, metric, near, run, same


def any_front(random):
    wheelbase, swapped = random.uniform(200, 500), random.random() < 0.5

    def pair(zero, other):
        zero, other = (other, zero) if swapped else (zero, other)
        return {"zero_y": zero, "other_y": other}

    return metric(
        zero_diameter=random.uniform(110, 200),
        other_diameter=random.uniform(110, 200),
        reading=random.uniform(-1, 1),
        dial=random.choice(["diameter", "radius"]).item(),
        touch=pair(random.uniform(0, 60), random.uniform(400, 700)),
        tape_y=pair(random.uniform(0, 60), random.uniform(400, 700)),
        adjuster=pair(random.uniform(-80, 0), random.uniform(600, 800)),
        reel_x=random.uniform(50, 150),
        wheelbase=wheelbase,
        jack_y=random.uniform(150, 500),
        tolerance=0.0508,
        uncertainty={
            "dial_graduation": random.uniform(0.001, 0.03),
            "tape_graduation": random.uniform(0.001, 0.03),
            "touch_sd": random.uniform(0.0005, 0.02),
            "touches_zero": int(random.integers(1, 10)),
            "touches_other": int(random.integers(1, 10)),
        },
    )


def spans(one):
    touch, taped = one["touch"], one["tape_y"]
    return (touch["other_y"] - touch["zero_y"]) / (taped["other_y"] - taped["zero_y"])


@check("front: tilt and moves by solving the plane through three points with NumPy")
def front():
    def compare(one, answer):
        k = 2 if one["dial"] == "diameter" else 1
        cone = (one["zero_diameter"] - one["other_diameter"]) * spans(one)
        tilt = one["reading"] / k - cone / 2
        near("target", one, answer["target"], k / 2 * cone, absolute=1e-12)
        near("tilt", one, answer["tilt"], tilt, absolute=1e-12)
        touch, adjuster = one["touch"], one["adjuster"]
        points = np.array([[1, 0, adjuster["zero_y"]], [1, 0, adjuster["other_y"]], [1, one["wheelbase"], one["jack_y"]]])
        at = np.array([[1, one["reel_x"], touch["zero_y"]], [1, one["reel_x"], touch["other_y"]]])
        # Rise of both touches for a unit rise at each adjuster.
        rise = at @ np.linalg.solve(points, np.eye(3)[:, :2])
        tilting = rise[1] - rise[0]
        for move, which in [("move_zero", 0), ("move_other", 1)]:
            height = -tilt / tilting[which]
            near(f"{move}.height", one, answer[move]["height"], height, absolute=1e-11)
            near(f"{move}.rezero", one, answer[move]["rezero"], k * rise[0, which] * height, absolute=1e-10)
        both = np.linalg.solve(rise, [0, -tilt])
        near("move_both.zero", one, answer["move_both"]["zero"], both[0], absolute=1e-10)
        near("move_both.other", one, answer["move_both"]["other"], both[1], absolute=1e-10)

    return run("front", any_front, compare, 3000, 13)


@check("front: u(tilt) with the uncertainties package, linear propagation (JCGM 100, 5.1.2)")
def front_uncertainty():
    def compare(one, answer):
        k, worth = (2 if one["dial"] == "diameter" else 1), one["uncertainty"]
        rectangular = 1 / (2 * math.sqrt(3))

        def touched(value, touches):
            scatter = uncertainties.ufloat(value, worth["touch_sd"] / umath.sqrt(touches))
            return scatter + uncertainties.ufloat(0, worth["dial_graduation"] * rectangular)

        def taped(value):
            return uncertainties.ufloat(value, worth["tape_graduation"] * rectangular)

        reading = touched(one["reading"], worth["touches_other"]) - touched(0, worth["touches_zero"])
        target = k / 2 * (taped(one["zero_diameter"]) - taped(one["other_diameter"])) * spans(one)
        tilt = (reading - target) / k
        near("tilt", one, answer["tilt"], tilt.nominal_value, absolute=1e-12)
        near("tilt_u95", one, answer["tilt_u95"], 2 * tilt.std_dev)
        u, size, limit = 2 * tilt.std_dev, abs(tilt.nominal_value), one["tolerance"]
        verdict = "adjust" if size > limit else "parallel" if size + u <= limit else "repeat"
        same("verdict", one, answer["verdict"], verdict)

    def draw(random):
        # A cylinder whose tilt is about the tolerance, so that all three verdicts come.
        one = any_front(random)
        k = 2 if one["dial"] == "diameter" else 1
        return {**one, "other_diameter": one["zero_diameter"], "reading": k * random.uniform(-0.08, 0.08)}

    return run("front", draw, compare, 3000, 14)


@check("front: u(tilt) by Monte Carlo through the program (JCGM 101), within 2 %")
def front_monte_carlo():
    random = np.random.default_rng(15)
    units, draws = 12, 20_000
    for _ in range(units):
        one = any_front(random)
        worth = one["uncertainty"]

        def touched(value, touches):
            scatter = random.normal(0, worth["touch_sd"], (draws, touches)).mean(axis=1)
            graduation = worth["dial_graduation"] / 2
            return value + scatter + random.uniform(-graduation, graduation, draws)

        def taped(value):
            graduation = worth["tape_graduation"] / 2
            return value + random.uniform(-graduation, graduation, draws)

        reading = touched(one["reading"], worth["touches_other"]) - touched(0, worth["touches_zero"])
        zero, other = taped(one["zero_diameter"]), taped(one["other_diameter"])
        inputs = [
            {**one, "reading": r, "zero_diameter": z, "other_diameter": o}
            for r, z, o in zip(reading.tolist(), zero.tolist(), other.tolist())
        ]
        tilts = np.array([answered(given, answer)["tilt"] for given, answer in zip(inputs, calc("front", inputs))])
        told = answered(one, calc("front", [one])[0])["tilt_u95"]
        near("tilt_u95/2", one, told / 2, tilts.std(ddof=1), relative=0.02)
        within = np.mean(np.abs(tilts - np.mean(tilts)) <= told)
        if not 0.94 <= within <= 1:
            raise Disagreement(f"{within:.1%} lie within tilt_u95 for {json.dumps(one)}")
    return units * draws


@check("rear and prove: error and uncertainty with the uncertainties package")
def rear_and_prove():
    rectangular = 1 / (2 * math.sqrt(3))

    def draw_rear(random):
        return metric(
            reading_a=random.uniform(-1, 1),
            reading_b=random.uniform(-1, 1),
            roller_a=random.uniform(50, 80),
            roller_b=random.uniform(50, 80),
            reading_span=random.uniform(300, 700),
            adjuster_span=random.uniform(300, 900),
            frame="adjustable",
            tolerance=0.05,
            uncertainty={"indicator_graduation": random.uniform(0, 0.03), "indicator_sd": random.uniform(0, 0.02)},
        )

    def compare_rear(one, answer):
        worth = one["uncertainty"]

        def read(value):
            graduation = uncertainties.ufloat(0, worth["indicator_graduation"] * rectangular)
            return uncertainties.ufloat(value, worth["indicator_sd"]) + graduation

        error = read(one["reading_b"]) - read(one["reading_a"]) - (one["roller_b"] - one["roller_a"])
        near("error", one, answer["error"], error.nominal_value, absolute=1e-12)
        near("error_u95", one, answer["error_u95"], 2 * error.std_dev)
        move = -error.nominal_value * one["adjuster_span"] / one["reading_span"]
        near("move_b", one, answer["move_b"], move, absolute=1e-12)

    def draw_prove(random):
        lead = random.uniform(110, 200)
        return metric(
            lead=lead,
            trail=lead + random.uniform(-0.1, 0.1),
            tape_graduation=random.uniform(0, 0.03),
            tape_sd=random.uniform(0, 0.02),
            tolerance=0.05,
            tilt_left={
                "tilt": random.uniform(-0.05, 0.05),
                "tilt_u95": random.uniform(0, 0.03),
                "zero_end": random.choice(["lead", "trail"]).item(),
            },
        )

    def compare_prove(one, answer):
        def read(value):
            graduation = uncertainties.ufloat(0, one["tape_graduation"] * rectangular)
            return uncertainties.ufloat(value, one["tape_sd"]) + graduation

        cone, left = read(one["lead"]) - read(one["trail"]), one["tilt_left"]
        near("cone_u95", one, answer["cone_u95"], 2 * cone.std_dev)
        zero_less_other = cone if left["zero_end"] == "lead" else -cone
        closure = zero_less_other + 2 * uncertainties.ufloat(left["tilt"], left["tilt_u95"] / 2)
        near("misclosure", one, answer["misclosure"], closure.nominal_value, absolute=1e-12)
        near("misclosure_u95", one, answer["misclosure_u95"], 2 * closure.std_dev)

    return run("rear", draw_rear, compare_rear, 1500, 16) + run("prove", draw_prove, compare_prove, 1500, 17)


@check("height: both moves by solving for the edge with NumPy")
def height():
    def draw(random):
        gauge = [
            {"y": random.uniform(0, 100), "height": random.uniform(2, 6)},
            {"y": random.uniform(300, 600), "height": random.uniform(2, 6)},
        ]
        return metric(
            wanted=random.uniform(2, 6),
            gauge=gauge,
            edge_x=random.uniform(60, 180),
            wheelbase=random.uniform(220, 500),
            adjuster={"a_y": random.uniform(-80, 0), "b_y": random.uniform(600, 800)},
        )

    def compare(one, answer):
        # The rear roller is a line that stays: the edge turns about it, and with it both gauges.
        lever = 1 - one["edge_x"] / one["wheelbase"]
        a, b = one["adjuster"]["a_y"], one["adjuster"]["b_y"]
        share = np.array([(gauge["y"] - a) / (b - a) for gauge in one["gauge"]])
        lifted = lever * np.stack([1 - share, share], axis=1)
        moves = np.linalg.solve(lifted, [one["wanted"] - gauge["height"] for gauge in one["gauge"]])
        near("move_a", one, answer["move_a"], moves[0], absolute=1e-11)
        near("move_b", one, answer["move_b"], moves[1], absolute=1e-11)

    return run("height", draw, compare, 2000, 18)
