"""What happens when: timed commands, `when` commands, pump switching, stop contacts."""

import quantity as q
from machines import Cylinder
from solve import Event

WITHIN = 0.01             # share of the stroke that counts as being there


class Schedule:
    """Commands of one run of a case, in the order of the spec; each fires once."""

    def __init__(self, network):
        self.network = network
        self.timed, self.waiting = [], []
        for command in network.case.get("commands", []):
            target, to = network.commands[command["valve"]], self.goal(command)
            over = q.plain(command.get("over", "0 s"))
            if "at" in command:
                self.timed.append((q.plain(command["at"]), target, to, over))
            else:
                self.wait(command["when"], target, to, over)
        self.cuts = [Event(f) for part in network.parts if isinstance(part, Cylinder) for f in part.cuts()]
        self.switches = [self.switch(made) for made in network.switched]

    def goal(self, command):
        """A command's value: spool position, or pressure difference to the air for a reducing valve."""
        return q.plain(command["to"])

    def wait(self, when, target, to, over):
        """Arm a `when` command, or fire it at the start where its condition already holds."""
        function, direction, holds = condition(self.network, when)
        if holds:
            self.timed.append((0.0, target, to, over))
            return
        event = Event(function, direction)
        event.action = lambda t: (target.go(t, to, over), self.waiting.remove(event))
        self.waiting.append(event)

    def switch(self, made):
        """Event of a pump that starts and stops by pressure."""
        node = self.network.ip[made.node]

        def excess(t, y):
            level, sign = made.threshold()
            return (y[node] - level) * sign
        return Event(excess, 1.0, lambda t: made.toggle())

    def fire(self, t):
        """Start the timed commands that are due."""
        due = [c for c in self.timed if c[0] <= t]
        self.timed = [c for c in self.timed if c[0] > t]
        for _, target, to, over in due:
            target.go(t, to, over)

    def next(self, t):
        """Next timed command."""
        return min((c[0] for c in self.timed), default=float("inf"))

    def next_after(self, t):
        """First timed command after t, fired or not."""
        return min((c[0] for c in self.timed if c[0] > t), default=float("inf"))

    def events(self):
        """Everything that may end a step early."""
        return self.waiting + self.switches + self.cuts


def condition(network, when):
    """(function, direction, holds at the start) of a `when`."""
    if "node" in when:
        i = network.ip[network.index[when["node"]]]
        sense = "below" if "below" in when else "above"
        level = q.pressure(when[sense], network.air)
        direction = -1.0 if sense == "below" else 1.0
        return (lambda t, y: y[i] - level), direction, (network.y0[i] - level) * direction > 0.0
    part = network.find(when["part"])
    target = q.plain(when["reaches"])
    start = network.y0[part.at]
    direction = 1.0 if start < target else -1.0
    return (lambda t, y: y[part.at] - target), direction, abs(start - target) <= WITHIN * part.stroke
