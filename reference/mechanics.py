"""Gathers the check tables for packages/mechanics into mechanics.json and mechanics-shot.json.

The numbers come from two Python programs written apart from Underfoot and from each other (NumPy 1.24, SciPy 1.10, closed
forms and their inverses; the whole shot from a simulator that integrates Newton's law exactly). This script only copies:
numbers are kept as they are, the whole shot is thinned to every second sample, its curves to every 0.2 s.

Run: python3 reference/mechanics.py FOLDER, the folder with the tables.
"""
import csv
import json
import pathlib
import sys

tables = pathlib.Path(sys.argv[1])
here = pathlib.Path(__file__).parent


def table(name):
    path = tables / name
    if name.endswith(".csv"):
        with path.open() as file:
            return [{key: float(value) for key, value in row.items()} for row in csv.DictReader(file)]
    return json.loads(path.read_text())


def written(name, content):
    (here / name).write_text(json.dumps(content, separators=(",", ":")).replace('},{', '},\n{') + "\n")


cop = table("spec/cop.json")
written("mechanics.json", {
    "source": "closed forms and forward models of the plate types (C3D user guide), the static slope law, WGS84 normal gravity, Newton; first and second program written apart",
    "generator": "reference/mechanics.py copies the tables; they were made with Python, NumPy 1.24, SciPy 1.10",
    "axes": table("axes.json"),
    "plates": table("plates.json"),
    "lab": table("lab.json"),
    "twoFeet": table("two-feet.json"),
    "foot": table("foot.json"),
    "gravity": table("gravity.csv"),
    "slope": table("slope.csv"),
    "motion": table("motion.json"),
    "second": {
        "axes": table("spec/axes.json"),
        "cop": {"cases": cop["cases"][:10]},
        "feet": table("spec/feet.json"),
        "gravity": table("spec/gravity.json"),
        "motion": table("spec/motion.json"),
        "slope": table("spec/slope.json"),
    },
})

shot = table("shot-right-flat-stock.json")
with (tables / "shot-right-flat-stock.csv").open() as file:
    rows = list(csv.reader(file))
shot["rate"] /= 2
shot["curves"] = {name: values[::4] for name, values in shot["curves"].items()}
written("mechanics-shot.json", {
    "about": "an invented shot of an invented player, exact sensors; truth known",
    "generator": "reference/mechanics.py: every second sample of a simulated shot of 6 s",
    "facts": shot,
    "names": rows[0],
    "samples": [[float(value) for value in row] for row in rows[1::2]],
})
