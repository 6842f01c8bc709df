"""Cross-checks `sparkout calc` against general-purpose libraries on thousands of random inputs.

    python3 crosscheck.py PATH_OF_SPARKOUT [NAME...]

Each check draws seeded random inputs, sends them through `sparkout calc NAME --lines` in one run, and computes the same
another way: NumPy, SciPy, statsmodels and uncertainties where one of them has it, otherwise by brute force or from the
definition. Nothing here is taken from the program. Exit codes: 0 all agree, 1 some do not, 2 it could not be run.
"""

import sys

try:
    import common

    # Each keeps its checks when it is read, in this order.
    import lines, geometry, front, bench  # noqa: E401, F401
except ImportError as missing:
    print(f"a library is missing ({missing}): tests/run.sh installs what requirements.txt lists", file=sys.stderr)
    sys.exit(2)


def main(arguments):
    if not arguments:
        sys.exit("usage: crosscheck.py PATH_OF_SPARKOUT [NAME...]")
    common.SPARKOUT, wanted = arguments[0], arguments[1:]
    failed = 0
    for name, function in common.CHECKS.items():
        if wanted and not any(name.startswith(start) for start in wanted):
            continue
        try:
            print(f"ok    {name}: {function()} inputs", flush=True)
        except common.Disagreement as disagreement:
            failed += 1
            print(f"WRONG {name}: {disagreement}", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except OSError as error:
        print(f"the program could not be run: {error}", file=sys.stderr)
        sys.exit(2)
