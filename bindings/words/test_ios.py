"""What the other phone is given: the same words and figures. python3 -m unittest discover bindings/words"""

import json
import math
import os
import plistlib
import re
import runpy
import shutil
import struct
import subprocess
import unittest
import xml.etree.ElementTree as ET
import zlib

import test_generate
from test_generate import CORE, HERE, Folder

import android  # noqa: E402
import apple  # noqa: E402
import helpswift  # noqa: E402
import helptext  # noqa: E402
import ios  # noqa: E402
import outline  # noqa: E402
import source  # noqa: E402
from drawable import Undrawable  # noqa: E402


def given(placeholder, count):
    """Something to put in: a number, or words with everything that a format may trip over."""
    return count if placeholder.name == "count" else 12 if placeholder.whole_number else f"50 % \"of\" {placeholder.name}’s @ $1 \\"


def on_android(resource, arguments):
    """As a phone reads a string resource and formats it: quotes and escapes of its own, then Formatter of java.util."""
    plain = re.sub(r"\\(.)", lambda found: "\n" if found[1] == "n" else found[1], resource.text)
    if not arguments:
        return plain
    return re.sub(r"%(?:(\d)\$[sd]|%)", lambda found: str(arguments[int(found[1]) - 1]) if found[1] else "%", plain)


def on_the_other(value, arguments):
    """As NSString formats what the catalogue holds: https://developer.apple.com/documentation/foundation, String Format Specifiers."""
    if not arguments:
        return value
    return re.sub(r"%(?:(\d)\$(?:@|lld)|%)", lambda found: str(arguments[int(found[1]) - 1]) if found[1] else "%", value)


class SameWords(unittest.TestCase):
    """Every sentence, put together as each platform does it from what is written for it."""

    def test_both_phones_say_the_same(self):
        texts = source.languages(HERE)["en"]
        resources = {it.get("name"): it for it in ET.fromstring(android.strings(texts).encode())}
        catalogue = json.loads(apple.catalogue({"en": texts}))["strings"]
        self.assertEqual(set(resources), set(catalogue))
        for id_, text in texts.items():
            localised = catalogue[id_]["localizations"]["en"]
            for count, form in ((1, "one"), (0, "other"), (2, "other"), (21, "other")) if text.plural else ((3, "other"),):
                arguments = [given(it, count) for it in text.placeholders]
                item = resources[id_].find(f"item[@quantity='{form}']") if text.plural else resources[id_]
                unit = localised["variations"]["plural"][form] if text.plural else localised
                said = on_the_other(unit["stringUnit"]["value"], arguments)
                self.assertEqual(on_android(item, arguments), said, id_)
                named = {it.name: value for it, value in zip(text.placeholders, arguments)}
                self.assertEqual(text.forms[form].format(**named), said, id_)

    def test_choices_come_in_one_order(self):
        texts = source.languages(HERE)["en"]
        kotlin, swift = android.kotlin(texts, []), ios.words(texts)
        words = lambda written, pattern: re.findall(pattern, written)
        self.assertEqual(words(kotlin, r'"([a-z -]+)" to R\.string'), words(swift, r'word: "([a-z -]+)"'))

    def test_help_is_the_same_to_the_letter(self):
        page, countries, _ = helptext.read(CORE / "packs/help")
        written = helpswift.swift(CORE / "packs/help")
        for line in [line for country in countries for line in country["line"]]:
            self.assertIn(f"number: {ios.quoted(line['number'])}, words: {ios.quoted(line['words'])}, unchecked: ", written)
        for section in page["section"]:
            for line in section["line"]:
                self.assertIn(f"HelpLine(words: {ios.quoted(line['text'])}, sources: from([", written)
        self.assertEqual(written.count(page["unchecked"]), helptext.kotlin(CORE / "packs/help").count(page["unchecked"]))


class Purposes(unittest.TestCase):
    """What the system says when it asks the owner is what stands in en.toml, in the app's own Info.plist too."""

    def test_they_are_those_of_the_app(self):
        texts = source.languages(HERE)["en"]
        info = plistlib.loads((HERE.parent.parent / "ios/App/Trug/Info.plist").read_bytes())
        asked = {key: words for key, words in info.items() if key.endswith("UsageDescription")}
        self.assertEqual(asked, {key: texts[id_].forms["other"] for key, id_ in apple.PURPOSES.items()})
        self.assertEqual(set(json.loads(apple.purposes({"en": texts}))["strings"]), set(asked))


class Spelling(Folder):
    def test_swift_names_and_escapes(self):
        found = self.texts('where = "a \\"b\\" \\\\ (c)"\nprint-two_nights = "{in} {count-of:d}"\n')
        self.assertEqual(ios.declared(found["p_where"]), '        public static var `where`: String { Catalogue.say("p_where") }')
        self.assertEqual(
            ios.declared(found["p_print_two_nights"]),
            '        public static func printTwoNights(`in`: String, countOf: Int) -> String '
            '{ Catalogue.say("p_print_two_nights", .text(`in`), .number(countOf)) }',
        )
        self.assertEqual(ios.quoted('a "b" \\(c)\n'), '"a \\"b\\" \\\\(c)\\n"')

    def test_a_word_may_be_used_on_either_phone_and_must_be_on_one(self):
        texts = self.texts('a = "a"\nb = "b"\nc = "c"\nwhere = "w"\n')
        kotlin = [self.file("A.kt", "R.string.p_a")]
        swift = [self.file("A.swift", "Words.P.b + Words.P.where + Words.P.gone")]
        spoken = ios.spoken(texts, swift)
        self.assertEqual(source.unused(texts, kotlin, spoken), ["p_c is used nowhere", "Words.P.gone is used, and is not there"])

    def test_all_is_written_once(self):
        generate = runpy.run_path(str(HERE / "generate"))["main"]
        for _ in range(2):
            self.assertEqual(generate(["apple", *(str(self.folder / name) for name in ("res", "swift", "app"))]), 0)
            written = sorted(self.folder.glob("*/*"))
            self.assertEqual([it.name for it in written], ["InfoPlist.xcstrings", "Localizable.xcstrings", "Figures.swift", "Help.swift", "Words.swift"])
            times = getattr(self, "times", None)
            self.times = [it.stat().st_mtime_ns for it in written]
        self.assertEqual(times, self.times)


class Outlines(Folder):
    def test_moves_lines_and_curves_are_absolute(self):
        for d, drawn in {
            # SVG 1.1, 8.3: points after a move are lines; a close goes back to where the move was; h and v keep the other axis.
            "m1 1 2 0h3v-1zl1 1": "M1 1L3 1L6 1L6 0ZL2 2",
            # 8.3.6: S mirrors the second handle of a curve before it, and starts at the point where none was.
            "M0 0C0 1 1 2 2 2S4 3 4 4": "M0 0C0 1 1 2 2 2C3 2 4 3 4 4",
            "M2 2S4 3 4 4": "M2 2C2 2 4 3 4 4",
            # 8.3.7: the same for T and the handle of Q.
            "M0 0Q3 0 3 3T6 6": "M0 0C2 0 3 1 3 3C3 5 4 6 6 6",
            # F.6.2: an arc without a radius is a line, one that ends where it begins is nothing.
            "M1 1A0 5 0 0 1 3 4A5 5 0 0 1 3 4": "M1 1L3 4",
        }.items():
            self.assertEqual(outline.spelled(d), drawn, d)

    def test_an_arc_lies_on_its_ellipse(self):
        # x²/17² + y²/10² = 1 around the middle; the half circle is 0.03 % off at most, as cubic quarters are.
        for start, end, sweep in (((7, 24), (41, 24), 1), ((7, 24), (41, 24), 0)):
            curves = outline.arc(start, end, 17, 10, 0, 0, sweep)
            self.assertEqual(len(curves), 2)
            here = start
            for first, second, to in curves:
                for t in (0.25, 0.5, 0.75, 1):
                    x, y = (
                        (1 - t) ** 3 * a + 3 * t * (1 - t) ** 2 * b + 3 * t * t * (1 - t) * c + t**3 * d
                        for a, b, c, d in zip(here, first, second, to)
                    )
                    self.assertAlmostEqual(math.hypot((x - 24) / 17, (y - 24) / 10), 1, delta=0.0004)
                    self.assertTrue(y <= 24.001 if sweep else y >= 23.999)
                here = to

    def test_what_would_be_lost_is_refused(self):
        for head, body in (
            ('stroke-linecap="butt"', '<path d="M0 0L1 1"/>'),
            ("", '<path d="M0 0L1 1" stroke-linejoin="miter"/>'),
            ("", '<path d="M0 0L1"/>'),
            ("", '<circle r="4"/>'),
        ):
            kept = test_generate.Drawing.HEAD.replace(">", ' stroke-linecap="round" stroke-linejoin="round">')
            file = self.file("f.svg", (kept.replace('stroke-linecap="round"', head) if head else kept) + body + "</svg>")
            with self.assertRaises(Undrawable):
                outline.figure(file)


class Drawn(unittest.TestCase):
    """Every figure, by its outlines, against its own file, both drawn by librsvg."""

    SIDE = 64
    # Levels of grey, of 255, that two drawings of a figure may be apart on the average pixel.
    MOST = 0.5

    def setUp(self):
        if not shutil.which("rsvg-convert"):
            self.assertNotEqual(os.environ.get("TRUG_TOOLS"), "required", "rsvg-convert is not here")
            self.skipTest("rsvg-convert is not here")
        self.files = sorted((CORE / "packs/britain/figures").glob("*.svg"))

    def test_outlines_are_the_figures(self):
        off = {file.stem: far for file in self.files if (far := self.apart(self.drawn(file.read_text()), self.drawn(self.again(file)))) > self.MOST}
        self.assertEqual(off, {})

    def test_figures_that_differ_are_apart(self):
        drawings = [self.drawn(self.again(file)) for file in self.files[:12]]
        for one, other in zip(drawings, drawings[1:]):
            self.assertGreater(self.apart(one, other), self.MOST)

    def again(self, file):
        width, height, lines = outline.figure(file)
        paths = "".join(f'<path d="{d}" stroke-width="{thick:g}"/>' for thick, d in lines)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" fill="none" stroke="currentColor" '
            f'stroke-linecap="round" stroke-linejoin="round">{paths}</svg>'
        )

    def apart(self, one, other):
        return sum(abs(a - b) for a, b in zip(one, other)) / len(one)

    def drawn(self, svg):
        """The grey of every pixel. RFC 2083: the chunks of a PNG, and the filters of its rows."""
        command = ["rsvg-convert", "-w", str(self.SIDE), "-h", str(self.SIDE), "-b", "white"]
        png = subprocess.run(command, input=svg.encode(), capture_output=True, check=True).stdout
        width, height, depth, colour = struct.unpack(">IIBB", png[16:26])
        self.assertEqual(depth, 8)
        channels = {2: 3, 6: 4}[colour]
        at, packed = 8, b""
        while at < len(png):
            (long,) = struct.unpack(">I", png[at : at + 4])
            packed += png[at + 8 : at + 8 + long] if png[at + 4 : at + 8] == b"IDAT" else b""
            at += long + 12
        raw, wide = zlib.decompress(packed), width * channels
        before, grey = bytes(wide), bytearray()
        for row in range(height):
            kind, line = raw[row * (wide + 1)], bytearray(raw[row * (wide + 1) + 1 : (row + 1) * (wide + 1)])
            for x in range(wide):
                left, up, corner = line[x - channels] if x >= channels else 0, before[x], before[x - channels] if x >= channels else 0
                guess = left + up - corner
                paeth = min((left, up, corner), key=lambda one: abs(guess - one))
                line[x] = (line[x] + (0, left, up, (left + up) // 2, paeth)[kind]) & 255
            before = bytes(line)
            grey += before[::channels]
        return grey


if __name__ == "__main__":
    unittest.main()
