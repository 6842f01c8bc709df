"""What all cross-checks share: drawing, running the program, comparing."""

import json
import subprocess

import numpy as np

# Relative, where both sides are closed formulas or solved to the last place.
ANALYTIC = 1e-9

# Set by the command line.
SPARKOUT = None
CHECKS = {}


class Disagreement(Exception):
    pass


def check(name):
    def keep(function):
        CHECKS[name] = function
        return function

    return keep


def calc(name, inputs):
    """The program's answers to all inputs, in one run."""
    lines = "".join(json.dumps(one) + "\n" for one in inputs)
    done = subprocess.run([SPARKOUT, "calc", name, "--lines"], input=lines, capture_output=True, text=True, timeout=300)
    if done.returncode != 0:
        raise Disagreement(f"calc {name} ended with {done.returncode}: {done.stderr.strip()}")
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    if len(answers) != len(inputs):
        raise Disagreement(f"calc {name} gave {len(answers)} answers to {len(inputs)} inputs")
    return answers


def metric(**fields):
    return {"units": "metric", **fields}


def answered(one, answer):
    if "refused" in answer:
        raise Disagreement(f"refused {json.dumps(one)}: {answer['refused']}")
    return answer


def near(what, one, value, expected, relative=ANALYTIC, absolute=0.0):
    if value is None or not abs(value - expected) <= relative * abs(expected) + absolute:
        raise Disagreement(f"{what} is {value!r} instead of {expected!r} for {json.dumps(one)}")


def same(what, one, value, expected):
    if value != expected:
        raise Disagreement(f"{what} is {value!r} instead of {expected!r} for {json.dumps(one)}")


def run(name, draw, compare, count, seed):
    """Draws, computes and compares; none of the inputs may be refused."""
    random = np.random.default_rng(seed)
    inputs = [draw(random) for _ in range(count)]
    for one, answer in zip(inputs, calc(name, inputs), strict=True):
        compare(one, answered(one, answer))
    return count
