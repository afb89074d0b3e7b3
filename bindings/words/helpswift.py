"""The help page as Swift, from core/packs/help: it is there before the notebook is opened, and when it never is."""

from helptext import MEMORY, read
from ios import quoted


def optional(text):
    return "nil" if text is None else quoted(text)


def from_(line):
    """The sources of a line."""
    return f"from([{', '.join(quoted(id_) for id_ in line['source'])}])"


def section(part):
    lines = "\n".join(f"            HelpLine(words: {quoted(line['text'])}, sources: {from_(line)})," for line in part["line"])
    return f"        HelpSection(id: {quoted(part['id'])}, title: {quoted(part['title'])}, lines: [\n{lines}\n        ]),"


def country(part, unchecked):
    numbers = "\n".join(
        f"            NumberToRing(kind: {quoted(line['kind'])}, number: {quoted(line['number'])}, words: {quoted(line['words'])}, "
        f"unchecked: {optional(unchecked if MEMORY in line['source'] else None)}, sources: {from_(line)}),"
        for line in part["line"]
    )
    return f"        CountryHelp(code: {quoted(part['code'])}, name: {quoted(part['name'])}, numbers: [\n{numbers}\n        ]),"


def swift(folder):
    """Help.swift: the page in the records that the core answers with, made without it."""
    page, countries, sources = read(folder)
    known = "\n".join(
        f"        {quoted(id_)}: HelpSource(citation: {quoted(source['citation'])}, seen: {optional(str(source['seen']) if source['published'] else None)}),"
        for id_, source in sources.items()
    )
    sections = "\n".join(section(part) for part in page["section"])
    places = "\n".join(country(part, page["unchecked"]) for part in countries)
    return f"""// Written by bindings/words/generate: change core/packs/help instead.
import Foundation
import TrugCore

/// What to do when someone is ill: there without the notebook, or anything else that may fail.
public enum Help {{
    /// The page, with the numbers of a country if its ISO 3166 code is given; of a part that is not here, those of the whole.
    public static func page(_ code: String?) -> HelpPage {{
        HelpPage(
            head: {quoted(page['head'])},
            lead: {quoted(page['lead'])},
            unreviewed: {optional(None if page['reviewed'] else page['unreviewed'])},
            here: code.flatMap(country),
            noCountry: {quoted(page['no_country'])},
            countries: countries,
            sections: sections)
    }}

    /// What chooses another country.
    public static let otherCountry = {quoted(page['other_country'])}

    private static func country(_ code: String) -> CountryHelp? {{
        let wanted = code.trimmingCharacters(in: .whitespacesAndNewlines).uppercased()
        let whole = wanted.prefix {{ $0 != "-" }}
        return countries.first {{ $0.code.uppercased() == wanted }} ?? countries.first {{ $0.code.uppercased() == whole }}
    }}

    private static func from(_ ids: [String]) -> [HelpSource] {{ ids.compactMap {{ sources[$0] }} }}

    private static let sources: [String: HelpSource] = [
{known}
    ]

    private static let sections: [HelpSection] = [
{sections}
    ]

    private static let countries: [CountryHelp] = [
{places}
    ]
}}
"""
