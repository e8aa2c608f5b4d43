"""Differences between two sets of results, as shares of the accuracy asked.

Asked: pressures 0.5 % or 0.1 bar, whichever is larger; flows, strokes and everything else 0.5 %
of the fact's largest magnitude in the run; temperatures 0.5 K; times of events 1 ms or 1 %.
The instant of an extreme is not compared.
"""

import json
from collections import namedtuple

SHARE, BAR, KELVIN, SECOND, TIME_SHARE = 0.005, 0.1, 0.5, 1e-3, 0.01
SAME = 0.02               # share up to which a recomputation counts as the same
PRESSURES = {"pressure", "pressure_from_20_ms", "gas_pressure", "inlet_pressure_absolute", "drop", "wanted"}
TEMPERATURES = {"temperature", "gas_temperature", "plate_temperature"}
TIMES = {"slip_starts", "locks_at"}
LEAST = {"speed": 0.01, "flow": 0.01, "velocity": 0.01}    # magnitudes below which 0.5 % is no measure

QUANTITIES = ("pressure", "temperature", "time", "other",
              "history pressure", "history temperature", "history other")

Row = namedtuple("Row", "quantity share where")


class Differences:
    """The largest share of each quantity, and where."""

    def __init__(self):
        self.rows = {}

    def note(self, quantity, difference, allowed, where):
        """One comparison."""
        share = difference / allowed
        if quantity not in self.rows or share > self.rows[quantity].share:
            self.rows[quantity] = Row(quantity, share, where)

    def number(self, fact, a, b, scale, where, group=""):
        """Two numbers of one fact; `scale` its largest magnitude."""
        if (a is None) != (b is None):
            self.note(group + "missing", 1.0, 1e-9, where)
        if a is None or b is None:
            return
        gap = abs(a - b)
        if fact in PRESSURES:
            self.note(group + "pressure", gap, max(SHARE * abs(a), BAR), where)
        elif fact in TEMPERATURES:
            self.note(group + "temperature", gap, KELVIN, where)
        elif fact in TIMES:
            self.note(group + "time", gap, max(SECOND, TIME_SHARE * abs(a)), where)
        else:
            least = LEAST.get(fact.split("_")[0], 1e-3)
            self.note(group + "other", gap, SHARE * max(scale, least), where)


def worst(a, b):
    """Largest differences between two results of a circuit, by quantity."""
    out = Differences()
    for case in a["cases"]:
        for k, (x, y) in enumerate(zip(a["cases"][case]["repeats"], b["cases"][case]["repeats"])):
            where = case if k == 0 else f"{case} #{k + 1}"
            for name in x["nodes"]:
                facts(out, x["nodes"][name], y["nodes"][name], f"{where} {name}")
            for name in x["parts"]:
                facts(out, x["parts"][name], y["parts"][name], f"{where} {name}")
            for e, f in zip(x["expectations"], y["expectations"]):
                fact = "locks_at" if e["unit"] == "s" else "pressure"
                out.number(fact, e["measure"], f["measure"], 1.0, f"{where} {e['name']}")
            histories(out, x["history"], y["history"], where)
    return [out.rows[k] for k in sorted(out.rows)]


def facts(out, x, y, where):
    """Facts of a node or a part."""
    for fact, value in x.items():
        other = y[fact]
        if isinstance(value, dict):
            scale = max(abs(value["lowest"][0] or 0.0), abs(value["highest"][0] or 0.0))
            for key in value:
                a, b = value[key], other[key]
                if isinstance(a, list):
                    a, b = a[0], b[0]
                out.number(fact, a, b, scale, f"{where} {fact} {key}")
        elif isinstance(value, list):
            crossings(out, value, other, f"{where} {fact}")
        else:
            out.number(fact, value, other, abs(value or 0.0), f"{where} {fact}")


def crossings(out, a, b, where):
    """Lists of [time, ...]."""
    if len(a) != len(b):
        out.note("missing", 1.0, 1e-9, where)
    for x, y in zip(a, b):
        out.number("slip_starts", x[0], y[0], 0.0, where)


def histories(out, a, b, where):
    """Pointwise, every state."""
    for label, values in a["states"].items():
        fact = label.rpartition(".")[2]
        scale = max(abs(v) for v in values)
        for t, x, y in zip(a["time"], values, b["states"][label]):
            out.number(fact, x, y, scale, f"{where} {label} at {t} s", "history ")


def told(name, rows):
    """A line per quantity."""
    return "\n".join(f"{name}: {r.quantity} {r.share:.1e} of the accuracy asked ({r.where})" for r in rows)


# The loop circuit from an earlier, separate solution of the same equations at rtol 1e-8 (bar gauge, degC):
# node: lowest, highest, end pressure, end temperature.
MILLRACE = {
    "hot": {"inlet": (-0.0202, 0.0, -0.0198, 59.831), "press": (0.0, 52.7818, 52.2069, 60.182),
            "ret": (0.0, 0.5419, 0.4929, 63.304), "far": (0.0, 45.3988, 44.6423, 60.639),
            "clean": (0.0, 0.3864, 0.3694, 63.312), "cool": (0.0, 0.1145, 0.1018, 60.248)},
    "cold": {"inlet": (-0.0634, 0.0, -0.0613, -4.479), "press": (0.0, 66.0174, 65.5331, -4.150),
             "ret": (0.0, 4.2236, 3.9222, -0.684), "far": (0.0, 17.4253, 17.4253, -1.491),
             "clean": (0.0, 1.7049, 1.4174, -0.618), "cool": (0.0, 1.5086, 1.2217, 5.010)},
}
# pump: net flow at the end L/min, mean shaft W, lowest inlet bar abs; cooler W; reservoir cm3.
MILLRACE_PARTS = {"hot": (23.0668, 2322.6, 0.9931, 1956.2, 30933.5, 31046.5),
                  "cold": (19.1649, 2070.8, 0.9498, -3373.4, 29558.1, 29571.0)}
MILLRACE_BAR, MILLRACE_KELVIN, MILLRACE_SHARE = 0.0015, 0.0015, 4e-5


def millrace(path):
    """The stored results of the first circuit against that table; True where all agree."""
    cases = json.loads(path.read_text(encoding="utf-8"))["cases"]
    misses = []
    for case, nodes in MILLRACE.items():
        run = cases[case]["repeats"][0]
        for node, row in nodes.items():
            p, t = run["nodes"][node]["pressure"], run["nodes"][node]["temperature"]
            got = (p["lowest"][0], p["highest"][0], p["end"], t["end"])
            allowed = (MILLRACE_BAR,) * 3 + (MILLRACE_KELVIN,)
            misses += [f"{case} {node}: {g} for {w}" for g, w, a in zip(got, row, allowed) if abs(g - w) > a]
        pump, tank = run["parts"]["pump"], run["parts"]["tank"]["level"]
        got = (pump["flow"]["end"], pump["power"]["mean"], pump["inlet_pressure_absolute"]["lowest"][0],
               run["parts"]["chiller"]["heat"]["end"], tank["start"], tank["end"])
        misses += [f"{case}: {g} for {w}" for g, w in zip(got, MILLRACE_PARTS[case])
                   if abs(g - w) > MILLRACE_SHARE * abs(w)]
    print("\n".join(misses) or "millrace-loop: agrees with the table")
    return not misses
