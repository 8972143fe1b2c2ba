"""The 300 usual questions that a change of the order of merit is judged on: prints them, one request a line.

`python3 generate.py > questions.jsonl`. The recipes are of our own invention, drawn by a fixed seed with a generator written
out here, so that the same file comes out everywhere. Usual means: two to five lines of what is on a common shelf, a climate
from a cool cupboard to a hot one, and a feel that makers ask for; no question is chosen by how it is answered.
"""

import json


class Draw:
    """SplitMix64: the same draws on every machine and in every version of Python."""

    MASK = (1 << 64) - 1

    def __init__(self, seed):
        self.state = seed

    def below(self, n):
        self.state = (self.state + 0x9E3779B97F4A7C15) & self.MASK
        z = self.state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & self.MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & self.MASK
        return (z ^ (z >> 31)) % n

    def one(self, of):
        return of[self.below(len(of))]


LEADS = ["shea-butter", "shea-butter", "shea-butter", "mango-butter", "cocoa-butter", "kokum-butter", "nilotica-shea-butter"]
SECONDS = ["cocoa-butter", "coconut-oil", "mango-butter", "kokum-butter", "shea-butter", "palm-kernel-oil", "avocado-butter"]
OILS = ["sweet-almond-oil", "sunflower-oil", "olive-oil", "jojoba-oil", "grapeseed-oil", "fractionated-coconut-oil",
        "apricot-kernel-oil", "rice-bran-oil", "castor-oil", "avocado-oil"]
HARDENERS = [("beeswax", 6), ("stearic-acid", 5), ("cetyl-alcohol", 4), ("candelilla-wax", 3), ("corn-starch", 5)]
PANTRY = ["cocoa-butter", "kokum-butter", "stearic-acid", "cetyl-alcohol", "beeswax", "candelilla-wax"]


def recipe(draw):
    lines = {draw.one(LEADS): 25 + 5 * draw.below(12)}
    if draw.below(3) > 0:
        second = draw.one(SECONDS)
        lines.setdefault(second, 5 + 5 * draw.below(5))
    if draw.below(3) == 0:
        hardener, most = draw.one(HARDENERS)
        lines[hardener] = 1 + draw.below(most)
    oils = []
    for _ in range(1 + draw.below(2)):
        oil = draw.one(OILS)
        if oil not in oils:
            oils.append(oil)
    left = 100 - sum(lines.values())
    if left < 2 * len(oils):
        lead = next(iter(lines))
        lines[lead] -= 2 * len(oils) - left
        left = 2 * len(oils)
    first = left if len(oils) == 1 else max(1, left * (4 + draw.below(4)) // 10)
    for oil, share in zip(oils, [first, left - first]):
        if share > 0:
            lines[oil] = lines.get(oil, 0) + share
    assert sum(lines.values()) == 100 and all(share > 0 for share in lines.values())
    return [{"id": id, "percent": percent} for id, percent in lines.items()]


def question(draw):
    format = draw.one(["whipped", "whipped", "pot", "pot", "bar"])
    hottest = 24 + draw.below(10)
    coldest = min(hottest - 4, 12 + 2 * draw.below(5))
    firmness = draw.one(["firm", "hard"]) if format == "bar" else draw.one(["soft", "scoopable", "scoopable", "firm"])
    return {
        "ask": "rework",
        "recipe": recipe(draw),
        "format": format,
        "storage_c": {"coldest": coldest, "hottest": hottest},
        "skin_c": 32.5,
        "firmness": firmness,
        "on_skin": draw.one(["melts", "melts", "melts", "lingers"]),
        "limits": {"pantry": PANTRY, "step_percent": draw.one([0.5, 1, 2]), "changes": draw.one([2, 3])},
    }


if __name__ == "__main__":
    draw = Draw(20261129)
    for _ in range(300):
        print(json.dumps(question(draw), separators=(",", ":")))
