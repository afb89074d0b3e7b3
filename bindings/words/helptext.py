"""The help page as Kotlin, from core/packs/help: it is there before the library is loaded, and when it never is."""

import tomllib

from source import Faults

FILES = ("page", "lines", "sources")
MEMORY = "memory"


def read(folder):
    """The page, the countries and the sources (id -> source), checked against each other."""
    found, faults = {}, []
    for name in FILES:
        path = folder / f"{name}.toml"
        try:
            found[name] = tomllib.loads(path.read_text(encoding="utf-8"))
        except (OSError, tomllib.TOMLDecodeError) as error:
            raise Faults([f"{path.name}: {error}"]) from error
    page, countries = found["page"], found["lines"].get("country", [])
    sources = {source["id"]: source for source in found["sources"].get("source", [])}
    told = [(section["id"], line) for section in page.get("section", []) for line in section["line"]]
    told += [(country["code"], line) for country in countries for line in country["line"]]
    for where, line in told:
        if not line.get("source"):
            faults.append(f"{where}: no source: {line}")
        faults += [f"{where}: {id_} is not among the sources" for id_ in line.get("source", []) if id_ not in sources]
    if not told:
        faults.append("the help says nothing")
    if faults:
        raise Faults(faults)
    return page, countries, sources


def quoted(text):
    """A text as Kotlin spells it: https://kotlinlang.org/docs/characters.html."""
    for plain, spelled in (("\\", "\\\\"), ('"', '\\"'), ("$", "\\$"), ("\n", "\\n")):
        text = text.replace(plain, spelled)
    return f'"{text}"'


def optional(text):
    return "null" if text is None else quoted(text)


def from_(line):
    """The sources of a line."""
    return f"from({', '.join(quoted(id_) for id_ in line['source'])})"


def section(part):
    lines = "\n".join(f"            HelpLine({quoted(line['text'])}, {from_(line)})," for line in part["line"])
    return f"        HelpSection({quoted(part['id'])}, {quoted(part['title'])}, listOf(\n{lines}\n        )),"


def country(part, unchecked):
    numbers = "\n".join(
        f"            NumberToRing({quoted(line['kind'])}, {quoted(line['number'])}, {quoted(line['words'])}, "
        f"{optional(unchecked if MEMORY in line['source'] else None)}, {from_(line)}),"
        for line in part["line"]
    )
    return f"        CountryHelp({quoted(part['code'])}, {quoted(part['name'])}, listOf(\n{numbers}\n        )),"


def kotlin(folder):
    """trug/phone/words/Help.kt: the page in the records that the core answers with, made without it."""
    page, countries, sources = read(folder)
    known = "\n".join(
        f"        {quoted(id_)} to HelpSource({quoted(source['citation'])}, {optional(str(source['seen']) if source['published'] else None)})," for id_, source in sources.items()
    )
    sections = "\n".join(section(part) for part in page["section"])
    places = "\n".join(country(part, page["unchecked"]) for part in countries)
    return f"""// Written by bindings/words/generate: change core/packs/help instead.
package trug.phone.words

import trug.core.CountryHelp
import trug.core.HelpLine
import trug.core.HelpPage
import trug.core.HelpSection
import trug.core.HelpSource
import trug.core.NumberToRing

/** What to do when someone is ill: there without the library, the notebook, or anything else that may fail. */
object Help {{
    /** The page, with the numbers of a country if its ISO 3166 code is given; of a part that is not here, those of the whole. */
    fun page(country: String?): HelpPage {{
        val here = country?.trim()?.let {{ find(it) ?: find(it.substringBefore('-')) }}
        return HelpPage(
            head = {quoted(page['head'])},
            lead = {quoted(page['lead'])},
            unreviewed = {optional(None if page['reviewed'] else page['unreviewed'])},
            here = here,
            noCountry = {quoted(page['no_country'])},
            countries = countries,
            sections = sections,
        )
    }}

    /** What chooses another country. */
    const val OTHER_COUNTRY = {quoted(page['other_country'])}

    private fun find(code: String) = countries.find {{ it.code.equals(code, ignoreCase = true) }}

    private val sources: Map<String, HelpSource> = mapOf(
{known}
    )

    private fun from(vararg ids: String): List<HelpSource> = ids.mapNotNull(sources::get)

    private val sections: List<HelpSection> = listOf(
{sections}
    )

    private val countries: List<CountryHelp> = listOf(
{places}
    )
}}
"""
