"""The words and figures are read, refused and written as they should be: python3 -m unittest discover bindings/words"""

import json
import runpy
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ET
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE))

import android  # noqa: E402
import apple  # noqa: E402
import drawable  # noqa: E402
import helptext  # noqa: E402
import source  # noqa: E402

CORE = HERE.parent.parent / "core"
A = "{http://schemas.android.com/apk/res/android}"


class Folder(unittest.TestCase):
    def setUp(self):
        kept = tempfile.TemporaryDirectory()
        self.addCleanup(kept.cleanup)
        self.folder = Path(kept.name)

    def file(self, name, text):
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return path

    def texts(self, body):
        return source.read(self.file("en.toml", '[p]\nabout = "A page."\n' + body))

    def faults(self, body):
        with self.assertRaises(source.Faults) as raised:
            self.texts(body)
        return str(raised.exception)


class Reading(Folder):
    def test_a_key_twice_is_refused(self):
        self.assertIn("en.toml", self.faults('a = "one"\na = "two"\n'))
        self.assertIn("p_a_b is there twice", self.faults('a_b = "one"\na-b = "two"\n'))

    def test_plural_forms_are_those_of_english(self):
        self.assertIn("plural form one is missing", self.faults('a = { other = "{count} finds" }\n'))
        self.assertIn("no plural form few", self.faults('a = { one = "a", few = "b", other = "{count}" }\n'))
        self.assertIn("plurals: no plural form", self.faults('a = { one = "a", plurals = "b", other = "{count}" }\n'))
        self.assertIn("does not tell the {count}", self.faults('a = { one = "one find", other = "finds" }\n'))
        self.assertIn("{count} has plural forms", self.faults('a = "{count} finds"\n'))

    def test_placeholders_are_names(self):
        for text in ("{}", "{0}", "{a!r}", "{a:.2f}", "{A}"):
            self.assertIn("is no placeholder", self.faults(f'a = "{text}"\n'), text)
        self.assertIn("[p] a:", self.faults('a = "{open"\n'))
        self.assertIn("text here and a number there", self.faults('a = "{n} of {n:d}"\n'))

    def test_blanks_that_would_be_lost_are_refused(self):
        for text in (" a", "a ", "a  b"):
            self.assertIn("blanks", self.faults(f'a = "{text}"\n'), text)

    def test_every_table_says_where_its_words_stand(self):
        with self.assertRaises(source.Faults):
            source.read(self.file("en.toml", '[p]\na = "b"\n'))

    def test_another_language_is_held_against_english(self):
        self.texts('a = "{who} saw {what}"\nn = { one = "a find", other = "{count} finds" }\nz = "z"\n')
        self.file("cy.toml", '[p]\na = "{what}: {whom}"\nn = "{who}"\nq = "q"\n')
        with self.assertRaises(source.Faults) as raised:
            source.languages(self.folder)
        told = str(raised.exception)
        for fault in ("p_z is missing", "p_q is not in en.toml", "p_a: whom: no such", "p_n has plural forms in one"):
            self.assertIn(fault, told)

    def test_another_order_keeps_the_arguments(self):
        self.texts('a = "{who} saw {what}"\n')
        self.file("cy.toml", '[p]\na = "{what}: {who}"\n')
        found = source.languages(self.folder)["cy"]["p_a"]
        self.assertEqual(android.value(found.forms["other"], found.placeholders), "%2$s: %1$s")


class Using(Folder):
    def test_unused_and_unknown_keys_are_told(self):
        texts = self.texts('a = "a"\nb = "b"\nn = { one = "a find", other = "{count} finds" }\n')
        used = [self.file("A.kt", "getString(R.string.p_a) + R.string.p_c"), self.file("m.xml", '<a b="@string/p_b"/>')]
        self.assertEqual(source.unused(texts, used), ["p_n is used nowhere", "p_c is used, and is not there"])

    def test_every_error_of_the_core_has_its_sentence_and_no_other(self):
        core = self.folder / "core"
        self.file("core/error.rs", """impl Error {
    pub fn code(&self) -> &'static str {
        match self { Self::A => "no-room", Self::B { .. } => "found-two", Self::C(error) => error.code(), }
    }

    pub fn arguments(&self) -> Vec<(&'static str, String)> {
        vec![("what", String::new())]
    }
}
""")
        texts = source.read(self.file("en.toml", '[error]\nabout = "e"\nno-room = "{what} and {why}"\nother = "x"\n'))
        self.assertEqual(
            source.errors_without_words(texts, core),
            ["[error] found-two is missing", "[error] other is no code of the core", "[error] no-room: no error brings {why}"],
        )

    def test_the_core_has_errors_to_word(self):
        codes, arguments = source.core_errors(CORE / "src")
        self.assertGreater(len(codes), 60)
        self.assertTrue({"busy", "photo-empty", "place-latitude", "evidence-wrong-kind"} <= codes)
        self.assertTrue({"what", "why", "found"} <= arguments)


class Writing(Folder):
    def test_android_escapes(self):
        for text, spelled in {
            r"it's": r"it\'s",
            '\\"so\\"': r"\"so\"",
            "@home": r"\@home",
            "?": r"\?",
            "a\\nb": r"a\nb",
            "a < b & c": "a &lt; b &amp; c",
            "50 %": "50 %",
            "50 % of {what}": "50 %% of %1$s",
            "{{x}}": "{x}",
            "C:\\\\x": r"C:\\x",
        }.items():
            found = self.texts(f'a = "{text}"\n')["p_a"]
            self.assertEqual(android.value(found.forms["other"], found.placeholders), spelled)

    def test_plurals_are_handed_the_count_first(self):
        texts = self.texts('a = { one = "{who} has one", other = "{who} has {count}" }\n')
        root = ET.fromstring(android.strings(texts).encode())
        self.assertEqual([item.text for item in root.find("plurals")], ["%2$s has one", "%2$s has %1$d"])
        unit = json.loads(apple.catalogue({"en": texts}))["strings"]["p_a"]["localizations"]["en"]
        self.assertEqual(unit["variations"]["plural"]["other"]["stringUnit"]["value"], "%2$@ has %1$lld")

    def test_the_words_of_this_house_are_whole(self):
        texts = source.languages(HERE)["en"]
        root = ET.fromstring(android.strings(texts).encode())
        self.assertEqual([it.get("name") for it in root if it.tag in ("string", "plurals")], list(texts))
        self.assertEqual(set(json.loads(apple.catalogue({"en": texts}))["strings"]), set(texts))

    def test_what_is_written_is_written_once(self):
        generate = runpy.run_path(str(HERE / "generate"))["main"]
        res, kotlin = self.folder / "res", self.folder / "kotlin"
        stale = self.file("res/drawable/figure_gone.xml", "x")
        self.assertEqual(generate(["android", str(res), str(kotlin)]), 0)
        self.assertFalse(stale.exists())
        drawn = list((res / "drawable").glob("*.xml"))
        self.assertEqual(len(drawn), len(list((CORE / "packs/britain/figures").glob("*.svg"))))
        times = {path: path.stat().st_mtime_ns for path in drawn}
        generate(["android", str(res), str(kotlin)])
        self.assertEqual(times, {path: path.stat().st_mtime_ns for path in drawn})


class Helping(Folder):
    """What is written of core/packs/help, read back as a reader of Kotlin would."""

    def files(self, page="", lines="", sources='[[source]]\nid = "s"\ncitation = "S"\nseen = 2026-11-25\npublished = true\n'):
        head = 'head = "h"\nlead = "l"\nreviewed = false\nunreviewed = "u"\nunchecked = "m"\nno_country = "n"\nother_country = "o"\n'
        for name, text in (("page", head + page), ("lines", lines), ("sources", sources)):
            self.file(f"{name}.toml", text)
        return self.folder

    def test_every_line_and_number_of_this_house_is_in_it(self):
        written = helptext.kotlin(CORE / "packs/help")
        page, countries, sources = helptext.read(CORE / "packs/help")
        numbers = [line for country in countries for line in country["line"]]
        self.assertGreater(len(numbers), 50)
        for line in numbers:
            self.assertIn(f'NumberToRing("{line["kind"]}", "{line["number"]}", "', written)
        for section in page["section"]:
            for line in section["line"]:
                self.assertIn(f'HelpLine("{line["text"]}", from(', written)
        self.assertEqual(written.count(" to HelpSource("), len(sources))
        marked = sum("memory" in line["source"] for line in numbers)
        self.assertTrue(0 < marked < len(numbers))
        self.assertEqual(written.count(page["unchecked"]), marked)
        self.assertIn(f'unreviewed = "{page["unreviewed"]}"', written)

    def test_kotlin_escapes(self):
        self.assertEqual(helptext.quoted('a "b" $c \\ d\n'), '"a \\"b\\" \\$c \\\\ d\\n"')

    def test_a_line_without_a_source_that_exists_is_refused(self):
        line = '[[section]]\nid = "now"\ntitle = "t"\n[[section.line]]\ntext = "x"\nsource = {}\n'
        self.assertIn("HelpLine", helptext.kotlin(self.files(line.format('["s"]'))))
        for sources, fault in (("[]", "now: no source"), ('["t"]', "now: t is not among the sources")):
            with self.assertRaises(source.Faults) as raised:
                helptext.read(self.files(line.format(sources)))
            self.assertIn(fault, str(raised.exception))
        with self.assertRaises(source.Faults):
            helptext.read(self.files())


class Drawing(Folder):
    HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 48 48" fill="none" stroke="currentColor" stroke-width="1.5">'

    def drawn(self, body, head=HEAD):
        return drawable.drawable(self.file("figure.svg", f"{head}{body}</svg>"))

    def test_what_cannot_be_drawn_names_file_and_element(self):
        for body in ('<circle r="4"/>', '<g><path d="M0 0"/></g>', '<path d="M0 0" fill="red"/>', '<path d="M0 0" transform="scale(2)"/>'):
            with self.assertRaises(drawable.Undrawable) as raised:
                self.drawn(body)
            self.assertRegex(str(raised.exception), r"figure\.svg: <(circle|g|path)>")

    def test_broken_paths_are_refused(self):
        for d in ("M0", "X0 0", "M0 0A1 1 0 2 0 3 3", "M0 0L1 2 3", "Z4"):
            with self.assertRaises(drawable.Undrawable, msg=d):
                self.drawn(f'<path d="{d}"/>')

    def test_numbers_are_set_apart(self):
        # From the grammar of paths: SVG 1.1, chapter 8.3.9 (flags and signs may touch, a point may begin a number).
        self.assertEqual(drawable.path_data("M.5.5l-1-1a17 10 0 1034 0"), "M0.5 0.5l-1 -1a17 10 0 1 0 34 0")
        self.assertEqual(drawable.path_data("M7.1000000000000005,1e1 z"), "M7.1 10z")

    def test_a_line_of_its_own_width_keeps_it(self):
        root = ET.fromstring(self.drawn('<path d="M0 0L4 4" stroke-width="3"/><path d="M0 0L4 4"/>').encode())
        self.assertEqual([path.get(A + "strokeWidth") for path in root], ["3", "1.5"])


if __name__ == "__main__":
    unittest.main()
