#!/usr/bin/python3
"""The independent solution: reads circuits/*.yaml, integrates every case, writes results/*.json.

    reference.py                  compute all circuits and write results/
    reference.py NAME ...         these circuits only
    reference.py --check          compute all again and compare with results/
    reference.py --self-test      the laws against published values, the engine against closed forms
    reference.py --convergence    all circuits looser and with another method, against results/
"""

import argparse
import json
import pathlib
import sys
import time

import compare
import examples
import laws
import spec
from facts import Recorder
from network import Network
from schedule import Schedule
from solve import Run

HERE = pathlib.Path(__file__).resolve().parent
DIGITS = 8
UNITS = {
    "pressure": "bar gauge", "temperature": "degC", "time": "s", "flow": "L/min", "velocity": "m/s",
    "drop": "bar", "inlet_pressure_absolute": "bar abs", "level": "cm3", "oil": "cm3",
    "gas_volume": "cm3", "content": "cm3", "gas_pressure": "bar gauge", "position": "mm",
    "speed of a cylinder": "m/s", "speed of a motor": "rpm", "output_speed": "rpm", "torque": "N·m",
    "power": "W", "heat": "W", "energy of a pack": "kJ", "wanted": "bar", "extremes": "[value, time]",
    "passes": "[time, +1 extending or -1 retracting]", "engagements": "[slip starts, locks at, kJ]",
}


def solve_case(circuit, name, rtol, method="Radau"):
    """All repeats of one case; temperatures carry over from one to the next, those of gas as it is brought back without heat."""
    count, carried, out = repeats(circuit.cases[name]), {}, []
    for _ in range(count):
        network = Network(circuit, name, carried)
        schedule = Schedule(network)
        recorder = Recorder(network, schedule)
        y = Run(network, schedule, rtol, method).run(recorder)
        out.append(recorder.result(y))
        carried = temperatures(network, y)
    return {"repeats": out}


def repeats(case):
    """The count of `repeats`."""
    count = case.get("repeats", 1)
    if not isinstance(count, int):
        raise ValueError("repeats: only a count is solved here")
    return count


def temperatures(network, y):
    """What a repeat hands on: temperatures of nodes and plates, temperature and volume of gas."""
    out = {}
    for i, (label, unit) in enumerate(network.labels):
        name, _, fact = label.rpartition(".")
        if unit == "K" or fact == "gas_volume":
            out[(name, fact)] = y[i]
    return out


def solve_circuit(path, rtol=1e-9, method="Radau", told=True):
    """Every case of one spec file."""
    circuit = spec.load(path)
    out = {"circuit": circuit.name, "file": circuit.file, "method": method, "rtol": rtol,
           "units": UNITS, "cases": {}}
    for name in circuit.cases:
        start = time.time()
        out["cases"][name] = solve_case(circuit, name, rtol, method)
        if told:
            steps = sum(r["steps"] for r in out["cases"][name]["repeats"])
            print(f"{circuit.name}/{name}: {steps} steps, {time.time() - start:.1f} s", file=sys.stderr)
    return rounded(out)


def rounded(value):
    """Floats to 8 significant digits, for the same bytes every time."""
    if isinstance(value, dict):
        return {k: rounded(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [rounded(v) for v in value]
    if hasattr(value, "item"):
        value = value.item()
    if isinstance(value, float):
        return None if value != value or abs(value) == float("inf") else float(f"{value:.{DIGITS}g}")
    return value


def result_path(path):
    """Where a circuit's results live."""
    return HERE / "results" / (path.stem + ".json")


def write(path):
    """Compute one circuit and store it, one line a repeat's section."""
    result = solve_circuit(path)
    result_path(path).write_text(laid_out(result), encoding="utf-8")


def laid_out(result):
    """Compact JSON with a line for every node, part and state."""
    return indent(result, 0) + "\n"


def indent(value, depth):
    """JSON with mappings of mappings broken over lines, everything below on one line."""
    flat = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    if not isinstance(value, (dict, list)) or len(flat) < 120 or depth > 7 or \
            (isinstance(value, list) and not any(isinstance(v, dict) for v in value)):
        return flat
    pad, end = " " * (depth + 1), " " * depth
    if isinstance(value, dict):
        rows = [f"{pad}{json.dumps(k, ensure_ascii=False)}: {indent(v, depth + 1)}" for k, v in value.items()]
        return "{\n" + ",\n".join(rows) + f"\n{end}}}"
    return "[\n" + ",\n".join(pad + indent(v, depth + 1) for v in value) + f"\n{end}]"


def check(paths):
    """Compute again and compare with what is stored; True where all agree."""
    fine = True
    for path in paths:
        stored = json.loads(result_path(path).read_text(encoding="utf-8"))
        worst = compare.worst(stored, solve_circuit(path))
        fine &= all(row.share < compare.SAME for row in worst)
        print(compare.told(path.stem, worst))
    return fine and compare.millrace(HERE / "results" / "millrace-loop.json")


def convergence(paths):
    """Each circuit looser, and by another method, against the stored results: the README's table."""
    print("| circuit | solved by | " + " | ".join(compare.QUANTITIES) + " |")
    print("|---" * (2 + len(compare.QUANTITIES)) + "|")
    for path in paths:
        stored = json.loads(result_path(path).read_text(encoding="utf-8"))
        for label, rtol, method in (("Radau, 1e-8", 1e-8, "Radau"), ("BDF, 1e-8", 1e-8, "BDF")):
            rows = {r.quantity: r for r in compare.worst(stored, solve_circuit(path, rtol, method))}
            shares = [f"{rows[k].share:.0e}" if k in rows else "–" for k in compare.QUANTITIES]
            print(f"| {path.stem} | {label} | " + " | ".join(shares) + " |")
            if "missing" in rows or "history missing" in rows:
                print(f"missing: {rows}")


def main():
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("circuits", nargs="*")
    for flag in ("--check", "--self-test", "--convergence"):
        parser.add_argument(flag, action="store_true")
    wanted = parser.parse_args()
    if wanted.self_test:
        return laws.self_test() or examples.self_test()
    paths = sorted((HERE / "circuits").glob("*.yaml"))
    if wanted.circuits:
        paths = [p for p in paths if p.stem in wanted.circuits]
    if wanted.convergence:
        convergence(paths)
    elif wanted.check:
        return 0 if check(paths) else 1
    else:
        for path in paths:
            write(path)
    return 0


if __name__ == "__main__":
    sys.exit(main())
