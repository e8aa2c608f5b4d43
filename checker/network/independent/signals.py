"""Inputs that depend on time alone: profiles, valve commands, a pump switched by pressure.

Within one segment of the integration an input is a straight line a + b (t - t0); segments end
at its breakpoints, so the integrator never meets a corner of an input inside a step.
"""

INFINITY = float("inf")


class Signal:
    """A straight line within the present segment."""

    def __init__(self, value=0.0):
        self.a, self.b, self.t0 = value, 0.0, 0.0

    def at(self, t):
        """Value at t within the present segment."""
        return self.a + self.b * (t - self.t0)

    def begin(self, t):
        """Choose the line that holds from t on."""

    def next_break(self, t):
        """First instant after t at which another line holds."""
        return INFINITY


class Profile(Signal):
    """Points (time, value), times rising: linear between, first and last held."""

    def __init__(self, points):
        super().__init__(points[0][1])
        self.points = points

    def begin(self, t):
        after = [i for i, point in enumerate(self.points) if point[0] > t]
        self.t0, self.b = t, 0.0
        if not after:
            self.a = self.points[-1][1]
        elif after[0] == 0:
            self.a = self.points[0][1]
        else:
            (t0, v0), (t1, v1) = self.points[after[0] - 1], self.points[after[0]]
            self.b = (v1 - v0) / (t1 - t0)
            self.a = v0 + self.b * (t - t0)

    def next_break(self, t):
        return min((p[0] for p in self.points if p[0] > t), default=INFINITY)


class Command(Signal):
    """A valve's command: held, or ramped from its present value to a new one."""

    def __init__(self, value):
        super().__init__(value)
        self.goal, self.end = value, -INFINITY

    def go(self, t, to, over):
        """At t start towards `to`, reached after `over`."""
        start = self.at(min(t, self.end)) if self.end > t else self.goal
        self.goal, self.end = to, t + over
        self.t0, self.a = t, start if over > 0.0 else to
        self.b = (to - start) / over if over > 0.0 else 0.0

    def begin(self, t):
        if t >= self.end:
            self.t0, self.a, self.b = t, self.goal, 0.0

    def next_break(self, t):
        return self.end if self.end > t else INFINITY


class Switched(Signal):
    """Speed of a pump that starts below one pressure and stops above another."""

    def __init__(self, node, on_below, off_above, speed, pressure):
        super().__init__(speed if pressure < on_below else 0.0)
        self.node, self.on_below, self.off_above, self.speed = node, on_below, off_above, speed

    def threshold(self):
        """(pressure, direction) of the next switching."""
        return (self.off_above, 1.0) if self.a else (self.on_below, -1.0)

    def toggle(self):
        """Start or stop."""
        self.a = 0.0 if self.a else self.speed
