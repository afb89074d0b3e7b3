"""Line figures as outlines: moves, lines and curves to absolute points, which is all that a SwiftUI path needs."""

import math
import re
import xml.etree.ElementTree as ET

from drawable import FLAG, NUMBER, SVG, STYLES, TAKES, Undrawable, only

# What is drawn so without being said; anything else that a figure says would be lost.
ROUND = {"stroke-linecap": "round", "stroke-linejoin": "round"}
COMMAND = re.compile(r"[\s,]*([A-Za-z])")


def commands(d):
    """The commands of a path, each with one set of its numbers."""
    at = 0
    while at < len(d.rstrip()):
        command = COMMAND.match(d, at)
        if not command or command[1].lower() not in TAKES:
            raise ValueError(f"no command of a path at {at}")
        letter, at = command[1], command.end()
        takes = TAKES[letter.lower()]
        if not takes:
            yield letter, []
            continue
        first = True
        while True:
            given = []
            while len(given) < takes:
                number = (FLAG if letter.lower() == "a" and len(given) in (3, 4) else NUMBER).match(d, at)
                if not number:
                    break
                given.append(float(number[1]))
                at = number.end()
            if not given and not first:
                break
            if len(given) < takes:
                raise ValueError(f"{letter} takes {takes} numbers, and has {len(given)}")
            yield letter, given
            first = False
            # More points after a move are lines: SVG 1.1, 8.3.2.
            letter = {"M": "L", "m": "l"}.get(letter, letter)


class Pen:
    """Draws commands one after the other, and knows where it stands."""

    def __init__(self):
        self.drawn = []
        self.here = self.start = (0.0, 0.0)
        # The last handle of the curve before, and of which kind that was.
        self.bent, self.kind = (0.0, 0.0), ""

    def draw(self, letter, given):
        self.relative, kind = letter.islower(), letter.lower()
        points = [self.point(given[at], given[at + 1]) for at in range(0, len(given) - 1, 2)] if kind in "mlcsqt" else []
        if kind == "z":
            self.drawn.append(("Z", []))
            self.here = self.start
        elif kind == "m":
            self.go("M", *points)
            self.start = self.here
        elif kind == "l":
            self.go("L", *points)
        elif kind == "h":
            self.go("L", (given[0] + (self.here[0] if self.relative else 0), self.here[1]))
        elif kind == "v":
            self.go("L", (self.here[0], given[0] + (self.here[1] if self.relative else 0)))
        elif kind in "cs":
            self.curve(*(points if kind == "c" else [self.smooth("cs"), *points]))
        elif kind in "qt":
            self.quadratic(*(points if kind == "q" else [self.smooth("qt"), *points]))
        else:
            to = self.point(given[5], given[6])
            # Without a radius it is a line: SVG 1.1, F.6.2.
            for curve in arc(self.here, to, *given[:5]) if given[0] and given[1] else []:
                self.go("C", *curve)
            if self.here != to:
                self.go("L", to)
        self.kind = kind

    def point(self, x, y):
        return (x + self.here[0], y + self.here[1]) if self.relative else (x, y)

    def smooth(self, kinds):
        """A curve that says nothing of its first handle goes on as the last one of its kind ended: SVG 1.1, 8.3.6 and 8.3.7."""
        if self.kind not in tuple(kinds):
            return self.here
        return (2 * self.here[0] - self.bent[0], 2 * self.here[1] - self.bent[1])

    def curve(self, first, second, to):
        self.go("C", first, second, to)
        self.bent = second

    def quadratic(self, handle, to):
        # A curve of degree two is one of degree three whose handles reach two thirds of the way.
        handles = [tuple(end[axis] + (handle[axis] - end[axis]) * 2 / 3 for axis in (0, 1)) for end in (self.here, to)]
        self.go("C", *handles, to)
        self.bent = handle

    def go(self, letter, *points):
        self.drawn.append((letter, [number for point in points for number in point]))
        self.here = points[-1]


def outline(d):
    """A path as (letter, numbers): M x y, L x y, C x1 y1 x2 y2 x y, Z; all absolute."""
    pen = Pen()
    for letter, given in commands(d):
        pen.draw(letter, given)
    return pen.drawn


def arc(here, to, rx, ry, degrees, large, sweep):
    """An arc of an ellipse as curves of at most a quarter turn: SVG 1.1, appendix F.6.5 and F.6.6."""
    if here == to:
        return []
    rx, ry, turned = abs(rx), abs(ry), math.radians(degrees % 360)
    cos, sin = math.cos(turned), math.sin(turned)
    dx, dy = (here[0] - to[0]) / 2, (here[1] - to[1]) / 2
    x, y = cos * dx + sin * dy, -sin * dx + cos * dy
    short = math.sqrt(max(1.0, (x / rx) ** 2 + (y / ry) ** 2))
    rx, ry = rx * short, ry * short
    rest = max(0.0, (rx * ry) ** 2 - (rx * y) ** 2 - (ry * x) ** 2) / ((rx * y) ** 2 + (ry * x) ** 2)
    side = (-1 if bool(large) == bool(sweep) else 1) * math.sqrt(rest)
    cx, cy = side * rx * y / ry, -side * ry * x / rx
    middle = (cos * cx - sin * cy + (here[0] + to[0]) / 2, sin * cx + cos * cy + (here[1] + to[1]) / 2)
    begin = math.atan2((y - cy) / ry, (x - cx) / rx)
    span = math.atan2((-y - cy) / ry, (-x - cx) / rx) - begin
    span += 2 * math.pi if sweep and span < 0 else -2 * math.pi if not sweep and span > 0 else 0
    pieces = max(1, math.ceil(abs(span) / (math.pi / 2) - 1e-9))
    step = span / pieces
    reach = 4 / 3 * math.tan(step / 4)

    def on(u, v):
        return (middle[0] + cos * rx * u - sin * ry * v, middle[1] + sin * rx * u + cos * ry * v)

    curves = []
    for piece in range(pieces):
        a, b = begin + piece * step, begin + (piece + 1) * step
        first = on(math.cos(a) - reach * math.sin(a), math.sin(a) + reach * math.cos(a))
        second = on(math.cos(b) + reach * math.sin(b), math.sin(b) - reach * math.cos(b))
        curves.append((first, second, to if piece == pieces - 1 else on(math.cos(b), math.sin(b))))
    return curves


def spelled(d):
    """An outline as text: M24 4C35 4 39 12 39 19Z."""
    return "".join(letter + " ".join(f"{round(number, 3):g}" for number in numbers) for letter, numbers in outline(d))


def figure(path):
    """A figure's file as (width, height, [(width of the line, outline)])."""
    root = ET.fromstring(path.read_text(encoding="utf-8"))
    name = path.name
    only(name, root, "svg", {"viewBox", "fill", "stroke", *STYLES})
    if root.get("fill") != "none" or root.get("stroke") != "currentColor":
        raise Undrawable(f"{name}: <svg>: a figure is lines in the current colour, without a fill")
    left, top, width, height = (float(number) for number in root.get("viewBox", "").split())
    if left or top:
        raise Undrawable(f"{name}: <svg>: the viewBox begins at 0 0")
    lines = []
    for element in root:
        only(name, element, "path", {"d", *STYLES})
        for style, value in ROUND.items():
            if element.get(style, root.get(style)) != value:
                raise Undrawable(f"{name}: <path>: its {style} is {value}")
        try:
            lines.append((float(element.get("stroke-width", root.get("stroke-width", "1"))), spelled(element.get("d", ""))))
        except ValueError as error:
            raise Undrawable(f"{name}: <path>: {error}") from error
    return width, height, lines
