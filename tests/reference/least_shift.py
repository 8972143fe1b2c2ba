"""The smallest rework by a general optimiser: SciPy's differential evolution with integrality constraints.

Run from the project's root, with the program built (`cargo build --release`) and SciPy from PyPI:

    python3 tests/reference/least_shift.py > tests/reference/least_shift.jsonl

Twenty questions of our own invention, of ingredients that bring their own make-up, so that the catalogue may change. The
optimiser knows nothing of the search: it proposes which lines change and by how many steps, asks the program's `behave` what is missed, and
minimises (miss, lines, shift) as one weighted sum. Each line of the output is a question with what the optimiser found.
"""

import itertools
import json
import random
import subprocess
import sys

from scipy.optimize import differential_evolution

MAKE_UPS = {
    "hard": {"POP": 17, "POS": 40, "SOS": 28, "liquid": 15},
    "soft": {"SOS": 42, "SOO": 28, "OOO": 10, "liquid": 20},
    "lauric": {"LaLaLa": 25, "LaLaM": 25, "CaLaLa": 15, "LaMM": 15, "liquid": 20},
    "oil": {"OOO": 60, "liquid": 40},
    "stearin": {"PPP": 55, "POP": 25, "liquid": 20},
    "acid": {"stearic-acid": 50, "palmitic-acid": 50},
}
STEP = 2

program = subprocess.Popen(
    ["target/release/meltmargin"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
)


def ask(request):
    program.stdin.write(json.dumps(request) + "\n")
    program.stdin.flush()
    return json.loads(program.stdout.readline())


def miss_of(question, names, percents):
    recipe = [
        {"name": name, "percent": percent, "composition": MAKE_UPS[name]}
        for name, percent in zip(names, percents)
        if percent > 0
    ]
    reply = ask({**question, "ask": "behave", "recipe": recipe})
    return sum(
        max(
            (miss["low_percent"] or 0) - miss["found_percent"],
            miss["found_percent"] - (miss["high_percent"] or 1e9),
            0,
        )
        for miss in reply["answer"]["misses"]
    )


def draw(rng):
    names = rng.sample(sorted(MAKE_UPS), 5)
    cuts = sorted(rng.sample(range(1, 100 // STEP), 2))
    percents = [cuts[0] * STEP, (cuts[1] - cuts[0]) * STEP, 100 - cuts[1] * STEP, 0, 0]
    coldest = rng.randint(12, 20)
    question = {
        "format": rng.choice(["whipped", "pot", "bar"]),
        "storage_c": {"coldest": coldest, "hottest": coldest + rng.randint(6, 14)},
        "firmness": rng.choice(["soft", "scoopable", "firm"]),
        "on_skin": rng.choice(["melts", "lingers"]),
    }
    return names, percents, question


def optimise(names, percents, question, seed):
    supports = list(itertools.combinations(range(5), 3))
    known = {}

    def score(x):
        index, first, second = (int(round(value)) for value in x)
        i, j, k = supports[index]
        total = percents[i] + percents[j] + percents[k]
        new = list(percents)
        new[i], new[j] = first * STEP, second * STEP
        new[k] = total - new[i] - new[j]
        if new[k] < 0:
            return 1e9 - new[k]
        key = tuple(new)
        if key not in known:
            shift = sum(max(b - a, 0) for a, b in zip(percents, new))
            lines = sum(a != b for a, b in zip(percents, new))
            known[key] = 1e7 * miss_of(question, names, new) + 200 * lines + shift
        return known[key]

    differential_evolution(
        score,
        [(0, len(supports) - 1), (0, 100 // STEP), (0, 100 // STEP)],
        integrality=[True] * 3,
        seed=seed,
        popsize=150,
        mutation=(0.5, 1.5),
        maxiter=400,
        tol=0,
        polish=False,
    )
    best = min(known, key=known.get)
    return {
        "miss": miss_of(question, names, best),
        "lines": sum(a != b for a, b in zip(percents, best)),
        "shift": sum(max(b - a, 0) for a, b in zip(percents, best)),
    }


rng = random.Random(20)
written = 0
while written < 20:
    names, percents, question = draw(rng)
    # A bar that is softer is refused as a contradiction.
    if question["format"] == "bar" and question["firmness"] != "firm":
        continue
    if miss_of(question, names, percents) == 0:
        continue
    found = optimise(names, percents, question, written)
    recipe = [
        {"name": name, "percent": percent, "composition": MAKE_UPS[name]}
        for name, percent in zip(names, percents)
    ]
    limits = {"step_percent": STEP, "changes": 3}
    print(json.dumps({"request": {"ask": "rework", **question, "recipe": recipe, "limits": limits}, "found": found}))
    print(f"{written}: {found}", file=sys.stderr)
    written += 1
