"""Integration of one case with scipy's Radau IIA (order 5; Hairer & Wanner, Solving ODEs II, IV.8).

The run is cut at every breakpoint of an input, at `when` commands, at switching of a pump and at
stop contacts: an event found inside a step discards the step, and the integration is repeated
from the step's start up to the event exactly, so that no step ever straddles one.
"""

import numpy as np
from scipy.integrate import BDF, Radau
from scipy.optimize import brentq

METHODS = {"Radau": Radau, "BDF": BDF}
INCREMENT = {"bar": 1.0, "K": 1e-4, 1e6: 1e-10, 1e3: 1e-9, 1.0: 1e-7, 1e-5: 1.0}
FALLBACK_INCREMENT = 1e-5


class Jacobian:
    """Forward differences by colours: columns that share no row are moved together."""

    def __init__(self, network):
        self.network = network
        linked = network.couplings()
        self.groups = colour(linked)
        self.rows = [np.nonzero(linked[:, c])[0] for c in range(linked.shape[1])]
        self.step = np.array([INCREMENT.get(unit, FALLBACK_INCREMENT) for _, unit in network.labels])

    def __call__(self, t, y):
        f0 = self.network.rhs(t, y)
        out = np.zeros((len(y), len(y)))
        for group in self.groups:
            moved = y.copy()
            moved[group] += self.step[group]
            change = self.network.rhs(t, moved) - f0
            for c in group:
                out[self.rows[c], c] = change[self.rows[c]] / self.step[c]
        return out


def colour(linked):
    """Greedy grouping of columns without a common row."""
    groups, covered = [], []
    for c in range(linked.shape[1]):
        rows = linked[:, c]
        for group, cover in zip(groups, covered):
            if not (cover & rows).any():
                group.append(c)
                cover |= rows
                break
        else:
            groups.append([c])
            covered.append(rows.copy())
    return groups


class Event:
    """A function whose change of sign in `direction` (0: either) ends a step, and what happens then."""

    def __init__(self, function, direction=0.0, action=None):
        self.function, self.direction, self.action = function, direction, action
        self.side = 0.0

    def start(self, t, y):
        """Value at the start of a segment; on the side just entered where the last one ended here."""
        value, self.side = self.side or self.function(t, y), 0.0
        return value

    def crosses(self, before, after):
        """Whether a step from one value to the other crosses."""
        if before == 0.0 or before * after > 0.0:
            return False
        return self.direction == 0.0 or (after - before) * self.direction > 0.0


class Run:
    """Integrates a network over its case and hands every accepted step to `watch(step)`."""

    def __init__(self, network, schedule, rtol=1e-9, method="Radau"):
        self.network, self.schedule = network, schedule
        self.rtol, self.method = rtol, METHODS[method]
        self.jacobian = Jacobian(network)

    def begin(self, t):
        """Fix the straight lines of all inputs from t on."""
        self.schedule.fire(t)
        for made in self.network.inputs:
            made.begin(t)

    def stop_at(self, t):
        """Next breakpoint, at most the end."""
        ends = [made.next_break(t) for made in self.network.inputs]
        return min([self.network.lasts, self.schedule.next(t)] + ends)

    def solver(self, t, y, end):
        """A fresh integrator from (t, y) to `end`."""
        return self.method(self.network.rhs, t, y, end, rtol=self.rtol, atol=self.network.atol,
                           jac=self.jacobian)

    def run(self, watch):
        """Integrate from 0 to the end of the case."""
        t, y = 0.0, self.network.y0.copy()
        while t < self.network.lasts:
            self.begin(t)
            t, y = self.segment(t, y, self.stop_at(t), watch)
        return y

    def segment(self, t, y, end, watch):
        """One smooth stretch, to `end` or to the first event."""
        events = self.schedule.events()
        solver = self.solver(t, y, end)
        before = [e.start(t, y) for e in events]
        while solver.status == "running":
            t_old, y_old = solver.t, solver.y.copy()
            message = solver.step()
            if solver.status == "failed":
                raise RuntimeError(f"at {solver.t} s: {message}")
            hit = first_event(solver, events, before)
            if hit:
                return self.land(t_old, y_old, hit, watch)
            self.accept(solver, t_old, y_old, watch)
            before = [e.function(solver.t, solver.y) for e in events]
        return end, solver.y

    def land(self, t_old, y_old, hit, watch):
        """Repeat a step from its start so that it ends on the event, then act."""
        t_event, event, side = hit
        t_event = max(t_event, np.nextafter(t_old, np.inf))
        again = self.solver(t_old, y_old, t_event)
        while again.status == "running":
            t0, y0 = again.t, again.y.copy()
            message = again.step()
            if again.status == "failed":
                raise RuntimeError(f"at {again.t} s: {message}")
            self.accept(again, t0, y0, watch)
        event.side = side
        if event.action:
            event.side = 0.0
            event.action(t_event)
        return t_event, again.y

    def accept(self, solver, t_old, y_old, watch):
        """Show one accepted step."""
        watch(Step(self.network, t_old, y_old, solver.t, solver.y, solver.dense_output()))


class Step:
    """An accepted step: both ends and the dense output between."""

    def __init__(self, network, t0, y0, t1, y1, dense):
        self.network, self.t0, self.y0, self.t1, self.y1, self.dense = network, t0, y0, t1, y1, dense

    def at(self, t):
        """State within the step."""
        return self.y1 if t >= self.t1 else self.dense(t)


def first_event(solver, events, before):
    """(time, event, side entered) of the earliest crossing inside the last step, or None."""
    found = None
    dense = None
    for event, value in zip(events, before):
        after = event.function(solver.t, solver.y)
        if not event.crosses(value, after):
            continue
        dense = dense or solver.dense_output()
        t = root(event.function, dense, solver.t_old, solver.t, value, after, solver.y)
        if found is None or t < found[0]:
            found = (t, event, 1e-300 if after > 0.0 else -1e-300)
    return found


def root(function, dense, t0, t1, before, after, y1):
    """Instant of a change of sign on the dense output; the later side of the crossing."""
    if after == 0.0:
        return t1
    def value(t):
        return before if t == t0 else (after if t == t1 else function(t, dense(t)))
    return brentq(value, t0, t1, xtol=1e-14 + 4e-16 * t1, rtol=1e-14)
